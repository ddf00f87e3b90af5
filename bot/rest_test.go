package bot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

const restSentence = "rest your hands"

// knits makes moves, back and forth, so much time apart, until a moment, and gives
// how often they told her to rest, and when first.
func (h *house) knits(t *testing.T, id string, member session.Member, apart time.Duration, until time.Time) (times int, first time.Time) {
	t.Helper()
	for i := 0; !h.clock.Add(apart).After(until); i++ {
		h.clock = h.clock.Add(apart)
		words := "next row"
		if i%2 == 1 {
			words = "back"
		}
		r := h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: words, Event: fmt.Sprint(h.clock)})
		checkSaid(t, words, r)
		if strings.Contains(r.Said, restSentence) {
			if times++; times == 1 {
				first = h.clock
			}
		}
	}
	return times, first
}

// Whoever knits for an hour without a break of ten minutes is told to rest her
// hands, once in a sitting.
func TestRest(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	for _, c := range []struct {
		name         string
		after        time.Duration // since the move before
		apart, lasts time.Duration
		want         int
		first        time.Duration // since the sitting began
	}{
		{"an hour", 0, 9 * time.Minute, 3 * time.Hour, 1, 63 * time.Minute},
		{"a break begins a new sitting", 10 * time.Minute, 5 * time.Minute, 2 * time.Hour, 1, 60 * time.Minute},
		{"a break a moment too short", 10*time.Minute - time.Millisecond, 9 * time.Minute, 2 * time.Hour, 0, 0},
		{"breaks all along", time.Hour, 10 * time.Minute, 5 * time.Hour, 0, 0},
		{"less than an hour", time.Hour, 5 * time.Minute, 59 * time.Minute, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			h.clock = h.clock.Add(c.after)
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row", Event: c.name})
			began := h.clock
			times, first := h.knits(t, id, wren, c.apart, began.Add(c.lasts))
			if times != c.want || times > 0 && first.Sub(began) != c.first {
				t.Errorf("told to rest %d times, first after %v, want %d after %v", times, first.Sub(began), c.want, c.first)
			}
		})
	}
}

// What does not move her tells nobody to rest; the same event tells the same again.
func TestRestIsSaidWithAMove(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, short)
	ask := func(words, event string) string {
		t.Helper()
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words, Event: event})
		checkSaid(t, words, r)
		return r.Said
	}
	ask("next row", "begin")
	for i := range 7 {
		h.clock = h.clock.Add(9 * time.Minute)
		if i < 6 {
			ask(map[bool]string{true: "back", false: "next row"}[i%2 == 0], fmt.Sprint(i))
		}
	}
	for _, words := range []string{"again", "where am I", "how do I knit", "undo"} {
		if said := ask(words, ""); strings.Contains(said, restSentence) {
			t.Errorf("%q is answered %q", words, said)
		}
	}
	told := ask("next row", "due")
	if !strings.Contains(told, restSentence) {
		t.Errorf("after an hour and three minutes: %q", told)
	}
	if again := ask("next row", "due"); again != told {
		t.Errorf("the same event is answered %q, then %q", told, again)
	}
	if said := ask("next row", "later"); strings.Contains(said, restSentence) {
		t.Errorf("told twice: %q", said)
	}
}

// Rests can be turned off and on, by words, by a choice, and as a command says it.
func TestRestTurnedOff(t *testing.T) {
	for _, way := range settingWays {
		t.Run(way.name, func(t *testing.T) {
			h := newHouse(t)
			id := h.knit(t, wren, short)
			h.Answer(t.Context(), way.ask(bot.Ask{Member: wren, Knitalong: id}, listen.NoRests))
			if times, _ := h.knits(t, id, wren, 5*time.Minute, h.clock.Add(3*time.Hour)); times != 0 {
				t.Errorf("told %d times to rest, though she wants no such thing", times)
			}
			h.Answer(t.Context(), way.ask(bot.Ask{Member: wren, Knitalong: id}, listen.Rests))
			if times, _ := h.knits(t, id, wren, 5*time.Minute, h.clock.Add(10*time.Minute)); times != 1 {
				t.Errorf("told %d times to rest, though three hours have gone by", times)
			}
		})
	}
}

// settingWays are the ways in which a setting is changed by its name.
var settingWays = []struct {
	name string
	ask  func(bot.Ask, listen.Setting) bot.Ask
}{
	{"words", func(a bot.Ask, s listen.Setting) bot.Ask {
		a.Words = map[listen.Setting]string{listen.HideMe: "hide me", listen.ShowMe: "show my name", listen.NoRests: "no rests", listen.Rests: "remind me to rest"}[s]
		return a
	}},
	{"a choice", func(a bot.Ask, s listen.Setting) bot.Ask {
		a.Pressed = &bot.Choice{Intent: listen.Settings, Value: string(s)}
		return a
	}},
	{"a command", func(a bot.Ask, s listen.Setting) bot.Ask {
		a.Heard = &listen.Heard{Intent: listen.Settings, Sure: true, Setting: s}
		return a
	}},
}
