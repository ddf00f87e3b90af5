package discord

import (
	"sync"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/session"
)

// revisionMost is the largest number of a revision that can be asked for.
const revisionMost = 9999

// hostOptions are the commands below the host's.
var hostOptions = sync.OnceValue(func() []option {
	deeds := []option{
		below(bot.Start, "Start a knit-along in this channel, of a pattern of yours or one that comes with Clew.",
			patternOption, sampleOption(), titleOption, planOption, zoneOption, holdOption),
		below(bot.Check, "Check a pattern, and start nothing. Without a file, the one that is knitted here.", patternOption),
		below(bot.Close, "Close the knit-along of this channel. Every place in it is kept."),
		below(bot.Reopen, "Open a closed knit-along again, for everybody to go on from their places."),
		below(bot.Helper, "Name somebody who may do all that you may with this knit-along, or dismiss her.", memberOption, dismissOption),
		below(bot.Sessions, "Hear the sessions and when they open. With a file, it takes their place.", planOption, zoneOption, holdOption),
		below(bot.Open, "Open a session now, and announce it here. Without a number, the next one.", sessionOption),
		below(bot.Correct, "Replace the pattern by a corrected text, or go back to an earlier one. Every place is kept.", patternOption, revisionOption),
		below(bot.Text, "Get the pattern's text in a file. Without a number, as it is now.", revisionOption),
		below(bot.Board, "Post the board anew in this channel, which shows how far everybody is."),
		below(bot.Stumbles, "Hear which rows your knitters stumble over, to know what to show them."),
		below(bot.Who, "Hear who is where, who has been quiet, and who asked for help."),
		below(bot.Export, "Get a table of your knitters in a file: where each is, how far, and how fast."),
	}
	for i := range deeds {
		if deeds[i].Name != string(bot.Start) {
			deeds[i].Options = append(deeds[i].Options, whichOption)
		}
	}
	return deeds
})

var (
	patternOption = option{
		Type: discordgo.ApplicationCommandOptionAttachment, Name: optPattern, Description: "The pattern's text file.",
		wants: "a text file",
	}
	titleOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optName, Description: "What the knit-along is called. Without it, as the pattern is.",
		MaxLength: longest(nameMost), wants: "a title in at most eighty characters",
	}
	whichOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optName, Description: "Which knit-along, where several are held here.",
		MaxLength: longest(nameMost), wants: "the title of a knit-along in at most eighty characters",
	}
	planOption = option{
		Type: discordgo.ApplicationCommandOptionAttachment, Name: optPlan, Description: "The text file with the sessions: a line for each, with its rows and when it opens.",
		wants: "a text file",
	}
	zoneOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optZone, Description: "The time zone of the opening times, by its largest town. Type part of its name.",
		MaxLength: longest(textMost), Autocomplete: true, wants: "the name of a time zone in at most one hundred characters",
	}
	holdOption = option{
		Type: discordgo.ApplicationCommandOptionBoolean, Name: optHold, Description: "Choose true to hold back the rows of a session until it opens.",
		wants: "true or false",
	}
	memberOption = option{
		Type: discordgo.ApplicationCommandOptionUser, Name: optMember, Description: "Who it is.", Required: true,
		wants: "a member of this server",
	}
	dismissOption = option{
		Type: discordgo.ApplicationCommandOptionBoolean, Name: optDismiss, Description: "Choose true to dismiss a helper.",
		wants: "true or false",
	}
	sessionOption = option{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optSession, Description: "The number of the session.",
		MinValue: bound(1), MaxValue: bound(session.SessionsMost), wants: "the number of a session, from one to one hundred",
	}
	revisionOption = option{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optRevision, Description: "The number of an earlier text of the pattern, where the first is one.",
		MinValue: bound(1), MaxValue: bound(revisionMost), wants: "the number of an earlier text, from one to nine thousand nine hundred and ninety-nine",
	}
)

// sampleOption offers the patterns that come with Clew, by their titles.
func sampleOption() option {
	sample := option{
		Type: discordgo.ApplicationCommandOptionString, Name: optSample, Description: "A pattern that comes with Clew, in place of a file.",
		wants: "one of the patterns that come with Clew",
	}
	for _, s := range samples.All()[:min(len(samples.All()), choicesMost)] {
		p, _ := patterns.Read([]byte(s.Text)) // samples have no problems
		sample.Choices = append(sample.Choices, optionChoice{Name: short(clean(p.Title), textMost), Value: s.Name})
	}
	return sample
}

func below(deed bot.Deed, does string, options ...option) option {
	return option{Type: discordgo.ApplicationCommandOptionSubCommand, Name: string(deed), Description: does, Options: options}
}
