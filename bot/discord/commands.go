package discord

import (
	"sync"

	"github.com/bwmarrin/discordgo"

	"clew/reader/listen"
)

// A command is a slash command as the platform is told of it, with every field
// by which two commands can differ: written by the library, half of them would
// stand there as nulls. What is left out is the platform's default.
type command struct {
	Type                     int               `json:"type"`
	Name                     string            `json:"name"`
	NameLocalizations        map[string]string `json:"name_localizations,omitempty"`
	Description              string            `json:"description"`
	DescriptionLocalizations map[string]string `json:"description_localizations,omitempty"`
	Options                  []option          `json:"options,omitempty"`
	Permissions              *string           `json:"default_member_permissions"` // null: everybody may use it
	Contexts                 []int             `json:"contexts"`
	Installations            []int             `json:"integration_types"`
	NSFW                     bool              `json:"nsfw,omitempty"`
}

// An option is one of a command's, or a command below it.
type option struct {
	Type                     discordgo.ApplicationCommandOptionType `json:"type"`
	Name                     string                                 `json:"name"`
	NameLocalizations        map[string]string                      `json:"name_localizations,omitempty"`
	Description              string                                 `json:"description"`
	DescriptionLocalizations map[string]string                      `json:"description_localizations,omitempty"`
	Required                 bool                                   `json:"required,omitempty"`
	Options                  []option                               `json:"options,omitempty"`
	Choices                  []optionChoice                         `json:"choices,omitempty"`
	Autocomplete             bool                                   `json:"autocomplete,omitempty"`
	MinValue                 *float64                               `json:"min_value,omitempty"`
	MaxValue                 *float64                               `json:"max_value,omitempty"`
	MinLength                *int                                   `json:"min_length,omitempty"`
	MaxLength                *int                                   `json:"max_length,omitempty"`
	ChannelTypes             []int                                  `json:"channel_types,omitempty"`

	wants string // what it takes, as said to somebody who gave something else
}

type optionChoice struct {
	Name              string            `json:"name"`
	NameLocalizations map[string]string `json:"name_localizations,omitempty"`
	Value             any               `json:"value"`
}

// Numbers of the platform's.
const (
	chatInput   = 1 // a command that is typed
	inServers   = 0 // a context in which a command can be used
	inPrivate   = 1 // another
	forAServer  = 0 // an installation
	choicesMost = 25
)

// Names of options and of the commands below the host's.
const (
	hostCommand = "knitalong"

	optNumber    = "number"
	optSection   = "section"
	optStitches  = "stitches"
	optStitch    = "stitch"
	optRows      = "rows"
	optCrosses   = "crosses"
	optSize      = "size"
	optKnitalong = "knitalong"
	optPattern   = "pattern"
	optSample    = "sample"
	optName      = "name"
	optMember    = "member"
	optDismiss   = "dismiss"

	optAround = "around"
	optBody   = "body"
	optWidth  = "width"
	optLength = "length"
	optGauge  = "gauge"
	optLeave  = "leave"
	optHad    = "had"
	optLeft   = "left"
	optYarn   = "yarn"
	optLook   = "look"

	optPlan     = "plan"
	optZone     = "zone"
	optHold     = "hold"
	optSession  = "session"
	optRevision = "revision"
	optUntil    = "until"
	optBoard    = "board"
	optRests    = "rests"
)

// Values of options with a list to choose from.
const (
	rowsSteps = "steps"
	rowsWhole = "rows"

	boardHidden = "hidden"
	boardShown  = "shown"
	restsOn     = "on"
	restsOff    = "off"
)

const (
	rowMost      = 5000 // a row's number
	stitchesMost = 9999
	textMost     = 100 // the characters of a text
	nameMost     = 80
)

// commands are all of the bot's, in the order of the table that help and the
// listener know them by.
var commands = sync.OnceValue(func() []command {
	var all []command
	for _, r := range listen.Requests() {
		c := command{
			Type: chatInput, Name: r.Name, Description: r.Does, Options: knitterOptions[r.Intent],
			Contexts: []int{inServers, inPrivate}, Installations: []int{forAServer},
		}
		if r.Host { // everybody may use it: who may order what is looked up when she does, and helpers hold no permission
			c.Contexts, c.Options = []int{inServers}, hostOptions()
		}
		all = append(all, c)
	}
	return all
})

// knitterOptions are those of the knitters' commands. What is asked with no
// option given is what the words of the command ask.
var knitterOptions = map[listen.Intent][]option{
	listen.Row: {rowOption, sectionOption},
	listen.At:  {rowOption, sectionOption},
	listen.Count: {{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optStitches, Description: "How many stitches you count. Without it you hear how many there should be.",
		MinValue: bound(0), MaxValue: bound(stitchesMost), wants: "a number of stitches from zero to nine thousand nine hundred and ninety-nine",
	}},
	listen.Explain: {{
		Type: discordgo.ApplicationCommandOptionString, Name: optStitch, Description: "The stitch, by its name or as it is written. Without it you hear those of your row.",
		MaxLength: longest(textMost), Autocomplete: true, wants: "the name of a stitch in at most one hundred characters",
	}},
	listen.Settings: {
		{
			Type: discordgo.ApplicationCommandOptionString, Name: optRows, Description: "How a row is read to you.",
			Choices: []optionChoice{{Name: "step by step", Value: rowsSteps}, {Name: "whole rows", Value: rowsWhole}}, wants: "step by step or whole rows",
		},
		{
			Type: discordgo.ApplicationCommandOptionString, Name: optCrosses, Description: "How a cross is said: spelled out each time, by its name, or spelled out when it is new.",
			Choices: []optionChoice{{Name: "full", Value: "full"}, {Name: "short", Value: "short"}, {Name: "usual", Value: "usual"}}, wants: "full, short or usual",
		},
		sizeOption,
		boardOption,
		restsOption,
	},
	listen.Catchup: {untilOption},
	listen.Fit:     fitOptions,
	listen.Yarn:    yarnOptions,
	listen.Picture: pictureOptions,
	listen.Join:    {sizeOption},
	listen.Switch: {{
		Type: discordgo.ApplicationCommandOptionString, Name: optKnitalong, Description: "Its title. Without it you are asked which.",
		MaxLength: longest(textMost), wants: "the title of a knit-along in at most one hundred characters",
	}},
}

var (
	rowOption = option{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optNumber, Description: "The number of the row.", Required: true,
		MinValue: bound(1), MaxValue: bound(rowMost), wants: "the number of a row, from one to five thousand",
	}
	sectionOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optSection, Description: "The section that the row is in, where it is not yours.",
		MaxLength: longest(textMost), wants: "the name of a section in at most one hundred characters",
	}
	sizeOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optSize, Description: "The size that you knit, by its name.",
		MaxLength: longest(textMost), wants: "the name of a size in at most one hundred characters",
	}
)

func bound(n float64) *float64 { return &n }

func longest(n int) *int { return &n }
