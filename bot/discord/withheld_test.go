package discord

import (
	"strconv"
	"testing"

	"clew/bot"
)

func TestWithheldIsBounded(t *testing.T) {
	var w withheld
	const more = 10
	for i := range withheldMost + more {
		key := withheldKey{"wren", strconv.Itoa(i)}
		w.keep(key, bot.Reply{Said: "An earlier one."})
		w.keep(key, bot.Reply{Said: "Row " + strconv.Itoa(i)}) // the event came again
	}
	if len(w.replies) != withheldMost || len(w.order) != withheldMost {
		t.Errorf("%d answers are kept in %d places, expected %d", len(w.replies), len(w.order), withheldMost)
	}
	for i, kept := range map[int]bool{0: false, more - 1: false, more: true, withheldMost + more - 1: true} {
		key := withheldKey{"wren", strconv.Itoa(i)}
		reply, ok := w.get(key)
		if ok != kept || ok && reply.Said != "Row "+key.event {
			t.Errorf("answer %d: found %q, %t, expected it to be kept: %t", i, reply.Said, ok, kept)
		}
		if _, ok := w.get(withheldKey{"odo", key.event}); ok {
			t.Error("somebody else gets what was kept back")
		}
	}
}

// TestWithheldPictures says that answers with pictures are fewer.
func TestWithheldPictures(t *testing.T) {
	var w withheld
	const size, fit = withheldBytes / 16, 16
	shown := bot.Reply{Said: "Round one of Brim.", Picture: &bot.Picture{Name: "brim.png", PNG: make([]byte, size)}}
	for i := range fit + 3 {
		key := withheldKey{"wren", strconv.Itoa(i)}
		w.keep(key, bot.Reply{Said: "An earlier one."})
		w.keep(key, shown)
		w.keep(key, shown) // the event came again
	}
	if len(w.replies) != fit || len(w.order) != fit || w.bytes != withheldBytes {
		t.Errorf("%d answers with %d bytes are kept, expected %d", len(w.replies), w.bytes, fit)
	}
	if _, ok := w.get(withheldKey{"wren", strconv.Itoa(fit + 2)}); !ok {
		t.Error("the newest is not kept")
	}
	for i := range withheldMost {
		w.keep(withheldKey{"odo", strconv.Itoa(i)}, bot.Reply{Said: "Row one."})
	}
	if w.bytes != 0 {
		t.Errorf("%d bytes count that are not kept any more", w.bytes)
	}
}
