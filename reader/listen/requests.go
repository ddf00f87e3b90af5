package listen

import (
	"slices"
	"strings"
)

// A Request is one thing that can be asked for, as people are told of it.
type Request struct {
	Intent Intent
	Name   string // of the command, 1 to 32 small letters; "" for none
	Say    string // with a name, words that ask for it: "next row"
	Does   string // with a name, what comes of it, one spoken sentence of up to 100 characters that goes on from "to": "Hear your row once more."
	Wants  string // what goes on from "did you want": "the next row"
	Label  string // on a button, "" for none; one that ends with a space goes on with a number: "Read row "
	Often  bool   // it is asked at every row
	Host   bool   // it is the host's
	Group  bool   // it is of no use to one who knits by herself
}

// requests is the one list of what can be asked for: commands, help, buttons,
// questions and the listener's words are made of it.
var requests = []Request{
	{Intent: Next, Name: "next", Say: "next row", Does: "Go on when your row is done.", Wants: "the next row", Label: "Next row", Often: true},
	{Intent: Again, Name: "again", Say: "again", Does: "Hear your row once more.", Wants: "this row once more", Label: "Again", Often: true},
	{Intent: Back, Name: "back", Say: "back", Does: "Return to the row before.", Wants: "to go back a row", Label: "Back", Often: true},
	{Intent: Where, Name: "where", Say: "where am I", Does: "Hear your place in the pattern.", Wants: "to know where you are", Label: "Where am I", Often: true},
	{Intent: Undo, Name: "undo", Say: "undo", Does: "Take back your last move.", Wants: "to undo the last move", Label: "Undo", Often: true},
	{Intent: Catchup, Name: "catchup", Say: "catch me up", Does: "Find your way back in after time away.", Wants: "to catch up", Label: "Catch me up"},
	{Intent: Row, Name: "row", Say: "read row twelve", Does: "Hear a row by its number without moving.", Wants: "to hear that row", Label: "Read row "},
	{Intent: At, Name: "at", Say: "put me at row twelve", Does: "Go to a row by its number.", Wants: "to go to that row", Label: "Put me at row "},
	{Intent: Explain, Name: "explain", Say: "explain that", Does: "Hear how the stitches of your row are worked, or one that you name.", Wants: "a stitch explained", Label: "Explain"},
	{Intent: Count, Name: "count", Say: "I count ninety-five", Does: "Check your stitches against the pattern.", Wants: "to check your count", Label: "I count "},
	{Intent: Settings, Name: "settings", Say: "settings", Does: "Hear how rows are read to you and in which size, and how to change that.", Wants: "your settings", Label: "Settings"},
	{Intent: Steps, Wants: "the row step by step", Label: "Step by step"},
	{Intent: Rows, Wants: "whole rows", Label: "Whole rows"},
	{Intent: Fit, Name: "fit", Say: "which size fits me", Does: "Hear how large it comes out, what size to knit, and which rows may be left out.", Wants: "to change the fit", Label: "Size"},
	{Intent: Yarn, Name: "yarn", Say: "will my yarn last", Does: "Hear whether what you have left will do for the rest.", Wants: "to know about your yarn", Label: "Yarn"},
	{Intent: Picture, Name: "picture", Say: "show me the picture", Does: "See your row and those around it, as a chart or as the fabric should look.", Wants: "the picture", Label: "Picture"},
	{Intent: Stuck, Name: "stuck", Say: "I am stuck", Does: "Let the host know that you need help with your row.", Wants: "to tell the host that you are stuck", Label: "I am stuck", Group: true},
	{Intent: Board, Name: "board", Say: "show me the board", Does: "Hear how far everybody is.", Wants: "to hear how far everybody is", Label: "The board", Group: true},
	{Intent: Changes, Name: "changes", Say: "what has changed", Does: "Hear what the host has corrected in the pattern.", Wants: "to hear what has been corrected", Label: "What has changed", Group: true},
	{Intent: Join, Name: "join", Say: "join", Does: "Take part in a knit-along, or come back to it.", Wants: "to join", Label: "Join"},
	{Intent: Switch, Name: "switch", Say: "switch knit-along", Does: "Choose which of your knit-alongs you are on.", Wants: "to change the knit-along", Label: "Switch knit-along"},
	{Intent: Leave, Name: "leave", Say: "leave", Does: "Stop knitting along, with your place kept.", Wants: "to leave", Label: "Leave"},
	{Intent: Forget, Name: "forget", Say: "forget me", Does: "Delete all that the knit-along keeps of you.", Wants: "to be forgotten", Label: "Forget me"},
	{Intent: Help, Name: "help", Say: "help", Does: "Hear what you can ask.", Wants: "help", Label: "Help"},
	{Intent: Knitalong, Name: "knitalong", Say: "start a knit-along", Does: "Begin a knit-along, open its sessions, correct its pattern, and see how your knitters get on.", Wants: "the knit-along", Host: true},
	{Intent: Handsfree, Wants: "the hands free link"},
}

// Requests gives all that can be asked for by a command, in the order in which
// help tells of it.
func Requests() []Request {
	return slices.DeleteFunc(slices.Clone(requests), func(r Request) bool { return r.Name == "" })
}

// RequestFor gives the request of an intent. None and Unsure have none.
func RequestFor(intent Intent) Request {
	if i := slices.IndexFunc(requests, func(r Request) bool { return r.Intent == intent }); i >= 0 {
		return requests[i]
	}
	return Request{}
}

// MoreHelp are the words that ask for what help does not tell at first.
const MoreHelp = "more help"

// asked finds the request that the words are, no more and no less: the name of
// a command, or words that people are told to say. Those with a number in them
// are the grammar's.
var asked = func() map[string]Intent {
	all := map[string]Intent{}
	for _, r := range Requests() {
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
	i := slices.IndexFunc(requests, func(r Request) bool { return r.Name != "" && r.Name == strings.ToLower(name) })
	if i < 0 {
		return None, false
	}
	return requests[i].Intent, true
}
