package chart_test

import (
	"strings"
	"testing"

	"clew/patterns/chart"
)

// TestRowRepeats compares the rows that come again with what the patterns say of
// them in words ("repeat rows 3-4", "repeat rounds 1-12 3 more times").
func TestRowRepeats(t *testing.T) {
	for _, c := range []struct {
		sample, section   string
		from, rows, times int
	}{
		{"cobble-cowl", "Cobbles", 1, 12, 4},
		{"cobble-cowl", "Lower edge", 1, 2, 3},
		{"boathouse-socks", "Heel flap", 3, 2, 9},
		{"lee-cap", "Wedges", 1, 18, 10},
		{"mender-mittens", "Drying loop", 1, 2, 12},
		{"gull-kerchief", "Sky", 1, 0, 1},      // each row has more stitches
		{"boathouse-socks", "Cuff", 1, 0, 1},   // all rounds are alike
		{"float-hat", "Floats", 1, 0, 1},       // no rows come again in order
		{"boathouse-socks", "Toe", 1, 0, 1},    // each has fewer stitches
		{"cobble-cowl", "Upper rope", 1, 0, 1}, // rounds 2 and 4 alone
	} {
		from, rows, times := chart.RowRepeatOf(sectionOf(t, c.sample, c.section))
		if from != c.from || rows != c.rows || times != c.times {
			t.Errorf("%s, %s: row %d on, %d rows %d times, want %d, %d, %d", c.sample, c.section, from, rows, times, c.from, c.rows, c.times)
		}
	}
}

// TestBracket: what comes again is marked once, and said in the heading.
func TestBracket(t *testing.T) {
	for section, want := range map[string]string{"Cobbles": "Bracket: rounds 1 to 12 are worked 4 times: rounds 13 to 48 are the same again", "Upper rope": ""} {
		p, err := chart.Draw(sectionOf(t, "cobble-cowl", section))
		if err != nil {
			t.Fatal(err)
		}
		svg := p.SVG("")
		marked := groupsOf(t, svg).all("row-repeat")
		switch {
		case want == "":
			if len(marked) != 0 || strings.Contains(string(svg), "Bracket") {
				t.Errorf("%s has a bracket", section)
			}
		case len(marked) != 1 || !strings.Contains(string(svg), want):
			t.Errorf("%s has %d brackets and does not say %q", section, len(marked), want)
		case marked[0].number(t, "from") != 1 || marked[0].number(t, "to") != 12 || marked[0].number(t, "times") != 4:
			t.Errorf("the bracket of %s says %v", section, marked[0].data)
		}
	}
}

// TestEdgeIsNotLost: a chart that is cut keeps the edge of every row at the side
// where it begins. The sample's rows all begin and end with three knits, and its
// wrong-side rows show them as purls.
func TestEdgeIsNotLost(t *testing.T) {
	for _, here := range []int{0, 1, 8} { // a right-side row, a wrong-side row, one in the middle
		v := sectionOf(t, "gull-kerchief", "Gulls")
		v.Here = v.From + here
		p, err := chart.Draw(v)
		if err != nil {
			t.Fatal(err)
		}
		if p.Facts().Cut != chart.CutStitches {
			t.Fatal("the chart that is meant to be cut is whole")
		}
		for i, row := range groupsOf(t, p.SVG("")).all("row") {
			cells := row.all("cell")
			edge := cells[:3]
			if here%2 == 1 {
				edge = cells[len(cells)-3:]
			}
			want := []string{"k", "p"}[i%2]
			for _, cell := range edge {
				if cell.data["stitch"] != want {
					t.Errorf("row %d is marked: row %d has %q at its edge, want %q", here+1, i+1, cell.data["stitch"], want)
				}
			}
		}
	}
}
