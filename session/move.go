package session

import (
	"context"
	_ "embed"
	"fmt"
	"strconv"
)

//go:embed lua/move.lua
var moveSource string

var moveScript = placeScript(moveSource)

// Move takes a member from m.From to m.To, in one round trip, and remembers the
// move for Undo and in the log. An event that was answered before moves nothing
// and gets the answer stored then, wherever the member is by now. A move to the
// very place that the member is at is no move to take back, and none in the log; the
// event is remembered, and Name, All, Told and Rests are kept.
//
// Errors: *Stale when the member is not at m.From, ErrNotJoined,
// ErrUnknownKnitalong. After an error nothing has moved, unless it is
// ErrUncertain.
func (s *Store) Move(ctx context.Context, id string, m Move) (Moved, error) {
	if err := firstError(checkID(id), m.check()); err != nil {
		return Moved{}, err
	}
	reply, err := s.run(ctx, moveScript, memberKeys(id, m.Member), m.args()...)
	if err != nil {
		return Moved{}, err
	}
	return stateReply(reply)
}

// args are the arguments that lua/move.lua and lua/undo.lua document.
func (m Move) args() []any {
	args := make([]any, 0, 22)
	args = append(args, string(m.Member), m.Event)
	args = m.From.append(args)
	args = m.To.append(args)
	return append(args, m.Done, m.How, m.At.UnixMilli(), m.Answer, m.Name, known(m.All), mark(m.Told), mark(m.Rests))
}

// known spells a figure for a script, to which an empty one is not known.
func known(n int64) string {
	if n == 0 {
		return ""
	}
	return strconv.FormatInt(n, 10)
}

// mark spells yes and no for a script.
func mark(yes bool) string {
	if yes {
		return "1"
	}
	return ""
}

// memberKeys are the keys that every script that changes a member has first, in
// this order: place, about, roster, board, log.
func memberKeys(id string, m Member) []string {
	return []string{placeKey(id, m), aboutKey(id), rosterKey(id), boardKey(id), logKey(id, m)}
}

//go:embed lua/undoable.lua
var undoableSource string

var undoableScript = placeScript(undoableSource)

// Undoable gives the place that Undo would return a member to: the one that the
// newest move not taken back yet has left. It changes nothing.
//
// Errors: ErrNothingToUndo, ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Undoable(ctx context.Context, id string, member Member) (Place, error) {
	if err := firstError(checkID(id), member.check()); err != nil {
		return Place{}, err
	}
	reply, err := s.read(ctx, undoableScript, memberKeys(id, member)[:2])
	if err != nil {
		return Place{}, err
	}
	if err := refusals[reply[0]]; err != nil {
		return Place{}, err
	}
	if len(reply) != 1+placeFields {
		return Place{}, fmt.Errorf("a script of the store gave %d values, expected %d", len(reply), 1+placeFields)
	}
	return decodePlace(reply[1:])
}

//go:embed lua/undo.lua
var undoSource string

var undoScript = placeScript(undoSource)

// Undo takes back the member's newest move that was not taken back yet, in one
// round trip: the whole place that the move left, with its revision, size and
// rows left out, the stitches done there and those in all, so that m.Done is not
// used, and m.All only where an earlier version kept the move. m.To must be that place, as Undoable gives it. UndoDepth moves can be taken back. The
// answer is kept with the event, as Move keeps it: an event that was answered
// before takes nothing back and gets the answer stored then.
//
// Errors: *Stale when the member is not at m.From, or Undoable would not give m.To
// any more; ErrNotJoined, ErrUnknownKnitalong. After an error nothing has moved,
// unless it is ErrUncertain.
func (s *Store) Undo(ctx context.Context, id string, m Move) (Moved, error) {
	if err := firstError(checkID(id), m.check()); err != nil {
		return Moved{}, err
	}
	reply, err := s.run(ctx, undoScript, memberKeys(id, m.Member), m.args()...)
	if err != nil {
		return Moved{}, err
	}
	return stateReply(reply)
}
