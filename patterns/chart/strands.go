package chart

import (
	"math"
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// A crossing is a cross of a row of the mesh. Its strands are slots at the top
// of that row, from right to left; front passes in front as seen from the right
// side, and the middle one of three strands stays where it is.
type crossing struct {
	node                  *instruction.Cross
	act                   int
	slots                 []int32
	front, behind, middle []int32
	low, high             float64 // the rows over which its strands bend, as places between rows
}

// cross finds the strands of a cross.
func (m *meshRow) cross(i int, found []fabric.Crossing) {
	c := &m.crosses[i]
	var below []int32
	for j := range m.slots {
		if m.slots[j].cross == int32(i) {
			c.slots = append(c.slots, int32(j))
			below = append(below, m.slots[j].below...)
		}
	}
	slices.Sort(below)
	if len(below) == len(c.slots) {
		for n, j := range c.slots {
			m.slots[j].track = below[n : n+1 : n+1]
		}
	}
	front, behind := strandsOf(m.acts[c.act], i, found)
	for _, j := range c.slots {
		column := m.slots[j].loop.Column
		switch {
		case hasColumn(front, column):
			c.front = append(c.front, j)
		case hasColumn(behind, column):
			c.behind = append(c.behind, j)
		default:
			c.middle = append(c.middle, j)
		}
	}
}

// strandsOf gives the strands of a cross as the right side shows them.
func strandsOf(a fabric.Act, i int, found []fabric.Crossing) (front, behind []fabric.Loop) {
	for n := range found {
		k := found[(i+n)%len(found)] // most often the first one looked at
		loops := slices.Concat(k.Front, k.Behind)
		if len(loops) > 0 && slices.Contains(a.Uses, loops[0].Column) {
			if k.Side == instruction.WS {
				return k.Behind, k.Front
			}
			return k.Front, k.Behind
		}
	}
	return nil, nil
}

func hasColumn(loops []fabric.Loop, column int32) bool {
	return slices.ContainsFunc(loops, func(l fabric.Loop) bool { return l.Column == column })
}

// left says that the strand in front goes to the left: it stood at the right of
// the others.
func (c *crossing) left(m *meshRow) bool {
	for _, j := range c.front {
		for _, other := range c.slots {
			if from := m.slots[other].below; !slices.Contains(c.front, other) && len(from) > 0 && len(m.slots[j].below) > 0 {
				return m.slots[j].below[0] < from[0]
			}
		}
	}
	return c.node.Named.Left
}

// mostReach is over how many rows a cross bends its strands, above it and below
// it, at most.
const mostReach = 2

// bend draws columns aside where a cross moves them: a strand begins to move
// some rows before its cross and has come to rest some rows after it, the more
// the wider it is, if no other cross moves it there.
func (p *piece) bend() {
	rows := p.all()
	for _, row := range rows {
		for j := range row.slots {
			row.slots[j].top = row.slots[j].x
		}
	}
	for i := 1; i < len(rows); i++ {
		for n := range rows[i].crosses {
			p.bendCross(rows, i, &rows[i].crosses[n])
		}
	}
	for i := 1; i < len(rows); i++ {
		for j := range rows[i].slots {
			s := &rows[i].slots[j]
			s.foot = rows[i-1].footOf(s)
		}
	}
}

// footOf is where a stitch has its foot: above those that it grew from, and
// between its neighbours where it grew from none.
func (below *meshRow) footOf(s *slot) float64 {
	if len(s.below) == 0 {
		return s.top
	}
	sum := 0.0
	for _, k := range s.below {
		sum += below.slots[k].top
	}
	return sum / float64(len(s.below))
}

// bendCross bends the strands of one cross, that of rows[at].
func (p *piece) bendCross(rows []*meshRow, at int, c *crossing) {
	reach := min(mostReach, float64(len(c.slots))/4)
	c.low = float64(at-1) - min(reach, room(rows, at, c, -1))
	c.high = float64(at) + min(reach, room(rows, at, c, 1))
	for _, j := range c.slots {
		path := columnPath(rows, at, j, c)
		from, to := path.at(c.low), path.at(c.high)
		for n, s := range path.slots {
			b := float64(path.first + n)
			if b > c.low && b < c.high {
				s.top = from + (to-from)*smooth((b-c.low)/(c.high-c.low))
			}
		}
	}
}

// smooth is the curve of a strand: steepest in the middle.
func smooth(t float64) float64 { return (t + t*t*(3-2*t)) / 2 }

// A colPath is one column over the rows that a cross bends: its slots, the
// first of them at the top of the row first.
type colPath struct {
	first int
	slots []*slot
	index []int32 // of each, in its row
}

// at is where the column stands at a place between rows, unbent.
func (c colPath) at(place float64) float64 {
	k := math.Floor(place)
	i := int(k) - c.first
	if i < 0 {
		return c.slots[0].x
	}
	if i+1 >= len(c.slots) {
		return c.slots[len(c.slots)-1].x
	}
	return c.slots[i].x + (c.slots[i+1].x-c.slots[i].x)*(place-k)
}

func columnPath(rows []*meshRow, at int, j int32, c *crossing) colPath {
	s := &rows[at].slots[j]
	path := colPath{first: at, slots: []*slot{s}, index: []int32{j}}
	for i := at - 1; i >= int(math.Floor(c.low)) && i >= 0; i-- {
		k := rows[i].lone(s)
		if k < 0 {
			break
		}
		s = &rows[i].slots[k]
		path.first, path.slots, path.index = i, slices.Insert(path.slots, 0, s), slices.Insert(path.index, 0, k)
	}
	for i := at + 1; i <= int(math.Ceil(c.high)) && i < len(rows); i++ {
		child := rows[i-1].only(rows[i], j)
		if child < 0 {
			break
		}
		j = child
		path.slots, path.index = append(path.slots, &rows[i].slots[j]), append(path.index, j)
	}
	return path
}

// only gives the one stitch of the row above that grew from a slot and from no
// other; -1 where there is none.
func (m *meshRow) only(above *meshRow, j int32) int32 {
	if len(m.children[j]) != 1 {
		return -1
	}
	child := m.children[j][0]
	if s := &above.slots[child]; len(s.below) != 1 || s.state == bound {
		return -1
	}
	return child
}

// lone gives the one stitch that another grew from, and no third one; -1 where
// there is none.
func (m *meshRow) lone(above *slot) int32 {
	if len(above.below) != 1 || len(m.children[above.below[0]]) != 1 {
		return -1
	}
	return above.below[0]
}

// room is over how many rows beyond a cross its columns go on as they are, up
// to mostReach; half as many where another cross moves one of them after that.
func room(rows []*meshRow, at int, c *crossing, step int) float64 {
	slots := slices.Clone(c.slots)
	n := 0
	for n < 2*mostReach {
		i := at + step*(n+1)
		for k, j := range slots {
			var next int32 = -1
			crossed := false
			switch {
			case step > 0 && i < len(rows):
				next = rows[i-1].only(rows[i], j)
				crossed = next >= 0 && rows[i].slots[next].cross >= 0
			case step < 0 && i >= 1:
				if k := rows[i].lone(&rows[i+1].slots[j]); k >= 0 && len(rows[i].slots[k].below) == 1 {
					next = k
					crossed = rows[i].slots[next].cross >= 0
				}
			}
			if crossed {
				return float64(n) / 2
			}
			if next < 0 {
				return float64(n)
			}
			slots[k] = next
		}
		n++
	}
	return float64(n)
}
