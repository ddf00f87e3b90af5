package bot_test

import (
	"strings"
	"testing"

	"clew/bot"
)

// What only asks serves a closed knit-along of the channel, or of the name, where none
// is open there; what would change one does not, nor what is about an open one.
func TestAskingAboutClosed(t *testing.T) {
	h := newHouse(t)
	start := func(title, channel string) {
		h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Server: "tibberhythe", Channel: channel, Pattern: []byte(short), Title: title, Event: title})
	}
	direct := func(o bot.Order) string {
		o.Member, o.Manages, o.Server = tamsin, true, "tibberhythe"
		if o.Channel == "" {
			o.Channel = "wednesday"
		}
		r := h.Direct(t.Context(), o)
		checkSaid(t, string(o.Deed), r)
		return r.Said
	}
	start("Hat", "wednesday")
	start("Mittens", "friday")
	h.Answer(t.Context(), bot.Ask{Member: wren, Nick: "Wren", Server: "tibberhythe", Channel: "wednesday", Words: "join", Event: "join"})
	direct(bot.Order{Deed: bot.Close, Sure: true})
	for deed, want := range map[bot.Deed]string{
		bot.Who: "One knitter has joined Hat.", bot.Export: "Here is the table of Hat,", bot.Text: "Here is the text of Hat,",
		bot.Stumbles: "Nobody has stumbled over a row of Hat yet.", bot.Sessions: "Hat has",
	} {
		if said := direct(bot.Order{Deed: deed}); !strings.HasPrefix(said, want) {
			t.Errorf("%s is answered %q, expected %q", deed, said, want)
		}
		if said := direct(bot.Order{Deed: deed, Title: "hat", Channel: "friday"}); !strings.HasPrefix(said, want) {
			t.Errorf("%s by its name is answered %q, expected %q", deed, said, want)
		}
		if said := direct(bot.Order{Deed: deed, Channel: "friday"}); !strings.Contains(said, "Mittens") {
			t.Errorf("%s is answered %q, expected Mittens, which is open there", deed, said)
		}
	}
	if said := direct(bot.Order{Deed: bot.Board, Title: "Hat"}); said != "There is no open knit-along here called Hat. Nothing was changed." {
		t.Errorf("the board is answered %q", said)
	}
}

// One who comes to a closed knit-along to join it hears that it is closed.
func TestJoiningClosed(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: "Hat", Event: "start"})
	h.order(t, bot.Order{Deed: bot.Close, Sure: true, Member: tamsin, Event: "close"})
	ask := func(channel string) string {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: channel, Words: "join", Event: "join" + channel})
		checkSaid(t, "join", r)
		return r.Said
	}
	if said := ask("wednesday"); said != "Hat is closed: its host has ended it, so nobody can join it now. Nothing has moved." {
		t.Errorf("she hears %q", said)
	}
	if said := ask("friday"); !strings.HasPrefix(said, "There is no open knit-along here.") {
		t.Errorf("in another channel she hears %q", said)
	}
}

// The answer on naming a helper says who it is, as far as that is known.
func TestHelpersByName(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(short), Title: "Hat", Event: "start"})
	h.Answer(t.Context(), bot.Ask{Member: wren, Nick: "Wren", Server: "tibberhythe", Channel: "wednesday", Words: "join", Event: "join"})
	for _, c := range []struct {
		order bot.Order
		want  string
	}{
		{bot.Order{Helper: wren}, "Wren is a helper now, and may do with Hat all that you may, from opening its sessions to naming helpers."},
		{bot.Order{Helper: wren}, "Wren is a helper of Hat already. Nothing was changed."},
		{bot.Order{Helper: odo}, "That member is a helper now, and may do with Hat all that you may, from opening its sessions to naming helpers. That member has not joined it. If it is the wrong one, dismiss that helper."},
		{bot.Order{Helper: wren, Dismiss: true}, "Wren is not a helper any more, and may do with Hat what any knitter may."},
		{bot.Order{Helper: wren, Dismiss: true}, "Wren is not a helper of Hat. Nothing was changed."},
	} {
		c.order.Deed, c.order.Member = bot.Helper, tamsin
		if r := h.order(t, c.order); r.Said != c.want {
			t.Errorf("answered %q, expected %q", r.Said, c.want)
		}
	}
}
