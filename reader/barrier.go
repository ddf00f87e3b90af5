package reader

import (
	"cmp"
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
	section, panel := shortName(b.Section, "the section"), "the panel "+shortName(b.Panel, "beside it")
	next := "the next " + row
	if b.Row > 0 {
		next = numbered(b.Row, b.Row, b.Rounds) + " of " + section
	}
	switch b.Why {
	case fit.WhySide:
		return "the next right-side row would fall on the wrong side"
	case fit.WhyRepeat:
		return panel + " would work a " + row + " twice"
	case fit.WhySkip:
		return panel + " would miss " + counted(max(1, b.Missed), b.Rounds)
	case fit.WhyEarly:
		return panel + " would end " + counted(max(1, b.Missed), b.Rounds) + " early"
	case fit.WhyTexture:
		return "it would cut the texture of " + shortName(cmp.Or(b.Panel, b.Section), "the section")
	case fit.WhyMotif:
		return panel + " would miss its " + motif(b.Missed)
	case fit.WhyFaces:
		return detail(b, next+" would not find the stitches that it expects")
	case fit.WhyMarkers:
		return next + " would not find its markers"
	case fit.WhyHeld:
		return next + " would not find its stitches on hold"
	case fit.WhyYarn:
		return next + " would find another yarn"
	case fit.WhyEnd:
		return section + " would end " + endsOn(b)
	case fit.WhyDoubt:
		return detail(b, "what follows would look like a mistake")
	}
	return detail(b, "what follows could not be worked")
}

// motif is what a panel would miss: so many crosses, or, with none, its shaping.
func motif(crosses int) string {
	switch crosses {
	case 0:
		return "increases and decreases"
	case 1:
		return "cross"
	}
	return "crosses"
}

// detailMost is how much is said of a detail, in characters.
const detailMost = 200

// detail is what a barrier itself tells, as a clause; other where that is
// nothing, or more than can be listened to.
func detail(b fit.Barrier, other string) string {
	words := strings.TrimRight(Plain(b.Detail), ".")
	if words == "" || len(words) > detailMost {
		return other
	}
	return words
}

// endsOn says what a section would end on in place of its own stitches.
func endsOn(b fit.Barrier) string {
	switch {
	case b.Missed > 0:
		return "on " + Number(b.Missed) + " more " + plural("stitch", b.Missed)
	case b.Missed < 0:
		return "on " + Number(-b.Missed) + " fewer " + plural("stitch", -b.Missed)
	}
	return "with " + detail(b, "other stitches")
}

// Offers says which rows of a pattern may be left out, group by group, and
// what stands against the others.
func (k Knitting) Offers(offers []fit.Offer, barriers []fit.Barrier) string {
	var may, not []string
	for _, group := range k.Pattern.Optionals(k.size()) {
		rows := numberedEach(group.Last(group.Count()), k.rounds(group)) + " of " + shortName(group.Owner, "the pattern")
		reasons := reasons(group, barriers)
		numbers, most := offered(group, offers)
		if len(numbers) == 0 {
			for _, r := range reasons {
				not = append(not, capital(rows)+" can't be left out: "+r.words+".")
			}
			continue
		}
		may = append(may, k.mayLeave(group, rows, numbers, most))
		if stripes := missedStripes(most.Stripes); stripes != "" {
			may = append(may, stripes)
		}
		for _, r := range reasons {
			which := choices(r.rows)
			if len(r.rows) == 1 && r.rows[0] == group.Count() && len(numbers) > 1 {
				which = "all of them"
			}
			may = append(may, capital(which)+" won't do: "+r.words+".")
		}
	}
	if len(may)+len(not) == 0 {
		return "The pattern has no " + k.kind() + " that may be left out."
	}
	return strings.Join(append(may, not...), " ")
}

// offered gives the numbers of rows that may be left out of a group, the
// smallest first, and the offer that leaves out the most of them.
func offered(group patterns.Optional, offers []fit.Offer) (numbers []int, most fit.Offer) {
	for _, o := range offers {
		n := leftOutOf(o.LeftOut, group)
		if n == 0 || slices.Contains(numbers, n) {
			continue
		}
		if numbers = append(numbers, n); n == slices.Max(numbers) {
			most = o
		}
	}
	slices.Sort(numbers)
	return numbers, most
}

// mayLeave says which numbers of a group's rows may be left out, and what the most
// of them change: of a panel, each time that it is worked.
func (k Knitting) mayLeave(group patterns.Optional, rows string, numbers []int, offer fit.Offer) string {
	most := numbers[len(numbers)-1]
	said, all := "Of "+rows+" you may leave out "+choices(numbers), Number(most)
	if evenly(numbers) {
		said, all = "Of "+rows+" you may leave out "+Number(numbers[0])+" at a time, up to "+Number(most), "that many"
	}
	if len(numbers) == 1 {
		all = "that"
		if most == group.Count() {
			said = "You may leave out " + rows
		}
	}
	if times := offer.Rows / most; times > 1 && offer.Rows == times*most {
		said += ", " + eachTime(times) + ", " + counted(offer.Rows, k.rounds(group)) + " in all"
	}
	if offer.Change < 0 {
		said += ": " + all + " would make it " + k.changed(offer.Change)
	}
	return said + "."
}

// evenly says that there are more numbers than can be listened to, each as many more
// than the one before.
func evenly(numbers []int) bool {
	for i, n := range numbers {
		if n != (i+1)*numbers[0] {
			return false
		}
	}
	return len(numbers) > seriesMost
}

// A reason is what stands against leaving out some numbers of rows.
type reason struct {
	words string
	rows  []int
}

func reasons(group patterns.Optional, barriers []fit.Barrier) []reason {
	var found []reason
	for _, b := range barriers {
		if b.Group.Owner != group.Owner || b.Group.From != group.From {
			continue
		}
		words := breaks(b)
		i := slices.IndexFunc(found, func(r reason) bool { return r.words == words })
		if i < 0 {
			i, found = len(found), append(found, reason{words: words})
		}
		found[i].rows = append(found[i].rows, b.Rows)
		slices.Sort(found[i].rows)
	}
	return found
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
