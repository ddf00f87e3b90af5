package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// buoy has a panel of two rounds: of the four rounds that may be left out in
// ones, an odd number would bring it out of step.
const buoy = `Pattern: Buoy
Worked: in rounds
Cast on: 10
Gauge: 20 sts and 20 rounds = 10 cm
Panel: Edge, 2 sts
Round 1: p1, k1.
Round 2: p2.
Section: Foot
Across: Edge, k8.
Rounds 1-4: work the panels.
Rounds 5-8 (optional in ones): work the panels.
Rounds 9-12: work the panels.
Rounds 13-16 (optional in twos): work the panels.
Rounds 17-20: work the panels.
`

// What a choice leaves out is proven anew when it is pressed, since it may be
// forged, and it tells what the piece comes to, as the words do.
func TestLeavingOutPressed(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, buoy)
	say := func(words string) bot.Reply {
		return h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words})
	}
	say("put me at round 2")
	for _, c := range []struct{ words, numbers, want, leftOut string }{
		{"", "1-2", "From now on you leave out rounds fifteen and sixteen of Foot. The piece then comes to nine centimetres. You are still at round two of Foot.", "Foot 13: 2"},
		{"", "0-2", "From now on you leave out rounds seven and eight of Foot. You work rounds fifteen and sixteen of Foot after all. The piece then comes to nine centimetres.", "Foot 5: 2"},
		{"", "0-2_1-4", "From now on you leave out rounds seven and eight of Foot and rounds thirteen to sixteen of Foot. The piece then comes to seven centimetres. You are still at round two of Foot.", "Foot 5: 2; Foot 13: 4"},
		{"", "0-1", "Leaving out one round of Foot won't do: the panel Edge would work a round twice. Nothing has moved.", "Foot 5: 2; Foot 13: 4"},
		{"", "0-1_1-2", "These rounds can't be left out together:", "Foot 5: 2; Foot 13: 4"},
		{"", "1-3", "Leaving out three rounds of Foot won't do:", "Foot 5: 2; Foot 13: 4"},
		{"", "1-2_0-2", "What that button offered can't be left out", "Foot 5: 2; Foot 13: 4"},
		{"", "0-2_0-4", "What that button offered can't be left out", "Foot 5: 2; Foot 13: 4"},
		{"", "0-0", "What that button offered can't be left out", "Foot 5: 2; Foot 13: 4"},
		{"", "0-2_", "What that button offered can't be left out", "Foot 5: 2; Foot 13: 4"},
		{"", "0-9999", "Leaving out nine thousand nine hundred and ninety-nine rounds of Foot won't do:", "Foot 5: 2; Foot 13: 4"},
		{"put me at round 11", "1-4", "You have worked some of those rounds already, or are working one, so nothing has moved.", "Foot 5: 2; Foot 13: 4"},
		// what is past stays left out, as when she says it
		{"", "", "From now on you leave out rounds seven and eight of Foot. You work rounds thirteen to sixteen of Foot after all. The piece then comes to nine centimetres. You are still at round eleven of Foot.", "Foot 5: 2"},
		{"", "", "The rounds that are left out stand before the one that you are on. Nothing has moved.", "Foot 5: 2"},
	} {
		if c.words != "" {
			say(c.words)
		}
		r := h.leaveOut(t, id, c.numbers)
		checkSaid(t, c.numbers, r)
		if found := h.place(t, id, wren).LeftOut; !strings.HasPrefix(r.Said, c.want) || found != c.leftOut {
			t.Errorf("%q is answered %q, with %q left out; expected %q, with %q", c.numbers, r.Said, found, c.want, c.leftOut)
		}
	}
}

// A correction keeps what she leaves out where the proof of the new text does, and
// finds it under a new name. Where it can't be left out she hears so once.
func TestLeftOutCorrected(t *testing.T) {
	const dropped = "The pattern has been corrected. The rounds that you left out can't be left out of it, so you hear them all. "
	const corrected = "The pattern has been corrected. "
	for _, c := range []struct {
		name, old, now string
		row            int
		notice         string
		at             session.Place
	}{
		{"another round", "Rounds 17-20: work", "Rounds 17-22: work", 3, "", session.Place{Section: "Foot", Row: 3, LeftOut: "Foot 5: 2"}},
		{"they are to be worked", " (optional in ones)", "", 3, dropped, session.Place{Section: "Foot", Row: 3}},
		{"another step", "in ones", "in fours", 3, dropped, session.Place{Section: "Foot", Row: 3}},
		{"the section is renamed", "Section: Foot", "Section: Leg", 3, corrected + "Your section is now called Leg. ", session.Place{Section: "Leg", Row: 3, LeftOut: "Leg 5: 2"}},
		{"the panel comes out of step", "Round 2: p2.", "Round 2: p2.\nRound 3: k2.\nRound 4: k1, p1.", 3, dropped + "Your round, round three of Foot, is different now. ", session.Place{Section: "Foot", Row: 3}},
		{"she is past them", " (optional in ones)", "", 12, dropped, session.Place{Section: "Foot", Row: 12}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHouse(t)
			id := h.knit(t, wren, buoy)
			say := func(words string) string {
				return h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words}).Said
			}
			say("put me at round 3")
			h.leaveOut(t, id, "0-2")
			say(fmt.Sprint("put me at round ", c.row))
			now := strings.Replace(buoy, c.old, c.now, 1)
			if _, err := h.store.AddRevision(t.Context(), id, now, nil); err != nil || now == buoy {
				t.Fatal(err, now)
			}
			for _, notice := range []string{c.notice, ""} {
				if said := say("where am I"); !strings.HasPrefix(said, notice+"You are at") {
					t.Errorf("she hears %q, expected %q", said, notice)
				}
			}
			say("back")
			say("next") // which saves the place
			c.at.Revision = 2
			if found := h.place(t, id, wren); found != c.at {
				t.Errorf("found %+v, expected %+v", found, c.at)
			}
			state, err := h.store.State(t.Context(), id, wren)
			done, _, found := behind(newPlansOf(now).at(t, state.Place), state.Place)
			if err != nil || !found || state.Done != done {
				t.Errorf("the board has %d stitches (%v), expected %d", state.Done, err, done)
			}
		})
	}
}

// leaveOut presses a choice of the numbers of rows to leave out of groups, "0-2_1-4".
func (h *house) leaveOut(t *testing.T, id, numbers string) bot.Reply {
	t.Helper()
	for _, c := range h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "what can I leave out"}).Choices {
		if strings.HasPrefix(c.Value, "out.") {
			key := c.Value[strings.LastIndexByte(c.Value, '.'):]
			return h.press(t, id, bot.Choice{Intent: listen.Fit, Value: "out." + numbers + key}, "")
		}
	}
	t.Fatal("no choice leaves rows out")
	return bot.Reply{}
}
