package chart_test

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/chart/canvas"
)

// factsOf draws one section as fabric and gives its facts.
func factsOf(t *testing.T, text, section string) chart.Facts {
	t.Helper()
	plan := laidOut(t, text, 0)
	for _, rows := range sections(plan) {
		if plan.Rows[rows[0]].Section.Name == section {
			picture, err := chart.DrawWhole(chart.View{Plan: plan, From: rows[0], To: rows[1], Here: rows[0], Fabric: true})
			if err != nil {
				t.Fatal(err)
			}
			return picture.Facts()
		}
	}
	t.Fatalf("no section %s", section)
	return chart.Facts{}
}

// strandsOf gives the facts of strands without their section, which is one.
func strandsOf(f chart.Facts) []chart.StrandFact {
	out := append([]chart.StrandFact(nil), f.Strands...)
	for i := range out {
		out[i].Section = ""
	}
	return out
}

func TestStrandFacts(t *testing.T) {
	// Six floats side by side, as their pattern's own notes tell: two ropes cross,
	// part, run around the float, close again and cross. A single knit between them is
	// the third strand of a 2/1/2 RC (Craft Yarn Council, from memory).
	f := factsOf(t, fabricPatterns(t)["float-hat"], "Floats")
	want := []chart.StrandFact{
		{Row: 1, First: 1, Last: 1, Kind: chart.CrossRight, Strands: 3, Times: 6},
		{Row: 3, First: 3, Last: 7, Kind: chart.Part, Strands: 2, Times: 6},
		{Row: 21, First: 17, Last: 21, Kind: chart.Meet, Strands: 2, Times: 6},
		{Row: 23, First: 23, Last: 23, Kind: chart.CrossRight, Strands: 3, Times: 6},
	}
	if got := strandsOf(f); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
	if f.Name != "Floats" || !f.Fabric || !f.Rounds || f.First != 1 || f.Last != 24 || f.Least != 108 || f.Most != 120 || f.Here != 1 || f.Cut != "" {
		t.Errorf("%+v", f)
	}
	for _, c := range []struct {
		name, rows string
		want       []chart.StrandFact
	}{
		{"a rope", "Row 3: p2, 2/2 RC, p6.\nRow 9: p2, 2/2 RC, p6.\nRow 15: p2, 2/2 RC, p6.", []chart.StrandFact{
			{Row: 3, First: 3, Last: 3, Kind: chart.CrossRight, Strands: 2, Times: 1},
			{Row: 9, First: 9, Last: 9, Kind: chart.CrossRight, Strands: 2, Times: 1},
			{Row: 15, First: 15, Last: 15, Kind: chart.CrossRight, Strands: 2, Times: 1}}},
		{"one that moves over", "Row 3: p2, 2/1 LPC, k1, p6.\nRow 5: p3, k2, k1, p6.", []chart.StrandFact{
			{Row: 3, First: 3, Last: 3, Kind: chart.MoveLeft, Strands: 1, Times: 1}}},
		{"one there and back", "Row 1: p2, k2, p8.\nRow 3: p2, 2/1 LPC, p7.\nRow 5: p3, 2/1 LPC, p6.\nRow 7: p3, 2/1 RPC, p6.", []chart.StrandFact{
			{Row: 3, First: 3, Last: 5, Kind: chart.MoveLeft, Strands: 1, Times: 1},
			{Row: 7, First: 7, Last: 7, Kind: chart.MoveRight, Strands: 1, Times: 1}}},
		{"two that meet", "Row 1: p1, k2, p6, k2, p1.\nRow 3: p1, 2/1 LPC, p4, 2/1 RPC, p1.\nRow 5: p2, 2/1 LPC, p2, 2/1 RPC, p2.\nRow 7: p3, 2/1 LPC, 2/1 RPC, p3.", []chart.StrandFact{
			{Row: 7, First: 3, Last: 7, Kind: chart.Meet, Strands: 2, Times: 1}}},
	} {
		if got := strandsOf(factsOf(t, ropes(c.rows), "Ropes")); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// ropes is a pattern of twelve stitches with the given rows, and plain ones
// between them.
func ropes(rows string) string {
	given := map[string]string{}
	for _, line := range strings.Split(rows, "\n") {
		head, body, _ := strings.Cut(line, ":")
		given[strings.TrimPrefix(head, "Row ")] = body
	}
	var b strings.Builder
	b.WriteString("Pattern: Ropes\nWorked: in rows\nCast on: 12\n\nSection: Ropes\n")
	if given["1"] == "" {
		b.WriteString("Row 1 (RS): p2, k4, p6.\n")
	} else {
		b.WriteString("Row 1 (RS):" + given["1"] + "\n")
	}
	for row := 2; row <= 16; row++ {
		body := given[itoa(row)]
		if body == "" {
			body = " work sts as they present."
		}
		b.WriteString("Row " + itoa(row) + ":" + body + "\n")
	}
	return b.String()
}

func TestTextureFacts(t *testing.T) {
	texts := fabricPatterns(t)
	for _, c := range []struct {
		pattern, section string
		want             []chart.TextureFact
	}{
		{"boathouse-socks", "Cuff", []chart.TextureFact{{First: 1, Last: 12, Texture: chart.Ribbing, Knits: 2, Purls: 2}}},
		{"boathouse-socks", "Leg", []chart.TextureFact{{First: 1, Last: 16, Texture: chart.Smooth}}},
		{"float-hat", "Brim", []chart.TextureFact{{First: 1, Last: 14, Texture: chart.Ribbing, Knits: 1, Purls: 1}}},
		{"cobble-cowl", "Lower edge", []chart.TextureFact{{First: 1, Last: 6, Texture: chart.Ridges}}},
		{"lee-cap", "Wedges", []chart.TextureFact{{First: 1, Last: 180, Texture: chart.Ridges}}},
		{"gull-kerchief", "Sky", []chart.TextureFact{{First: 1, Last: 70, Texture: chart.Ridges, Place: chart.AtEdges, Stitches: 3},
			{First: 1, Last: 70, Texture: chart.Smooth, Shaped: true, Place: chart.Rest}}},
		{"mender-mittens", "Drying loop", []chart.TextureFact{{First: 1, Last: 25, Texture: chart.Ridges}}},
		{"float-hat", "Floats", nil},
	} {
		got := factsOf(t, texts[c.pattern], c.section).Textures
		for i := range got {
			got[i].Section = ""
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s %s: %+v", c.pattern, c.section, got)
		}
	}
	seed := "Pattern: Seed\nWorked: in rounds\nCast on: 12\n\nSection: Seed\nRound 1: [k1, p1] to end.\nRound 2: [p1, k1] to end.\nRounds 3-6: repeat rounds 1-2."
	if got := factsOf(t, seed, "Seed").Textures; len(got) != 1 || got[0].Texture != chart.Seed || got[0].Last != 6 {
		t.Errorf("%+v", got)
	}
}

func TestStitchFacts(t *testing.T) {
	texts := fabricPatterns(t)
	for _, c := range []struct {
		pattern, section string
		want             chart.StitchFact
	}{
		// The counts are those that the patterns state themselves.
		{"float-hat", "Crown", chart.StitchFact{Kind: chart.Narrower, First: 1, Last: 18, Rows: 8, PerRow: 18, From: 108, To: 9}},
		{"mender-mittens", "Thumb gusset", chart.StitchFact{Kind: chart.Wider, First: 1, Last: 22, Rows: 8, PerRow: 2, From: 44, To: 59}},
		{"boathouse-socks", "Heel flap", chart.StitchFact{Kind: chart.OnHold, First: 1, Last: 1, Rows: 1, PerRow: 20}},
		{"gull-kerchief", "Sky", chart.StitchFact{Kind: chart.Holes, First: 1, Last: 69, Rows: 35, PerRow: 4}},
		{"cobble-cowl", "Lower rope", chart.StitchFact{Kind: chart.Bars, First: 2, Last: 4, Rows: 3, PerRow: 66}},
		{"cobble-cowl", "Upper edge", chart.StitchFact{Kind: chart.BoundOff, First: 7, Last: 7, Rows: 1, PerRow: 132}},
		{"lee-cap", "Wedges", chart.StitchFact{Kind: chart.ShortRows, First: 2, Last: 179, Rows: 90, PerRow: 16}},
		{"sampler", "Single stitches", chart.StitchFact{Kind: chart.Bobbles, First: 3, Last: 3, Rows: 1, PerRow: 2}},
		{"sampler", "Single stitches", chart.StitchFact{Kind: chart.Beads, First: 3, Last: 3, Rows: 1, PerRow: 2}},
	} {
		c.want.Section = c.section
		found := false
		got := factsOf(t, texts[c.pattern], c.section).Stitches
		for _, f := range got {
			if len(f.In) != f.Rows || f.In[0] != f.First || f.In[len(f.In)-1] != f.Last {
				t.Errorf("%s %s: the rows %v of %+v", c.pattern, c.section, f.In, f)
			}
			f.In = nil
			found = found || reflect.DeepEqual(f, c.want)
		}
		if !found {
			t.Errorf("%s %s: %+v in place of %+v", c.pattern, c.section, got, c.want)
		}
	}
	if got := factsOf(t, texts["cobble-cowl"], "Lower rope").Yarns; !reflect.DeepEqual(got, []string{"MC", "CC"}) {
		t.Errorf("yarns %q", got)
	}
	if got := factsOf(t, texts["float-hat"], "Brim").Yarns; got != nil {
		t.Errorf("yarns %q", got)
	}
}

// TestLowStrip: of what is wide whole repeats are drawn, with stitches that can
// be told apart, and the facts are of those; of a low crown one wedge.
func TestLowStrip(t *testing.T) {
	for _, c := range []struct {
		sample, section      string
		drawn, crossesAcross int
	}{
		{"float-hat", "Floats", 54, 3}, // three of six repeats of 18
		{"cobble-cowl", "Lower rope", 60, 0},
		{"cobble-cowl", "Lower edge", 60, 0},
		{"float-hat", "Crown", 36, 0},     // one wedge of three
		{"gull-kerchief", "Gulls", 96, 0}, // no repeat: what has room with ten units a stitch
		{"boathouse-socks", "Cuff", 0, 0},
		{"mender-mittens", "Hand", 0, 0},
	} {
		v := sectionOf(t, c.sample, c.section)
		v.Fabric = true
		picture, err := chart.Draw(v)
		if err != nil {
			t.Fatal(err)
		}
		f := picture.Facts()
		if f.Drawn != c.drawn || (f.Cut == chart.CutStitches) != (c.drawn > 0) {
			t.Errorf("%s: %d stitches are drawn, cut to %q, and %d were expected", c.section, f.Drawn, f.Cut, c.drawn)
		}
		if c.crossesAcross > 0 && (len(f.Strands) == 0 || f.Strands[0].Times != c.crossesAcross) {
			t.Errorf("%s: the strands are %v", c.section, f.Strands)
		}
		if c.drawn == 0 || f.Repeats[0] == 0 {
			continue
		}
		for i, row := range readFabric(t, picture.SVG("")).stitches {
			r := v.Plan.Rows[i]
			if want := c.drawn * r.After.Count() / v.Plan.Rows[v.From].Before.Count(); len(row) != want {
				t.Errorf("%s: %d stitches are drawn of row %d, and %d were expected", c.section, len(row), r.Number, want)
			}
			for _, l := range r.After.Loops()[:len(row)] {
				if s, drawn := row[l.Column]; !drawn || s.face != []string{"knit", "purl"}[l.Face] {
					t.Errorf("%s: column %d of row %d is %+v", c.section, l.Column, r.Number, s)
				}
			}
		}
	}
}

// TestLastRowGivesShape: of fabric that narrows much in its last row a wedge of
// twelve stitches or more is drawn; binding off in it is no narrowing.
func TestLastRowGivesShape(t *testing.T) {
	for last, drawn := range map[string]int{"*k4tog; rep from * around": 12, "BO all sts": 60} {
		plan := laidOut(t, "Pattern: Crown\nWorked: in rounds\nCast on: 108\n\nSection: Top\nRound 1: knit.\nRound 2: "+last+".\n", 0)
		picture, err := chart.Draw(chart.View{Plan: plan, To: 1, Here: -1, Fabric: true})
		if err != nil {
			t.Fatal(err)
		}
		if got := picture.Facts().Drawn; got != drawn {
			t.Errorf("%s: %d stitches are drawn, and %d were expected", last, got, drawn)
		}
	}
}

// TestTitleIsCut: a long name of a section is cut in the heading, in the letters
// that it is drawn in, and its rows are not.
func TestTitleIsCut(t *testing.T) {
	name := strings.Repeat("W", 200)
	plan := laidOut(t, "Pattern: Long\nWorked: in rows\nCast on: 4\n\nSection: "+name+"\nRows 1-3: knit.\n\nSection: B"+name[:100]+"\nRow 1: knit.\n", 0)
	for _, v := range []chart.View{{Plan: plan, To: 2}, {Plan: plan, To: 2, Fabric: true}, {Plan: plan, To: 3}, {Plan: plan, To: 3, Fabric: true}} {
		picture, err := chart.Draw(v)
		if err != nil {
			t.Fatal(err)
		}
		heading := headingOf(picture.SVG(""))
		want, size, width := ": rows 1 to 3", 34.0, 1140.0
		if v.To == 3 {
			want = ", row 1"
		}
		if v.Fabric {
			want, size, width = want+", from the right side", 16, 1168
		}
		if !strings.HasSuffix(heading, want) || !strings.Contains(heading, "W…") || canvas.BoldWidth(size, heading) > width {
			t.Errorf("the heading is %q, %.0f wide; it should end in %q, and be at most %.0f wide", heading, canvas.BoldWidth(size, heading), want, width)
		}
	}
}

// headingOf gives the longest text that is written in a picture.
func headingOf(svg []byte) string {
	longest := ""
	for _, found := range regexp.MustCompile(`aria-label="([^"]*)"`).FindAllSubmatch(svg, -1) {
		if text := string(found[1]); len(text) > len(longest) {
			longest = text
		}
	}
	return longest
}

// TestFabricTooLarge checks what is drawn of fabric that there is no room for.
func TestFabricTooLarge(t *testing.T) {
	wide := laidOut(t, "Pattern: Wide\nWorked: in rounds\nCast on: 5000\n\nSection: Wide\nRounds 1-20: *k3, 2/2 RC, p3; rep from * around.", 0)
	picture, err := chart.Draw(chart.View{Plan: wide, To: 19, Here: 10, Fabric: true})
	if err != nil {
		t.Fatal(err)
	}
	f := picture.Facts()
	if f.Cut != chart.CutRows || f.Whole != [2]int{1, 20} || f.Last-f.First+1 != chart.MaxStitches/5000 || f.First > 11 || f.Last < 11 {
		t.Errorf("%+v", f)
	}
	if f.Drawn != 60 || f.Repeats != [2]int{6, 500} {
		t.Errorf("%d stitches are drawn, repeats %v: six repeats of ten have room, with sixteen units a stitch", f.Drawn, f.Repeats)
	}
	d := readFabric(t, picture.SVG(""))
	for i, row := range d.stitches {
		if len(row) != f.Drawn {
			t.Errorf("%d stitches are drawn of row %d, and %d were expected", len(row), i, f.Drawn)
		}
	}
	long := laidOut(t, "Pattern: Long\nWorked: in rows\nCast on: 20\n\nSection: Long\nRows 1-4000: knit.", 0)
	picture, err = chart.Draw(chart.View{Plan: long, To: 3999, Here: -1, Fabric: true})
	if err != nil {
		t.Fatal(err)
	}
	if f := picture.Facts(); f.Cut != chart.CutRows || f.First != 1 || f.Last < 300 || f.Whole != [2]int{1, 4000} {
		t.Errorf("%+v", f)
	}
	checkSize(t, picture)
	if _, err := chart.Draw(chart.View{Plan: &patterns.Plan{}, Fabric: true}); err != chart.ErrNoRows {
		t.Error(err)
	}
}
