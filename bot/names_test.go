package bot_test

import (
	"strings"
	"testing"

	"clew/bot"
	"clew/reader/listen"
)

// holds starts a knit-along in a channel of the harbour's server.
func (h *house) holds(t *testing.T, channel, title, text string) string {
	t.Helper()
	r := h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: odo, Manages: true, Server: "harbour", Channel: channel, Title: title, Pattern: []byte(text), Event: channel + title})
	if r.Invite == nil {
		t.Fatalf("nothing is started: %q\n%s", r.Said, r.Report)
	}
	return r.Knitalong
}

// A title or a size that somebody names is never taken for another request,
// whatever it says.
func TestNamesAreNoRequests(t *testing.T) {
	heard := func(intent listen.Intent) *listen.Heard { return &listen.Heard{Intent: intent, Sure: true} }
	for _, title := range []string{"Row Two", "Step by Step Shawl", "Row by Row Blanket", "Medium Size Hat", "Back to the Harbour", "Undo Shawl", "Whole Rows"} {
		h := newHouse(t)
		hat, named := h.holds(t, "one", "Hat", short), h.holds(t, "two", title, short)
		ask := func(a bot.Ask) bot.Reply {
			a.Member = wren
			r := h.Answer(t.Context(), a)
			checkSaid(t, a.Words+a.Name, r)
			return r
		}
		ask(bot.Ask{Server: "harbour", Channel: "one", Words: "join"})
		if r := ask(bot.Ask{Server: "harbour", Channel: "square", Words: "join " + title}); !strings.HasPrefix(r.Said, "You have joined "+title) {
			t.Errorf("join %s is answered %q", title, r.Said)
		}
		for _, way := range []bot.Ask{
			{Words: "switch to " + title},
			{Server: "harbour", Channel: "one", Words: "switch to " + title},
			{Heard: heard(listen.Switch), Name: title},
		} {
			ask(bot.Ask{Pressed: &bot.Choice{Intent: listen.Switch, Value: hat}})
			if r := ask(way); r.Intent != listen.Switch || !strings.HasPrefix(r.Said, "You are now on "+title) {
				t.Errorf("%+v is answered %q", way, r.Said)
			}
		}
		for _, id := range []string{hat, named} {
			if state, err := h.store.State(t.Context(), id, wren); err != nil || state.Row != 0 || len(state.Settings) > 0 {
				t.Errorf("%s: found %+v, %v, expected nothing moved", title, state, err)
			}
		}
	}
	h := newHouse(t)
	id := h.holds(t, "one", "Hat", strings.Replace(short, "Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)", 1))
	ask := func(a bot.Ask) string {
		a.Member, a.Server, a.Channel = wren, "harbour", "one"
		r := h.Answer(t.Context(), a)
		checkSaid(t, a.Words+a.Name, r)
		return r.Said
	}
	for _, c := range []struct {
		intent     listen.Intent
		name, want string
	}{
		{listen.Join, "row two", "There is no size called row two. Hat comes in narrow and wide."},
		{listen.Join, "Wide", "You have joined Hat in size wide."},
		{listen.Fit, "step by step", "There is no such size. You knit size wide."},
		{listen.Fit, "Narrow", "You now knit size narrow."},
		{listen.Fit, "row 2", "There is no such size. You knit size narrow."},
		{listen.Join, "row 2", "You have joined already."},
		{listen.Join, "wide", "You have joined already, in size narrow. To change it, say size wide."},
		{listen.Switch, "row 2", "You have joined no knit-along called row two. You have joined one knit-along, Hat."},
		{listen.Switch, "step by step", "You have joined no knit-along called step by step. You have joined one knit-along, Hat."},
		{listen.Switch, "...", "You have joined one knit-along, Hat."},
	} {
		if said := ask(bot.Ask{Heard: heard(c.intent), Name: c.name}); !strings.HasPrefix(said, c.want) {
			t.Errorf("%s %q is answered %q, expected %q", c.intent, c.name, said, c.want)
		}
	}
	if state, err := h.store.State(t.Context(), id, wren); err != nil || state.Row != 0 || len(state.Settings) > 0 || state.Size != "narrow" {
		t.Errorf("found %+v, %v, expected the size changed alone", state, err)
	}
}
