// Package bot answers any request, whatever it came through. An adapter turns
// what it got into an Ask, and a Reply into what it shows.
package bot

import (
	"context"
	"strings"
	"time"

	"github.com/rs/zerolog"

	"clew/patterns"
	"clew/reader/listen"
	"clew/session"
)

// An Ask is one request.
type Ask struct {
	Member    session.Member
	Nick      string        // as the platform shows her to others, anything at all; "" where it is not known
	Knitalong string        // its id; "": found from Server, Channel and what the member has joined
	Server    string        // where it was asked, in the platform's own terms; Server and Channel are both "" in private
	Channel   string        //
	Words     string        // typed or dictated
	Heard     *listen.Heard // what was asked, where a command says so
	Name      string        // with Heard: what the command names, as typed: the knit-along to switch to, the size to join in or to change to
	Pressed   *Choice       // a choice of an earlier reply; it goes before Heard, and both before Words
	Event     string        // the id of the event that it came from, up to 120 bytes; the same id moves nothing twice
	Mark      string        // of the reply that the button stood under, "" for none: pressed under another row than the member's it moves nothing
}

// A Choice is what is likely asked next. An adapter shows it as a button, and
// gives it back in Ask.Pressed when it is pressed.
type Choice struct {
	Label  string // on the button, 1 to 80 characters: "Next row"
	Intent listen.Intent
	Value  string // up to 64 bytes of letters, digits and . : - _; what it means is the intent's
}

// A Card is what stands small under the words, for the eye.
type Card struct {
	Section string
	Row     string // "Round 5 of 16"
	Count   string // "96 stitches", or "96 stitches, then 84"
	Written string // the instruction in the pattern's own abbreviations
}

// A Picture is what stands beside the words, for the eye.
type Picture struct {
	Name string // of the file: up to 64 small letters, digits and -, and then .png
	PNG  []byte // at most 1,200 pixels wide; not to be changed
	Alt  string // what is to be seen, in whole sentences as in Said
}

// A File is one to be kept: a pattern's text, or a table.
type File struct {
	Name string // up to 64 small letters, digits and -, a full stop, and "txt" or "csv"
	Text string // UTF-8, with an end of line at its end
}

// A Reply is the answer to an Ask or an Order.
type Reply struct {
	Said      string        // whole sentences for the ear on one line: letters, spaces and , . ; : ' - ? ! alone
	Steps     []string      // the row step by step, where the reply reads a row
	Card      *Card         // set where the reply is about a row
	Notes     []string      // the pattern's own, as written, where she begins and they are too many to be said: shown for the eye
	Report    string        // lines to be shown in fixed width: a pattern's problems, with carets
	Picture   *Picture      // set where one was asked for; Said then tells what is to be seen
	Files     []File        // to be kept by the one who asked
	Invite    *Invite       // set once a knit-along is started: what stands in the channel for everybody
	Knitalong string        // the id of the knit-along that the reply is about; "" for none
	Mark      string        // where the member is, for the buttons under this reply: up to 24 letters, digits and full stops; "" for none
	Choices   []Choice      // what is likely asked next, at most 25
	Intent    listen.Intent // what was understood
	Failed    *Failure      // set when the request could not be served
}

// An Invite is what stands in a knit-along's channel for everybody to join by.
type Invite struct {
	Said    string
	How     string // how to join and to begin, by buttons and commands; an adapter without them says it in its own way
	Choices []Choice
}

// A Bot answers requests. It is safe for concurrent use.
type Bot struct {
	store     *session.Store
	now       func() time.Time
	newID     func() string // names a failure in the log
	log       zerolog.Logger
	plans     kept[choice, *plan]
	patterns  kept[revision, *patterns.Pattern]
	listeners kept[revision, *listen.Listener]
	pictures  kept[view, *Picture]
	reckoned  kept[reckoning, any] // what was reckoned of the fit
	compared  kept[comparing, *comparison]
	recent    lately[string, turn]                 // by eventKey
	asked     lately[asker, question]              // what each member was last asked back
	caughtUp  lately[asker, caught]                // what each member was last told of catching up
	toJoin    lately[session.Member, sizeQuestion] // who was asked which size to join in
	tended    tended                               // what is known of the channels that are looked after
	proofs    chan struct{}                        // holds one for each pattern that is being proved
}

// New makes a bot over a store. Time and ids come from outside, so that tests
// can set them.
func New(store *session.Store, now func() time.Time, newID func() string, log zerolog.Logger) *Bot {
	return &Bot{store: store, now: now, newID: newID, log: log, proofs: make(chan struct{}, proofsAtOnce),
		recent: lately[string, turn]{most: recentMost}, asked: lately[asker, question]{most: askedMost}, caughtUp: lately[asker, caught]{most: askedMost},
		toJoin:   lately[session.Member, sizeQuestion]{most: askedMost},
		compared: kept[comparing, *comparison]{weigh: (*comparison).stitches, most: stitchesMost},
		plans:    kept[choice, *plan]{weigh: func(p *plan) int64 { return p.Stitches() }, most: stitchesMost},
		pictures: kept[view, *Picture]{weigh: func(p *Picture) int64 { return int64(len(p.PNG)) }, most: picturesMost}}
}

// Answer answers a request. It never fails: what went wrong is a sentence in
// the reply, which never claims more than was saved.
func (b *Bot) Answer(ctx context.Context, ask Ask) Reply {
	t := &talk{Bot: b, ask: ask}
	reply, err := t.answer(ctx)
	if err != nil {
		reply = t.failed(err)
		if asked := t.hears(); asked.Intent == listen.Help { // it needs nothing of what can't be had
			t.heard = asked
			reply = t.help(ask.Server != "", nil)
		}
	}
	t.noteTold(ctx, reply)
	if f := reply.Failed; f == nil || f.Code != Uncertain {
		t.answered()
	}
	reply.Said = strings.TrimSpace(reply.Said)
	reply.Intent = t.heard.Intent
	reply.Knitalong = t.about.ID
	if under := t.state.Place; t.state.Joined {
		if t.told != nil {
			under = *t.told
		}
		reply.Mark = MarkOf(under.Section, under.Row, under.Step)
	}
	return reply
}
