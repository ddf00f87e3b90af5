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
// how wide, and what its strands do; then the current row, what is left out of
// the drawing, and the rest. It is never longer than MostAlt; what matters
// least is left out first.
func Picture(f chart.Facts) string {
	p := pictured{Facts: f}
	events := p.events()
	said := p.subject() + ", " + p.width()
	if len(events) > 0 {
		said += "; " + events[0]
		events = events[1:]
	}
	said = capital(said) + "."
	for _, s := range slices.Concat([]string{p.here(), p.repeat(), p.cut()}, events, []string{p.yarns()}) {
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

// span names rows by their numbers: "round one", "rounds one to twelve".
func (p pictured) span(first, last int) string {
	switch last - first {
	case 0:
		return p.row(1) + " " + Number(first)
	case 1:
		return p.row(2) + " " + Number(first) + " and " + Number(last)
	}
	return p.row(2) + " " + Number(first) + " to " + Number(last)
}

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

// width is how many stitches are on the needle. Where they change it gives
// their bounds, since they may go either way.
func (p pictured) width() string {
	switch {
	case p.Most == 0:
		return "with no stitches left"
	case p.Least == p.Most:
		return stitches(p.Most) + " wide"
	case p.Least == 0:
		return "at most " + stitches(p.Most) + " wide"
	}
	return "between " + Number(p.Least) + " and " + stitches(p.Most) + " wide"
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

func (p pictured) repeat() string {
	if p.Times < 2 {
		return ""
	}
	return "one of " + Number(p.Times) + " repeats is drawn"
}

func (p pictured) cut() string {
	if p.Cut == "" {
		return ""
	}
	reason := "are too many for one picture"
	if p.Cut == chart.CutStitches {
		reason = "have too many stitches for one picture"
	}
	drawn := "the first ones are drawn"
	if p.Here > 0 {
		drawn = "those nearest to yours are drawn"
	}
	return p.span(p.Whole[0], p.Whole[1]) + " " + reason + ", so " + drawn
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

// events are what the strands do, a clause for each thing that they do and all
// the rows in which they do it, in the order in which each comes first.
func (p pictured) events() []string {
	if len(p.Strands) == 0 {
		return []string{"no stitches cross"}
	}
	var clauses []string
	for _, g := range grouped(p.Strands) {
		clauses = append(clauses, p.event(g))
	}
	return clauses
}

// A strandGroup is what the same number of strands does, at the same number of
// places: crossing one way, or parting and meeting.
type strandGroup struct {
	kind           chart.StrandKind // Part for parting and meeting
	strands, times int
	parts, meets   []int // the rows; parts are those of the crosses as well
}

func grouped(facts []chart.StrandFact) []*strandGroup {
	var groups []*strandGroup
	for _, f := range facts {
		kind := f.Kind
		if kind == chart.Meet {
			kind = chart.Part
		}
		i := slices.IndexFunc(groups, func(g *strandGroup) bool {
			return g.kind == kind && g.strands == f.Strands && g.times == f.Times
		})
		if i < 0 {
			groups = append(groups, &strandGroup{kind: kind, strands: f.Strands, times: f.Times})
			i = len(groups) - 1
		}
		rows := &groups[i].parts
		if f.Kind == chart.Meet {
			rows = &groups[i].meets
		}
		if last := len(*rows) - 1; last < 0 || (*rows)[last] != f.Row {
			*rows = append(*rows, f.Row)
		}
	}
	return groups
}

func (p pictured) event(g *strandGroup) string {
	words := Number(g.strands) + " " + plural("strand", g.strands)
	if g.times > 1 {
		words = "in " + Number(g.times) + " places " + words
	}
	switch g.kind {
	case chart.CrossLeft:
		return words + " cross " + p.at(g.parts) + ", the front one to the left"
	case chart.CrossRight:
		return words + " cross " + p.at(g.parts) + ", the front one to the right"
	}
	switch {
	case len(g.meets) == 0:
		return words + " part " + p.at(g.parts)
	case len(g.parts) == 0:
		return words + " meet " + p.at(g.meets)
	case g.parts[0] <= g.meets[0]:
		return words + " part " + p.at(g.parts) + " and meet again " + p.at(g.meets)
	}
	return words + " meet " + p.at(g.meets) + " and part again " + p.at(g.parts)
}

// at says in which rows something is done. Numbers begin anew in each
// section, so of several sections it says in how many rows.
func (p pictured) at(rows []int) string {
	n := len(rows)
	if len(p.Sections) > 1 {
		return "in " + Number(n) + " " + p.row(n)
	}
	if gap, even := spaced(rows); even {
		return "at " + every(gap) + p.row(1) + " from " + Number(rows[0]) + " to " + Number(rows[n-1])
	}
	numbers := make([]string, n)
	for i, row := range rows {
		numbers[i] = Number(row)
	}
	return "at " + p.row(n) + " " + series(numbers)
}

// spaced says that rows are many and stand the same number of rows apart.
func spaced(rows []int) (gap int, even bool) {
	if len(rows) < 4 {
		return 0, false
	}
	gap = rows[1] - rows[0]
	for i := 2; i < len(rows); i++ {
		if rows[i]-rows[i-1] != gap {
			return 0, false
		}
	}
	return gap, gap > 0
}

func every(gap int) string {
	switch gap {
	case 1:
		return "every "
	case 2:
		return "every other "
	}
	return "every " + Ordinal(gap) + " "
}
