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
	{Intent: Next, Name: "next", Say: "next row", Does: "Hear the next row, when you have finished the one before it."},
	{Intent: Again, Name: "again", Say: "again", Does: "Hear your row once more."},
	{Intent: Back, Name: "back", Say: "back", Does: "Go back a row."},
	{Intent: Undo, Name: "undo", Say: "undo", Does: "Take back your last move, whatever it was."},
	{Intent: Where, Name: "where", Say: "where am I", Does: "Hear your place."},
	{Intent: Catchup, Name: "catchup", Say: "catch me up", Does: "Find your way back in after time away."},
	{Intent: Row, Name: "row", Say: "read row twelve", Does: "Hear a row by its number, without moving."},
	{Intent: At, Name: "at", Say: "put me at row twelve", Does: "Go to a row by its number."},
	{Intent: Explain, Name: "explain", Say: "explain that", Does: "Hear how the stitches of your row are worked, or a stitch that you name."},
	{Intent: Count, Name: "count", Say: "I count ninety-five", Does: "Check your stitches, and hear where one may have gone wrong."},
	{Intent: Settings, Name: "settings", Say: "settings", Does: "Hear how rows are read to you, and in which size, and change it."},
	{Intent: Join, Name: "join", Say: "join", Does: "Join a knit-along, or come back to it."},
	{Intent: Switch, Name: "switch", Say: "switch knit-along", Does: "Choose which knit-along you are on, where you have joined several."},
	{Intent: Leave, Name: "leave", Say: "leave", Does: "Leave the knit-along with your place kept."},
	{Intent: Forget, Name: "forget", Say: "forget me", Does: "Delete all that the knit-along keeps of you; you are asked first."},
	{Intent: Help, Name: "help", Say: "help", Does: "Hear what you can ask."},
	{Intent: Knitalong, Name: "knitalong", Say: "start a knit-along", Does: "Start, check, close or reopen a knit-along, and name your helpers.", Host: true},
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
