package chart

import "slices"

// near is within how many stitches changes of the number that make up for each
// other are taken together.
const near = 24

// settle says whether the number of stitches changes in a row, and marks the
// changes that are taken back in another row.
func (b *layering) settle(i int, things []thing) bool {
	total := 0
	for k := range things {
		total += things[k].grows()
	}
	if total == 0 {
		return false
	}
	for k := 0; k < len(things); k++ {
		if things[k].grows() == 0 {
			continue
		}
		if end := balanced(things, k); end > k {
			k = end
			continue
		}
		things[k].back = outside(things, k) > narrowEdge && b.takenBack(i, things, k)
	}
	return true
}

const (
	narrowEdge = 3  // stitches at an edge that rather move than leave a gap
	soon       = 16 // within how many rows a change is taken back, for slots to be kept for it
)

// outside is how many stitches lie on one side of a thing, the side with fewer.
func outside(things []thing, k int) int {
	right, left := 0, 0
	for j := range things {
		switch {
		case j < k:
			right += things[j].spans
		case j > k:
			left += things[j].spans
		}
	}
	return min(right, left)
}

// balanced gives the last thing of a stretch that begins with a change at k and
// makes as many stitches as it uses; k where there is none nearby.
func balanced(things []thing, k int) int {
	sum, since := 0, 0
	for end := k; end < len(things) && since <= near; end++ {
		sum += things[end].grows()
		since += things[end].spans
		if things[end].grows() != 0 {
			since = 0
		}
		if sum == 0 {
			return end
		}
	}
	return k
}

// takenBack says that the number of stitches between the neighbours of a change
// goes back, in a row that is drawn and near, to what it was, or was before what it comes
// to.
func (b *layering) takenBack(i int, things []thing, k int) bool {
	right, ok := b.neighbour(i, things, k, -1)
	if !ok {
		return false
	}
	left, ok := b.neighbour(i, things, k, 1)
	if !ok {
		return false
	}
	between := func(at map[int32]int) (int, bool) {
		r, ok := at[right]
		l, too := at[left]
		return l - r, ok && too
	}
	was, _ := between(b.lines[i].was)
	is, _ := between(b.lines[i].is)
	for j := i + 1; j < min(len(b.lines), i+1+soon); j++ {
		n, ok := between(b.lines[j].is)
		if !ok {
			break
		}
		if is > was && n <= was || is < was && n >= was {
			return true
		}
	}
	for j := i - 1; j >= max(0, i-soon); j-- {
		n, ok := between(b.lines[j].was)
		if !ok {
			break
		}
		if is > was && n >= is || is < was && n <= is {
			return true
		}
	}
	return false
}

// neighbour gives the nearest stitch on one side of a thing that goes on one to
// one.
func (b *layering) neighbour(i int, things []thing, k, way int) (int32, bool) {
	for j := k + way; j >= 0 && j < len(things) && j-k <= near && k-j <= near; j += way {
		t := &things[j]
		if len(t.uses) != 1 {
			continue
		}
		column := b.lines[i].before[t.uses[0]]
		if _, alive := b.lines[i].is[column]; alive && t.spans == 1 {
			return column, true
		}
	}
	return 0, false
}

// findGaps notes where a row binds stitches off, or puts them on hold, between
// others.
func (b *layering) findGaps(l *line, things []thing) {
	b.gaps = nil
	kept, open := 0, false // stitches so far; some have gone since the last
	for k := range things {
		t, makes := &things[k], 1
		if t.item >= 0 {
			makes = len(l.items[t.item].makes)
		}
		if makes > 0 && open && kept > 0 {
			b.gaps = append(b.gaps, [2]int32{l.after[kept-1], l.after[kept]})
		}
		open = makes == 0
		kept += makes
	}
}

// closeGaps brings stitches together that nothing lies between any more, once a
// row is worked across, unless a later row puts stitches between them again, as
// for a buttonhole. The fewer stitches move.
func (b *layering) closeGaps(i int) {
	for _, gap := range b.gaps {
		right, known := b.lines[i].was[gap[0]]
		if !known || right+1 >= len(b.at) || b.lines[i].before[right+1] != gap[1] {
			continue
		}
		if b.refilled(i, gap) || !b.lines[i].works(gap[0]) || !b.lines[i].works(gap[1]) {
			continue
		}
		n := b.at[right+1] - b.at[right] - 1
		if right+1 <= len(b.at)/2 {
			for j := range right + 1 {
				b.at[j] += n
			}
			continue
		}
		for j := right + 1; j < len(b.at); j++ {
			b.at[j] -= n
		}
	}
	b.gaps = nil
}

// refilled says that a row from i on puts stitches between two that have none
// between them.
func (b *layering) refilled(i int, gap [2]int32) bool {
	for _, l := range b.lines[i:] {
		right, ok := l.is[gap[0]]
		left, too := l.is[gap[1]]
		if !ok || !too {
			return false
		}
		if left-right > 1 {
			return true
		}
	}
	return false
}

// works says that a row works a stitch.
func (l *line) works(column int32) bool {
	return slices.ContainsFunc(l.items, func(it item) bool { return slices.Contains(it.uses, column) })
}
