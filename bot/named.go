package bot

import (
	"context"

	"clew/reader/listen"
)

// A namedSetting is a setting that is changed by its name alone.
type namedSetting struct {
	listen.Setting
	name, value string // as the store keeps it
	label       string // on a button
	said        string // when it is changed to this
	stands      string // in the settings, while it is this
}

var namedSettings = []namedSetting{
	{listen.HideMe, settingBoard, boardHidden, "Hide my name",
		"From now on your name does not stand on the board; you are still counted, and the host sees where you are, as before. Say show my name to stand there again.",
		"Your name does not stand on the board; say show my name to change that. "},
	{listen.ShowMe, settingBoard, "", "Show my name",
		"From now on your name stands on the board. Say hide me to take it off again.",
		"Your name stands on the board; say hide me to take it off. "},
	{listen.NoRests, settingRest, restOff, "No rests",
		"From now on you are not told to rest your hands. Say remind me to rest to change that.",
		"You are not told to rest your hands; say remind me to rest to change that. "},
	{listen.Rests, settingRest, "", "Remind me to rest",
		"From now on you are told to rest your hands after an hour without a break. Say no rests to change that.",
		"After an hour without a break you are told to rest your hands; say no rests to change that. "},
}

// canSet says that a setting means something where she knits: who knits by herself
// stands on no board.
func (t *talk) canSet(own namedSetting) bool { return own.name != settingBoard || t.about.Server != "" }

// setNamed changes a setting that was named.
func (t *talk) setNamed(ctx context.Context, to listen.Setting) (Reply, error) {
	for _, own := range namedSettings {
		switch {
		case own.Setting != to:
		case !t.canSet(own):
			return t.say("You knit by yourself here, so there is no board that your name could stand on. Nothing has changed."), nil
		default:
			holds, err := t.keepSettings(ctx, map[string]string{own.name: own.value})
			if err != nil {
				return Reply{}, err
			}
			if !holds { // it has been changed since
				return Reply{Said: t.settings(), Choices: t.settingChoices()}, nil
			}
			return t.say(own.said), nil
		}
	}
	return Reply{Said: t.settings(), Choices: t.settingChoices()}, nil
}

// namedWords says how the settings stand that are changed by their names.
func (t *talk) namedWords() string {
	said := ""
	for _, own := range namedSettings {
		if t.canSet(own) && t.state.Settings[own.name] == own.value {
			said += own.stands
		}
	}
	return said
}
