package bot

import (
	"context"

	"clew/reader/listen"
	"clew/session"
)

// A talk is one request being answered.
type talk struct {
	*Bot
	ask   Ask
	heard listen.Heard

	about session.About
	state session.State // as the store has it
	at    session.Place // the member's place in the current text of the pattern
	plan  *plan         // by which she knits there

	// changed tells her that the pattern has changed under her; it is said in
	// front of the answer, once.
	changed string
	// begun says that what the row is cast on for is on her needle already, so
	// that it is not said as if she had to start over.
	begun bool
	// saved says that the request has been saved, so that an error from here on
	// keeps back the answer and nothing else.
	saved bool
}

// answer understands the request and serves it.
func (t *talk) answer(ctx context.Context) (Reply, error) {
	if err := t.begin(ctx); err != nil {
		return Reply{}, err
	}
	if !t.state.Joined {
		return t.stranger(ctx)
	}
	serve := t.serve
	if t.ask.Pressed != nil {
		t.heard = t.pressed(*t.ask.Pressed)
	} else if t.ask.Heard != nil {
		t.heard = *t.ask.Heard
	} else if set := t.setting(); set != nil {
		serve = set
	} else if notes := t.asksNotes(); notes != nil {
		serve = notes
	} else if err := t.listen(ctx); err != nil {
		return Reply{}, err
	}
	reply, err := serve(ctx)
	reply.Said = t.changed + reply.Said
	return reply, err
}

// begin finds the member's state, and where that is in the pattern.
func (t *talk) begin(ctx context.Context) error {
	var err error
	if t.about, t.state, err = t.store.Visit(ctx, t.ask.Knitalong, t.ask.Member); err != nil || !t.state.Joined {
		return err
	}
	return t.find(ctx)
}

// find finds where the member's place is in the current text of the pattern.
func (t *talk) find(ctx context.Context) error {
	var err error
	t.at, t.plan, t.changed, err = t.carry(ctx, t.state.Place)
	return err
}

// listen turns the words into a request.
func (t *talk) listen(ctx context.Context) error {
	l, err := t.listener(ctx, revision{t.ask.Knitalong, t.about.Revision})
	if err != nil {
		return err
	}
	t.heard = l.Hear(t.ask.Words)
	return nil
}

// serve answers what was understood.
func (t *talk) serve(ctx context.Context) (Reply, error) {
	switch t.heard.Intent {
	case listen.Next:
		return t.goOn(ctx, t.next)
	case listen.Back:
		return t.move(ctx, t.back)
	case listen.At:
		return t.goOn(ctx, t.toRow)
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
		t.stumble(ctx)
		return t.say(t.explain()), nil
	case listen.Count:
		return t.say(t.count()), nil
	case listen.Catchup:
		return t.catchup(ctx)
	case listen.Settings:
		return t.say(t.settings()), nil
	case listen.Fit:
		return t.say(t.sizes()), nil
	case listen.Join:
		return t.joinAgain(ctx)
	case listen.Leave:
		return t.leave(ctx)
	case listen.Forget:
		return t.forget(ctx)
	case listen.Help:
		return t.say(help), nil
	case listen.Unsure:
		return Reply{Said: t.heard.Ask, Choices: t.near()}, nil
	case listen.None:
		if asksSize(t.ask.Words) {
			return t.say("There is no such size. " + t.sizes()), nil
		}
		return t.say("I did not understand that, and nothing has moved. Say next row, again, back, or where am I; say help to hear more."), nil
	}
	return t.say("That can't be asked here yet. Nothing has moved. Say help to hear what you can ask."), nil
}

// say answers with words alone.
func (t *talk) say(words string) Reply { return Reply{Said: words, Choices: t.usual()} }

// help tells first what is asked at every row, then what is asked now and then.
const help = "Say next row when you have finished a row. Say again to hear it once more, back to go back a row, and undo to take back your last move. " +
	"Say where am I to hear your place, and catch me up after time away. " +
	"Say read row twelve to hear a row without moving, and put me at row twelve to go there. " +
	"Say how do I work that cross, or explain and the name of a stitch. Say I count ninety-five to check your stitches. " +
	"Say step by step or whole rows for the way you hear rows; full crosses, short crosses or usual crosses for the way you hear crosses. " +
	"Say size and its name to change your size, settings to hear what you have set, and notes to hear the pattern's notes. " +
	"Say join to join a knit-along, leave to leave it with your place kept, and forget me to delete all that is kept of you."
