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
