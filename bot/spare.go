package bot

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

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
	r := reckoning{choice: choice{revision{t.ask.Knitalong, t.at.Revision}, t.at.Size, ""}, what: "offers", open: t.openTo()}
	p, size := t.offering(), t.plan.Size
	return reckonedFor(ctx, t, r, func() (provenOffers, error) {
		offers, barriers, err := fit.Offers(p, size)
		return provenOffers{offers, barriers}, err
	})
}

// spareRows says which of the rows that are ahead of her may be left out, of the
// whole or of one section or panel.
func (t *talk) spareRows(ctx context.Context, section string) (Reply, error) {
	groups := t.plan.Pattern.Optionals(t.plan.Size)
	if section != "" {
		if len(t.plan.ownersLike(section))+len(t.plan.sectionsLike(section)) == 0 {
			return t.sayFit(t.plan.noSection(section)), nil
		}
		owners := t.plan.ownersLike(section)
		if groups, _ = apart(groups, func(o patterns.Optional) bool { return slices.Contains(owners, o.Owner) }); len(groups) == 0 {
			return t.sayFit(t.plan.noneOf(section)), nil
		}
	}
	if len(groups) == 0 {
		if t.plan.isCut() {
			return t.sayFit("No " + t.plan.optionalWord() + " of what is open may be left out."), nil
		}
		return t.sayFit("The pattern has no " + t.plan.optionalWord() + "s that may be left out."), nil
	}
	all, err := t.offers(ctx)
	if err != nil {
		return t.refuseFit(err)
	}
	barriers := make([]fit.Barrier, len(all.barriers))
	for i, b := range all.barriers {
		barriers[i] = t.plan.openBarrier(b)
	}
	all.barriers = barriers
	k, err := t.knitting()
	if err != nil {
		return Reply{}, err
	}
	said, offers := t.spareSaid(k, groups, all)
	if said == "" {
		said = "No more " + t.plan.optionalWord() + "s" + t.plan.ofSection(section) + " may be left out from here on."
	}
	if t.at.LeftOut != "" {
		out, err := t.leftOutWords(t.at)
		if err != nil {
			return Reply{}, err
		}
		said = capital(out) + " " + said
	}
	if len(offers) > 0 {
		l := offers[0].LeftOut[0]
		more := l.Rows - leftOutOf(k.Choice.LeftOut, l)
		said += " To do so, say for example leave out " + reader.Number(more) + " " + plural(t.plan.optionalWord(), more) + " of " + reader.Name(l.Owner) + "."
	}
	return t.sayFit(said, t.spareChoices(k.Choice.LeftOut, offers)...), nil
}

// groupsSaid is how many groups of rows are told of at once: more than that nobody
// keeps in mind.
const groupsSaid = 4

// spareSaid says what may be left out of some groups beside what is, of the first
// that are ahead, and gives the offers that it tells of;
// nothing where none are.
func (t *talk) spareSaid(k reader.Knitting, groups []patterns.Optional, all provenOffers) (string, []fit.Offer) {
	var told, offers []fit.Offer // told are those of groups that are whole as yet
	var barriers []fit.Barrier
	more, count := "", 0
	for _, o := range groups {
		may, now := t.plan.mayLeaveOut(o, all.offers, t.here()), leftOutOf(k.Choice.LeftOut, wholeOf(o))
		against, _ := apart(all.barriers, func(b fit.Barrier) bool {
			return b.Group.Owner == o.Owner && b.Group.From == o.From && now == 0 && t.plan.isAhead(o, t.here())
		})
		if len(may)+len(against) == 0 {
			continue
		}
		if count++; count > groupsSaid {
			continue
		}
		own, _ := apart(all.offers, func(f fit.Offer) bool { return len(f.LeftOut) == 1 && slices.Contains(may, f.LeftOut[0]) })
		offers = append(offers, own...)
		if now == 0 {
			told, barriers = append(told, own...), append(barriers, against...)
		} else {
			most := may[len(may)-1].Rows - now
			upTo := ""
			if len(may) > 1 {
				upTo = "up to "
			}
			more += " You may leave out " + upTo + reader.Number(most) + " more of " + reader.Name(o.Owner) + "."
		}
	}
	said := ""
	if len(told)+len(barriers) > 0 {
		said = k.Offers(told, barriers)
	}
	said += more
	switch rest := count - groupsSaid; {
	case rest == 1:
		said += " There is one more such group; ask again further on."
	case rest > 1:
		said += " There are " + reader.Number(rest) + " more such groups; ask again further on."
	}
	return strings.TrimSpace(said), offers
}

// leftOutOf is how many rows of the group of l a choice leaves out.
func leftOutOf(leave []patterns.LeftOut, l patterns.LeftOut) int {
	for _, one := range leave {
		if one.Owner == l.Owner && one.From == l.From {
			return one.Rows
		}
	}
	return 0
}

// noneOf says that nothing may be left out of a section.
func (p *plan) noneOf(section string) string {
	return "No " + p.optionalWord() + "s" + p.ofSection(section) + " may be left out."
}

// ofSection is " of Leg" for words that name a section, and nothing for none.
func (p *plan) ofSection(section string) string {
	if section == "" {
		return ""
	}
	if like := p.sectionsLike(section); len(like) == 1 {
		section = like[0]
	}
	return " of " + nameOf(section)
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
		works := o.Panel && slices.ContainsFunc(p.Rows, func(r *patterns.Row) bool {
			return r.LeftOutBy(wholeOf(o)) && slices.Contains(sections, r.Section.Name)
		})
		if (own || works) && !slices.Contains(owners, o.Owner) {
			owners = append(owners, o.Owner)
		}
	}
	return owners
}

// wholeOf is the choice to leave a whole group out.
func wholeOf(o patterns.Optional) patterns.LeftOut {
	return patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: o.Count()}
}

// isAhead says that a group has rows, and all of them come after row i.
func (p *plan) isAhead(o patterns.Optional, i int) bool {
	in := func(r *patterns.Row) bool { return r.LeftOutBy(wholeOf(o)) }
	return !slices.ContainsFunc(p.Rows[:i+1], in) && slices.ContainsFunc(p.Rows[i+1:], in)
}

// mayLeaveOut gives the offers of a group that leave out more rows of the plan,
// and none of those up to and with row i.
func (p *plan) mayLeaveOut(o patterns.Optional, offers []fit.Offer, i int) []patterns.LeftOut {
	var may []patterns.LeftOut
	for _, offer := range offers {
		if len(offer.LeftOut) != 1 || offer.LeftOut[0].Owner != o.Owner || offer.LeftOut[0].From != o.From {
			continue
		}
		goes := func(r *patterns.Row) bool { return r.LeftOutBy(offer.LeftOut[0]) }
		if !slices.ContainsFunc(p.Rows[:i+1], goes) && slices.ContainsFunc(p.Rows[i+1:], goes) {
			may = append(may, offer.LeftOut[0])
		}
	}
	return may
}

// spareWithin is how long a row that she asked for waits for what may be left out
// after it to be reckoned, for the first who come there: it goes on being
// reckoned, and whoever says fit hears it.
const spareWithin = time.Second

// spareWords says that rows that come right after row i may be left out, or
// nothing: as long as she works the row before them, none of them is begun.
func (t *talk) spareWords(ctx context.Context, p *plan, i int) string {
	if i+1 >= len(p.Rows) {
		return ""
	}
	for _, o := range p.Pattern.Optionals(p.Size) {
		if !p.Rows[i+1].LeftOutBy(wholeOf(o)) || !p.isAhead(o, i) {
			continue
		}
		within, cancel := context.WithTimeout(ctx, spareWithin)
		defer cancel()
		all, err := t.offers(within)
		if err != nil { // it is no answer to what was asked, and she hears of it when she asks
			return ""
		}
		if may := p.mayLeaveOut(o, all.offers, i); len(may) > 0 {
			return " " + p.mayWords(o, may, i+1)
		}
	}
	return ""
}

// mayWords says how many of a group's rows may be left out of those from row
// first on.
func (p *plan) mayWords(o patterns.Optional, may []patterns.LeftOut, first int) string {
	run, most := 0, 0 // the group's rows, and those of them that may go
	for _, r := range p.Rows[first:] {
		if !r.LeftOutBy(wholeOf(o)) {
			break
		}
		run++
		if r.LeftOutBy(may...) {
			most++
		}
	}
	word := p.word(first)
	said := "You may leave out "
	switch {
	case most < run && len(may) > 1:
		said += "up to " + reader.Number(most) + " of the next " + reader.Number(run) + " " + plural(word, run)
	case most < run:
		said += reader.Number(most) + " of the next " + reader.Number(run) + " " + plural(word, run)
	case run == 1:
		said += "the next " + word
	case len(may) > 1:
		said += "the next " + reader.Number(run) + " " + word + "s, or some of them"
	default:
		said += "the next " + reader.Number(run) + " " + word + "s"
	}
	return said + ": say fit to hear more."
}
