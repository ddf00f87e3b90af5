package fabric

import (
	"slices"

	"clew/patterns/stitch"
)

// A Difference is in what one needle is not like another, for someone who goes
// on knitting.
type Difference uint8

// The differences, in the order in which they are looked for.
const (
	Alike        Difference = iota
	OtherSide               // another side faces, or the row goes on from another place
	OtherCount              // more stitches, or fewer
	OtherFaces              // knits where the other has purls, or purls where it has knits
	OtherYarn               // a stitch in another yarn, or another yarn in use
	OtherMarkers            // markers in other places
	OtherHeld               // other stitches on hold
)

// Differs compares two needles without their columns, and without marks, which
// tell of rows that are done.
func (f Fabric) Differs(g Fabric) Difference {
	switch {
	case f.back != g.back || f.ring != g.ring:
		return OtherSide
	case len(f.loops) != len(g.loops):
		return OtherCount
	case f.tip != g.tip:
		return OtherSide
	}
	if d := differ(f, f.loops, g, g.loops); d != Alike {
		return d
	}
	switch {
	case !slices.Equal(f.markers, g.markers):
		return OtherMarkers
	case f.key(f.yarn) != g.key(g.yarn):
		return OtherYarn
	case otherHeld(f, g):
		return OtherHeld
	}
	return Alike
}

// DiffersInRuns compares two needles that need not have the same number of
// stitches: runs of one face and one yarn, as long as they may be, and markers
// between them, have to follow each other in the same order.
func (f Fabric) DiffersInRuns(g Fabric) Difference {
	whole := func(f Fabric) bool { return f.Ahead() == len(f.loops) }
	a, b := f.runs(), g.runs()
	switch {
	case f.back != g.back || f.ring != g.ring || !whole(f) || !whole(g):
		return OtherSide
	case slices.Equal(a, b):
	case !slices.Equal(faces(a), faces(b)):
		return OtherFaces
	case !slices.Equal(shown(a), shown(b)):
		return OtherYarn
	default:
		return OtherMarkers
	}
	switch {
	case f.key(f.yarn) != g.key(g.yarn):
		return OtherYarn
	case otherHeld(f, g):
		return OtherHeld
	}
	return Alike
}

// differ compares as many stitches of one needle with those of another.
func differ(f Fabric, a []Loop, g Fabric, b []Loop) Difference {
	for i := range a {
		if a[i].Face != b[i].Face {
			return OtherFaces
		}
	}
	for i := range a {
		if f.key(a[i].Yarn) != g.key(b[i].Yarn) {
			return OtherYarn
		}
	}
	return Alike
}

// otherHeld says that other stitches are on hold.
func otherHeld(f, g Fabric) bool {
	return !slices.EqualFunc(f.held, g.held, func(a, b []Loop) bool { return len(a) == len(b) && differ(f, a, g, b) == Alike })
}

// key is what a yarn is found by, whichever number it has here.
func (f Fabric) key(yarn uint8) string {
	if yarn == 0 || int(yarn) > len(f.yarns) {
		return ""
	}
	return f.yarns[yarn-1].key
}

// A run is stitches of one face and one yarn side by side, or a marker.
type run struct {
	marker bool
	face   stitch.Face
	yarn   string
}

// runs gives the runs in the order of a right-side row, a marker parting one
// from the next.
func (f Fabric) runs() []run {
	var out []run
	marks := f.markers
	add := func(r run) {
		if n := len(out); n == 0 || out[n-1] != r || r.marker {
			out = append(out, r)
		}
	}
	for i, l := range f.loops {
		for len(marks) > 0 && marks[0] <= i {
			add(run{marker: true})
			marks = marks[1:]
		}
		add(run{face: l.Face, yarn: f.key(l.Yarn)})
	}
	for range marks {
		add(run{marker: true})
	}
	return out
}

// shown gives runs as if no marker stood between them.
func shown(runs []run) []run {
	return slices.Compact(slices.DeleteFunc(slices.Clone(runs), func(r run) bool { return r.marker }))
}

// faces gives the faces of runs in turn, each different from the last.
func faces(runs []run) []stitch.Face {
	var out []stitch.Face
	for _, r := range runs {
		if n := len(out); !r.marker && (n == 0 || out[n-1] != r.face) {
			out = append(out, r.face)
		}
	}
	return out
}
