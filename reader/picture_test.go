package reader_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"clew/patterns/chart"
	"clew/reader"
)

// The pictures of invented patterns.
var pictures = []struct {
	name  string
	facts chart.Facts
}{
	{"strands that part and meet", chart.Facts{Name: "Lanterns", Rounds: true, First: 1, Last: 12, Least: 12, Most: 12,
		Strands: []chart.StrandFact{{Row: 3, Kind: chart.Part, Strands: 2, Times: 1}, {Row: 11, Kind: chart.Meet, Strands: 2, Times: 1}}}},
	{"the same as fabric", chart.Facts{Fabric: true, Name: "Lanterns", Rounds: true, First: 1, Last: 12, Least: 12, Most: 12,
		Strands: []chart.StrandFact{{Row: 3, Kind: chart.Part, Strands: 2, Times: 1}, {Row: 11, Kind: chart.Meet, Strands: 2, Times: 1}}}},
	{"a repeat, the current round, and four kinds of crossing", chart.Facts{Name: "Floats", Rounds: true, First: 1, Last: 24, Least: 108, Most: 108, Times: 6, Here: 9,
		Strands: []chart.StrandFact{{Row: 1, Kind: chart.CrossRight, Strands: 2, Times: 1}, {Row: 3, Kind: chart.Part, Strands: 2, Times: 1},
			{Row: 21, Kind: chart.Meet, Strands: 2, Times: 1}, {Row: 23, Kind: chart.CrossRight, Strands: 2, Times: 1}}}},
	{"a rope", chart.Facts{Name: "Rope", First: 1, Last: 32, Least: 12, Most: 12,
		Strands: []chart.StrandFact{{Row: 1, Kind: chart.CrossLeft, Strands: 2, Times: 1}, {Row: 9, Kind: chart.CrossLeft, Strands: 2, Times: 1},
			{Row: 17, Kind: chart.CrossLeft, Strands: 2, Times: 1}, {Row: 25, Kind: chart.CrossLeft, Strands: 2, Times: 1}}}},
	{"several places", chart.Facts{Name: "Ropes", Rounds: true, First: 1, Last: 4, Least: 48, Most: 48,
		Strands: []chart.StrandFact{{Row: 3, Kind: chart.CrossRight, Strands: 2, Times: 8}}}},
	{"a strand that wanders", chart.Facts{Name: "Wave", First: 1, Last: 16, Least: 8, Most: 8,
		Strands: []chart.StrandFact{{Row: 3, First: 3, Last: 7, Kind: chart.MoveLeft, Strands: 1, Times: 1}, {Row: 11, First: 11, Last: 15, Kind: chart.MoveRight, Strands: 1, Times: 1}}}},
	{"no crosses, and a fabric that narrows", chart.Facts{Fabric: true, Name: "Crown", Rounds: true, First: 1, Last: 20, Least: 12, Most: 96,
		Stitches: []chart.StitchFact{{Kind: chart.Narrower, First: 1, Last: 20, Rows: 9, PerRow: 12, From: 96, To: 12}}}},
	{"ribbing", chart.Facts{Name: "Cuff", Rounds: true, First: 1, Last: 12, Least: 40, Most: 40, Here: 3,
		Textures: []chart.TextureFact{{First: 1, Last: 12, Texture: chart.Ribbing, Knits: 2, Purls: 2}}}},
	{"textures in places", chart.Facts{Name: "Yoke", First: 1, Last: 24, Least: 96, Most: 104,
		Textures: []chart.TextureFact{{First: 1, Last: 4, Texture: chart.Ridges}, {First: 5, Last: 9, Texture: chart.Smooth}, {First: 10, Last: 10, Texture: chart.Bumpy},
			{First: 11, Last: 16, Texture: chart.Smooth}, {First: 17, Last: 20, Texture: chart.Mixed}, {First: 21, Last: 24, Texture: chart.Seed}},
		Stitches: []chart.StitchFact{{Kind: chart.Wider, First: 5, Last: 5, Rows: 1, From: 96, To: 104}, {Kind: chart.Narrower, First: 24, Last: 24, Rows: 1, From: 104, To: 100}}}},
	{"stitches that show", chart.Facts{Name: "Net", Rounds: true, First: 1, Last: 20, Least: 60, Most: 60,
		Stitches: []chart.StitchFact{{Kind: chart.Holes, First: 1, Last: 9, Rows: 5, In: []int{1, 3, 5, 7, 9}, PerRow: 12}, {Kind: chart.Bobbles, First: 11, Last: 11, Rows: 1, PerRow: 6},
			{Kind: chart.Beads, First: 13, Last: 13, Rows: 1, PerRow: 1}, {Kind: chart.Bars, First: 15, Last: 16, Rows: 2, PerRow: 30},
			{Kind: chart.ShortRows, First: 18, Last: 19, Rows: 2, PerRow: 8}}}},
	{"holes in two rows", chart.Facts{Name: "Lace", First: 1, Last: 4, Least: 40, Most: 40,
		Stitches: []chart.StitchFact{{Kind: chart.Holes, First: 1, Last: 3, Rows: 2, In: []int{1, 3}, PerRow: 12}}}},
	{"holes in many rows", chart.Facts{Name: "Lace", First: 1, Last: 30, Least: 40, Most: 40,
		Stitches: []chart.StitchFact{{Kind: chart.Holes, First: 1, Last: 29, Rows: 8, In: []int{1, 3, 7, 9, 11, 21, 23, 29}, PerRow: 12}}}},
	{"rows that come again, edges, strips and a ground", chart.Facts{Name: "Scarf", First: 1, Last: 320, Least: 46, Most: 46, Again: chart.RowRepeat{First: 1, Last: 8, Times: 40},
		Strands: []chart.StrandFact{{Row: 3, Kind: chart.CrossRight, Strands: 2, Times: 1}},
		Textures: []chart.TextureFact{{First: 1, Last: 320, Texture: chart.Bumpy, Place: chart.Ground}, {First: 1, Last: 320, Texture: chart.Ridges, Place: chart.AtEdges, Stitches: 5},
			{First: 1, Last: 320, Texture: chart.Blocks, Knits: 2, Purls: 2, Every: 2, Place: chart.Strips, Stitches: 12, Times: 2}}}},
	{"ridges in places, a repeat and rows above it", chart.Facts{Name: "Ladder", Rounds: true, First: 1, Last: 12, Least: 14, Most: 108, Times: 9, WholeFrom: 11,
		Textures: []chart.TextureFact{{First: 1, Last: 12, Texture: chart.Ridged, Rows: []int{4, 8, 12}}}}},
	{"a strip, one of many ridges", chart.Facts{Name: "Body", Rounds: true, First: 1, Last: 32, Least: 12, Most: 12, Again: chart.RowRepeat{First: 1, Last: 16, Times: 2},
		Textures: []chart.TextureFact{{First: 1, Last: 32, Texture: chart.Ridged, Rows: []int{4, 8, 12, 16, 20, 24, 28, 32}, Place: chart.Strips, Stitches: 4, Times: 1}}}},
	{"smooth but for its shape, with an edge", chart.Facts{Name: "Sky", First: 1, Last: 70, Least: 7, Most: 147,
		Textures: []chart.TextureFact{{First: 1, Last: 70, Texture: chart.Ridges, Place: chart.AtEdges, Stitches: 3}, {First: 1, Last: 70, Texture: chart.Smooth, Place: chart.Rest, Shaped: true}},
		Stitches: []chart.StitchFact{{Kind: chart.Wider, First: 1, Last: 70, Rows: 35, From: 7, To: 147}}}},
	{"ribs that are not even", chart.Facts{Name: "Cuff", First: 1, Last: 20, Least: 40, Most: 40, Textures: []chart.TextureFact{{First: 3, Last: 20, Texture: chart.Ribbing}}}},
	{"drawn larger", chart.Facts{Fabric: true, Name: "Body", Rounds: true, First: 1, Last: 32, Least: 108, Most: 108, Cut: chart.CutStitches, Drawn: 60, DrawnFrom: 1, Repeats: [2]int{5, 9},
		Strands: []chart.StrandFact{{Row: 3, Kind: chart.CrossLeft, Strands: 2, Times: 5}}}},
	{"a wedge", chart.Facts{Fabric: true, Name: "Crown", Rounds: true, First: 1, Last: 9, Least: 12, Most: 96, Cut: chart.CutStitches, Drawn: 12, DrawnFrom: 1, Repeats: [2]int{1, 8},
		Stitches: []chart.StitchFact{{Kind: chart.Narrower, First: 1, Last: 9, Rows: 5, From: 96, To: 12}}}},
	{"a part of the width", chart.Facts{Name: "Yoke", First: 1, Last: 30, Least: 400, Most: 400, Cut: chart.CutStitches, Drawn: 74, DrawnFrom: 101, DrawnRow: 12}},
	{"bound off at the end", chart.Facts{Name: "Upper edge", Rounds: true, First: 1, Last: 7, Least: 0, Most: 132, Times: 132,
		Stitches: []chart.StitchFact{{Kind: chart.BoundOff, First: 7, Last: 7, Rows: 1, PerRow: 132}}}},
	{"narrower, then bound off", chart.Facts{Name: "Top", Rounds: true, First: 1, Last: 13, Least: 0, Most: 44,
		Stitches: []chart.StitchFact{{Kind: chart.Narrower, First: 1, Last: 12, Rows: 8, PerRow: 4, From: 44, To: 12}, {Kind: chart.BoundOff, First: 13, Last: 13, Rows: 1, PerRow: 12}}}},
	{"slipped stitches that leave bars", chart.Facts{Name: "Lower rope", Rounds: true, First: 1, Last: 5, Least: 132, Most: 132, Times: 66,
		Stitches: []chart.StitchFact{{Kind: chart.Slipped, First: 2, Last: 4, Rows: 3, PerRow: 66}, {Kind: chart.Bars, First: 2, Last: 4, Rows: 3, PerRow: 66}}}},
	{"one row", chart.Facts{Name: "Edge", First: 4, Last: 4, Least: 30, Most: 30, Here: 4}},
	{"two rows, bound off", chart.Facts{Name: "Edge", First: 4, Last: 5, Least: 0, Most: 30}},
	{"two sections", chart.Facts{Name: "Brim", Sections: []string{"Brim", "Floats"}, Rounds: true, First: 9, Last: 4, Least: 96, Most: 108,
		Textures: []chart.TextureFact{{Section: "Brim", First: 9, Last: 14, Texture: chart.Ribbing, Knits: 1, Purls: 1}}}},
	{"three sections", chart.Facts{Name: "Brim", Sections: []string{"Brim", "Set-up", "Floats"}, Rounds: true, First: 9, Last: 4, Least: 96, Most: 108,
		Strands: []chart.StrandFact{{Section: "Floats", Row: 1, Kind: chart.CrossRight, Strands: 2, Times: 1}, {Section: "Floats", Row: 3, Kind: chart.CrossRight, Strands: 2, Times: 1}}}},
	{"many sections", chart.Facts{Name: "Cuff", Sections: []string{"Cuff", "Leg", "Heel", "Foot", "Toe"}, First: 2, Last: 15, Least: 8, Most: 40}},
	{"two yarns", chart.Facts{Name: "Cobbles", Rounds: true, First: 1, Last: 50, Least: 132, Most: 132, Times: 22, Yarns: []string{"MC", "CC"}}},
	{"cut to the rows around", chart.Facts{Name: "Yoke", Rounds: true, First: 80, Last: 180, Least: 400, Most: 400, Here: 120, Cut: chart.CutRows, Whole: [2]int{1, 300}}},
	{"too wide", chart.Facts{Name: "Yoke", Rounds: true, First: 1, Last: 30, Least: 400, Most: 400, Here: 12, Cut: chart.CutStitches, Whole: [2]int{1, 30}}},
	{"too wide and too long", chart.Facts{Fabric: true, Name: "Yoke", Rounds: true, First: 1, Last: 100, Least: 400, Most: 400, Drawn: 180, DrawnFrom: 1, Cut: chart.CutRows, Whole: [2]int{1, 300}}},
	{"cut, of two sections", chart.Facts{Name: "Yoke", Sections: []string{"Yoke", "Body"}, First: 80, Last: 12, Least: 90, Most: 90, Here: 9, Cut: chart.CutRows, Whole: [2]int{1, 300}}},
	{"cut to the first rows", chart.Facts{Name: "Body", First: 1, Last: 120, Least: 90, Most: 90, Cut: chart.CutRows, Whole: [2]int{1, 300}}},
}

// TestPictures compares descriptions with what was read aloud and found good.
func TestPictures(t *testing.T) {
	var b strings.Builder
	for _, p := range pictures {
		fmt.Fprintf(&b, "== %s\n%s\n\n", p.name, reader.Picture(p.facts))
	}
	golden(t, "testdata/pictures.txt", b.String())
}

// TestPicturesStayShort holds the description of any picture to letters and
// the few marks, and to the platform's 1,024 characters.
func TestPicturesStayShort(t *testing.T) {
	name := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"Lanterns", "", "2/2 RPC", strings.Repeat("9", 400), strings.Repeat("ü ", 900), strings.Repeat("𝒦", 300)}))
	strand := rapid.Custom(func(t *rapid.T) chart.StrandFact {
		return chart.StrandFact{
			Row: rapid.IntRange(1, 5000).Draw(t, "row"), Kind: chart.StrandKind(rapid.IntRange(0, int(chart.MoveRight)).Draw(t, "kind")), Section: name.Draw(t, "section"),
			Strands: rapid.IntRange(1, 40).Draw(t, "strands"), Times: rapid.IntRange(0, 300).Draw(t, "times"),
		}
	})
	number := rapid.IntRange(1, 5000)
	texture := rapid.Custom(func(t *rapid.T) chart.TextureFact {
		return chart.TextureFact{
			Section: name.Draw(t, "section"), First: number.Draw(t, "first"), Last: number.Draw(t, "last"), Texture: chart.Texture(rapid.IntRange(0, int(chart.Ridged)).Draw(t, "texture")),
			Knits: number.Draw(t, "knits"), Purls: number.Draw(t, "purls"),
		}
	})
	stitch := rapid.Custom(func(t *rapid.T) chart.StitchFact {
		return chart.StitchFact{
			Section: name.Draw(t, "section"), First: number.Draw(t, "first"), Last: number.Draw(t, "last"), Kind: chart.StitchKind(rapid.IntRange(0, int(chart.ShortRows)).Draw(t, "kind")),
			Rows: number.Draw(t, "rows"), PerRow: number.Draw(t, "a row"), From: number.Draw(t, "from"), To: number.Draw(t, "to"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		f := chart.Facts{
			Fabric: rapid.Bool().Draw(t, "fabric"), Name: name.Draw(t, "name"), Sections: rapid.SliceOf(name).Draw(t, "sections"),
			Rounds: rapid.Bool().Draw(t, "rounds"), First: rapid.IntRange(1, 5000).Draw(t, "first"), Last: rapid.IntRange(1, 5000).Draw(t, "last"),
			Least: rapid.IntRange(0, 99_999).Draw(t, "least"), Most: rapid.IntRange(0, 99_999).Draw(t, "most"),
			Times: rapid.IntRange(0, 999).Draw(t, "times"), Here: rapid.IntRange(0, 5000).Draw(t, "here"),
			Strands: rapid.SliceOf(strand).Draw(t, "strands"), Textures: rapid.SliceOf(texture).Draw(t, "textures"), Stitches: rapid.SliceOf(stitch).Draw(t, "stitches"), Yarns: rapid.SliceOf(name).Draw(t, "yarns"),
			Drawn: rapid.IntRange(0, 300).Draw(t, "drawn"), Cut: rapid.SampledFrom([]string{"", chart.CutRows, chart.CutStitches}).Draw(t, "cut"), Whole: [2]int{1, 5000},
		}
		said := reader.Picture(f)
		checkAllowed(t, said)
		if n := len(utf16.Encode([]rune(said))); n > 1024 {
			t.Fatalf("%d characters: %s", n, said)
		}
	})
}

// TestPictureKeepsWhatMatters holds the current row to be told however much
// there is to say of the strands.
func TestPictureKeepsWhatMatters(t *testing.T) {
	f := chart.Facts{Name: strings.Repeat("Long", 100), Rounds: true, First: 1, Last: 400, Least: 12, Most: 12, Here: 77}
	for i := range 400 {
		f.Strands = append(f.Strands, chart.StrandFact{Row: i + 1, Kind: chart.StrandKind(i % 4), Strands: 2 + i%37, Times: 1 + i%5})
	}
	if said := reader.Picture(f); !strings.Contains(said, "Your round, seventy-seven, is marked.") {
		t.Error(said)
	}

	// The longest of everything: letters of two UTF-16 units, numbers of many words.
	long := strings.Repeat("𝒦", 60)
	f = chart.Facts{Fabric: true, Name: long, Sections: []string{long, long, long}, Rounds: true, First: 3773, Last: 4777, Least: 77_777, Most: 77_778, Here: 3777}
	for i := range 40 {
		f.Strands = append(f.Strands, chart.StrandFact{Section: long, Row: 3777 + i*i, Kind: chart.StrandKind(i % 2), Strands: 37, Times: 377})
	}
	said := reader.Picture(f)
	if n := len(utf16.Encode([]rune(said))); n > 1024 || !strings.Contains(said, "Your round, three thousand seven hundred and seventy-seven, is marked.") {
		t.Errorf("%d characters: %s", n, said)
	}
}
