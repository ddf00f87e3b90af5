package fabric_test

import (
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// Two needles, each told by the rows that lead to it.
func TestDiffers(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b       []string
		want, runs fabric.Difference
	}{
		{"the same", []string{"k2, p2", "k2, p2"}, []string{"k2, p2", "k2, p2"}, fabric.Alike, fabric.Alike},
		{"other columns", []string{"k1, yo, k2tog, k1", "p4"}, []string{"k4", "p4"}, fabric.Alike, fabric.Alike},
		{"marks that are gone", []string{"k4", "p4"}, []string{"2/2 RC", "p2, p2 tbl"}, fabric.Alike, fabric.Alike},
		{"a row more", []string{"k4", "p4", "k4"}, []string{"k4", "p4"}, fabric.OtherSide, fabric.OtherSide},
		{"turned early", []string{"k2, turn", "p2"}, []string{"k4", "p2, turn"}, fabric.OtherSide, fabric.OtherSide},
		{"faces", []string{"k2, p2"}, []string{"k1, p3"}, fabric.OtherFaces, fabric.Alike},
		{"faces in another order", []string{"k2, p2"}, []string{"p2, k2"}, fabric.OtherFaces, fabric.OtherFaces},
		{"more stitches in a run", []string{"k2, p1, pfb"}, []string{"k2, p2"}, fabric.OtherCount, fabric.Alike},
		{"fewer stitches, and fewer runs", []string{"k4"}, []string{"k4, CO 1 st, yo, m1p"}, fabric.OtherCount, fabric.OtherFaces},
		{"a marker", []string{"k2, pm, k2"}, []string{"k4"}, fabric.OtherMarkers, fabric.OtherMarkers},
		{"a marker in another place", []string{"k2, pm, p2"}, []string{"k2, p1, pm, p1"}, fabric.OtherMarkers, fabric.OtherMarkers},
		{"a marker in another place of a run", []string{"k1, pm, k3"}, []string{"k3, pm, k1"}, fabric.OtherMarkers, fabric.Alike},
		{"a yarn", []string{"with A, k4"}, []string{"k4"}, fabric.OtherYarn, fabric.OtherYarn},
		{"the yarn in use", []string{"with A, k4", "with B, sl 4"}, []string{"with A, k4", "sl 4"}, fabric.OtherYarn, fabric.OtherYarn},
		{"what is on hold", []string{"k2, put 2 sts on hold"}, []string{"put 1 st on hold, k2, put 1 st on hold"}, fabric.OtherHeld, fabric.OtherHeld},
		{"what is on hold, and its faces", []string{"k2, p2", "put 2 sts on hold, p2"}, []string{"k4", "put 2 sts on hold, p2"}, fabric.OtherHeld, fabric.OtherHeld},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := flat(t, c.a), flat(t, c.b)
			for _, pair := range [][2]fabric.Fabric{{a, b}, {b, a}} {
				if got := pair[0].Differs(pair[1]); got != c.want {
					t.Errorf("they differ in %d, want %d", got, c.want)
				}
				if got := pair[0].DiffersInRuns(pair[1]); got != c.runs {
					t.Errorf("their runs differ in %d, want %d", got, c.runs)
				}
			}
		})
	}
}

// flat works rows on four stitches.
func flat(t *testing.T, rows []string) fabric.Fabric {
	f := fabric.CastOn(4).Begin(false, instruction.RS)
	for _, row := range rows {
		f = worked(t, f, row, false)
	}
	return f
}

// A yarn is known by its name, whatever number it has on a needle.
func TestDiffersInYarnsByName(t *testing.T) {
	a := flat(t, []string{"with Sand, k4", "with Sky, p4"})
	b := flat(t, []string{"with Sky, k4", "p4"})
	if got := a.Differs(b); got != fabric.Alike {
		t.Errorf("they differ in %d", got)
	}
	if flat(t, []string{"k4", "p4"}).Differs(fabric.CastOn(4).Begin(true, instruction.RS)) != fabric.OtherSide {
		t.Error("a ring is like a flat piece")
	}
}
