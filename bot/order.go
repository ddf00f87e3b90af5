package bot

import (
	"strconv"
	"strings"

	"clew/reader/listen"
	"clew/session"
)

// A Deed is what a host orders.
type Deed string

// The deeds of hosts.
const (
	Start  Deed = "start"  // opens a knit-along of a pattern in a channel
	Check  Deed = "check"  // proves a pattern: one that is given, or that of the knit-along
	Close  Deed = "close"  // ends a knit-along; every place is kept
	Reopen Deed = "reopen" // opens a closed one again
	Helper Deed = "helper" // names somebody who may do all that a host may, or dismisses her

	Sessions Deed = "sessions" // tells the sessions, or replaces them by Plan
	Open     Deed = "open"     // opens a session now
	Correct  Deed = "correct"  // replaces the pattern by a corrected text, or by an earlier revision
	Text     Deed = "text"     // gives the pattern's text, as a file
	Board    Deed = "board"    // posts the board anew in the channel
	Stumbles Deed = "stumbles" // tells which rows the members stumble over
	Who      Deed = "who"      // tells who is where
	Export   Deed = "export"   // gives the members as a table
)

// An Order is what a host orders.
type Order struct {
	Deed      Deed
	Member    session.Member
	Manages   bool   // the platform says now that she may manage events in this server
	Server    string // where it was ordered, as in Ask
	Channel   string
	Knitalong string // its id; "" is the one of the channel
	Event     string // as in Ask; the same event starts nothing twice
	Nick      string // as in Ask
	Title     string // for Start: up to 256 bytes, "" is the pattern's own; else which of several it is about, "" for none named
	Plan      []byte // for Start and Sessions: the text of the sessions; nil for none
	PlanFile  string // the name of its file, for Report
	Zone      string // for Start and Sessions: the IANA name of the time zone; "" is the one in Plan, else the one that was, else UTC
	Hold      *bool  // for Start and Sessions: rows are held back until their session opens; nil is as it was, and not at first
	Session   int    // for Open: its number; 0 is the next
	Revision  int    // for Correct and Text: an earlier revision, from 1; 0 is none, and for Text the current one
	File      string // the name of the pattern's file, for Report
	Pattern   []byte // the pattern's text
	Sample    string // the name of a sample pattern, in place of Pattern
	Helper    session.Member
	Dismiss   bool // with Helper: she is no helper any more
	Sure      bool // with Close: she was asked, and said so
}

// Order gives what a pressed choice orders: one of intent Knitalong, as stands
// under a reply to an order. Who orders it, and where, is still to be set; so is
// Knitalong, to the one that the reply was about, where the choice names none.
// It is false for any other choice.
func (c Choice) Order() (Order, bool) {
	deed, rest, several := strings.Cut(c.Value, ":")
	id, helper, _ := strings.Cut(rest, ":")
	o := Order{Deed: Deed(deed), Knitalong: id}
	switch {
	case c.Intent != listen.Knitalong:
		return Order{}, false
	case o.Deed == Close:
		o.Sure = !several
	case o.Deed == Correct, o.Deed == Text:
		var err error
		if o.Revision, err = strconv.Atoi(helper); err != nil || o.Revision < 0 {
			return Order{}, false
		}
	case o.Deed == Open:
		var err error
		if o.Session, err = strconv.Atoi(helper); err != nil || o.Session < 0 {
			return Order{}, false
		}
	case o.Deed == Check, o.Deed == Reopen, o.Deed == Sessions, o.Deed == Board, o.Deed == Stumbles, o.Deed == Who, o.Deed == Export:
	case o.Deed == Helper, deed == dismissal:
		o.Deed, o.Helper, o.Dismiss = Helper, session.Member(helper), deed == dismissal
	default:
		return Order{}, false
	}
	return o, true
}

// dismissal stands in a choice for dismissing a helper.
const dismissal = "dismiss"

// fitsChoice says that all of an order fits into a choice: a file does not.
func (o Order) fitsChoice() bool {
	return o.Pattern == nil && o.Sample == "" && o.Plan == nil && o.Zone == "" && o.Hold == nil && (o.Deed != Correct || o.Revision > 0)
}

// choice puts an order into the value of a choice, for one of several
// knit-alongs.
func (o Order) choice(about session.About) Choice {
	value := string(o.Deed)
	if o.Dismiss {
		value = dismissal
	}
	value += ":" + about.ID
	switch {
	case o.Helper != "":
		value += ":" + string(o.Helper)
	case o.Deed == Correct, o.Deed == Text:
		value += ":" + strconv.Itoa(o.Revision)
	case o.Deed == Open:
		value += ":" + strconv.Itoa(o.Session)
	}
	return Choice{Label: label(about.Title, titleOf(about)), Intent: listen.Knitalong, Value: value}
}
