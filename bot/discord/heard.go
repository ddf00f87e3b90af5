package discord

import (
	"math"
	"slices"
	"strings"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/reader/listen"
)

// The platform checks what people put into a command, but anybody who speaks
// its protocol may send something else, and a command may be older than this
// version of Clew. So everything is checked again by the table that the command
// was registered from.

const (
	noSuchCommand refusal = "I do not know that command. It may be older than I am. Nothing has moved. Say help to hear what you can ask."
	oneSetting    refusal = "I can change one setting at a time. Nothing has been changed. Please give the command once more with one of them."
)

// heard turns a knitter's command into what is asked: Heard, with a Name or
// without, or Words of the Ask are set, and no more. What somebody typed is never
// among the words, so that it can't be taken for another request. The error is a refusal, one plain sentence or a few.
func heard(data discordgo.ApplicationCommandInteractionData) (bot.Ask, error) {
	requests := listen.Requests()
	i := slices.IndexFunc(requests, func(r listen.Request) bool { return r.Name == data.Name && !r.Host })
	if i < 0 || data.CommandType > chatInput {
		return bot.Ask{}, noSuchCommand
	}
	intent := requests[i].Intent
	given, err := take(data.Name, "Nothing has moved.", knitterOptions[intent], data.Options, data.Resolved)
	if err != nil {
		return bot.Ask{}, err
	}
	h := listen.Heard{Intent: intent, Sure: true}
	switch intent {
	case listen.Row, listen.At:
		h.Number, h.HasNumber = given.number(optNumber)
		h.Section = strings.ToLower(given.text(optSection))
	case listen.Count:
		h.Number, h.HasNumber = given.number(optStitches)
	case listen.Explain:
		h.Stitch = given.text(optStitch)
	case listen.Join:
		return bot.Ask{Heard: &h, Name: given.text(optSize)}, nil
	case listen.Switch:
		return bot.Ask{Heard: &h, Name: given.text(optKnitalong)}, nil
	case listen.Settings:
		return settings(h, given)
	case listen.Catchup:
		return catchup(h, given)
	case listen.Fit:
		return fitWish(h, given)
	case listen.Yarn:
		return yarnWish(h, given)
	case listen.Picture:
		h.Number, h.HasNumber = given.number(optNumber)
		h.Section, h.Look = strings.ToLower(given.text(optSection)), given.text(optLook)
	}
	return bot.Ask{Heard: &h}, nil
}

// typedInto gives the option that completes itself, and what has been typed into
// it so far, cleaned, up to 100 characters; "" for anything else.
func typedInto(options []*discordgo.ApplicationCommandInteractionDataOption) (option, typed string) {
	for _, o := range options {
		switch {
		case o == nil:
		case o.Type == discordgo.ApplicationCommandOptionSubCommand:
			return typedInto(o.Options)
		case o.Focused:
			text, _ := o.Value.(string)
			return o.Name, clean(within(text, textMost))
		}
	}
	return "", ""
}

// values are the options that were given, by name: int, string, bool,
// *discordgo.MessageAttachment or session.Member.
type values map[string]any

func (v values) text(name string) string {
	text, _ := v[name].(string)
	return text
}

func (v values) number(name string) (int, bool) {
	n, ok := v[name].(int)
	return n, ok
}

// take checks the options that came with a command against those that it has.
// The error names the command and the first option that is missing or is not
// as it should be; unmoved says that nothing came of it.
func take(name, unmoved string, known []option, came []*discordgo.ApplicationCommandInteractionDataOption, resolved *discordgo.ApplicationCommandInteractionDataResolved) (values, error) {
	again := " " + unmoved + " Please give it once more."
	given := values{}
	for _, o := range came {
		i := -1
		if o != nil {
			i = slices.IndexFunc(known, func(k option) bool { return k.Name == o.Name })
		}
		if i < 0 || given[o.Name] != nil {
			return nil, refusal("Something came with slash " + name + " that does not belong to it." + again)
		}
		v := known[i].value(o, resolved)
		if v == nil {
			return nil, refusal("Slash " + name + " takes " + known[i].wants + ", and something else came." + again)
		}
		given[o.Name] = v
	}
	for _, k := range known {
		if k.Required && given[k.Name] == nil {
			return nil, refusal("Slash " + name + " takes " + k.wants + ", and it did not come." + again)
		}
	}
	return given, nil
}

// value gives what somebody put into an option, or nil where the option does
// not take that.
func (k *option) value(o *discordgo.ApplicationCommandInteractionDataOption, resolved *discordgo.ApplicationCommandInteractionDataResolved) any {
	if o.Type != k.Type || len(o.Options) > 0 {
		return nil
	}
	text, isText := o.Value.(string)
	switch k.Type {
	case discordgo.ApplicationCommandOptionInteger:
		n, ok := o.Value.(float64)
		if ok && n == math.Trunc(n) && n >= *k.MinValue && n <= *k.MaxValue {
			return int(n)
		}
	case discordgo.ApplicationCommandOptionBoolean:
		if yes, ok := o.Value.(bool); ok {
			return yes
		}
	case discordgo.ApplicationCommandOptionString:
		if text = clean(text); text != "" && k.takes(text) {
			return text
		}
	case discordgo.ApplicationCommandOptionUser:
		if isText && isID(text) && resolved != nil && resolved.Users[text] != nil {
			return memberOf(text)
		}
	case discordgo.ApplicationCommandOptionAttachment:
		if isText && resolved != nil && resolved.Attachments[text] != nil {
			return resolved.Attachments[text]
		}
	}
	return nil
}

// takes says that a text is on the option's list, or short enough where it has
// none.
func (k *option) takes(text string) bool {
	if k.Choices != nil {
		return slices.ContainsFunc(k.Choices, func(c optionChoice) bool { return c.Value == text })
	}
	return k.MaxLength == nil || rest.Characters(text) <= *k.MaxLength
}

// isID says that a text is one of the platform's ids: a number of up to 20
// digits.
func isID(text string) bool {
	for i := range len(text) {
		if !isDigit(text[i]) {
			return false
		}
	}
	return text != "" && len(text) <= 20
}
