package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
	"clew/session"
)

// A server can hold so many open knit-alongs and no more.
func TestCrowdedServer(t *testing.T) {
	h := newHouse(t)
	order := func(deed bot.Deed, n int, want string) {
		t.Helper()
		name := fmt.Sprint("c", n)
		r := h.Direct(t.Context(), bot.Order{Deed: deed, Member: odo, Manages: true, Sure: true, Server: "harbour", Channel: name, Title: name, Pattern: []byte(short), Event: fmt.Sprint(deed, n)})
		checkSaid(t, name, r)
		if !strings.Contains(r.Said, want) || r.Failed != nil {
			t.Errorf("%s of %s is answered %q, expected %q", deed, name, r.Said, want)
		}
	}
	const full = "There are as many open knit-alongs here as there can be."
	for i := range session.OpenMost {
		order(bot.Start, i, "has begun in this channel")
	}
	before := len(h.dump(t))
	order(bot.Start, session.OpenMost, full)
	if after := len(h.dump(t)); after != before {
		t.Errorf("found %d keys, expected %d as before", after, before)
	}
	order(bot.Close, 0, "is closed")
	order(bot.Start, session.OpenMost+1, "has begun in this channel")
	order(bot.Reopen, 0, full)
	order(bot.Close, 1, "is closed")
	order(bot.Reopen, 0, "is open")
}
