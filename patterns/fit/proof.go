package fit

import (
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// Proven says whether so many rows of a group may be left out, with all others
// worked: nil when they may, else what would break. It fails with a sentence
// for a size, a group or a number that the pattern does not have.
func Proven(p *patterns.Pattern, size int, group patterns.Optional, rows int) (*Barrier, error) {
	q, err := newProof(p, size)
	if err != nil {
		return nil, err
	}
	groups := p.Optionals(size)
	i := slices.IndexFunc(groups, func(o patterns.Optional) bool { return o.Owner == group.Owner && o.From == group.From })
	if i < 0 {
		return nil, failed(CodeNothingOptional, "%s has no rows from %d on that may be left out", group.Owner, group.From)
	}
	if group = groups[i]; rows < 1 || rows > group.Count() || rows%group.Step != 0 {
		return nil, failed(CodeRows, "rows %d to %d of %s may be left out %d at a time, and there are %d of them", group.From, group.To, group.Owner, group.Step, group.Count())
	}
	b, _ := q.proven([]patterns.LeftOut{{Owner: group.Owner, From: group.From, Rows: rows}})
	return b.of(group, rows), nil
}

// of names the rows that a barrier is about; of none it makes none.
func (b *Barrier) of(group patterns.Optional, rows int) *Barrier {
	if b != nil {
		b.Group, b.Rows = group, rows
	}
	return b
}

// Limits of what is laid out to answer one question. A plan is laid out once for
// all rows, and once for each number of rows that the rows beside them alone
// don't prove, and for each plan that is offered.
const (
	mostLayouts   = 48
	fewestLayouts = 4
	mostStitches  = 3_000_000 // worked in all layouts together, but for the fewest
)

// mostLooks is how many places of panels are looked at to answer one question,
// row by row: some hundred panels with as many groups would take minutes.
const mostLooks = 200_000

// A proof compares a pattern with rows left out with the full plan of a size.
//
// Where rows are left out, the row that follows them finds another row's
// stitches. When they are alike, stitch by stitch, all that follows is what it
// is in the full plan, and nothing has to be worked to know it. Otherwise the
// pattern is laid out without the rows.
type proof struct {
	p        *patterns.Pattern
	size     int
	name     string // of the size
	full     *patterns.Plan
	doubts   map[doubt]bool // of the full plan
	cycles   map[string]patterns.Cycle
	sections map[*patterns.Section]*sectionTexts
	panels   map[string][]stretch
	motifs   map[string][]panelRow // see does
	strips   map[*patterns.Row]rowStrips
	looks    int // at panels, see mostLooks
	allowed  int // layouts that may be made
	layouts  int // those of them that may still be made
}

type doubt struct {
	problem.Span
	code string
}

// sectionTexts is a section's rows in the full plan.
type sectionTexts struct {
	first, last int // indexes of the full plan
	stretches   []stretch
}

// sizeName is what a Choice names a size by.
func sizeName(p *patterns.Pattern, size int) (string, error) {
	switch {
	case size < 0 || size >= p.SizeCount():
		return "", failed(CodeSize, "the pattern has %d sizes, and number %d of them was asked for", p.SizeCount(), size+1)
	case size < len(p.Sizes):
		return p.Sizes[size], nil
	}
	return "", nil
}

func newProof(p *patterns.Pattern, size int) (*proof, error) {
	name, err := sizeName(p, size)
	if err != nil {
		return nil, err
	}
	q := &proof{p: p, size: size, name: name, doubts: map[doubt]bool{}, cycles: map[string]patterns.Cycle{}, panels: map[string][]stretch{}, motifs: map[string][]panelRow{}, strips: map[*patterns.Row]rowStrips{}, sections: map[*patterns.Section]*sectionTexts{}}
	full, doubts, err := p.LayOutWithDoubts(patterns.Choice{Size: q.name})
	if err != nil {
		return nil, err
	}
	for _, d := range doubts {
		q.doubts[doubt{d.Span, d.Code}] = true
	}
	q.full = full
	q.allowed = min(mostLayouts, max(fewestLayouts, int(mostStitches/max(full.Stitches(), 1))))
	q.layouts = q.allowed
	return q, nil
}

// A gap is rows of the full plan, by their indexes, that are left out of one
// section and stand side by side.
type gap struct{ from, to int }

func (q *proof) gaps(leave []patterns.LeftOut) []gap {
	var gaps []gap
	for i, r := range q.full.Rows {
		if !r.LeftOutBy(leave...) {
			continue
		}
		if n := len(gaps); n > 0 && gaps[n-1].to == i-1 && q.full.Rows[i-1].Section == r.Section {
			gaps[n-1].to = i
		} else {
			gaps = append(gaps, gap{i, i})
		}
	}
	return gaps
}

// proven proves one choice. It says false where it could not be decided because
// too much has been laid out, or looked at.
func (q *proof) proven(leave []patterns.LeftOut) (*Barrier, bool) {
	b, alike, ok := q.atGaps(leave)
	if b != nil || alike || !ok {
		return b, ok
	}
	_, b, ok = q.whole(leave)
	return b, ok
}

// atGaps looks at the rows on either side of what is left out. It says whether
// all that follows is as in the full plan, and false for ok where too much has
// been looked at already.
func (q *proof) atGaps(leave []patterns.LeftOut) (b *Barrier, alike, ok bool) {
	alike = true
	for _, g := range q.gaps(leave) {
		first, last := q.full.Rows[g.from], q.full.Rows[g.to]
		if first.Before.Side() != last.After.Side() {
			return &Barrier{Why: WhySide, Rounds: first.Rounds, Section: first.Section.Name}, false, true
		}
		if !q.look(g.from, g.to) {
			return nil, false, false
		}
		if b := q.panelsAt(g, leave); b != nil {
			return b, false, true
		}
		texts := q.texts(first.Section)
		if period := cuts(texts.stretches, g.from-texts.first, g.to-texts.first); period > 0 {
			return &Barrier{Why: WhyTexture, Rounds: first.Rounds, Section: first.Section.Name, Missed: period}, false, true
		}
		alike = alike && q.alike(g)
	}
	return nil, alike, true
}

// alike says that the row after a gap finds the same with and without the rows
// in it, and that no column of stitches looks as if it ended there. That is told
// from a row and the one before it, so the row before the gap has to have done
// to its stitches what the last one in the gap does.
func (q *proof) alike(g gap) bool {
	rows := q.full.Rows
	if rows[g.from].Before.Differs(rows[g.to].After) != fabric.Alike {
		return false
	}
	if g.from == 0 || rows[g.from-1].Section != rows[g.from].Section {
		return true
	}
	before, last := rows[g.from-1], rows[g.to]
	return before.Before.Differs(last.Before) == fabric.Alike && slices.Equal(cameFrom(before), cameFrom(last))
}

// cameFrom gives, for each stitch after a row, which one before it has its
// column; -1 for none.
func cameFrom(r *patterns.Row) []int {
	at := make(map[int32]int, r.Before.Count())
	for i, l := range r.Before.Loops() {
		at[l.Column] = i
	}
	from := make([]int, 0, r.After.Count())
	for _, l := range r.After.Loops() {
		i, found := at[l.Column]
		if !found {
			i = -1
		}
		from = append(from, i)
	}
	return from
}

// texts gives where the section's own rows repeat.
func (q *proof) texts(s *patterns.Section) *sectionTexts {
	if t := q.sections[s]; t != nil {
		return t
	}
	t := &sectionTexts{first: -1}
	var rows []string
	for i, r := range q.full.Rows {
		if r.Section != s {
			continue
		}
		if t.first < 0 {
			t.first = i
		}
		t.last = i
		rows = append(rows, rowText(r, q.size))
	}
	t.stretches = stretches(numbered(rows))
	q.sections[s] = t
	return t
}

// rowText is what a row says, so that two can be compared; all rows that work
// panels say the same.
func rowText(r *patterns.Row, size int) string {
	if len(strips(r.Written)) > 0 {
		return "panels"
	}
	return r.Side.String() + " " + instruction.Print(r.Written, size)
}

// numbered gives equal texts equal numbers.
func numbered(texts []string) []int {
	seen := map[string]int{}
	out := make([]int, len(texts))
	for i, text := range texts {
		if _, ok := seen[text]; !ok {
			seen[text] = len(seen)
		}
		out[i] = seen[text]
	}
	return out
}

// whole lays the pattern out without the rows, and compares all that is left
// with the full plan. It says false where too much has been laid out already.
func (q *proof) whole(leave []patterns.LeftOut) (*patterns.Plan, *Barrier, bool) {
	if q.layouts <= 0 {
		return nil, nil, false
	}
	q.layouts--
	plan, doubts, err := q.p.LayOutWithDoubts(patterns.Choice{Size: q.name, LeftOut: leave})
	if err != nil {
		return nil, &Barrier{Why: WhyWork, Rounds: q.p.Rounds, Detail: strings.TrimPrefix(err.Error(), "with these rows left out, ")}, true
	}
	if b := q.compare(plan, leave); b != nil {
		return nil, b, true
	}
	for _, d := range doubts {
		if !q.doubts[doubt{d.Span, d.Code}] {
			return nil, &Barrier{Why: WhyDoubt, Rounds: q.p.Rounds, Detail: d.Message}, true
		}
	}
	return plan, nil, true
}

// compare compares the rows of a plan with the same rows of the full one.
func (q *proof) compare(plan *patterns.Plan, leave []patterns.LeftOut) *Barrier {
	full := q.full.Rows
	kept := make([]int, 0, len(full))
	for i, r := range full {
		if !r.LeftOutBy(leave...) {
			kept = append(kept, i)
		}
	}
	if len(kept) != len(plan.Rows) || len(kept) == 0 {
		return &Barrier{Why: WhyWork, Rounds: q.p.Rounds, Detail: "other rows would be left than those that are meant"}
	}
	needle, before := full[0].Before, -1
	for j, i := range kept {
		was, is := full[i], plan.Rows[j]
		if b := q.ends(before, i, needle); b != nil {
			return b
		}
		if is.Side != was.Side {
			return &Barrier{Why: WhySide, Rounds: is.Rounds, Section: is.Section.Name, Row: is.Number}
		}
		if i != before+1 {
			if d := seam(full, i, is.Before, was.Before); d != fabric.Alike && !(d == fabric.OtherYarn && coversYarn(is, was)) {
				return atSeam(is, is.Before, was.Before, d)
			}
		}
		needle, before = is.After, i
	}
	return q.ends(before, len(full), needle)
}

// coversYarn says that a row finds stitches in another yarn, and leaves all as in
// the full plan: it names its own yarn first and works every stitch in it, so that
// a stripe before it is missed, and no more.
func coversYarn(is, was *patterns.Row) bool {
	return is.Before.Count() == was.Before.Count() && slices.Equal(is.Before.Markers(), was.Before.Markers()) &&
		is.Before.Held() == 0 && was.Before.Held() == 0 && is.After.Differs(was.After) == fabric.Alike
}

// ends compares what sections end with: all whose last row stands from one kept
// row (-1 for none) on and before the next. Those that are left out whole end
// as well, with what is on the needle then.
func (q *proof) ends(from, to int, needle fabric.Fabric) *Barrier {
	full := q.full.Rows
	for i := max(from, 0); i < to; i++ {
		if i+1 < len(full) && full[i+1].Section == full[i].Section {
			continue
		}
		if d := needle.Differs(full[i].After); d != fabric.Alike {
			return atEnd(full[i], needle, full[i].After, d)
		}
	}
	return nil
}

// seam compares what row i of the full plan finds after a gap. Inside a section
// it may be another number of stitches; what a section begins with may not.
func seam(full []*patterns.Row, i int, found, wanted fabric.Fabric) fabric.Difference {
	if found.Count() != wanted.Count() && i > 0 && full[i-1].Section == full[i].Section {
		return found.DiffersInRuns(wanted)
	}
	return found.Differs(wanted)
}
