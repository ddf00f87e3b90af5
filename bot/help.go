package bot

import (
	"slices"
	"strings"

	"clew/reader/listen"
)

// hostsCommand is said to one who asks in words for what is the host's.
const hostsCommand = "A host does that with the command knitalong, in the channel where the knit-along is or will be. Nothing has moved."

// helpTogether is how many requests are told of in one sentence.
const helpTogether = 3

// moreHelp asks for what help does not tell at first.
var moreHelp = Choice{Label: "More help", Intent: listen.Help, Value: "more"}

// help tells what is asked at every row, and how to hear the rest; or the rest,
// where that is asked for. One who is offered to join hears of that first. What
// is the host's is told where there can be one.
func (t *talk) help(hosted bool, choices []Choice) Reply {
	if t.heard.More || t.ask.Pressed != nil && t.ask.Pressed.Value == moreHelp.Value {
		return Reply{Said: restOfHelp(hosted), Choices: choices}
	}
	said := ""
	if slices.ContainsFunc(choices, func(c Choice) bool { return c.Intent == listen.Join }) {
		said = ways(func(r listen.Request) bool { return r.Intent == listen.Join })
	}
	said += ways(func(r listen.Request) bool { return r.Often }) + "Say " + listen.MoreHelp + " to hear the rest."
	return Reply{Said: said, Choices: append([]Choice{moreHelp}, choices[:min(len(choices), choicesMost-1)]...)}
}

// restOfHelp tells what is asked now and then.
func restOfHelp(hosted bool) string {
	said := ways(func(r listen.Request) bool {
		return !r.Often && !r.Host && (hosted || !r.Group) && r.Intent != listen.Help
	}) +
		"Say notes to hear the pattern's notes. Say step by step or whole rows for the way you hear rows; " +
		"full crosses, short crosses or usual crosses for the way you hear crosses; and size and its name to change your size."
	for _, r := range listen.Requests() {
		if r.Host && hosted {
			said += " As a host, use the command " + r.Name + " to " + small(r.Does) + "."
		}
	}
	return said
}

// ways says how to ask for some of the requests, and what comes of each.
func ways(of func(listen.Request) bool) string {
	some, _ := apart(listen.Requests(), of)
	var said strings.Builder
	for i, r := range some {
		switch {
		case i%helpTogether == 0:
			said.WriteString("Say ")
		default:
			said.WriteString("; ")
		}
		said.WriteString(r.Say + " to " + small(r.Does))
		if i%helpTogether == helpTogether-1 || i == len(some)-1 {
			said.WriteString(". ")
		}
	}
	return said.String()
}
