package bot_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// TestNothingIsClaimed lets each of the store's requests behind an answer fail
// in turn, before it gets there or on the way back. Whatever the answer says
// of the store must then be so.
func TestNothingIsClaimed(t *testing.T) {
	at := func(row int) session.Place {
		return session.Place{Section: "Band", Row: row, Revision: 1, Size: "narrow"}
	}
	wide := func(p session.Place) session.Place { p.Size = "wide"; return p }
	less := func(p session.Place) session.Place { p.LeftOut = "Band 4: 2"; return p }
	for _, c := range []claim{
		{wren, "next row", at(3)},
		{wren, "back", at(1)},
		{wren, "undo", at(1)},
		{wren, "put me at row 3 of the band", at(3)},
		{wren, "size wide", wide(at(2))},
		{wren, "step by step", at(2)},
		{wren, "leave out two rounds", less(at(2))},
		{wren, "use inches", at(2)},
		{wren, "22 stitches and 30 rows to ten centimetres", at(2)},
		{wren, "again", at(2)},
		{wren, "catch me up", at(2)},
		{wren, "join", at(2)},
		{wren, "leave", at(2)},
		{wren, "yes, forget me", session.Place{}},
		{odo, "join in size wide", wide(at(0))},
	} {
		for _, lost := range []bool{false, true} {
			after := 0
			for c.test(t, lost, after) {
				after++
			}
			if after < 3 {
				t.Errorf("%s: found %d requests to the store, expected at least three", c.words, after)
			}
		}
	}
}

// A claim is a request, and where it leads.
type claim struct {
	who   session.Member
	words string
	leads session.Place
}

// test asks while requests fail after the first few, and says whether there
// was one to fail.
func (c claim) test(t *testing.T, lost bool, after int) bool {
	t.Helper()
	name := fmt.Sprintf("%s, request %d, lost %v", c.words, after, lost)
	h := newHouse(t)
	id := h.knit(t, wren, strings.NewReplacer("Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)",
		"Section: Other", "Rounds 4-5 (optional in twos): work sts as they present.\nSection: Other").Replace(short))
	for i := range 2 {
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: fmt.Sprintf("e%d", i)})
	}
	ask := bot.Ask{Member: c.who, Knitalong: id, Words: c.words, Event: "fault"}
	h.stop(t)
	h.start(t) // the plans are not at hand
	before := h.dump(t)
	h.fault.set(!lost, lost, after)
	reply := h.Answer(t.Context(), ask)
	checkSaid(t, name, reply)
	faulty := h.fault.seen() > after
	h.fault.set(false, false, 0)
	changed := cmp.Diff(before, h.dump(t))
	if reply.Failed == nil { // it did without that request, or there was none
		return faulty
	}
	if !strings.Contains(h.log.String(), reply.Failed.ID) {
		t.Errorf("%s: the failure %q is not in the log", name, reply.Failed.ID)
	}
	switch claims := strings.Contains(reply.Said, "othing has moved"); {
	case claims && changed != "":
		t.Errorf("%s: answered %q, and the store changed (-before +after):\n%s", name, reply.Said, changed)
	case reply.Failed.Code == bot.Unread && changed == "":
		t.Errorf("%s: answered %q, and nothing was saved", name, reply.Said)
	case !claims && reply.Failed.Code != bot.Unread && reply.Failed.Code != bot.Uncertain:
		t.Errorf("%s: %s does not say what became of the place: %q", name, reply.Failed.Code, reply.Said)
	}
	// The same event comes once more, now that the store is back. What was said
	// to have moved nothing moves nothing now; of what is not known to be saved it
	// is done, once.
	if r := h.Answer(t.Context(), ask); r.Failed != nil {
		t.Errorf("%s: asked again with the store back, it fails: %q", name, r.Said)
	}
	if reply.Failed.Code == bot.Unreachable {
		if diff := cmp.Diff(before, h.dump(t)); diff != "" {
			t.Errorf("%s: answered %q, and then the same event changes (-before +after):\n%s", name, reply.Said, diff)
		}
		ask.Event = "asked anew"
		if r := h.Answer(t.Context(), ask); r.Failed != nil {
			t.Errorf("%s: asked anew with the store back, it fails: %q", name, r.Said)
		}
	}
	if at := h.place(t, id, c.who); at != c.leads {
		t.Errorf("%s: after asking again the place is %+v, expected %+v", name, at, c.leads)
	}
	person, err := h.store.Person(t.Context(), c.who)
	if joined := slices.Contains(person.Knitalongs, id); err != nil || joined != (c.words != "leave" && c.words != "yes, forget me") {
		t.Errorf("%s: after asking again the person has %+v (%v)", name, person, err)
	}
	return faulty
}

// Deleting all is asked for twice: whatever comes between, nothing but the
// words that say so deletes.
func TestForgetAsksFirst(t *testing.T) {
	const asked = "This deletes your place, your settings and your moves in Two Bands for good. Nobody stands as the host of Two Bands then. Say yes, forget me to do it."
	h := newHouse(t)
	id := h.knit(t, wren, short)
	ask := func(a bot.Ask) string {
		a.Member, a.Knitalong = wren, id
		r := h.Answer(t.Context(), a)
		checkSaid(t, a.Words, r)
		return r.Said
	}
	ask(bot.Ask{Words: "next row"})
	before := h.dump(t)
	for _, c := range []struct {
		ask  bot.Ask
		asks bool
	}{
		{bot.Ask{Words: "forget me"}, true},
		{bot.Ask{Words: "yes"}, false},
		{bot.Ask{Words: "yes, please"}, false},
		{bot.Ask{Words: "delete everything about me"}, true},
		{bot.Ask{Words: "yes, they always forget me at the yarn shop"}, false},
		{bot.Ask{Words: "oh yes, and forget me"}, false},
		{bot.Ask{Heard: &listen.Heard{Intent: listen.Forget, Sure: true}}, true},
	} {
		said := ask(c.ask)
		if c.asks && said != asked {
			t.Errorf("%q is answered %q, expected to be asked", c.ask.Words, said)
		}
		if diff := cmp.Diff(before, h.dump(t)); diff != "" {
			t.Errorf("%q changed the store (-before +after):\n%s", c.ask.Words, diff)
		}
	}
	if said := ask(bot.Ask{Words: "Yes, forget me."}); !strings.Contains(said, "is deleted") {
		t.Errorf("confirmed, it is answered %q", said)
	}
	for key := range h.dump(t) {
		if strings.Contains(key, "wren") {
			t.Errorf("after forgetting there is still %s", key)
		}
	}
}

// What a join that broke off has left undone is done when she says join again.
func TestJoinBrokenOff(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	whole := h.dump(t)
	if n, err := h.open.Client().Del(t.Context(), "clew:person:terminal:wren").Result(); n != 1 || err != nil {
		t.Fatalf("deleted %d records of a person (%v), expected one", n, err)
	}
	r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "join"})
	if !strings.HasPrefix(r.Said, "You have joined already. You have not begun yet.") {
		t.Errorf("answered %q", r.Said)
	}
	if diff := cmp.Diff(whole, h.dump(t)); diff != "" {
		t.Errorf("the store after joining (-want +found):\n%s", diff)
	}
}
