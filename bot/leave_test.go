package bot_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"clew/bot"
	"clew/patterns"
	"clew/reader/listen"
	"clew/session"
)

// plansOf lays out what members knit, by the store, each choice once.
type plansOf struct {
	*patterns.Pattern
	laid map[[2]string]*patterns.Plan
}

func newPlansOf(text string) plansOf {
	p, _ := patterns.Read([]byte(text))
	return plansOf{p, map[[2]string]*patterns.Plan{}}
}

func (p plansOf) at(t *testing.T, at session.Place) *patterns.Plan {
	t.Helper()
	key := [2]string{at.Size, at.LeftOut}
	if p.laid[key] == nil {
		leave, err := patterns.ParseLeftOut(at.LeftOut)
		if err != nil {
			t.Fatal(err)
		}
		if p.laid[key], err = p.LayOut(patterns.Choice{Size: at.Size, LeftOut: leave}); err != nil {
			t.Fatal(err)
		}
	}
	return p.laid[key]
}

// behind counts the stitches of the rows before a place in a plan, and gives
// those rows; false where the plan has no such row. Finished, all are behind.
func behind(plan *patterns.Plan, at session.Place) (stitches int64, rows []string, found bool) {
	last := plan.Rows[len(plan.Rows)-1]
	finished := at.Step > 1000 && at.Row == last.Number && at.Section == last.Section.Name
	for _, r := range plan.Rows {
		if r.Number == at.Row && r.Section.Name == at.Section && !finished {
			return stitches, rows, true
		}
		if at.Row > 0 {
			stitches += int64(r.Before.Ahead() - r.Unworked())
			rows = append(rows, fmt.Sprint(r.Section.Name, r.Number))
		}
	}
	return stitches, rows, at.Row == 0 || finished
}

// Leaving rows out keeps the row, the step, and all rows before it; the board's
// figure is the stitches before the row in the member's own plan, whatever she
// does, and the same event again changes nothing.
func TestLeavingOutKeepsThePlace(t *testing.T) {
	for _, name := range []string{"float-hat", "boathouse-socks", "gull-kerchief"} {
		t.Run(name, func(t *testing.T) {
			changes := 0
			rapid.Check(t, leavingOut(t, pattern(t, name), &changes))
			if changes == 0 {
				t.Errorf("what is left out never changed, so that nothing was tested")
			}
		})
	}
}

func leavingOut(t *testing.T, text string, changes *int) func(*rapid.T) {
	h := newHouse(t)
	id := h.knit(t, odo, text)
	p := newPlansOf(text)
	knitters := 0
	return func(rt *rapid.T) {
		knitters++
		w := &wandering{house: h, T: t, rt: rt, id: id, plans: p, changes: changes, member: session.Member(fmt.Sprintf("terminal:k%d", knitters))}
		w.ask(bot.Ask{Words: "join in size " + rapid.SampledFrom(p.Sizes).Draw(rt, "size")})
		for range rapid.IntRange(1, 12).Draw(rt, "requests") {
			switch rapid.SampledFrom([]string{"row", "row", "next", "fit", "fit", "press", "press", "size", "undo"}).Draw(rt, "what") {
			case "row":
				rows := p.at(t, w.at).Rows
				r := rows[rapid.IntRange(0, len(rows)-1).Draw(rt, "row")]
				w.ask(bot.Ask{Words: fmt.Sprintf("put me at row %d of the %s", r.Number, r.Section.Name)})
			case "next":
				w.ask(bot.Ask{Words: "next row"})
			case "fit":
				w.keepsThePlace(bot.Ask{Heard: &listen.Heard{Intent: listen.Fit, Sure: true, Fit: wishDrawn(rt, p.Pattern)}})
			case "press":
				var offered []bot.Choice
				for _, c := range w.choices {
					if strings.HasPrefix(c.Value, "out.") {
						offered = append(offered, c)
					}
				}
				if len(offered) > 0 {
					c := rapid.SampledFrom(offered).Draw(rt, "choice")
					w.keepsThePlace(bot.Ask{Pressed: &c})
				}
			case "size":
				w.ask(bot.Ask{Words: "size " + rapid.SampledFrom(p.Sizes).Draw(rt, "size")})
			case "undo":
				w.ask(bot.Ask{Words: "undo"})
			}
		}
	}
}

// wishDrawn is any wish that may change which rows are left out, or offer it.
func wishDrawn(rt *rapid.T, p *patterns.Pattern) *listen.FitWish {
	w := &listen.FitWish{Kind: rapid.SampledFrom([]listen.FitKind{listen.LeaveOut, listen.LeaveOut, listen.WorkAll, listen.Shorter, listen.ToLength, listen.Offers}).Draw(rt, "kind")}
	w.Leave = rapid.IntRange(-1, 6).Draw(rt, "leave")
	w.Number, w.Unit = rapid.Float64Range(0.5, 40).Draw(rt, "length"), listen.Centimetres
	if named := rapid.IntRange(0, len(p.Sections)).Draw(rt, "section"); named < len(p.Sections) && w.Kind != listen.Shorter {
		w.Section = strings.ToLower(p.Sections[named].Name)
	}
	return w
}

// A wandering is one member going about, held to what must be so.
type wandering struct {
	*house
	*testing.T
	rt      *rapid.T
	id      string
	plans   plansOf
	member  session.Member
	at      session.Place
	choices []bot.Choice
	events  int
	changes *int // of what is left out
}

// ask asks twice by one event.
func (w *wandering) ask(a bot.Ask) {
	w.events++
	a.Member, a.Knitalong, a.Event = w.member, w.id, fmt.Sprint("e", w.events)
	said := fmt.Sprintf("%q %+v %+v", a.Words, a.Pressed, a.Heard)
	first := w.Answer(w.T.Context(), a)
	checkSaid(w.T, said, first)
	checkChoices(w.T, said, first)
	if first.Failed != nil {
		w.rt.Fatalf("%s failed: %s %s", said, first.Said, w.log.String())
	}
	state, err := w.store.State(w.T.Context(), w.id, w.member)
	if err != nil {
		w.rt.Fatal(err)
	}
	again := w.Answer(w.T.Context(), a)
	after, err := w.store.State(w.T.Context(), w.id, w.member)
	if diff := cmp.Diff(state, after); err != nil || diff != "" {
		w.rt.Fatalf("%s came again, is answered %q and changed (%v):\n%s", said, again.Said, err, diff)
	}
	w.at, w.choices = state.Place, append(w.choices, first.Choices...)
	plan := w.plans.at(w.T, w.at)
	done, _, found := behind(plan, w.at)
	if !found || done != state.Done {
		w.rt.Fatalf("after %s she is at %+v, in her plan: %v, and the board has %d stitches, expected %d", said, w.at, found, state.Done, done)
	}
}

// keepsThePlace asks for what may leave rows out.
func (w *wandering) keepsThePlace(a bot.Ask) {
	before := w.at
	done, rows, _ := behind(w.plans.at(w.T, before), before)
	w.ask(a)
	if w.at.LeftOut != before.LeftOut {
		*w.changes++
	}
	now, nowRows, found := behind(w.plans.at(w.T, w.at), w.at)
	if w.at.LeftOut = before.LeftOut; w.at != before {
		w.rt.Fatalf("%+v %+v moved her from %+v to %+v", a.Pressed, a.Heard, before, w.at)
	}
	if diff := cmp.Diff(rows, nowRows); !found || now != done || diff != "" {
		w.rt.Fatalf("%+v %+v changed the rows before hers, %d stitches to %d:\n%s", a.Pressed, a.Heard, done, now, diff)
	}
	if state, err := w.store.State(w.T.Context(), w.id, w.member); err == nil {
		w.at = state.Place
	}
}

// Of what can't be done every refusal is a sentence, and nothing changes.
func TestFitRefused(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at round 3 of the slack water"})
	in := listen.Inches
	for _, c := range []struct {
		wish listen.FitWish
		want string // how the answer begins
	}{
		{listen.FitWish{Kind: listen.Sizes, Body: "head", Number: 57}, "Is that centimetres or inches?"},
		{listen.FitWish{Kind: listen.Sizes, Body: "head", Number: 57, Unit: listen.MixedUnits}, "Is that centimetres or inches?"},
		{listen.FitWish{Kind: listen.Sizes, Body: "head", Number: 5, Unit: listen.Centimetres}, "A head of five centimetres is not likely"},
		{listen.FitWish{Kind: listen.Sizes, Body: "head", Number: -57, Unit: in}, "Minus fifty-seven inches is less than nothing"},
		{listen.FitWish{Kind: listen.Sizes, Body: "head", Number: math.NaN(), Unit: in}, "NaN"},
		{listen.FitWish{Kind: listen.Sizes, Body: "tail", Number: 1e300, Unit: in}, ""},
		{listen.FitWish{Kind: listen.Sizes, Person: "dragon"}, "I have no measurements for dragon."},
		{listen.FitWish{Kind: listen.Sizes, Person: strings.Repeat("z9 ", 500)}, "I have no measurements for"},
		{listen.FitWish{Kind: listen.Gauge, Stitches: 22, Rows: 30}, "Over what length is that?"},
		{listen.FitWish{Kind: listen.Gauge, Stitches: 22, Over: 10, OverUnit: listen.MixedUnits}, "Is that to centimetres or to inches?"},
		{listen.FitWish{Kind: listen.Gauge, Stitches: 200, Over: 1, OverUnit: listen.Centimetres}, "Two hundred stitches to one centimetre comes to two thousand stitches to ten centimetres"},
		{listen.FitWish{Kind: listen.Gauge, Stitches: -3, Over: 1, OverUnit: in}, ""},
		{listen.FitWish{Kind: listen.Gauge, Over: 10, OverUnit: listen.Centimetres}, "A gauge of zero"},
		{listen.FitWish{Kind: listen.Shorter}, "By how much?"},
		{listen.FitWish{Kind: listen.Shorter, Number: 2}, "Is that centimetres or inches?"},
		{listen.FitWish{Kind: listen.Shorter, Number: math.Inf(1), Unit: in}, ""},
		{listen.FitWish{Kind: listen.Longer, Number: -2, Unit: in}, "By how much?"},
		{listen.FitWish{Kind: listen.Longer, Number: 1e9, Unit: in}, ""},
		{listen.FitWish{Kind: listen.ToLength, Number: 0.001, Unit: in}, ""},
		{listen.FitWish{Kind: listen.Width, Section: "crwn"}, "There is no section called crwn in this pattern. Did you mean Crown?"},
		{listen.FitWish{Kind: listen.Offers, Section: "brim"}, "No rounds of Brim may be left out."},
		{listen.FitWish{Kind: listen.LeaveOut, Leave: 9999}, ""},
		{listen.FitWish{Kind: listen.LeaveOut, Leave: -7}, ""},
		{listen.FitWish{Kind: listen.LeaveOut, Leave: 4, Section: "slack water"}, "Four rounds of Slack water can't be left out"},
		{listen.FitWish{Kind: listen.LeaveOut, Leave: 2, Section: "floats"}, "The rounds of Float that may be left out are worked already"},
		{listen.FitWish{Kind: listen.WorkAll}, ""},
		{listen.FitWish{Kind: listen.CastOn}, "How wide is it to be?"},
		{listen.FitWish{Kind: listen.CastOn, Number: 1, Unit: listen.Centimetres}, ""},
		{listen.FitWish{Kind: listen.CastOn, Number: 1e6, Unit: in}, ""},
		{listen.FitWish{Kind: "nonsense"}, "You knit size small."},
	} {
		asked := fmt.Sprintf("%+v", c.wish)
		before := h.dump(t)
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Heard: &listen.Heard{Intent: listen.Fit, Sure: true, Fit: &c.wish}})
		checkSaid(t, asked, r)
		checkChoices(t, asked, r)
		if !strings.HasPrefix(r.Said, c.want) || r.Failed != nil {
			t.Errorf("%s is answered %q, expected %q\n%s", asked, r.Said, c.want, h.log)
		}
		if diff := cmp.Diff(before, h.dump(t)); diff != "" {
			t.Errorf("%s changed the store (-before +after):\n%s", asked, diff)
		}
	}
}
