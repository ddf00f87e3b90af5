package bot

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/session"
)

// The knit-along of the tests below: the town, its knitters and the cap are invented.
var quay = session.About{
	ID: "quay", Title: "Harbour Lights", Host: "terminal:ottil", Server: "town", Channel: "quay", Revision: 1, Zone: "Europe/Amsterdam",
	Started: time.Date(2031, 10, 1, 17, 0, 0, 0, time.UTC),
	Sessions: []session.Session{
		{Number: 1, Title: "Casting on", First: session.RowID{Section: "Brim", Row: 1}, Last: session.RowID{Section: "Set-up", Row: 1},
			Opens: time.Date(2031, 10, 1, 17, 0, 0, 0, time.UTC)},
		{Number: 2, Title: "The ropes", First: session.RowID{Section: "Ropes", Row: 1}, Last: session.RowID{Section: "Ropes", Row: 16},
			Opens: time.Date(2031, 10, 4, 17, 0, 0, 0, time.UTC)},
		{Number: 3, Title: "The crown", First: session.RowID{Section: "Crown", Row: 1}, Last: session.RowID{Section: "Crown", Row: 6}},
	},
}

// quayNow is half an hour after the second session has opened.
var quayNow = time.Date(2031, 10, 4, 17, 30, 0, 0, time.UTC)

// capPlan lays the cap of the tests out in a size.
func capPlan(t testing.TB, size string) *plan {
	t.Helper()
	text, err := os.ReadFile("testdata/patterns/quay-cap.txt")
	if err != nil {
		t.Fatal(err)
	}
	p, problems := patterns.Read(text)
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	laid, err := p.LayOut(patterns.Choice{Size: size})
	if err != nil {
		t.Fatal(err)
	}
	return &plan{Plan: laid}
}

// in gives an entrant of a size at a row, with what the store would have of her.
func in(t testing.TB, plans map[string]*plan, name, size, section string, row int) session.Entrant {
	t.Helper()
	p := plans[size]
	e := session.Entrant{Member: session.Member("terminal:" + name), Name: name, Size: size, Revision: 1, All: p.Stitches(), RowID: session.RowID{Section: section, Row: row}}
	if row > 0 {
		i, ok := p.Find(section, row)
		if !ok {
			t.Fatalf("there is no row %d of %s", row, section)
		}
		e.Done = p.Rows[i].Worked
	}
	return e
}

// capPlans has the plans of all sizes, laid out once.
func capPlans(t testing.TB) map[string]*plan {
	laidOutOnce.Do(func() {
		for _, size := range []string{"small", "medium", "large"} {
			laidOut[size] = capPlan(t, size)
		}
	})
	return laidOut
}

var (
	laidOutOnce sync.Once
	laidOut     = map[string]*plan{}
)

// seven is a group in all sizes. By hand, from the pattern's own counts: size small
// has 6 rounds of 72 stitches in the brim, one in the set-up, 16 in the ropes, and
// then 72, 60, 60, 48, 24 and 12 to work in the crown: 1,932 stitches. Medium, cast
// on with 84, has 504 + 84 + 1,344 + 84 + 72 + 72 + 60 + 30 + 15 = 2,265; large, with
// 96, has 576 + 96 + 1,536 + 96 + 84 + 84 + 72 + 36 + 18 = 2,598.
//
//	Ana Pell, small, round 5 of Ropes: 7 + 4 rounds of 72 are 792 of 1,932, 40.99 percent
//	Odo Marsh, large, round 12 of Ropes: 7 + 11 rounds of 96 are 1,728 of 2,598, 66.5
//	Tamsin Quay, medium, round 4 of Crown: 2,265 less 60, 30 and 15 are 2,160, 95.4
//	Wren, small, round 2 of Brim: 72 of 1,932, 3.7
//	Ebba Lund has finished, Pip has not begun, and Silas wishes not to be named.
func seven(t testing.TB) []session.Entrant {
	plans := capPlans(t)
	ebba := in(t, plans, "Ebba Lund", "small", "Crown", 6)
	ebba.Done = ebba.All
	silas := in(t, plans, "Silas Fenn", "small", "Ropes", 5)
	silas.Hidden = true
	return []session.Entrant{
		in(t, plans, "Wren", "small", "Brim", 2), in(t, plans, "Ana Pell", "small", "Ropes", 5), in(t, plans, "Odo Marsh", "large", "Ropes", 12),
		in(t, plans, "Tamsin Quay", "medium", "Crown", 4), ebba, in(t, plans, "Pip", "medium", "Brim", 0), silas,
	}
}

// crowdOf is a group of so many, spread over the pattern. One in ten has finished
// and one in seven is not named.
func crowdOf(t testing.TB, n int, name func(i int) string) []session.Entrant {
	plans := capPlans(t)
	sizes := []string{"small", "medium", "large"}
	group := make([]session.Entrant, n)
	for i := range group {
		p := plans[sizes[i%3]]
		r := p.Rows[i*7%len(p.Rows)]
		group[i] = in(t, plans, name(i), sizes[i%3], r.Section.Name, r.Number)
		group[i].Member = session.Member(fmt.Sprintf("terminal:knitter%d", i))
		group[i].Hidden = i%7 == 3
		switch i % 10 {
		case 4:
			group[i].RowID, group[i].Done = session.RowID{Section: "Crown", Row: 6}, group[i].All
		case 8:
			group[i].RowID, group[i].Done = session.RowID{Section: "Brim"}, 0
		}
	}
	return group
}

// plainName names the invented knitters of a crowd.
func plainNameOf(i int) string {
	first := []string{"Wren", "Ana", "Odo", "Tamsin", "Ebba", "Jory", "Maud", "Silas"}
	last := []string{"Pell", "Marsh", "Quay", "Lund", "Penrose", "Fenn", "Holm"}
	return first[i%len(first)] + " " + last[i%len(last)]
}

// oddNames are names as platforms have them.
var oddNames = []string{
	"", " ", "\u2800\u3164", "\u202e", "\U0001F9F6 Maud \U0001F411", "\U0001F468\u200d\U0001F469\u200d\U0001F467 Holm", "רות", "רות Marsh (טו)", "ليلى",
	"**_~~Wren~~_**", "@everyone <@123> #quay", "[Ana](https://example.org)", "- 1. > `Odo`", strings.Repeat("編", 32), strings.Repeat("W", 128),
	strings.Repeat("*", 128), "Odo\nMarsh\r\n\tQuay\x00\x1b[31m", "\u202eodO\u202c", "e" + strings.Repeat("\u0301", 60), "Åse", "Ana", "Ana", "zoë", "Ångström", "\xff\xfe",
}

func oddName(i int) string { return oddNames[i%len(oddNames)] }

// golden compares what was said with what somebody has read aloud.
func golden(t *testing.T, file, got string) {
	t.Helper()
	file = filepath.Join("testdata", "boards", file+".txt")
	if flag.Lookup("update").Value.String() == "true" {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; go test ./bot -run Board -update writes it: read it aloud before it is kept", err)
	}
	if got != string(want) {
		t.Errorf("%s is now:\n%s\nand it was:\n%s", file, got, want)
	}
}

// told is all that a board tells, for a golden file.
func told(t *testing.T, f *boardFacts) string {
	t.Helper()
	shown := f.texts(shownName)
	picture, err := f.picture(shown)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(shown, "\n--\n") + "\n== beside the picture\n" + picture.Alt + "\n== for one who asks\n" + f.said() + "\n"
	return strings.NewReplacer(isolate, "{", endIsolate, "}").Replace(text)
}

func TestBoardWords(t *testing.T) {
	p := capPlan(t, "small")
	held, closed, byHand, old := quay, quay, quay, quay
	held.Hold = true
	closed.Closed = true
	old.Sessions = nil
	byHand.Sessions = append([]session.Session(nil), quay.Sessions...)
	byHand.Sessions[0].Opens, byHand.Sessions[1].Opens = time.Time{}, time.Time{}
	early := quay.Started.Add(-48 * time.Hour)
	for name, f := range map[string]*boardFacts{
		"nobody":     factsOf(quay, nil, p, quayNow),
		"one":        factsOf(quay, seven(t)[1:2], p, quayNow),
		"one-hidden": factsOf(quay, seven(t)[6:], p, quayNow),
		"two":        factsOf(quay, seven(t)[1:3], p, quayNow),
		"seven":      factsOf(quay, seven(t), p, quayNow),
		"closed":     factsOf(closed, seven(t), p, quayNow),
		"unplanned":  factsOf(old, seven(t), p, quayNow),
		"early":      factsOf(quay, seven(t)[5:6], p, early),
		"early-held": factsOf(held, seven(t)[5:6], p, early),
		"by-hand":    factsOf(byHand, seven(t)[5:6], p, early),
		"odd":        factsOf(quay, crowdOf(t, 25, oddName), p, quayNow),
		"25":         factsOf(quay, crowdOf(t, 25, plainNameOf), p, quayNow),
		"26":         factsOf(quay, crowdOf(t, 26, plainNameOf), p, quayNow),
		"500":        factsOf(held, heldBack(crowdOf(t, 500, plainNameOf)), p, quayNow),
		"5000":       factsOf(quay, crowdOf(t, 5000, oddName), p, quayNow),
	} {
		t.Run(name, func(t *testing.T) { golden(t, name, told(t, f)) })
	}
}

// heldBack leaves of a group those who are in what is open when rows are held back.
func heldBack(group []session.Entrant) []session.Entrant {
	open, _ := apart(group, func(e session.Entrant) bool { return e.Section != "Crown" })
	return open
}

// TestBoardHoldsBack says that a board names no section that is not open, where rows
// are held back.
func TestBoardHoldsBack(t *testing.T) {
	held := quay
	held.Hold = true
	for _, n := range []int{0, 1, 20, 500} {
		for _, at := range []time.Time{quay.Started.Add(-time.Hour), quayNow} {
			f := factsOf(held, heldBack(crowdOf(t, n, plainNameOf)), capPlan(t, "small"), at)
			all := strings.ToLower(told(t, f))
			if strings.Contains(all, "crown") || at.Before(quay.Started) && strings.Contains(all, "casting on") {
				t.Errorf("%d members at %v hear of what is not open: %s", n, at, all)
			}
		}
	}
}

// TestBoardPercents holds the figures of a board to those worked out by hand above.
func TestBoardPercents(t *testing.T) {
	f := factsOf(quay, seven(t), capPlan(t, "small"), quayNow)
	for _, want := range []string{
		"Ana Pell: round five of Ropes, forty percent.", "Odo Marsh: round twelve of Ropes, sixty-six percent.",
		"Tamsin Quay: round four of Crown, ninety-five percent.", "Wren: round two of Brim, three percent.", "Ebba Lund: finished.", "Pip: at the beginning.",
		"And one more who is not named.", "Seven knitters have joined, and one has finished.",
		// In the order of the pattern: Pip, Wren, Ana and Silas, Odo, Tamsin, Ebba. At least
		// half of seven is four: Ebba, Tamsin, Odo, and one of the two in round five.
		"At least half of the group is at round five of Ropes or further.",
		// Ana, Silas and Odo are in the ropes; Tamsin and Ebba are past them.
		"Three are in it, and two have come to its last round.",
	} {
		if !strings.Contains(f.texts(shownName)[0], want) {
			t.Errorf("the board does not say %q: %s", want, f.texts(shownName)[0])
		}
	}
	for size, all := range map[string]int64{"small": 1932, "medium": 2265, "large": 2598} {
		if got := capPlan(t, size).Stitches(); got != all {
			t.Errorf("size %s has %d stitches, by hand %d", size, got, all)
		}
	}
	// The ropes are open to their end: 1,932 less the 276 of the crown.
	if want := 1656.0 / 1932; f.share != want {
		t.Errorf("%v of the pattern is open, by hand %v", f.share, want)
	}
}

// worstEscaped is what a text takes of a platform's room with a backslash in front
// of each mark of ASCII.
func worstEscaped(text string) int {
	n := measure(text)
	for _, r := range text {
		if r > ' ' && r < 0x7f && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			n++
		}
	}
	return n
}

// checkFits holds a board to the platforms' limits, whatever it is about.
func checkFits(t interface{ Errorf(string, ...any) }, f *boardFacts) {
	texts := f.texts(shownName)
	for i, text := range texts {
		if i > 0 && len(f.knitters) > 12 && measure(text) > measure(texts[i-1]) {
			t.Errorf("in ever fewer words, %d characters come after %d", measure(text), measure(texts[i-1]))
		}
		if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && r != '\n' }) {
			t.Errorf("a board has control characters: %q", text)
		}
		if strings.Count(text, isolate) != strings.Count(text, endIsolate) || strings.Contains(text, "\u202e") {
			t.Errorf("a name turns what is beside it round: %q", text)
		}
	}
	if n := worstEscaped(texts[len(texts)-1]); n > 1900 {
		t.Errorf("the shortest board takes %d characters, escaped as badly as may be", n)
	}
	if alt := firstWithin(texts, altMost); measure(alt) > altMost {
		t.Errorf("beside a picture stand %d characters", measure(alt))
	}
	if said := f.said(); !sentences.MatchString(said) || measure(said) > boardSaidMost {
		t.Errorf("the board is told so to one who asks: %q", said)
	}
}

// checkPicture holds a board's picture to what a phone should have to load.
func checkPicture(t *testing.T, f *boardFacts) {
	picture, err := f.picture(f.texts(shownName))
	if err != nil || measure(picture.Alt) > altMost || strings.Contains(picture.Alt, "\n") || len(picture.PNG) > 40<<10 {
		t.Errorf("beside a picture of %d bytes stand %d characters (%v)", len(picture.PNG), measure(picture.Alt), err)
	}
}

func TestBoardFits(t *testing.T) {
	long := quay
	long.Title, long.Sessions = strings.Repeat("12345678 ", 28), append([]session.Session(nil), quay.Sessions...)
	for i := range long.Sessions {
		long.Sessions[i].Title = strings.Repeat("9876 ", 51)
	}
	p := capPlan(t, "small")
	for _, n := range []int{0, 1, 2, 25, 26, 500, 5000} {
		for _, about := range []session.About{quay, long} {
			for _, name := range []func(int) string{
				oddName, func(int) string { return strings.Repeat("*_`", 42) }, func(int) string { return strings.Repeat("\U0001F9F6", 32) },
			} {
				f := factsOf(about, crowdOf(t, n, name), p, quayNow)
				checkFits(t, f)
				checkPicture(t, f)
			}
		}
	}
}

func TestBoardFitsAnyNames(t *testing.T) {
	p := capPlan(t, "small")
	rapid.Check(t, func(r *rapid.T) {
		names := rapid.SliceOfN(rapid.String(), 1, 25).Draw(r, "names")
		about := quay
		about.Title = rapid.String().Draw(r, "title")
		f := factsOf(about, crowdOf(t, len(names), func(i int) string { return names[i] }), p, quayNow)
		checkFits(r, f)
		want := 2 + count(f.open != nil) + count(f.several()) + len(names) - f.hidden + count(f.hidden > 0)
		if got := strings.Count(f.texts(shownName)[0], "\n") + 1; got != want {
			r.Errorf("%d names come to %d lines, want %d", len(names), got, want)
		}
	})
}

// TestBoardOfUnknownTotals says that nothing is made up where it is not known how
// many stitches there are.
func TestBoardOfUnknownTotals(t *testing.T) {
	group := seven(t)[:2]
	group[0].All, group[1].All = 0, 0
	group[1].Section = "Panel that is gone"
	f := factsOf(quay, group, capPlan(t, "small"), quayNow)
	for i, text := range f.texts(shownName) {
		if strings.Contains(text, "percent.") || strings.Contains(text, "finished") {
			t.Errorf("text %d knows too much: %s", i, text)
		}
	}
	checkFits(t, f)
}

// TestSortedByName orders names as they are looked up, by the Unicode Collation
// Algorithm (UTS 10, whose default table has accents come after the letter alone).
func TestSortedByName(t *testing.T) {
	var group []knitter
	for _, name := range []string{"wren", "Ångström", "Zoë", "ana", "Ana", "zebra", "Åse", "Bo", "\u200bBea", "רות"} {
		group = append(group, knitter{name: name})
	}
	sortByName(group)
	var got []string
	for _, k := range group {
		got = append(got, visible(k.name))
	}
	if want := "ana Ana Ångström Åse Bea Bo wren zebra Zoë רות"; strings.Join(got, " ") != want {
		t.Errorf("names are in the order %v, want %s", got, want)
	}
}

// TestDrawnNames says what stands beside the bars: the font has the letters of Europe
// alone.
func TestDrawnNames(t *testing.T) {
	for name, want := range map[string]string{
		"": "Somebody", "Ana Pell": "Ana Pell", "\U0001F9F6 Maud \U0001F411": "Maud", "רות": "(number 4 by name)", "רות Marsh": "Marsh",
		"編編": "(number 4 by name)", "Ångström": "Ångström", "**": "**", "* \U0001F9F6": "(number 4 by name)", "Жанна": "Жанна",
	} {
		if got := drawnName(name, 4); got != want {
			t.Errorf("%q is drawn as %q, want %q", name, got, want)
		}
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		name  string
		most  int
		shown string
		said  string
	}{
		{"Ana Pell", 0, "Ana Pell", "Ana Pell"},
		{"", 0, "Somebody", "Somebody"},
		{"\u2800 \u3164", 0, "Somebody", "Somebody"},
		{"\u0301", 0, "Somebody", "Somebody"},
		{" Odo\r\n\tMarsh ", 0, "Odo Marsh", "Odo Marsh"},
		{"\u202eodO\u202c", 0, "odO", "OdO"},
		{"רות", 0, "\u2068רות\u2069", "רות"},
		{"\U0001F9F6", 0, "\U0001F9F6", "Somebody"},
		{"Wren 2nd", 0, "Wren 2nd", "Wren second"},
		{"**Wren**", 0, "**Wren**", "Wren"},
		{"Wilhelmina Wolstencroft-Westmoreland", 16, "Wilhelmina Wo...", "Wilhelmina"},
		{"\U0001F468\u200d\U0001F469\u200d\U0001F467\U0001F468\u200d\U0001F469\u200d\U0001F467\U0001F9F6", 16, "\U0001F468\u200d\U0001F469\u200d\U0001F467...", "Somebody"},
	} {
		if got := shownName(c.name, c.most); got != c.shown {
			t.Errorf("%q is shown as %q, want %q", c.name, got, c.shown)
		}
		if got := saidName(c.name, c.most); got != c.said {
			t.Errorf("%q is said as %q, want %q", c.name, got, c.said)
		}
	}
}

// sentences is what may be said: whole sentences of letters and a few stops.
var sentences = regexp.MustCompile(`^[\p{L}\p{M}][\p{L}\p{M} ,.;:'?!-]*[.?!]$`)
