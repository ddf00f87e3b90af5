package fabric

import (
	"slices"

	"clew/patterns/stitch"
)

// needles is the fabric while a row is worked: the right needle with what is
// done and the left one with what is ahead. The tip of each is the end of its
// slice, so that a stitch is worked by moving it from one end to the other,
// and the work is turned by changing the two needles over.
//
// In rows, the two are what lies on either side of the place where the
// needles part. In rounds all stitches of the ring are ahead, and the
// beginning of the round is where "to end" ends; a short row may work past it.
//
// A place on a needle, of a marker or of the beginning of the round, is told
// by how many stitches lie between it and the far end of its needle, so that
// it does not change as stitches move.
type needles struct {
	left, right           []Loop
	leftMarks, rightMarks []int // sorted, and each place once
	rounds, back          bool
	start, passed         int  // rounds: the beginning of the round, on the left needle or on the right one; -1 on the other
	floor, wall           int  // stitches at the far ends of the left and the right needle that are not to be touched: the panels to come, and those done
	turned                bool // nothing has been worked since the last turn
	ended                 bool // rounds: nothing has been worked since its beginning was passed
	columns               int32
	record                *record // of what is done; nil where it is not asked for
}

func (f Fabric) needles(rounds bool) *needles {
	n := &needles{rounds: rounds, back: f.back, start: -1, passed: -1, columns: f.columns}
	size := len(f.loops)
	tip := min(f.tip, size)
	if rounds {
		n.left = slices.Concat(f.loops[tip:], f.loops[:tip])
		n.right = make([]Loop, 0, size+size/4+8)
		n.start = size - tip
		if !f.back {
			slices.Reverse(n.left)
			n.start = tip
		}
		n.start = within(n.start, size)
		for _, m := range f.markers {
			if f.back {
				n.leftMarks = append(n.leftMarks, ring(m-tip, size))
			} else {
				n.leftMarks = append(n.leftMarks, ring(tip-m, size))
			}
		}
		slices.Sort(n.leftMarks)
		n.leftMarks = slices.Compact(n.leftMarks)
	} else {
		n.part(f, tip)
	}
	for _, needle := range [][]Loop{n.left, n.right} {
		for i := range needle {
			needle[i].Marks &= lasting
		}
	}
	return n
}

// part puts the stitches of a flat piece on two needles.
func (n *needles) part(f Fabric, tip int) {
	size := len(f.loops)
	low := make([]Loop, tip, size+size/4+8)
	copy(low, f.loops)
	high := make([]Loop, size-tip, size+size/4+8)
	copy(high, f.loops[tip:])
	slices.Reverse(high)
	var lowMarks, highMarks []int
	for _, m := range f.markers {
		if m < tip || m == tip && f.back { // one that stands between the needles is ahead
			lowMarks = append(lowMarks, m)
		} else {
			highMarks = append(highMarks, size-m)
		}
	}
	slices.Reverse(highMarks)
	n.left, n.right, n.leftMarks, n.rightMarks = high, low, highMarks, lowMarks
	if f.back {
		n.left, n.right, n.leftMarks, n.rightMarks = low, high, lowMarks, highMarks
	}
}

// within brings a place on a ring of n stitches into 0..n-1.
func within(place, n int) int {
	if n == 0 {
		return 0
	}
	return (place%n + n) % n
}

// ring brings a place on a ring of n stitches into 1..n, or 0 on an empty one.
func ring(place, n int) int {
	if n == 0 {
		return 0
	}
	return within(place-1, n) + 1
}

// ahead is how many stitches are left before the end: of the panel, of the
// round or of the row.
func (n *needles) ahead() int {
	if n.ended {
		return 0
	}
	return len(n.left) - max(n.floor, n.start)
}

// take takes the next stitch off the left needle; false when there is none.
func (n *needles) take() (Loop, bool) {
	if len(n.left) <= n.floor {
		return Loop{}, false
	}
	n.slipMarks()
	n.turned, n.ended = false, false
	l := n.left[len(n.left)-1]
	n.left = n.left[:len(n.left)-1]
	if n.record != nil {
		n.record.took(l.Column)
	}
	return l, true
}

// slipMarks moves the marker that stands between the needles to the right one,
// and the beginning of the round with it.
func (n *needles) slipMarks() {
	if n.start == len(n.left) && (n.start > 0 || len(n.right) > 0) {
		n.passed, n.start, n.ended = len(n.right), -1, true
	}
	if last := len(n.leftMarks) - 1; last >= 0 && n.leftMarks[last] == len(n.left) {
		n.leftMarks = n.leftMarks[:last]
		n.placeMark()
	}
	if len(n.left) == 0 && len(n.right) > 0 && n.atStart() { // the ring has come round to it
		n.rightMarks = slices.Delete(n.rightMarks, 0, 1)
		n.placeMark()
	}
}

// placeMark puts a marker on the right needle, where there is none yet.
func (n *needles) placeMark() {
	if !n.markDone() {
		n.rightMarks = append(n.rightMarks, len(n.right))
	}
}

// markDone says that the tip of the right needle holds a marker, markNext that
// the tip of the left one does.
func (n *needles) markDone() bool { return endsWith(n.rightMarks, len(n.right)) }
func (n *needles) markNext() bool { return endsWith(n.leftMarks, len(n.left)) }

func endsWith(marks []int, place int) bool {
	return len(marks) > 0 && marks[len(marks)-1] == place
}

func (n *needles) put(l Loop) {
	n.right = append(n.right, l)
	if n.record != nil {
		n.record.put(l.Column)
	}
	n.turned, n.ended = false, false
}

// fresh is a new stitch in a column of its own.
func (n *needles) fresh() Loop {
	n.columns++
	return Loop{Column: n.columns - 1, Marks: Fresh}
}

// remove takes a stitch out of the middle of the right needle.
func (n *needles) remove(i int) {
	if n.record != nil {
		n.record.passedOver(n.right[i].Column)
	}
	n.right = slices.Delete(n.right, i, i+1)
	meets := false // two markers that no stitch parts any more are one
	for j := len(n.rightMarks) - 1; j >= 0 && n.rightMarks[j] > i; j-- {
		n.rightMarks[j]--
		meets = n.rightMarks[j] == i
	}
	if meets {
		n.rightMarks = slices.Compact(n.rightMarks)
	}
	if n.passed > i {
		n.passed--
	}
}

// toMarker is how many stitches are ahead of the next marker; false when none
// is ahead.
func (n *needles) toMarker() (int, bool) {
	i := len(n.leftMarks) - 1
	if n.markNext() {
		i--
	}
	next := -1
	if i >= 0 {
		next = n.leftMarks[i]
	} else if len(n.left) > 0 && n.atStart() {
		next = 0
	}
	if next < n.floor {
		return 0, false
	}
	return len(n.left) - next, true
}

// atStart says that a marker stands where a ring was begun, and so beyond its
// last stitch too.
func (n *needles) atStart() bool {
	return n.rounds && (len(n.rightMarks) > 0 && n.rightMarks[0] == 0 || len(n.right) == 0 && n.markNext())
}

// swap changes the needles over. A marker that stands between them is ahead
// then, as it is when a row begins.
func (n *needles) swap() {
	n.back, n.turned, n.ended = !n.back, true, false
	n.left, n.right = n.right, n.left
	n.leftMarks, n.rightMarks = n.rightMarks, n.leftMarks
	n.start, n.passed = n.passed, n.start
	n.floor, n.wall = n.wall, n.floor
	if n.markDone() {
		n.rightMarks = n.rightMarks[:len(n.rightMarks)-1]
		if !n.markNext() {
			n.leftMarks = append(n.leftMarks, len(n.left))
		}
	}
}

// turnRing turns a piece worked in rounds: the whole ring is ahead, what was
// done first.
func (n *needles) turnRing() {
	n.back, n.turned, n.ended = !n.back, true, false
	rest, size := len(n.left), len(n.left)+len(n.right)
	slices.Reverse(n.left)
	n.left = append(n.left, n.right...)
	n.right = n.right[:0]
	marks := make([]int, 0, len(n.leftMarks)+len(n.rightMarks))
	for _, m := range n.leftMarks {
		marks = append(marks, ring(rest-m, size))
	}
	for _, m := range n.rightMarks {
		marks = append(marks, ring(rest+m, size))
	}
	slices.Sort(marks)
	n.leftMarks, n.rightMarks = slices.Compact(marks), nil
	if n.start >= 0 {
		n.start = within(rest-n.start, size)
	} else {
		n.start = within(rest+n.passed, size)
	}
	n.passed = -1
}

// into gives the fabric as it is after the row.
func (n *needles) into(f Fabric) Fabric {
	if !n.turned {
		n.slipMarks()
		if !n.rounds {
			n.swap()
		}
	}
	low, high, lowMarks, highMarks, begin := n.right, n.left, n.rightMarks, n.leftMarks, n.passed
	if n.back {
		low, high, lowMarks, highMarks, begin = high, low, highMarks, lowMarks, n.start
	}
	size := len(low) + len(high)
	loops := append(make([]Loop, 0, size), low...)
	for i := len(high) - 1; i >= 0; i-- {
		loops = append(loops, high[i])
	}
	marks := make([]int, 0, len(lowMarks)+len(highMarks))
	marks = append(marks, lowMarks...)
	for _, m := range highMarks {
		marks = append(marks, size-m)
	}
	f.tip = len(low)
	if n.rounds && size > 0 {
		if begin < 0 {
			begin = size - max(n.start, n.passed)
		}
		if !n.turned {
			f.tip = begin
		}
		loops, marks, f.tip = cut(loops, begin), moved(marks, begin, size), within(f.tip-begin, size)
		if f.tip == 0 && n.back {
			f.tip = size
		}
	}
	slices.Sort(marks)
	f.loops, f.markers, f.back, f.ring, f.columns = loops, slices.Compact(marks), n.back, n.rounds, n.columns
	return f
}

// cut gives a ring that begins at another place, in 0..len.
func cut(loops []Loop, at int) []Loop {
	if at == 0 || at == len(loops) {
		return loops
	}
	return slices.Concat(loops[at:], loops[:at])
}

// moved gives the places of markers on a ring of n stitches that begins at
// another place.
func moved(markers []int, begin, n int) []int {
	out := make([]int, len(markers))
	for i, m := range markers {
		out[i] = within(m-begin, n)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// shown turns a face as the knitter sees it into the one that the right side
// shows, and back.
func (n *needles) shown(f stitch.Face) stitch.Face {
	if n.back {
		return f.Other()
	}
	return f
}
