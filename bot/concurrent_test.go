package bot_test

import (
	"fmt"
	"sync"
	"testing"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// Each event moves once, whoever else asks at the same time, and though each
// comes twice.
func TestManyAtOnce(t *testing.T) {
	const members, events = 4, 6
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "quay-cap"))
	var asking sync.WaitGroup
	for m := range members {
		member := session.Member(fmt.Sprintf("terminal:knitter%d", m))
		h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: "join in size small"})
		for e := range events {
			for range 2 {
				asking.Go(func() {
					r := h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: "next row", Event: fmt.Sprintf("e%d", e)})
					if r.Failed != nil {
						t.Errorf("a request failed: %s %q", r.Failed.Code, r.Said)
					}
				})
			}
		}
	}
	asking.Wait()
	for m := range members {
		member := session.Member(fmt.Sprintf("terminal:knitter%d", m))
		if at := h.place(t, id, member); at.Section != "Brim" || at.Row != events {
			t.Errorf("%s is at row %d of %s, expected round %d of Brim", member, at.Row, at.Section, events)
		}
		log, err := h.store.Log(t.Context(), id, member, 0)
		if err != nil || len(log) != events {
			t.Errorf("%s has %d moves in the log, expected %d (%v)", member, len(log), events, err)
		}
	}
}

// A button pressed many times at once, each press an event of its own, moves
// once: the others find that the row is an earlier one.
func TestButtonPressedManyTimes(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "quay-cap"))
	seen := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: "first"}).Mark
	var pressing sync.WaitGroup
	for e := range 12 {
		pressing.Go(func() {
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Event: fmt.Sprintf("press%d", e), Mark: seen,
				Heard: &listen.Heard{Intent: listen.Next, Sure: true}})
		})
	}
	pressing.Wait()
	if at := h.place(t, id, wren); at.Row != 2 {
		t.Errorf("found row %d, expected two: one press of one button", at.Row)
	}
}
