package discord

import (
	"slices"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/session"
)

const (
	noSuchDeed  refusal = "I do not know that command. It may be older than I am. Nothing was changed. Type the command anew and choose from the list."
	twoPatterns refusal = "You gave a file and a sample, and I can start only one of them. Nothing was changed. Please give the command once more with one of the two."
	noPattern   refusal = "A knit-along needs a pattern. Nothing was changed. Give the command once more and attach a pattern's text file, or choose a sample."
	twoTexts    refusal = "You gave a file and the number of an earlier text, and only one of them can take the pattern's place. Nothing was changed. Please give the command once more with one of the two."
	noText      refusal = "A correction needs a text. Nothing was changed. Give the command once more and attach the corrected pattern, or give the number of an earlier text."
)

// attached are the files that came with an order; nil for those that did not.
type attached struct{ pattern, plan *discordgo.MessageAttachment }

// ordered turns a host's command into an order: its Deed and what the options
// say are set, and no more. The error is a refusal.
func ordered(data discordgo.ApplicationCommandInteractionData) (bot.Order, attached, error) {
	if data.Name != hostCommand || data.CommandType > chatInput || len(data.Options) != 1 || data.Options[0] == nil {
		return bot.Order{}, attached{}, noSuchDeed
	}
	deed := data.Options[0]
	all := hostOptions()
	i := slices.IndexFunc(all, func(o option) bool { return o.Name == deed.Name && o.Type == deed.Type })
	if i < 0 {
		return bot.Order{}, attached{}, noSuchDeed
	}
	given, err := take(hostCommand+" "+deed.Name, "Nothing was changed.", all[i].Options, deed.Options, data.Resolved)
	if err != nil {
		return bot.Order{}, attached{}, err
	}
	order := bot.Order{Deed: bot.Deed(deed.Name), Title: given.text(optName), Sample: given.text(optSample), Zone: given.text(optZone)}
	order.Helper, _ = given[optMember].(session.Member)
	order.Dismiss, _ = given[optDismiss].(bool)
	order.Session, _ = given.number(optSession)
	order.Revision, _ = given.number(optRevision)
	if hold, told := given[optHold].(bool); told {
		order.Hold = &hold
	}
	var files attached
	files.pattern, _ = given[optPattern].(*discordgo.MessageAttachment)
	files.plan, _ = given[optPlan].(*discordgo.MessageAttachment)
	if err := oneText(order, files.pattern != nil); err != nil {
		return bot.Order{}, attached{}, err
	}
	return order, files, nil
}

// oneText refuses an order that needs a pattern and has none, or more than one.
func oneText(order bot.Order, attached bool) error {
	switch starts, corrects := order.Deed == bot.Start, order.Deed == bot.Correct; {
	case starts && attached && order.Sample != "":
		return twoPatterns
	case starts && !attached && order.Sample == "":
		return noPattern
	case corrects && attached && order.Revision > 0:
		return twoTexts
	case corrects && !attached && order.Revision == 0:
		return noText
	}
	return nil
}
