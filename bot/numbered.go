package bot

import (
	"cmp"
	"context"
	"slices"

	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
)

// Rows are left out from the end of their group, in the steps that the pattern
// gives. So rows that are named by their numbers can be left out where they are the
// last ones, and a number of steps.

// leaveNumbered leaves out rows by their numbers.
func (t *talk) leaveNumbered(ctx context.Context, w listen.FitWish) (Reply, error) {
	leave, err := patterns.ParseLeftOut(t.at.LeftOut)
	if err != nil {
		return Reply{}, err
	}
	owners := t.ownersOf(w)
	if w.Section != "" && len(owners) == 0 {
		_, why := t.ownerNamed(w.Section)
		return t.sayFit(cmp.Or(why, t.plan.noneOf(w.Section)+" Nothing has moved.")), nil
	}
	var found [][]patterns.LeftOut
	var names []string
	for _, o := range t.plan.Pattern.Optionals(t.plan.Size) {
		if rows := lastTo(o, w, leftOutOf(leave, wholeOf(o))); rows > 0 && slices.Contains(owners, o.Owner) {
			found = append(found, t.plan.withGroup(leave, patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows}))
			names = append(names, o.Owner)
		}
	}
	switch {
	case len(found) == 1:
		return t.leaveOut(ctx, func() (leaving, error) { return t.proven(ctx, found[0]) })
	case len(found) > 1:
		return t.sayFit("Of which is that: " + list(namesOf(names), "or") + "? Nothing has moved."), nil
	}
	return t.offersNumbered(ctx, w)
}

// offersNumbered says whether rows can be left out that are named by their numbers,
// and which can.
func (t *talk) offersNumbered(ctx context.Context, w listen.FitWish) (Reply, error) {
	owners := t.ownersOf(w)
	var among []string // of whose rows that may be left out these are
	alone := false
	for _, o := range t.plan.Pattern.Optionals(t.plan.Size) {
		has := func(row int) bool { return slices.Contains(o.Last(o.Count()), row) }
		if slices.Contains(owners, o.Owner) && (has(w.From) || has(w.To)) {
			among, alone = append(among, o.Owner), alone || lastTo(o, w, 0) > 0
		}
	}
	section := w.Section
	if len(among) == 1 {
		section = among[0]
	}
	reply, err := t.spareRows(ctx, section)
	if !alone && err == nil {
		reply.Said = capital(t.rowsNumbered(w)) + " can't be left out alone. " + reply.Said
	}
	return reply, err
}

// ownersOf gives what the rows that were named can be of.
func (t *talk) ownersOf(w listen.FitWish) []string {
	if w.Section != "" {
		return t.plan.ownersLike(w.Section)
	}
	var owners []string
	for _, o := range t.plan.Pattern.Optionals(t.plan.Size) {
		owners = append(owners, o.Owner)
	}
	return owners
}

// lastTo is how many rows of a group are left out when those from one number to
// another are, with or without those that are left out already; 0 where these are
// not its last ones, or no number of steps.
func lastTo(o patterns.Optional, w listen.FitWish, now int) int {
	for rows := o.Step; rows <= o.Count(); rows += o.Step {
		last := o.Last(rows)
		if last[0] != w.From || last[len(last)-1] < w.To {
			continue
		}
		if end := last[len(last)-1]; end == w.To || now > 0 && now < rows && last[len(last)-now-1] == w.To {
			return rows
		}
	}
	return 0
}

// withGroup gives a choice of rows with another number of one group, in the order
// of the pattern's groups.
func (p *plan) withGroup(leave []patterns.LeftOut, group patterns.LeftOut) []patterns.LeftOut {
	var all []patterns.LeftOut
	for _, o := range p.Pattern.Optionals(p.Size) {
		if o.Owner == group.Owner && o.From == group.From {
			all = append(all, group)
		} else if rows := leftOutOf(leave, wholeOf(o)); rows > 0 {
			all = append(all, patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows})
		}
	}
	return all
}

// rowsNumbered names the rows that were named: "rounds five and six".
func (t *talk) rowsNumbered(w listen.FitWish) string {
	word := t.plan.optionalWord()
	switch w.To - w.From {
	case 0:
		return word + " " + reader.Number(w.From)
	case 1:
		return word + "s " + reader.Number(w.From) + " and " + reader.Number(w.To)
	}
	return word + "s " + reader.Number(w.From) + " to " + reader.Number(w.To)
}
