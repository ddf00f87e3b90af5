package chart

import (
	"fmt"
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
)

// draw draws the chart on its canvas, and its key.
func (l *layout) draw() {
	l.head()
	for i := range l.lines {
		l.row(i)
	}
	l.stitchNumbers()
	l.box()
	l.bracket()
	if here := l.v.Here - l.v.From; l.v.Here >= 0 && here >= 0 && here < len(l.lines) {
		l.here(here)
	}
	l.drawKey()
}

// captions say what the picture leaves out, and which of its rows come again.
func (l *layout) captions() []string {
	var lines []string
	switch l.cut {
	case CutStitches:
		p := l.part
		row := l.lines[p.row].row
		lines = append(lines, fmt.Sprintf("Stitches %d to %d of the %d of %s %d, and what lies above and below: too wide to be drawn whole", p.first, p.first+p.stitches-1, p.all, wordOf(row), row.Number))
	case CutRows:
		lines = append(lines, fmt.Sprintf("Cut to %d rows of %d: there are too many to be drawn at once", len(l.lines), l.asked.To-l.asked.From+1))
	}
	if l.again.times > 1 {
		lines = append(lines, l.again.says(l.lines))
	}
	return lines
}

func (l *layout) head() {
	title := titleOf(l.v)
	l.c.Title("Chart of " + title.text() + ", from the right side")
	l.c.Bold(Width/2, 46, headSize, canvas.Middle, canvas.Ink, title.cut(headSize, Width-60))
	for i, line := range l.captions() {
		l.c.Text(Width/2, float64(46+(i+1)*captionLine), noteSize, canvas.Middle, canvas.Ink, line)
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
		if i < l.split && l.repeat.times > 1 && k == line.from {
			l.c.Begin("once")
		}
		l.item(line, it, at.cells[k], y)
		if i < l.split && l.repeat.times > 1 && k == line.to-1 {
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
	text, y := "above: "+l.partName(i), l.foot[i]+float64(sectionGap)*0.7
	left, right := l.x(l.first+l.wide-1), l.right
	if canvas.TextWidth(noteSize, text) > right-left-40 {
		l.c.Text(left-16, y, noteSize, canvas.End, canvas.Ink, canvas.Cut(noteSize, left-32, text))
		return
	}
	l.c.Text((left+right)/2, y, noteSize, canvas.Middle, canvas.Ink, text)
}

// partName is what begins with a row: a section, or rows above a repeat.
func (l *layout) partName(i int) string {
	row := l.lines[i].row
	if i != l.split {
		return row.Section.Name
	}
	end := i + 1
	for end < len(l.lines) && l.lines[end].row.Section == row.Section {
		end++
	}
	return rowRange(wordOf(row), row.Number, l.lines[end-1].row.Number) + ", all stitches"
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

// numberSize is the size of the numbers of rows.
func (l *layout) numberSize() float64 { return min(26, max(13, float64(l.cell)*0.62)) }

// number writes the number of a row on the side where it begins.
func (l *layout) number(i int, y float64) {
	lo, hi, ok := l.ends(i)
	if !ok {
		return
	}
	row := l.lines[i].row
	size := l.numberSize()
	base := y + float64(l.cell)/2 + size*0.36
	text := strconv.Itoa(row.Number)
	write := l.c.Text
	if l.lines[i].index == l.v.Here {
		write = l.c.Bold
	}
	x, way := l.x(lo)+float64(l.cell), 1.0
	if row.Side == instruction.WS {
		x, way = l.x(hi), -1
	}
	if l.optional.rows[i] {
		l.ring(i, x+way*(10+canvas.BoldWidth(size, text)), way, y)
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
