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

// says has a member say something in a knit-along.
func (h *house) says(t *testing.T, member session.Member, id, words, event string) bot.Reply {
	t.Helper()
	r := h.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: words, Event: event})
	checkSaid(t, words, r)
	if r.Failed != nil {
		t.Errorf("%q failed: %q\n%s", words, r.Said, h.log)
	}
	return r
}

// What is asked back for may be answered by itself: then the answer is that to
// all of it said at once.
func TestAnswerToQuestion(t *testing.T) {
	for _, c := range []struct{ pattern, asked, answer, whole string }{
		{"float-hat", "my head is 57", "centimetres", "my head is 57 centimetres"},
		{"float-hat", "my head is 22", "inches please", "my head is 22 inches"},
		{"float-hat", "my head is 57", "57 cm", "my head is 57 cm"},
		{"float-hat", "which size fits me", "57 cm", "which size fits me for 57 cm"},
		{"float-hat", "my gauge is 24 stitches and 32 rows", "ten centimetres", "my gauge is 24 stitches and 32 rows to ten centimetres"},
		{"float-hat", "my gauge is 24 stitches and 32 rows", "over four inches", "my gauge is 24 stitches and 32 rows over four inches"},
		{"float-hat", "make it longer", "two centimetres", "make it two centimetres longer"},
		{"float-hat", "the hat is too long", "an inch", "the hat is an inch too long"},
		{"float-hat", "make it shorter", "um, by two centimetres please", "make it shorter by two centimetres"},
		{"float-hat", "how many stitches for a scarf", "fifty centimetres", "how many stitches for a scarf for fifty centimetres"},
		{"float-hat", "I had 100, 38 are left", "grams", "I had 100 grams, 38 grams are left"},
		{"float-hat", "38 grams left", "a hundred grams", "I had a hundred grams, 38 grams left"},
		{"cobble-cowl", "I had 45 grams, 30 are left", "the mortar", "I had 45 grams of the mortar, 30 are left"},
		{"cobble-cowl", "I had 45 grams, 30 are left", "main color", "I had 45 grams of main color, 30 are left"},
	} {
		var said []bot.Reply
		for _, words := range []string{c.asked, c.whole, c.answer} {
			h := newHouse(t)
			id := h.knit(t, wren, pattern(t, c.pattern))
			h.says(t, wren, id, "next row", "")
			h.says(t, wren, id, "put me at round 10", "")
			before := h.place(t, id, wren)
			if words == c.answer {
				h.says(t, wren, id, c.asked, "one")
			}
			said = append(said, h.says(t, wren, id, words, "two"))
			if diff := cmp.Diff(before, h.place(t, id, wren)); diff != "" {
				t.Errorf("%q, then %q moved her: %s", c.asked, c.answer, diff)
			}
			if words == c.answer {
				said = append(said, h.says(t, wren, id, words, "two"))
			}
		}
		if said[0].Said == said[1].Said || said[1].Said != said[2].Said || said[1].Intent != said[2].Intent {
			t.Errorf("%q is answered %q,\n%q then %q,\nand all of it %q", c.asked, said[0].Said, c.answer, said[2].Said, said[1].Said)
		}
		if said[2].Said != said[3].Said {
			t.Errorf("%q again is answered %q, at first %q", c.answer, said[3].Said, said[2].Said)
		}
	}
}

// Two questions, one after the other, are answered one after the other.
func TestAnswersInTurn(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	conversed(t, h, id, [][2]string{
		{"make it shorter", "By how much?"},
		{"two", "Is that centimetres or inches?"},
		{"what a nice evening", "I did not understand that"},
		{"centimetres", "You can leave out"},
		{"inches", "From now on lengths are in inches."},
	})
}

// A question is open until anything else is understood, for ten minutes, for her
// who was asked, where she was asked, and never for what moves her.
func TestQuestionForgotten(t *testing.T) {
	h := newHouse(t)
	id, other := h.knit(t, wren, pattern(t, "float-hat")), h.knit(t, wren, pattern(t, "cobble-cowl"))
	h.says(t, odo, id, "join in size small", "")
	const goesOn = "You can leave out"
	for i, c := range []struct {
		name    string
		between func()
		member  session.Member
		id      string
		answers bool
	}{
		{"at once", func() {}, wren, id, true},
		{"within ten minutes", func() { h.clock = h.clock.Add(10*time.Minute - time.Second) }, wren, id, true},
		{"after eleven minutes", func() { h.clock = h.clock.Add(11 * time.Minute) }, wren, id, false},
		{"after a move", func() { h.says(t, wren, id, "next", "") }, wren, id, false},
		{"after a command", func() {
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Heard: &listen.Heard{Intent: listen.Where, Sure: true}})
		}, wren, id, false},
		{"after a button", func() {
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Pressed: &bot.Choice{Intent: listen.Settings}})
		}, wren, id, false},
		{"after what was not understood", func() { h.says(t, wren, id, "the kettle sings", "") }, wren, id, true},
		{"another member", func() {}, odo, id, false},
		{"in another knit-along", func() {}, wren, other, false},
		{"after another process began", func() { h.stop(t); h.start(t) }, wren, id, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			h.says(t, wren, id, "put me at round 1 of the brim", "")
			h.says(t, wren, id, "make it shorter", fmt.Sprint("asked", i))
			c.between()
			r := h.says(t, c.member, c.id, "two centimetres", fmt.Sprint("answer", i))
			if strings.HasPrefix(r.Said, goesOn) != c.answers {
				t.Errorf("she is answered %q", r.Said)
			}
		})
	}
}

// What was asked by a command is not gone on with by words.
func TestCommandsQuestion(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Heard: &listen.Heard{Intent: listen.Fit, Fit: &listen.FitWish{Kind: listen.Shorter}, Sure: true}})
	if !strings.HasPrefix(r.Said, "By how much?") {
		t.Errorf("the command is answered %q", r.Said)
	}
	conversed(t, h, id, [][2]string{{"two centimetres", "I did not understand that"}})
}

// After a question, what moves moves as always.
func TestMovesAfterQuestion(t *testing.T) {
	for _, words := range []string{"next", "next row", "put me at round 5", "back", "undo", "leave out two rounds of slack water"} {
		var said []string
		for _, asks := range []bool{false, true} {
			h := newHouse(t)
			id := h.knit(t, wren, pattern(t, "float-hat"))
			h.says(t, wren, id, "put me at round 3", "")
			if asks {
				h.says(t, wren, id, "make it longer", "")
			}
			said = append(said, h.says(t, wren, id, words, "").Said, fmt.Sprint(h.place(t, id, wren)))
		}
		if said[0] != said[2] || said[1] != said[3] {
			t.Errorf("%q leads to %q, and after a question to %q", words, said[:2], said[2:])
		}
	}
}
