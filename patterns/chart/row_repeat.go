package chart

import (
	"fmt"
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
)

// A rowRepeat is rows that come again above themselves, alike each time. All of
// them are drawn: a bracket marks the first.
type rowRepeat struct {
	from, rows int // the index of the first row, and how many there are
	times      int // 1 for none
}

// fact tells what comes again.
func (r rowRepeat) fact(lines []*line) RowRepeat {
	if r.times < 2 {
		return RowRepeat{}
	}
	first := lines[r.from].row.Number
	return RowRepeat{First: first, Last: first + r.rows - 1, Times: r.times}
}

// says is the heading's line on what comes again, which the chart draws as often
// as it is worked.
func (r rowRepeat) says(lines []*line) string {
	f, word := r.fact(lines), wordOf(lines[r.from].row)
	again := rowRange(word, f.Last+1, f.Last+(f.Times-1)*r.rows)
	times := strconv.Itoa(f.Times) + " times"
	if f.Times == 2 {
		times = "twice"
	}
	return fmt.Sprintf("Bracket: %s are worked %s: %s are the same again", rowRange(word, f.First, f.Last), times, again)
}

// longestRows is how many rows are looked for that come again.
const longestRows = 40

// findRowRepeat gives the rows whose repeats fill the most of a chart: at least
// two rows that differ, at least twice, and at least half of the chart.
func findRowRepeat(lines []*line) rowRepeat {
	best := rowRepeat{times: 1}
	kinds := kindsOf(lines)
	for rows := 2; rows <= min(longestRows, len(lines)/2); rows++ {
		for from := 0; from+2*rows <= len(lines); {
			to := from + rows // the rows up to there are like those so many below
			for to < len(lines) && kinds[to] == kinds[to-rows] {
				to++
			}
			found := rowRepeat{from: from, rows: rows, times: (to - from) / rows}
			if (to-from)%rows > 0 && lines[from].row.Side == instruction.WS {
				found.from++ // a knitter begins on the right side
			}
			alike := found.rows * found.times
			if found.times > 1 && alike > best.rows*best.times && 2*alike >= len(lines) && differ(kinds[from:from+rows]) {
				best = found
			}
			from = to - rows + 1
		}
	}
	return best
}

// differ says that rows are not all of one kind.
func differ(kinds []int) bool {
	return slices.ContainsFunc(kinds, func(kind int) bool { return kind != kinds[0] })
}

// kindsOf gives a number to each row, the same to those that are alike.
func kindsOf(lines []*line) []int {
	kinds := make([]int, len(lines))
	var first []*line // of each kind
	for i, l := range lines {
		kinds[i] = slices.IndexFunc(first, l.alike)
		if kinds[i] < 0 {
			kinds[i] = len(first)
			first = append(first, l)
		}
	}
	return kinds
}

// alike says that two rows of a section are the same to a knitter: worked the
// same way, with the same stitches at the same place on the needle.
func (l *line) alike(other *line) bool {
	return l.row.Section == other.row.Section && l.row.Side == other.row.Side &&
		len(l.before) == len(other.before) && len(l.after) == len(other.after) && len(l.wraps) == len(other.wraps) &&
		l.begins() == other.begins() &&
		slices.EqualFunc(l.items, other.items, func(a, b item) bool { return a.same(&b) })
}

// begins is how many stitches lie to the right of the first that is worked.
func (l *line) begins() int {
	for i := range l.items {
		if uses := l.items[i].uses; len(uses) > 0 {
			return l.was[uses[0]]
		}
	}
	return 0
}

// bracket marks the rows that come again, at their left side, clear of their
// numbers. How often they come stands in the heading.
func (l *layout) bracket() {
	if l.again.times < 2 {
		return
	}
	first, last := l.again.from, l.again.from+l.again.rows-1
	left := float64(Width)
	for i := first; i <= last; i++ {
		if _, hi, ok := l.ends(i); ok {
			left = min(left, l.x(hi))
		}
	}
	room := 16.0
	if !l.lines[first].row.Rounds { // the numbers of wrong-side rows, and the arrow of the current one
		room += 40 + canvas.BoldWidth(l.numberSize(), strconv.Itoa(l.lines[last].row.Number))
		if len(l.optional.rows) > 0 {
			room += ringRoom
		}
	}
	const heavy, tick = 3, 10
	x, foot, top := max(heavy, left-room), l.foot[first]-heavy, l.foot[last]-float64(l.cell)+heavy
	l.c.Begin("row-repeat", "from", strconv.Itoa(l.lines[first].row.Number), "to", strconv.Itoa(l.lines[last].row.Number), "times", strconv.Itoa(l.again.times))
	l.c.Line(x, foot, x, top, heavy, canvas.Ink, false)
	l.c.Line(x, foot, x+tick, foot, heavy, canvas.Ink, false)
	l.c.Line(x, top, x+tick, top, heavy, canvas.Ink, false)
	l.c.End()
}
