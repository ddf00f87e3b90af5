package bot

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// Rows that are left out are part of a member's place, so leaving them out is a
// move, which can be taken back. It keeps her row and all rows before it: what she
// has worked is on her needles.

// leftOutMost is how much the store keeps of the rows left out, in bytes.
const leftOutMost = 4096

// A leaving is a choice of all the rows to leave out.
type leaving struct {
	rows    []patterns.LeftOut
	comesTo string // a sentence about what the piece measures with it, with a space after it; may be empty
	why     string // nothing changes, and this says why; empty where the choice holds
}

// leaveOut changes which rows she leaves out.
func (t *talk) leaveOut(ctx context.Context, choose func() (leaving, error)) (Reply, error) {
	a, err := t.settle(ctx, string(listen.Fit), func() (answer, error) {
		l, err := choose()
		switch {
		case err != nil:
			return answer{}, err
		case l.why != "":
			return t.stay(l.why), nil
		}
		return t.leaving(ctx, l)
	})
	if err != nil {
		return Reply{}, err
	}
	return t.tell(ctx, a)
}

// leavePressed leaves out what a choice offered.
func (t *talk) leavePressed(ctx context.Context, value string) (Reply, error) {
	return t.leaveOut(ctx, func() (leaving, error) {
		rows, why := t.plan.outPressed(value)
		switch {
		case why != "":
			return leaving{why: why}, nil
		case len(rows) == 0:
			return t.wished(ctx, listen.FitWish{Kind: listen.WorkAll})
		}
		return t.proven(ctx, rows)
	})
}

// proven leaves out a choice of rows where nothing stands against it.
func (t *talk) proven(ctx context.Context, rows []patterns.LeftOut) (leaving, error) {
	v, err := t.choose(ctx, t.offering(), t.at, t.worked(), t.openTo(), rows)
	var wrong *fit.Error
	switch {
	case err != nil:
		return leaving{}, err
	case errors.As(v.against, &wrong) && wrong.Code == fit.CodeReached:
		return leaving{why: t.workedAlready()}, nil
	case v.against != nil:
		why, err := t.openRefusal(v.against)
		return leaving{why: why}, err
	}
	return t.leavingOf(v.offer), nil
}

// A verdict is what the proof says of a choice of all rows to leave out.
type verdict struct {
	offer   fit.Offer
	against error // what stands against it, as refusal takes it; nil where it holds
}

// choose proves a choice of all rows to leave out of a pattern, in place of those
// that are left out at a place; so many rows of the plan there are worked. With open
// the pattern offers what is open of it, see openTo.
func (t *talk) choose(ctx context.Context, p *patterns.Pattern, at session.Place, worked, open int, leave []patterns.LeftOut) (verdict, error) {
	now, err := patterns.ParseLeftOut(at.LeftOut)
	if err != nil {
		return verdict{}, err
	}
	own, what := t.ownGauge(), "choose "+patterns.FormatLeftOut(leave)
	r := reckoning{choice: choice{revision{t.ask.Knitalong, at.Revision}, at.Size, at.LeftOut}, worked: worked, gauge: t.state.Settings[settingGauge], what: what, open: open}
	return reckonedFor(ctx, t, r, func() (verdict, error) {
		o, err := fit.Choose(p, patterns.Choice{Size: at.Size, LeftOut: now}, worked, leave, own)
		dropPlans(&o)
		var wrong *fit.Error
		var barrier *fit.Barrier
		if errors.As(err, &wrong) || errors.As(err, &barrier) {
			return verdict{against: err}, nil
		}
		return verdict{offer: o}, err
	})
}

// leavingOf is the choice that an offer is of.
func (t *talk) leavingOf(o fit.Offer) leaving {
	l := leaving{rows: o.LeftOut}
	if o.Length > 0 {
		l.comesTo = "The piece then comes to " + t.length(o.Length) + ". "
	}
	return l
}

// leaving is the answer to a choice of the rows to leave out.
func (t *talk) leaving(ctx context.Context, l leaving) (answer, error) {
	to := t.at
	to.LeftOut = patterns.FormatLeftOut(l.rows)
	switch {
	case to.LeftOut == t.at.LeftOut && to.LeftOut == "":
		return t.stay("You leave out nothing as it is. Nothing has moved."), nil
	case to.LeftOut == t.at.LeftOut:
		return t.stay("You leave those " + t.plan.optionalWord() + "s out already. Nothing has moved."), nil
	case len(to.LeftOut) > leftOutMost:
		return t.stay("Those are more parts than can be remembered, so nothing has moved. Name one section to leave " + t.plan.optionalWord() + "s out of."), nil
	}
	p, err := t.planOf(ctx, t.ask.Knitalong, to)
	if errors.Is(err, errUnfit) {
		return t.stay("Those " + t.plan.optionalWord() + "s can't be left out of this pattern. Nothing has moved."), nil
	}
	if err != nil {
		return answer{}, err
	}
	if !t.plan.sameUpTo(p, t.here()) {
		return t.stay(t.workedAlready()), nil
	}
	said, err := t.leftOutWords(to)
	if err != nil {
		return answer{}, err
	}
	k, err := t.knitting()
	if err != nil {
		return answer{}, err
	}
	if back := k.RowsLeftOut(l.rows, k.Choice.LeftOut); back != "" && to.LeftOut != "" { // an older button may not know of them
		said += " You work " + back + " after all."
	}
	return answer{To: to, Before: "From now on " + said + " " + l.comesTo + t.stillAt(), Only: true}, nil
}

// workedAlready refuses what would change rows that she has worked or is working.
func (t *talk) workedAlready() string {
	if t.plan.finished(t.at) {
		return "You have worked every " + t.plan.optionalWord() + " already, so nothing has moved."
	}
	return "You have worked some of those " + t.plan.optionalWord() + "s already, or are working one, so nothing has moved."
}

// optionalWord is what the rows that may be left out are called. The pattern's own
// word serves wherever she is: a heel in rows does not make the foot's rounds rows.
func (p *plan) optionalWord() string { return rowWord(p.Pattern.Rounds) }

// sameUpTo says that two plans have the same rows up to and with row i.
func (p *plan) sameUpTo(other *plan, i int) bool {
	if i >= len(other.Rows) {
		return false
	}
	for j := range i + 1 {
		a, b := p.Rows[j], other.Rows[j]
		if a.Number != b.Number || a.Section.Name != b.Section.Name {
			return false
		}
	}
	return true
}

// leftOutWords says which rows are left out at a place: "you leave out rounds five
// and six of Slack water."
func (t *talk) leftOutWords(at session.Place) (string, error) {
	if at.LeftOut == "" {
		return "you leave out nothing.", nil
	}
	leave, err := patterns.ParseLeftOut(at.LeftOut)
	if err != nil {
		return "", err
	}
	k := reader.Knitting{Pattern: t.plan.Pattern, Choice: patterns.Choice{Size: at.Size}, Unit: t.unit()}
	rows := k.RowsLeftOut(nil, leave)
	if rows == "" { // they were open to her before
		rows = t.plan.optionalWord() + "s that have not opened yet"
	}
	return "you leave out " + rows + ".", nil
}

// leftOutIn gives for another size the rows that are left out in one: groups of
// one owner answer to each other in their order. It is false where some have no
// such group there, or one that is smaller.
func leftOutIn(p *patterns.Pattern, leave []patterns.LeftOut, from, to int) (carried []patterns.LeftOut, all bool) {
	all = true
	for _, l := range leave {
		own, _ := apart(p.Optionals(from), func(o patterns.Optional) bool { return o.Owner == l.Owner })
		there, _ := apart(p.Optionals(to), func(o patterns.Optional) bool { return o.Owner == l.Owner })
		i := slices.IndexFunc(own, func(o patterns.Optional) bool { return o.From == l.From })
		if i < 0 || len(own) != len(there) {
			all = false
			continue
		}
		rows := min(l.Rows, there[i].Count())
		rows -= rows % there[i].Step
		all = all && rows == l.Rows
		carried = append(carried, patterns.LeftOut{Owner: l.Owner, From: there[i].From, Rows: rows})
	}
	return carried, all
}

// outLead begins the value of a choice that leaves rows out.
const outLead = "out."

// outValue puts rows to leave out into the value of a choice: for each group of
// which some are, its place among all and their number, and what tells whether
// the pattern has other groups since. It is false for more than a button holds.
func (p *plan) outValue(leave []patterns.LeftOut) (string, bool) {
	groups := p.Pattern.Optionals(p.Size)
	var parts []string
	for i, o := range groups {
		for _, l := range leave {
			if l.Owner == o.Owner && l.From == o.From && l.Rows > 0 {
				parts = append(parts, strconv.Itoa(i)+"-"+strconv.Itoa(l.Rows))
			}
		}
	}
	value := outLead + strings.Join(parts, "_") + "." + groupsKey(groups)
	return value, len(value) <= valueMost
}

// groupsKey stands for all groups of a size.
func groupsKey(groups []patterns.Optional) string {
	var all strings.Builder
	for _, o := range groups {
		all.WriteString(o.Owner + "\x00" + strconv.Itoa(o.From) + "-" + strconv.Itoa(o.To) + "/" + strconv.Itoa(o.Step) + "\x00")
	}
	return keyOf(all.String())
}

// outPressed gives what a choice leaves out, or a sentence for one that was made
// for other groups, or made up.
func (p *plan) outPressed(value string) ([]patterns.LeftOut, string) {
	const old = "What that button offered can't be left out as the pattern and your size are now, so nothing has moved. Say fit to hear what can."
	groups := p.Pattern.Optionals(p.Size)
	numbers, key, _ := strings.Cut(strings.TrimPrefix(value, outLead), ".")
	if key != groupsKey(groups) {
		return nil, old
	}
	if numbers == "" {
		return nil, ""
	}
	var leave []patterns.LeftOut
	last := -1
	for _, part := range strings.Split(numbers, "_") {
		group, rows, _ := strings.Cut(part, "-")
		i, err := strconv.Atoi(group)
		n, err2 := strconv.Atoi(rows)
		if err != nil || err2 != nil || i <= last || i >= len(groups) || n < 1 || n > numberMost {
			return nil, old
		}
		last = i
		leave = append(leave, patterns.LeftOut{Owner: groups[i].Owner, From: groups[i].From, Rows: n})
	}
	return leave, ""
}
