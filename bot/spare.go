package bot

import (
	"context"
	"slices"
	"strconv"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// provenOffers is what the proof says of all groups of rows in a size.
type provenOffers struct {
	offers   []fit.Offer
	barriers []fit.Barrier
}

// offers gives which rows may be left out of her size, each number of each group
// by itself, and what stands against the others.
func (t *talk) offers(ctx context.Context) (provenOffers, error) {
	r := reckoning{choice: choice{revision{t.ask.Knitalong, t.at.Revision}, t.at.Size, ""}, what: "offers"}
	p, size := t.plan.Pattern, t.plan.Size
	return reckonedFor(ctx, t, r, func() (provenOffers, error) {
		offers, barriers, err := fit.Offers(p, size)
		return provenOffers{offers, barriers}, err
	})
}

// spareRows says which of the rows that are ahead of her may be left out.
func (t *talk) spareRows(ctx context.Context, section string) (Reply, error) {
	groups := t.plan.Pattern.Optionals(t.plan.Size)
	if len(groups) == 0 {
		return t.sayFit("The pattern has no " + t.word() + "s that may be left out."), nil
	}
	if section != "" {
		owners := t.plan.ownersLike(section)
		groups, _ = apart(groups, func(o patterns.Optional) bool { return slices.Contains(owners, o.Owner) })
		if len(groups) == 0 {
			return t.sayFit("No " + t.word() + "s of " + nameOf(section) + " may be left out."), nil
		}
	}
	all, err := t.offers(ctx)
	if err != nil {
		return t.refuseFit(err)
	}
	k, err := t.knitting()
	if err != nil {
		return Reply{}, err
	}
	ahead := map[patterns.LeftOut]bool{}
	for _, o := range groups {
		for _, l := range t.plan.ahead(o, all.offers, t.here()) {
			ahead[l] = true
		}
	}
	offers, _ := apart(all.offers, func(o fit.Offer) bool { return len(o.LeftOut) == 1 && ahead[o.LeftOut[0]] })
	barriers, _ := apart(all.barriers, func(b fit.Barrier) bool {
		return slices.ContainsFunc(groups, func(o patterns.Optional) bool { return o.Owner == b.Group.Owner && o.From == b.Group.From }) && t.plan.isAhead(b.Group, t.here())
	})
	out, err := t.leftOutWords(t.at)
	if err != nil {
		return Reply{}, err
	}
	said := k.Offers(offers, barriers)
	if len(offers) == 0 && len(barriers) == 0 {
		said = "No more " + t.word() + "s may be left out from here on."
	}
	if t.at.LeftOut != "" {
		said += " As it is, " + out
	}
	if len(offers) > 0 {
		said += " To do so, say for example leave out " + t.leaveExample(offers[0]) + "."
	}
	return t.sayFit(said, t.spareChoices(k.Choice.LeftOut, offers)...), nil
}

// leaveExample are words that ask for an offer.
func (t *talk) leaveExample(o fit.Offer) string {
	l := o.LeftOut[0]
	return reader.Number(l.Rows) + " " + plural(t.word(), l.Rows) + " of " + reader.Name(l.Owner)
}

// spareMost bounds the choices of rows to leave out.
const spareMost = 8

// spareChoices gives a choice for each offer, beside what is left out already,
// and one that works all.
func (t *talk) spareChoices(out []patterns.LeftOut, offers []fit.Offer) []Choice {
	var choices []Choice
	for _, o := range offers[:min(len(offers), spareMost)] {
		l := o.LeftOut[0]
		leave := append(slices.DeleteFunc(slices.Clone(out), func(old patterns.LeftOut) bool { return old.Owner == l.Owner && old.From == l.From }), l)
		if value, ok := t.plan.outValue(leave); ok {
			choices = append(choices, Choice{Label: label("Leave out "+strconv.Itoa(l.Rows)+" of "+l.Owner, "Leave out "+strconv.Itoa(l.Rows)), Intent: listen.Fit, Value: value})
		}
	}
	if nothing, ok := t.plan.outValue(nil); ok && len(out) > 0 {
		choices = append(choices, Choice{Label: "Leave out nothing", Intent: listen.Fit, Value: nothing})
	}
	return choices
}

// ownersLike gives the sections and panels of a name that rows may be left out
// of; for a section also the panels that it works.
func (p *plan) ownersLike(name string) []string {
	var owners []string
	sections := p.sectionsLike(name)
	for _, o := range p.Pattern.Optionals(p.Size) {
		own := singular(o.Owner) == singular(name) || !o.Panel && slices.Contains(sections, o.Owner)
		works := o.Panel && slices.ContainsFunc(p.rowsOf(o), func(i int) bool { return slices.Contains(sections, p.Rows[i].Section.Name) })
		if (own || works) && !slices.Contains(owners, o.Owner) {
			owners = append(owners, o.Owner)
		}
	}
	return owners
}

// isAhead says that all rows of a group come after row i.
func (p *plan) isAhead(o patterns.Optional, i int) bool {
	rows := p.rowsOf(o)
	return len(rows) > 0 && rows[0] > i
}

// ahead gives the numbers of a group's rows that may be left out with the rows up
// to and with i as they are. Rows are left out from the end of a group. Those of
// a panel that is worked several times go from all of them at once.
func (p *plan) ahead(o patterns.Optional, offers []fit.Offer, i int) []patterns.LeftOut {
	rows := p.rowsOf(o)
	if len(rows) == 0 {
		return nil
	}
	left := o.Count() // of the group, the rows that may still go
	if rows[0] <= i {
		once := rows[len(rows)-1]-rows[0] == len(rows)-1 && len(rows) <= left
		if !once {
			return nil
		}
		left -= i - rows[0] + 1
	}
	now := p.leftOutOf(o)
	var may []patterns.LeftOut
	for _, offer := range offers {
		if len(offer.LeftOut) != 1 {
			continue
		}
		if l := offer.LeftOut[0]; l.Owner == o.Owner && l.From == o.From && l.Rows > now && l.Rows <= left {
			may = append(may, l)
		}
	}
	return may
}

// leftOutOf is how many rows of a group the plan has not.
func (p *plan) leftOutOf(o patterns.Optional) int {
	rows := p.rowsOf(o)
	all := o.Count()
	if n := len(rows); n > 0 && n <= all {
		return all - n
	}
	return 0
}

// spareWords says that rows that come right after row i may be left out, or
// nothing: as long as she works the row before them, none of them is begun.
func (t *talk) spareWords(ctx context.Context, p *plan, i int) string {
	var groups []patterns.Optional
	for _, o := range p.Pattern.Optionals(p.Size) {
		if rows := p.rowsOf(o); len(rows) > 0 && rows[0] == i+1 {
			groups = append(groups, o)
		}
	}
	if len(groups) == 0 {
		return ""
	}
	all, err := t.offers(ctx)
	if err != nil {
		return ""
	}
	for _, o := range groups {
		may := p.ahead(o, all.offers, i)
		if len(may) == 0 {
			continue
		}
		return " " + p.mayWords(o, may, i+1)
	}
	return ""
}

// mayWords says how many of a group's rows may be left out.
func (p *plan) mayWords(o patterns.Optional, may []patterns.LeftOut, first int) string {
	most := may[len(may)-1].Rows - p.leftOutOf(o)
	word := p.word(first)
	said := "You may leave out the next " + counted(most, word)
	if most == 1 {
		said = "You may leave out the next " + word
	}
	if len(may) > 1 {
		said += ", or some of them"
	}
	return said + ": say fit to hear more."
}

func counted(n int, word string) string { return reader.Number(n) + " " + plural(word, n) }
