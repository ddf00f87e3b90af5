package fit

import (
	"errors"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fabric"
)

// A question is what one knitter asks of her plan.
type question struct {
	*proof
	base     []patterns.LeftOut       // what she leaves out already
	all      []patterns.LeftOut       // all that may be left out
	kept     []int                    // the rows of her plan, as indexes of the full one
	limit    int                      // index of the last row of the full plan that she has reached; -1 for none
	heights  []float64                // cm of each row of the full plan; 0 where the gauge is not known
	from, to int                      // the rows of the full plan that the piece has which she is in
	main     *patterns.Section        // the section of the piece with the most rows
	said     map[*patterns.Row]string // see says
	pickUp   int                      // index of the last row of the piece that picks up stitches; -1 for none
	offered  map[string]*Offer        // what has been tried whole; nil where it does not pass
	piece    Piece                    // as it is in her plan; its length is 0 where the gauge is not known
}

// ask begins a question. Errors are those of LayOut; a gauge may be missing.
func ask(p *patterns.Pattern, c patterns.Choice, worked int, own *Gauge) (*question, error) {
	size, err := p.SizeIndex(c.Size)
	if err != nil {
		return nil, err
	}
	proof, err := newProof(p, size)
	if err != nil {
		return nil, err
	}
	plan := proof.full
	if len(c.LeftOut) > 0 {
		if plan, err = p.LayOut(c); err != nil {
			return nil, err
		}
	}
	q := &question{proof: proof, base: c.LeftOut, limit: -1, offered: map[string]*Offer{}, said: map[*patterns.Row]string{}}
	for _, o := range p.Optionals(size) {
		q.all = append(q.all, patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: o.Count()})
	}
	for i, r := range q.full.Rows {
		if !r.LeftOutBy(q.base...) {
			q.kept = append(q.kept, i)
		}
		gauge, _ := GaugeOf(p, r.Section, own)
		q.heights = append(q.heights, gauge.Length(1))
	}
	if len(q.kept) == 0 || len(q.kept) != len(plan.Rows) {
		return nil, failed(CodeNothingLeft, "no rows are left of the pattern with all of that left out")
	}
	if worked = min(worked, len(q.kept)); worked > 0 {
		q.limit = q.kept[worked-1]
	}
	q.from, q.to = extent(q.full.Rows, q.kept[max(worked-1, 0)])
	if q.piece, err = pieceOf(plan, worked-1, own); err != nil && !errors.Is(err, ErrNoGauge) {
		return nil, err
	}
	return q, nil
}

// needsGauge fails with ErrNoGauge where rows of the piece have no height.
func (q *question) needsGauge() error {
	if slices.Contains(q.heights[q.from:q.to+1], 0) {
		return ErrNoGauge
	}
	return nil
}

// options gives, for each of some groups, the numbers of rows that may be left
// out in place of the number that is left out now, each with what it adds to
// weigh: more rows where less is false, fewer where it is true. No option
// changes a row that she has reached, and each has passed the proof by itself,
// with all else left out that is now. What stands in the way of the first
// number of rows that can't be left out is told as well.
func (q *question) options(groups []patterns.Optional, less bool, weigh func(row int) float64) (found [][]option, barrier *Barrier, reached bool) {
	for _, o := range groups {
		now := leftOf(q.base, o)
		first, last := now+o.Step, o.Count()
		if less {
			first, last = 0, now-o.Step
		}
		var options []option
		for rows := first; rows <= last; rows += o.Step {
			leave := with(q.base, o, rows)
			opt := option{leave: patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows}, cost: costOf(o)}
			changed := q.changed(leave)
			for _, i := range changed {
				opt.rows++
				opt.weight += weigh(i)
			}
			if opt.weight == 0 {
				continue
			}
			if changed[0] <= q.limit {
				reached = true
				continue
			}
			b, decided := q.alone(leave)
			switch {
			case b == nil && decided:
				options = append(options, opt)
			case barrier == nil:
				barrier = b.of(o, rows)
			}
		}
		if len(options) > 0 {
			found = append(found, options)
		}
	}
	return found, barrier, reached
}

// alone proves one number of rows by itself. Two thirds of the layouts may go into
// that; the others are kept for what is offered.
func (q *question) alone(leave []patterns.LeftOut) (*Barrier, bool) {
	b, alike, ok := q.atGaps(leave)
	if b != nil || alike || !ok {
		return b, ok
	}
	if 3*q.layouts <= q.allowed {
		return nil, false
	}
	_, b, ok = q.whole(leave)
	return b, ok
}

// changed gives the rows of the full plan that another choice works and hers
// does not, or the other way round.
func (q *question) changed(leave []patterns.LeftOut) []int {
	var rows []int
	for i, r := range q.full.Rows {
		if r.LeftOutBy(leave...) != r.LeftOutBy(q.base...) {
			rows = append(rows, i)
		}
	}
	return rows
}

// leftOf is how many rows of a group are left out.
func leftOf(leave []patterns.LeftOut, o patterns.Optional) int {
	for _, l := range leave {
		if l.Owner == o.Owner && l.From == o.From {
			return l.Rows
		}
	}
	return 0
}

// with gives a choice with another number of rows of one group.
func with(leave []patterns.LeftOut, o patterns.Optional, rows int) []patterns.LeftOut {
	leave = slices.DeleteFunc(slices.Clone(leave), func(l patterns.LeftOut) bool { return l.Owner == o.Owner && l.From == o.From })
	if rows > 0 {
		leave = append(leave, patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows})
	}
	return leave
}

func costOf(o patterns.Optional) int {
	if o.Panel {
		return panelCost
	}
	return sectionCost
}

// offer proves a combination whole; nil where it does not pass, or where too
// much has been laid out.
func (q *question) offer(c *combination) *Offer {
	leave := c.leaves(q.base)
	key := patterns.FormatLeftOut(leave)
	if o, known := q.offered[key]; known {
		return o
	}
	q.offered[key] = nil
	if b, _, ok := q.atGaps(leave); b != nil || !ok {
		return nil
	}
	plan, b, ok := q.whole(leave)
	if b != nil || !ok {
		return nil
	}
	o := q.told(leave, plan)
	q.offered[key] = &o
	return &o
}

// told tells what a choice that has passed comes to.
func (q *question) told(leave []patterns.LeftOut, plan *patterns.Plan) Offer {
	o := Offer{LeftOut: leave, Plan: plan}
	for _, i := range q.changed(leave) {
		rows := -1
		if q.full.Rows[i].LeftOutBy(leave...) {
			rows = 1
		}
		o.Rows += rows
		if i >= q.from && i <= q.to {
			o.Change -= float64(rows) * q.heights[i]
		} else {
			o.Beside -= float64(rows) * q.heights[i]
		}
	}
	o.Stripes = q.stripes(leave)
	if q.piece.Length > 0 {
		o.Length = q.piece.Length + o.Change
	}
	return o
}

// stripes gives the yarns of which a stripe is missed with a choice, and is not in
// hers: rows that leave stitches in another yarn than they find.
func (q *question) stripes(leave []patterns.LeftOut) []string {
	var yarns []string
	for _, g := range q.gaps(leave) {
		first, last := q.full.Rows[g.from], q.full.Rows[g.to]
		if last.LeftOutBy(q.base...) || first.Before.Count() == 0 || last.After.Count() == 0 {
			continue
		}
		found, left := firstYarn(first.Before), firstYarn(last.After)
		if left != "" && left != found && !slices.Contains(yarns, left) {
			yarns = append(yarns, left)
		}
	}
	return yarns
}

// firstYarn is the yarn of a needle's first stitch, as the pattern names it.
func firstYarn(f fabric.Fabric) string { return f.YarnName(f.Loops()[0].Yarn) }

// combine gives the combinations of options, see combinations. Groups may share
// rows: those of a panel, and those of the section that works it. Such
// combinations are weighed anew, so that no row counts twice.
func (q *question) combine(groups [][]option, target, step float64, weigh func(row int) float64) []*combination {
	all := combinations(groups, target, step)
	if len(groups) < 2 || !q.overlaps() {
		return all
	}
	for _, c := range all {
		c.rows, c.weight = 0, 0
		for _, i := range q.changed(c.leaves(q.base)) {
			c.rows++
			c.weight += weigh(i)
		}
	}
	slices.SortStableFunc(all, func(a, b *combination) int { return order(a, b, target) })
	return all
}

// overlaps says that a row of the full plan stands in more than one group.
func (q *question) overlaps() bool {
	return slices.ContainsFunc(q.full.Rows, func(r *patterns.Row) bool {
		n := 0
		for _, l := range q.all {
			if r.LeftOutBy(l) {
				n++
			}
		}
		return n > 1
	})
}

// first gives the first combination that passes whole, of those that fit.
func (q *question) first(all []*combination, fits func(*combination) bool) (*combination, *Offer) {
	tried := 0
	for _, c := range all {
		if c.further == nil || !fits(c) {
			continue
		}
		if o := q.offer(c); o != nil {
			return c, o
		}
		if tried++; tried == mostTried {
			break
		}
	}
	return nil, nil
}

// mostTried is how many combinations are tried before one is offered. Each part
// of them has passed by itself.
const mostTried = 8

// most gives the offer with the most of what is weighed.
func (q *question) most(groups [][]option, weigh func(row int) float64) *Offer {
	total := 0.0
	for _, options := range groups {
		heaviest := 0.0
		for _, o := range options {
			heaviest = max(heaviest, o.weight)
		}
		total += heaviest
	}
	_, o := q.first(q.combine(groups, total, stepTo(total), weigh), func(*combination) bool { return true })
	return o
}

// none tells why there is nothing to be offered.
func (q *question) none(groups []patterns.Optional, of string, barrier *Barrier, reached bool) error {
	word := rowWord(q.p.Rounds)
	switch {
	case len(groups) == 0:
		return failed(CodeNothingOptional, "no %ss%s may be left out", word, of)
	case reached:
		return failed(CodeReached, "the %ss%s that may be left out are worked already, or being worked", word, of)
	case barrier != nil:
		return &Error{Code: CodeBreaks, Said: barrier.Error(), Barrier: barrier}
	}
	return failed(CodeAllLeftOut, "all %ss%s that may be left out are left out already", word, of)
}

// named gives the groups of a section or a panel; of a section that has none,
// those of the panels that it works. Without a name it gives all. A name in the
// very letters goes before one in others, and a section before a panel.
func (q *question) named(owner string) ([]patterns.Optional, error) {
	all := q.p.Optionals(q.size)
	owner = strings.TrimSpace(owner)
	if owner == "" {
		return all, nil
	}
	of := func(is func(patterns.Optional) bool) []patterns.Optional {
		return slices.DeleteFunc(slices.Clone(all), func(o patterns.Optional) bool { return !is(o) })
	}
	for _, is := range []func(patterns.Optional) bool{
		func(o patterns.Optional) bool { return o.Owner == owner && !o.Panel },
		func(o patterns.Optional) bool { return o.Owner == owner },
		func(o patterns.Optional) bool { return strings.EqualFold(o.Owner, owner) && !o.Panel },
		func(o patterns.Optional) bool { return strings.EqualFold(o.Owner, owner) },
	} {
		if found := of(is); len(found) > 0 {
			return found, nil
		}
	}
	if _, err := q.p.PanelNamed(owner); err == nil {
		return nil, nil
	}
	section, err := q.p.SectionNamed(owner)
	if err != nil {
		return nil, err
	}
	worked := strips(section.Across)
	return of(func(o patterns.Optional) bool {
		for _, s := range worked {
			if o.Panel && s.Panel == o.Owner {
				return true
			}
		}
		return false
	}), nil
}
