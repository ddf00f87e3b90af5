package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// An event that comes again, when the member has gone on, gets the row of its
// first time. The buttons under that are as old as the row is.
func TestButtonsUnderARowToldAgain(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	var first bot.Reply
	for i, event := range []string{"one", "two", "three"} {
		if r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: event}); i == 0 {
			first = r
		}
	}
	before := h.place(t, id, wren)
	again := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: "one"})
	if again.Said != first.Said || again.Mark != first.Mark || first.Mark != bot.MarkOf("Band", 1, 0) {
		t.Errorf("again it is answered %q with the mark %q, at first %q with %q", again.Said, again.Mark, first.Said, first.Mark)
	}
	r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Pressed: &bot.Choice{Intent: listen.Next}, Mark: again.Mark, Event: "four"})
	if at := h.place(t, id, wren); at != before {
		t.Errorf("the button under it moved her to %+v: %q", at, r.Said)
	}
}

// What was answered stays so: an event that comes again changes nothing, though
// it could be served now, and though the store has forgotten it.
func TestAnsweredEventsChangeNothing(t *testing.T) {
	for _, words := range []string{"next row", "back", "put me at row 3", "undo", "step by step", "full crosses", "size wide", "leave", "join", "yes, forget me",
		"leave out two rounds", "use inches", "22 stitches and 30 rows to ten centimetres", "I had 100 grams, 90 are left"} {
		h := newHouse(t)
		id := h.knit(t, wren, strings.NewReplacer("Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)",
			"Section: Other", "Rounds 4-7 (optional in twos): work sts as they present.\nSection: Other").Replace(short))
		ask := func(words, event string) bot.Reply {
			r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words, Event: event})
			checkSaid(t, words, r)
			return r
		}
		again := func(when, event string) {
			before := h.dump(t)
			r := ask(words, event)
			if diff := cmp.Diff(before, h.dump(t)); diff != "" || r.Failed != nil {
				t.Errorf("%s, %s: the event again is answered %q and changed (-before +after):\n%s", words, when, r.Said, diff)
			}
		}
		ask("next row", "first")
		h.fault.set(true, false, 0)
		if r := ask(words, "away"); r.Failed == nil || r.Failed.Code != bot.Unreachable {
			t.Errorf("%s with the store away is answered %q", words, r.Said)
		}
		h.fault.set(false, false, 0)
		again("answered with the store away", "away")
		ask("next row", "second")
		again("answered with the store away, and moved since", "away")

		ask(words, "served")
		ask("join", "back")
		again("served, and here again", "served")
		for i := range session.EventsKept + 2 {
			ask([]string{"next row", "back", "whole rows", "usual crosses"}[i%4], fmt.Sprint("later", i))
		}
		again("long ago", "served")
		again("answered with the store away, long ago", "away")
	}
}

// A new process knows of an event what the store knows. So it does of joining
// when she was in already.
func TestJoiningTwiceAfterARestart(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	for _, c := range []struct{ words, event string }{{"join", "one"}, {"leave", "two"}} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c.words, Event: c.event})
	}
	h.stop(t)
	h.start(t)
	r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "join", Event: "one"})
	if state, err := h.store.State(t.Context(), id, wren); err != nil || state.Joined {
		t.Errorf("found %+v, %v, expected her to have left: %q", state, err, r.Said)
	}
}

// One who has herself forgotten in private, by a button, is told so again: that
// she was told of the knit-along is forgotten as well.
func TestForgottenInPrivateTwice(t *testing.T) {
	h := newHouse(t)
	id := h.order(t, bot.Order{Deed: bot.Start, Member: odo, Manages: true, Pattern: []byte(short), Event: "start"}).Knitalong
	h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: "next row"})
	ask := bot.Ask{Member: wren, Knitalong: id, Pressed: &bot.Choice{Intent: listen.Forget, Value: "yes"}, Event: "forget"}
	first := h.Answer(t.Context(), ask)
	if again := h.Answer(t.Context(), ask); !strings.HasPrefix(first.Said, "All that was kept of you") || again.Said != first.Said {
		t.Errorf("at first it is answered %q, and again %q", first.Said, again.Said)
	}
}
