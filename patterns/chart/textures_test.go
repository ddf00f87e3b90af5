package chart_test

import (
	"reflect"
	"testing"

	"clew/patterns/chart"
)

// harbour is an invented pattern of panels side by side, in rounds and in rows.
const (
	harbourHat = `Pattern: Harbour Hat
Worked: in rounds
Cast on: 48

Panel: Rope, 8 sts
Rows 1-2: p1, k6, p1.
Row 3: p1, 3/3 LC, p1.
Row 4: p1, k6, p1.
Rows 5-8 (optional in fours): p1, k6, p1.

Panel: Rungs, 4 sts
Rows 1, 2 and 3: k4.
Row 4: p4.

Section: Body
Across: [Rope, Rungs] 4 times.
Rounds 1-16: work the panels.

Section: Crown
Round 1: *k2tog; rep from * to end. (24 sts)
Round 2: knit.
Round 3: *k2tog; rep from * to end. (12 sts)
`
	harbourScarf = `Pattern: Harbour Scarf
Worked: in rows
Cast on: 46

Panel: Blocks, 12 sts
Row 1 (RS): *k2, p2; rep from * to end.
Row 2 (WS): *k2, p2; rep from * to end.
Row 3 (RS): *p2, k2; rep from * to end.
Row 4 (WS): *p2, k2; rep from * to end.

Panel: Rope, 12 sts
Row 1 (RS): p2, k8, p2.
Row 2 (WS): k2, p8, k2.
Row 3 (RS): p2, 4/4 RC, p2.
Row 4 (WS): k2, p8, k2.

Panel: Edge, 5 sts
Row 1 (RS): k5.
Row 2 (WS): k5.

Section: Scarf
Across: Edge, Blocks, Rope, Blocks, Edge.
Rows 1-16: work the panels.
`
)

// TestTexturesSideBySide checks textures that stand beside each other or beside
// crosses; what is expected follows from the rows. Blocks of knits and purls that
// change places are basket stitch, and rows of purls on knits are ridges (common
// practice in handbooks of stitches).
func TestTexturesSideBySide(t *testing.T) {
	flat := func(rows string) string {
		return "Pattern: Flat\nWorked: in rows\nCast on: 20\n\nSection: Whole\n" + rows
	}
	rounds := func(rows string) string {
		return "Pattern: Round\nWorked: in rounds\nCast on: 20\n\nSection: Whole\n" + rows
	}
	for _, c := range []struct {
		name, text, section string
		want                []chart.TextureFact
	}{
		{"a rope and rungs", harbourHat, "Body", []chart.TextureFact{
			{First: 1, Last: 16, Texture: chart.Bumpy, Place: chart.Ground},
			{First: 1, Last: 16, Texture: chart.Ridged, Rows: []int{4, 8, 12, 16}, Place: chart.Strips, Stitches: 4, Times: 4}}},
		{"a crown of decreases", harbourHat, "Crown", nil},
		{"edges, blocks and a rope", harbourScarf, "Scarf", []chart.TextureFact{
			{First: 1, Last: 16, Texture: chart.Bumpy, Place: chart.Ground},
			{First: 1, Last: 16, Texture: chart.Ridges, Place: chart.AtEdges, Stitches: 5},
			{First: 1, Last: 16, Texture: chart.Blocks, Knits: 2, Purls: 2, Every: 2, Place: chart.Strips, Stitches: 12, Times: 2}}},
		{"rungs around the end of the round", rounds("Rounds 1-3: k2, p8, k6, p2, k2.\nRound 4: p to end.\nRounds 5-12: repeat rounds 1-4."), "Whole", []chart.TextureFact{
			{First: 1, Last: 12, Texture: chart.Ridged, Rows: []int{4, 8, 12}, Place: chart.Strips, Stitches: 4, Times: 1},
			{First: 1, Last: 12, Texture: chart.Ridged, Rows: []int{4, 8, 12}, Place: chart.Strips, Stitches: 6, Times: 1}}},
		{"blocks", rounds("Rounds 1-3: *k5, p5; rep from * to end.\nRounds 4-6: *p5, k5; rep from * to end.\nRounds 7-12: repeat rounds 1-6."), "Whole", []chart.TextureFact{
			{First: 1, Last: 12, Texture: chart.Blocks, Knits: 5, Purls: 5, Every: 3}}},
		{"ribs", rounds("Rounds 1-6: *k3, p2; rep from * to end."), "Whole", []chart.TextureFact{
			{First: 1, Last: 6, Texture: chart.Ribbing, Knits: 3, Purls: 2}}},
		{"ribs that are not even", rounds("Rounds 1-6: k3, p1, k5, p2, k4, p5."), "Whole", []chart.TextureFact{
			{First: 1, Last: 6, Texture: chart.Ribbing}}},
		{"ribs, then ridges", rounds("Rounds 1-6: *k3, p2; rep from * to end.\nRounds 7, 9, 11: knit.\nRounds 8, 10, 12: purl."), "Whole", []chart.TextureFact{
			{First: 1, Last: 6, Texture: chart.Ribbing, Knits: 3, Purls: 2}, {First: 7, Last: 12, Texture: chart.Ridges}}},
		{"ridges, then smooth", rounds("Rounds 1, 3, 5: knit.\nRounds 2, 4, 6: purl.\nRounds 7-20: knit."), "Whole", []chart.TextureFact{
			{First: 1, Last: 6, Texture: chart.Ridges}, {First: 7, Last: 20, Texture: chart.Smooth}}},
		{"ridges far apart", rounds("Rounds 1-3: knit.\nRound 4: purl.\nRounds 5-12: repeat rounds 1-4."), "Whole", []chart.TextureFact{
			{First: 1, Last: 12, Texture: chart.Ridged, Rows: []int{4, 8, 12}}}},
		{"edges", flat("Row 1 (RS): knit.\nRow 2 (WS): k3, p14, k3.\nRows 3-10: repeat rows 1-2."), "Whole", []chart.TextureFact{
			{First: 1, Last: 10, Texture: chart.Ridges, Place: chart.AtEdges, Stitches: 3}, {First: 1, Last: 10, Texture: chart.Smooth, Place: chart.Rest}}},
		{"ribs back and forth", flat("Rows 1-8: *k1, p1; rep from * to end."), "Whole", []chart.TextureFact{
			{First: 1, Last: 8, Texture: chart.Ribbing, Knits: 1, Purls: 1}}},
		{"a few decreases", flat("Row 1 (RS): k8, k2tog, k to end.\nRow 2 (WS): purl.\nRow 3: k8, k2tog, k to end.\nRow 4: purl."), "Whole", []chart.TextureFact{
			{First: 1, Last: 4, Texture: chart.Smooth, Shaped: true}}},
	} {
		got := factsOf(t, c.text, c.section).Textures
		for i := range got {
			got[i].Section = ""
		}
		if len(got)+len(c.want) > 0 && !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v\nwant %+v", c.name, got, c.want)
		}
	}
}

// TestThreeStrands: a 2/1/2 has three strands (Craft Yarn Council, from memory: the
// one in the middle is held by itself); a purl in the middle is their ground.
func TestThreeStrands(t *testing.T) {
	for cross, want := range map[string]int{"2/1/2 RC": 3, "2/1/2 LPC": 2, "2/2 RC": 2} {
		width := map[bool]string{true: "5", false: "4"}[len(cross) > len("2/2 RC")]
		text := ropes("Row 1: p2, k" + width + ", p to end.\nRow 3: p2, " + cross + ", p to end.")
		if got := factsOf(t, text, "Ropes").Strands; len(got) != 1 || got[0].Strands != want {
			t.Errorf("%s: %+v, and %d strands were expected", cross, got, want)
		}
	}
}
