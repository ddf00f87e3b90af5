// Package fabric holds the stitches on the needles as a value, and works an
// instruction on them: it knows what every stitch shows, which column it grew
// from and in which yarn, and moves stitches where a cross moves them. Every
// count in Clew comes from here; nothing counts stitches a second way.
package fabric

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// A Mark is something that is true of one stitch, to be combined.
type Mark uint8

// The marks. All but Twisted, Wrapped and Beaded tell of the row last worked,
// and are gone after the next; those three stay until the stitch is worked.
const (
	Twisted Mark = 1 << iota
	Wrapped      // a short row turned before it
	Beaded
	Slipped // moved without being worked
	Crossed // moved by a cross
	Joined  // made out of several, by a decrease
	Fresh   // made by this row, out of no stitch

	lasting = Twisted | Wrapped | Beaded
)

// A Loop is one stitch on the needle.
type Loop struct {
	Column int32       // the column it grew from, numbered in the order in which columns began
	Face   stitch.Face // what the right side shows
	Yarn   uint8       // index of its yarn, see Fabric.YarnName
	Marks  Mark
}

// Fabric is the stitches on the needle between two rows. It is a value: working
// it gives another, and leaves it as it was. The zero Fabric is an empty needle.
type Fabric struct {
	loops   []Loop // in the order in which a right-side row works them
	markers []int  // sorted; a marker i stands before loops[i]
	held    [][]Loop
	yarns   []yarn // taken up so far; the yarn cast on with is none of them
	yarn    uint8  // 0 for the yarn cast on with, else one more than the index in yarns
	tip     int    // where the needles part: the next row begins here
	back    bool   // the next row is a wrong-side one, against the order of loops
	ring    bool   // it was worked in rounds, and loops go round from the beginning of the round
	columns int32
}

// A yarn has a name as it was first written, and the key that it is found by.
type yarn struct{ name, key string }

// maxYarns is how many yarns a Loop can tell apart.
const maxYarns = 255

// CastOn gives a needle with n new stitches, which count as knit; at most
// instruction.MaxStitches.
func CastOn(n int) Fabric { return Fabric{}.CastOn(n) }

// CastOn begins a new piece of n stitches on the same yarns. What was on the
// needle is put on hold.
func (f Fabric) CastOn(n int) Fabric {
	next := Fabric{yarns: f.yarns, yarn: f.yarn, columns: f.columns, held: f.held}
	if len(f.loops) > 0 {
		next.held = append(slices.Clip(f.held), f.loops)
	}
	return next.Resized(n)
}

// Begin readies the needle for rows of another kind. In rounds, the place
// where the needles part becomes the beginning of the round; a ring that goes
// on in rows is cut there. In rows, the next one is worked on the given side,
// or, where that is unsaid, on the side that faces; after a short row that
// faces whatever is given.
func (f Fabric) Begin(rounds bool, side instruction.Side) Fabric {
	if n := len(f.loops); (rounds || f.ring) && n > 0 {
		f.loops, f.markers = cut(f.loops, f.tip), moved(f.markers, f.tip, n)
		f.tip = 0
		if f.back {
			f.tip = n
		}
	}
	switch {
	case rounds:
		f.tip, f.back = 0, false
	case side != instruction.SideUnsaid && (f.tip == 0 || f.tip == len(f.loops)):
		f.back, f.tip = side == instruction.WS, 0
		if f.back {
			f.tip = len(f.loops)
		}
	}
	f.ring = rounds
	return f
}

// Count is how many stitches are on the needle.
func (f Fabric) Count() int { return len(f.loops) }

// Loops gives the stitches in the order in which a right-side row works them.
// The slice is not to be changed.
func (f Fabric) Loops() []Loop { return f.loops }

// Markers gives where markers stand: i is before the stitch Loops()[i].
func (f Fabric) Markers() []int { return f.markers }

// Held is how many stitches are on hold.
func (f Fabric) Held() int {
	n := 0
	for _, h := range f.held {
		n += len(h)
	}
	return n
}

// YarnName names a yarn of the fabric; empty for the yarn cast on with.
func (f Fabric) YarnName(yarn uint8) string {
	if yarn == 0 || int(yarn) > len(f.yarns) {
		return ""
	}
	return f.yarns[yarn-1].name
}

// Side is the side that faces the knitter in the next row.
func (f Fabric) Side() instruction.Side {
	if f.back {
		return instruction.WS
	}
	return instruction.RS
}

// Ahead is how many stitches the next row has before it: all of them, but
// after a short row.
func (f Fabric) Ahead() int {
	if f.back {
		return f.tip
	}
	return len(f.loops) - f.tip
}

// Resized gives the fabric with n stitches, at most instruction.MaxStitches,
// new ones added at the end or the last ones dropped, all of them ahead. It is
// how the rows after a wrong one are still checked.
func (f Fabric) Resized(n int) Fabric {
	n = min(max(n, 0), instruction.MaxStitches)
	loops := append(make([]Loop, 0, n), f.loops[:min(n, len(f.loops))]...)
	for len(loops) < n {
		loops = append(loops, Loop{Column: f.columns, Yarn: f.yarn})
		f.columns++
	}
	f.loops = loops
	f.markers = slices.DeleteFunc(slices.Clone(f.markers), func(m int) bool { return m > n })
	f.tip = 0
	if f.back {
		f.tip = n
	}
	return f
}
