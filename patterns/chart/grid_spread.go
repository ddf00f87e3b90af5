package chart

import "slices"

// makeRoom puts new slots where more stitches come than there is room for, until
// they are taken back.
func (b *layering) makeRoom(things []thing) {
	for k := range things {
		t := &things[k]
		if !t.back {
			continue
		}
		low, high := b.room(things, k)
		lack := t.spans - (high - low)
		if lack <= 0 {
			continue
		}
		before := lack / 2 // on either side of the stitches that it is made of
		if len(t.uses) > 0 {
			b.insert(b.at[t.uses[len(t.uses)-1]]+1, lack-before)
			b.insert(b.at[t.uses[0]], before)
		} else {
			b.insert(low, lack)
		}
	}
}

// room gives the slots that a thing has, from the thing before it to the one
// after: from low to below high.
func (b *layering) room(things []thing, k int) (low, high int) {
	high = len(b.order)
	for j := k - 1; j >= 0; j-- {
		if n := len(things[j].uses); n > 0 {
			low = b.at[things[j].uses[n-1]] + 1
			break
		}
	}
	for j := k + 1; j < len(things); j++ {
		if len(things[j].uses) > 0 {
			high = b.at[things[j].uses[0]]
			break
		}
	}
	return low, high
}

// insert puts new slots before the one at an index.
func (b *layering) insert(index, n int) {
	for range n {
		b.order = slices.Insert(b.order, index, b.name())
	}
	for i := range b.at {
		if b.at[i] >= index {
			b.at[i] += n
		}
	}
}

// spread gives every thing its slots: those after a change move by as much as it
// makes more or fewer, and then all move, so that as few stitches move as can be.
// Slots may lie beyond either end of the layer.
func (b *layering) spread(things []thing) {
	next, shift := b.lead(things), 0
	for k := range things {
		t := &things[k]
		_, high := b.room(things, k)
		switch {
		case len(t.uses) == 0:
			t.slots = run(next, t.spans)
		case t.back:
			start := b.at[t.uses[0]] + shift + (len(t.uses)-t.spans)/2
			t.slots = run(max(next, min(start, high+shift-t.spans)), t.spans)
		case t.grows() > 0:
			t.slots = run(b.at[t.uses[0]]+shift, t.spans)
		default:
			for _, u := range t.uses[:t.spans] {
				t.slots = append(t.slots, b.at[u]+shift)
			}
		}
		t.shift = shift
		next = t.slots[t.spans-1] + 1
		switch {
		case t.grows() < 0 && !t.back:
			shift += t.grows()
		case high < len(b.order):
			shift = max(shift, next-high)
		}
	}
}

// run gives n slots that follow each other.
func run(from, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = from + i
	}
	return out
}

// lead is the first slot of a row: those that it makes before it uses any lie to
// the right of the first stitch.
func (b *layering) lead(things []thing) int {
	made := 0
	for k := range things {
		if len(things[k].uses) > 0 {
			return b.at[things[k].uses[0]] - made
		}
		made += things[k].spans
	}
	return 0
}

// refill lays a row that makes as many stitches as it uses into the slots of the
// row below, one after the other.
func (b *layering) refill(things []thing) {
	free := slices.Clone(b.at)
	for k := range things {
		t := &things[k]
		t.slots, free = free[:t.spans:t.spans], free[t.spans:]
	}
}

// centre moves all things so that the middle one of the stitches that go on one
// to one stays where it was.
func (b *layering) centre(things []thing) {
	var shifts []int
	for k := range things {
		if t := &things[k]; t.grows() == 0 {
			for range t.spans {
				shifts = append(shifts, t.shift)
			}
		}
	}
	if len(shifts) == 0 {
		return
	}
	slices.Sort(shifts)
	middle := (shifts[(len(shifts)-1)/2] + shifts[len(shifts)/2]) / 2
	for k := range things {
		for j := range things[k].slots {
			things[k].slots[j] -= middle
		}
	}
}
