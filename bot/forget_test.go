package bot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// traces gives every key and value of the store in which one of some words stands.
func (h *house) traces(t *testing.T, words ...string) []string {
	t.Helper()
	var found []string
	for key, value := range h.dump(t) {
		text := strings.ToLower(fmt.Sprintf("%s = %+v", key, value))
		for _, word := range words {
			if strings.Contains(text, word) {
				found = append(found, text)
				break
			}
		}
	}
	return found
}

// Who is forgotten leaves no trace in the store, under her id or her name, whatever
// she was: a knitter, one who has left, a helper, a host, or all of it in two servers.
func TestForgottenLeavesNoTrace(t *testing.T) {
	const id, name = "terminal:merel", "grietje"
	merel := session.Member(id)
	for _, c := range []struct {
		name   string
		server string // where she asks
		does   func(t *testing.T, h *house, ask func(server, channel, words string))
		said   []string // what she is asked, and what she is told was deleted
	}{
		{"a knitter", "harbour", func(t *testing.T, h *house, ask func(server, channel, words string)) {
			h.holds(t, "one", "Hat", short)
			for _, words := range []string{"join", "next", "next", "again", "back", "I count 7", "inches", "step by step", "hide me", "I am stuck"} {
				ask("harbour", "one", words)
			}
		}, []string{
			"This deletes your place, your settings and your moves in Hat for good. Say yes, forget me to do it.",
			"All that was kept of you in Hat is deleted: your place, your settings and three moves. Gone, too, is which knit-alongs you know, and what you chose for all of them.",
		}},
		{"one who has left", "", func(t *testing.T, h *house, ask func(server, channel, words string)) {
			h.holds(t, "one", "Hat", short)
			ask("harbour", "one", "join")
			ask("harbour", "one", "leave")
		}, []string{"in Hat for good.", "in Hat is deleted: your place and your settings."}},
		{"one who was told alone", "harbour", func(t *testing.T, h *house, ask func(server, channel, words string)) {
			h.holds(t, "one", "Hat", short)
			ask("harbour", "one", "next")
		}, []string{"This deletes for good which knit-alongs you were told of", "All that was kept of you is deleted: which knit-alongs you were told of"}},
		{"a helper", "harbour", func(t *testing.T, h *house, _ func(server, channel, words string)) {
			h.holds(t, "one", "Hat", short)
			h.Direct(t.Context(), bot.Order{Deed: bot.Helper, Helper: merel, Member: odo, Manages: true, Server: "harbour", Channel: "one"})
		}, []string{"This deletes your name as a helper in Hat for good. You are no helper of Hat then. Say yes, forget me to do it.", "in Hat is deleted: your name as a helper."}},
		{"a host of one, who knits in another", "harbour", func(t *testing.T, h *house, ask func(server, channel, words string)) {
			h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: merel, Nick: "Grietje", Manages: true, Server: "harbour", Channel: "two", Title: "Mat", Pattern: []byte(short), Event: "mat"})
			h.holds(t, "one", "Hat", short)
			ask("harbour", "one", "join")
		}, []string{
			"This deletes your place, your settings and your moves in Hat for good. Nobody stands as the host of Mat then. Say yes, forget me to do it.",
			"All that was kept of you in Hat is deleted: your place and your settings. What was kept of you in Mat is deleted: your name as the host.",
		}},
		{"a host in two servers who knits", "marsh", func(t *testing.T, h *house, ask func(server, channel, words string)) {
			h.holds(t, "one", "Hat", short)
			for _, where := range []string{"harbour", "marsh"} {
				h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: merel, Nick: "Grietje", Manages: true, Server: where, Channel: "two",
					Title: "Mat of " + where, Pattern: []byte(short), Event: where})
			}
			ask("harbour", "one", "join")
			ask("marsh", "two", "join")
		}, []string{
			"in Mat of marsh and one knit-along elsewhere for good. Nobody stands as the host of Mat of marsh and one knit-along elsewhere then.",
			"in Mat of marsh is deleted: your place, your settings and your name as the host. What was kept of you in two knit-alongs elsewhere is deleted: your place, your settings and your name as the host.",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHouse(t)
			events := 0
			say := func(server, channel, words string) bot.Reply {
				events++
				if server == "" {
					channel = ""
				}
				r := h.Answer(t.Context(), bot.Ask{Member: merel, Nick: "Grietje", Server: server, Channel: channel, Words: words, Event: fmt.Sprint("m", events)})
				checkSaid(t, words, r)
				if r.Failed != nil {
					t.Fatalf("%q fails: %s", words, r.Said)
				}
				return r
			}
			c.does(t, h, func(server, channel, words string) { say(server, channel, words) })
			if len(h.traces(t, id)) == 0 {
				t.Fatal("nothing is kept of her before she asks")
			}
			before := h.dump(t)
			if r := say(c.server, "two", "forget me"); !strings.Contains(r.Said, c.said[0]) {
				t.Errorf("she is asked %q, expected %q", r.Said, c.said[0])
			}
			if diff := cmp.Diff(before, h.dump(t)); diff != "" {
				t.Errorf("the question changed the store (-before +after):\n%s", diff)
			}
			sure := bot.Ask{Member: merel, Nick: "Grietje", Server: c.server, Channel: "two", Event: "sure", Pressed: &bot.Choice{Intent: listen.Forget, Value: "yes"}}
			if c.server == "" {
				sure.Channel = ""
			}
			first := h.Answer(t.Context(), sure)
			checkSaid(t, "yes, forget me", first)
			if !strings.Contains(first.Said, c.said[1]) {
				t.Errorf("she is told %q, expected %q", first.Said, c.said[1])
			}
			if found := h.traces(t, id, "merel", name); len(found) > 0 {
				t.Errorf("there is still\n%s", strings.Join(found, "\n"))
			}
			again := h.Answer(t.Context(), sure)
			if diff := cmp.Diff(first, again); diff != "" {
				t.Errorf("the same event again is answered otherwise (-first +again):\n%s", diff)
			}
			if r := say(c.server, "two", "yes, forget me"); r.Said != "Nothing is kept of you, so nothing was deleted." {
				t.Errorf("once more it is answered %q", r.Said)
			}
			if found := h.traces(t, id, "merel", name); len(found) > 0 {
				t.Errorf("after asking again there is\n%s", strings.Join(found, "\n"))
			}
		})
	}
}

// Who has left is not on the board, nor among those whom the host sees.
func TestLeavingKeepsNothingOnTheBoard(t *testing.T) {
	h := newHouse(t)
	id := h.holds(t, "one", "Hat", short)
	for _, words := range []string{"join", "next", "leave"} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Nick: "Wren", Server: "harbour", Channel: "one", Words: words, Event: words})
	}
	roster, err := h.store.Roster(t.Context(), id)
	board, boardErr := h.store.Board(t.Context(), id)
	if err != nil || boardErr != nil || len(roster) != 0 || len(board) != 0 {
		t.Errorf("found %v and %v (%v, %v), expected nobody", roster, board, err, boardErr)
	}
	if r := h.Direct(t.Context(), bot.Order{Deed: bot.Who, Member: odo, Manages: true, Server: "harbour", Channel: "one"}); r.Said != "Nobody has joined Hat yet." {
		t.Errorf("the host hears %q", r.Said)
	}
}

// A join that can't be changes nothing: one more of who is in, one after the close,
// one in a size that is not there.
func TestJoinsThatChangeNothing(t *testing.T) {
	h := newHouse(t)
	id := h.holds(t, "one", "Hat", sized)
	join := func(who session.Member, name, event string) bot.Reply {
		h.clock = h.clock.Add(time.Minute)
		r := h.Answer(t.Context(), bot.Ask{Member: who, Server: "harbour", Channel: "one", Heard: &listen.Heard{Intent: listen.Join, Sure: true}, Name: name, Event: event})
		checkSaid(t, "join", r)
		return r
	}
	join(wren, "narrow", "j1")
	h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: "one", Words: "next", Event: "n1"})
	place := h.place(t, id, wren)
	roster, err := h.store.Roster(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if r := join(wren, "wide", "j2"); !strings.HasPrefix(r.Said, "You have joined already, in size narrow.") {
		t.Errorf("joining twice is answered %q", r.Said)
	}
	now, err := h.store.Roster(t.Context(), id)
	if err != nil || h.place(t, id, wren) != place || len(now) != 1 {
		t.Fatalf("joining twice leaves %+v, %v", now, err)
	}
	now[0].Seen = roster[0].Seen // that she was here
	if diff := cmp.Diff(roster, now); diff != "" {
		t.Errorf("joining twice changes (-before +after):\n%s", diff)
	}
	before := h.dump(t)
	if r := join(tamsin, "enormous", "j3"); !strings.HasPrefix(r.Said, "There is no size called enormous. ") {
		t.Errorf("a size that is not there is answered %q", r.Said)
	}
	after := h.dump(t)
	delete(after, "clew:person:terminal:tamsin") // that she was told of it
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("a size that is not there changes (-before +after):\n%s", diff)
	}
	h.Direct(t.Context(), bot.Order{Deed: bot.Close, Sure: true, Member: odo, Manages: true, Server: "harbour", Channel: "one", Knitalong: id})
	before = h.dump(t)
	h.Answer(t.Context(), bot.Ask{Member: tamsin, Knitalong: id, Server: "harbour", Channel: "one", Pressed: &bot.Choice{Intent: listen.Join}, Event: "j4"})
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("joining after the close changes (-before +after):\n%s", diff)
	}
}
