package chart

import (
	"fmt"
	"slices"
	"strconv"

	"clew/patterns"
	"clew/patterns/chart/canvas"
)

// optionalRows are the rows of a chart that a knitter may leave out.
type optionalRows struct {
	rows  map[int]bool // by their index in the chart
	steps []int        // how many go at a time, of each group, from the least
}

// findOptional gives the rows that stand in a group that may be left out: of
// their own section or panel, or of a panel that they work.
func findOptional(lines []*line, plan *patterns.Plan) optionalRows {
	o := optionalRows{rows: map[int]bool{}}
	mark := func(i, step int) {
		if o.rows[i] = true; !slices.Contains(o.steps, step) {
			o.steps = append(o.steps, step)
		}
	}
	groups := plan.Pattern.Optionals(plan.Size)
	for i, l := range lines {
		if own := l.row.Line; own != nil && own.Optional.At(plan.Size) > 0 {
			mark(i, own.Optional.At(plan.Size))
		}
		for _, group := range groups {
			if l.row.LeftOutBy(patterns.LeftOut{Owner: group.Owner, From: group.From, Rows: group.Count()}) {
				mark(i, group.Step)
			}
		}
	}
	slices.Sort(o.steps)
	return o
}

// says is what the key says of these rows.
func (o optionalRows) says(word string) string {
	switch {
	case len(o.steps) > 1:
		return word + "s that may be left out, as many at a time as the pattern says"
	case o.steps[0] == 1:
		return word + "s that may be left out, one by one"
	}
	return fmt.Sprintf("%ss that may be left out, %d at a time", word, o.steps[0])
}

// ringRoom is how much room a ring takes beside the number of a row.
const ringRoom = 18

// ringSymbol marks such a row in the key.
var ringSymbol = canvas.NewSymbol("optional", 1, 1, ring(0.5, 0.5, 0.2))

// ring marks a row beside its number, which ends at x, further out.
func (l *layout) ring(i int, x, way, y float64) {
	r := min(6, max(3.5, float64(l.cell)*0.2))
	l.c.Begin("optional", "row", strconv.Itoa(l.lines[i].row.Number))
	l.c.Path(canvas.Stroke{Path: circle(x+way*(r+5), y+float64(l.cell)/2, r), Width: 2, Color: canvas.Ink})
	l.c.End()
}
