package bot_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"clew/bot"
	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// A model is a place as anybody would keep it with a pencil: an index in the
// rows, -1 before the first and their number after the last, and a step.
type model struct {
	plan     *patterns.Plan
	forms    []reader.Form
	stepwise bool
	spot
	past []spot // what undo goes back to
}

type spot struct{ row, step int }

func newModel(t *testing.T, text string) *model {
	t.Helper()
	p, _ := patterns.Read([]byte(text))
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	m := &model{plan: plan, spot: spot{row: -1}}
	for _, heard := range bot.CrossesHeard(plan) {
		m.forms = append(m.forms, reader.Form{Heard: heard})
	}
	return m
}

// steps is how many steps a row has.
func (m *model) steps(row int) int {
	if !m.stepwise {
		return 1
	}
	return len(bot.RowWords(m.plan, row, m.forms[row]).StepTexts())
}

func (m *model) goTo(s spot) {
	if s != m.spot {
		m.past = append(m.past, m.spot)
		m.past = m.past[max(0, len(m.past)-session.UndoDepth):]
		m.spot = s
	}
}

// do asks the model what the bot is asked.
func (m *model) do(what string, row int) {
	end := len(m.plan.Rows)
	switch what {
	case "next":
		switch {
		case m.row >= 0 && m.row < end && m.step+1 < m.steps(m.row):
			m.goTo(spot{m.row, m.step + 1})
		case m.row < end:
			m.goTo(spot{m.row + 1, 0})
		}
	case "back":
		switch {
		case m.row >= 0 && m.row < end && m.step > 0 && m.stepwise:
			m.goTo(spot{m.row, m.step - 1})
		case m.row > 0:
			m.goTo(spot{m.row - 1, m.steps(m.row-1) - 1})
		case m.row == 0:
			m.goTo(spot{-1, 0})
		}
	case "undo":
		if n := len(m.past); n > 0 {
			m.spot, m.past = m.past[n-1], m.past[:n-1]
		}
	case "at":
		m.goTo(spot{row, 0})
	case "step by step":
		m.stepwise = true
	case "whole rows":
		m.stepwise = false
	}
}

// done is how many stitches lie behind the spot.
func (m *model) done() int64 {
	done := int64(0)
	for i, r := range m.plan.Rows {
		if i < m.row {
			done += int64(r.Before.Count())
		}
	}
	return done
}

// place is the spot in the pattern's own terms, and whether it is past the last
// row.
func (m *model) place() (section string, row, step int, finished bool) {
	switch {
	case m.row < 0:
		return m.plan.Rows[0].Section.Name, 0, 0, false
	case m.row == len(m.plan.Rows):
		last := m.plan.Rows[m.row-1]
		return last.Section.Name, last.Number, 0, true
	}
	r := m.plan.Rows[m.row]
	return r.Section.Name, r.Number, m.step, false
}

// short is a pattern in which a few requests go from end to end (invented).
const short = `Pattern: Two Bands
Worked: in rounds
Cast on: 24
Section: Band
Round 1: *k2, p2; rep from * around.
Round 2: *2/2 RC, p4; rep from * around.
Round 3: *k1, p1, k1, p1, yo, k2tog, p2; rep from * around.
Section: Other band
Rounds 1-2: *2/2 LC, p2, 2/2 RC, p2; rep from * around.
Round 3: *1/2 LC, 1/1 RC, 2/1 RC, p2, 1/1 LC, 2/1 LC, 1/2 RC, 3/3 RC; rep from * to end.
`

// asides move nothing, whatever they are answered.
var asides = []string{"again", "where am I", "read row 2", "read row 77", "I count 23", "settings", "how do I work that cross", "catch me up", "help",
	"my cat is knitting", "what's next for lunch", "row", "next to nothing", "put me at row 77", "go back to bed", "", "size enormous", "join", "picture", "12", "???"}

func TestPlaceAgreesWithTheModel(t *testing.T) {
	house := newHouse(t)
	id := house.knit(t, wren, short)
	knitters := 0
	rapid.Check(t, func(rt *rapid.T) {
		knitters++
		member := session.Member(fmt.Sprintf("terminal:knitter%d", knitters))
		m := newModel(t, short)
		ask := func(words, event string) bot.Reply {
			r := house.Answer(t.Context(), bot.Ask{Member: member, Knitalong: id, Words: words, Event: event})
			checkSaid(t, words, r)
			return r
		}
		ask("join", "join")
		for i := range rapid.IntRange(1, 40).Draw(rt, "requests") {
			what := rapid.SampledFrom([]string{"next", "next", "next", "back", "back", "undo", "at", "step by step", "whole rows", "aside", "aside"}).Draw(rt, "what")
			row := rapid.IntRange(0, len(m.plan.Rows)-1).Draw(rt, "row")
			words := what
			switch what {
			case "at":
				words = fmt.Sprintf("put me at row %d of the %s", m.plan.Rows[row].Number, m.plan.Rows[row].Section.Name)
			case "aside":
				words = rapid.SampledFrom(asides).Draw(rt, "aside")
			}
			m.do(what, row)
			event := fmt.Sprintf("e%d", i)
			first := ask(words, event)
			if what != "aside" && what != "step by step" && what != "whole rows" && rapid.Bool().Draw(rt, "again") {
				if again := ask(words, event); again.Said != first.Said {
					rt.Fatalf("%q came again and was answered %q, at first %q", words, again.Said, first.Said)
				}
			}
			section, number, step, finished := m.place()
			state, err := house.store.State(t.Context(), id, member)
			if err != nil {
				rt.Fatal(err)
			}
			if done := m.done(); state.Done != done {
				rt.Fatalf("after %q the board has %d stitches, expected %d", words, state.Done, done)
			}
			at := state.Place
			if !m.stepwise && !finished {
				at.Step, step = 0, 0 // a step is kept, and not heard
			}
			if at.Section != section || at.Row != number || (!finished && at.Step != step) || finished != (at.Step > 1000) {
				rt.Fatalf("after %q found %+v, expected row %d of %s, step %d, finished %v", words, at, number, section, step, finished)
			}
		}
	})
}

// Step by step from the first row to the end takes as many steps as there are.
func TestStepsToTheEnd(t *testing.T) {
	house := newHouse(t)
	id := house.knit(t, wren, short)
	m := newModel(t, short)
	m.stepwise = true
	steps := 0
	for row := range m.plan.Rows {
		steps += m.steps(row)
	}
	if last := m.steps(len(m.plan.Rows) - 1); last < 7 {
		t.Fatalf("the last row has %d steps, expected at least seven", last)
	}
	house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "step by step"})
	for range steps {
		if r := house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next"}); r.Card == nil {
			t.Fatalf("the end is reached early: %q", r.Said)
		}
	}
	if r := house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next"}); r.Card != nil {
		t.Errorf("after all %d steps there is one more: %q", steps, r.Said)
	}
}
