package bot_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// The Join button goes on working in private, whichever process is asked, and
// under the older of two answers, too. Who was never told of a knit-along does not
// get in by its id.
func TestJoinInPrivateElsewhere(t *testing.T) {
	h := newHouse(t)
	hat, mat := h.holds(t, "one", "Hat", short), h.holds(t, "two", "Mat", short)
	join := &bot.Choice{Intent: listen.Join}
	h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: "one", Words: "next row"})
	h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: "two", Words: "next row"})
	h.Answer(t.Context(), bot.Ask{Member: "terminal:tamsin", Server: "harbour", Channel: "square", Words: "join"})
	other := bot.New(h.store, func() time.Time { return h.clock }, h.newID, zerolog.Nop())
	for _, c := range []struct {
		who  session.Member
		ask  bot.Ask
		want string
	}{
		{wren, bot.Ask{Words: "next row"}, "You have not joined Mat."},
		{wren, bot.Ask{Knitalong: hat, Pressed: join}, "You have joined Hat."},
		{wren, bot.Ask{Knitalong: mat, Pressed: join}, "You have joined Mat."},
		{"terminal:tamsin", bot.Ask{Words: "join"}, "There are two knit-alongs: Hat and Mat. Which one do you want to join?"},
		{"terminal:tamsin", bot.Ask{Pressed: &bot.Choice{Intent: listen.Join, Value: "id:" + hat}}, "You have joined Hat."},
		{odo, bot.Ask{Knitalong: hat, Pressed: join}, "There is no knit-along here."},
	} {
		c.ask.Member = c.who
		r := other.Answer(t.Context(), c.ask)
		checkSaid(t, c.ask.Words, r)
		if !strings.HasPrefix(r.Said, c.want) {
			t.Errorf("%s: %+v is answered %q, expected %q", c.who, c.ask, r.Said, c.want)
		}
	}
}

// What is kept of one who has left can be deleted by her: in the channel and in
// private, by button and in words, when it has been closed since, and when another
// is held there.
func TestForgetAfterLeaving(t *testing.T) {
	for _, c := range []struct {
		name   string
		closed bool
		ask    bot.Ask
	}{
		{"open, in the channel", false, bot.Ask{Server: "harbour", Channel: "one"}},
		{"open, in the server", false, bot.Ask{Server: "harbour", Channel: "square"}},
		{"closed, in the channel", true, bot.Ask{Server: "harbour", Channel: "one"}},
		{"closed, in private", true, bot.Ask{}},
	} {
		h := newHouse(t)
		hat := h.holds(t, "one", "Hat", short)
		h.holds(t, "one", "Mat", short)
		ask := func(a bot.Ask) bot.Reply {
			a.Member = wren
			r := h.Answer(t.Context(), a)
			checkSaid(t, a.Words, r)
			return r
		}
		ask(bot.Ask{Server: "harbour", Channel: "one", Words: "join hat"})
		left := ask(bot.Ask{Server: "harbour", Channel: "one", Words: "leave"})
		if len(left.Choices) != 2 || left.Choices[1].Intent != listen.Forget {
			t.Errorf("%s: leaving is answered %q with %v", c.name, left.Said, left.Choices)
		}
		if c.closed {
			h.Direct(t.Context(), bot.Order{Deed: bot.Close, Sure: true, Member: odo, Manages: true, Server: "harbour", Channel: "one", Knitalong: hat})
		}
		h.stop(t)
		h.start(t)
		pressed := c.ask
		pressed.Knitalong, pressed.Pressed = hat, &left.Choices[1]
		c.ask.Words = "forget me"
		for _, a := range []bot.Ask{pressed, c.ask} {
			if r := ask(a); !strings.HasPrefix(r.Said, "This deletes your place, your settings and your moves in Hat for good.") {
				t.Errorf("%s: forget me is answered %q", c.name, r.Said)
			}
		}
		c.ask.Words = "yes, forget me"
		if r := ask(c.ask); !strings.HasPrefix(r.Said, "All that was kept of you in Hat is deleted") {
			t.Errorf("%s: yes, forget me is answered %q", c.name, r.Said)
		}
		for key := range h.dump(t) {
			if strings.Contains(key, "wren") {
				t.Errorf("%s: there is still %s", c.name, key)
			}
		}
	}
}

// Where several could be meant, the buttons under the question do what was asked.
func TestWhichKeepsWhatWasAsked(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "Hat", short)
	h.holds(t, "two", "Mat", short)
	ask := func(a bot.Ask) bot.Reply {
		a.Member = wren
		r := h.Answer(t.Context(), a)
		checkSaid(t, a.Words, r)
		return r
	}
	for _, channel := range []string{"one", "two"} {
		ask(bot.Ask{Server: "harbour", Channel: channel, Words: "join"})
	}
	for _, c := range []struct{ words, asked, done string }{
		{"leave", "You have joined two knit-alongs: Hat and Mat. Which one do you mean?", "You have left Mat."},
	} {
		r := ask(bot.Ask{Words: c.words})
		if len(r.Choices) != 2 || !strings.HasPrefix(r.Said, c.asked) {
			t.Fatalf("%s is answered %q with %v", c.words, r.Said, r.Choices)
		}
		if r := ask(bot.Ask{Pressed: &r.Choices[1]}); !strings.HasPrefix(r.Said, c.done) {
			t.Errorf("%s, and then %s is answered %q", c.words, "Mat", r.Said)
		}
	}
}

// A knit-along is known by any words of its title that no other has, as people
// say and dictate them.
func TestNamedAsPeopleDo(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "The Float Keeper's Hat", short)
	h.holds(t, "two", "Quay Steps Scarf (invented)", short)
	for _, channel := range []string{"one", "two"} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: channel, Words: "join"})
	}
	for _, c := range []struct{ words, want string }{
		{"the scarf", "You are now on Quay Steps Scarf"},
		{"switch to the float keepers hat", "You are now on The Float Keeper's Hat."},
		{"switch to quay steps", "You are now on Quay Steps Scarf"},
		{"switch to the hat", "You are now on The Float Keeper's Hat."},
		{"switch to the shawl", "You have joined no knit-along called shawl."},
	} {
		if said := h.Answer(t.Context(), bot.Ask{Member: wren, Words: c.words}).Said; !strings.HasPrefix(said, c.want) {
			t.Errorf("%q is answered %q, expected %q", c.words, said, c.want)
		}
	}
}

// A size that a command names is no knit-along, though a title has the word.
func TestASizeNamesNoKnitalong(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "Wide Brim Hat", short)
	h.holds(t, "two", "Mat", short)
	for _, channel := range []string{"one", "two"} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: channel, Words: "join"})
	}
	for _, intent := range []listen.Intent{listen.Fit, listen.Join} {
		heard := listen.Heard{Intent: intent, Sure: true}
		said := h.Answer(t.Context(), bot.Ask{Member: wren, Heard: &heard, Name: "wide"}).Said
		if !strings.HasPrefix(said, "You have joined two knit-alongs") {
			t.Errorf("%s with a size is answered %q", intent, said)
		}
	}
}

// Help needs nothing that is kept, so it is given while the store is away.
func TestHelpWhileTheStoreIsAway(t *testing.T) {
	h := newHouse(t)
	h.holds(t, "one", "Hat", short)
	h.Answer(t.Context(), bot.Ask{Member: wren, Server: "harbour", Channel: "one", Words: "join in size wide"})
	ctx, away := context.WithCancel(t.Context())
	away()
	for _, ask := range []bot.Ask{{Words: "help"}, {Heard: &listen.Heard{Intent: listen.Help, Sure: true}}, {Server: "harbour", Channel: "one", Words: "help"}} {
		ask.Member = wren
		if r := h.Answer(ctx, ask); r.Failed != nil || !strings.Contains(r.Said, "next row") {
			t.Errorf("%+v is answered %q", ask, r.Said)
		}
	}
	if r := h.Answer(ctx, bot.Ask{Member: wren, Words: "next row"}); r.Failed == nil || r.Failed.Code != bot.Unreachable {
		t.Errorf("next row is answered %q", r.Said)
	}
}
