package chart

import (
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// An item is what one cell of a chart stands for: an act, or several that come
// to one thing, such as a slipped stitch that is passed over. Its stitches are
// told by their columns, from right to left as the right side shows them.
type item struct {
	mark  *mark
	uses  []int32 // on the needle before the row
	makes []int32 // on the needle after it
	yarn  uint8
	bead  bool
	cross *cross // nil for none
}

// spans is how many stitches wide the item is drawn: what it makes, or, where it
// makes none, what it used.
func (it *item) spans() int {
	if len(it.makes) > 0 {
		return len(it.makes)
	}
	return max(1, len(it.uses))
}

// same says that two items are drawn alike.
func (it *item) same(other *item) bool {
	return it.mark == other.mark && it.yarn == other.yarn && it.bead == other.bead &&
		len(it.uses) == len(other.uses) && len(it.makes) == len(other.makes)
}

// A line is one row of a chart: its items, and the stitches before and after it,
// from right to left.
type line struct {
	index         int // of the row in the plan
	row           *patterns.Row
	acts          []fabric.Act
	items         []item
	before, after []int32
	was, is       map[int32]int // where each stands before and after
	idle          bool          // some stitches are not worked in it
	wraps         []int32       // of those, the ones that it wraps
	from, to      int           // the items of the repeat that is drawn once; equal for none
}

// A part is acts that go together, while a row is read.
type part struct {
	acts        []*fabric.Act
	uses, makes []int32
	bead, bound bool // bound: bound off by being lifted over the next
}

// A rowReader makes items of the acts of rows.
type rowReader struct {
	plan  *patterns.Plan
	marks *marks
	last  *line // the row below
}

// line reads one row.
func (r *rowReader) line(index int) *line {
	row := r.plan.Rows[index]
	l := &line{index: index, row: row, before: columns(row.Before.Loops()), after: columns(row.After.Loops())}
	l.find(r.last)
	was, is := l.was, l.is
	l.acts = r.plan.Acts(index)
	parts := joined(l.acts)
	l.items = make([]item, 0, len(parts))
	used := 0
	for i := range parts {
		it, ok := r.item(&parts[i], was, is, row)
		if ok {
			used += len(it.uses)
			l.items = append(l.items, it)
		}
	}
	if l.idle = used < len(l.before); l.idle {
		l.wraps = wrapped(row)
	}
	if row.Side == instruction.WS {
		slices.Reverse(l.items)
	}
	inOrder(l.items, is)
	if before := begun(l.before, l.items, was); !slices.Equal(before, l.before) {
		l.before, l.was = before, places(before)
	}
	r.last = l
	return l
}

// find notes where each stitch stands. The row below has found it, where this one
// is worked on the stitches that it left.
func (l *line) find(below *line) {
	if below != nil && slices.Equal(below.after, l.before) {
		l.before, l.was = below.after, below.is
	} else {
		l.was = places(l.before)
	}
	l.is = places(l.after)
}

// wrapped gives the stitches that a row wraps and does not work.
func wrapped(row *patterns.Row) []int32 {
	were := map[int32]bool{}
	for _, l := range row.Before.Loops() {
		were[l.Column] = l.Marks&fabric.Wrapped != 0
	}
	var out []int32
	for _, l := range row.After.Loops() {
		if was, known := were[l.Column]; known && !was && l.Marks&fabric.Wrapped != 0 {
			out = append(out, l.Column)
		}
	}
	return out
}

func columns(loops []fabric.Loop) []int32 {
	out := make([]int32, len(loops))
	for i, l := range loops {
		out[i] = l.Column
	}
	return out
}

func places(columns []int32) map[int32]int {
	at := make(map[int32]int, len(columns))
	for i, c := range columns {
		at[c] = i
	}
	return at
}

// item makes an item of a part; false where it has no stitch.
func (r *rowReader) item(p *part, was, is map[int32]int, row *patterns.Row) (item, bool) {
	it := item{uses: ordered(p.uses, was), makes: ordered(p.makes, is), bead: p.bead, yarn: p.acts[len(p.acts)-1].Yarn}
	if p.bound {
		it.makes = nil
	}
	if len(it.uses) == 0 && len(it.makes) == 0 {
		return it, false
	}
	if len(it.makes) > 0 {
		it.yarn = row.After.Loops()[is[it.makes[0]]].Yarn
	}
	switch node := p.acts[0].Node.(type) {
	case *instruction.Cross:
		if len(p.acts) == 1 {
			it.cross = newCross(node, it, is, row)
			it.mark = r.marks.cross(it.cross, node, row.Side)
			return it, true
		}
	}
	it.mark = r.marks.of(p, len(it.uses), len(it.makes))
	return it, true
}

// ordered gives those of the columns that have a place, each once, in the order
// of their places.
func ordered(columns []int32, at map[int32]int) []int32 {
	if len(columns) == 1 {
		if _, ok := at[columns[0]]; ok {
			return columns
		}
		return nil
	}
	out := make([]int32, 0, len(columns))
	for _, c := range columns {
		if _, ok := at[c]; ok {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(a, b int32) int { return at[a] - at[b] })
	return slices.Compact(out)
}

// inOrder puts items in the order of their stitches, where a round began in its
// middle and so went past its beginning.
func inOrder(items []item, is map[int32]int) {
	last := -1
	at := func(it *item) int {
		if len(it.makes) > 0 { // else it stays beside what came before it
			last = is[it.makes[0]]
		}
		return last
	}
	sorted, before := true, -1
	for i := range items {
		here := at(&items[i])
		sorted, before = sorted && here >= before, here
	}
	if sorted {
		return
	}
	type placed struct {
		item
		at int
	}
	all := make([]placed, len(items))
	last = -1
	for i := range items {
		all[i] = placed{items[i], at(&items[i])}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return a.at - b.at })
	for i := range all {
		items[i] = all[i].item
	}
}

// begun gives the stitches before a row in the order of its items, where the
// round ends at another place than it began.
func begun(before []int32, items []item, was map[int32]int) []int32 {
	first, last := -1, -1
	for i := range items {
		if len(items[i].uses) == 0 {
			continue
		}
		at := was[items[i].uses[0]]
		if first < 0 {
			first = at
		}
		if at < last {
			return slices.Concat(before[first:], before[:first])
		}
		last = at
	}
	return before
}

// joined puts together the acts that come to one thing.
func joined(acts []fabric.Act) []part {
	parts := make([]part, 0, len(acts))
	single := make([]*fabric.Act, len(acts))
	var maker map[int32]int // which part made a column in this row, where that matters
	if slices.ContainsFunc(acts, goesBack) {
		maker = map[int32]int{}
	}
	turned := false
	for i := range acts {
		a := &acts[i]
		switch a.Node.(type) {
		case *instruction.Bead:
			if len(parts) > 0 {
				parts[len(parts)-1].bead = true
			}
			continue
		case *instruction.Turn:
			turned = true
			continue
		case *instruction.Marker, *instruction.Yarn:
			continue
		}
		from := len(parts)
		if bindsOff(acts, i) {
			if at, ok := maker[a.Passed[0]]; ok {
				parts[at].bound = true
			}
			continue
		}
		for _, c := range a.Passed {
			if at, ok := maker[c]; ok {
				from = min(from, at)
			}
		}
		if turned {
			for _, c := range a.Uses {
				if at, ok := maker[c]; ok {
					from = min(from, at)
				}
			}
		}
		if liftsNext(a) && from > 0 {
			from = min(from, len(parts)-1)
		}
		if maker != nil {
			for _, c := range a.Makes {
				maker[c] = len(parts)
			}
		}
		single[i] = a
		parts = append(parts, part{acts: single[i : i+1 : i+1], uses: a.Uses, makes: a.Makes})
		if from < len(parts)-1 {
			parts = merge(parts, from, turned, maker)
		}
	}
	return parts
}

// goesBack says that an act has to do with stitches that the row made before.
func goesBack(a fabric.Act) bool {
	_, turns := a.Node.(*instruction.Turn)
	return turns || len(a.Passed) > 0 || liftsNext(&a)
}

// liftsNext says that an act lifts the next stitch over the last one.
func liftsNext(a *fabric.Act) bool {
	return a.Stitch != nil && a.Stitch.Kind == stitch.Worked && a.Stitch.Uses > 0 && len(a.Stitch.Makes) == 0
}

// bindsOff says that an act lifts one stitch over the next as binding off does:
// the one that it is lifted over is lifted in its turn, or it was the top of the
// lift before.
func bindsOff(acts []fabric.Act, i int) bool {
	if !lifts(&acts[i]) {
		return false
	}
	return i >= 2 && lifts(&acts[i-2]) && slices.Equal(acts[i].Passed, top(acts, i-2)) ||
		i+2 < len(acts) && lifts(&acts[i+2]) && slices.Equal(acts[i+2].Passed, top(acts, i))
}

func lifts(a *fabric.Act) bool {
	return a.Stitch != nil && a.Stitch.Unslipped && len(a.Passed) == 1
}

// top is the stitch that the lift at i went over.
func top(acts []fabric.Act, i int) []int32 {
	if i == 0 {
		return nil
	}
	return acts[i-1].Makes
}

// merge makes one part of those from a place on. After a turn only those that
// worked the stitches of the last one belong to it, which is what a stretch of
// plain stitches worked back and forth comes to.
func merge(parts []part, from int, turned bool, maker map[int32]int) []part {
	if turned {
		last := parts[len(parts)-1]
		if p := &parts[from]; len(last.acts) == 1 && slices.Equal(p.makes, last.uses) {
			p.acts, p.makes = append(slices.Clip(p.acts), last.acts...), last.makes
			parts = parts[:len(parts)-1]
			for _, c := range p.makes {
				maker[c] = from
			}
			return parts
		}
	}
	whole := part{}
	for _, p := range parts[from:] {
		whole.acts = append(whole.acts, p.acts...)
		whole.uses = append(whole.uses, p.uses...)
		whole.makes = append(whole.makes, p.makes...)
		whole.bead = whole.bead || p.bead
	}
	for _, c := range whole.makes {
		maker[c] = from
	}
	return append(parts[:from], whole)
}
