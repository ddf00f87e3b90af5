// Package bot answers any request, whatever it came through. An adapter turns
// what it got into an Ask, and a Reply into what it shows.
package bot

import (
	"context"
	"strings"
	"time"

	"github.com/rs/zerolog"

	"clew/reader/listen"
	"clew/session"
)

// A Seen is the row that a button stood under when it was pressed.
type Seen struct {
	Section string
	Row     int
	Step    int
}

// An Ask is one request.
type Ask struct {
	Member    session.Member
	Knitalong string        // its id
	Words     string        // typed or dictated
	Heard     *listen.Heard // what was asked, where a button or a command says so; nil: the words say it
	Event     string        // the id of the event that it came from, up to 120 bytes; the same id moves nothing twice
	Seen      *Seen         // set for a button: pressed under another row than the member's it moves nothing
}

// A Card is what stands small under the words, for the eye.
type Card struct {
	Section string
	Row     string // "Round 5 of 16"
	Count   string // "96 stitches", or "96 stitches, then 84"
	Written string // the instruction in the pattern's own abbreviations
}

// A Reply is the answer to an Ask.
type Reply struct {
	Said    string          // whole sentences for the ear on one line: letters, spaces and , . ; : ' - ? ! alone
	Steps   []string        // the row step by step, where the reply reads a row
	Card    *Card           // set where the reply is about a row
	Notes   []string        // the pattern's own, as written, where she begins and they are too many to be said: shown for the eye
	Seen    Seen            // where the member is: what a button under this reply carries
	Choices []listen.Intent // what is likely asked next
	Intent  listen.Intent   // what was understood
	Failed  *Failure        // set when the request could not be served
}

// A Bot answers requests. It is safe for concurrent use.
type Bot struct {
	store     *session.Store
	now       func() time.Time
	newID     func() string // names a failure in the log
	log       zerolog.Logger
	plans     kept[choice, *plan]
	listeners kept[revision, *listen.Listener]
}

// New makes a bot over a store. Time and ids come from outside, so that tests
// can set them.
func New(store *session.Store, now func() time.Time, newID func() string, log zerolog.Logger) *Bot {
	return &Bot{store: store, now: now, newID: newID, log: log}
}

// Answer answers a request. It never fails: what went wrong is a sentence in
// the reply, which never claims more than was saved.
func (b *Bot) Answer(ctx context.Context, ask Ask) Reply {
	t := &talk{Bot: b, ask: ask}
	reply, err := t.answer(ctx)
	if err != nil {
		reply = t.failed(err)
	}
	reply.Said = strings.TrimSpace(reply.Said)
	reply.Intent = t.heard.Intent
	reply.Seen = Seen{t.state.Section, t.state.Row, t.state.Step}
	return reply
}
