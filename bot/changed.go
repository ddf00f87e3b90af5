package bot

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"clew/patterns/compare"
	"clew/reader"
	"clew/session"
)

// A member is told once what corrections have changed of rows that she has worked,
// or is working, and what has become of her place. The store keeps up to which
// revision that is, so that several corrections are told as the one change that
// they come to.

// changedFor gives what a member has to be told of corrections, where her place is
// in the current text; "" for nothing.
func (t *talk) changedFor(ctx context.Context, now carried) (string, error) {
	stored := t.state.Place
	told := cmp.Or(t.state.Told, stored.Revision)
	if told >= t.about.Revision {
		return "", nil
	}
	then, words, gone := stored, now.words, now.gone
	if told != stored.Revision {
		at, err := t.carry(ctx, stored, told)
		if err != nil {
			return "", err
		}
		then = at.at
		since, err := t.carry(ctx, then, t.about.Revision)
		if err != nil {
			return "", err
		}
		words, gone = since.words, since.gone
		if since.at.Row != now.at.Row || since.at.Section != now.at.Section { // it came back
			words, gone = "You are at "+now.plan.rowName(now.plan.rowAt(now.at))+" again. ", true
		}
	}
	made, err := t.comparisonOfHers(ctx, then, now)
	if err != nil {
		return "", err
	}
	if made != nil {
		words += made.workedWords(standing{made.old.workedRows(then), made.now.workedRows(now.at)}, !gone)
	}
	beside, err := t.asidesSince(ctx, then, now.at)
	if err != nil {
		return "", err
	}
	if beside = toHear(beside, now.plan.Plan, now.at); len(beside) > 0 {
		words += asideWords(beside, changedMost-len(words))
	}
	if words == "" {
		return "", nil
	}
	return "The pattern has been corrected. " + words, nil
}

// comparisonOfHers compares what she knitted by with what she knits by now. Where she
// leaves out rows in one of the two alone, what is back was there before: of those rows
// nothing is told, since she has worked none of them.
func (t *talk) comparisonOfHers(ctx context.Context, then session.Place, now carried) (*comparison, error) {
	was, is := then, now.at
	if (was.LeftOut == "") == (is.LeftOut == "") {
		return t.comparison(ctx, t.ask.Knitalong, was, is)
	}
	was.LeftOut, is.LeftOut = "", ""
	made, err := t.comparison(ctx, t.ask.Knitalong, was, is)
	if made == nil || err != nil {
		return nil, err
	}
	hers, err := t.planOf(ctx, t.ask.Knitalong, then)
	if errors.Is(err, errUnfit) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	all := *made.Comparison
	all.Changes = slices.DeleteFunc(slices.Clone(all.Changes), func(c compare.Change) bool {
		return c.Old >= 0 && leavesOut(hers, made.old, c.Old) || c.New >= 0 && leavesOut(now.plan, made.now, c.New)
	})
	return &comparison{&all, made.old, made.now}, nil
}

// leavesOut says that row i of a plan with no row left out is not in a plan.
func leavesOut(p, whole *plan, i int) bool {
	_, in := p.Find(whole.Rows[i].Section.Name, whole.Rows[i].Number)
	return !in
}

// Limits on what is told of corrections at once: it stands in front of an answer,
// and is kept with that.
const (
	changesInFull = 2   // changes that are told with the words of the row
	changedMost   = 500 // bytes
)

// workedWords tells what is changed of the rows that a member has worked, or is
// working, and, where she is still at the same row, whether she should have another
// count on her needle.
func (c *comparison) workedWords(here standing, counts bool) string {
	var past, at []compare.Change
	for _, one := range c.Changes {
		switch {
		case here.past(one):
			past = append(past, one)
		case one.Kind == compare.Changed && one.New == here.now:
			at = append(at, one)
		}
	}
	words, full := c.inFull(past)
	if !full {
		words = c.inShort(past)
	}
	if len(at) > 0 {
		mine := "your " + c.now.word(here.now) + ", " + c.now.rowName(here.now)
		if slices.ContainsFunc(past, func(one compare.Change) bool { return one.Kind == compare.Changed }) {
			words += capital(mine) + ", is different, too. "
		} else {
			words += capital(mine) + ", is different now. "
		}
	}
	if len(past) > 0 && counts {
		words += c.countWords(here)
	}
	if !full {
		words += "Say what has changed to hear it again. "
	}
	return words
}

// inFull tells of changes that a member is past with the words of the rows, where
// they are few.
func (c *comparison) inFull(past []compare.Change) (string, bool) {
	words := ""
	if len(past) > changesInFull {
		return "", false
	}
	for _, one := range past {
		words += reader.Change(c.old.Plan, c.now.Plan, one, true) + " "
	}
	return words, len(words) <= changedMost
}

// inShort tells of them by stretches of rows.
func (c *comparison) inShort(past []compare.Change) string {
	all := stretches(past, c.old.Plan, c.now.Plan)
	words := ""
	for _, s := range all[:min(len(all), stretchesMost)] {
		words += capital(s.pastWords()) + ". "
	}
	if more := len(all) - stretchesMost; more > 0 {
		words += "You have come past " + reader.Number(more) + " more " + plural("place", more) + " that " + isOrAre(more) + " different. "
	}
	if len(words) > changedMost {
		return "You have come past " + reader.Number(len(all)) + " " + plural("place", len(all)) + " that " + isOrAre(len(all)) + " different. "
	}
	return words
}

// countWords says whether the stitches on her needle should be as many as before.
func (c *comparison) countWords(here standing) string {
	was, is := c.old.needle(here.old), c.now.needle(here.now)
	if was == is {
		return "That leaves your count as it was. "
	}
	before := "before " + c.now.rowName(min(here.now, len(c.now.Rows)-1))
	if here.now == len(c.now.Rows) {
		before = "at the end"
	}
	return "There should now be " + stitches(is) + " " + before + ", where there were " + reader.Number(was) + ". "
}

// workedRows is how many rows are worked at a place: the index of the row that is
// being worked, or all.
func (p *plan) workedRows(at session.Place) int {
	if p.finished(at) {
		return len(p.Rows)
	}
	return p.rowAt(at)
}

// needle is how many stitches are on the needle before row i, or after the last.
func (p *plan) needle(i int) int {
	if i < len(p.Rows) {
		return p.Rows[max(i, 0)].Before.Count()
	}
	return p.Rows[len(p.Rows)-1].After.Count()
}

// tellChanged puts what has changed in front of an answer that is not kept, and
// notes that it was told.
func (t *talk) tellChanged(ctx context.Context, said string) string {
	if t.changed != "" && !t.before.answered {
		t.toldOfChange(ctx)
	}
	t.toldNow = t.changed
	return t.changed + said
}

// noteChanged notes that an answer that is kept has told what has changed, where
// the move that it made has not.
func (t *talk) noteChanged(ctx context.Context, a answer) {
	t.toldNow = a.Changed
	if a.Changed != "" && !t.tells(a) {
		t.toldOfChange(ctx)
	}
}

// tells says that the move to which an answer leads notes that she was told of
// corrections. Of one whose row is held back what they change is held back, too.
func (t *talk) tells(a answer) bool {
	return !a.undoes && !t.notYet && a.To.Revision == t.about.Revision
}

// toldOfChange notes that she was told. Where that fails she is told once more, so
// it is logged and the answer goes out all the same.
func (t *talk) toldOfChange(ctx context.Context) {
	if err := t.store.ToldRevision(ctx, t.ask.Knitalong, t.ask.Member, t.about.Revision); err != nil {
		t.log.Warn().Err(err).Str("member", string(t.ask.Member)).Msg("that a member was told of a correction was not noted")
		return
	}
	t.state.Told = t.about.Revision
}

// changes tells what corrections have changed of the pattern since it was first
// given, as far as she may be told of its rows.
func (t *talk) changes(ctx context.Context) (Reply, error) {
	if t.about.Revision == 1 {
		return t.say("The pattern has not been corrected. Nothing has moved."), nil
	}
	first := t.at
	first.Revision, first.LeftOut = 1, ""
	now := t.at
	now.LeftOut = ""
	made, err := t.comparison(ctx, t.ask.Knitalong, first, now)
	if err != nil {
		return Reply{}, err
	}
	said := "The pattern has been corrected " + reader.Times(t.about.Revision-1) + ". "
	if made == nil {
		return t.say(said + "It had other sizes at first, so what has changed can't be told."), nil
	}
	open := made.open(len(t.plan.Rows), t.plan.Whole() == t.plan.Plan)
	beside, err := t.asidesSince(ctx, first, now)
	if err != nil {
		return Reply{}, err
	}
	reply := t.say("")
	switch {
	case len(open) == 0:
		said += "No " + t.word() + " that you may hear is worked otherwise than at first. "
	case len(open) <= changesInFull:
		for _, c := range open {
			said += reader.Change(made.old.Plan, made.now.Plan, c, false) + " "
		}
	default:
		all := stretches(open, made.old.Plan, made.now.Plan)
		for _, s := range all[:min(len(all), stretchesTold)] {
			said += capital(s.words()) + ". "
		}
		if more := len(all) - stretchesTold; more > 0 {
			said += "So it is in " + reader.Number(more) + " more " + plural("place", more) + "; all are listed. "
			reply.Report = stretchReport(all)
		}
	}
	reply.Said = strings.TrimSpace(said + asidesInFull(beside))
	return reply, nil
}

// stretchesTold is how many stretches of changed rows one hears who asks.
const stretchesTold = 10

// open gives the changes of the first rows of the new plan, of which alone she may
// be told; all where that is the whole plan.
func (c *comparison) open(rows int, all bool) []compare.Change {
	return slices.DeleteFunc(slices.Clone(c.Changes), func(one compare.Change) bool {
		if all || one.New >= 0 {
			return !all && one.New >= rows
		}
		before, _ := c.Carry(one.Old)
		return before+1 >= rows
	})
}
