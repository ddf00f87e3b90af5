package bot_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// entrant gives what the host sees of a member.
func (h *house) entrant(t *testing.T, id string, member session.Member) session.Entrant {
	t.Helper()
	roster, err := h.store.Roster(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range roster {
		if e.Member == member {
			return e
		}
	}
	t.Fatalf("%s is not among %+v", member, roster)
	return session.Entrant{}
}

// inGroup starts a knit-along of a server by odo, in which wren takes part.
func (h *house) inGroup(t *testing.T) bot.Ask {
	t.Helper()
	id := h.order(t, bot.Order{Deed: bot.Start, Member: odo, Manages: true, Pattern: []byte(short), Event: "start"}).Knitalong
	ask := bot.Ask{Member: wren, Knitalong: id, Server: "tibberhythe", Channel: "wednesday"}
	join := ask
	join.Words, join.Event = "join", "join"
	h.Answer(t.Context(), join)
	return ask
}

// A name is taken off the board and put there again, by words, by a choice, and as
// a command says it. The settings tell how it stands, and offer the other way.
func TestHidden(t *testing.T) {
	for _, way := range settingWays {
		t.Run(way.name, func(t *testing.T) {
			h := newHouse(t)
			ask := h.inGroup(t)
			for _, to := range []struct {
				listen.Setting
				hidden bool
				label  string
			}{{listen.HideMe, true, "Show my name"}, {listen.ShowMe, false, "Hide my name"}} {
				before := h.place(t, ask.Knitalong, wren)
				r := h.Answer(t.Context(), way.ask(ask, to.Setting))
				checkSaid(t, string(to.Setting), r)
				if e := h.entrant(t, ask.Knitalong, wren); e.Hidden != to.hidden || r.Failed != nil || r.Intent != listen.Settings {
					t.Errorf("%s is answered %q as %s, and hidden is %t", to.Setting, r.Said, r.Intent, e.Hidden)
				}
				if after := h.place(t, ask.Knitalong, wren); after != before {
					t.Errorf("%s moves from %+v to %+v", to.Setting, before, after)
				}
				settings := ask
				settings.Words = "settings"
				r = h.Answer(t.Context(), settings)
				checkSaid(t, "settings", r)
				checkChoices(t, "settings", r)
				if !offers(r, to.label) || strings.Contains(r.Said, "does not stand on the board") != to.hidden {
					t.Errorf("after %s, settings tell %q with %v", to.Setting, r.Said, r.Choices)
				}
			}
		})
	}
}

func offers(r bot.Reply, label string) bool {
	for _, c := range r.Choices {
		if c.Label == label {
			return true
		}
	}
	return false
}

// Who knits by herself stands on no board, and is asked nothing about one.
func TestNoBoardAlone(t *testing.T) {
	h := newHouse(t)
	ask := bot.Ask{Member: wren, Knitalong: h.knit(t, wren, short)}
	before := h.dump(t)
	for _, words := range []string{"hide me", "settings", "I am stuck"} {
		ask.Words = words
		r := h.Answer(t.Context(), ask)
		checkSaid(t, words, r)
		if strings.Contains(r.Said, "host") || strings.Contains(r.Said, "Your name") || offers(r, "Hide my name") {
			t.Errorf("%q is answered %q with %v", words, r.Said, r.Choices)
		}
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("something is kept (-before +after):\n%s", diff)
	}
}

// A setting that was changed since is not said to hold, when the event comes again.
func TestHiddenComesAgain(t *testing.T) {
	h := newHouse(t)
	ask := h.inGroup(t)
	say := func(words, event string) string {
		ask.Words, ask.Event = words, event
		r := h.Answer(t.Context(), ask)
		checkSaid(t, words, r)
		return r.Said
	}
	first := say("hide me", "one")
	if again := say("hide me", "one"); again != first {
		t.Errorf("the same event is answered %q, then %q", first, again)
	}
	say("show my name", "two")
	if again := say("hide me", "one"); strings.Contains(again, "From now on") || h.entrant(t, ask.Knitalong, wren).Hidden {
		t.Errorf("an event that came before hides again: %q", again)
	}
}
