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

// findOptional gives the rows that stand in a group that may be left out.
func findOptional(lines []*line, plan *patterns.Plan) optionalRows {
	o := optionalRows{}
	for _, group := range plan.Pattern.Optionals(plan.Size) {
		all := patterns.LeftOut{Owner: group.Owner, From: group.From, Rows: group.Count()}
		found := false
		for i, l := range lines {
			if !l.row.LeftOutBy(all) {
				continue
			}
			if o.rows == nil {
				o.rows = map[int]bool{}
			}
			o.rows[i], found = true, true
		}
		if found && !slices.Contains(o.steps, group.Step) {
			o.steps = append(o.steps, group.Step)
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
