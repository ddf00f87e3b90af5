package survey

import "clew/patterns"

// Weight is how good a place is to stop at; higher is better.
type Weight int

// The weights.
const (
	Possible   Weight = 1 + iota // nothing speaks against it but that the row was not a plain one
	AfterPlain                   // the row is plain: knit and purl stitches alone
	AfterRun                     // it is the last of several plain rows, before one that is not
	SectionEnd                   // the last row of a section
)

// A Stop is a row after which the work may be put down.
type Stop struct {
	Row    int // index
	Weight Weight
}

// Stops gives the rows of plan.Rows[from:to] after which it is good to stop, in
// order. It never gives a place between a row with a cross and the row after it, nor
// between two rows with crosses that have one row between them, nor one in the middle
// of a short row. There may be none.
func Stops(plan *patterns.Plan, from, to int) []Stop {
	from = min(max(from, 0), len(plan.Rows))
	to = min(max(to, from), len(plan.Rows))
	plan = plan.Whole() // where it was cut, a row with a cross may come next
	var stops []Stop
	for i := from; i < to; i++ {
		if maySplit(plan, i) {
			stops = append(stops, Stop{i, weigh(plan, i)})
		}
	}
	return stops
}

// maySplit says that a knitter may stop after row i.
func maySplit(plan *patterns.Plan, i int) bool {
	last := i+1 == len(plan.Rows)
	switch {
	case last:
		return true
	case crosses(plan, i), crosses(plan, i-1) && crosses(plan, i+1):
		return false
	}
	return plan.Rows[i].Unworked() == 0
}

func crosses(plan *patterns.Plan, i int) bool {
	return i >= 0 && len(plan.Rows[i].Crossings) > 0
}

func weigh(plan *patterns.Plan, i int) Weight {
	row := func(i int) bool { return i >= 0 && isPlain(plan.Rows[i]) }
	switch {
	case i+1 == len(plan.Rows) || plan.Rows[i+1].Section != plan.Rows[i].Section:
		return SectionEnd
	case !row(i):
		return Possible
	case row(i-1) && !row(i+1):
		return AfterRun
	}
	return AfterPlain
}
