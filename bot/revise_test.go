package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/session"
)

// panels is a piece of three sections, each of which is a session (invented).
const panels = `Pattern: Slip Mat
Worked: in rows
Cast on: 20
Section: Border
Rows 1-4: knit.
Section: Middle
Row 1: knit.
Row 2: k2, p to last 2 sts, k2.
Rows 3-6: knit.
Section: Edge
Rows 1-4: knit.
`

// Sessions go on from one another after a correction, whatever rows it takes away or
// adds. One that leaves a session none is refused, and nothing is changed.
func TestCorrectionMovesSessions(t *testing.T) {
	row := func(section string, n int) session.RowID { return session.RowID{Section: section, Row: n} }
	for _, c := range []struct {
		name, old, now string
		want           []session.RowID // where each begins and ends; nil where it is refused
	}{
		{"words alone", "Rows 1-4: knit.\nSection: Middle", "Rows 1-4: k to end.\nSection: Middle", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Middle", 6), row("Edge", 1), row("Edge", 4)}},
		{"rows gone at an end", "Rows 3-6: knit.", "Row 3: knit.", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Middle", 3), row("Edge", 1), row("Edge", 4)}},
		{"rows added at an end", "Rows 3-6: knit.", "Rows 3-9: knit.", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Middle", 9), row("Edge", 1), row("Edge", 4)}},
		{"rows added at the very end", "Section: Edge\nRows 1-4", "Section: Edge\nRows 1-7", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Middle", 6), row("Edge", 1), row("Edge", 7)}},
		{"rows gone at the very end", "Section: Edge\nRows 1-4: knit", "Section: Edge\nRow 1: knit", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Middle", 6), row("Edge", 1), row("Edge", 1)}},
		{"another name", "Section: Middle", "Section: Field", []session.RowID{row("Border", 1), row("Border", 4), row("Field", 1), row("Field", 6), row("Edge", 1), row("Edge", 4)}},
		{"a section more", "Section: Edge", "Section: Ridge\nRows 1-2: purl.\nSection: Edge", []session.RowID{row("Border", 1), row("Border", 4), row("Middle", 1), row("Ridge", 2), row("Edge", 1), row("Edge", 4)}},
		{"a section gone", "Section: Middle\nRow 1: knit.\nRow 2: k2, p to last 2 sts, k2.\nRows 3-6: knit.\n", "", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHouse(t)
			id := h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(panels), Event: "start"}).Knitalong
			before := h.dump(t)
			now := strings.Replace(panels, c.old, c.now, 1)
			r := h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
			if c.want == nil {
				if r.Said != "The corrected pattern leaves session two no rows of its own. Nothing was changed. Give that session other rows first." {
					t.Errorf("answered %q", r.Said)
				}
				if diff := cmp.Diff(before, h.dump(t)); diff != "" {
					t.Errorf("the store changed (-before +after):\n%s", diff)
				}
				return
			}
			about, err := h.store.About(t.Context(), id)
			if err != nil || about.Revision != 2 {
				t.Fatalf("found revision %d, %v: %s", about.Revision, err, r.Said)
			}
			var found []session.RowID
			for _, s := range about.Sessions {
				found = append(found, s.First, s.Last)
			}
			if diff := cmp.Diff(c.want, found); diff != "" {
				t.Errorf("the sessions (-want +found):\n%s\n%s", diff, r.Said)
			}
		})
	}
}

// What the corrected text calls itself is nothing that anybody is told: the knit-along
// keeps its title.
func TestCorrectionUnderAnyTitle(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(panels), Event: "start"})
	r := h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(strings.Replace(panels, "Slip Mat", "???", 1)), Event: "correct"})
	if !strings.HasPrefix(r.Said, "Slip Mat is corrected") {
		t.Errorf("answered %q", r.Said)
	}
	r = h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(strings.Replace(panels, "Section: Middle", "Section: ???", 1)), Event: "again"})
	if !strings.HasPrefix(r.Said, "A section or a size of the corrected pattern has a name that can't be said.") {
		t.Errorf("answered %q", r.Said)
	}
}

// One whose name is not known is somebody to the host.
func TestCorrectionPastSomebody(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(panels), Event: "start"})
	for i, words := range []string{"join", "put me at row 3"} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", i)})
	}
	now := strings.Replace(panels, "Section: Border\nRows 1-4: knit.", "Section: Border\nRow 1: purl.\nRows 2-4: knit.", 1)
	r := h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
	if want := "Row one of Border is different; somebody has worked it already. That knitter hears of it with the next answer."; !strings.Contains(r.Said, want) {
		t.Errorf("answered %q, expected %q in it", r.Said, want)
	}
}

// A correction is told once to who has worked what it changes, whatever she asks
// first and whatever process answers her; to nobody else.
func TestToldOfCorrectionOnce(t *testing.T) {
	purled := strings.Replace(panels, "Row 2: k2, p to last 2 sts, k2.", "Row 2: purl.", 1)
	const notice = "The pattern has been corrected. "
	for _, c := range []struct {
		name  string
		row   int
		texts []string
		told  bool
	}{
		{"before it", 1, []string{purled}, false},
		{"at it", 2, []string{purled}, true},
		{"past it", 3, []string{purled}, true},
		{"past it, and taken back", 3, []string{purled, panels}, false},
		{"past it, twice over", 3, []string{purled, panels, purled}, true},
		{"past what is only typed otherwise", 3, []string{strings.Replace(panels, "Row 1: knit.", "Row 1: k to end.", 1)}, false},
	} {
		for _, first := range []string{"next", "back", "undo", "again", "where am I", "put me at row 4", "step by step", "read row 1", "settings", "I count 20", "explain that", "help"} {
			t.Run(c.name+", "+first, func(t *testing.T) {
				h := newHouse(t)
				h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(panels), Event: "start"})
				events := 0
				ask := func(words string) bot.Ask {
					events++
					return bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", events)}
				}
				h.Answer(t.Context(), ask("join"))
				h.Answer(t.Context(), ask("next"))
				h.Answer(t.Context(), ask(fmt.Sprintf("put me at row %d of the middle", c.row)))
				for i, text := range c.texts {
					h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(text), Event: fmt.Sprint("c", i)})
				}
				asked := ask(first)
				r := h.Answer(t.Context(), asked)
				checkSaid(t, first, r)
				if told := strings.HasPrefix(r.Said, notice); told != c.told || strings.Count(r.Said, notice) > 1 {
					t.Errorf("%q is answered %q; told of it: %t, expected %t", first, r.Said, told, c.told)
				}
				if again := h.Answer(t.Context(), asked); again.Said != r.Said {
					t.Errorf("the same event again is answered %q, at first %q", again.Said, r.Said)
				}
				h.stop(t)
				h.start(t)
				for _, words := range []string{"where am I", "undo", "again", "next"} {
					if r := h.Answer(t.Context(), ask(words)); strings.Contains(r.Said, notice) {
						t.Errorf("%q after %q is answered %q: told once more", words, first, r.Said)
					}
				}
			})
		}
	}
}

// Of rows that she left out nobody is told that she has worked them, though they can't
// be left out of the corrected text, nor when they can be again, nor when they can't once more.
func TestCorrectionOfRowsLeftOut(t *testing.T) {
	plain := strings.Replace(panels, "Row 2: k2, p to last 2 sts, k2.", "Row 2: knit.", 1)
	left := strings.Replace(plain, "Rows 3-6: knit.", "Rows 3-6 (optional in fours): knit.\nRows 7-8: knit.", 1)
	other := strings.Replace(plain, "Rows 3-6: knit.", "Rows 3-4: purl.\nRows 5-6 (optional in twos): knit.\nRows 7-8: knit.", 1)
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(left), Event: "start"})
	n := 0
	ask := func(words string) string {
		n++
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", n)})
		checkSaid(t, words, r)
		return r.Said
	}
	for _, words := range []string{"join", "leave out four rows of middle", "put me at row 2 of the edge"} {
		ask(words)
	}
	for _, c := range []struct{ text, want string }{
		{other, "The pattern has been corrected. The rows that you left out can't be left out of it, so you hear them all. You are at row two of Edge, "},
		{left, "You are at row two of Edge, "},
		{strings.Replace(other, "Rows 1-4: knit.\nSection: Middle", "Row 1: purl.\nRows 2-4: knit.\nSection: Middle", 1), "The pattern has been corrected. " +
			"Row one of Border, which you have worked, is now: purl all twenty stitches. That leaves your count as it was. You are at row two of Edge, "},
	} {
		n++
		h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(c.text), Event: fmt.Sprint("c", n)})
		if said := ask("where am I"); !strings.HasPrefix(said, c.want) {
			t.Errorf("she is told %q, expected %q", said, c.want)
		}
	}
}

// A row that another has taken the place of, in a section of another name, begins with
// its first step.
func TestStepsOfARowInPlaceOfAnother(t *testing.T) {
	long := func(first string) string {
		return first + ", " + strings.Repeat("k1, p1, ", 6) + "k to end"
	}
	was := strings.NewReplacer("Row 1: knit.\nRow 2: k2, p to last 2 sts, k2.\nRows 3-6: knit.", "Rows 1-6: "+long("k3")+".").Replace(panels)
	now := strings.NewReplacer("Section: Middle", "Section: Field", long("k3"), long("p3")).Replace(was)
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(was), Plan: []byte("1. Border to Edge"), Event: "start"})
	n := 0
	ask := func(words string) string {
		n++
		return h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", n)}).Said
	}
	for _, words := range []string{"join", "step by step", "put me at row 3 of the middle"} {
		ask(words)
	}
	if said := ask("next"); strings.Contains(said, "Row") {
		t.Fatalf("the row has one step: %q", said)
	}
	h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
	if said := ask("again"); !strings.Contains(said, "You") || !strings.Contains(said, "Row three, right side. Purl three") {
		t.Errorf("she hears %q, expected the first step of row three", said)
	}
}
