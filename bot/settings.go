package bot

import (
	"context"
	"slices"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// Names and values of a member's settings.
const (
	settingReading = "reading" // how rows are read
	readingSteps   = "steps"   // step by step; anything else is whole rows
	settingCrosses = "crosses" // how crosses are said
	crossesFull    = "full"    // spelled out each time
	crossesShort   = "short"   // by name alone; anything else is full where new in the section
	settingBoard   = "board"   // how she stands on the group's board
	boardHidden    = "hidden"  // counted and not named; anything else is by name
	settingRest    = "rest"    // whether she is told to rest her hands
	restOff        = "off"     // never; anything else is once in a sitting
)

func (t *talk) stepwise() bool { return t.state.Settings[settingReading] == readingSteps }

func (t *talk) crosses() reader.CrossForm {
	switch t.state.Settings[settingCrosses] {
	case crossesFull:
		return reader.AlwaysFull
	case crossesShort:
		return reader.AlwaysShort
	}
	return reader.FullWhenNew
}

// set changes one setting, and reads the place in the new way.
func (t *talk) set(ctx context.Context, name, value, said string) (Reply, error) {
	holds, err := t.keepSettings(ctx, map[string]string{name: value})
	switch {
	case err != nil:
		return Reply{}, err
	case !holds:
		return t.where(), nil
	}
	t.begun = t.here() >= 0
	return t.readHere(said), nil
}

// keepSettings changes settings. It is false where they are others now: an event
// that came before changes nothing, and they may have been changed since.
func (t *talk) keepSettings(ctx context.Context, settings map[string]string) (hold bool, err error) {
	if !t.before.answered {
		state, err := t.store.Set(ctx, t.ask.Knitalong, t.ask.Member, settings, t.ask.Event)
		if err != nil {
			return false, err
		}
		t.saved, t.state = true, state
		if err := t.find(ctx); err != nil { // she may have been moved from elsewhere
			return false, err
		}
	}
	for name, value := range settings {
		if t.state.Settings[name] != value {
			return false, nil
		}
	}
	return true, nil
}

// wayOfReading changes between steps and whole rows.
func (t *talk) wayOfReading(ctx context.Context) (Reply, error) {
	if t.heard.Intent == listen.Steps {
		return t.set(ctx, settingReading, readingSteps, "From now on you hear each "+t.word()+" step by step. Say next for the next step, and back for the one before. ")
	}
	return t.set(ctx, settingReading, "", "From now on you hear whole "+t.word()+"s. ")
}

// crossSettings are the words that set how crosses are said. Every word counts,
// so that chatter sets nothing.
var crossSettings = map[string]string{
	"short crosses": crossesShort, "crosses short": crossesShort, "crosses by name": crossesShort,
	"full crosses": crossesFull, "crosses in full": crossesFull, "crosses full": crossesFull,
	"usual crosses": "", "crosses as usual": "", "crosses when new": "",
}

var crossesSaid = map[string]string{
	crossesShort: "From now on you hear crosses by their names. ",
	crossesFull:  "From now on you hear every cross spelled out. ",
	"":           "From now on you hear a cross spelled out where it first comes up in a section. ",
}

// setting gives what serves the words, where they change how crosses are said
// or the size, or say once more in which size to join; else nil.
func (t *talk) setting() func(context.Context) (Reply, error) {
	if value, ok := crossSettings[bare(t.ask.Words)]; ok {
		t.heard = listen.Heard{Intent: listen.Settings, Sure: true}
		return func(ctx context.Context) (Reply, error) { return t.set(ctx, settingCrosses, value, crossesSaid[value]) }
	}
	if strings.HasPrefix(bare(t.ask.Words), "join ") && sizeToJoin(t.plan.Pattern, t.ask.Words) != "" {
		t.heard = listen.Heard{Intent: listen.Join, Sure: true}
		return t.joinAgain
	}
	if size := sizeAsked(t.plan.Pattern, t.ask.Words); size != "" {
		t.heard = listen.Heard{Intent: listen.Fit, Sure: true}
		return func(ctx context.Context) (Reply, error) { return t.changeSize(ctx, size) }
	}
	return nil
}

// settingPressed gives what serves a choice that changes a setting, the size or the
// rows left out; else nil.
func (t *talk) settingPressed(c Choice) func(context.Context) (Reply, error) {
	if c.Intent == listen.Fit {
		if size := sizeOfKey(t.plan.Pattern, c.Value); size != "" {
			return func(ctx context.Context) (Reply, error) { return t.changeSize(ctx, size) }
		}
		if strings.HasPrefix(c.Value, outLead) {
			return func(ctx context.Context) (Reply, error) { return t.leavePressed(ctx, c.Value) }
		}
		return nil
	}
	if c.Intent == listen.Settings && slices.ContainsFunc(namedSettings, func(own namedSetting) bool { return string(own.Setting) == c.Value }) {
		return func(ctx context.Context) (Reply, error) { return t.setNamed(ctx, listen.Setting(c.Value)) }
	}
	i := slices.IndexFunc(crossChoices, func(own crossChoice) bool { return own.Value == c.Value })
	if c.Intent != listen.Settings || i < 0 {
		return nil
	}
	value := crossChoices[i].setting
	return func(ctx context.Context) (Reply, error) { return t.set(ctx, settingCrosses, value, crossesSaid[value]) }
}

// A crossChoice is a choice with the setting that it stands for.
type crossChoice struct {
	Choice
	setting string
}

var crossChoices = []crossChoice{
	{Choice{Label: "Full crosses", Intent: listen.Settings, Value: "full"}, crossesFull},
	{Choice{Label: "Short crosses", Intent: listen.Settings, Value: "short"}, crossesShort},
	{Choice{Label: "Usual crosses", Intent: listen.Settings, Value: "usual"}, ""},
}

// settingChoices gives a choice for each setting that the member can change to.
func (t *talk) settingChoices() []Choice {
	choices := []Choice{t.otherWay()}
	for _, own := range crossChoices {
		if own.setting != t.state.Settings[settingCrosses] {
			choices = append(choices, own.Choice)
		}
	}
	for _, own := range namedSettings {
		if t.canSet(own) && t.state.Settings[own.name] != own.value {
			choices = append(choices, Choice{Label: own.label, Intent: listen.Settings, Value: string(own.Setting)})
		}
	}
	choices = append(choices, t.fitChoices()...)
	return choices[:min(len(choices), choicesMost)]
}

// settings says how the member hears rows, and how to change it.
func (t *talk) settings() string {
	said := "You hear whole " + t.word() + "s; say step by step to hear them in steps. "
	if t.stepwise() {
		said = "You hear each " + t.word() + " step by step; say whole " + t.word() + "s to hear them whole. "
	}
	switch t.crosses() {
	case reader.AlwaysFull:
		said += "Every cross is spelled out; say short crosses to hear their names, or usual crosses. "
	case reader.AlwaysShort:
		said += "Crosses are said by their names; say full crosses to hear them spelled out, or usual crosses. "
	default:
		said += "A cross is spelled out where it first comes up in a section; say full crosses or short crosses to change that. "
	}
	said += t.namedWords() + t.sizes()
	if t.unit() == fit.Inches {
		said += " Lengths are in inches; say centimetres to change that."
	}
	if t.ownGauge() != nil {
		said += " " + t.gaugeWords()
	}
	return said
}
