package bot

import (
	"context"
	"errors"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// wayOfReading changes between steps and whole rows, and reads the place so.
func (t *talk) wayOfReading(ctx context.Context) (Reply, error) {
	way, said := "", "From now on you hear whole rows. "
	if t.heard.Intent == listen.Steps {
		way, said = readingSteps, "From now on you hear a row step by step; say next for the next step. "
	}
	state, err := t.store.Set(ctx, t.ask.Knitalong, t.ask.Member, map[string]string{settingReading: way})
	if err != nil {
		return Reply{}, err
	}
	t.state = state
	return t.readHere(said), nil
}

// Said settings of crosses: every word counts, so that chatter sets nothing.
var crossSettings = map[string]struct{ value, said string }{
	"short crosses":     {crossesShort, "From now on you hear crosses by their names. "},
	"crosses short":     {crossesShort, "From now on you hear crosses by their names. "},
	"crosses by name":   {crossesShort, "From now on you hear crosses by their names. "},
	"full crosses":      {crossesFull, "From now on you hear every cross spelled out. "},
	"crosses in full":   {crossesFull, "From now on you hear every cross spelled out. "},
	"crosses full":      {crossesFull, "From now on you hear every cross spelled out. "},
	"crosses as usual":  {"", "From now on you hear a cross spelled out where it first comes up in a section. "},
	"crosses when new":  {"", "From now on you hear a cross spelled out where it first comes up in a section. "},
	"new crosses alone": {"", "From now on you hear a cross spelled out where it first comes up in a section. "},
}

// setting serves words that change how crosses are said, or the size. The
// second result says whether it did.
func (t *talk) setting(ctx context.Context) (Reply, bool, error) {
	if t.ask.Heard != nil {
		return Reply{}, false, nil
	}
	if s, ok := crossSettings[bare(t.ask.Words)]; ok {
		t.heard.Intent = listen.Settings
		state, err := t.store.Set(ctx, t.ask.Knitalong, t.ask.Member, map[string]string{settingCrosses: s.value})
		if err != nil {
			return Reply{}, true, err
		}
		t.state = state
		return t.readHere(s.said), true, nil
	}
	if size := sizeIn(t.plan.Pattern, t.ask.Words); size != "" {
		t.heard.Intent = listen.Fit
		reply, err := t.changeSize(ctx, size)
		return reply, true, err
	}
	return Reply{}, false, nil
}

// changeSize keeps the member's row and changes the size that she knits. It is
// a move, so that it can be taken back.
func (t *talk) changeSize(ctx context.Context, size string) (Reply, error) {
	for range movesTried {
		to := t.state.Place
		if to.Size == size {
			return t.readHere("You knit size " + reader.Name(size) + " already. "), nil
		}
		to.Size, to.Step = size, 0
		p, err := t.planOf(ctx, t.ask.Knitalong, to)
		if err != nil {
			return Reply{}, err
		}
		if i := p.indexOf(to); i >= 0 {
			to.Section, to.Row = p.Rows[i].Section.Name, p.Rows[i].Number
		}
		from := t.state.Place
		t.plan = p
		answer := answered{At: to, Before: "You now knit size " + reader.Name(size) + ". "}
		moved, err := t.store.Move(ctx, t.ask.Knitalong, session.Move{Member: t.ask.Member, Event: t.ask.Event, From: from, To: to,
			How: "size", Done: t.done(to), Answer: answer.text(), At: t.now()})
		if t.isStale(err) {
			continue
		}
		if err != nil {
			return Reply{}, err
		}
		t.state = moved.State
		return t.afterMove(ctx, moved, answer)
	}
	return Reply{}, errors.New("the place kept moving while the size was changed")
}

// settings says how the member hears rows, and how to change it.
func (t *talk) settings() Reply {
	said := "You hear whole rows; say step by step to hear steps. "
	if t.stepwise() {
		said = "You hear rows step by step; say whole rows to hear them whole. "
	}
	switch t.state.Settings[settingCrosses] {
	case crossesFull:
		said += "Every cross is spelled out; say short crosses to hear names, or crosses as usual. "
	case crossesShort:
		said += "Crosses are said by their names; say full crosses to hear them spelled out, or crosses as usual. "
	default:
		said += "A cross is spelled out where it first comes up in a section; say full crosses or short crosses to change that. "
	}
	if sizes := t.plan.Pattern.Sizes; len(sizes) > 1 {
		said += "You knit size " + reader.Name(sizes[t.plan.Size]) + "; to change it, say size and one of these: " + speakList(sizes) + "."
	}
	return t.say(said)
}
