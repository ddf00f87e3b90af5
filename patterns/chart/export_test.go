package chart

// CellsOf gives, for the tests, the first and the last slot of each cell of a
// view, row by row, and the slots that have no stitch.
func CellsOf(v View) (cells [][][2]int, blanks [][]int) {
	l := read(v)
	for _, r := range l.grid.rows {
		var row [][2]int
		for _, p := range r.cells {
			row = append(row, [2]int{p.lo, p.hi})
		}
		cells, blanks = append(cells, row), append(blanks, r.blanks)
	}
	return cells, blanks
}

// RepeatOf gives the repeat that is found in a view: the stitches of its edges,
// and how many times it stands between them.
func RepeatOf(v View) (right, left, times int) {
	l := read(v)
	return l.repeat.right, l.repeat.left, l.repeat.times
}

// RowRepeatOf gives the rows of a view that come again: the number of the first,
// how many they are, and how often they come.
func RowRepeatOf(v View) (from, rows, times int) {
	l := read(v)
	return l.lines[l.again.from].row.Number, l.again.rows, l.again.times
}

// DrawWhole draws fabric that is low and wide with all of its repeats.
func DrawWhole(v View) (*Picture, error) { return drawFabric(v, true) }
