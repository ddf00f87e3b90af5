package fit

import "clew/patterns"

// A SectionSize is what a section of a plan measures when it is finished.
type SectionSize struct {
	Section     *patterns.Section
	Rows        int
	Least, Most int // stitches on the needle after a row; a row that binds all of them off counts with those before it
	Stitches    int // on the needle after most of its rows; the smaller number where two are as frequent
	Gauge       Gauge
	PatternRows bool // a swatch of the knitter's gives no rows, so that the rows of Gauge are the pattern's

	Narrow, Wide float64 // cm: Least and Most stitches
	Width        float64 // cm: Stitches
	Short, Long  float64 // cm; Short < Long where short rows make a part of it longer. 0 where the gauge has no rows
}

// Measure measures every section of a plan, in their order.
func Measure(plan *patterns.Plan, own *Gauge) ([]SectionSize, error) { return nil, ErrNoGauge }
