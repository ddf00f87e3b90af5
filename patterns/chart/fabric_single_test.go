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
		for _, s := range readFabric(t, picture.SVG("")).stitches[last] {
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
	d := readFabric(t, picture.SVG(""))
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

// TestFabricOddRows checks fabrics whose rows do not run from edge to edge: short
// rows in the round, bobbles that turn the work, stitches on hold in the middle
// and others in their place.
func TestFabricOddRows(t *testing.T) {
	for name, text := range map[string]string{
		"ring": "Worked: in rounds\nCast on: 20\n\nSection: Ring\nRounds 1-4: knit.\nRound 5: k12, w&t.\nRound 6: p8, w&t.\nRound 7: k to end.\n" +
			"Rounds 8-10: [k1, p1] to end.\nRound 11: k15, turn.\nRound 12: p18, turn.\nRound 13: k to end.\nRound 14: knit.",
		"knots": "Worked: in rows\nCast on: 20\nAbbreviation: BOB = (k1, yo, k1, yo, k1) in next st, turn, p5, turn, k5tog\n\nSection: Knots\n" +
			"Row 1: knit.\nRow 2: purl.\nRow 3: k5, BOB, k8, BOB, k5.\nRow 4: purl.\nRow 5: k3, 1/1 RC, k2, 4/4 RC, k to end.\nRow 6: p to end.",
		"gap": "Worked: in rows\nCast on: 20\n\nSection: Gap\nRow 1: knit.\nRow 2: purl.\nRow 3: k5, put 10 sts on hold, k5.\nRow 4: purl.\n" +
			"Row 5: k5, CO 10 sts, k5.\nRow 6: purl.\nRow 7: BO 3 sts, k to end.\nRow 8: BO 3 sts, p to end.\nRow 9: k1, ssk, k to last 3 sts, k2tog, k1.\nRow 10: purl.\nRow 11: BO all sts.",
	} {
		plan := laidOut(t, "Pattern: Odd\n"+text, 0)
		checkFabric(t, name, chart.View{Plan: plan, To: len(plan.Rows) - 1, Here: 2, Fabric: true})
	}
}
