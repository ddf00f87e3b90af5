package bot_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/patterns/stitch"
	"clew/reader/listen"
	"clew/session"
)

// heldSessions opens the first session at a time, the second a week later, and the
// third by hand. The last one's title tells what is in it.
const heldSessions = `Zone: Europe/Amsterdam
Hold: yes
1. Casting on: Quay; opens 2031-10-05 19:00
2. The shallows: Shoals 1-4; opens 2031-10-12 19:00
3. LAST, and with it tipsy and lurch: Shoals 5 to LAST
`

// heldHouses holds the two forms of the pattern, each in a house of its own, where all
// else is the same, so that whatever is asked has to be answered alike: nothing of
// what parts them has opened. So many sessions have.
func heldHouses(t *testing.T, opened int) [2]*house {
	t.Helper()
	var houses [2]*house
	for i, form := range heldForms {
		h := newHouse(t)
		r := h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: odo, Manages: true, Server: "harbour", Channel: "pier", Event: "start",
			Pattern: []byte(form.Replace(heldPattern)), Plan: []byte(form.Replace(heldSessions))})
		if r.Invite == nil {
			t.Fatalf("nothing is started: %q\n%s", r.Said, r.Report)
		}
		if found := heldWord(fmt.Sprintf("%+v", *r.Invite), "", true); found != "" {
			t.Errorf("everybody is told of %q: %q", found, r.Invite.Said)
		}
		h.clock = time.Date(2031, 10, 4, 20, 0, 0, 0, time.UTC).AddDate(0, 0, 7*opened)
		houses[i] = h
	}
	return houses
}

// heldWord gives a word of the part that is held back that stands in an answer, and
// not in what was asked; "" for none. Stitches may be told of in general.
func heldWord(answer, asked string, stitches bool) string {
	answer, asked = strings.ToLower(answer), strings.ToLower(asked)
	for i, word := range heldWords {
		if strings.Contains(answer, word) && !strings.Contains(asked, word) && (stitches || i < heldNames) {
			return word
		}
	}
	return ""
}

// heldAsks is everything that can be asked, in every way.
func heldAsks() []bot.Ask {
	var asks []bot.Ask
	hear := func(h listen.Heard) { h.Sure = true; asks = append(asks, bot.Ask{Heard: &h}) }
	names := []string{"", "Quay", "Shoals", "shoal", "Ripple", "panel Ripple", "Gloaming", "gloamin", "Nightfall", "night", "Kelp", "panel Kelp", "Dawning", "Sunup", "Wrack", "panel wrak", "Kay"}
	for _, intent := range []listen.Intent{listen.Next, listen.Again, listen.Back, listen.Undo, listen.Where, listen.Steps, listen.Rows, listen.Explain, listen.Picture,
		listen.Count, listen.Catchup, listen.Fit, listen.Yarn, listen.Handsfree, listen.Settings, listen.Join, listen.Leave, listen.Switch, listen.Stuck, listen.Board,
		listen.Changes, listen.Knitalong, listen.Help, listen.None, listen.Unsure, listen.Forget} {
		hear(listen.Heard{Intent: intent})
	}
	for _, part := range []string{"", listen.CatchupRows, listen.CatchupStretches, listen.CatchupNew, listen.CatchupTime, listen.CatchupPlan} {
		hear(listen.Heard{Intent: listen.Catchup, More: true, Part: part, Until: &listen.Day{In: 9, HasIn: true}})
	}
	for _, name := range names {
		for n := range 10 {
			for _, intent := range []listen.Intent{listen.At, listen.Row, listen.Picture} {
				hear(listen.Heard{Intent: intent, Number: n, HasNumber: n > 0, Section: name})
			}
			hear(listen.Heard{Intent: listen.Picture, Look: listen.LookFabric, Number: n, HasNumber: n > 0, Section: name})
			hear(listen.Heard{Intent: listen.Picture, Number: n, HasNumber: n > 0, Last: n + 5, Section: name})
		}
		for _, kind := range []listen.FitKind{listen.Sizes, listen.Gauge, listen.Wider, listen.Narrower, listen.ToWidth, listen.Width, listen.SoFar, listen.Offers, listen.LeaveOut,
			listen.WorkAll, listen.CastOn, listen.PatternGauge, listen.Shorter, listen.Longer, listen.ToLength} {
			hear(listen.Heard{Intent: listen.Fit, Fit: &listen.FitWish{Kind: kind, Section: name}})
			hear(listen.Heard{Intent: listen.Fit, Fit: &listen.FitWish{Kind: kind, Section: name, Number: 2, HasNumber: true, Unit: "cm", Leave: 4, From: 3, To: 6}})
			hear(listen.Heard{Intent: listen.Fit, Fit: &listen.FitWish{Kind: kind, Section: name, Number: 30, HasNumber: true, Unit: "cm", Leave: 2}})
		}
	}
	for n := range 60 {
		hear(listen.Heard{Intent: listen.Count, Number: n, HasNumber: true})
	}
	for _, abbr := range []string{"tipsy", "lurch", "zw", "OWN", "cross", "that", "round", "2/1 LC", "1/2 RC", "2/2 RC"} {
		hear(listen.Heard{Intent: listen.Explain, Stitch: abbr})
	}
	for _, s := range stitch.All() {
		hear(listen.Heard{Intent: listen.Explain, Stitch: s.Abbr})
	}
	for _, y := range []listen.YarnWish{{HasHad: true, Had: 60, HasLeft: true, Left: 20, Unit: "g"}, {HasHad: true, Had: 60, HasLeft: true, Left: 45, Unit: "g"}, {HasLeft: true, Left: 30, Unit: "g"}} {
		hear(listen.Heard{Intent: listen.Yarn, Yarn: &y})
	}
	for _, words := range []string{"next row", "what's next", "read row seven of gloaming", "put me at round six", "round six of shoals", "explain tipsy", "explain lurch", "what is a tipsy",
		"show me kelp", "show me the wrack panel", "picture of nightfall", "catch me up", "tell me more", "notes", "read the notes", "which size fits me", "size large", "size huge", "shorter",
		"two centimetres shorter", "two centimetres longer", "make it thirty centimetres long", "which rows may be left out", "leave out two rounds of quay", "leave out four rounds of nightfall",
		"how long is nightfall", "how long is gloaming so far", "will my yarn last", "what has changed", "I am stuck", "show me the board", "help", "more help", "settings", "gloaming", "tipsy",
		"dawning", "kelp please", "cross", "how do I work that cross", "explain make one left", "explain slip slip knit"} {
		asks = append(asks, bot.Ask{Words: words})
	}
	return asks
}

// Whatever is asked, and from wherever: where two patterns differ in rows alone that
// are held back, all answers are the same, pictures and buttons included, and no word
// of those rows is in them.
func TestHeldBackFromEverybody(t *testing.T) {
	for _, c := range []struct {
		opened   int
		section  string
		row      int
		stepwise bool
	}{
		{0, "Quay", 0, false},
		{1, "Quay", 8, false},
		{2, "Quay", 2, false},
		{2, "Shoals", 4, true},
	} {
		t.Run(fmt.Sprintf("%d open, at %s %d", c.opened, c.section, c.row), func(t *testing.T) {
			var at [2]seated
			for i, h := range heldHouses(t, c.opened) {
				at[i] = h.sit(t, c.section, c.row, c.stepwise)
			}
			askHeld(t, at)
		})
	}
}

// A seated is a member of a house, at a place to which she comes back.
type seated struct {
	*house
	id       string
	at       session.Place
	settings map[string]string
}

// sit lets wren join, and puts her at a row.
func (h *house) sit(t *testing.T, section string, row int, stepwise bool) seated {
	t.Helper()
	s := seated{house: h}
	s.id = s.asks(t, bot.Ask{Words: "join small"}).Knitalong
	if stepwise {
		s.asks(t, bot.Ask{Words: "step by step"})
	}
	if row > 0 {
		s.asks(t, bot.Ask{Heard: &listen.Heard{Intent: listen.At, Section: section, Number: row, HasNumber: true, Sure: true}})
	}
	state, err := h.store.State(t.Context(), s.id, wren)
	if err != nil || state.Section != section || state.Row != row {
		t.Fatalf("she is at %+v, expected %s %d (%v)", state.Place, section, row, err)
	}
	s.at, s.settings = state.Place, state.Settings
	return s
}

func (s seated) asks(t *testing.T, ask bot.Ask) bot.Reply {
	ask.Member, ask.Server, ask.Channel = wren, "harbour", "pier"
	return s.Answer(t.Context(), ask)
}

// back brings her back to where and how she sat.
func (s seated) back(t *testing.T) {
	t.Helper()
	state, err := s.store.State(t.Context(), s.id, wren)
	if err != nil {
		t.Fatal(err)
	}
	if !state.Joined {
		s.asks(t, bot.Ask{Words: "join small"})
		if state, err = s.store.State(t.Context(), s.id, wren); err != nil {
			t.Fatal(err)
		}
	}
	change := map[string]string{}
	for name := range state.Settings {
		change[name] = ""
	}
	maps.Copy(change, s.settings)
	if !maps.Equal(state.Settings, s.settings) {
		if _, err := s.store.Set(t.Context(), s.id, wren, change, ""); err != nil {
			t.Fatal(err)
		}
	}
	if state.Place != s.at {
		if _, err := s.store.Move(t.Context(), s.id, session.Move{Member: wren, From: state.Place, To: s.at, How: "at", At: s.clock}); err != nil {
			t.Fatal(err)
		}
	}
}

// askHeld asks two who sit alike everything, what is suggested to them included.
func askHeld(t *testing.T, both [2]seated) {
	asks, seen := heldAsks(), map[string]bool{}
	for i := 0; i < len(asks); i++ {
		ask, name := asks[i], askName(asks[i])
		if seen[name] {
			continue
		}
		seen[name] = true
		var replies [2]bot.Reply
		for k, s := range both {
			replies[k] = s.asks(t, ask)
			if both[0].at != both[1].at { // each is at a row of her own, which a mark names by its key
				replies[k].Mark = ""
			}
			s.back(t)
		}
		r := replies[0]
		if diff := cmp.Diff(r, replies[1]); diff != "" {
			t.Errorf("%s is answered by what is held back (-one +other):\n%s", name, diff)
		}
		if r.Failed != nil {
			t.Errorf("%s fails: %s", name, both[0].log)
		}
		checkSaid(t, name, r)
		general := ask.Heard != nil && ask.Heard.Stitch != "" || strings.HasPrefix(ask.Words, "explain")
		if found := heldWord(withoutPNG(r), name, !general); found != "" {
			t.Errorf("%s is answered with %q: %s", name, found, withoutPNG(r))
		}
		for _, phrase := range suggested(r.Said) {
			asks = append(asks, bot.Ask{Words: phrase})
		}
		for _, c := range r.Choices {
			asks = append(asks, bot.Ask{Pressed: &bot.Choice{Intent: c.Intent, Value: c.Value}})
		}
	}
	if len(seen) < 1500 {
		t.Errorf("%d requests were made, expected fifteen hundred and more", len(seen))
	}
	for _, typed := range []string{"", "t", "l", "tipsy", "lurch", "m", "s", "k", "2", "1/"} {
		ask := bot.Ask{Member: wren, Server: "harbour", Channel: "pier"}
		if diff := cmp.Diff(both[0].Glossary(t.Context(), ask, typed), both[1].Glossary(t.Context(), ask, typed)); diff != "" {
			t.Errorf("for %q, stitches are offered by what is held back (-one +other):\n%s", typed, diff)
		}
	}
}

func askName(a bot.Ask) string {
	switch {
	case a.Pressed != nil:
		return fmt.Sprintf("pressing %+v", *a.Pressed)
	case a.Heard != nil:
		said, err := json.Marshal(a.Heard)
		if err != nil {
			panic(err)
		}
		return string(said)
	}
	return fmt.Sprintf("%q", a.Words)
}

// withoutPNG gives all of a reply that can be read.
func withoutPNG(r bot.Reply) string {
	if r.Picture != nil {
		p := *r.Picture
		p.PNG = nil
		return fmt.Sprintf("%+v %+v %+v", r, p, r.Card)
	}
	return fmt.Sprintf("%+v %+v", r, r.Card)
}
