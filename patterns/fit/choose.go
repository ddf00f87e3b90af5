package fit

import "clew/patterns"

// Choose proves a whole choice of rows to leave out, in place of those that c
// leaves out; none works all. As for LeaveOut, the first worked rows of her plan
// stay as they are. own may be nil, and the gauge unknown.
//
// Errors are those of LayOut; a *Barrier that tells what the choice would break;
// and an *Error where it would change rows that are worked,
// or where it works more panels than can be looked at, see mostLooks.
func Choose(p *patterns.Pattern, c patterns.Choice, worked int, leave []patterns.LeftOut, own *Gauge) (Offer, error) {
	q, err := ask(p, c, worked, own)
	if err != nil {
		return Offer{}, err
	}
	if changed := q.changed(leave); len(changed) > 0 && changed[0] <= q.limit {
		return Offer{}, failed(CodeReached, "some of those %ss are worked already, or being worked", rowWord(p.Rounds))
	}
	b, _, ok := q.atGaps(leave)
	switch {
	case b != nil:
		return Offer{}, q.against(leave, b)
	case !ok:
		return Offer{}, failed(CodeBreaks, "it can't be proven that these %ss may be left out, since too many panels are worked in them: work them all", rowWord(p.Rounds))
	}
	plan, b, _ := q.whole(leave) // of the fewest layouts two are left at least
	if b != nil {
		return Offer{}, q.against(leave, b)
	}
	return q.told(leave, plan), nil
}

// against tells what stands against a choice. A barrier names one group.
func (q *question) against(leave []patterns.LeftOut, b *Barrier) error {
	for _, o := range q.p.Optionals(q.size) {
		if len(leave) == 1 && o.Owner == leave[0].Owner && o.From == leave[0].From {
			return b.of(o, leave[0].Rows)
		}
	}
	return failed(CodeBreaks, "these %ss can't be left out together: %s", rowWord(q.p.Rounds), b.breaks())
}
