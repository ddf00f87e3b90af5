package reader

import (
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
)

// Barrier says what leaving out some rows would break.
func Barrier(b fit.Barrier) string {
	return "Leaving out " + counted(b.Rows, b.Rounds) + " of " + shortName(b.Group.Owner, "the pattern") + " won't do: " + breaks(b) + "."
}

// breaks is a clause: "the panel Pebble edge would work a round twice".
func breaks(b fit.Barrier) string {
	row := kindOf(Row{Round: b.Rounds}, 1)
	section := shortName(b.Section, "the section")
	next := "the next " + row
	if b.Row > 0 {
		next = numbered(b.Row, b.Row, b.Rounds) + " of " + section
	}
	switch b.Why {
	case fit.WhySide:
		return next + " would fall on the wrong side"
	case fit.WhyRepeat:
		return "the panel " + shortName(b.Panel, "beside it") + " would work a " + row + " twice"
	case fit.WhySkip:
		return "the panel " + shortName(b.Panel, "beside it") + " would miss " + counted(max(1, b.Missed), b.Rounds)
	case fit.WhyTexture:
		return "it would cut the texture of " + section
	case fit.WhyFaces:
		return next + " would not find the stitches that it expects"
	case fit.WhyMarkers:
		return next + " would not find its markers"
	case fit.WhyHeld:
		return next + " would not find its stitches on hold"
	case fit.WhyYarn:
		return next + " would find another yarn"
	case fit.WhyEnd:
		return section + " would end on " + otherStitches(b.Missed)
	case fit.WhyDoubt:
		return "what follows would look like a mistake"
	}
	return "what follows could not be worked"
}

func otherStitches(more int) string {
	switch {
	case more > 0:
		return Number(more) + " more " + plural("stitch", more)
	case more < 0:
		return Number(-more) + " fewer " + plural("stitch", -more)
	}
	return "other stitches"
}

// Offers says which rows of a pattern may be left out, group by group, and
// what stands against the others.
func (k Knitting) Offers(offers []fit.Offer, barriers []fit.Barrier) string {
	var said []string
	for _, group := range k.Pattern.Optionals(k.size()) {
		said = append(said, k.group(group, offers, barriers))
	}
	if len(said) == 0 {
		return "The pattern has no rows that may be left out."
	}
	return strings.Join(nonEmpty(said), " ")
}

func (k Knitting) group(group patterns.Optional, offers []fit.Offer, barriers []fit.Barrier) string {
	var numbers []int
	for _, o := range offers {
		if n := leftOutOf(o.LeftOut, group); n > 0 && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	name := numbered(group.From, group.To, k.rounds(group)) + " of " + shortName(group.Owner, "the pattern")
	i := slices.IndexFunc(barriers, func(b fit.Barrier) bool { return b.Group.Owner == group.Owner && b.Group.From == group.From })
	switch {
	case len(numbers) > 0:
		return "Of " + name + " you may leave out " + choices(numbers) + "."
	case i >= 0:
		return capital(name) + " can't be left out: " + breaks(barriers[i]) + "."
	}
	return ""
}

// choices words numbers, the smallest first: "two, four or six"; of many at
// equal distances, "two, four and so on up to twenty".
func choices(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = Number(n)
	}
	last := len(words) - 1
	switch {
	case last == 0:
		return words[0]
	case len(words) > seriesMost:
		return words[0] + ", " + words[1] + " and so on, up to " + words[last]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
