package chart

import (
	"fmt"
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
)

// drawChart draws rows as symbols.
func drawChart(v View) (*Picture, error) {
	asked := v
	v, cutTo := cut(v, mostRows)
	c := read(v)
	c.asked, c.cut = asked, cutTo
	c.measure()
	c.draw()
	facts := factsOf(v)
	facts.oncePerRepeat(c.repeat.times)
	facts.Cut = c.cut
	if c.cut != "" {
		facts.Whole = [2]int{asked.Plan.Rows[asked.From].Number, asked.Plan.Rows[asked.To].Number}
	}
	return &Picture{canvas: c.c, facts: facts}, nil
}

// Sizes, in units.
const (
	widestCell = 64 // of a square
	leastCell  = 14 // below it a symbol can't be read
	fairCell   = 22 // down to it squares are made smaller, so that a picture is at most
	fairHeight = 1_700
	margin     = 78 // at each side of the squares, for the numbers
	headSize   = 34 // of letters
	keySize    = 22
	noteSize   = 22
	sectionGap = 40 // between the rows of two sections
	topSpace   = 64 // for the heading
	footSpace  = 84 // for the numbers below
	keyRow     = 48 // of the key
	// mostRows is how many rows the height of a picture has room for, with a key.
	mostRows = (MaxHeight - topSpace - footSpace - 8*keyRow) / leastCell
)

// A sheet of a chart: what is drawn and where.
type layout struct {
	v, asked View
	cut      string
	lines    []*line // as drawn: with a repeat once
	repeat   repeat
	grid     *grid
	marks    *marks
	yarns    yarns
	c        *canvas.Canvas

	cell        int       // side of a square
	first, wide int       // the slots that are drawn: from the first, so many
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
	reader := rowReader{plan: v.Plan, marks: l.marks}
	for i := v.From; i <= v.To; i++ {
		l.lines = append(l.lines, reader.line(i))
	}
	l.repeat = findRepeat(l.lines)
	if l.repeat.times > 1 {
		var below *line
		for i := range l.lines {
			l.lines[i] = l.repeat.once(l.lines[i], below)
			below = l.lines[i]
		}
	}
	for _, line := range l.lines {
		for i := range line.items {
			l.yarns.add(line.items[i].yarn, line.row.After.YarnName(line.items[i].yarn))
		}
	}
	l.grid = laidOut(l.lines)
	return l
}

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
	if over := MaxHeight - topSpace - footSpace - gaps*sectionGap - keys - 60; l.cell*len(l.lines) > over {
		l.cell = max(leastCell, over/len(l.lines))
	}
	l.cell &^= 1 // even: two pixels are a byte of the PNG, so that equal cells are equal bytes, and pack well
	top := float64(topSpace)
	if l.caption() != "" {
		top += noteSize * 1.5
	}
	height := float64(l.cell*len(l.lines) + gaps*sectionGap)
	l.right = float64((Width + l.wide*l.cell) / 4 * 2)
	y := top + height
	for i := range l.lines {
		if l.begins(i) {
			y -= sectionGap
		}
		l.foot = append(l.foot, y)
		y -= float64(l.cell)
	}
	l.keyTop = top + height + footSpace
	if l.repeat.times > 1 {
		l.keyTop += 14
	}
	l.bottom = min(MaxHeight, l.keyTop+float64(keys)+20)
	l.c = canvas.New(Width, l.bottom, canvas.Plain)
}

// window decides which slots are drawn, where there are more than can be read:
// those around the row that matters where it fits, else from its beginning on.
func (l *layout) window() {
	most := (Width - 2*margin) / leastCell
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
	default:
		l.first = lo
	}
	l.first = max(0, min(l.first, l.grid.slots-most))
}

// begins says that a row is the first of another section than the row below, or
// that a new piece begins with it.
func (l *layout) begins(i int) bool {
	return i > 0 && l.lines[i].row.Section != l.lines[i-1].row.Section
}

// x is the left edge of a slot.
func (l *layout) x(slot int) float64 { return l.right - float64((slot-l.first+1)*l.cell) }

// shown gives the part of a place that is drawn; false for none.
func (l *layout) shown(lo, hi int) (int, int, bool) {
	lo, hi = max(lo, l.first), min(hi, l.first+l.wide-1)
	return lo, hi, lo <= hi
}

func (l *layout) draw() {
	l.head()
	for i := range l.lines {
		l.row(i)
	}
	l.stitchNumbers()
	l.box()
	if here := l.v.Here - l.v.From; l.v.Here >= 0 && here >= 0 && here < len(l.lines) {
		l.here(here)
	}
	l.drawKey()
}

// word is "row" or "round", as the rows of a view are called.
func (l *layout) word() string {
	if l.lines[0].row.Rounds {
		return "round"
	}
	return "row"
}

func rowRange(word string, from, to int) string {
	if from == to {
		return fmt.Sprintf("%s %d", word, from)
	}
	return fmt.Sprintf("%ss %d to %d", word, from, to)
}

// title names the section and its rows; of several sections each end.
func (l *layout) title() string {
	from, to := l.lines[0].row, l.lines[len(l.lines)-1].row
	if from.Section == to.Section {
		return from.Section.Name + ": " + rowRange(l.word(), from.Number, to.Number)
	}
	return fmt.Sprintf("%s, %s %d, to %s, %s %d", from.Section.Name, l.word(), from.Number, to.Section.Name, map[bool]string{true: "round", false: "row"}[to.Rounds], to.Number)
}

// caption says what the picture leaves out.
func (l *layout) caption() string {
	switch l.cut {
	case CutStitches:
		return fmt.Sprintf("Cut to %d stitches of %d: the rows are too wide to be drawn whole", l.wide, l.grid.slots)
	case CutRows:
		return fmt.Sprintf("Cut to %d rows of %d: there are too many to be drawn at once", len(l.lines), l.asked.To-l.asked.From+1)
	}
	return ""
}

func (l *layout) head() {
	title := l.title()
	l.c.Describe(title, "Chart of "+title+", seen from the right side")
	l.c.Bold(Width/2, 46, headSize, canvas.Middle, canvas.Ink, canvas.Cut(headSize, Width-60, title))
	if note := l.caption(); note != "" {
		l.c.Text(Width/2, 46+noteSize*1.5, noteSize, canvas.Middle, canvas.Ink, note)
	}
}

// row draws one row: its cells and its number.
func (l *layout) row(i int) {
	line, at := l.lines[i], l.grid.rows[i]
	y := l.foot[i] - float64(l.cell)
	l.c.Begin("row", "row", strconv.Itoa(line.row.Number), "side", line.row.Side.String(), "section", line.row.Section.Name)
	if l.begins(i) {
		l.sectionName(i)
	}
	l.ground(at, y)
	for k := range line.items {
		it := &line.items[k]
		if l.repeat.times > 1 && k == line.from {
			l.c.Begin("once")
		}
		l.item(line, it, at.cells[k], y)
		if l.repeat.times > 1 && k == line.to-1 {
			l.c.End()
		}
	}
	for _, s := range at.blanks {
		if _, _, ok := l.shown(s, s); ok {
			l.c.Begin("blank")
			l.fill(s, s, y, canvas.Blank)
			l.c.End()
		}
	}
	for _, s := range at.wraps {
		if _, _, ok := l.shown(s, s); ok {
			l.c.Begin("wrap")
			l.c.Stamp(wrapSymbol, l.x(s), y, float64(l.cell), float64(l.cell), canvas.Paper)
			l.c.End()
		}
	}
	l.number(i, y)
	l.c.End()
}

// sectionName says below the first row of a section what begins there: between
// the rows, or beside them where they are narrow.
func (l *layout) sectionName(i int) {
	text, y := "above: "+l.lines[i].row.Section.Name, l.foot[i]+float64(sectionGap)*0.7
	left, right := l.x(l.first+l.wide-1), l.right
	if canvas.TextWidth(noteSize, text) > right-left-40 {
		l.c.Text(left-16, y, noteSize, canvas.End, canvas.Ink, canvas.Cut(noteSize, left-32, text))
		return
	}
	l.c.Text((left+right)/2, y, noteSize, canvas.Middle, canvas.Ink, text)
}

// ground draws what the lines of the grid show through: everything from the
// first cell to the last that stands side by side with others.
func (l *layout) ground(at gridRow, y float64) {
	for k := 0; k < len(at.cells); {
		lo, hi := at.cells[k].lo, at.cells[k].hi
		for k++; k < len(at.cells) && (at.cells[k].lo == hi+1 || slices.Contains(at.blanks, hi+1)); k++ {
			hi = at.cells[k].hi
		}
		if lo, hi, ok := l.shown(lo, hi); ok {
			l.c.Rect(l.x(hi), y, float64((hi-lo+1)*l.cell+1), float64(l.cell+1), canvas.Faint)
		}
	}
}

// fill paints slots but for the lines around them.
func (l *layout) fill(lo, hi int, y float64, color canvas.Color) {
	l.c.Rect(l.x(hi)+1, y+1, float64((hi-lo+1)*l.cell-1), float64(l.cell-1), color)
}

// item draws one cell.
func (l *layout) item(line *line, it *item, at place, y float64) {
	lo, hi, ok := l.shown(at.lo, at.hi)
	if !ok {
		return
	}
	ground := canvas.Paper
	if line.index == l.v.Here {
		ground = canvas.Here
	}
	if len(l.yarns.order) > 1 {
		ground = l.yarns.tint(it.yarn)
	}
	l.begin(line, it)
	l.fill(lo, hi, y, ground)
	symbol := it.mark.symbol
	if it.cross != nil {
		from, to := offsets(at.from, at.lo), offsets(at.to, at.lo)
		symbol = l.marks.crossing(it.cross, it.mark.name, at.hi-at.lo+1, from, to)
	}
	if symbol != nil && lo == at.lo && hi == at.hi { // one that the edge of the picture cuts stays empty
		l.stamp(it, symbol, lo, hi, y, ground)
	}
	if it.bead {
		l.c.Stamp(beadSymbol, (l.x(lo)+l.x(hi))/2, y, float64(l.cell), float64(l.cell), ground)
	}
	if len(l.yarns.order) > 1 {
		l.letter(it, lo, hi, y, symbol == nil)
	}
	l.c.End()
}

// begin opens the group of a cell. A cross says where its first stitch from the
// right stands among those on the needle after the row.
func (l *layout) begin(line *line, it *item) {
	switch made := strconv.Itoa(len(it.makes)); {
	case it.cross != nil:
		at := 0
		if len(it.makes) > 0 {
			at = slices.Index(line.after, it.makes[0]) + 1
		}
		l.c.Begin("cross", "name", it.mark.name, "front", it.cross.front, "row", strconv.Itoa(line.row.Number), "at", strconv.Itoa(at), "makes", made)
	case made == "1":
		l.c.Begin("cell", "stitch", it.mark.name)
	default:
		l.c.Begin("cell", "stitch", it.mark.name, "makes", made)
	}
}

// letter writes the letter of a yarn into a cell: in the middle of an empty one,
// in the corner beside a symbol, if there is room for it.
func (l *layout) letter(it *item, lo, hi int, y float64, empty bool) {
	side, text := float64(l.cell), l.yarns.letter(it.yarn)
	switch {
	case empty:
		size := min(26, side*0.6)
		l.c.Text((l.x(lo)+l.x(hi)+side)/2, y+side/2+size*0.36, size, canvas.Middle, canvas.Ink, text)
	case l.cell >= fairCell:
		l.c.Text(l.x(hi)+3, y+side-3, side*0.36, canvas.Start, canvas.Ink, text)
	}
}

func offsets(slots []int, lo int) []int {
	out := make([]int, len(slots))
	for i, s := range slots {
		out[i] = s - lo
	}
	return out
}

// stamp draws the symbol of a cell. One that is made for a single square, of
// something that is drawn over several, stands in each of them.
func (l *layout) stamp(it *item, symbol *canvas.Symbol, lo, hi int, y float64, ground canvas.Color) {
	side := float64(l.cell)
	switch {
	case it.cross != nil || it.mark.width > 1:
		l.c.Stamp(symbol, l.x(hi), y, float64(hi-lo+1)*side, side, ground)
	case it.mark.symbol == heldSymbol:
		for s := lo; s <= hi; s++ {
			l.c.Stamp(symbol, l.x(s), y, side, side, ground)
		}
	default:
		l.c.Stamp(symbol, (l.x(lo)+l.x(hi))/2, y, side, side, ground)
	}
}

// number writes the number of a row on the side where it begins.
func (l *layout) number(i int, y float64) {
	lo, hi, ok := l.ends(i)
	if !ok {
		return
	}
	row := l.lines[i].row
	size := min(26, max(13, float64(l.cell)*0.62))
	base := y + float64(l.cell)/2 + size*0.36
	text := strconv.Itoa(row.Number)
	write := l.c.Text
	if l.lines[i].index == l.v.Here {
		write = l.c.Bold
	}
	if row.Side == instruction.WS {
		write(l.x(hi)-10, base, size, canvas.End, canvas.Ink, text)
	} else {
		write(l.x(lo)+float64(l.cell)+10, base, size, canvas.Start, canvas.Ink, text)
	}
}

// ends gives the first and the last slot of a row that are drawn.
func (l *layout) ends(i int) (lo, hi int, ok bool) {
	cells := l.grid.rows[i].cells
	if len(cells) == 0 {
		return 0, 0, false
	}
	return l.shown(cells[0].lo, cells[len(cells)-1].hi)
}

// stitchNumbers writes the numbers of the stitches of the first row below it.
func (l *layout) stitchNumbers() {
	size := min(22, max(13, float64(l.cell)*0.5))
	every := 1
	if float64(l.cell) < canvas.TextWidth(size, "000") {
		every = 5
	}
	nth, last := 0, 0
	for k := range l.lines[0].items {
		last += l.lines[0].items[k].spans()
	}
	for k := range l.lines[0].items {
		at := l.grid.rows[0].cells[k]
		for j := range l.lines[0].items[k].spans() {
			nth++
			slot := min(at.lo+j, at.hi)
			if at.to != nil && j < len(at.to) {
				slot = at.to[j]
			}
			if _, _, ok := l.shown(slot, slot); !ok || nth%every != 0 && nth != 1 && (nth != last || nth%every < 2) {
				continue
			}
			l.c.Begin("stitch-number", "number", strconv.Itoa(nth))
			l.c.Text(l.x(slot)+float64(l.cell)/2, l.foot[0]+size+6, size, canvas.Middle, canvas.Ink, strconv.Itoa(nth))
			l.c.End()
		}
	}
}

// box draws a heavy line around a repeat that is drawn once, and says how often
// it is worked.
func (l *layout) box() {
	if l.repeat.times < 2 {
		return
	}
	const heavy = 4
	l.c.Begin("repeat", "times", strconv.Itoa(l.repeat.times))
	side := float64(l.cell)
	var rightWas, leftWas float64
	for i, line := range l.lines {
		cells := l.grid.rows[i].cells[line.from:line.to]
		lo, hi, ok := l.shown(cells[0].lo, cells[len(cells)-1].hi)
		if !ok {
			continue
		}
		right, left := l.x(lo)+side, l.x(hi)
		foot, top := l.foot[i], l.foot[i]-side
		if l.begins(i) {
			foot += sectionGap
		}
		l.c.Line(right, foot, right, top, heavy, canvas.Ink, false)
		l.c.Line(left, foot, left, top, heavy, canvas.Ink, false)
		if i == 0 {
			l.c.Line(left, foot, right, foot, heavy, canvas.Ink, false)
			l.c.Bold((left+right)/2, foot+58, noteSize, canvas.Middle, canvas.Ink, strconv.Itoa(l.repeat.times)+" times")
		} else {
			l.c.Line(right, foot, rightWas, foot, heavy, canvas.Ink, false)
			l.c.Line(left, foot, leftWas, foot, heavy, canvas.Ink, false)
		}
		if i == len(l.lines)-1 {
			l.c.Line(left, top, right, top, heavy, canvas.Ink, false)
		}
		rightWas, leftWas = right, left
	}
	l.c.End()
}

// here marks the current row: a frame, and an arrow at its number.
func (l *layout) here(i int) {
	lo, hi, ok := l.ends(i)
	if !ok {
		return
	}
	row, side := l.lines[i].row, float64(l.cell)
	top, foot, left, right := l.foot[i]-side, l.foot[i], l.x(hi), l.x(lo)+side
	l.c.Begin("here", "row", strconv.Itoa(row.Number))
	for _, e := range [][4]float64{{left, top, right, top}, {left, foot, right, foot}, {left, top, left, foot}, {right, top, right, foot}} {
		l.c.Line(e[0], e[1], e[2], e[3], 4, canvas.Ink, false)
	}
	size := min(26, max(13, side*0.62))
	width := canvas.BoldWidth(size, strconv.Itoa(row.Number)) + 18
	x, way := right+width, 1.0
	if row.Side == instruction.WS {
		x, way = left-width, -1
	}
	mid, half := (top+foot)/2, min(12, side*0.4)
	l.c.Path(canvas.Stroke{Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(x, mid), canvas.LineTo(x+way*half*1.6, mid-half), canvas.LineTo(x+way*half*1.6, mid+half), canvas.ClosePath()}})
	l.c.End()
}
