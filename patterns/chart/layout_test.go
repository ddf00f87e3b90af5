package chart_test

import (
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
)

// TestRowAboveARepeat: where one odd stitch in the last round would rule out the
// repeat of a wide crown, the rounds below it have it, and that round is whole.
func TestRowAboveARepeat(t *testing.T) {
	const crown = "Pattern: Crown\nWorked: in rounds\nCast on: 108\n\nSection: Crown\n" +
		"Round 1: *p1, k6, p1, k2tog twice; rep from * to end.\nRound 2: *p1, k6, p1, k2; rep from * to end.\nRound 3: *k2tog; rep from * to end.\nRound 4: *k2tog; rep from * to last st, k1.\n"
	plan := laidOut(t, crown, 0)
	v := chart.View{Plan: plan, To: 3, Here: 3}
	compare(t, v)
	picture, err := chart.Draw(v)
	if err != nil {
		t.Fatal(err)
	}
	f := picture.Facts()
	if f.Times != 9 || f.WholeFrom != 4 || f.Cut != "" {
		t.Errorf("%d repeats, whole from round %d, cut to %q", f.Times, f.WholeFrom, f.Cut)
	}
	if !strings.Contains(string(picture.SVG("")), "above: round 4, all stitches") {
		t.Error("the picture does not say that all of round 4 is drawn")
	}
}

// TestCutRowsStayInLine: of rows that are too wide the same slots are drawn, so
// that what stands above a stitch is what was worked into it; the facts say which
// stitches.
func TestCutRowsStayInLine(t *testing.T) {
	var row strings.Builder
	for _, k := range strings.Fields("1 2 3 4 5 6 7 8 9 10 11 12 13 14") { // nothing repeats
		row.WriteString("p1, k" + k + ", ")
	}
	plan := laidOut(t, "Pattern: Wide\nWorked: in rounds\nCast on: 130\n\nSection: Wide\nRounds 1-4: "+row.String()+"k to end.\n", 0)
	picture, err := chart.Draw(chart.View{Plan: plan, To: 3, Here: -1})
	if err != nil {
		t.Fatal(err)
	}
	f := picture.Facts()
	if f.Cut != chart.CutStitches || f.DrawnFrom != 1 || f.Drawn != 74 {
		t.Errorf("cut to %q, stitch %d on, %d stitches", f.Cut, f.DrawnFrom, f.Drawn)
	}
	for i, g := range groupsOf(t, picture.SVG("")).all("row") {
		cells := g.all("cell")
		if len(cells) != 74 {
			t.Fatalf("round %d has %d cells", i+1, len(cells))
		}
		at := 0
		for k := 0; at < 74; k++ { // a purl after one knit more each time
			if cells[at].data["stitch"] != "p" {
				t.Errorf("round %d: stitch %d is %q", i+1, at+1, cells[at].data["stitch"])
			}
			at += k + 2
		}
	}
}

// TestOptionalRowsAreMarked: each row that may be left out has a ring, and the key
// says how many go at a time.
func TestOptionalRowsAreMarked(t *testing.T) {
	plan := laidOut(t, harbourHat, 0)
	picture, err := chart.Draw(chart.View{Plan: plan, To: 15, Here: 6})
	if err != nil {
		t.Fatal(err)
	}
	svg := groupsOf(t, picture.SVG(""))
	var marked []int
	for _, g := range svg.all("optional") {
		marked = append(marked, g.number(t, "row"))
	}
	if got, want := marked, []int{5, 6, 7, 8, 13, 14, 15, 16}; len(got) != len(want) || got[0] != 5 || got[4] != 13 || got[7] != 16 {
		t.Errorf("rounds %v are marked, want %v", got, want)
	}
	p, _ := patterns.Read([]byte(harbourHat))
	panel, err := p.PanelPlan(0, "Rope")
	if err != nil {
		t.Fatal(err)
	}
	alone, err := chart.Draw(chart.View{Plan: panel, To: 7, Here: -1})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(groupsOf(t, alone.SVG("")).all("optional")); n != 4 {
		t.Errorf("%d rounds of the panel are marked, want 4", n)
	}
	if !keySays(t, picture, "rounds that may be left out, 4 at a time") {
		t.Error("the key does not say what the ring means")
	}
}

func keySays(t *testing.T, picture *chart.Picture, text string) bool {
	t.Helper()
	for _, k := range groupsOf(t, picture.SVG("")).all("key-entry") {
		if k.data["text"] == text {
			return true
		}
	}
	return false
}

// TestOneDrawingOneLine: a cross of one over one and a twist are drawn alike, and
// the key has one line with the names that are used.
func TestOneDrawingOneLine(t *testing.T) {
	for row, want := range map[string]string{
		"1/1 RC, RT, k to end": "1/1 RC or RT  one over one right cross or right twist",
		"LT, 1/1 LC, k to end": "LT or 1/1 LC  left twist or one over one left cross",
		"1/1 RC, k to end":     "1/1 RC  one over one right cross",
		"RT, k to end":         "RT  right twist",
	} {
		plan := laidOut(t, "Pattern: Twists\nWorked: in rows\nCast on: 12\n\nSection: Twists\nRow 1: "+row+".\n", 0)
		picture, err := chart.Draw(chart.View{Plan: plan, Here: -1})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(groupsOf(t, picture.SVG("")).all("key-entry")); n != 2 || !keySays(t, picture, want) {
			t.Errorf("%s: the key has %d lines, and should say %q", row, n, want)
		}
	}
}
