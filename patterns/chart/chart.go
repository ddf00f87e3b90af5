package chart

import (
	"clew/patterns/chart/canvas"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// drawChart draws rows as symbols.
func drawChart(v View) (*Picture, error) {
	asked, rows := v, mostRows
	var c *layout
	for c == nil || c.over() > 0 && rows > 1 {
		if c != nil { // its key needs more room than most
			rows = max(1, min(rows, len(c.lines))-int(c.over())/leastCell-1)
		}
		var cutTo string
		v, cutTo = cut(asked, rows)
		c = read(v)
		c.asked, c.cut = asked, cutTo
		c.measure()
	}
	c.draw()
	facts := factsIn(v, pieces(v, c.acts))
	if c.split < len(c.lines) {
		facts.WholeFrom = c.lines[c.split].row.Number
	}
	facts.oncePerRepeat(c.repeat.times)
	facts.Again = c.again.fact(c.lines)
	facts.Cut = c.cut
	if c.cut == CutStitches {
		facts.DrawnFrom, facts.Drawn, facts.DrawnRow = c.part.first, c.part.stitches, c.lines[c.part.row].row.Number
	}
	if c.cut != "" {
		facts.Whole = [2]int{asked.Plan.Rows[asked.From].Number, asked.Plan.Rows[asked.To].Number}
	}
	return &Picture{canvas: c.c, facts: facts}, nil
}

// Sizes, in units.
const (
	widestCell  = 64 // of a square
	leastCell   = 14 // below it a symbol can't be read
	fairCell    = 22 // down to it squares are made smaller, so that a picture is at most
	fairHeight  = 1_700
	margin      = 78 // at each side of the squares, for the numbers
	headSize    = 34 // of letters
	keySize     = 22
	noteSize    = 22
	sectionGap  = 40 // between the rows of two sections
	topSpace    = 64 // for the heading, with no captions
	captionLine = 33
	footSpace   = 84 // for the numbers below
	keyRow      = 48 // of the key
	// mostCells is how many squares there is room for side by side.
	mostCells = (Width - 2*margin) / leastCell
	// mostRows is how many rows the height of a picture has room for, with a key.
	mostRows = (MaxHeight - topSpace - footSpace - 8*keyRow) / leastCell
)

// A layout is a chart: what is drawn, and where.
type layout struct {
	v, asked View
	cut      string
	lines    []*line // as drawn: with a repeat once
	repeat   repeat
	split    int // index of the first row above the repeat, of which all is drawn; their number for none
	again    rowRepeat
	optional optionalRows
	grid     *grid
	marks    *marks
	yarns    yarns
	c        *canvas.Canvas

	cell        int       // side of a square
	first, wide int       // the slots that are drawn: from the first, so many
	part        visible   // where the rows are cut; nothing where they are whole
	right       float64   // x of the right edge of slot first
	foot        []float64 // y of the lower edge of each row
	keys        []keyEntry
	keyTop      float64
	columns     int // of the key
	bottom      float64
}

// read makes a grid of the rows of a view.
func read(v View) *layout {
	l := &layout{v: v, marks: newMarks(v.Plan.Pattern), yarns: newYarns(v)}
	l.lines = linesOf(v, l.marks)
	l.repeat, l.split = findRepeat(l.lines), len(l.lines)
	if l.repeat.times < 2 && widest(l.lines) > mostCells {
		l.repeat, l.split = repeatBelow(l.lines)
	}
	if l.repeat.times > 1 {
		var below *line
		for i := range l.split {
			l.lines[i] = l.repeat.once(l.lines[i], below)
			below = l.lines[i]
		}
	}
	for _, line := range l.lines {
		for i := range line.items {
			l.yarns.add(line.items[i].yarn, line.row.After.YarnName(line.items[i].yarn))
		}
	}
	l.grid = laidOut(l.lines, l.split)
	l.again = findRowRepeat(l.lines)
	l.optional = findOptional(l.lines, v.Plan)
	return l
}

// linesOf reads the rows of a view.
func linesOf(v View, m *marks) []*line {
	reader := rowReader{plan: v.Plan, marks: m}
	var lines []*line
	for i := v.From; i <= v.To; i++ {
		lines = append(lines, reader.line(i))
	}
	return lines
}

// acts gives what was done in a row of the plan that is drawn.
func (l *layout) acts(row int) []fabric.Act { return l.lines[row-l.v.From].acts }

// measure finds the size of the squares and the place of everything.
func (l *layout) measure() {
	l.window()
	gaps := 0
	for i := range l.lines {
		if l.begins(i) {
			gaps++
		}
	}
	room := fairHeight - topSpace - footSpace
	l.cell = min(widestCell, (Width-2*margin)/max(1, l.wide))
	if l.cell*len(l.lines) > room {
		l.cell = min(l.cell, max(fairCell, room/len(l.lines)))
	}
	l.findKeys()
	keys := l.keyRows() * keyRow
	top := topSpace + len(l.captions())*captionLine
	below := footSpace + 20
	if l.repeat.times > 1 {
		below += 14 // how often it comes
	}
	if over := MaxHeight - top - below - gaps*sectionGap - keys; l.cell*len(l.lines) > over {
		l.cell = max(leastCell, over/len(l.lines))
	}
	l.cell &^= 1 // even: two pixels are a byte of the PNG, so that equal cells are equal bytes, and pack well
	foot := float64(top + l.cell*len(l.lines) + gaps*sectionGap)
	l.right = float64((Width + l.wide*l.cell) / 4 * 2)
	y := foot
	for i := range l.lines {
		if l.begins(i) {
			y -= sectionGap
		}
		l.foot = append(l.foot, y)
		y -= float64(l.cell)
	}
	l.keyTop = foot + float64(below) - 20
	l.bottom = foot + float64(below+keys)
	l.c = canvas.New(Width, min(MaxHeight, l.bottom), canvas.Plain)
}

// over is by how much the picture is higher than it may be.
func (l *layout) over() float64 { return l.bottom - MaxHeight }

// window decides which slots are drawn, where there are more than can be read:
// those around the row that matters where it fits, else from its beginning on.
// Then it takes the edge of all other rows in as well, if the row is still drawn
// for the most part, so that no stitches are lost where rows grow wider.
func (l *layout) window() {
	const most = mostCells
	l.wide = l.grid.slots
	if l.wide <= most {
		return
	}
	l.cut, l.wide = CutStitches, most
	at := 0
	if here := l.v.Here - l.v.From; here > 0 && here < len(l.lines) {
		at = here
	}
	cells := l.grid.rows[at].cells
	if len(cells) == 0 {
		return
	}
	lo, hi := cells[0].lo, cells[len(cells)-1].hi
	switch {
	case hi-lo < most:
		l.first = (lo + hi + 1 - most) / 2
	case l.lines[at].row.Side == instruction.WS:
		l.first = hi + 1 - most
		if _, widest := l.grid.reach(); widest-hi <= most/3 {
			l.first = widest + 1 - most
		}
	default:
		l.first = lo
		if widest, _ := l.grid.reach(); lo-widest <= most/3 {
			l.first = widest
		}
	}
	l.first = max(0, min(l.first, l.grid.slots-most))
	l.part = l.partOf(at)
	if l.part.stitches < l.part.all {
		return
	}
	for i := range l.lines { // that row is whole: the one of which most is missing
		if p := l.partOf(i); p.all-p.stitches > l.part.all-l.part.stitches {
			l.part = p
		}
	}
}

// A visible is the stitches of one row that are drawn of a picture whose rows
// are cut.
type visible struct {
	row             int // its index
	first, stitches int // the first, counted from 1 at the right, and how many
	all             int // how many the row has
}

// partOf gives what is drawn of a row: of the stitches that it makes, or of
// those that it uses where it makes none.
func (l *layout) partOf(row int) visible {
	p := visible{row: row}
	for k := range l.lines[row].items {
		at := l.grid.rows[row].cells[k]
		n := l.lines[row].items[k].spans()
		if _, _, ok := l.shown(at.lo, at.hi); ok {
			if p.stitches == 0 {
				p.first = p.all + 1
			}
			p.stitches += n
		}
		p.all += n
	}
	return p
}

// begins says that there is a gap below a row: it is the first of another
// section than the row below, or the first above a repeat.
func (l *layout) begins(i int) bool {
	return i > 0 && (i == l.split || l.lines[i].row.Section != l.lines[i-1].row.Section)
}

// x is the left edge of a slot.
func (l *layout) x(slot int) float64 { return l.right - float64((slot-l.first+1)*l.cell) }

// shown gives the part of a place that is drawn; false for none.
func (l *layout) shown(lo, hi int) (int, int, bool) {
	lo, hi = max(lo, l.first), min(hi, l.first+l.wide-1)
	return lo, hi, lo <= hi
}
