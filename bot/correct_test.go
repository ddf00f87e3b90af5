package bot

import (
	"fmt"
	"strings"
	"testing"

	"clew/patterns"
	"clew/session"
)

// planFrom lays out a flat pattern of plain rows: "A4 B8" is a section A of
// four rows and a section B of eight.
func planFrom(t *testing.T, sections string) *plan {
	t.Helper()
	var text strings.Builder
	text.WriteString("Pattern: P\nWorked: in rows\nCast on: 10\n")
	for _, s := range strings.Fields(sections) {
		fmt.Fprintf(&text, "Section: %s\nRows 1-%s: knit.\n", s[:1], s[1:])
	}
	p, problems := patterns.Read([]byte(text.String()))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	laid, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	return &plan{Plan: laid}
}

func TestCarryRow(t *testing.T) {
	for _, c := range []struct {
		name, old, now string
		from, want     string // section, row, step
	}{
		{"nothing has changed", "A4 B8", "A4 B8", "B 6 2", "B 6 2"},
		{"before the first row", "A4 B8", "C4 B8", "A 0 0", "C 0 0"},
		{"another section is longer", "A4 B8", "A9 B8", "B 6 0", "B 6 0"},
		{"another section is new", "A4 B8", "A4 C2 B8", "B 6 1", "B 6 1"},
		{"its section is renamed", "A4 B8 C4", "A4 D8 C4", "B 6 1", "D 6 1"},
		{"all sections are renamed", "A4 B8", "C4 D8", "B 6 0", "D 6 0"},
		{"its section is renamed and shorter", "A4 B8 C4", "A4 D5 C4", "B 6 1", "A 4 0"},
		{"its row is gone", "A4 B8 C4", "A4 B5 C4", "B 7 1", "B 5 0"},
		{"its section is gone", "A4 B8 C4", "A4 C4", "B 7 1", "A 4 0"},
		{"its section and all before it are gone", "A4 B8 C4", "C4", "B 7 1", "C 1 0"},
		{"two sections have changed places", "A4 B8", "B8 A4", "B 7 0", "B 7 0"},
		{"its section is gone and others have changed places", "A4 B8 C4", "C4 A4 D8", "B 7 0", "A 4 0"},
		{"finished, and still so", "A4 B8", "A4 B8", "B 8 end", "B 8 end"},
		{"finished, and there is more now", "A4 B8", "A4 B9", "B 8 end", "B 8 0"},
		{"finished, and the last rows are gone", "A4 B8", "A4 B7", "B 8 end", "B 7 0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := carryRow(planFrom(t, c.old), planFrom(t, c.now), placeFrom(t, c.from))
			if want := placeFrom(t, c.want); found != want {
				t.Errorf("found %+v, expected %+v", found, want)
			}
		})
	}
	t.Run("the old text can't be laid out any more", func(t *testing.T) {
		now := planFrom(t, "A4 B8")
		if found := carryRow(nil, now, placeFrom(t, "B 9 1")); found != placeFrom(t, "B 8 0") {
			t.Errorf("found %+v, expected the last row of B", found)
		}
	})
}

func placeFrom(t *testing.T, text string) session.Place {
	t.Helper()
	var p session.Place
	if _, err := fmt.Sscanf(strings.Replace(text, "end", fmt.Sprint(pastLast), 1), "%s %d %d", &p.Section, &p.Row, &p.Step); err != nil {
		t.Fatal(err)
	}
	return p
}

// An answer is kept whole, but for rows left out that are too many to keep: a key
// stands for those. Of one that is too long even so, what was said is not kept.
func TestAnswerText(t *testing.T) {
	a := answer{To: session.Place{Section: "Lower \"rope\" & edge", Row: 7, Step: pastLast, Revision: 3, Size: "größer", LeftOut: "Float 9: 2"}, Before: "So. ", Notes: true}
	for _, leftOut := range []string{a.To.LeftOut, strings.Repeat("Float 9: 2; ", 300)} {
		a.To.LeftOut = leftOut
		want := a
		if len(leftOut) > 1000 {
			want.To.LeftOut, want.Left = "", keyOf(leftOut)
		}
		text := a.text()
		if found, err := reread(text); err != nil || found != want || len(text) > answerMost {
			t.Errorf("found %+v (%v) in %d bytes, expected %+v", found, err, len(text), want)
		}
	}
	a.Only, a.Before = true, strings.Repeat("So. ", 300)
	if found, err := reread(a.text()); err != nil || found.Before != "" || !found.Only || found.To.Row != a.To.Row {
		t.Errorf("found %+v (%v), expected it without what was said", found, err)
	}
	if _, err := reread("no answer"); err == nil {
		t.Error("what is no answer is taken for one")
	}
}
