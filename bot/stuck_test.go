package bot_test

import (
	"strings"
	"testing"
	"time"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// Whoever is stuck is told that the host sees it, and where; the host sees it.
func TestStuck(t *testing.T) {
	h := newHouse(t)
	ask := h.inGroup(t)
	for i, c := range []struct {
		words, want string
		at          session.RowID
	}{
		{"I am stuck", "Your host can see now that you need help before your first round. Meanwhile, say help to hear what you can ask, or next row to hear how it begins.", session.RowID{}},
		{"I'm stuck on this row", "Your host can see now that you need help at round one of Band. Meanwhile, say explain to hear how its stitches are worked, again to hear the round once more, or picture to see it.",
			session.RowID{Section: "Band", Row: 1}},
		{"can the host help me", "Your host can see now that you need help at round two of Band. Meanwhile, say explain to hear how its stitches are worked, again to hear the round once more, or picture to see it.",
			session.RowID{Section: "Band", Row: 2}},
	} {
		if i > 0 {
			ask.Words = "next row"
			h.Answer(t.Context(), ask)
		}
		h.clock = h.clock.Add(time.Minute)
		before := h.place(t, ask.Knitalong, wren)
		ask.Words, ask.Event = c.words, c.words
		r := h.Answer(t.Context(), ask)
		checkSaid(t, c.words, r)
		checkChoices(t, c.words, r)
		if r.Said != c.want || r.Intent != listen.Stuck {
			t.Errorf("%q is answered %q as %s, want %q", c.words, r.Said, r.Intent, c.want)
		}
		if strings.Contains(r.Said, "odo") || strings.Contains(r.Said, "Odo") {
			t.Errorf("the host is named: %q", r.Said)
		}
		e := h.entrant(t, ask.Knitalong, wren)
		if !e.Stuck.Equal(h.clock) || e.StuckAt.Row != c.at.Row || c.at.Row > 0 && e.StuckAt != c.at {
			t.Errorf("%q: the host sees %+v", c.words, e)
		}
		if after := h.place(t, ask.Knitalong, wren); after != before {
			t.Errorf("%q moves from %+v to %+v", c.words, before, after)
		}
		asked := h.clock
		h.clock = h.clock.Add(time.Minute)
		if again := h.Answer(t.Context(), ask); again.Said != r.Said || !h.entrant(t, ask.Knitalong, wren).Stuck.Equal(asked) {
			t.Errorf("%q comes again, and is answered %q", c.words, again.Said)
		}
		ask.Event = ""
	}
}

// A host without helpers has nobody to call. One who was not reached is told so.
func TestStuckAlone(t *testing.T) {
	h := newHouse(t)
	ask := h.inGroup(t)
	host := ask
	host.Member, host.Words = odo, "join"
	h.Answer(t.Context(), host)
	host.Words = "I am stuck"
	r := h.Answer(t.Context(), host)
	checkSaid(t, host.Words, r)
	if !strings.HasPrefix(r.Said, "There is nobody here whom your question could go to") || !h.entrant(t, ask.Knitalong, odo).Stuck.IsZero() {
		t.Errorf("the host is answered %q", r.Said)
	}
	h.order(t, bot.Order{Deed: bot.Helper, Member: odo, Helper: tamsin})
	if r = h.Answer(t.Context(), host); !strings.HasPrefix(r.Said, "Your helper can see now") {
		t.Errorf("a host with a helper is answered %q", r.Said)
	}

	ask.Words = "I am stuck"
	h.fault.set(true, false, 0)
	if r := h.Answer(t.Context(), ask); r.Failed == nil || strings.Contains(r.Said, "can see now") {
		t.Errorf("with the store away: %q", r.Said)
	}
	h.fault.set(false, false, 0)
}
