package fit

import "clew/patterns"

// A SectionSize is what a section of a plan measures when it is finished.
type SectionSize struct {
	Section     *patterns.Section
	Rows        int
	Least, Most int   // stitches on the needle after a row, the row that binds all of them off left aside
	Stitches    int   // on the needle after most of its rows; the larger number where two are as frequent
	Straight    int   // rows that leave Stitches
	Gauge       Gauge // the zero Gauge, and measures of 0, where none is known for this section
	PatternRows bool  // the swatch gives no rows, so that the rows of Gauge, and the lengths, are the pattern's

	Narrow, Wide float64 // cm: Least and Most stitches
	Width        float64 // cm: Stitches
	Short, Long  float64 // cm: along the columns with the fewest and the most rows. They differ where short rows do; 0 where the gauge has no rows
}

// Measure measures every section of a plan that has rows in its size, in their
// order, at the pattern's gauge or at the knitter's own swatch, see GaugeOf. It
// fails with ErrNoGauge where no gauge is known for any section.
func Measure(plan *patterns.Plan, own *Gauge) ([]SectionSize, error) {
	var sizes []SectionSize
	known := false
	for from := 0; from < len(plan.Rows); {
		to := from + 1
		for to < len(plan.Rows) && plan.Rows[to].Section == plan.Rows[from].Section {
			to++
		}
		s := measured(plan, from, to)
		var found bool
		s.Gauge, found = GaugeOf(plan.Pattern, s.Section, own)
		known = known || found
		s.PatternRows = own != nil && own.Rows == 0 && s.Gauge.Rows > 0
		short, long := lengths(plan, from, to)
		s.Narrow, s.Wide, s.Width = s.Gauge.Width(s.Least), s.Gauge.Width(s.Most), s.Gauge.Width(s.Stitches)
		s.Short, s.Long = s.Gauge.Length(short), s.Gauge.Length(long)
		sizes = append(sizes, s)
		from = to
	}
	if !known {
		return nil, ErrNoGauge
	}
	return sizes, nil
}

// measured counts the stitches of a section, whose rows are those of the plan
// from one index up to another.
func measured(plan *patterns.Plan, from, to int) SectionSize {
	s := SectionSize{Section: plan.Rows[from].Section, Rows: to - from}
	var counts []int
	for _, r := range plan.Rows[from:to] {
		if n := r.After.Count(); n > 0 {
			counts = append(counts, n)
		}
	}
	if len(counts) == 0 { // it does nothing but bind off
		counts = []int{plan.Rows[from].Before.Count()}
	}
	s.Least, s.Most = counts[0], counts[0]
	for _, n := range counts {
		s.Least, s.Most = min(s.Least, n), max(s.Most, n)
	}
	s.Stitches, s.Straight = usual(counts)
	return s
}

// usual gives the most frequent of counts, and how often it is there; of two that
// are as frequent, the larger.
func usual(counts []int) (stitches, times int) {
	often := map[int]int{}
	for _, n := range counts {
		often[n]++
	}
	for n, k := range often {
		if k > times || k == times && n > stitches {
			stitches, times = n, k
		}
	}
	return stitches, times
}
