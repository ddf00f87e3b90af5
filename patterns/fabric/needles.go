package fabric

import (
	"slices"

	"clew/patterns/stitch"
)

// needles is the fabric while a row is worked: the right needle with what is
// done and the left one with what is ahead, both in working order.
//
// In rows, the two are what lies on either side of the place where the
// needles part. In rounds all stitches of the ring are ahead, and the
// beginning of the round is where "to end" ends; a short row may work past it.
//
// Places on the left needle are told by how many stitches are ahead when they
// are reached, those on the right one by how many lie before them, so that
// neither changes as stitches move.
type needles struct {
	left, right           []Loop
	leftMarks, rightMarks []int
	rounds, back          bool
	start                 int // rounds: stitches ahead when the beginning of the round is reached, -1 once it is passed
	passed                int // rounds: where the beginning of the round lies on the right needle, once passed
	floor                 int // stitches at the end of the left needle that are not to be touched: the panels to come
	columns               int32
}

func (f Fabric) needles(rounds bool) *needles {
	n := &needles{rounds: rounds, back: f.back, start: -1, passed: -1, columns: f.columns}
	loops := make([]Loop, len(f.loops), len(f.loops)+len(f.loops)/4+8)
	for i, l := range f.loops {
		l.Marks &= lasting
		loops[i] = l
	}
	marks, tip := slices.Clone(f.markers), f.tip
	if f.back {
		slices.Reverse(loops)
		tip = len(loops) - tip
		for i, m := range marks {
			marks[i] = len(loops) - m
		}
	}
	if rounds {
		n.left = slices.Concat(loops[tip:], loops[:tip])
		n.start = tip
		n.right = loops[:0:0]
		for _, m := range marks {
			n.leftMarks = append(n.leftMarks, ring(tip-m, len(loops)))
		}
		return n
	}
	n.left, n.right = slices.Clone(loops[tip:]), loops[:tip:tip]
	for _, m := range marks {
		if m < tip {
			n.rightMarks = append(n.rightMarks, m)
		} else {
			n.leftMarks = append(n.leftMarks, len(loops)-m)
		}
	}
	return n
}

// ring brings a place on a ring of n stitches into 1..n, or 0 on an empty one.
func ring(place, n int) int {
	if n == 0 {
		return 0
	}
	return (place-1+2*n)%n + 1
}

// ahead is how many stitches are left before the end: of the panel, of the
// round or of the row.
func (n *needles) ahead() int {
	end := n.floor
	if n.start > 0 && n.floor == 0 {
		end = n.start
	}
	return len(n.left) - end
}

// take takes the next stitch off the left needle; false when there is none.
func (n *needles) take() (Loop, bool) {
	if len(n.left) <= n.floor {
		return Loop{}, false
	}
	n.slipMarks()
	l := n.left[0]
	n.left = n.left[1:]
	return l, true
}

// slipMarks moves the markers that stand between the needles to the right one,
// and the beginning of the round with them.
func (n *needles) slipMarks() {
	if n.start > 0 && n.start == len(n.left) {
		n.passed, n.start = len(n.right), -1
	}
	kept := n.leftMarks[:0]
	for _, m := range n.leftMarks {
		if m == len(n.left) {
			n.rightMarks = append(n.rightMarks, len(n.right))
		} else {
			kept = append(kept, m)
		}
	}
	n.leftMarks = kept
}

func (n *needles) put(l Loop) { n.right = append(n.right, l) }

// fresh is a new stitch in a column of its own.
func (n *needles) fresh() Loop {
	n.columns++
	return Loop{Column: n.columns - 1, Marks: Fresh}
}

// remove takes a stitch out of the middle of the right needle.
func (n *needles) remove(i int) {
	n.right = slices.Delete(n.right, i, i+1)
	for j, m := range n.rightMarks {
		if m > i {
			n.rightMarks[j]--
		}
	}
}

// toMarker is how many stitches are ahead of the next marker; false when none
// is ahead.
func (n *needles) toMarker() (int, bool) {
	next := -1
	for _, m := range n.leftMarks {
		if m < len(n.left) {
			next = max(next, m)
		}
	}
	if next < 0 && n.rounds && n.start == 0 && n.atStart() {
		next = 0
	}
	if next < n.floor {
		return 0, false
	}
	return len(n.left) - next, true
}

// atStart says that a marker stands at the beginning of the round.
func (n *needles) atStart() bool {
	return slices.Contains(n.rightMarks, 0) || slices.Contains(n.leftMarks, len(n.left)+len(n.right))
}

// turn turns the work: what was done is ahead.
func (n *needles) turn() {
	done, rest := len(n.right), len(n.left)
	slices.Reverse(n.right)
	n.left = slices.Clone(n.left)
	slices.Reverse(n.left)
	n.back = !n.back
	if !n.rounds {
		n.left, n.right = n.right, n.left
		n.leftMarks, n.rightMarks = n.rightMarks, n.leftMarks
		return
	}
	n.left, n.right = slices.Concat(n.right, n.left), nil
	marks := make([]int, 0, len(n.leftMarks)+len(n.rightMarks))
	for _, m := range n.rightMarks {
		marks = append(marks, ring(m+rest, done+rest))
	}
	for _, m := range n.leftMarks {
		marks = append(marks, ring(rest-m, done+rest))
	}
	n.leftMarks, n.rightMarks = marks, nil
	if n.start >= 0 {
		n.start = rest - n.start
	} else {
		n.start = n.passed + rest
	}
	n.passed = -1
}

// into gives the fabric as it is after the row; turned says that its last act
// was a turn.
func (n *needles) into(f Fabric, turned bool) Fabric {
	n.floor = 0
	if !turned {
		n.slipMarks()
	}
	if !n.rounds && !turned {
		n.turn()
	}
	loops := slices.Concat(n.right, n.left)
	marks := slices.Clone(n.rightMarks)
	for _, m := range n.leftMarks {
		marks = append(marks, len(loops)-m)
	}
	tip := len(n.right)
	if n.rounds && len(loops) > 0 {
		begin := n.passed
		if begin < 0 {
			begin = len(loops) - n.start
		}
		begin %= len(loops)
		loops = slices.Concat(loops[begin:], loops[:begin])
		for i, m := range marks {
			marks[i] = (m - begin + 2*len(loops)) % len(loops)
		}
		tip = (tip - begin + 2*len(loops)) % len(loops)
	}
	if n.back {
		slices.Reverse(loops)
		for i, m := range marks {
			if marks[i] = len(loops) - m; n.rounds && m == 0 {
				marks[i] = 0 // the end of the round is its beginning
			}
		}
		tip = len(loops) - tip
	}
	slices.Sort(marks)
	f.loops, f.markers, f.tip, f.back, f.columns = loops, slices.Compact(marks), tip, n.back, n.columns
	return f
}

// shown turns a face as the knitter sees it into the one that the right side
// shows, and back.
func (n *needles) shown(f stitch.Face) stitch.Face {
	if n.back {
		return f.Other()
	}
	return f
}
