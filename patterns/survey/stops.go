package survey

import (
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
)

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

// Rows that belong together are never more than these. The most that a knitter means
// by a pair is a cross, a row, the same cross again and the row after it.
const (
	fewTogether  = 4 // from so many on it may be stopped after a row without a cross
	mostTogether = 8 // after so many it may be stopped wherever it is
)

// Stops gives the rows of plan.Rows[from:to] after which it is good to stop, in
// order. It gives no place in the middle of a short row, and none between rows that
// belong together (common practice, no source): a row with a cross and the one right
// after it; and two rows with crosses that have one row between them, where two
// strands that passed each other in the first pass each other again in the second,
// whichever is in front: where a cross is closed, mirrored or repeated. A strand that
// travels on, past another one each time, binds no rows.
//
// Where crosses bind one row to the next for long, there is a place after a row
// without a cross as soon as four rows are together, and after every eighth row where
// all of them cross. There may be no place at all in short rows, or in a few rows.
func Stops(plan *patterns.Plan, from, to int) []Stop {
	from = min(max(from, 0), len(plan.Rows))
	to = min(max(to, from), len(plan.Rows))
	plan = plan.Whole() // where it was cut, a row with a cross may come next
	var stops []Stop
	together := 0
	for i := firstTogether(plan, from); i < to; i++ {
		together++
		if binds(plan, i) && together < mostTogether && (together < fewTogether || crosses(plan, i)) {
			continue
		}
		together = 0
		if i >= from && (plan.Rows[i].Unworked() == 0 || i+1 == len(plan.Rows)) {
			stops = append(stops, Stop{i, weigh(plan, i)})
		}
	}
	return stops
}

// firstTogether is the first of the rows that are bound to each other up to row i.
func firstTogether(plan *patterns.Plan, i int) int {
	for i > 0 && binds(plan, i-1) {
		i--
	}
	return i
}

// binds says that crosses bind row i to the one after it. What is cast on anew is
// bound to nothing before it.
func binds(plan *patterns.Plan, i int) bool {
	if i+1 == len(plan.Rows) || plan.Rows[i+1].First && plan.Rows[i+1].Section.CastOn != nil {
		return false
	}
	return crosses(plan, i) || crosses(plan, i-1) && crosses(plan, i+1) && meetAgain(plan.Rows[i-1].Crossings, plan.Rows[i+1].Crossings)
}

func crosses(plan *patterns.Plan, i int) bool {
	return i >= 0 && len(plan.Rows[i].Crossings) > 0
}

// meetAgain says that two stitches that passed each other in one row, of different
// strands, pass each other again in a later one.
func meetAgain(first, second []fabric.Crossing) bool {
	in := make(map[int32]int, 2*len(first)) // which crossing a stitch was in front in, by its column
	for i, c := range first {
		for _, l := range c.Front {
			in[l.Column] = i
		}
	}
	passed := func(one, other []fabric.Loop) bool { // one of these was in front of one of those
		for _, l := range one {
			if i, ok := in[l.Column]; ok && shareColumn(first[i].Behind, other) {
				return true
			}
		}
		return false
	}
	return slices.ContainsFunc(second, func(c fabric.Crossing) bool {
		return passed(c.Front, c.Behind) || passed(c.Behind, c.Front)
	})
}

func shareColumn(a, b []fabric.Loop) bool {
	return slices.ContainsFunc(a, func(l fabric.Loop) bool {
		return slices.ContainsFunc(b, func(m fabric.Loop) bool { return l.Column == m.Column })
	})
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
