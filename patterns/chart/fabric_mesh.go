package chart

import (
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// A piece is knitting that hangs together, from the stitches that it begins
// with to those on the needle.
type piece struct {
	base   meshRow // what its first row is worked into; without acts
	castOn bool    // these were cast on, or there are none; else there is more fabric below
	rows   []meshRow
}

// A meshRow is a row of the plan with the stitches that stand at its top.
type meshRow struct {
	index    int // in the plan
	row      *patterns.Row
	acts     []fabric.Act
	slots    []slot // from right to left as seen from the right side
	crosses  []crossing
	held     []int32   // slots of the row below that were put on hold
	children [][]int32 // of each slot, the slots above that stand above it
	bulk     bool      // stitches left or joined it otherwise than by decreases and increases
}

// A slotState says what became of a stitch in a row.
type slotState uint8

const (
	worked  slotState = iota
	waiting           // on the needle, and not worked in this row
	slipped           // moved to the other needle without being worked
	bound             // bound off in this row: it takes room in it and is gone after
)

// A slot is the place of one stitch at the top of a row.
type slot struct {
	loop  fabric.Loop
	state slotState
	act   int32   // index of the act that made it, of the row's; -1 for none
	cross int32   // index of the cross that moved it, of the row's; -1 for none
	below []int32 // slots of the row below that it grew from
	over  int32   // which of below lies on top of the others; -1 for none
	track []int32 // slots of the row below that it stands above: below, but of a cross those in its place
	x     float64 // of its middle, in stitches, to the right
	top   float64 // the same where a cross draws the column aside; see bend
	foot  float64 // of its middle at the bottom of the row
}

// pieces follows every stitch through the rows of a view, of which acts gives
// what was done in each.
func pieces(v View, acts func(row int) []fabric.Act) []*piece {
	var all []*piece
	t := &tracer{}
	for i := v.From; i <= v.To; i++ {
		r := v.Plan.Rows[i]
		if len(all) == 0 || !t.goesOn(r) {
			p := &piece{castOn: i == 0 || r.Before.Count() == 0 || r.First && r.Section.CastOn != nil}
			for _, l := range r.Before.Loops() {
				p.base.slots = append(p.base.slots, slot{loop: l, act: -1, cross: -1, over: -1})
			}
			all = append(all, p)
			t.stands(p.base.slots)
		}
		p := all[len(all)-1]
		p.rows = append(p.rows, t.row(i, r, acts(i)))
		t.stands(p.rows[len(p.rows)-1].slots)
	}
	return all
}

// A tracer knows where each column stood after the row before, and what has
// become of it in this one.
type tracer struct {
	columns []trace // by column
	now     int32   // number of the row, to tell what is of this one
	arena   []int32
	last    int32 // column made last in this row; -1 for none
}

type trace struct {
	stood int32   // slot in the row before; -1 for none
	of    int32   // the row of which what follows is known
	from  []int32 // slots of the row before that it grew from
	over  int32
	act   int32
	cross int32
}

// at gives what is known of a column in this row.
func (t *tracer) at(column int32) *trace {
	for int(column) >= len(t.columns) {
		t.columns = append(t.columns, trace{stood: -1})
	}
	c := &t.columns[column]
	if c.of != t.now {
		*c = trace{stood: c.stood, of: t.now, over: -1, act: -1, cross: -1}
		if c.stood >= 0 {
			c.from = t.list(c.stood)
		}
	}
	return c
}

func (t *tracer) list(slots ...int32) []int32 {
	from := len(t.arena)
	t.arena = append(t.arena, slots...)
	return t.arena[from:len(t.arena):len(t.arena)]
}

// goesOn says that a row works stitches of the piece before it.
func (t *tracer) goesOn(r *patterns.Row) bool {
	return slices.ContainsFunc(r.Before.Loops(), func(l fabric.Loop) bool {
		return int(l.Column) < len(t.columns) && t.columns[l.Column].stood >= 0
	})
}

// stands notes where columns stand after a row.
func (t *tracer) stands(slots []slot) {
	for i := range t.columns {
		t.columns[i].stood = -1
	}
	t.now++
	for i, s := range slots {
		if s.state != bound {
			t.at(s.loop.Column).stood = int32(i)
		}
	}
	t.now++
}

// row follows the stitches through one row.
func (t *tracer) row(index int, r *patterns.Row, acts []fabric.Act) meshRow {
	m := meshRow{index: index, row: r, acts: acts}
	t.last = -1
	var gone []slot
	for i, a := range acts {
		switch n := a.Node.(type) {
		case *instruction.Held:
			m.bulk = true
			for _, column := range a.Uses {
				m.held = append(m.held, t.at(column).from...)
			}
			continue
		case *instruction.Cross:
			m.crosses = append(m.crosses, crossing{node: n, act: i})
			for _, column := range a.Makes {
				t.at(column).cross = int32(len(m.crosses) - 1)
			}
		}
		if a.Stitch != nil {
			switch a.Stitch.Kind {
			case stitch.BindOff:
				m.bulk = true
				gone = t.bindOff(gone, a, int32(i))
				continue
			case stitch.CastOn:
				m.bulk = true
			}
		}
		t.follow(a, int32(i))
	}
	m.slots = t.standing(r, acts, gone)
	for i := range m.crosses {
		m.cross(i, r.Crossings)
	}
	return m
}

// bindOff notes stitches that are bound off.
func (t *tracer) bindOff(gone []slot, a fabric.Act, act int32) []slot {
	for _, column := range a.Uses {
		c := t.at(column)
		s := slot{loop: fabric.Loop{Column: column, Yarn: a.Yarn}, state: bound, act: act, cross: -1, over: -1, below: c.from, track: c.from}
		if a.Side == instruction.WS {
			s.loop.Face = stitch.Purl
		}
		gone = append(gone, s)
	}
	return gone
}

// follow notes what an act makes out of what.
func (t *tracer) follow(a fabric.Act, act int32) {
	for _, column := range a.Passed {
		t.over(column, true)
	}
	if len(a.Makes) == 0 {
		for _, column := range a.Uses {
			t.over(column, a.Stitch != nil)
		}
		return
	}
	for _, column := range a.Makes {
		c := t.at(column)
		c.act = act
		if len(a.Uses) > 0 && !slices.Contains(a.Uses, column) {
			c.from = t.at(a.Uses[0]).from
		}
	}
	t.last = a.Makes[len(a.Makes)-1]
	for i, column := range a.Uses {
		if !slices.Contains(a.Makes, column) {
			kept := t.at(t.takenWith(a, i))
			kept.from = t.join(kept.from, t.at(column).from)
		}
	}
	if len(a.Uses) > 1 && a.Stitch != nil {
		t.at(t.last).over = t.onTop(a)
	}
}

// takenWith gives the column that a stitch was worked into when its own ended:
// that of the nearest one before it that went on, since a decrease keeps the
// first that it takes.
func (t *tracer) takenWith(a fabric.Act, i int) int32 {
	for k := i - 1; k >= 0; k-- {
		if slices.Contains(a.Makes, a.Uses[k]) {
			return a.Uses[k]
		}
	}
	return t.last
}

// over joins a stitch that was lifted over the last one to it.
func (t *tracer) over(column int32, onTop bool) {
	c := t.at(column)
	if t.last < 0 || t.last == column {
		return
	}
	kept := t.at(t.last)
	if onTop && len(c.from) > 0 {
		kept.over = c.from[0]
		if c.over >= 0 {
			kept.over = c.over
		}
	}
	kept.from = t.join(kept.from, c.from)
}

func (t *tracer) join(a, b []int32) []int32 {
	both := t.list(a...)
	for _, s := range b {
		if !slices.Contains(both, s) {
			both = append(both, s)
		}
	}
	slices.Sort(both)
	return both
}

// onTop says which stitch of a decrease lies on top on the right side; -1 for
// none in particular. The one at the left does where it leans to the right. A
// decrease of purls worked on the wrong side leans as its counterpart of knits
// does on the right side. (Common practice in handbooks: k2tog and p2tog lean to
// the right; ssk, ssp, skp and all that is worked through the back loop to the
// left.)
func (t *tracer) onTop(a fabric.Act) int32 {
	var from []int32
	for _, column := range a.Uses {
		from = append(from, t.at(column).from...)
	}
	if len(from) == 0 {
		return -1
	}
	slices.Sort(from)
	switch a.Stitch.Abbr {
	case "ssk", "sssk", "ssp", "sssp", "skp", "sk2p":
		return from[0]
	case "s2kp":
		return from[len(from)/2]
	}
	if a.TBL {
		return from[0]
	}
	return from[len(from)-1]
}

// standing gives the stitches at the top of a row, those that left it in it
// among them where they stood.
func (t *tracer) standing(r *patterns.Row, acts []fabric.Act, gone []slot) []slot {
	loops := r.After.Loops()
	slots := make([]slot, 0, len(loops)+len(gone))
	slices.SortStableFunc(gone, func(a, b slot) int { return int(first(a.below)) - int(first(b.below)) })
	for _, l := range loops {
		c := t.at(l.Column)
		for len(gone) > 0 && len(c.from) > 0 && c.cross < 0 && first(gone[0].below) < c.from[0] {
			slots, gone = append(slots, gone[0]), gone[1:]
		}
		s := slot{loop: l, act: c.act, cross: c.cross, below: c.from, track: c.from, over: c.over, state: waiting}
		if c.act >= 0 {
			s.state = worked
			if w := acts[c.act].Stitch; w != nil && w.Kind == stitch.Slip {
				s.state = slipped
				if len(c.from) > 1 {
					s.state = worked
				}
			}
		}
		slots = append(slots, s)
	}
	return append(slots, gone...)
}

func first(slots []int32) int32 {
	if len(slots) == 0 {
		return -1
	}
	return slots[0]
}
