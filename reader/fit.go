package reader

import (
	"math"
	"slices"
	"strings"

	"clew/patterns/fit"
)

// Gauge words a gauge: "twenty-two stitches and thirty rounds to ten
// centimetres", to the half stitch; in inches to one inch and the quarter
// stitch. A gauge without rows tells the stitches alone.
func Gauge(g fit.Gauge, rounds bool, unit fit.Unit) string {
	over, scale := " to ten centimetres", 1.0
	if unit == fit.Inches {
		over, scale = " to the inch", fit.CentimetresPerInch/10
	}
	words := tally(g.Stitches*scale, "stitch", unit)
	if g.Rows > 0 {
		words += " and " + tally(g.Rows*scale, kindOf(Row{Round: rounds}, 1), unit)
	}
	return words + over
}

// tally words a number that may have a part of one: half a stitch of those to
// ten centimetres, a quarter of those to the inch.
func tally(n float64, thing string, unit fit.Unit) string {
	step := 2
	if unit == fit.Inches {
		step = 1
	}
	return quarters(max(1, int(math.Round(n*4/float64(step))))*step, thing)
}

// Sizes says what the sections measure when they are finished. The width that
// most of them share is said once.
func Sizes(sizes []fit.SectionSize, unit fit.Unit) string {
	if len(sizes) == 0 {
		return ""
	}
	shared := sharedWidth(sizes, unit)
	var said []string
	if shared != "" {
		said = append(said, "It is "+shared+".")
	}
	for _, s := range sizes {
		said = append(said, sectionSize(s, shared, unit))
	}
	switch {
	case slices.ContainsFunc(sizes, func(s fit.SectionSize) bool { return s.Long == 0 }):
		said = append(said, "The gauge tells no rows, so the lengths are not known.")
	case slices.ContainsFunc(sizes, func(s fit.SectionSize) bool { return s.PatternRows }):
		said = append(said, "Your gauge tells no rows, so the lengths go by the pattern's.")
	}
	return strings.Join(said, " ")
}

// sharedWidth is the width that the most sections have, two at least; of
// several the one that comes first.
func sharedWidth(sizes []fit.SectionSize, unit fit.Unit) string {
	shared, most := "", 1
	for _, s := range sizes {
		n := 0
		for _, other := range sizes {
			if width(other, unit) == width(s, unit) {
				n++
			}
		}
		if n > most {
			shared, most = width(s, unit), n
		}
	}
	return shared
}

// width says how wide a section is: "forty-five centimetres around".
func width(s fit.SectionSize, unit fit.Unit) string {
	way := " wide"
	if s.Section.Rounds {
		way = " around"
	}
	low, high := marks(s.Narrow, unit), marks(s.Wide, unit)
	if low == high {
		return lengthOf(low, unit) + way
	}
	return "between " + lengths(low, high, " and ", unit) + way
}

func sectionSize(s fit.SectionSize, shared string, unit fit.Unit) string {
	name := capital(shortName(s.Section.Name, "the section"))
	wide := width(s, unit)
	if s.Long == 0 {
		if wide == shared {
			return name + " has " + Number(s.Rows) + " " + kindOf(Row{Round: s.Section.Rounds}, s.Rows) + "."
		}
		return name + " is " + wide + "."
	}
	long := lengthOf(marks(s.Short, unit), unit) + " long"
	if marks(s.Short, unit) != marks(s.Long, unit) {
		long += ", and " + Length(s.Long, unit) + " where it is longest"
	}
	if wide == shared {
		return name + " is " + long + "."
	}
	return name + " is " + wide + " and " + long + "."
}

// CastOn says how many stitches to cast on for a width of one's own: the first
// of the numbers, which comes nearest, and the two next.
func CastOn(found []fit.CastOn, unit fit.Unit) string {
	if len(found) == 0 {
		return ""
	}
	best := found[0]
	said := "Cast on " + stitches(best.Stitches) + ". That comes to " + Length(best.Width, unit) + ", with " + castOnRepeats(best) + "."
	if best.Rest != nil {
		said += " The pattern's own numbers then fit up to " + shortName(best.Rest.Name, "the next section") + ", and no further."
	}
	var others []string
	for _, c := range found[1:min(3, len(found))] {
		others = append(others, stitches(c.Stitches)+" to "+Length(c.Width, unit))
	}
	if len(others) > 0 {
		said += " " + capital(strings.Join(others, ", and ")) + "."
	}
	return said
}

func castOnRepeats(c fit.CastOn) string {
	words := Number(c.Times) + " " + plural("repeat", c.Times) + " of " + stitches(c.Unit)
	if c.Plus > 0 {
		words += " and " + Number(c.Plus) + " more"
	}
	return words
}
