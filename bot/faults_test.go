package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
	"clew/session"
)

// TestNothingIsClaimed lets each of the store's requests behind an answer fail
// in turn, before it gets there or on the way back. Whatever the answer says
// of the place must then be so.
func TestNothingIsClaimed(t *testing.T) {
	for _, words := range []string{"next row", "back", "undo", "put me at row 3 of the band", "size wide", "step by step", "again", "catch me up", "leave"} {
		for _, lost := range []bool{false, true} {
			after := 0
			for testClaim(t, fmt.Sprintf("%s, request %d, lost %v", words, after, lost), words, lost, after) {
				after++
			}
			if after < 3 {
				t.Errorf("%s: found %d requests to the store, expected at least three", words, after)
			}
		}
	}
}

// testClaim asks while requests fail after the first few, and says whether
// there was one to fail.
func testClaim(t *testing.T, name, words string, lost bool, after int) bool {
	h := newHouse(t)
	id := h.knit(t, wren, strings.Replace(short, "Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)", 1))
	for i := range 2 {
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: fmt.Sprintf("e%d", i)})
	}
	before, err := h.store.State(t.Context(), id, wren)
	if err != nil {
		t.Fatal(err)
	}
	ask := bot.Ask{Member: wren, Knitalong: id, Words: words, Event: "fault"}
	h.stop(t)
	h.start(t) // the plans are not at hand
	h.fault.set(!lost, lost, after)
	reply := h.Answer(t.Context(), ask)
	checkSaid(t, name, reply)
	faulty := h.fault.seen() > after
	h.fault.set(false, false, 0)
	now, err := h.store.State(t.Context(), id, wren)
	if err != nil {
		t.Fatal(err)
	}
	same := before.Place == now.Place && before.Joined == now.Joined && fmt.Sprint(before.Settings) == fmt.Sprint(now.Settings)
	if reply.Failed == nil { // it did without that request, or there was none
		return faulty
	}
	if !strings.Contains(h.log.String(), reply.Failed.ID) {
		t.Errorf("%s: the failure %q is not in the log", name, reply.Failed.ID)
	}
	switch claims := strings.Contains(reply.Said, "othing has moved"); {
	case claims && !same:
		t.Errorf("%s: answered %q, and the state went from %+v to %+v", name, reply.Said, before, now)
	case reply.Failed.Code == bot.Unread && same:
		t.Errorf("%s: answered %q, and nothing was saved", name, reply.Said)
	case !claims && reply.Failed.Code != bot.Unread && reply.Failed.Code != bot.Uncertain:
		t.Errorf("%s: %s does not say what became of the place: %q", name, reply.Failed.Code, reply.Said)
	}
	testAskedAgain(t, name, h, id, ask, before)
	return faulty
}

// testAskedAgain sends the same event once more, now that the store is back:
// it is then done, once.
func testAskedAgain(t *testing.T, name string, h *house, id string, ask bot.Ask, before session.State) {
	t.Helper()
	if r := h.Answer(t.Context(), ask); r.Failed != nil {
		t.Errorf("%s: asked again with the store back, it fails: %q", name, r.Said)
	}
	want := before.Place
	switch ask.Words {
	case "next row":
		want.Row++
	case "back", "undo":
		want.Row--
	case "put me at row 3 of the band":
		want.Row = 3
	case "size wide":
		want.Size = "wide"
	}
	if at := h.place(t, id, wren); at != want {
		t.Errorf("%s: after asking again the place is %+v, expected %+v", name, at, want)
	}
}
