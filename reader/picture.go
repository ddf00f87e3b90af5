package reader

import (
	"slices"

	"clew/patterns/chart"
)

// MostAlt is less than what the platform takes as the description of a file:
// 1,024 characters (Discord's developer documentation, Attachment object:
// description), counted here in UTF-16 units, which are the most that a
// character may mean.
const MostAlt = 1000

// Picture describes a picture for those who don't see it: which rows of what,
// how wide, and what its strands do or its texture is; then the current row,
// what was cut, and the rest. It is never longer than MostAlt; what matters
// least is left out first.
func Picture(f chart.Facts) string {
	p := pictured{Facts: f}
	clauses := p.clauses()
	said := capital(p.subject()) + ", " + p.width()
	if longer := said + "; " + clauses[0] + "."; characters(longer) <= MostAlt {
		said = longer
	} else {
		said += "."
	}
	for _, s := range slices.Concat([]string{p.here(), p.cut(), p.narrowed()}, clauses[1:], []string{p.yarns()}) {
		if s == "" {
			continue
		}
		if longer := said + " " + capital(s) + "."; characters(longer) <= MostAlt {
			said = longer
		}
	}
	return said
}

// characters counts a text in UTF-16 units.
func characters(text string) int {
	n := 0
	for _, r := range text {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}

// A pictured puts the facts of a picture into words.
type pictured struct{ chart.Facts }

// row is what n rows are called.
func (p pictured) row(n int) string { return kindOf(Row{Round: p.Rounds}, n) }

// clauses are what is seen: the repeat, the strands, the texture, the stitches.
// There is always one at least.
func (p pictured) clauses() []string {
	var all []string
	switch {
	case p.Times > 1 && p.Times == p.Most:
		all = append(all, "one stitch is drawn, and all others are like it")
	case p.Times > 1 && p.WholeFrom > 0 && p.WholeFrom < p.Last:
		all = append(all, "one of "+Number(p.Times)+" repeats is drawn, and all of "+p.span(p.WholeFrom, p.Last))
	case p.Times > 1 && p.WholeFrom > 0:
		all = append(all, "one of "+Number(p.Times)+" repeats is drawn, and all of "+p.row(1)+" "+Number(p.WholeFrom))
	case p.Times > 1:
		all = append(all, "one of "+Number(p.Times)+" repeats is drawn")
	}
	if again := p.again(); again != "" {
		all = append(all, again)
	}
	seen := slices.Concat(p.strands(), p.ground(), p.textures(), p.stitchFacts())
	if len(p.Strands) == 0 && len(seen) == 0 {
		seen = append(seen, "no stitches cross")
	}
	return append(all, seen...)
}

// of names the section of rows, where there are several.
func (p pictured) of(section string) string {
	if len(p.Sections) < 2 || section == "" {
		return ""
	}
	return " of " + p.name(section)
}

// span names rows by their numbers.
func (p pictured) span(first, last int) string { return numbered(first, last, p.Rounds) }

// subject is what is drawn.
func (p pictured) subject() string {
	rows := p.span(p.First, p.Last) + " of " + p.name(p.Name)
	if len(p.Sections) > 1 {
		rows = p.sections()
	}
	if p.Fabric {
		return "the fabric of " + rows
	}
	return rows
}

func (p pictured) name(text string) string { return shortName(text, "the pattern") }

// sections names rows that run through several sections.
func (p pictured) sections() string {
	last := len(p.Sections) - 1
	words := p.row(1) + " " + Number(p.First) + " of " + p.name(p.Sections[0])
	switch between := last - 1; between {
	case 0:
	case 1:
		words += ", through " + p.name(p.Sections[1]) + ","
	default:
		words += ", through " + Number(between) + " more sections,"
	}
	return words + " to " + p.row(1) + " " + Number(p.Last) + " of " + p.name(p.Sections[last])
}

// width is how many stitches are on the needle: from how many to how many
// where they go one way alone, else their bounds.
func (p pictured) width() string {
	least := p.least()
	if change, ok := p.change(least); ok {
		return change
	}
	switch {
	case p.Most == 0:
		return "with no stitches left"
	case least == p.Most:
		return stitches(p.Most) + " wide"
	case least == 0:
		return "at most " + stitches(p.Most) + " wide"
	}
	return "between " + Number(least) + " and " + stitches(p.Most) + " wide"
}

func (p pictured) here() string {
	switch {
	case p.Here == 0:
		return ""
	case p.First == p.Last && len(p.Sections) < 2:
		return "it is the " + p.row(1) + " you are at"
	}
	return "your " + p.row(1) + ", " + Number(p.Here) + ", is marked"
}

// cut says which of the rows that were asked for are drawn.
func (p pictured) cut() string {
	if p.Cut != chart.CutRows {
		return ""
	}
	drawn := "the first ones are drawn"
	if p.Here > 0 {
		drawn = "those nearest to yours are drawn"
	}
	asked := p.span(p.Whole[0], p.Whole[1])
	if len(p.Sections) > 1 || p.Whole[0] >= p.Whole[1] { // numbers begin anew in each section
		asked = "all the " + p.row(2) + " asked for"
	}
	return asked + " are too many for one picture, so " + drawn
}

// again says which rows are worked again and again.
func (p pictured) again() string {
	r := p.Again
	switch {
	case r.Times < 2:
		return ""
	case r.Times == 2:
		return p.span(r.First, r.Last) + " come twice"
	}
	return p.span(r.First, r.Last) + " come " + Number(r.Times) + " times"
}

// mostRepeats is how many repeats can be counted at a glance.
const mostRepeats = 12

// narrowed says how much of the width is drawn, where there is no room for all,
// or where a part is drawn larger.
func (p pictured) narrowed() string {
	last := p.DrawnFrom + p.Drawn - 1
	switch {
	case p.Drawn == 0 && p.Cut == chart.CutStitches:
		return "it is too wide for one picture, so a part of the width is drawn"
	case p.Drawn == 0:
		return ""
	case p.Repeats[0] == p.Drawn || p.Repeats[0] > mostRepeats:
		return "drawn larger, so that each stitch can be seen: " + stitches(p.Drawn) + " from the right edge"
	case p.Repeats[0] == 1:
		return "drawn larger, so that each stitch can be seen: one of the " + Number(p.Repeats[1]) + " repeats" + ", " + stitches(p.Drawn) + " from the right edge"
	case p.Repeats[0] > 1:
		return "drawn larger, so that each stitch can be seen: " + Number(p.Repeats[0]) + " of the " + Number(p.Repeats[1]) + " repeats" + ", " + stitches(p.Drawn) + " from the right edge"
	case p.DrawnRow > 0:
		return "it is too wide for one picture: stitches " + Number(p.DrawnFrom) + " to " + Number(last) + " of " + p.row(1) + " " + Number(p.DrawnRow) + ", from the right, are drawn, and what lies above and below"
	case p.Drawn == 1:
		return "it is too wide for one picture: stitch " + Number(p.DrawnFrom) + " from the right is drawn"
	}
	return "it is too wide for one picture: stitches " + Number(p.DrawnFrom) + " to " + Number(last) + " from the right are drawn"
}

func (p pictured) yarns() string {
	if len(p.Yarns) < 2 {
		return ""
	}
	names := make([]string, len(p.Yarns))
	for i, yarn := range p.Yarns {
		names[i] = shortName(yarn, "an unnamed one")
	}
	return "the yarns are " + series(names)
}
