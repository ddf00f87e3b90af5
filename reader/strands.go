package reader

import (
	"slices"

	"clew/patterns/chart"
)

// strands says what the strands of a picture do: a clause for each thing that
// they do and all the rows in which they do it, in the order in which each
// comes first.
func (p pictured) strands() []string {
	var clauses []string
	for _, g := range grouped(p.Strands) {
		clauses = append(clauses, p.event(g))
	}
	return clauses
}

// A strandGroup is what the same number of strands does, at the same number of
// places of a section.
type strandGroup struct {
	chart.StrandFact       // the first of them; its kind is Part for parting and meeting
	rows             []int // all its rows, but for those where strands meet
	meets            []int
}

func grouped(facts []chart.StrandFact) []*strandGroup {
	var groups []*strandGroup
	for _, f := range facts {
		meets := f.Kind == chart.Meet
		if meets {
			f.Kind = chart.Part
		}
		i := slices.IndexFunc(groups, func(g *strandGroup) bool {
			return g.Kind == f.Kind && g.Strands == f.Strands && g.Times == f.Times && g.Section == f.Section
		})
		if i < 0 {
			groups = append(groups, &strandGroup{StrandFact: f})
			i = len(groups) - 1
		}
		rows := &groups[i].rows
		if meets {
			rows = &groups[i].meets
		}
		if !slices.Contains(*rows, f.Row) {
			*rows = append(*rows, f.Row)
		}
	}
	return groups
}

func (p pictured) event(g *strandGroup) string {
	words := Number(g.Strands) + " " + plural("strand", g.Strands)
	if g.Times > 1 {
		words = "in " + Number(g.Times) + " places " + words
	}
	const front = ", the front one to the "
	moves := " moves "
	if g.Strands > 1 {
		moves = " move "
	}
	switch at := p.at(g.rows) + p.of(g.Section); g.Kind {
	case chart.CrossLeft:
		return words + " cross " + at + front + "left"
	case chart.CrossRight:
		return words + " cross " + at + front + "right"
	case chart.MoveLeft:
		return words + moves + "to the left from " + p.rowsNamed(g.rows) + p.of(g.Section)
	case chart.MoveRight:
		return words + moves + "to the right from " + p.rowsNamed(g.rows) + p.of(g.Section)
	}
	return words + p.parting(g) + p.of(g.Section)
}

// parting says where strands part and where they meet, in the order in which
// they do.
func (p pictured) parting(g *strandGroup) string {
	switch {
	case len(g.meets) == 0:
		return " part " + p.at(g.rows)
	case len(g.rows) == 0:
		return " meet " + p.at(g.meets)
	case g.rows[0] <= g.meets[0]:
		return " part " + p.at(g.rows) + " and meet again " + p.at(g.meets)
	}
	return " meet " + p.at(g.meets) + " and part again " + p.at(g.rows)
}

// at says in which rows something is done.
func (p pictured) at(rows []int) string {
	if _, even := spaced(rows); even {
		return "in " + p.rowsNamed(rows)
	}
	return "at " + p.rowsNamed(rows)
}

// rowsNamed names rows: "rounds one, three and seven"; of many at equal
// distances, "every eighth round from one to twenty-five".
func (p pictured) rowsNamed(rows []int) string {
	n := len(rows)
	if gap, even := spaced(rows); even {
		return every(gap) + p.row(1) + " from " + Number(rows[0]) + " to " + Number(rows[n-1])
	}
	numbers := make([]string, n)
	for i, row := range rows {
		numbers[i] = Number(row)
	}
	return p.row(n) + " " + series(numbers)
}

// spaced says that rows are many and stand the same number of rows apart.
func spaced(rows []int) (gap int, even bool) {
	if len(rows) < 4 {
		return 0, false
	}
	gap = rows[1] - rows[0]
	for i := 2; i < len(rows); i++ {
		if rows[i]-rows[i-1] != gap {
			return 0, false
		}
	}
	return gap, gap > 0
}

func every(gap int) string {
	switch gap {
	case 1:
		return "every "
	case 2:
		return "every other "
	}
	return "every " + Ordinal(gap) + " "
}
