package bot

import (
	"context"
	"errors"
	"slices"
	"time"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader/listen"
	"clew/session"
)

// With rows held back, nobody is told a row of a session that has not opened. What a
// member's request is answered from is her plan cut behind the last open row; the
// whole is asked for counts, and for what has to hold for the whole piece, and what
// comes of that is told only where it names nothing that is not open.

// openRows is how many rows of a plan are open to members at a moment: all of them,
// where nothing is held back; with that those up to the end of the newest session that
// has opened, so that rows behind the last session never are. A session whose section
// is no longer in the pattern opens nothing beyond the one before it.
func (p *plan) openRows(about session.About, at time.Time) int {
	all := p.Whole()
	if !about.Hold {
		return len(all.Rows)
	}
	sections := map[string]int{}
	for i, s := range all.Pattern.Sections {
		sections[s.Name] = i
	}
	newest, _ := about.Opened(at)
	for n := newest.Number; n > 0; n-- {
		last := about.Sessions[n-1].Last
		end, known := sections[last.Section]
		if !known {
			continue
		}
		for i, r := range all.Rows {
			if in := sections[r.Section.Name]; in > end || in == end && r.Number > last.Row {
				return i
			}
		}
		return len(all.Rows)
	}
	return 0
}

// upTo gives the plan cut behind its first n rows, for all who may hear as much.
func (p *plan) upTo(n int) *plan {
	if n >= len(p.Rows) {
		return p
	}
	made, ok := p.cuts.Load(n)
	if !ok {
		made, _ = p.cuts.LoadOrStore(n, newPlan(p.Plan.UpTo(n)))
	}
	cut, _ := made.(*plan) // nothing else is kept there
	return cut
}

// isCut says that rows of the plan are held back.
func (p *plan) isCut() bool { return p.Whole() != p.Plan }

// withhold takes the rows that are held back from the plan by which one knits at a
// place. One whose row is among those is at the last open one in its place, for which
// it is true; she stays where she is until she moves.
func (t *talk) withhold(c carried) (carried, bool) {
	whole := c.plan
	c.plan = whole.upTo(whole.openRows(t.about, t.now()))
	n := len(c.plan.Rows)
	if !c.plan.isCut() || c.at.Row == 0 || whole.rowAt(c.at) < n {
		return c, false
	}
	c.at.Row, c.at.Step = 0, 0
	if n > 0 {
		c.at.Section, c.at.Row = c.plan.Rows[n-1].Section.Name, c.plan.Rows[n-1].Number
	}
	return c, true
}

// notYetWords says that her own row is held back, in front of an answer.
func (t *talk) notYetWords() string {
	if !t.notYet {
		return ""
	}
	return "Your place has not opened yet, so until it does you hear what is open. "
}

// notOpen says that what comes next is not open yet, and when it is.
func (t *talk) notOpen() string {
	said := "That is the last " + t.word() + " that is open. "
	if len(t.plan.Rows) == 0 {
		said = "Nothing is open yet. "
	}
	if next := t.nextOpens(t.about); next != "" {
		return said + next
	}
	return said + "What comes after it is in no session yet."
}

// opensLater says when more rows open, with a space before it; nothing where none are
// held back.
func (t *talk) opensLater() string {
	if !t.plan.isCut() {
		return ""
	}
	if next := t.nextOpens(t.about); next != "" {
		return " " + next
	}
	return ""
}

// sizesOpen measures the sections, of which it gives those that have begun to be open,
// and all.
func (p *plan) sizesOpen(own *fit.Gauge) (open, all []fit.SectionSize, err error) {
	all, err = fit.Measure(p.Whole(), own)
	open, _ = apart(all, func(s fit.SectionSize) bool { return slices.Contains(p.Pattern.Sections, s.Section) })
	return open, all, err
}

// openBarrier gives what stands against leaving out rows, as far as it is open: of
// what is not, no more than that what follows could not be worked.
func (p *plan) openBarrier(b fit.Barrier) fit.Barrier {
	if !p.isCut() {
		return b
	}
	if _, open := p.Find(b.Section, b.Row); open && b.Detail == "" && (b.Panel == "" || slices.Contains(panelsOf(p.Pattern), b.Panel)) {
		return b
	}
	return fit.Barrier{Group: b.Group, Rows: b.Rows, Rounds: b.Rounds, Why: fit.WhyWork}
}

// tellable are the codes of those errors of package fit that name no row, section or
// panel.
var tellable = map[string]bool{
	fit.CodeEmpty: true, fit.CodeUnreadable: true, fit.CodeUnitMissing: true, fit.CodeUnitMixed: true, fit.CodeUnitUnknown: true, fit.CodeZero: true,
	fit.CodeNegative: true, fit.CodeSmall: true, fit.CodeLarge: true, fit.CodeNoGauge: true, fit.CodeBody: true, fit.CodeSize: true, fit.CodeReached: true,
	fit.CodeNothingLeft: true, fit.CodeNothingOptional: true, fit.CodeAllLeftOut: true, fit.CodeYarnNothing: true, fit.CodeYarnMore: true, fit.CodeYarnName: true,
	fit.CodeYarnUnknown: true, fit.CodeNothingStraight: true,
}

// openRefusal gives the sentence of an error of package fit, without what is not open.
func (t *talk) openRefusal(err error) (string, error) {
	if !t.plan.isCut() {
		return refusal(err)
	}
	var wrong *fit.Error
	var barrier *fit.Barrier
	switch {
	case errors.As(err, &barrier):
		b := t.plan.openBarrier(*barrier)
		return refusal(&b)
	case errors.As(err, &wrong) && !tellable[wrong.Code]:
		return "That does not go with what is still to open, or can't be told before it does. Nothing has moved." + t.opensLater(), nil
	}
	return refusal(err)
}

// hearing gives the ear for her requests: it knows the names of what is open to her.
// One who has no plan yet may be told of no name that is held back.
func (t *talk) hearing(ctx context.Context) (*listen.Listener, error) {
	switch {
	case t.plan == nil && t.about.Hold:
		return plainEar(), nil
	case t.plan != nil && t.plan.isCut():
		return t.plan.ear(), nil
	}
	return t.listener(ctx, revision{t.ask.Knitalong, t.about.Revision})
}

// allOpen stands for a plan that was not cut.
const allOpen = -1

// openTo is how many rows of her plan are open, for what is kept of them: allOpen
// where none are held back.
func (t *talk) openTo() int {
	if t.plan.isCut() {
		return len(t.plan.Rows)
	}
	return allOpen
}

// offering is the whole pattern, for what has to hold for the whole piece, with no
// group of rows that may be left out but those that are open to her, and those that
// she leaves out already.
func (t *talk) offering() *patterns.Pattern {
	whole := t.plan.Whole().Pattern
	if !t.plan.isCut() {
		return whole
	}
	open := t.plan.Pattern.Optionals(t.plan.Size)
	leave, _ := patterns.ParseLeftOut(t.at.LeftOut) // one that can't be read has no plan
	return whole.Offering(func(o patterns.Optional) bool {
		same := func(owner string, from int) bool { return owner == o.Owner && from == o.From }
		return slices.ContainsFunc(open, func(own patterns.Optional) bool { return same(own.Owner, own.From) }) ||
			slices.ContainsFunc(leave, func(l patterns.LeftOut) bool { return same(l.Owner, l.From) })
	})
}

// isOpen says that rows of a section that are to be worked again are open.
func (p *plan) isOpen(a *fit.Again) bool {
	if a == nil {
		return true
	}
	_, from := p.Find(a.Section.Name, a.From)
	_, to := p.Find(a.Section.Name, a.To)
	return from && to
}

// openLengthening takes out of how a piece becomes longer what is not open; false
// where the best of it is not.
func (p *plan) openLengthening(l fit.Lengthening) (fit.Lengthening, bool) {
	if !p.isOpen(l.Best) {
		return l, false
	}
	if !p.isOpen(l.Less) {
		l.Less = nil
	}
	if !p.isOpen(l.More) {
		if l.Best == nil && l.Restored == nil {
			return l, false
		}
		l.More = nil
	}
	return l, true
}

// longerLater is said where what would make a piece longer is not open yet.
func (t *talk) longerLater() string {
	return "What would make it longer has not opened yet. Nothing has moved." + t.opensLater()
}

// openEstimate takes out of an estimate of yarn at which row it runs out, where that
// is not open.
func (p *plan) openEstimate(e fit.Estimate) fit.Estimate {
	if e.RunsOut >= len(p.Rows) {
		e.RunsOut = -1
	}
	if e.Earliest >= len(p.Rows) {
		e.Earliest = -1
	}
	return e
}

// openCastOns takes out of what to cast on which section no longer fits it, where that
// is not open; true where it did.
func (p *plan) openCastOns(found []fit.CastOn) (open []fit.CastOn, later bool) {
	for _, c := range found {
		if c.Rest != nil && !slices.Contains(p.Pattern.Sections, c.Rest) {
			c.Rest, later = nil, true
		}
		open = append(open, c)
	}
	return open, later
}
