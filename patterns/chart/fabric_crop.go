package chart

import "math"

// crop leaves of fabric that is too wide a part, from the right edge: of a few
// repeats, or as many stitches as can be told apart. It notes in the facts how
// many stitches are left.
func (f *Facts) crop(v View, cloth []*piece, whole bool) {
	f.Drawn = f.across(v, whole)
	if f.Drawn == 0 {
		return
	}
	f.DrawnFrom = 1
	for _, p := range cloth {
		kept := p.base.keep(nil, f.Drawn)
		for i := range p.rows {
			kept = p.rows[i].keep(kept, 0)
		}
	}
}

// across is how many stitches are drawn of the first row; 0 for all. Fabric that
// narrows or widens much has a shape, which is seen as a whole if it is no low
// strip.
func (f *Facts) across(v View, whole bool) int {
	most := mostStitches(v)
	stitch := roomAcross / float64(max(most, 1))
	clear := min(clearStitch, max(easyStitch, tallEnough/(float64(v.To-v.From+1)*rowAspect(v)))) // as wide as its many rows let it be
	shape, low := hasShape(v), isLow(v, stitch)
	switch {
	case stitch < thinnest && (whole || shape):
		return int(math.Floor(roomAcross / thinnest))
	case whole || stitch >= min(clear, leastClear) || shape && !low && stitch >= leastSeen:
		return 0
	}
	if n := f.keepRepeats(v, int(math.Floor(roomAcross/clear)), shape && low); n > 0 || shape || stitch >= leastSeen {
		return n
	}
	return int(math.Floor(roomAcross / cutStitch))
}

// hasShape says that fabric narrows or widens to half its stitches or less.
func hasShape(v View) bool {
	most := mostStitches(v)
	least := most
	for i := v.From; i <= v.To; i++ {
		least = min(least, v.Plan.Rows[i].Before.Count())
		if left := v.Plan.Rows[i].After.Count(); left > 0 { // none where all are bound off
			least = min(least, left)
		}
	}
	return 2*least < most
}

// isLow says that all of the fabric, with stitches of a width, is a low strip.
func isLow(v View, stitch float64) bool {
	return float64(v.To-v.From+1)*stitch*rowAspect(v) < lowStrip*roomAcross
}

// keepRepeats gives how many stitches of the first row as many repeats have as
// there is room for in so many stitches, one at least; of a wedge, as many as
// show its shape. It is 0 where the rows have no repeat, or room for all. The
// facts are then of those.
func (f *Facts) keepRepeats(v View, room int, wedge bool) int {
	lines := linesOf(v, newMarks(v.Plan.Pattern))
	r := findRepeat(lines)
	if r.times < 2 {
		r, _ = repeatBelow(lines)
	}
	if r.times < 2 {
		return 0
	}
	edges := r.right + r.left
	widest := (mostStitches(v) - edges) / r.times
	drawn := max(1, (room-r.right)/widest)
	if wedge {
		drawn = min(drawn, (leastWedge+widest-1)/widest)
	}
	if drawn >= r.times {
		return 0
	}
	f.Repeats = [2]int{drawn, r.times}
	for i := range f.Strands {
		f.Strands[i].Times = f.Strands[i].Times * drawn / r.times
	}
	for i := range f.Textures {
		f.Textures[i].Times = f.Textures[i].Times * drawn / r.times
	}
	return r.right + drawn*(v.Plan.Rows[v.From].Before.Count()-edges)/r.times
}

// keep leaves of a row the stitches that grew from those kept below, and those
// that grew from none beside them; of a base, the first so many. It gives the new
// places of those below by their old ones, -1 for those that are gone.
func (m *meshRow) keep(below []int32, first int) []int32 {
	moved := make([]int32, len(m.slots))
	slots := m.slots[:0]
	last := true // the stitch to the right is kept
	for j, s := range m.slots {
		moved[j] = -1
		s.below = where(s.below, below)
		s.track = where(s.track, below)
		stays := len(s.below) > 0
		switch {
		case below == nil:
			stays = j < first
		case m.slots[j].act >= 0 && len(m.acts[m.slots[j].act].Uses) == 0:
			stays = last
		}
		if last = stays; !stays {
			continue
		}
		if s.over >= 0 && below != nil {
			s.over = below[s.over]
		}
		if s.cross >= 0 && len(s.track) == 0 {
			s.track = s.below
		}
		moved[j] = int32(len(slots))
		slots = append(slots, s)
	}
	m.slots = slots
	m.held = where(m.held, below)
	for i := range m.crosses {
		m.crosses[i].keep(m, moved)
	}
	return moved
}

// keep leaves a cross the stitches that are drawn; where one of its strands is
// cut, they are drawn as others are.
func (c *crossing) keep(m *meshRow, moved []int32) {
	whole := len(where(c.slots, moved)) == len(c.slots)
	for _, slots := range []*[]int32{&c.slots, &c.front, &c.behind, &c.middle} {
		*slots = where(*slots, moved)
		if !whole {
			for _, j := range *slots {
				m.slots[j].cross, m.slots[j].track = -1, m.slots[j].below
			}
			*slots = nil
		}
	}
}

// where gives the new places of slots, without those that are gone.
func where(slots, moved []int32) []int32 {
	var out []int32
	for _, j := range slots {
		if moved != nil && moved[j] >= 0 {
			out = append(out, moved[j])
		}
	}
	return out
}
