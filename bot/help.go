package bot

import (
	"strings"

	"clew/reader/listen"
)

// hostsCommand is said to one who asks in words for what is the host's.
const hostsCommand = "A host does that with the command knitalong, in the channel of a knit-along. Nothing has moved."

// helpTogether is how many requests are told of in one sentence.
const helpTogether = 3

// help tells what can be asked: at every row first, then now and then. What is
// the host's is told where there can be one.
func help(hosted bool) string {
	var ways []string
	host := ""
	for _, r := range listen.Requests() {
		switch {
		case r.Intent == listen.Help: // that is known by now
		case r.Host && hosted:
			host = " As a host, use the command " + r.Name + " to " + small(r.Does) + "."
		case !r.Host:
			ways = append(ways, r.Say+" to "+small(r.Does))
		}
	}
	var said strings.Builder
	for len(ways) > 0 {
		n := min(helpTogether, len(ways))
		said.WriteString("Say " + strings.Join(ways[:n], "; ") + ". ")
		ways = ways[n:]
	}
	return said.String() + "Say notes to hear the pattern's notes. Say step by step or whole rows for the way you hear rows; " +
		"full crosses, short crosses or usual crosses for the way you hear crosses; and size and its name to change your size." + host
}
