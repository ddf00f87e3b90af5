package discord

import "github.com/bwmarrin/discordgo"

// Options of the knitters' commands that have to do with the group.
var (
	untilOption = shortText(optUntil, "The day by which you want to be caught up, such as Friday, or the third of December.", "the name of a day")

	boardOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optBoard, Description: "Whether your name stands on the board. Hidden, you are counted and not named.",
		Choices: []optionChoice{{Name: "hidden", Value: boardHidden}, {Name: "shown", Value: boardShown}}, wants: "hidden or shown",
	}
	restsOption = option{
		Type: discordgo.ApplicationCommandOptionString, Name: optRests, Description: "Whether you are told to rest your hands after an hour of rows.",
		Choices: []optionChoice{{Name: "on", Value: restsOn}, {Name: "off", Value: restsOff}}, wants: "on or off",
	}
)
