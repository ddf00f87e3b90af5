package fit

import (
	"regexp"
	"strings"

	"clew/patterns"
	"clew/patterns/problem"
)

// A Gauge is stitches and rows to 10 centimetres. Rows is 0 where it is not
// known.
type Gauge struct{ Stitches, Rows float64 }

// What ParseGauge takes, to 10 cm: from rope on broom handles to sewing thread
// on wires.
const (
	MinGauge  = 4
	MaxGauge  = 80  // stitches
	MaxRowsIn = 120 // rows
)

// gaugeHelp is how a gauge is written.
const gaugeHelp = "give it like 22 sts and 30 rows = 10 cm, or 5.5 to the inch"

// gaugeForm takes the line that a pattern has, and all that people leave out of it.
var gaugeForm = regexp.MustCompile(`^(` + numberForm + `) ?(?:sts?\.?|stitch|stitches)?` +
	`(?: ?(?:x|by|and|,|&| ) ?(` + numberForm + `) ?(?:rows?|rounds?|rnds?\.?|r)?)?` +
	`( ?(?:=|to|over|per|in|/|an?) ?(?:the |an? |each |every )?(?:(` + numberForm + `) ?)?(` + unitForm + `)?)?\.?$`)

// ParseGauge reads a gauge as people tell one: "22 sts and 30 rows = 10 cm", as
// it stands in a pattern, "22x30" and "22 30" (to 10 cm), "22 to 10 cm",
// "5.5 to the inch". Each number is taken to a thousandth. What can't be
// read or is not likely is refused by an *Error.
func ParseGauge(text string) (Gauge, error) {
	g, _, err := ParseGaugeUnit(text)
	return g, err
}

// ParseGaugeUnit is ParseGauge that tells, too, in which unit the length was given
// over which it was counted; Centimetres where none was.
func ParseGaugeUnit(text string) (Gauge, Unit, error) {
	m := gaugeForm.FindStringSubmatch(plain(text))
	unit := Centimetres
	if m != nil && m[5] != "" {
		unit = unitOf(m[5])
	}
	g, err := parseGauge(text, m)
	return g, unit, err
}

// parseGauge reads a gauge of what gaugeForm found in its text.
func parseGauge(text string, m []string) (Gauge, error) {
	s, said := plain(text), problem.Quote(strings.TrimSpace(text))
	if s == "" {
		return Gauge{}, failed(CodeEmpty, "no gauge is given: %s", gaugeHelp)
	}
	switch {
	case m == nil && namesMetric.MatchString(s) && namesInches.MatchString(s):
		return Gauge{}, failed(CodeUnitMixed, "%s is in centimetres and in inches: give one of them, such as 22 to 10 cm or 5.5 to the inch", said)
	case m == nil:
		return Gauge{}, failed(CodeUnreadable, "%s can't be read as a gauge: %s", said, gaugeHelp)
	case m[5] == "" && strings.TrimSpace(m[3]) == "in":
		return Gauge{}, failed(CodeUnitMissing, "%s does not say over how many inches: give it like 22 sts and 30 rows = 4 in", said)
	case m[5] == "" && (m[2] == "" || m[3] != ""):
		return Gauge{}, failed(CodeUnitMissing, "%s does not say over which length: %s", said, gaugeHelp)
	}
	stitches, ok := number(m[1])
	rows, over := 0.0, 1.0
	if m[2] != "" {
		var known bool
		rows, known = number(m[2])
		ok = ok && known
	}
	switch {
	case m[4] != "":
		var known bool
		over, known = number(m[4])
		ok = ok && known
	case m[5] == "":
		over = 10
	}
	if !ok {
		return Gauge{}, failed(CodeUnreadable, "a number in %s can't be read: %s", said, gaugeHelp)
	}
	if m[5] != "" && unitOf(m[5]) == Inches {
		over *= CentimetresPerInch
	}
	return likelyGauge(stitches, rows, over, m[2] != "", said)
}

// likelyGauge brings a gauge to 10 cm, and refuses one that nobody knits.
func likelyGauge(stitches, rows, over float64, hasRows bool, said string) (Gauge, error) {
	switch {
	case stitches < 0 || rows < 0 || over < 0:
		return Gauge{}, failed(CodeNegative, "%s is less than nothing: leave out the minus", said)
	case stitches == 0 || over == 0 || hasRows && rows == 0:
		return Gauge{}, failed(CodeZero, "a gauge of zero can't be knitted: %s", gaugeHelp)
	}
	g := Gauge{Stitches: rounded(stitches * 10 / over), Rows: rounded(rows * 10 / over)}
	if code := outside(g.Stitches, MinGauge, MaxGauge); code != "" {
		return Gauge{}, failed(code, "%s comes to %s stitches to 10 cm, and hand knitting has 4 to 80: check the number and the unit", said, about(g.Stitches))
	}
	if code := outside(g.Rows, MinGauge, MaxRowsIn); hasRows && code != "" {
		return Gauge{}, failed(code, "%s comes to %s to 10 cm, and hand knitting has 4 to 120: check the number and the unit", said, aboutRows(g.Rows))
	}
	return g, nil
}

// outside gives the code of a value that lies outside a range; empty within it.
func outside(value, low, high float64) string {
	switch {
	case value < low:
		return CodeSmall
	case value > high:
		return CodeLarge
	}
	return ""
}

// about gives a value that may be huge, as it can stand in a sentence.
func about(value float64) string {
	if value > 1e6 {
		return "more than a million"
	}
	return written(value)
}

func aboutRows(rows float64) string {
	if rows == 1 {
		return "1 row"
	}
	return about(rows) + " rows"
}

// String gives the gauge as ParseGauge reads it: "22 sts and 30 rows = 10 cm".
func (g Gauge) String() string {
	if g.Rows == 0 {
		return written(g.Stitches) + " sts = 10 cm"
	}
	return written(g.Stitches) + " sts and " + written(g.Rows) + " rows = 10 cm"
}

// Width is how wide so many stitches are, in cm; 0 where the gauge is not known.
func (g Gauge) Width(stitches int) float64 { return lengthOf(stitches, g.Stitches) }

// Length is how long so many rows are, in cm; 0 where the gauge does not tell.
func (g Gauge) Length(rows int) float64 { return lengthOf(rows, g.Rows) }

func lengthOf(count int, per10 float64) float64 {
	if per10 == 0 {
		return 0
	}
	return float64(count) * 10 / per10
}

// GaugeOf gives the gauge that a section is worked at; false where none is known.
//
// A section's own Gauge overrides the pattern's. A knitter's swatch, own,
// replaces the pattern's; Stitches of it must be above 0. A section with a gauge
// of its own is then scaled in the same proportion: by how much its crosses or
// slipped stitches draw it in is the host's number, and holds for a looser hand
// too. Where the pattern gives no gauge of its own to compare with, the
// swatch counts as that of every section. A swatch without rows leaves the rows
// that the pattern gives: stitches say nothing of them.
func GaugeOf(p *patterns.Pattern, s *patterns.Section, own *Gauge) (Gauge, bool) {
	header, section := per10(p.Gauge), per10(s.Gauge)
	g := section
	if s.Gauge == nil {
		g = header
	}
	if own == nil {
		return g, g.Stitches > 0
	}
	scaled := s.Gauge != nil && p.Gauge != nil
	switch {
	case scaled:
		g.Stitches = section.Stitches * own.Stitches / header.Stitches
	default:
		g.Stitches = own.Stitches
	}
	switch {
	case own.Rows > 0 && scaled:
		g.Rows = section.Rows * own.Rows / header.Rows
	case own.Rows > 0:
		g.Rows = own.Rows
	}
	return g, true
}

// per10 brings a pattern's gauge to 10 cm; none is the zero Gauge.
func per10(g *patterns.Gauge) Gauge {
	if g == nil {
		return Gauge{}
	}
	return Gauge{Stitches: g.Stitches * 10 / g.Centimeters, Rows: g.Rows * 10 / g.Centimeters}
}
