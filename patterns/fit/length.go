// Package fit computes what a knitted piece measures and how to make it fit:
// widths and lengths from stitches, rows and the gauge, the size that suits a
// person, the stitches to cast on, the rows to leave out or to work again, and
// the yarn that the rest needs.
//
// Lengths are centimetres in all of it. A Unit tells how a person gave one, so
// that the answer can be given the same way.
package fit

// A Unit is how a person gives a length.
type Unit uint8

// The units.
const (
	Centimetres Unit = iota
	Inches
)

// CentimetresPerInch is exact: the international inch.
const CentimetresPerInch = 2.54

// ParseLength reads a length.
func ParseLength(text string) (cm float64, unit Unit, err error) {
	return 0, 0, failed(CodeUnreadable, "not yet")
}

// FormatLength gives a length in a unit, as ParseLength reads it: "57 cm", "22.5 in".
func FormatLength(cm float64, unit Unit) string { return "" }
