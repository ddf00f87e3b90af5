package chart

import (
	"reflect"
	"testing"

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
