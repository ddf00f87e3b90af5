package bot

import (
	"context"
	"errors"

	"clew/reader"
	"clew/session"
)

// undo takes back the last move, whatever it was.
func (t *talk) undo(ctx context.Context) (Reply, error) {
	for range movesTried {
		if t.oldButton() {
			return t.move(ctx, t.underOldButton)
		}
		moved, err := t.store.Undo(ctx, t.ask.Knitalong, t.ask.Member, t.ask.Event, t.state.Place, t.now())
		switch {
		case stale(err):
			if err := t.refresh(ctx); err != nil {
				return Reply{}, err
			}
			continue
		case errors.Is(err, session.ErrNothingToUndo):
			return t.move(ctx, func() answer {
				return t.stay(t.changed + "There is no move left to take back. Nothing has moved. " + t.whereWords())
			})
		case err != nil:
			return Reply{}, err
		}
		return t.tookBack(ctx, moved)
	}
	return Reply{}, errBusy
}

// tookBack says where taking back a move has led. That is known only now, so it
// is kept with the event in a second step; where the event came before, it took
// nothing back and gets its first answer.
func (t *talk) tookBack(ctx context.Context, moved session.Moved) (Reply, error) {
	t.saved = true
	was := t.at
	t.state = moved.State
	if err := t.find(ctx); err != nil {
		return Reply{}, err
	}
	a, err := t.settle(ctx, t.ask.Event, "undo", func() (answer, error) {
		said := "Your last move is taken back. "
		if t.at.Size != was.Size {
			said += "You knit size " + reader.Name(t.at.Size) + " again. "
		}
		if i := t.here(); i >= 0 && t.at.Section != was.Section {
			said += SectionUnsaid(t.plan.Plan, i)
		}
		return answer{To: t.state.Place, Before: said, Begun: t.at.Size == was.Size}, nil
	})
	if err != nil {
		return Reply{}, err
	}
	return t.tell(ctx, a)
}
