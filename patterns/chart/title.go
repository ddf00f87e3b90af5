package chart

import (
	"fmt"
	"math"

	"clew/patterns"
	"clew/patterns/chart/canvas"
)

// A title names the rows of a picture: a section and its rows; of several
// sections the row at each end.
type title []titlePart

// A titlePart is the name of a section and what follows it.
type titlePart struct{ section, rows string }

func titleOf(v View) title {
	from, to := v.Plan.Rows[v.From], v.Plan.Rows[v.To]
	if from.Section == to.Section {
		return title{{from.Section.Name, ": " + rowRange(wordOf(from), from.Number, to.Number)}}
	}
	return title{
		{from.Section.Name, fmt.Sprintf(", %s %d, to ", wordOf(from), from.Number)},
		{to.Section.Name, fmt.Sprintf(", %s %d", wordOf(to), to.Number)},
	}
}

// text is the title in full.
func (t title) text() string { return t.cut(1, math.Inf(1)) }

// cut is the title as far as there is room for it in bold letters: long names of
// sections are cut, and their rows are not.
func (t title) cut(size, room float64) string {
	for _, p := range t {
		room -= canvas.BoldWidth(size, p.rows)
	}
	text := ""
	for i, p := range t {
		name := canvas.CutBold(size, room/float64(len(t)-i), p.section)
		room -= canvas.BoldWidth(size, name)
		text += name + p.rows
	}
	return text
}

// wordOf is "row" or "round", as a row is called.
func wordOf(r *patterns.Row) string {
	if r.Rounds {
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
