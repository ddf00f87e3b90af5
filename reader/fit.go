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
		said = append(said, "Where no length is said, the gauge does not tell it.")
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
		words, n := width(s, unit), 0
		for _, other := range sizes {
			if words != "" && width(other, unit) == words {
				n++
			}
		}
		if n > most {
			shared, most = words, n
		}
	}
	return shared
}

// width says how wide a section is: "forty-five centimetres around"; nothing
// where it is not known.
func width(s fit.SectionSize, unit fit.Unit) string {
	way := " wide"
	if s.Section.Rounds {
		way = " around"
	}
	switch {
	case s.Wide == 0:
		return ""
	case straight(s):
		return Length(s.Width, unit) + way
	}
	return lengths(marks(s.Narrow, unit), marks(s.Wide, unit), unit) + way
}

// straight says that all rows of a section have the same stitches, or three in
// four: the few others change no more than an edge.
func straight(s fit.SectionSize) bool { return s.Narrow == s.Wide || 4*s.Straight >= 3*s.Rows }

// sectionSize says one section; its name may be any word, so no verb stands by it.
func sectionSize(s fit.SectionSize, shared string, unit fit.Unit) string {
	var measures []string
	switch short, long := marks(s.Short, unit), marks(s.Long, unit); {
	case s.Long == 0:
		measures = append(measures, counted(s.Rows, s.Section.Rounds))
	case short == long:
		measures = append(measures, lengthOf(long, unit)+" long")
	default:
		measures = append(measures, lengths(short, long, unit)+" long")
	}
	if wide := width(s, unit); wide != "" && wide != shared {
		measures = append(measures, wide)
	}
	return capital(shortName(s.Section.Name, "the section")) + ": " + strings.Join(measures, ", and ") + "."
}

// CastOn says how many stitches to cast on for a width of one's own: the first
// of the numbers, which comes nearest, and the two next.
func CastOn(found []fit.CastOn, unit fit.Unit) string {
	if len(found) == 0 {
		return ""
	}
	best := found[0]
	said := "Cast on " + stitches(best.Stitches) + ": that comes to " + Length(best.Width, unit) + "."
	if best.Unit > 1 {
		said += " It is " + castOnRepeats(best) + "."
	}
	if best.Rest != nil {
		said += " From " + shortName(best.Rest.Name, "the next section") + " on, the pattern's own numbers no longer fit."
	}
	var others []string
	for i, c := range found[1:min(3, len(found))] {
		if i == 0 {
			others = append(others, stitches(c.Stitches)+" would come to "+Length(c.Width, unit))
		} else {
			others = append(others, Number(c.Stitches)+" to "+Length(c.Width, unit))
		}
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
