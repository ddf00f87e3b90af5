package bot

import (
	"context"
	"errors"

	"clew/reader"
	"clew/session"
)

// undo takes back the last move, whatever it was.
func (t *talk) undo(ctx context.Context) (Reply, error) {
	a, err := t.settle(ctx, "undo", func() (answer, error) {
		if t.oldButton() {
			return t.underOldButton(), nil
		}
		return t.takeBack(ctx)
	})
	if err != nil {
		return Reply{}, err
	}
	return t.tell(ctx, a)
}

// takeBack leads to where the last move came from.
func (t *talk) takeBack(ctx context.Context) (answer, error) {
	to, err := t.store.Undoable(ctx, t.ask.Knitalong, t.ask.Member)
	if errors.Is(err, session.ErrNothingToUndo) {
		return t.stay("There is no move left to take back. Nothing has moved. " + t.notTakenBack() + t.whereWords()), nil
	}
	if err != nil {
		return answer{}, err
	}
	then, err := t.carry(ctx, to, t.about.Revision)
	if err != nil {
		return answer{}, err
	}
	then, _ = t.withhold(then)
	at, p := then.at, then.plan
	said := "Your last move is taken back. " + t.notTakenBack()
	switch {
	case at.Size != t.at.Size:
		said += "You knit size " + reader.Name(at.Size) + " again. "
	case at.LeftOut != t.at.LeftOut:
		out, err := t.leftOutWords(at)
		if err != nil {
			return answer{}, err
		}
		said += "As before, " + out + " "
	}
	if i := p.rowAt(at); i >= 0 && at.Section != t.at.Section {
		said += SectionUnsaid(p.Plan, i)
	}
	return answer{To: to, Before: said, Begun: at.Size == t.at.Size, undoes: true}, nil
}
