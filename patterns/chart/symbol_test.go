package chart

import (
	"reflect"
	"testing"

	"clew/patterns/chart/canvas"
	"clew/patterns/stitch"
)

// TestEveryStitchIsDrawn: every stitch of the table has a drawing of its own, as
// it is and through the back loop. The knit alone is an empty square.
func TestEveryStitchIsDrawn(t *testing.T) {
	drawn := map[string]any{}
	for _, s := range stitch.All() {
		if _, known := pictograms[s.Abbr]; !known && (s.Uses < 2 || len(s.Makes) != 1) {
			t.Errorf("%s has no drawing", s.Abbr)
			continue
		}
		for _, f := range []form{{stitch: s}, {stitch: s, tbl: true}} {
			strokes := strokesOf(f)
			if empty := len(strokes) == 0; empty != (f.name() == "k") {
				t.Errorf("%s is drawn with %d strokes", f.name(), len(strokes))
			}
			for other, as := range drawn {
				if reflect.DeepEqual(as, strokes) {
					t.Errorf("%s is drawn as %s is", f.name(), other)
				}
			}
			drawn[f.name()] = strokes
		}
	}
}

// TestWrongSideCounterparts: a decrease leans as it does in the fabric (Craft Yarn
// Council, from memory: k2tog leans to the right, ssk to the left), whichever
// side it is worked on.
func TestWrongSideCounterparts(t *testing.T) {
	for _, pair := range [][2]string{{"p", "k"}, {"k", "p"}, {"p2tog", "k2tog"}, {"ssp", "ssk"}, {"p3tog", "k3tog"}, {"sssp", "sssk"}} {
		if got := turned[stitch.Find(pair[0])]; got != stitch.Find(pair[1]) {
			t.Errorf("%s on the wrong side is not shown as %s", pair[0], pair[1])
		}
	}
}

// TestSymbolsLean: the stroke of a decrease leans as the stitch does on the right
// side (Craft Yarn Council's list, from memory: k2tog, k3tog and p2tog lean to the
// right, ssk, sssk, ssp, skp and sk2p to the left, s2kp stands up; that the back
// loop turns a decrease to the left is common practice). The fabric's lean is
// checked against the same table in TestDecreasesLean.
func TestSymbolsLean(t *testing.T) {
	for _, c := range []struct {
		abbr string
		tbl  bool
		want int // -1 to the left, 1 to the right, 0 upright
	}{
		{"k2tog", false, 1}, {"k3tog", false, 1}, {"k4tog", false, 1}, {"ksp", false, 1},
		{"p2tog", false, 1}, {"p3tog", false, 1}, {"p4tog", false, 1},
		{"ssk", false, -1}, {"sssk", false, -1}, {"ssp", false, -1}, {"sssp", false, -1}, {"skp", false, -1}, {"sk2p", false, -1},
		{"k2tog", true, -1}, {"k3tog", true, -1}, {"p2tog", true, -1}, {"p3tog", true, -1}, {"p4tog", true, -1},
		{"s2kp", false, 0},
	} {
		f := form{stitch: stitch.Find(c.abbr), tbl: c.tbl}
		if got := leanOf(strokesOf(f)[0]); got != c.want {
			t.Errorf("%s leans %d, want %d", f.name(), got, c.want)
		}
	}
}

// leanOf says whether the top of a stroke stands to the left (-1) or to the right
// (1) of its foot, or over the middle of its feet (0).
func leanOf(s canvas.Stroke) int {
	var top, foot, lowest float64
	high, feet := 2.0, 0.0
	for _, segment := range s.Path {
		to := reflect.ValueOf(segment).FieldByName("to")
		x, y := to.FieldByName("x").Float(), to.FieldByName("y").Float()
		if y < high {
			top, high = x, y
		}
		switch {
		case y > lowest:
			foot, lowest, feet = x, y, 1
		case y == lowest:
			foot, feet = foot+x, feet+1
		}
	}
	switch foot /= feet; {
	case top < foot-0.1:
		return -1
	case top > foot+0.1:
		return 1
	}
	return 0
}
