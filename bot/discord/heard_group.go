package discord

import (
	"sync"

	"clew/bot"
	"clew/reader/listen"
)

const noSuchDay refusal = "I do not know that day. Nothing has moved. Please give the command once more with a day such as Friday, tomorrow, in ten days, or the third of December."

// settingsAsked are the settings that are changed by a choice from a list.
var settingsAsked = map[string]map[string]listen.Setting{
	optBoard: {boardHidden: listen.HideMe, boardShown: listen.ShowMe},
	optRests: {restsOn: listen.Rests, restsOff: listen.NoRests},
}

// settings asks for the setting that is to be changed, or how they are.
func settings(h listen.Heard, given values) (bot.Ask, error) {
	switch {
	case len(given) > 1:
		return bot.Ask{}, oneSetting
	case given.text(optRows) == rowsSteps:
		h.Intent = listen.Steps
	case given.text(optRows) == rowsWhole:
		h.Intent = listen.Rows
	case given.text(optCrosses) != "":
		return bot.Ask{Words: given.text(optCrosses) + " crosses"}, nil
	case given.text(optSize) != "":
		h.Intent = listen.Fit
		return bot.Ask{Heard: &h, Name: given.text(optSize)}, nil
	}
	for name, settings := range settingsAsked {
		if text := given.text(name); text != "" {
			h.Setting = settings[text]
		}
	}
	return bot.Ask{Heard: &h}, nil
}

// days hears which day somebody names.
var days = sync.OnceValue(func() *listen.Listener { return listen.New(nil) })

// catchup asks to be caught up, by a day where one is named.
func catchup(h listen.Heard, given values) (bot.Ask, error) {
	day := given.text(optUntil)
	if day == "" {
		return bot.Ask{Heard: &h}, nil
	}
	for _, words := range []string{"catch me up by ", "catch me up "} { // "by Friday" may be what was typed
		if found := days().Hear(words + day); found.Intent == listen.Catchup && found.Until != nil {
			h.Until = found.Until
			return bot.Ask{Heard: &h}, nil
		}
	}
	return bot.Ask{}, noSuchDay
}
