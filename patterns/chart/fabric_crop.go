package chart

import (
	"math"

	"clew/patterns/instruction"
)

// crop leaves of fabric that is too wide as many stitches from the right edge as
// there is room for, and of a low strip as many repeats as there is room for with
// stitches of a width. It notes in the facts how many stitches are left.
func (f *Facts) crop(v View, cloth []*piece, width float64) {
	if f.Drawn = mostAcross(v); f.Drawn == 0 && isLow(v, width) {
		f.keepRepeats(v, int(math.Floor(roomAcross/width)))
	}
	if f.Drawn == 0 {
		return
	}
	for _, p := range cloth {
		kept := p.base.keep(nil, f.Drawn)
		for i := range p.rows {
			kept = p.rows[i].keep(kept, 0)
		}
	}
}

// mostAcross is how many stitches there is room for, in whole repeats where the
// rows have them; 0 where there is room for all.
func mostAcross(v View) int {
	room := int(math.Floor(roomAcross / thinnest))
	if mostStitches(v) <= room {
		return 0
	}
	if n := period(v); n > 0 && n <= room {
		return room / n * n
	}
	return room
}

// isLow says that all of the fabric would be a low strip of stitches narrower
// than a width. One that narrows or widens much has a shape to be seen as a whole.
func isLow(v View, width float64) bool {
	most := mostStitches(v)
	least := most
	for i := v.From; i <= v.To; i++ {
		least = min(least, v.Plan.Rows[i].Before.Count())
		if left := v.Plan.Rows[i].After.Count(); left > 0 { // none where all are bound off
			least = min(least, left)
		}
	}
	stitch := roomAcross / float64(most)
	high := float64(v.To-v.From+1) * stitch * rowAspect(v)
	return stitch < width && high < lowStrip*roomAcross && 2*least >= most
}

// keepRepeats leaves as many repeats as have room in so many stitches, one at
// least; all where the rows have none. The facts are then of those.
func (f *Facts) keepRepeats(v View, room int) {
	r := read(v).repeat
	edges := r.right + r.left
	widest := (mostStitches(v) - edges) / r.times
	drawn := max(1, (room-r.right)/widest)
	if drawn >= r.times {
		return
	}
	f.Drawn = r.right + drawn*(v.Plan.Rows[v.From].Before.Count()-edges)/r.times
	for i := range f.Strands {
		f.Strands[i].Times = f.Strands[i].Times * drawn / r.times
	}
}

// period is how many stitches the repeat of the rows of a view has: that of the
// first row that is all one repeat; 0 for none.
func period(v View) int {
	for i := v.From; i <= v.To; i++ {
		r := v.Plan.Rows[i]
		if len(r.Body) != 1 {
			continue
		}
		if n, ok := r.Body[0].(*instruction.Repeat); ok && n.Count > 1 && r.Before.Count()%n.Count == 0 {
			return r.Before.Count() / n.Count
		}
	}
	return 0
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
