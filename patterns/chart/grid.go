package chart

import "slices"

// A grid says in which columns of squares, called slots, each cell of a chart
// stands. Slots are counted from the right, from 0.
type grid struct {
	slots int
	rows  []gridRow
}

// A gridRow is where the cells of one row stand.
type gridRow struct {
	cells  []place // of its items, in their order
	blanks []int   // slots between cells in which the row has no stitch
	wraps  []int   // slots of stitches that are wrapped and not worked
}

// A place is the slots of one cell.
type place struct {
	lo, hi   int   // the first and the last
	from, to []int // of a cross: of its stitches before and after, from the right
}

// A layer is the stitches on the needle, laid out in slots. While a grid is made,
// slots have names, since new ones may come between them.
type layer struct {
	order []int   // the slots, from right to left
	next  int     // the name of the next new one
	at    []int   // of each stitch, the index in order
	stand []int32 // the stitches, by column
}

// laidOut lays rows out, from the first to the last, those of each section by
// themselves, one section above the middle of the other; and so those from the
// split on above those below it.
func laidOut(lines []*line, split int) *grid {
	whole := &grid{}
	for from := 0; from < len(lines); {
		to := from + 1
		for to < len(lines) && to != split && lines[to].row.Section == lines[from].row.Section {
			to++
		}
		whole.add(sectionGrid(lines[from:to]))
		from = to
	}
	return whole
}

// sectionGrid lays out rows of one section. A row that makes as many stitches as
// it uses fills the slots of the row below. Where the number changes, the stitches
// on the shorter side move outward or inward; but where it is taken back in a row
// nearby, such as three stitches made out of one and worked together again, slots
// are put between for as long, and the other rows have no stitch there.
func sectionGrid(lines []*line) *grid {
	b := &layering{lines: lines, rows: make([]namedRow, len(lines))}
	for i := range lines {
		b.row(i)
	}
	return b.grid()
}

// add puts the rows of another grid above those of this one.
func (g *grid) add(above *grid) {
	move := 0
	if len(g.rows) > 0 {
		move = (g.rows[len(g.rows)-1].middle() - above.rows[0].middle()) / 2
	}
	for _, r := range g.rows {
		r.move(max(0, -move))
	}
	for _, r := range above.rows {
		r.move(max(0, move))
	}
	g.slots = max(g.slots+max(0, -move), above.slots+max(0, move))
	g.rows = append(g.rows, above.rows...)
}

// reach gives the slots of the first and the last cell of all rows.
func (g *grid) reach() (first, last int) {
	first = g.slots
	for _, r := range g.rows {
		if n := len(r.cells); n > 0 {
			first, last = min(first, r.cells[0].lo), max(last, r.cells[n-1].hi)
		}
	}
	return first, last
}

// middle is twice the middle of the cells of a row.
func (r gridRow) middle() int {
	if len(r.cells) == 0 {
		return 0
	}
	return r.cells[0].lo + r.cells[len(r.cells)-1].hi
}

// move moves a row to the left.
func (r gridRow) move(by int) {
	for k := range r.cells {
		c := &r.cells[k]
		c.lo, c.hi = c.lo+by, c.hi+by
		for _, slots := range [][]int{c.from, c.to} {
			for i := range slots {
				slots[i] += by
			}
		}
	}
	for _, slots := range [][]int{r.blanks, r.wraps} {
		for i := range slots {
			slots[i] += by
		}
	}
}

// layering makes a grid.
type layering struct {
	layer
	lines []*line
	rows  []namedRow
	gaps  [][2]int32 // neighbours between which the row below left no stitch, from right to left
}

// A namedRow is a gridRow with slots by name.
type namedRow struct {
	cells [][]int // the slots of the stitches that each item is drawn over
	idle  []int   // of the stitches that are not worked
	wraps []int   // of those that are wrapped
}

// A thing is what takes part in the layout of a row: an item, or a stitch that
// is not worked.
type thing struct {
	item  int // -1 for a stitch that is not worked
	uses  []int
	spans int
	back  bool // the number of stitches is taken back in another row: see laidOut
	shift int  // of the stitches there
	slots []int
}

func (t *thing) grows() int { return t.spans - len(t.uses) }

// row lays out one row.
func (b *layering) row(i int) {
	l := b.lines[i]
	if !slices.Equal(b.stand, l.before) {
		b.stands(l.before)
	}
	b.closeGaps(i)
	things := b.things(i)
	if b.settle(i, things) {
		b.makeRoom(things)
		b.spread(things)
		b.centre(things)
	} else {
		b.refill(things)
	}
	b.place(i, things)
}

// stands puts stitches into the layer that the row below did not leave in this
// order: at the beginning, after stitches came off hold, on a new piece. Those
// that are known keep their slots as long as the order lets them.
func (b *layering) stands(before []int32) {
	known := places(b.stand)
	at := make([]int, len(before))
	last := -1
	for i, c := range before {
		at[i] = last + 1
		if k, ok := known[c]; ok && b.at[k] > last {
			at[i] = b.at[k]
		}
		last = at[i]
	}
	b.extend(0, last+1-len(b.order))
	b.at, b.stand = at, before
}

// extend adds slots at the right and at the left end.
func (b *layering) extend(right, left int) {
	if right > 0 {
		more := make([]int, right)
		for i := range more {
			more[i] = b.name()
		}
		b.order = append(more, b.order...)
		for i := range b.at {
			b.at[i] += right
		}
	}
	for ; left > 0; left-- {
		b.order = append(b.order, b.name())
	}
}

func (b *layering) name() int {
	b.next++
	return b.next - 1
}

// things gives what takes part in a row, from right to left.
func (b *layering) things(i int) []thing {
	l, was := b.lines[i], b.lines[i].was
	things := make([]thing, 0, len(l.items)+len(l.before))
	all := make([]int, 0, len(l.before)) // what the uses are cut from
	next := 0
	idle := func(to int) {
		for ; next < to; next++ {
			all = append(all, next)
			things = append(things, thing{item: -1, uses: all[len(all)-1:], spans: 1})
		}
	}
	for k := range l.items {
		it := &l.items[k]
		t := thing{item: k, spans: it.spans()}
		if len(it.uses) > 0 {
			idle(was[it.uses[0]])
			from := len(all)
			for _, c := range it.uses {
				all = append(all, was[c])
			}
			t.uses = all[from:]
			next = max(next, all[len(all)-1]+1)
		}
		things = append(things, t)
	}
	idle(len(l.before))
	return things
}

// place notes where the cells of a row stand, and what is on the needle then.
func (b *layering) place(i int, things []thing) {
	low, high := 0, len(b.order)-1
	for k := range things {
		slots := things[k].slots
		low, high = min(low, slots[0]), max(high, slots[len(slots)-1])
	}
	b.extend(-low, high+1-len(b.order))
	l := b.lines[i]
	row := namedRow{cells: make([][]int, len(l.items))}
	at := make([]int, 0, len(l.after))
	names := make([]int, 0, len(l.after)+len(l.items)) // what the cells are cut from
	for k := range things {
		t := &things[k]
		for j := range t.slots {
			t.slots[j] -= low
		}
		if t.item < 0 {
			at = append(at, t.slots...)
			name := b.order[t.slots[0]]
			row.idle = append(row.idle, name)
			if slices.Contains(l.wraps, l.before[t.uses[0]]) {
				row.wraps = append(row.wraps, name)
			}
			continue
		}
		it := &l.items[t.item]
		at = append(at, t.slots[:len(it.makes)]...)
		from := len(names)
		for _, k := range t.slots {
			names = append(names, b.order[k])
		}
		row.cells[t.item] = names[from:len(names):len(names)]
	}
	b.rows[i] = row
	b.findGaps(l, things)
	if b.at, b.stand = at, l.after; len(at) != len(l.after) || !slices.IsSorted(at) {
		b.stand, b.at = nil, nil
		b.stands(l.after)
	}
}

// grid gives the slots their numbers, when all rows are laid out, without those
// that no cell stands in.
func (b *layering) grid() *grid {
	used := make([]bool, b.next)
	for _, r := range b.rows {
		for _, s := range slices.Concat(append(r.cells, r.wraps)...) {
			used[s] = true
		}
	}
	number := make([]int, b.next)
	g := &grid{rows: make([]gridRow, len(b.rows))}
	for _, name := range b.order {
		number[name] = g.slots
		if used[name] {
			g.slots++
		}
	}
	for i, r := range b.rows {
		g.rows[i] = r.numbered(number, b.lines[i])
	}
	return g
}

func (r namedRow) numbered(number []int, l *line) gridRow {
	out := gridRow{cells: make([]place, 0, len(r.cells)), wraps: numbers(number, r.wraps)}
	idle := numbers(number, r.idle)
	next := -1
	for k, slots := range r.cells {
		p := place{lo: number[slots[0]], hi: number[slots[len(slots)-1]]}
		if it := &l.items[k]; it.cross != nil {
			p.from, p.to = make([]int, len(it.uses)), numbers(number, slots[:len(it.makes)])
			for j := range p.from { // as many as it makes stand in the same slots; more are drawn closer
				p.from[j] = number[slots[j*len(slots)/len(p.from)]]
			}
		}
		if next >= 0 {
			for s := next; s < p.lo; s++ {
				if !slices.Contains(idle, s) {
					out.blanks = append(out.blanks, s)
				}
			}
		}
		next = p.hi + 1
		out.cells = append(out.cells, p)
	}
	return out
}

func numbers(number, names []int) []int {
	out := make([]int, len(names))
	for i, n := range names {
		out[i] = number[n]
	}
	return out
}
