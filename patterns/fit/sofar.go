package fit

import "clew/patterns"

// A Progress is how far a knitter has come with a piece, or with a section of it.
type Progress struct {
	Rows   int     // all that it has
	Done   int     // of them
	InAll  float64 // cm: its length when it is finished
	Length float64 // cm: of the rows that are done, along the side that has the most of them; 0 for none
	Share  float64 // of the stitches that are to be worked those that are: 0 to 1
}

// SoFar tells how far a knitter has come who is at the row of a plan with an index:
// the rows before it are done, and all are where it is the number of rows. It tells
// of the piece that the row belongs to, or of a section of the plan where one is
// given. A row's stitches are those that it works, as for an Estimate; casting on
// is left aside. own may be nil. It fails with ErrNoGauge, and then gives all but
// the lengths; and for a plan, or a section, without rows.
func SoFar(plan *patterns.Plan, row int, section *patterns.Section, own *Gauge) (Progress, error) {
	from, to := 0, len(plan.Rows) // to is the row behind the last
	row = min(max(row, 0), to)
	if section != nil {
		for from < to && plan.Rows[from].Section != section {
			from++
		}
		for to > from && plan.Rows[to-1].Section != section {
			to--
		}
	}
	if from == to {
		return Progress{}, failed(CodeNothingLeft, "there are no rows to measure")
	}
	if section == nil {
		from, to = extent(plan.Rows, min(row, to-1))
		to++
	}
	p := Progress{Rows: to - from, Done: min(max(row-from, 0), to-from)}
	if all := worked(plan, to) - worked(plan, from); all > 0 {
		p.Share = float64(worked(plan, from+p.Done)-worked(plan, from)) / float64(all)
	}
	for first := from; first < to; {
		last := first + 1
		for last < to && plan.Rows[last].Section == plan.Rows[first].Section {
			last++
		}
		gauge, known := GaugeOf(plan.Pattern, plan.Rows[first].Section, own)
		if !known || gauge.Rows == 0 {
			p.Length, p.InAll = 0, 0
			return p, ErrNoGauge
		}
		p.InAll += gauge.Length(longest(plan, first, last))
		p.Length += gauge.Length(longest(plan, first, min(last, from+p.Done)))
		first = last
	}
	return p, nil
}

// longest is how many rows are done along the longest column of a section, whose
// rows are those from one index up to another.
func longest(plan *patterns.Plan, from, to int) int {
	if to <= from {
		return 0
	}
	_, long := lengths(plan, from, to)
	return long
}

// worked is how many stitches are worked before the row with an index.
func worked(plan *patterns.Plan, i int) int64 {
	if i < len(plan.Rows) {
		return plan.Rows[i].Worked
	}
	return plan.Stitches()
}
