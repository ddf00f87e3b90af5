package chart_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/chart"
)

// TestGrid: where the cells of small patterns stand. A row is written from left
// to right as it is seen, the last row first: a letter for each cell over all its
// slots, '#' for no stitch, '.' for nothing.
func TestGrid(t *testing.T) {
	tests := []struct {
		name, rows string
		castOn     int
		want       string
	}{
		{"plain", "k3.;p3.", 3, "cba|cba"},
		{"balanced: four cells in the same four slots", "yo, k2, k2tog, k1.;p5.", 5, "edcba|edcba"},
		{"balanced apart", "k1, yo, k4, k2tog.;p to end.", 7, "gfedcba|gfedcba"},
		{"the edge moves outward", "k2, yo, k6.;p to end.", 8, "ihgfedcba|ihgfedcba"},
		{"both edges move outward", "k2, yo, k5, yo, k2.;p to end.;k2, yo, k7, yo, k2.", 9, "mlkjihgfedcba|.kjihgfedcba.|.kjihgfedcba."},
		{"the edge moves inward", "k1, k2tog, k6.;p to end.", 9, "hgfedcba|hgfedcba"},
		{"three out of one, and one out of three", "k9.;k4, (k1, yo, k1) in next st, k4.;p11.;k4, k3tog, k4.", 9, "ihgf#e#dcba|kjihgfedcba|ihgfeeedcba|ihgf#e#dcba"},
		{"the same beside a narrow edge", "k5.;k2, (k1, yo, k1) in next st, k2.;p7.;k2, k3tog, k2.", 5, ".edcba.|gfedcba|edcccba|.edcba."},
		{"binding off in the middle, and casting on again", "k3, BO 2, k3.;p3, CO 2, p3.;k8.", 8, "hgfedcba|hgfedcba|hgfedcba"},
		{"bound off in the middle", "k3, BO 2, k5.;p8.;k8.", 10, "hgfedcba..|hgfedcba..|jihgfedcba"},
		{"a short row", "k4, turn.;p4.;k6.", 6, "fedcba|..dcba|..dcba"},
		{"decreases at both edges", "k1, ssk, k4, k2tog, k1.;p8.", 10, "hgfedcba|hgfedcba"},
		{"a cross", "2/2 RC, k1.;p5.", 5, "edcba|baaaa"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var b strings.Builder
			fmt.Fprintf(&b, "Pattern: Grid\nWorked: in rows\nCast on: %d\n\nSection: Whole\n", test.castOn)
			for i, row := range strings.Split(test.rows, ";") {
				fmt.Fprintf(&b, "Row %d: %s\n", i+1, row)
			}
			plan := laidOut(t, b.String(), 0)
			cells, blanks := chart.CellsOf(chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1})
			if got := seen(cells, blanks); got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
		})
	}
}

func seen(cells [][][2]int, blanks [][]int) string {
	width := 0
	for _, row := range cells {
		for _, c := range row {
			width = max(width, c[1]+1)
		}
	}
	var rows []string
	for i := len(cells) - 1; i >= 0; i-- {
		line := []byte(strings.Repeat(".", width))
		for k, c := range cells[i] {
			for s := c[0]; s <= c[1]; s++ {
				line[width-1-s] = byte('a' + k)
			}
		}
		for _, s := range blanks[i] {
			line[width-1-s] = '#'
		}
		rows = append(rows, string(line))
	}
	return strings.Join(rows, "|")
}

// TestRandomGrids: cells stand in the order of their stitches and never over one
// another, whatever the pattern; "no stitch" stands between them alone.
func TestRandomGrids(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := randomPattern(r)
		plan := laidOut(r, text, 0)
		cells, blanks := chart.CellsOf(chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1})
		for i, row := range cells {
			var taken []int
			for k, c := range row {
				if c[1] < c[0] || k > 0 && c[0] <= row[k-1][1] {
					r.Fatalf("row %d has cells at %v\n%s", i+1, row, text)
				}
				for s := c[0]; s <= c[1]; s++ {
					taken = append(taken, s)
				}
			}
			for _, s := range blanks[i] {
				if slices.Contains(taken, s) || len(row) == 0 || s < row[0][0] || s > row[len(row)-1][1] {
					r.Fatalf("row %d has no stitch at %d, and cells at %v\n%s", i+1, s, row, text)
				}
			}
		}
	})
}

// TestRepeat: the repeat that stands most often side by side, between edges of as
// many stitches in each row.
func TestRepeat(t *testing.T) {
	tests := []struct {
		name, worked, rows string
		castOn             int
		right, left, times int
	}{
		{"a rib in the round", "rounds", "*k2, p2; rep from * around.|*k2, p2; rep from * around.", 40, 0, 0, 10},
		{"plain", "rounds", "k to end.", 24, 0, 0, 24},
		{"the longer one rules", "rounds", "*k1, p1; rep from * around.|*k2, p1; rep from * around.", 24, 0, 0, 4},
		{"with edges", "rows", "k3, [k1, yo, k2tog] 6 times, k2.|p2, k to last 3 sts, p3.", 23, 3, 2, 6},
		{"narrower each time", "rounds", "*k4, k2tog; rep from * around.|knit.|*k3, k2tog; rep from * around.", 36, 0, 0, 6},
		{"shifted, so that none holds", "rows", "[k1, p1] 10 times.|k7, p6, k7.", 20, 0, 0, 1},
		{"too little to be worth it", "rounds", "[k1, p1] 3 times.", 6, 0, 0, 1},
		{"a short row has none", "rows", "[k1, p1] 10 times.|p16, turn.", 20, 0, 0, 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var b strings.Builder
			fmt.Fprintf(&b, "Pattern: Repeat\nWorked: in %s\nCast on: %d\n\nSection: Whole\n", test.worked, test.castOn)
			for i, row := range strings.Split(test.rows, "|") {
				fmt.Fprintf(&b, "Row %d: %s\n", i+1, row)
			}
			plan := laidOut(t, b.String(), 0)
			right, left, times := chart.RepeatOf(chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1})
			if right != test.right || left != test.left || times != test.times {
				t.Errorf("found %d times between edges of %d at the right and %d at the left; want %d, %d, %d", times, right, left, test.times, test.right, test.left)
			}
		})
	}
}
