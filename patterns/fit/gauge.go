package fit

import "clew/patterns"

// A Gauge is stitches and rows to 10 centimetres. Rows is 0 where it is not
// known.
type Gauge struct{ Stitches, Rows float64 }

// ParseGauge reads a gauge.
func ParseGauge(text string) (Gauge, error) { return Gauge{}, failed(CodeUnreadable, "not yet") }

// String gives the gauge as ParseGauge reads it: "22 sts and 30 rows = 10 cm".
func (g Gauge) String() string { return "" }

// Width is how wide so many stitches are, in centimetres.
func (g Gauge) Width(stitches int) float64 { return float64(stitches) * 10 / g.Stitches }

// Length is how long so many rows are, in centimetres; 0 where the gauge does
// not tell.
func (g Gauge) Length(rows int) float64 {
	if g.Rows == 0 {
		return 0
	}
	return float64(rows) * 10 / g.Rows
}

// GaugeOf gives the gauge that a section is worked at; false where none is known.
func GaugeOf(p *patterns.Pattern, s *patterns.Section, own *Gauge) (Gauge, bool) {
	return Gauge{}, false
}
