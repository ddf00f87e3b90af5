package bot_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/redis/go-redis/v9"

	"clew/session"
)

// The store has of a member what the board draws: the name that the platform shows,
// on one line, and the stitches done and in all. Each of the six rounds of Two Bands
// has 24 stitches.
func TestFigures(t *testing.T) {
	h := newHouse(t)
	ask := h.inGroup(t)
	want := session.Entrant{Member: wren, RowID: session.RowID{Section: "Band"}, Revision: 1, All: 6 * 24, Joined: evening, Seen: evening}
	see := func(what string) {
		t.Helper()
		if diff := cmp.Diff(want, h.entrant(t, ask.Knitalong, wren)); diff != "" {
			t.Errorf("%s (-want +found):\n%s", what, diff)
		}
	}
	say := func(words, nick string) {
		t.Helper()
		ask.Words, ask.Nick, ask.Event = words, nick, h.newID()
		if r := h.Answer(t.Context(), ask); r.Failed != nil {
			t.Fatalf("%s: %s", words, r.Said)
		}
	}
	see("joined without a name")
	say("join", " Wren\n\tof the Quay ")
	want.Name = "Wren of the Quay"
	see("joined again")
	say("next", "")
	say("next", "Wren")
	want.Row, want.Done, want.Name = 2, 24, "Wren"
	see("two rounds on, and renamed")
	for range 6 {
		say("next", "")
	}
	want.RowID, want.Done = session.RowID{Section: "Other band", Row: 3}, 6*24
	see("finished")
	say("undo", "Ana Pell")
	want.Done, want.Name = 5*24, "Ana Pell"
	see("taken back")
}

// One who joined with an earlier version, which did not keep the stitches in all,
// has them with her next move, and with an answer that moves nothing.
func TestFiguresOfBefore(t *testing.T) {
	for _, words := range []string{"next", "join"} {
		h := newHouse(t)
		ask := h.inGroup(t)
		tag := "clew:{" + ask.Knitalong + "}:"
		before := func(client redis.UniversalClient) {
			if err := client.HDel(t.Context(), tag+"place:"+string(wren), "all", "told", "name", "entered", "seen").Err(); err != nil {
				t.Fatal(err)
			}
			if err := client.Del(t.Context(), tag+"roster").Err(); err != nil {
				t.Fatal(err)
			}
		}
		before(h.open.Client())
		if e := h.entrant(t, ask.Knitalong, wren); e.All != 0 {
			t.Errorf("found %d stitches in all, expected none to be known", e.All)
		}
		ask.Words, ask.Event = words, "later"
		if r := h.Answer(t.Context(), ask); r.Failed != nil {
			t.Fatal(r.Said)
		}
		if e := h.entrant(t, ask.Knitalong, wren); e.All != 6*24 {
			t.Errorf("after %q: found %d stitches in all, expected %d", words, e.All, 6*24)
		}
	}
}
