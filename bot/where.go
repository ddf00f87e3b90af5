package bot

import (
	"strings"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/reader"
)

// where says where the member is.
func (t *talk) where() Reply {
	reply := t.say(t.whereWords())
	if i := t.here(); i >= 0 {
		reply.Card = card(t.plan, i)
	}
	return reply
}

func (t *talk) whereWords() string {
	i, all := t.here(), len(t.plan.Whole().Rows)
	switch {
	case len(t.plan.Rows) == 0:
		return "You have not begun yet. " + castOnWords(t.plan.Plan) + t.notOpen()
	case i < 0:
		return "You have not begun yet. " + castOnWords(t.plan.Plan) + "Then say next row."
	case t.plan.finished(t.at):
		if all == 1 {
			return "You have finished the pattern: its one " + t.plan.word(i) + " is done."
		}
		return "You have finished the pattern, all " + reader.Number(all) + " " + t.plan.kinds() + " of it."
	}
	r := t.plan.Rows[i]
	words := "You are at " + t.plan.rowName(i)
	if last := t.plan.lastOf(r.Section.Name); r.Number == last {
		words += ", the last of its section."
	} else {
		words += ", and the section ends with " + t.plan.word(i) + " " + reader.Number(last) + "."
	}
	if last := t.lastStep(i); t.stepwise() && last > 0 {
		words += " You are at step " + reader.Number(min(t.at.Step, last)+1) + " of " + reader.Number(last+1) + "."
	}
	return words + " Your " + t.plan.word(i) + " is the " + reader.Ordinal(i+1) + " of " + reader.Number(all) + " " + t.plan.kinds() + " in all, and begins with " + stitches(r.Before.Count()) + "."
}

// kinds is what the plan's rows are called together.
func (p *plan) kinds() string {
	rounds, rows := 0, p.Whole().Rows
	for _, r := range rows {
		if r.Rounds {
			rounds++
		}
	}
	switch {
	case rounds == 0:
		return plural("row", len(rows))
	case rounds == len(rows):
		return plural("round", rounds)
	}
	return "rows and rounds"
}

// looksMost is how much of the needle is said to find a place by, in steps.
const looksMost = 2

// looks says what the stitches look like that row i begins with.
func (t *talk) looks(i int) string {
	r := t.plan.Rows[i]
	asLooks := &instruction.AsLooks{Extent: instruction.Extent{Reach: instruction.ToEnd}}
	did := r.Before.Work([]instruction.Node{asLooks}, fabric.Row{Rounds: r.Rounds})
	if did.Problem != nil || len(did.Done) != 1 { // there are no stitches yet
		return ""
	}
	looks, ok := did.Done[0].(*instruction.AsLooks)
	if !ok {
		return ""
	}
	if _, alike := looks.Body[0].(*instruction.Work); alike && len(looks.Body) == 1 { // no place differs from another
		return ""
	}
	steps := reader.Say(reader.Row{Body: looks.Body, Before: r.Before.Count(), After: r.Before.Count()}, reader.Form{}).Steps
	how := "go like this"
	if len(steps) > looksMost {
		steps, how = steps[:looksMost], "begin like this"
	}
	return "To find your place by eye, look at the stitches on your left needle. Worked as they look, the " + t.plan.word(i) + " would " + how + ". " + strings.Join(steps, " ") + " "
}

// ahead says what comes after row i.
func (t *talk) ahead(i int) string {
	section, word := t.plan.Rows[i].Section, t.plan.word(i)
	left, next := 0, -1
	for j, r := range t.plan.Whole().Rows {
		switch {
		case j <= i:
		case r.Section == section:
			left++
		case next < 0 && j < len(t.plan.Rows):
			next = j
		}
	}
	words := ""
	switch left {
	case 0:
		words = "This is the last " + word + " of the section. "
	case 1:
		words = "After it, one more " + word + " of " + reader.Name(section.Name) + " remains. "
	default:
		words = "After it, " + reader.Number(left) + " more " + word + "s of " + reader.Name(section.Name) + " remain. "
	}
	if next >= 0 {
		name := t.plan.Rows[next].Section.Name
		n := t.plan.SectionRows(name)
		words += "Then comes " + reader.Name(name) + " with " + reader.Number(n) + " " + plural(t.plan.word(next), n) + ". "
	}
	return words
}
