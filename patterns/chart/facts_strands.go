package chart

import (
	"cmp"
	"slices"

	"clew/patterns/stitch"
)

// A journey is one strand that moves the same way in several rows, one cross in
// each.
type journey struct {
	first, last int     // rows of the piece
	begins, at  float64 // its place in its row before and after, from the right edge
	left        bool
	columns     []int32
}

// Strands that part have been side by side, and those that meet come to be: so
// many stitches may lie between them at most.
const sideBySide = 8

// strandFacts tells what the strands of all crosses do.
func strandFacts(cloth []*piece) []StrandFact {
	var facts []placedFact
	for _, p := range cloth {
		var journeys []*journey
		for i := range p.rows {
			m := &p.rows[i]
			for k := range m.crosses {
				c := &m.crosses[k]
				strand, left := c.traveller(m)
				if strand == nil {
					facts = append(facts, crossFact(m, c))
					journeys = ended(journeys, c.columns(m))
					continue
				}
				journeys = c.travel(journeys, m, i, strand, left)
			}
		}
		facts = append(facts, pairs(p, journeys)...)
	}
	return counted(facts)
}

// A placedFact is a fact with the row of the plan by which it is sorted.
type placedFact struct {
	StrandFact
	index int
}

// counted puts facts that differ in their place alone into one.
func counted(facts []placedFact) []StrandFact {
	slices.SortStableFunc(facts, func(a, b placedFact) int {
		return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last), cmp.Compare(a.Strands, b.Strands))
	})
	var out []StrandFact
	for i, f := range facts {
		if i > 0 && f.index == facts[i-1].index && f.StrandFact == facts[i-1].StrandFact {
			out[len(out)-1].Times++
			continue
		}
		out = append(out, f.StrandFact)
		out[len(out)-1].Times = 1
	}
	return out
}

// columns are those that a cross moves.
func (c *crossing) columns(m *meshRow) []int32 {
	columns := make([]int32, len(c.slots))
	for i, j := range c.slots {
		columns[i] = m.slots[j].loop.Column
	}
	return columns
}

// traveller gives the strand that moves over a purl ground, and whether it goes
// to the left; nil for strands that cross each other.
func (c *crossing) traveller(m *meshRow) (strand []int32, left bool) {
	knits := func(slots []int32) bool {
		return slices.ContainsFunc(slots, func(j int32) bool { return m.slots[j].loop.Face == stitch.Knit })
	}
	front, behind := knits(c.front), knits(c.behind)
	switch {
	case front && !behind:
		return c.front, c.left(m)
	case behind && !front:
		return c.behind, !c.left(m)
	}
	return nil, false
}

func crossFact(m *meshRow, c *crossing) placedFact {
	f := StrandFact{Section: m.row.Section.Name, Row: m.row.Number, First: m.row.Number, Last: m.row.Number, Kind: CrossRight, Strands: 2}
	if c.left(m) {
		f.Kind = CrossLeft
	}
	if slices.ContainsFunc(c.middle, func(j int32) bool { return m.slots[j].loop.Face == stitch.Knit }) {
		f.Strands = 3 // a purl between two strands is their ground
	}
	return placedFact{f, m.index}
}

// ended gives the journeys with those closed that have a column of these: a
// cross has ended them.
func ended(journeys []*journey, columns []int32) []*journey {
	for _, j := range journeys {
		if slices.ContainsFunc(j.columns, func(c int32) bool { return slices.Contains(columns, c) }) {
			j.columns = nil
		}
	}
	return journeys
}

// longRest is for how many rows a strand may go straight up within a journey.
const longRest = 8

// travel takes a strand one cross further.
func (c *crossing) travel(journeys []*journey, m *meshRow, i int, strand []int32, left bool) []*journey {
	var columns []int32
	was, is := 0.0, 0.0
	for _, j := range strand {
		s := &m.slots[j]
		columns = append(columns, s.loop.Column)
		is += float64(j) / float64(len(strand))
		if len(s.below) > 0 {
			was += float64(s.below[0]) / float64(len(strand))
		}
	}
	slices.Sort(columns)
	for _, j := range slices.Backward(journeys) {
		if slices.Equal(j.columns, columns) {
			if j.left == left && i-j.last <= longRest {
				j.last, j.at = i, is
				return journeys
			}
			break
		}
	}
	journeys = ended(journeys, columns)
	return append(journeys, &journey{first: i, last: i, begins: was, at: is, left: left, columns: columns})
}

// pairs tells of journeys: those that two strands go on in the same rows, apart
// or towards each other, and those of single strands.
func pairs(p *piece, journeys []*journey) []placedFact {
	slices.SortStableFunc(journeys, func(a, b *journey) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.last, b.last), cmp.Compare(a.begins, b.begins))
	})
	type pair struct {
		right int // index of the one at the right; the other follows it
		gap   float64
	}
	var near []pair
	for i := 0; i+1 < len(journeys); i++ {
		a, b := journeys[i], journeys[i+1]
		if a.first != b.first || a.last != b.last || a.left == b.left {
			continue
		}
		gap := b.begins - a.begins
		if a.left { // they meet
			gap = b.at - a.at
		}
		if gap > 0 && gap <= sideBySide+2 {
			near = append(near, pair{i, gap})
		}
	}
	slices.SortStableFunc(near, func(a, b pair) int { return cmp.Compare(a.gap, b.gap) })
	taken := make([]bool, len(journeys))
	var facts []placedFact
	for _, n := range near {
		if taken[n.right] || taken[n.right+1] {
			continue
		}
		taken[n.right], taken[n.right+1] = true, true
		j := journeys[n.right]
		if j.left {
			facts = append(facts, journeyFact(p, j, Meet, 2))
		} else {
			facts = append(facts, journeyFact(p, j, Part, 2))
		}
	}
	for i, j := range journeys {
		switch {
		case taken[i]:
		case j.left:
			facts = append(facts, journeyFact(p, j, MoveLeft, 1))
		default:
			facts = append(facts, journeyFact(p, j, MoveRight, 1))
		}
	}
	return facts
}

func journeyFact(p *piece, j *journey, kind StrandKind, strands int) placedFact {
	from, to := p.rows[j.first].row, p.rows[j.last].row
	f := StrandFact{Section: from.Section.Name, Row: from.Number, First: from.Number, Last: to.Number, Kind: kind, Strands: strands}
	index := p.rows[j.first].index
	if kind == Meet {
		f.Section, f.Row, index = to.Section.Name, to.Number, p.rows[j.last].index
	}
	return placedFact{f, index}
}
