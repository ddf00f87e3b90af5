package bot

import (
	"context"
	"time"

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
	i := t.here()
	switch {
	case i < 0:
		return "You have not begun yet. " + castOnWords(t.plan.Plan) + "Then say next row."
	case t.finished(t.plan, t.state.Place):
		return "You have finished the pattern: all " + reader.Number(len(t.plan.Rows)) + " " + rowWord(t.plan.Pattern.Rounds) + "s of it."
	}
	r := t.plan.Rows[i]
	words := "You are at " + t.rowName(i)
	if last := lastOf(t.plan, r.Section.Name); r.Number == last {
		words += ", its last."
	} else {
		words += ", which ends with " + rowWord(r.Rounds) + " " + reader.Number(last) + "."
	}
	if steps := len(t.words(t.plan, i).StepTexts()); t.stepwise() && steps > 1 {
		words += " You are at step " + reader.Number(min(t.state.Step, steps-1)+1) + " of " + reader.Number(steps) + "."
	}
	return words + " That is " + reader.Number(i+1) + " of " + reader.Number(len(t.plan.Rows)) + " in all. It begins with " + stitches(r.Before.Count()) + "."
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
	if i := t.here(); i >= 0 && !t.finished(t.plan, t.state.Place) {
		said += t.looks(i) + t.ahead(i)
	}
	group, err := t.group(ctx)
	if err != nil {
		return Reply{}, err
	}
	return t.say(said + group + "Say again to hear your row, or next row when it is done."), nil
}

// looks says what the stitches look like that row i begins with.
func (t *talk) looks(i int) string {
	r := t.plan.Rows[i]
	if r.Before.Count() == 0 {
		return ""
	}
	did := r.Before.Work([]instruction.Node{&instruction.AsLooks{Extent: instruction.Extent{Reach: instruction.ToEnd}}}, fabric.Row{Rounds: r.Rounds})
	if did.Problem != nil || len(did.Done) != 1 {
		return ""
	}
	looks, ok := did.Done[0].(*instruction.AsLooks)
	if !ok {
		return ""
	}
	spoken := reader.Say(reader.Row{Body: looks.Body, Before: r.Before.Count(), After: r.Before.Count()}, reader.Form{})
	words := "To find your place by eye: from where the " + rowWord(r.Rounds) + " begins, the stitches on your needle would be worked as they look like this."
	for _, step := range spoken.Steps {
		words += " " + step
	}
	return words + " "
}

// ahead says what comes after row i.
func (t *talk) ahead(i int) string {
	section := t.plan.Rows[i].Section
	left, next := 0, ""
	for _, r := range t.plan.Rows[i+1:] {
		if r.Section != section {
			next = r.Section.Name
			break
		}
		left++
	}
	words := "This is the last " + t.word() + " of the section. "
	if left > 0 {
		words = "After it, " + reader.Number(left) + " more " + plural(t.word(), left) + " of " + reader.Name(section.Name) + " remain. "
		if left == 1 {
			words = "After it, one more " + t.word() + " of " + reader.Name(section.Name) + " remains. "
		}
	}
	if next != "" {
		n := t.plan.SectionRows(next)
		words += "Then comes " + reader.Name(next) + " with " + reader.Number(n) + " " + plural(t.word(), n) + ". "
	}
	return words
}

// group says how many of the others have come further.
func (t *talk) group(ctx context.Context) (string, error) {
	board, err := t.store.Board(ctx, t.ask.Knitalong)
	if err != nil {
		return "", err
	}
	others, further := 0, 0
	for _, s := range board {
		if s.Member == t.ask.Member {
			continue
		}
		others++
		if s.Done > t.state.Done {
			further++
		}
	}
	switch {
	case others == 0:
		return "", nil
	case further == 0:
		return "None of the others has knitted more stitches than you. ", nil
	}
	return "Of the " + reader.Number(others) + " others, " + reader.Number(further) + " " + have(further) + " knitted more stitches than you. ", nil
}

func have(n int) string {
	if n == 1 {
		return "has"
	}
	return "have"
}

func plural(noun string, n int) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

// ago words a stretch of time, in its largest unit.
func ago(d time.Duration) string {
	const day = 24 * time.Hour
	units := []struct {
		of   time.Duration
		name string
	}{{7 * day, "week"}, {day, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}}
	for _, u := range units {
		if n := int(d / u.of); n > 0 {
			return reader.Number(n) + " " + plural(u.name, n) + " ago"
		}
	}
	return "just now"
}
