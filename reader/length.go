package reader

import (
	"math"
	"strings"

	"clew/patterns/fit"
)

// Length words a length as a tape measure tells it: to the half centimetre or
// the quarter inch. A length that is less than half of that is "less than half
// a centimetre", never nothing; below zero its size is said. Lengths are up to
// ten thousand centimetres.
func Length(cm float64, unit fit.Unit) string { return lengthOf(marks(math.Abs(cm), unit), unit) }

// lengthOf words so many marks of a tape measure.
func lengthOf(marks int, unit fit.Unit) string {
	switch {
	case unit == fit.Inches && marks == 0:
		return "less than a quarter of an inch"
	case unit == fit.Inches:
		return quarters(marks, "inch")
	case marks == 0:
		return "less than half a centimetre"
	}
	return quarters(2*marks, "centimetre")
}

// marks is a length in marks of a tape measure: half centimetres, or quarter
// inches. It has the sign of the length.
func marks(cm float64, unit fit.Unit) int {
	if unit == fit.Inches {
		return int(math.Round(4 * cm / fit.CentimetresPerInch))
	}
	return int(math.Round(2 * cm))
}

// lengths words two lengths, the lower first. The unit is said once where it
// can be: "two to five centimetres".
func lengths(low, high int, unit fit.Unit) string {
	inQuarters := low
	if unit == fit.Centimetres {
		inQuarters = 2 * low
	}
	switch {
	case low == high:
		return lengthOf(low, unit)
	case inQuarters < 4: // "half" alone would say nothing
		return lengthOf(low, unit) + " to " + lengthOf(high, unit)
	}
	return mixed(inQuarters) + " to " + lengthOf(high, unit)
}

// mixed words quarters, four at least, without their unit: "two and three
// quarters".
func mixed(n int) string {
	return Number(n/4) + [...]string{"", " and a quarter", " and a half", " and three quarters"}[n%4]
}

// quarters words quarters of a unit: "three quarters of an inch", "one
// centimetre", "two and a half inches", "seventeen and three quarter inches".
func quarters(n int, unit string) string {
	whole, part := n/4, n%4
	switch {
	case part == 0:
		return Number(whole) + " " + plural(unit, whole)
	case whole > 0:
		return Number(whole) + [...]string{1: " and a quarter ", " and a half ", " and three quarter "}[part] + plural(unit, 2)
	case part == 2:
		return "half " + article(unit)
	}
	return [...]string{1: "a quarter of ", 3: "three quarters of "}[part] + article(unit)
}

// article puts a or an before a word.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}
