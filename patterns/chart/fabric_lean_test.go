package chart_test

import (
	"testing"

	"clew/patterns/chart"
)

// TestDecreasesLean checks to which side a decrease is drawn to lean on the
// right side. (Craft Yarn Council, knitting abbreviations, from memory: k2tog
// leans to the right, ssk, skp and sk2p to the left, s2kp stands up. That a
// decrease of purls worked on the wrong side leans as the same decrease of knits
// does on the right side, and that the back loop turns it to the left, is common
// practice.)
func TestDecreasesLean(t *testing.T) {
	for _, c := range []struct {
		row, lean string
		wrongSide bool
	}{
		{"k4, k2tog, k4", "right", false}, {"k4, k3tog, k3", "right", false}, {"k4, ksp, k4", "right", false},
		{"k4, ssk, k4", "left", false}, {"k4, sssk, k3", "left", false}, {"k4, skp, k4", "left", false}, {"k4, sk2p, k3", "left", false},
		{"k4, sl 1, k1, psso, k4", "left", false}, {"k4, sl 1, k2tog, psso, k3", "left", false}, {"k4, k2tog tbl, k4", "left", false},
		{"k4, s2kp, k3", "centre", false},
		{"p4, p2tog, p4", "right", true}, {"p4, p3tog, p3", "right", true}, {"p4, ssp, p4", "left", true}, {"p4, p2tog tbl, p4", "left", true},
	} {
		rows := "Row 1 (RS): " + c.row + "."
		if c.wrongSide {
			rows = "Row 1 (RS): knit.\nRow 2 (WS): " + c.row + "."
		}
		plan := laidOut(t, "Pattern: Lean\nWorked: in rows\nCast on: 10\n\nSection: Lean\n"+rows, 0)
		last := len(plan.Rows) - 1
		picture, err := chart.Draw(chart.View{Plan: plan, To: last, Here: -1, Fabric: true})
		if err != nil {
			t.Fatal(err)
		}
		var leans []string
		for _, s := range readFabric(t, picture.SVG()).stitches[last] {
			if s.lean != "" {
				leans = append(leans, s.lean)
			}
		}
		if len(leans) != 1 || leans[0] != c.lean {
			t.Errorf("%s: leans %q; %s was expected", c.row, leans, c.lean)
		}
	}
}

// TestFabricSingleStitches checks what is drawn besides the stitches.
func TestFabricSingleStitches(t *testing.T) {
	text := fabricPatterns(t)["sampler"]
	plan := laidOut(t, text, 0)
	picture, err := chart.Draw(chart.View{Plan: plan, To: len(plan.Rows) - 1, Here: -1, Fabric: true})
	if err != nil {
		t.Fatal(err)
	}
	d := readFabric(t, picture.SVG())
	third, ok := plan.Find("Single stitches", 3)
	if !ok {
		t.Fatal("no row 3")
	}
	if d.bars[third] != 2 || d.holes[third] != 2 || d.holes[third+2] != 6 || d.beads != 2 || d.bobbles[third] != 2 {
		t.Errorf("bars %v, holes %v, %d beads, bobbles %v", d.bars, d.holes, d.beads, d.bobbles)
	}
	waits := 0
	for _, s := range d.stitches[third+6] {
		if s.state == "waiting" {
			waits++
		}
	}
	if want := plan.Rows[third+6].After.Count() - 10; waits != want {
		t.Errorf("%d stitches wait in the short row, and %d were expected", waits, want)
	}
}
