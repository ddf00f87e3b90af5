package chart

import (
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
)

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
	for i, line := range l.lines[:l.split] {
		cells := l.grid.rows[i].cells[line.from:line.to]
		first, last := cells[0].lo, cells[len(cells)-1].hi
		lo, hi, ok := l.shown(first, last)
		if !ok {
			continue
		}
		right, left := l.x(lo)+side, l.x(hi)
		foot, top := l.foot[i], l.foot[i]-side
		if l.begins(i) {
			foot += sectionGap
		}
		if lo == first { // else the picture is cut there
			l.c.Line(right, foot, right, top, heavy, canvas.Ink, false)
		}
		if hi == last {
			l.c.Line(left, foot, left, top, heavy, canvas.Ink, false)
		}
		if i == 0 {
			l.c.Line(left, foot, right, foot, heavy, canvas.Ink, false)
			l.c.Bold((left+right)/2, foot+58, noteSize, canvas.Middle, canvas.Ink, strconv.Itoa(l.repeat.times)+" times")
		} else {
			l.c.Line(right, foot, rightWas, foot, heavy, canvas.Ink, false)
			l.c.Line(left, foot, leftWas, foot, heavy, canvas.Ink, false)
		}
		if i == l.split-1 {
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
	size := l.numberSize()
	width := canvas.BoldWidth(size, strconv.Itoa(row.Number)) + 18
	if l.optional.rows[i] {
		width += ringRoom
	}
	x, way := right+width, 1.0
	if row.Side == instruction.WS {
		x, way = left-width, -1
	}
	mid, half := (top+foot)/2, min(12, side*0.4)
	l.c.Path(canvas.Stroke{Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(x, mid), canvas.LineTo(x+way*half*1.6, mid-half), canvas.LineTo(x+way*half*1.6, mid+half), canvas.ClosePath()}})
	l.c.End()
}
