package bot

import (
	"context"
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
	i, all := t.here(), len(t.plan.Rows)
	switch {
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
	rounds := 0
	for _, r := range p.Rows {
		if r.Rounds {
			rounds++
		}
	}
	switch {
	case rounds == 0:
		return plural("row", len(p.Rows))
	case rounds == len(p.Rows):
		return plural("round", rounds)
	}
	return "rows and rounds"
}

// catchup is a way back in: where the member is, when she was last here, how
// the stitches look that she should find on her needle, what is ahead, and how
// the group stands.
func (t *talk) catchup(ctx context.Context) (Reply, error) {
	said := t.whereWords() + " "
	log, err := t.store.Log(ctx, t.ask.Knitalong, t.ask.Member, 1)
	if err != nil {
		return Reply{}, err
	}
	if len(log) > 0 {
		said += "Your last move was " + ago(t.now().Sub(log[0].At)) + ". "
	}
	i := t.here()
	working := i >= 0 && !t.plan.finished(t.at)
	if working {
		said += t.looks(i) + t.ahead(i)
	}
	group, err := t.group(ctx)
	if err != nil {
		return Reply{}, err
	}
	said += group
	if working {
		said += "Say again to hear your " + t.plan.word(i) + ", or next row when it is done."
	}
	reply := t.say(said)
	if i >= 0 {
		reply.Card = card(t.plan, i)
	}
	return reply, nil
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
	for j := i + 1; j < len(t.plan.Rows); j++ {
		if t.plan.Rows[j].Section != section {
			next = j
			break
		}
		left++
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

// group says how many of the others have come further.
func (t *talk) group(ctx context.Context) (string, error) {
	board, err := t.store.Board(ctx, t.ask.Knitalong)
	if err != nil {
		return "", err
	}
	others, further := len(board)-1, 0
	for _, s := range board {
		if s.Member != t.ask.Member && s.Done > t.state.Done {
			further++
		}
	}
	switch {
	case others <= 0:
		return "", nil
	case others == 1 && further == 0:
		return "The one other knitter is no further than you. ", nil
	case others == 1:
		return "The one other knitter is further than you. ", nil
	case further == 0:
		return "None of the " + reader.Number(others) + " others is further than you. ", nil
	case further == 1:
		return "Of the " + reader.Number(others) + " others, one is further than you. ", nil
	}
	return "Of the " + reader.Number(others) + " others, " + reader.Number(further) + " are further than you. ", nil
}
