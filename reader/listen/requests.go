package listen

import (
	"slices"
	"strings"
)

// A Request is one thing that can be asked for, as people are told of it.
type Request struct {
	Intent Intent
	Name   string // of the command, 1 to 32 small letters
	Say    string // words that ask for it: "next row"
	Does   string // what comes of it, one spoken sentence of up to 100 characters that goes on from "to": "Hear the next row."
	Host   bool   // it is the host's
}

// requests is the one list of what can be asked for: commands, help and the
// listener's words are made of it.
var requests = []Request{
	{Intent: Next, Name: "next", Say: "next row", Does: "Hear the next row when yours is done."},
	{Intent: Again, Name: "again", Say: "again", Does: "Hear your row once more."},
	{Intent: Back, Name: "back", Say: "back", Does: "Go back a row."},
	{Intent: Undo, Name: "undo", Say: "undo", Does: "Take back your last move."},
	{Intent: Where, Name: "where", Say: "where am I", Does: "Hear where you are."},
	{Intent: Catchup, Name: "catchup", Say: "catch me up", Does: "Find your way back in after time away."},
	{Intent: Row, Name: "row", Say: "read row twelve", Does: "Hear a row by its number without moving."},
	{Intent: At, Name: "at", Say: "put me at row twelve", Does: "Go to a row by its number."},
	{Intent: Explain, Name: "explain", Say: "explain that", Does: "Hear how a stitch is worked: those of your row, or one that you name."},
	{Intent: Count, Name: "count", Say: "I count ninety-five", Does: "Check your stitches against the pattern."},
	{Intent: Settings, Name: "settings", Say: "settings", Does: "Hear how rows are read to you and in which size, and change it."},
	{Intent: Join, Name: "join", Say: "join", Does: "Join a knit-along, or come back to it."},
	{Intent: Switch, Name: "switch", Say: "switch knit-along", Does: "Choose which of your knit-alongs you are on."},
	{Intent: Leave, Name: "leave", Say: "leave", Does: "Leave the knit-along with your place kept."},
	{Intent: Forget, Name: "forget", Say: "forget me", Does: "Delete all that the knit-along keeps of you."},
	{Intent: Help, Name: "help", Say: "help", Does: "Hear what you can ask."},
	{Intent: Knitalong, Name: "knitalong", Say: "start a knit-along", Does: "Start, check, close or reopen a knit-along, and name its helpers.", Host: true},
}

// Requests gives all that can be asked for, in the order in which help tells
// of it.
func Requests() []Request { return slices.Clone(requests) }

// asked finds the request that the words are, no more and no less: the name of
// a command, or words that people are told to say. Those with a number in them
// are the grammar's.
var asked = func() map[string]Intent {
	all := map[string]Intent{}
	for _, r := range requests {
		for _, words := range []string{r.Name, r.Say} {
			ws, _ := split(words)
			if !slices.ContainsFunc(ws, func(w word) bool { return w.num.scale != noNumber }) {
				all[spell(ws)] = r.Intent
			}
		}
	}
	return all
}()

// command gives the request whose name stands behind a stroke, as commands are
// typed: "/row 12".
func command(words string) (Intent, bool) {
	typed, ok := strings.CutPrefix(strings.TrimSpace(words), "/")
	if !ok {
		return None, false
	}
	name, _, _ := strings.Cut(typed, " ")
	i := slices.IndexFunc(requests, func(r Request) bool { return r.Name == strings.ToLower(name) })
	if i < 0 {
		return None, false
	}
	return requests[i].Intent, true
}
