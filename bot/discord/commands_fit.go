package discord

import (
	"github.com/bwmarrin/discordgo"

	"clew/reader/listen"
)

// Values of options about the fit and pictures with a list to choose from: those
// that the listener gives.
const (
	bodyHead = "head"
	bodyHand = "hand"
	bodyFoot = "foot"
)

// fitOptions are the wishes about the fit, one at a time. Beside another stand
// only the part that is measured around, and the section that rows are left out of.
var fitOptions = []option{
	sizeOption,
	shortText(optAround, "Hear which size suits: a measure with its unit, or somebody, such as a toddler.", "a measure with its unit, or who it is for"),
	{
		Type: discordgo.ApplicationCommandOptionString, Name: optBody, Description: "What you measure around, where the pattern does not say.",
		Choices: []optionChoice{{Name: "head", Value: bodyHead}, {Name: "hand", Value: bodyHand}, {Name: "foot", Value: bodyFoot}}, wants: "head, hand or foot",
	},
	shortText(optWidth, "Hear how many stitches to cast on for a width: a number with its unit.", "a width with its unit"),
	shortText(optLength, "Hear how the piece comes to a length: a number with its unit.", "a length with its unit"),
	shortText(optGauge, "Your own gauge: stitches by rows to ten centimetres, or so many to the inch.", "a gauge"),
	{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optLeave, Description: "How many rows to leave out. With zero you work them all.",
		MinValue: bound(0), MaxValue: bound(rowMost), wants: "a number of rows to leave out, from zero to five thousand",
	},
	shortText(optSection, "The section to leave rows out of. Alone: hear which of its rows may be left out.", "the name of a section"),
}

var yarnOptions = []option{
	shortText(optHad, "How much you had when you began: a number with its unit.", "an amount of yarn with its unit"),
	shortText(optLeft, "How much is left: a number with its unit.", "an amount of yarn with its unit"),
	shortText(optYarn, "Which yarn it is, where the pattern has several.", "the name of a yarn"),
}

var pictureOptions = []option{
	{
		Type: discordgo.ApplicationCommandOptionInteger, Name: optNumber, Description: "The number of a row to see with those around it, where it is not yours.",
		MinValue: bound(1), MaxValue: bound(rowMost), wants: "the number of a row, from one to five thousand",
	},
	shortText(optSection, "The section or the panel to see, or the section that the row is in.", "the name of a section or a panel"),
	{
		Type: discordgo.ApplicationCommandOptionString, Name: optLook, Description: "A chart of symbols, or the fabric as it should look.",
		Choices: []optionChoice{{Name: "chart", Value: listen.LookChart}, {Name: "fabric", Value: listen.LookFabric}}, wants: "chart or fabric",
	},
}

// shortText is an option for a short text.
func shortText(name, does, wants string) option {
	return option{
		Type: discordgo.ApplicationCommandOptionString, Name: name, Description: does,
		MaxLength: longest(textMost), wants: wants + " in at most one hundred characters",
	}
}
