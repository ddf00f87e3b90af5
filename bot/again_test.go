package bot_test

import (
	"testing"

	"clew/bot"
	"clew/reader/listen"
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
