package bot

import (
	"cmp"
	"context"
	"errors"
	"slices"
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
	open   int // of how many rows, where not of all: see openTo
}

// reckoned gives what was reckoned for her plan and her place in it.
func reckoned[T any](ctx context.Context, t *talk, what string, work func(c patterns.Choice, worked int, own *fit.Gauge) (T, error)) (T, error) {
	leave, err := patterns.ParseLeftOut(t.at.LeftOut)
	if err != nil {
		var none T
		return none, err
	}
	r := reckoning{choice: choice{revision{t.ask.Knitalong, t.at.Revision}, t.at.Size, t.at.LeftOut}, worked: t.worked(), gauge: t.state.Settings[settingGauge], what: what, open: t.openTo()}
	c, own := patterns.Choice{Size: t.at.Size, LeftOut: leave}, t.ownGauge()
	return reckonedFor(ctx, t, r, func() (T, error) { return work(c, r.worked, own) })
}

// reckonedFor gives what was reckoned, for whoever asks the same: it takes laying
// out and proving a plan many times over. Errors are those of work, and errNotYet
// where ctx ends first.
func reckonedFor[T any](ctx context.Context, t *talk, r reckoning, work func() (T, error)) (T, error) {
	found, err := t.reckoned.get(ctx, r, func(context.Context) (any, error) { return work() })
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
	if section := cmp.Or(w.Section, t.heard.Section); section != "" {
		return t.lengthOf(ctx, w.Kind, section, by)
	}
	return t.ofPiece(ctx, w.Kind, by)
}

// ofPiece says how the whole piece comes to a length, or becomes shorter or longer
// by one.
func (t *talk) ofPiece(ctx context.Context, kind listen.FitKind, by float64) (Reply, error) {
	k, err := t.knitting()
	if err != nil {
		return Reply{}, err
	}
	var said string
	var choices []Choice
	switch what := string(kind) + " " + number(by); kind {
	case listen.Shorter:
		said, choices, err = t.shorter(ctx, k, what, by)
	case listen.Longer:
		said, choices, err = t.longer(ctx, k, by)
	default:
		said, choices, err = t.toLength(ctx, k, what, by)
	}
	if err != nil {
		return t.refuseFit(err)
	}
	return t.sayFit(said, choices...), nil
}

// lengthOf says how one section becomes shorter or longer. What may be left out of
// it is its own; what may be worked again is told of the whole piece.
func (t *talk) lengthOf(ctx context.Context, kind listen.FitKind, section string, by float64) (Reply, error) {
	sizes, _, err := t.plan.sizesOpen(t.ownGauge())
	if err != nil {
		return t.refuseFit(err)
	}
	of := t.plan.sizesOf(sizes, section)
	if len(of) == 0 {
		return t.sayFit(t.plan.noSection(section)), nil
	}
	is := 0.0
	for _, s := range of {
		is += s.Long
	}
	said := ""
	if kind == listen.ToLength {
		by -= is
		kind = listen.Longer
		if by < 0 {
			by, kind = -by, listen.Shorter
		}
		said = reader.Sizes(of, t.unit()) + " "
	}
	var reply Reply
	switch {
	case by < lengthAlike:
		return t.sayFit(said + "That is what you want."), nil
	case kind == listen.Shorter:
		reply, err = t.spareRows(ctx, section)
	default:
		var inIt bool
		if inIt, err = t.longerIn(ctx, of, by); err != nil {
			return t.refuseFit(err)
		}
		if !inIt {
			said += "More " + t.plan.optionalWord() + "s are reckoned for the whole piece, and not for that alone. "
		}
		reply, err = t.ofPiece(ctx, listen.Longer, by)
	}
	reply.Said = said + reply.Said
	return reply, err
}

// longerIn says that the rows that make the piece longer are those of some sections.
func (t *talk) longerIn(ctx context.Context, of []fit.SectionSize, by float64) (bool, error) {
	l, err := t.lengthening(ctx, by)
	return err == nil && l.Restored == nil && l.Best != nil &&
		slices.ContainsFunc(of, func(s fit.SectionSize) bool { return s.Section == l.Best.Section }), err
}

// lengthAlike is what nobody can measure on knitting, in cm.
const lengthAlike = 0.25

// shorter says what to leave out, with a choice for each way.
func (t *talk) shorter(ctx context.Context, k reader.Knitting, what string, by float64) (string, []Choice, error) {
	p := t.offering()
	s, err := reckoned(ctx, t, what, func(c patterns.Choice, worked int, own *fit.Gauge) (fit.Shortening, error) {
		s, err := fit.Shorter(p, c, worked, by, own)
		return withoutPlans(s), err
	})
	if err != nil {
		return "", nil, err
	}
	return k.Shorter(s), t.shorterChoices(s), nil
}

// longer says what to work again, with a choice for what was left out.
func (t *talk) longer(ctx context.Context, k reader.Knitting, by float64) (string, []Choice, error) {
	l, err := t.lengthening(ctx, by)
	if err != nil {
		return "", nil, err
	}
	l, open := t.plan.openLengthening(l)
	if !open {
		return t.longerLater(), nil, nil
	}
	return k.Longer(l), t.offerChoices(l.Restored), nil
}

// lengthening reckons how the piece becomes longer.
func (t *talk) lengthening(ctx context.Context, by float64) (fit.Lengthening, error) {
	p := t.offering()
	return reckoned(ctx, t, "longer "+number(by), func(c patterns.Choice, worked int, own *fit.Gauge) (fit.Lengthening, error) {
		l, err := fit.Longer(p, c, worked, by, own)
		dropPlans(l.Restored)
		return l, err
	})
}

// toLength says what of both brings the piece to a length.
func (t *talk) toLength(ctx context.Context, k reader.Knitting, what string, length float64) (string, []Choice, error) {
	p := t.offering()
	f, err := reckoned(ctx, t, what, func(c patterns.Choice, worked int, own *fit.Gauge) (fit.Fitting, error) {
		f, err := fit.ToLength(p, c, worked, length, own)
		if f.Shorter != nil {
			withoutPlans(*f.Shorter)
		}
		if f.Longer != nil {
			dropPlans(f.Longer.Restored)
		}
		return f, err
	})
	if f.Longer != nil {
		l, open := t.plan.openLengthening(*f.Longer)
		if !open {
			return t.longerLater(), nil, err
		}
		f.Longer = &l // what is reckoned is kept for others
	}
	if f.Against != nil && t.plan.isCut() {
		return t.longerLater(), nil, err
	}
	switch {
	case err != nil:
		return "", nil, err
	case f.Shorter != nil:
		return k.ToLength(f), t.shorterChoices(*f.Shorter), nil
	case f.Longer != nil:
		return k.ToLength(f), t.offerChoices(f.Longer.Restored), nil
	}
	return k.ToLength(f), nil, nil
}

// dropPlans takes the plans from offers that are kept: they weigh much, and the
// one that is chosen is laid out and kept with the others.
func dropPlans(offers ...*fit.Offer) {
	for _, o := range offers {
		if o != nil {
			o.Plan = nil
		}
	}
}

func withoutPlans(s fit.Shortening) fit.Shortening {
	dropPlans(s.Best, s.Less, s.More, s.Most)
	return s
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
	return verb + strconv.Itoa(n) + " " + plural(t.plan.optionalWord(), n)
}

// leaves leaves out as many rows as she says, or none.
func (t *talk) leaves(ctx context.Context, w listen.FitWish) (Reply, error) {
	if w.Kind == listen.LeaveOut && w.From > 0 {
		return t.leaveNumbered(ctx, w)
	}
	if w.Kind == listen.LeaveOut && w.Leave == 0 {
		return t.spareRows(ctx, w.Section)
	}
	return t.leaveOut(ctx, func() (leaving, error) { return t.wished(ctx, w) })
}

// wished gives the choice of rows that leaves out as many as she says, or none.
func (t *talk) wished(ctx context.Context, w listen.FitWish) (leaving, error) {
	owner, why := t.ownerNamed(w.Section)
	if why != "" {
		return leaving{why: why}, nil
	}
	if w.More && w.Section == "" { // of what she leaves out already
		leave, err := patterns.ParseLeftOut(t.at.LeftOut)
		if err != nil {
			return leaving{}, err
		}
		if len(leave) == 1 {
			owner = leave[0].Owner
		}
	}
	what, p := string(w.Kind)+" "+strconv.Itoa(w.Leave)+" "+owner, t.offering()
	offer, err := reckoned(ctx, t, what, func(c patterns.Choice, worked int, own *fit.Gauge) (o fit.Offer, err error) {
		if w.Kind == listen.WorkAll {
			o, err = fit.WorkAll(p, c, worked, own)
		} else {
			o, err = fit.LeaveOut(p, c, worked, owner, w.Leave, own)
		}
		dropPlans(&o)
		return o, err
	})
	if err != nil {
		why, err := t.openRefusal(err)
		return leaving{why: why}, err
	}
	return t.leavingOf(offer), nil
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
	return "", t.plan.noneOf(name) + " Nothing has moved."
}
