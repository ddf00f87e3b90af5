// Package bot answers any request, whatever it came through. An adapter turns
// what it got into an Ask, and a Reply into what it shows.
package bot

import (
	"context"
	"sync"
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
	Event     string        // the id of the event that it came from; the same id moves nothing twice
	Seen      *Seen         // set for a button: pressed under another row than the member's it moves nothing
}

// A Card is what stands small under the words.
type Card struct {
	Section string
	Row     string // "Round 5 of 16"
	Count   string // "96 stitches", or "96 stitches, then 84"
	Written string // the instruction in the pattern's own abbreviations
}

// A Reply is the answer to an Ask.
type Reply struct {
	Said    string   // whole sentences for the ear: letters and plain punctuation
	Steps   []string // the row step by step, where the reply reads a row
	Card    *Card
	Choices []listen.Intent // what is likely asked next
	Intent  listen.Intent   // what was understood
	Failed  *Failure        // set when the request could not be served
}

// A Bot answers requests. It is safe for concurrent use.
type Bot struct {
	store *session.Store
	now   func() time.Time
	newID func() string // names a failure in the log
	log   zerolog.Logger
	plans plans

	mu        sync.Mutex
	listeners map[revision]*listen.Listener
}

// New makes a bot over a store. Time and ids come from outside, so that tests
// can set them.
func New(store *session.Store, now func() time.Time, newID func() string, log zerolog.Logger) *Bot {
	return &Bot{store: store, now: now, newID: newID, log: log, listeners: map[revision]*listen.Listener{}}
}

// A talk is one request being answered: the ask, the member's state, and the
// plan that she knits by.
type talk struct {
	*Bot
	ask   Ask
	heard listen.Heard
	state session.State
	plan  *plan
}

// Answer answers a request. It never fails: what went wrong is a sentence in
// the reply, which never claims more than was saved.
func (b *Bot) Answer(ctx context.Context, ask Ask) Reply {
	state, err := b.store.State(ctx, ask.Knitalong, ask.Member)
	if err != nil {
		return b.failed(ask, err)
	}
	t := &talk{Bot: b, ask: ask, state: state}
	reply, err := t.answer(ctx)
	if err != nil {
		reply = b.failed(ask, err)
	}
	reply.Intent = t.heard.Intent
	return reply
}

// answer understands the request and serves it.
func (t *talk) answer(ctx context.Context) (Reply, error) {
	if !t.state.Joined {
		return t.stranger(ctx)
	}
	if err := t.load(ctx); err != nil {
		return Reply{}, err
	}
	if reply, done, err := t.setting(ctx); done || err != nil {
		return reply, err
	}
	if err := t.listen(ctx); err != nil {
		return Reply{}, err
	}
	if t.oldButton() {
		reply := t.readHere("You pressed a button under an earlier row. Nothing has moved. ")
		return reply, nil
	}
	return t.serve(ctx)
}

// serve answers what was understood.
func (t *talk) serve(ctx context.Context) (Reply, error) {
	switch t.heard.Intent {
	case listen.Next, listen.Back, listen.At:
		return t.move(ctx)
	case listen.Undo:
		return t.undo(ctx)
	case listen.Again:
		return t.again(ctx)
	case listen.Row:
		return t.readRow(), nil
	case listen.Where:
		return t.where(), nil
	case listen.Steps, listen.Rows:
		return t.wayOfReading(ctx)
	case listen.Explain:
		return t.explain(ctx)
	case listen.Count:
		return t.count(), nil
	case listen.Catchup:
		return t.catchup(ctx)
	case listen.Settings:
		return t.settings(), nil
	case listen.Join:
		return t.say("You have joined already. " + t.whereWords()), nil
	case listen.Leave:
		return t.leave(ctx)
	case listen.Forget:
		return t.forget(ctx)
	case listen.Help:
		return t.help(), nil
	case listen.Unsure:
		return Reply{Said: t.heard.Ask, Choices: t.heard.Alternatives}, nil
	case listen.None:
		return t.notUnderstood(), nil
	}
	return t.say("That can't be asked here yet. Nothing has moved. Say help to hear what you can ask."), nil
}

// listen turns the words into a request, unless a button has said it already.
func (t *talk) listen(ctx context.Context) error {
	if t.ask.Heard != nil {
		t.heard = *t.ask.Heard
		return nil
	}
	l, err := t.listener(ctx, t.ask.Knitalong, t.state.Revision)
	if err != nil {
		return err
	}
	t.heard = l.Hear(t.ask.Words)
	return nil
}

// oldButton says that a button was pressed under another row than the one
// where the member is.
func (t *talk) oldButton() bool {
	s := t.ask.Seen
	return s != nil && (s.Section != t.state.Section || s.Row != t.state.Row || s.Step != t.state.Step)
}

func (t *talk) say(words string) Reply { return Reply{Said: words, Choices: usual} }

var usual = []listen.Intent{listen.Next, listen.Again, listen.Back, listen.Explain}

func (t *talk) notUnderstood() Reply {
	return t.say("I did not understand that, and nothing has moved. Say next row, again, back, or where am I; say help to hear more.")
}

func (t *talk) help() Reply {
	return t.say("Say next row when you have finished a row. Say again to hear it once more, back to go back a row, and undo to take back your last move. " +
		"Say read row twelve to hear a row without moving, and put me at row twelve to go there. Say where am I to hear your place. " +
		"Say step by step or whole rows for the way you hear rows. Say how do I work that cross, or explain and the name of a stitch. " +
		"Say I count ninety-five to check your stitches. Say catch me up after time away, and settings to hear your settings.")
}
