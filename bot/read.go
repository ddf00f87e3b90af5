package bot

import (
	"fmt"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/reader"
	"clew/session"
)

// Names and values of a member's settings.
const (
	settingReading = "reading" // how rows are read
	readingSteps   = "steps"   // step by step; anything else is whole rows
	settingCrosses = "crosses" // how crosses are said
	crossesFull    = "full"    // spelled out each time
	crossesShort   = "short"   // by name alone; anything else is full where new in the section
)

// RowWords words one row of a plan, with what has to be done before it can be
// begun: casting on. The crosses heard before it in its section are in form.
func RowWords(p *patterns.Plan, i int, form reader.Form) reader.Spoken {
	r := p.Rows[i]
	s := reader.Say(reader.Row{
		Section: r.Section.Name, Number: r.Number, Round: r.Rounds, WrongSide: r.Side == instruction.WS,
		First: r.First, SectionRows: p.SectionRows(r.Section.Name), Size: p.Size,
		Body: r.Body, Before: r.Before.Count(), After: r.After.Count(), Unworked: r.Unworked(), Tips: tips(p, i),
	}, form)
	s.Opening = castOn(p, i) + s.Opening
	return s
}

// tips gives what is said after row i: the tips of its line, after the first of
// the rows that the line stands for.
func tips(p *patterns.Plan, i int) []string {
	line := p.Rows[i].Line
	for _, r := range p.Rows[:i] {
		if r.Line == line {
			return nil
		}
	}
	said := make([]string, len(line.Tips))
	for j, tip := range line.Tips {
		said[j] = p.Pattern.ForSize(tip, p.Size)
	}
	return said
}

// castOn says how the piece that row i begins is cast on, or nothing.
func castOn(p *patterns.Plan, i int) string {
	r := p.Rows[i]
	if i == 0 {
		return castOnWords(p)
	}
	if !r.First || r.Section.CastOn == nil {
		return ""
	}
	words := "A new piece begins: cast on " + stitches(r.Section.CastOn.At(p.Size)) + ". "
	if p.Rows[i-1].After.Count() > 0 {
		words = "Put the stitches on your needle on hold. " + words
	}
	if r.Section.CastOn.At(p.Size) == 0 {
		words = "A new piece begins. "
	}
	return words
}

func castOnWords(p *patterns.Plan) string {
	words := "Cast on " + stitches(p.Pattern.CastOn.At(p.Size))
	if p.Rows[0].Rounds {
		words += ", and join to work in the round"
	}
	return words + ". "
}

// stitches words a number of stitches.
func stitches(n int) string {
	if n == 1 {
		return "one stitch"
	}
	return reader.Number(n) + " stitches"
}

// form is how the member wants crosses said in row i.
func (t *talk) form(p *plan, i int) reader.Form {
	f := reader.Form{Heard: p.heard[i]}
	switch t.state.Settings[settingCrosses] {
	case crossesFull:
		f.Crosses = reader.AlwaysFull
	case crossesShort:
		f.Crosses = reader.AlwaysShort
	}
	return f
}

// words gives row i in words, as the member likes to hear it.
func (t *talk) words(p *plan, i int) reader.Spoken { return RowWords(p.Plan, i, t.form(p, i)) }

func (t *talk) stepwise() bool { return t.state.Settings[settingReading] == readingSteps }

// here is the index of the row that the member works: -1 before she has begun.
// A row that the pattern no longer has is the nearest before it.
func (t *talk) here() int { return t.plan.indexOf(t.state.Place) }

func (p *plan) indexOf(at session.Place) int {
	if at.Row == 0 {
		return -1
	}
	if i, ok := p.Find(at.Section, at.Row); ok {
		return i
	}
	return p.Nearest(at.Section, at.Row)
}

// finished says that the last row has been worked: the step is then past its
// last one.
func (t *talk) finished(p *plan, at session.Place) bool {
	i := p.indexOf(at)
	return i == len(p.Rows)-1 && at.Step >= len(t.words(p, i).StepTexts())
}

// readHere reads the row, or the step, where the member is.
func (t *talk) readHere(before string) Reply { return t.read(t.plan, t.state.Place, before) }

// read reads a place: a step of its row, or the whole row, or what is to be
// said before the first and after the last.
func (t *talk) read(p *plan, at session.Place, before string) Reply {
	i := p.indexOf(at)
	switch {
	case i < 0:
		return t.say(before + castOnWords(p.Plan) + notes(p) + "Then say next row to hear the first.")
	case t.finished(p, at):
		return t.say(before + "That was the last row: the pattern is finished. Bind off or fasten off as it says, and well done.")
	}
	return t.readRowAt(p, i, at.Step, before)
}

// notes gives the pattern's notes, which are said when a knitter begins.
func notes(p *plan) string {
	words := ""
	for _, n := range p.Pattern.Notes {
		words += "Note: " + sentence(reader.Plain(p.Pattern.ForSize(n, p.Size))) + " "
	}
	return words
}

// sentence gives a text its full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	switch text[len(text)-1] {
	case '.', '!', '?', ':', ';':
		return text
	}
	return text + "."
}

// readRowAt reads row i, or one step of it where the member hears steps.
func (t *talk) readRowAt(p *plan, i, step int, before string) Reply {
	words := t.words(p, i)
	steps := words.StepTexts()
	said := words.Paragraph()
	if t.stepwise() {
		said = steps[min(step, len(steps)-1)]
	}
	return Reply{Said: before + said, Steps: steps, Card: card(p, i), Choices: usual}
}

// card is the small print under a row.
func card(p *plan, i int) *Card {
	r := p.Rows[i]
	kind := "Row"
	if r.Rounds {
		kind = "Round"
	}
	count := fmt.Sprintf("%d stitches", r.Before.Count())
	if r.After.Count() != r.Before.Count() {
		count += fmt.Sprintf(", then %d", r.After.Count())
	}
	return &Card{
		Section: r.Section.Name,
		Row:     fmt.Sprintf("%s %d of %d", kind, r.Number, lastOf(p, r.Section.Name)),
		Count:   count,
		Written: instruction.Print(r.Written, p.Size),
	}
}

// lastOf is the number of a section's last row, in the pattern's numbering.
func lastOf(p *plan, section string) int {
	last := 0
	for _, r := range p.Rows {
		if r.Section.Name == section {
			last = r.Number
		}
	}
	return last
}
