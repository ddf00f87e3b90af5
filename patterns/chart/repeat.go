package chart

import "slices"

// A repeat is a stretch that stands several times side by side in all rows of a
// chart, between edges of the same number of stitches in each.
type repeat struct {
	right, left int // stitches of the edges
	times       int
}

// mostEdge is the widest edge that is looked for, in stitches.
const mostEdge = 12

// leastSaved is how many stitches narrower a chart has to become for it to be
// drawn with a repeat once.
const leastSaved = 6

// findRepeat gives the repeat that stands most often; with the smallest edges,
// where several do. In rounds it is the whole round. Times is 1 for none, and
// where a chart is small enough to be drawn whole.
func findRepeat(lines []*line) repeat {
	best := repeat{times: 1}
	counts, ok := countsOf(lines)
	if !ok {
		return best
	}
	most, suspect := mostEdge, 0 // a row that ruled out one repeat likely rules out the next
	if lines[0].row.Rounds {
		most = 0
	}
	for edges := 0; edges <= 2*most; edges++ {
		common := 0
		for _, n := range counts {
			common = gcd(common, n-edges)
			if n <= edges {
				common = 1
			}
		}
		for times := common; times > best.times; times-- {
			if common%times != 0 {
				continue
			}
			for right := max(0, edges-most); right <= min(edges, most); right++ {
				r := repeat{right: right, left: edges - right, times: times}
				if failed := r.failsIn(lines, suspect); failed >= 0 {
					suspect = failed
				} else {
					best = r
					break
				}
			}
		}
	}
	if widest := slices.Max(counts); (widest-best.right-best.left)/best.times*(best.times-1) < leastSaved {
		return repeat{times: 1}
	}
	return best
}

// repeatBelow gives a repeat of the rows up to one above which rows are narrow
// enough to be drawn whole, and the index of the first of these; no repeat and
// the number of rows where there is none that is narrow enough itself. The more
// rows have it the better, and half of them do at least.
func repeatBelow(lines []*line) (repeat, int) {
	for to := len(lines) - 1; to >= max(1, len(lines)/2) && widest(lines[to:]) <= mostCells; to-- {
		r := findRepeat(lines[:to])
		if r.times > 1 && r.right+r.left+(widest(lines[:to])-r.right-r.left)/r.times <= mostCells {
			return r, to
		}
	}
	return repeat{times: 1}, len(lines)
}

// widest is how many stitches the widest of some rows is drawn over.
func widest(lines []*line) int {
	most := 0
	for _, l := range lines {
		n := 0
		for i := range l.items {
			n += l.items[i].spans()
		}
		most = max(most, n)
	}
	return most
}

// countsOf gives how many stitches there are before the first row and after each;
// false where the rows do not follow on each other, where some stitches stay
// unworked, or where none are left.
func countsOf(lines []*line) ([]int, bool) {
	counts := []int{len(lines[0].before)}
	for i, l := range lines {
		if l.idle || len(l.items) == 0 || l.row.Rounds != lines[0].row.Rounds {
			return nil, false
		}
		if i > 0 && !follows(lines[i-1], l) {
			return nil, false
		}
		if len(l.after) > 0 || i < len(lines)-1 { // all may be bound off in the last
			counts = append(counts, len(l.after))
		}
	}
	return counts, true
}

// follows says that a row is worked on the stitches that another left.
func follows(below, above *line) bool {
	if len(below.after) != len(above.before) {
		return false
	}
	for i, c := range below.after {
		if above.before[i] != c {
			return false
		}
	}
	return true
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}

// failsIn gives a row that does not go the same way in each of the repeats,
// looking at one of them first; -1 for none.
func (r repeat) failsIn(lines []*line, first int) int {
	if !r.holdsIn(lines[first]) {
		return first
	}
	return slices.IndexFunc(lines, func(l *line) bool { return !r.holdsIn(l) })
}

func (r repeat) holdsIn(l *line) bool {
	from, to, ok := r.within(l)
	if !ok || (to-from)%r.times != 0 {
		return false
	}
	period := (to - from) / r.times
	for i := from; i+period < to; i++ {
		if !l.items[i].same(&l.items[i+period]) {
			return false
		}
	}
	return true
}

// within gives the items of a row that the edges leave; false where an edge ends
// in the middle of an item.
func (r repeat) within(l *line) (from, to int, ok bool) {
	from, ok = edgeEnd(l.items, r.right, r.kept(l, r.right), 1)
	if !ok {
		return 0, 0, false
	}
	left, ok := edgeEnd(l.items, r.left, r.kept(l, r.left), -1)
	to = len(l.items) - left
	return from, to, ok && to > from
}

// kept is how many stitches of an edge are left after the row.
func (r repeat) kept(l *line, edge int) int {
	if len(l.after) == 0 {
		return 0
	}
	return edge
}

// edgeEnd is how many items at one end of a row use and make so many stitches.
func edgeEnd(items []item, uses, makes, way int) (int, bool) {
	n := 0
	for uses > 0 || makes > 0 {
		if n == len(items) {
			return 0, false
		}
		it := &items[n]
		if way < 0 {
			it = &items[len(items)-1-n]
		}
		uses, makes = uses-len(it.uses), makes-len(it.makes)
		n++
	}
	return n, uses == 0 && makes == 0
}

// once gives a row with the repeat in it once. The row below has it so already;
// nil for none.
func (r repeat) once(l, below *line) *line {
	from, to, _ := r.within(l)
	period := (to - from) / r.times
	kept := &line{index: l.index, row: l.row, acts: l.acts, from: from, to: from + period}
	kept.items = append(append(kept.items, l.items[:from+period]...), l.items[to:]...)
	kept.before = r.cut(l.before)
	if len(l.after) > 0 {
		kept.after = r.cut(l.after)
	}
	kept.find(below)
	return kept
}

// cut leaves of stitches the edges, and the repeat once.
func (r repeat) cut(columns []int32) []int32 {
	width := (len(columns) - r.right - r.left) / r.times
	out := append([]int32{}, columns[:r.right+width]...)
	return append(out, columns[len(columns)-r.left:]...)
}
