package bot

import (
	"context"
	"errors"
	"strconv"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// A reckoning names what was reckoned for a plan and a place in it.
type reckoning struct {
	choice
	worked int
	gauge  string
	what   string
}

// reckoned gives what was reckoned for her plan and her place in it.
func reckoned[T any](ctx context.Context, t *talk, what string, work func(patterns.Choice, int) (T, error)) (T, error) {
	leave, err := patterns.ParseLeftOut(t.at.LeftOut)
	if err != nil {
		var none T
		return none, err
	}
	r := reckoning{choice{revision{t.ask.Knitalong, t.at.Revision}, t.at.Size, t.at.LeftOut}, t.worked(), t.state.Settings[settingGauge], what}
	c := patterns.Choice{Size: t.at.Size, LeftOut: leave}
	return reckonedFor(ctx, t, r, func() (T, error) { return work(c, r.worked) })
}

// reckonedFor gives what was reckoned, for whoever asks the same: it takes laying
// out and proving a plan many times over. Errors are those of work, and errNotYet
// where ctx ends first.
func reckonedFor[T any](ctx context.Context, t *talk, r reckoning, work func() (T, error)) (T, error) {
	found, err := t.reckonings.get(ctx, r, func(context.Context) (any, error) { return work() })
	value, ok := found.(T)
	if err == nil && !ok {
		err = errors.New("what was reckoned is of another kind: " + r.what)
	}
	return value, err
}

// worked is how many rows of her plan are worked or being worked: those stay.
func (t *talk) worked() int { return t.here() + 1 }

// ofLength says how the piece that she is in becomes shorter or longer.
func (t *talk) ofLength(ctx context.Context, w listen.FitWish) (Reply, error) {
	by := w.Number
	switch {
	case !(w.Number > 0): // nor is a command's that is no number
		return t.sayFit("By how much? Nothing has moved. Say it too, such as two centimetres shorter, or make it twenty-one centimetres long."), nil
	case w.Unit == listen.MixedUnits:
		return t.sayFit("Is that centimetres or inches? Nothing has moved. Say it once more in one of them."), nil
	case w.Unit == "":
		return t.sayFit("Is that centimetres or inches? Nothing has moved. Say it too, such as two centimetres shorter."), nil
	case w.Unit == listen.Inches:
		by *= fit.CentimetresPerInch
	}
	k, err := t.knitting()
	if err != nil {
		return Reply{}, err
	}
	what := string(w.Kind) + " " + strconv.FormatFloat(by, 'g', -1, 64)
	p, own := t.plan.Pattern, t.ownGauge()
	var said string
	var choices []Choice
	switch w.Kind {
	case listen.Shorter:
		var s fit.Shortening
		s, err = reckoned(ctx, t, what, func(c patterns.Choice, worked int) (fit.Shortening, error) { return fit.Shorter(p, c, worked, by, own) })
		if err == nil {
			said, choices = k.Shorter(s), t.shorterChoices(s)
		}
	case listen.Longer:
		var l fit.Lengthening
		l, err = reckoned(ctx, t, what, func(c patterns.Choice, worked int) (fit.Lengthening, error) { return fit.Longer(p, c, worked, by, own) })
		if err == nil {
			said, choices = k.Longer(l), t.offerChoices(l.Restored)
		}
	default:
		var f fit.Fitting
		f, err = reckoned(ctx, t, what, func(c patterns.Choice, worked int) (fit.Fitting, error) { return fit.ToLength(p, c, worked, by, own) })
		if err != nil {
			break
		}
		said = k.ToLength(f)
		if f.Shorter != nil {
			choices = t.shorterChoices(*f.Shorter)
		} else if f.Longer != nil {
			choices = t.offerChoices(f.Longer.Restored)
		}
	}
	if err != nil {
		return t.refuseFit(err)
	}
	return t.sayFit(said, choices...), nil
}

// shorterChoices gives a choice for each way to make the piece shorter, the one
// that comes nearest first.
func (t *talk) shorterChoices(s fit.Shortening) []Choice {
	return t.offerChoices(s.Best, s.Less, s.More, s.Most)
}

// knitting is what she knits, for the words about it.
func (t *talk) knitting() (reader.Knitting, error) {
	leave, err := patterns.ParseLeftOut(t.at.LeftOut)
	return reader.Knitting{Pattern: t.plan.Pattern, Choice: patterns.Choice{Size: t.at.Size, LeftOut: leave}, Unit: t.unit()}, err
}

// offerChoices gives a choice for each offer, each once.
func (t *talk) offerChoices(offers ...*fit.Offer) []Choice {
	var choices []Choice
	seen := map[string]bool{}
	for _, o := range offers {
		if o == nil {
			continue
		}
		value, ok := t.plan.outValue(o.LeftOut)
		if !ok || seen[value] {
			continue
		}
		seen[value] = true
		choices = append(choices, Choice{Label: t.offerLabel(*o), Intent: listen.Fit, Value: value})
	}
	return choices
}

// offerLabel names an offer on a button: "Leave out 4 rounds".
func (t *talk) offerLabel(o fit.Offer) string {
	n, verb := o.Rows, "Leave out "
	if n < 0 {
		n, verb = -n, "Work again "
	}
	return verb + strconv.Itoa(n) + " " + plural(t.word(), n)
}

// leaves leaves out as many rows as she says, or none.
func (t *talk) leaves(ctx context.Context, w listen.FitWish) (Reply, error) {
	if w.Kind == listen.LeaveOut && w.Leave == 0 {
		return t.spareRows(ctx, w.Section)
	}
	return t.leaveOut(ctx, func() ([]patterns.LeftOut, string, error) {
		owner, why := t.ownerNamed(w.Section)
		if why != "" {
			return nil, why, nil
		}
		what, own := string(w.Kind)+" "+strconv.Itoa(w.Leave)+" "+owner, t.ownGauge()
		offer, err := reckoned(ctx, t, what, func(c patterns.Choice, worked int) (fit.Offer, error) {
			if w.Kind == listen.WorkAll {
				return fit.WorkAll(t.plan.Pattern, c, worked, own)
			}
			return fit.LeaveOut(t.plan.Pattern, c, worked, owner, w.Leave, own)
		})
		if err != nil {
			said, err := refusal(err)
			return nil, said, err
		}
		return offer.LeftOut, "", nil
	})
}

// ownerNamed finds what rows are to be left out of: a section or a panel. It is
// empty where none was named; where that can't be told, a sentence says why.
func (t *talk) ownerNamed(name string) (owner, why string) {
	if name == "" {
		return "", ""
	}
	owners := t.plan.ownersLike(name)
	switch {
	case len(owners) == 1:
		return owners[0], ""
	case len(owners) > 1:
		return "", "Of which is that: " + list(namesOf(owners), "or") + "? Nothing has moved."
	case len(t.plan.sectionsLike(name)) == 0:
		return "", t.plan.noSection(name) + " Nothing has moved."
	}
	return "", "No " + t.word() + "s of " + nameOf(name) + " may be left out. Nothing has moved."
}
