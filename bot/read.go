package bot

import (
	"fmt"
	"strings"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/reader"
	"clew/session"
)

// RowWords words one row of a plan, with what has to be done before it can be
// begun: casting on.
func RowWords(p *patterns.Plan, i int, form reader.Form) reader.Spoken {
	r := p.Rows[i]
	s := reader.Say(reader.Row{
		Section: r.Section.Name, Number: r.Number, Round: r.Rounds, WrongSide: r.Side == instruction.WS,
		First: r.First, SectionRows: p.SectionRows(r.Section.Name), Size: p.Size,
		Body: r.Body, Before: r.Before.Count(), After: r.After.Count(), Unworked: r.Unworked(), Tips: r.Tips,
	}, form)
	s.Opening = castOn(p, i) + s.Opening
	return s
}

// SectionUnsaid names row i's section where reading the row does not.
func SectionUnsaid(p *patterns.Plan, i int) string {
	if r := p.Rows[i]; !r.Rounds && !r.First {
		return "This is " + reader.Name(r.Section.Name) + ". "
	}
	return ""
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
	words := "A new piece begins. "
	if n := r.Section.CastOn.At(p.Size); n > 0 {
		words = "A new piece begins: cast on " + stitches(n) + ". "
	}
	if p.Rows[i-1].After.Count() > 0 {
		words = "If stitches are still on your needle, put them on hold. " + words
	}
	return words
}

func castOnWords(p *patterns.Plan) string {
	words := "Cast on " + stitches(p.Pattern.CastOn.At(p.Size))
	if len(p.Rows) > 0 && p.Rows[0].Rounds || len(p.Rows) == 0 && p.Pattern.Rounds {
		words += ", and join to work in the round"
	}
	return words + ". "
}

// words gives row i in words, as the member likes to hear it. Casting on is
// left out where she has done it.
func (t *talk) words(p *plan, i int) reader.Spoken {
	words := RowWords(p.Plan, i, reader.Form{Crosses: t.crosses(), Heard: p.heard[i]})
	if t.begun {
		words.Opening = strings.TrimPrefix(words.Opening, castOn(p.Plan, i))
	}
	return words
}

// readHere reads the row, or the step, where the member is.
func (t *talk) readHere(before string) Reply { return t.read(t.plan, t.at, before) }

// read reads a place: a step of its row, or the whole row, or what is to be
// said before the first and after the last.
func (t *talk) read(p *plan, at session.Place, before string) Reply {
	i := p.rowAt(at)
	switch {
	case len(p.Rows) == 0:
		return t.say(before + castOnWords(p.Plan) + t.notOpen())
	case i < 0 && t.begun:
		return t.say(before + "You are before the first " + p.word(0) + ". It begins with the " + stitches(p.Pattern.CastOn.At(p.Size)) +
			" that you cast on. Say next row to hear it.")
	case i < 0:
		return t.say(before + castOnWords(p.Plan) + "Then say next row to hear the first.")
	case p.finished(at):
		return t.say(before + finishedWords(p))
	}
	reply := t.row(p, i)
	if steps := reply.Steps; t.stepwise() {
		reply.Said = steps[min(at.Step, len(steps)-1)]
	}
	reply.Said = before + reply.Said
	return reply
}

// row reads row i as a whole.
func (t *talk) row(p *plan, i int) Reply {
	words := t.words(p, i)
	return Reply{Said: words.Paragraph(), Steps: words.StepTexts(), Card: card(p, i), Choices: t.usual()}
}

// readRow reads a row that was named, and moves nothing.
func (t *talk) readRow() Reply {
	if !t.heard.HasNumber {
		return t.say("Which " + t.word() + "? Say its number too, such as read " + t.word() + " twelve.")
	}
	i, why := t.named()
	if i < 0 {
		return t.say(why)
	}
	t.begun = i <= t.here()
	reply := t.row(t.plan, i)
	reply.Said = t.sectionWords(i) + reply.Said
	if i != t.here() || t.plan.finished(t.at) {
		reply.Said += " " + t.stillAt()
	}
	return reply
}

// stillAt says that nothing has moved.
func (t *talk) stillAt() string {
	i := t.here()
	switch {
	case i < 0:
		return "You have not begun yet."
	case t.plan.finished(t.at):
		return "You are still at the end of the pattern."
	}
	return "You are still at " + t.plan.rowName(i) + "."
}

// finishedWords is said after the last row.
func finishedWords(p *plan) string {
	words := "That was the last " + p.word(len(p.Rows)-1) + ": the pattern is finished. "
	if n := p.Rows[len(p.Rows)-1].After.Count(); n > 0 {
		words += "You have " + stitches(n) + " left to bind off or to gather, as the pattern says. "
	}
	return words + "Well done."
}

// card is the small print under a row.
func card(p *plan, i int) *Card {
	r := p.Rows[i]
	count := fmt.Sprintf("%d %s", r.Before.Count(), plural("stitch", r.Before.Count()))
	if r.After.Count() != r.Before.Count() {
		count += fmt.Sprintf(", then %d", r.After.Count())
	}
	return &Card{
		Section: r.Section.Name,
		Row:     fmt.Sprintf("%s %d of %d", capital(p.word(i)), r.Number, p.lastOf(r.Section.Name)),
		Count:   count,
		Written: instruction.Print(r.Written, p.Size),
	}
}
