package bot

import (
	"context"
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
	Title     string // for Start: up to 256 bytes; "" is the pattern's own
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
	deed, id, _ := strings.Cut(c.Value, ":")
	switch {
	case c.Intent != listen.Knitalong:
		return Order{}, false
	case deed == string(Close), deed == string(Reopen):
		return Order{Deed: Deed(deed), Knitalong: id, Sure: true}, true
	}
	return Order{}, false
}

// Direct carries out what a host orders. It never fails: what went wrong is a
// sentence in the reply, which never claims more than was saved.
func (b *Bot) Direct(ctx context.Context, o Order) Reply {
	return Reply{Said: "That can't be ordered here yet. Nothing was changed."}
}

// Glossary gives the stitches of the member's pattern that fit what she has
// typed so far, those of her row first, at most 25: their names, and as values
// what is explained when it is asked about.
func (b *Bot) Glossary(ctx context.Context, ask Ask, typed string) []Choice { return nil }
