package bot_test

import (
	"fmt"
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
		t.Run(name, func(t *testing.T) { rapid.Check(t, leavingOut(t, pattern(t, name))) })
	}
}

func leavingOut(t *testing.T, text string) func(*rapid.T) {
	h := newHouse(t)
	id := h.knit(t, odo, text)
	p := newPlansOf(text)
	knitters := 0
	return func(rt *rapid.T) {
		knitters++
		w := &wandering{house: h, T: t, rt: rt, id: id, plans: p, member: session.Member(fmt.Sprintf("terminal:k%d", knitters))}
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
