package chart

// The fabric is a net of springs. Neighbours in a row want to stand a stitch
// apart, and a stitch wants to stand above those that it grew from; how hard
// each pulls is by eye. So a column leans where the width changes, over a few
// rows, as it does in the hand.
const (
	sideways = 10.0
	upright  = 1.0
	sweeps   = 60
	nearest  = 0.35 // stitches of a row never stand nearer than this
)

// place gives every stitch its place across.
func (p *piece) place() {
	spread(p.base.slots, float64(len(p.base.slots)-1)/2)
	rows := p.all()
	middle := 0.0
	for i := 1; i < len(rows); i++ {
		middle = rows[i].start(rows[i-1], middle)
	}
	for i := range rows[:len(rows)-1] {
		rows[i].children = childrenOf(rows[i], rows[i+1])
	}
	for sweep := range sweeps {
		for n := range rows {
			i := n
			if sweep%2 == 1 {
				i = len(rows) - 1 - n
			}
			var below, above *meshRow
			if i > 0 {
				below = rows[i-1]
			}
			if i+1 < len(rows) {
				above = rows[i+1]
			}
			rows[i].ease(below, above)
		}
	}
	for _, row := range rows {
		row.keepApart()
	}
}

// all gives the rows of a piece with its base.
func (p *piece) all() []*meshRow {
	rows := make([]*meshRow, 0, len(p.rows)+1)
	rows = append(rows, &p.base)
	for i := range p.rows {
		rows = append(rows, &p.rows[i])
	}
	return rows
}

// spread sets stitches side by side from a place at the right.
func spread(slots []slot, right float64) {
	for j := range slots {
		slots[j].x = right - float64(j)
	}
}

// start sets a row above the one below: in rounds around the same middle, in
// rows, and where stitches joined or left at once, so that the columns that go
// on stand as upright as they can.
func (m *meshRow) start(below *meshRow, middle float64) float64 {
	half := float64(len(m.slots)-1) / 2
	if !m.row.Rounds || m.bulk || below.bulk {
		sum, n := 0.0, 0
		for j := range m.slots {
			if x, ok := m.slots[j].stands(below); ok {
				sum, n = sum+x+float64(j), n+1
			}
		}
		if n > 0 {
			middle = sum/float64(n) - half
		}
	}
	spread(m.slots, middle+half)
	return middle
}

// stands is where the stitches below one stand, in the middle; false for none.
func (s *slot) stands(below *meshRow) (float64, bool) {
	if len(s.track) == 0 {
		return 0, false
	}
	sum := 0.0
	for _, k := range s.track {
		sum += below.slots[k].x
	}
	return sum / float64(len(s.track)), true
}

func childrenOf(below, above *meshRow) [][]int32 {
	counts := make([]int32, len(below.slots))
	total := 0
	for j := range above.slots {
		for _, k := range above.slots[j].track {
			counts[k]++
			total++
		}
	}
	all := make([]int32, total)
	lists := make([][]int32, len(below.slots))
	for k, n := range counts {
		lists[k], all = all[:0:n], all[n:]
	}
	for j := range above.slots {
		for _, k := range above.slots[j].track {
			lists[k] = append(lists[k], int32(j))
		}
	}
	return lists
}

// ease lets the springs of a row pull once.
func (m *meshRow) ease(below, above *meshRow) {
	for j := range m.slots {
		s := &m.slots[j]
		pull, weight := 0.0, 0.0
		if j > 0 {
			pull, weight = pull+sideways*(m.slots[j-1].x-1), weight+sideways
		}
		if j+1 < len(m.slots) {
			pull, weight = pull+sideways*(m.slots[j+1].x+1), weight+sideways
		}
		if below != nil {
			for _, k := range s.track {
				pull, weight = pull+upright*below.slots[k].x, weight+upright
			}
		}
		if above != nil {
			for _, k := range m.children[j] {
				pull, weight = pull+upright*above.slots[k].x, weight+upright
			}
		}
		if weight > 0 {
			s.x = pull / weight
		}
	}
}

// keepApart makes room between stitches that the springs drew too near.
func (m *meshRow) keepApart() {
	for j := 1; j < len(m.slots); j++ {
		m.slots[j].x = min(m.slots[j].x, m.slots[j-1].x-nearest)
	}
}
