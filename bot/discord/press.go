package discord

import (
	"slices"
	"strings"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/reader/listen"
)

// A press is a choice that was made by a button or in a menu.
type press struct {
	Knitalong string     // the id of the one that the reply was about; "" for none
	Mark      string     // the reply's; "" for none
	Choice    bot.Choice // without its label, which nothing rests on
	menu      bool       // it was made in a menu; the value stands in the option, not in the custom id
}

// A custom id is "ab/next/<knit-along>/<mark>/<value>" for a button, and
// "am/join/<knit-along>/<mark>" for a menu. The first letter is the version of
// this spelling: another one will begin with another letter.
const (
	buttonKind = "ab"
	menuKind   = "am"
	between    = "/"
)

// What the parts of a custom id may be: as bot.Choice, bot.Reply and
// session.About say.
const (
	markMost  = 24
	valueMost = 64
	idMost    = 64
)

// notPressed is told for what did not come from a button or a menu of this
// version of Clew.
const notPressed refusal = "That button is not one that I know. It may be from long ago. Nothing has moved. Say where am I to hear your place, and use the buttons there."

// encodePress gives the custom id of a choice's button, 1 to 100 bytes of
// printing ASCII, or "" for a choice that a button can't carry.
func encodePress(knitalong, mark string, c bot.Choice) string {
	return encode(press{Knitalong: knitalong, Mark: mark, Choice: c})
}

// encodeMenu gives the custom id of a menu of choices of one intent, whose
// options have the choices' values, or "" as encodePress does.
func encodeMenu(knitalong, mark string, intent listen.Intent) string {
	return encode(press{Knitalong: knitalong, Mark: mark, Choice: bot.Choice{Intent: intent}, menu: true})
}

func encode(p press) string {
	parts := []string{buttonKind, string(p.Choice.Intent), p.Knitalong, p.Mark, p.Choice.Value}
	if p.menu {
		parts[0], parts = menuKind, parts[:4]
	}
	id := strings.Join(parts, between)
	if !p.sound() || len(id) > rest.MaxCustomID {
		return ""
	}
	return id
}

// decodePress reads a custom id; that of a menu has no value. The error is a
// refusal.
func decodePress(id string) (press, error) {
	if len(id) > rest.MaxCustomID {
		return press{}, notPressed
	}
	parts := strings.Split(id, between)
	var p press
	switch {
	case len(parts) == 5 && parts[0] == buttonKind:
		p.Choice.Value = parts[4]
	case len(parts) == 4 && parts[0] == menuKind:
		p.menu = true
	default:
		return press{}, notPressed
	}
	p.Choice.Intent, p.Knitalong, p.Mark = listen.Intent(parts[1]), parts[2], parts[3]
	if !p.sound() {
		return press{}, notPressed
	}
	return p, nil
}

// pressed reads what was pressed or chosen. The error is a refusal.
func pressed(data discordgo.MessageComponentInteractionData) (press, error) {
	p, err := decodePress(data.CustomID)
	if err != nil {
		return press{}, err
	}
	kind, values := discordgo.ButtonComponent, 0
	if p.menu {
		kind, values = discordgo.SelectMenuComponent, 1
	}
	if data.ComponentType != kind || len(data.Values) != values {
		return press{}, notPressed
	}
	if p.menu {
		p.Choice.Value = data.Values[0]
	}
	if !p.sound() {
		return press{}, notPressed
	}
	return p, nil
}

// sound says that every part is one that Clew could have written.
func (p *press) sound() bool {
	return slices.Contains(pressable, p.Choice.Intent) &&
		isKey(p.Knitalong, idMost, "-._") && isKey(p.Mark, markMost, ".") && isKey(p.Choice.Value, valueMost, ".:-_")
}

// isKey says that a text has at most so many bytes, all of them letters and
// digits of ASCII or among the marks.
func isKey(text string, most int, marks string) bool {
	for i := range len(text) {
		c := text[i]
		if (c|0x20 < 'a' || c|0x20 > 'z') && !isDigit(c) && strings.IndexByte(marks, c) < 0 {
			return false
		}
	}
	return len(text) <= most
}

// pressable are the intents that a choice may have: all but those that say that
// nothing was understood.
var pressable = []listen.Intent{
	listen.Next, listen.Again, listen.Back, listen.Undo, listen.Row, listen.At, listen.Where, listen.Steps, listen.Rows, listen.Explain, listen.Picture,
	listen.Count, listen.Catchup, listen.Fit, listen.Yarn, listen.Handsfree, listen.Settings, listen.Join, listen.Leave, listen.Forget, listen.Switch,
	listen.Knitalong, listen.Help, listen.Stuck, listen.Board, listen.Changes,
}
