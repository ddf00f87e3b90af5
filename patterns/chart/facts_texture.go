package chart

import (
	"slices"

	"clew/patterns/stitch"
)

// edgeStitches are left out at both sides of a flat piece when its texture is
// looked at: it may have an edge of its own.
const edgeStitches = 4

// A rowTexture is what one row shows.
type rowTexture struct {
	texture      Texture // Mixed where it has crosses
	knits, purls int
}

// textures tells what the rows of a piece show, in runs of rows.
func textures(p *piece) []TextureFact {
	rows := make([]rowTexture, len(p.rows))
	for i := range p.rows {
		rows[i] = p.texture(i)
	}
	var facts []TextureFact
	for i := 0; i < len(rows); {
		j := i + 1
		for j < len(rows) && p.rows[j].row.Section == p.rows[i].row.Section && goesWith(rows[i], rows[j]) {
			j++
		}
		t := TextureFact{Section: p.rows[i].row.Section.Name, First: p.rows[i].row.Number, Last: p.rows[j-1].row.Number,
			Texture: rows[i].texture, Knits: rows[i].knits, Purls: rows[i].purls}
		if t.Texture == Smooth || t.Texture == Bumpy {
			t.Texture = ofWholeRows(rows[i:j])
		}
		lone := j == i+1 && (t.Texture == Ribbing || t.Texture == Seed) // it takes two rows to see it
		if t.Texture != Mixed && !lone {
			facts = append(facts, t)
		}
		i = j
	}
	return facts
}

// goesWith says that a row belongs to the run that another begins. Rows of
// knits and rows of purls stand in one.
func goesWith(a, b rowTexture) bool {
	whole := func(r rowTexture) bool { return r.texture == Smooth || r.texture == Bumpy }
	return a == b || whole(a) && whole(b)
}

// ofWholeRows is the texture of rows of which each is all knit or all purl.
func ofWholeRows(rows []rowTexture) Texture {
	first, changes, longest, run := rows[0].texture, 0, 1, 1
	for i := 1; i < len(rows); i++ {
		if run++; rows[i] != rows[i-1] {
			changes, run = changes+1, 1
		}
		longest = max(longest, run)
	}
	switch {
	case changes == 0:
		return first
	case longest <= 2:
		return Ridges
	}
	return Mixed
}

// texture looks at the right side of one row.
func (p *piece) texture(i int) rowTexture {
	m := &p.rows[i]
	if len(m.crosses) > 0 {
		return rowTexture{}
	}
	slots := m.seen()
	var runs []int // of the same face, in turn
	knits, purls := 0, 0
	for k, s := range slots {
		if s.loop.Face == stitch.Knit {
			knits++
		} else {
			purls++
		}
		if k > 0 && s.loop.Face == slots[k-1].loop.Face {
			runs[len(runs)-1]++
		} else {
			runs = append(runs, 1)
		}
	}
	switch {
	case knits+purls == 0:
		return rowTexture{}
	case purls == 0:
		return rowTexture{texture: Smooth}
	case knits == 0:
		return rowTexture{texture: Bumpy}
	}
	a, b, even := evenRuns(runs)
	if !even {
		return rowTexture{}
	}
	if slots[0].loop.Face == stitch.Purl {
		a, b = b, a
	}
	if a == 1 && b == 1 && p.opposes(i) {
		return rowTexture{texture: Seed}
	}
	return rowTexture{texture: Ribbing, knits: a, purls: b}
}

// seen are the stitches of a row that its texture is told by: those that it
// worked.
func (m *meshRow) seen() []*slot {
	var slots []*slot
	for j := range m.slots {
		if s := m.slots[j].state; s != waiting && s != slipped {
			slots = append(slots, &m.slots[j])
		}
	}
	if !m.row.Rounds && len(slots) > 3*edgeStitches {
		slots = slots[edgeStitches : len(slots)-edgeStitches]
	}
	return slots
}

// evenRuns gives the lengths of runs that come by turns, where they are the
// same all along. The first and the last may be shorter: the row is cut there.
func evenRuns(runs []int) (a, b int, even bool) {
	if len(runs) < 4 {
		return 0, 0, false
	}
	lengths := [2]int{runs[2], runs[1]}
	for i, n := range runs[1 : len(runs)-1] {
		if n != lengths[(i+1)%2] {
			return 0, 0, false
		}
	}
	last := len(runs) - 1
	if runs[0] > lengths[0] || runs[last] > lengths[last%2] {
		return 0, 0, false
	}
	return lengths[0], lengths[1], true
}

// opposes says that the stitches of a row show the other face than those below
// them, or, where those are all alike, than those above.
func (p *piece) opposes(i int) bool {
	rows := p.all()
	if i > 0 && !alike(rows[i].slots) || i+1 >= len(p.rows) {
		return against(&p.rows[i], rows[i])
	}
	return against(&p.rows[i+1], &p.rows[i])
}

func alike(slots []slot) bool {
	return !slices.ContainsFunc(slots, func(s slot) bool { return s.loop.Face != slots[0].loop.Face })
}

// against says that most stitches of a row show the other face than those that
// they grew from.
func against(m, below *meshRow) bool {
	opposed := 0
	for _, s := range m.seen() {
		if len(s.below) != 1 {
			continue
		}
		if below.slots[s.below[0]].loop.Face == s.loop.Face {
			opposed--
		} else {
			opposed++
		}
	}
	return opposed > 0
}
