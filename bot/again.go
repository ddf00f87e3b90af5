package bot

import (
	"cmp"
	"context"

	"clew/reader/listen"
)

// An event that was answered changes nothing when it comes again, whatever the
// answer was: what the member was told then stays so. The store keeps the
// answers of the newest events, and those are told again; to any other she hears
// where she is. An event of which it is not known whether it was saved is still
// open, and is served.

// recall finds what the event came to when it came before.
func (t *talk) recall() {
	if t.ask.Event != "" {
		t.key = eventKey(t.ask.Member, t.ask.Event)
		t.before, _ = t.recent.get(t.key)
	}
}

// keep remembers the knit-along that the request is about before anything is
// done there, so that the same event is about the same one, whatever comes of
// it.
func (t *talk) keep(id string) {
	t.ask.Knitalong = id
	if t.key != "" && !t.before.answered {
		t.recent.put(t.key, turn{knitalong: id})
	}
}

// answered remembers what the request came to.
func (t *talk) answered() {
	if t.key != "" && !t.before.answered {
		t.recent.put(t.key, turn{knitalong: cmp.Or(t.about.ID, t.ask.Knitalong), answered: true, saved: t.saved, goneOn: t.goneOn, changed: t.toldNow, reply: t.reply})
	}
}

// joinedEnd ends the id under which the answer to a request to join is kept. The
// event itself keeps none: it had to be saved before the answer was known.
const joinedEnd = "/joined"

// tellAgain tells the answer that the store kept with an event that was answered
// before; it is false where there is none.
func (t *talk) tellAgain(ctx context.Context) (reply Reply, told bool, err error) {
	if !t.before.answered {
		return Reply{}, false, nil
	}
	kept, err := t.store.Answers(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event, t.ask.Event+joinedEnd)
	if err != nil {
		return Reply{}, false, err
	}
	if kept[1] != "" { // the same words may be another request now that she is in
		t.heard = listen.Heard{Intent: listen.Join, Sure: true}
	}
	text := cmp.Or(kept...)
	if text == "" {
		return Reply{}, false, nil
	}
	t.saved = true
	a, err := reread(text)
	if err == nil {
		reply, err = t.tell(ctx, a)
	}
	return reply, true, err
}
