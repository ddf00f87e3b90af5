package reader_test

import (
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// Rows for the random test come in batches, so that there are thousands of
// them whatever number of checks the library takes for one.
const randomBatches = 14

// TestRandomRows says rows of every kind of node, in every form, and hears them
// back. A row that can't be worked is left out; few must be.
func TestRandomRows(t *testing.T) {
	left, heard := 0, 0
	for range randomBatches {
		rapid.Check(t, func(t *rapid.T) {
			l, h := randomSection(t)
			left, heard = left+l, heard+h
		})
	}
	t.Logf("%d rows heard, %d left out", heard, left)
	if heard < 2000 {
		t.Errorf("%d rows were heard; at least 2000 were expected", heard)
	}
	if left*3 > left+heard {
		t.Errorf("%d of %d rows could not be worked; at most a third was expected", left, left+heard)
	}
}

// randomSection casts on, works a few rows as a section, and says each of them
// in every form. It gives how many rows were left out and how many heard.
func randomSection(t *rapid.T) (left, heard int) {
	rounds := rapid.Bool().Draw(t, "rounds")
	f := fabric.CastOn(rapid.IntRange(8, 90).Draw(t, "cast on"))
	if setup := f.Work(withMarkersAndHeld(t, f.Count()), fabric.Row{Rounds: rounds}); setup.Problem == nil {
		f = setup.After
	}
	section := rapid.SampledFrom([]string{"Lanterns", "Band 2: left", "Row 3", "Knit two"}).Draw(t, "section")
	listeners := pupils()
	for number := range rapid.IntRange(1, 4).Draw(t, "rows") {
		if f.Ahead() == 0 {
			break
		}
		size := rapid.IntRange(0, 1).Draw(t, "size")
		g := &grower{T: t, size: size, rounds: rounds, held: f.Held()}
		body := g.row(f)
		result := f.Work(body, fabric.Row{Rounds: rounds, Size: size})
		if result.Problem != nil {
			left++
			continue
		}
		row := rowOf(f, rounds, size, result, number+1)
		row.Section, row.Tips = section, rapid.SampledFrom(tips).Draw(t, "tips")
		for _, p := range listeners {
			if wrong := p.learns(row, f); wrong != "" {
				t.Fatalf("on %d stitches, %d ahead: %s", f.Count(), f.Ahead(), wrong)
			}
		}
		heard++
		f = result.After
	}
	return left, heard
}

// tips are what a host may write after a row; none of it is to be worked.
var tips = [][]string{nil, {"Keep the cable needle close."}, {"k2tog leans right; see fig. 3", "(knit two) & don't pull: 3.5 mm!"}}

// withMarkersAndHeld is a row that places markers and puts a few stitches on
// hold, so that the rows after it can use them.
func withMarkersAndHeld(t *rapid.T, n int) []instruction.Node {
	plain := func(n int) instruction.Node {
		return &instruction.Work{Stitch: find("k"), Extent: instruction.Extent{N: instruction.N(n)}}
	}
	place := &instruction.Marker{Act: instruction.PlaceMarker}
	first := rapid.IntRange(1, n-6).Draw(t, "to the first marker")
	second := rapid.IntRange(1, n-first-5).Draw(t, "to the second marker")
	return []instruction.Node{plain(first), place, plain(second), place,
		&instruction.Held{N: instruction.N(heldSetUp)}, plain(n - first - second - heldSetUp)}
}

const heldSetUp = 2

// FuzzRandomRows is the same, driven by the fuzzer.
func FuzzRandomRows(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) { randomSection(t) }))
}
