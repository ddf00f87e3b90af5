// Package fit computes what a knitted piece measures and how to make it fit:
// widths and lengths from stitches, rows and the gauge, the size that suits a
// person, the stitches to cast on, the rows to leave out or to work again, and
// the yarn that the rest needs.
//
// Lengths are centimetres in all of it. A Unit tells how a person gave one, so
// that the answer can be given the same way.
package fit

import (
	"regexp"
	"strings"

	"clew/patterns/problem"
)

// A Unit is how a person gives a length.
type Unit uint8

// The units.
const (
	Centimetres Unit = iota
	Inches
)

// CentimetresPerInch is exact: the international inch.
const CentimetresPerInch = 2.54

// What ParseLength takes, in cm.
const (
	MinLength = 1
	MaxLength = 1_000
)

// String gives the unit as FormatLength writes it.
func (u Unit) String() string {
	if u == Inches {
		return "in"
	}
	return "cm"
}

// lengthHelp is how a length is written.
const lengthHelp = "give a number and its unit, such as 57 cm or 22.5 in"

var (
	lengthForm   = regexp.MustCompile(`^(` + numberForm + `) ?(.*)$`)
	unitAlone    = regexp.MustCompile(`^(?:` + unitForm + `)$`)
	namesMetric  = regexp.MustCompile(`\d ?cms?\b|\bcms?\b|centimet(?:re|er)`)
	namesInches  = regexp.MustCompile(`\d ?ins?\b|\binch|"`)
	anotherUnit  = regexp.MustCompile(`^(?:mm|millimet(?:re|er)s?|m|met(?:re|er)s?|ft|foot|feet|'|yds?|yards?)\.?$`)
	lengthLikely = "lengths go from 1 to 1000 cm, or from 0.394 to 393.7 in: check the number and its unit"
)

// ParseLength reads a length as people write one: "57cm", "57 centimetres",
// "22.5 in", "22 1/2 inches", `7 ¾"`, with a decimal point or comma, and tells in
// which unit it was given. It is taken to a thousandth of that unit. Anything
// else is refused by an *Error: one without a unit or with two, and one below
// MinLength or above MaxLength.
func ParseLength(text string) (cm float64, unit Unit, err error) {
	s, said := plain(text), problem.Quote(strings.TrimSpace(text))
	if s == "" {
		return 0, 0, failed(CodeEmpty, "no length is given: %s", lengthHelp)
	}
	m := lengthForm.FindStringSubmatch(s)
	if m == nil {
		return 0, 0, failed(CodeUnreadable, "%s can't be read as a length: %s", said, lengthHelp)
	}
	value, single := number(m[1])
	switch word := strings.Trim(m[2], " ."); {
	case !single:
		return 0, 0, failed(CodeUnreadable, "the number in %s can't be read: give it with a decimal point, such as 57.5 cm", said)
	case word == "":
		return 0, 0, failed(CodeUnitMissing, "%s has no unit: say whether it is centimetres or inches, such as 57 cm or 22.5 in", said)
	case unitAlone.MatchString(word):
		unit = unitOf(word)
	case namesMetric.MatchString(s) && (namesInches.MatchString(s) || strings.HasSuffix(s, " in")):
		return 0, 0, failed(CodeUnitMixed, "%s is in centimetres and in inches: give one of them, such as 57 cm or 22.5 in", said)
	case anotherUnit.MatchString(word):
		return 0, 0, failed(CodeUnitUnknown, "%s is neither in centimetres nor in inches: %s", said, lengthHelp)
	default:
		return 0, 0, failed(CodeUnreadable, "%s can't be read as a length: %s", said, lengthHelp)
	}
	cm = value
	if unit == Inches {
		cm = value * CentimetresPerInch
	}
	if err := likelyLength(cm, said); err != nil {
		return 0, 0, err
	}
	return cm, unit, nil
}

// likelyLength refuses a length that nothing in knitting has.
func likelyLength(cm float64, said string) error {
	switch {
	case cm < 0:
		return failed(CodeNegative, "%s is less than nothing: leave out the minus", said)
	case cm == 0:
		return failed(CodeZero, "%s is no length: %s", said, lengthHelp)
	case cm < MinLength:
		return failed(CodeSmall, "%s is too short: %s", said, lengthLikely)
	case cm > MaxLength:
		return failed(CodeLarge, "%s is too long: %s", said, lengthLikely)
	}
	return nil
}

// FormatLength gives a length in a unit, to a thousandth, as ParseLength reads
// it: "57 cm", "22.5 in".
func FormatLength(cm float64, unit Unit) string {
	if unit == Inches {
		cm /= CentimetresPerInch
	}
	return written(cm) + " " + unit.String()
}
