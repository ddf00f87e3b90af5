package session

import (
	"context"
	_ "embed"
	"time"
)

//go:embed lua/join.lua
var joinSource string

var joinScript = placeScript(joinSource)

// Joining is a member's wish to take part.
type Joining struct {
	Member   Member
	Place    Place             // where a new member begins, with nothing done
	Settings map[string]string // as for Set
	Event    string            // up to 128 bytes; an event that came before changes nothing; empty is never a repeat
	At       time.Time         // when, kept to the millisecond
	Name     string            // as the platform shows her, up to 128 bytes; "" keeps the one that was known
	All      int64             // stitches of her whole pattern at Place, 0 to 2^53; 0 for not known; one who knits another size of it keeps hers
}

func (j Joining) check() error {
	return firstError(j.Member.check(), j.Place.check(), checkSettings(j.Settings), checkEvent(j.Event),
		checkName(j.Name), checkAll(j.All))
}

// Join puts a new member at a place with nothing done and these settings. Where it
// is the only knit-along that the person has joined, it becomes the
// one that the person is on; else the person is on none until Prefer chooses
// one. A member who has joined already keeps place, settings and choice,
// Repeated is set, and the event and the name are remembered; one who had left comes
// back to them.
//
// It takes more than one call to Redis. When one fails after an earlier one has changed
// something, the error is ErrUncertain, too.
//
// Errors: ErrUnknownKnitalong. Joining again is safe after any error.
func (s *Store) Join(ctx context.Context, id string, j Joining) (Moved, error) {
	if err := firstError(checkID(id), j.check()); err != nil {
		return Moved{}, err
	}
	// The index by which ForgetAll finds the place is ahead of it, whatever breaks off.
	if err := s.mustExist(ctx, id); err != nil {
		return Moved{}, err
	}
	kept, err := s.keep(ctx, id, j.Member)
	if err != nil {
		return Moved{}, err
	}
	args := j.Place.append([]any{string(j.Member), j.Event})
	reply, err := s.run(ctx, joinScript, memberKeys(id, j.Member)[:4],
		append(args, encodeSettings(j.Settings), j.At.UnixMilli(), j.Name, known(j.All))...)
	if err != nil {
		return Moved{}, half(kept, err)
	}
	moved, err := stateReply(reply)
	if err != nil || !moved.Joined {
		return moved, err
	}
	// The person is outside of the knit-along's hash tag, so this can't be part
	// of the script. It comes second: a person never points at a knit-along
	// without a place in it.
	moved.Repeated = reply[0] != "joined"
	return moved, half(kept || reply[0] != "repeated", s.enlist(ctx, id, j.Member, j.At))
}

//go:embed lua/leave.lua
var leaveSource string

var leaveScript = placeScript(leaveSource)

// Leave takes a member off the board and out of the person's knit-alongs. The place
// stays, for Join to come back to. The board of a closed knit-along is shown once
// more. An event that came before changes nothing and is no error, whether the member
// has joined again since or not.
//
// It takes more than one call to Redis. When one fails after the first has changed
// the place, the error is ErrUncertain, too.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong. Leaving again is safe after any
// error. Where somebody joins and leaves at the same moment, place and person
// may come to disagree; either, asked for once more, ends that.
func (s *Store) Leave(ctx context.Context, id string, member Member, event string) error {
	if err := firstError(checkID(id), member.check(), checkEvent(event)); err != nil {
		return err
	}
	reply, err := s.run(ctx, leaveScript, memberKeys(id, member)[:4], string(member), event)
	if err != nil {
		return err
	}
	code := reply[0]
	if code == "unknown" || code == "repeated" && reply[1] == "1" {
		return refusals[code]
	}
	if err := s.tendClosed(ctx, id); err != nil {
		return half(code == "left", err)
	}
	// The place comes first, since it alone knows the event. So a member who is
	// out of it may still have it among the person's knit-alongs, where an
	// earlier leaving broke off: this ends it.
	changed, err := s.part(ctx, member, id)
	if err != nil {
		return half(code == "left", err)
	}
	if changed {
		return nil
	}
	return refusals[code]
}

//go:embed lua/set.lua
var setSource string

var setScript = placeScript(setSource)

// Set changes the settings named and leaves the others; an empty value removes
// one. Names are 1 to 32 small letters and hyphens, values one line of up to 256
// bytes. An event that came before changes nothing, and gets the member's state
// now.
//
// The setting "board" says whether the board names her. It takes more than one call to
// Redis, since the board of a closed knit-along is shown once more. When one fails
// after the first, the error is ErrUncertain, too; the same event again does the rest.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Set(ctx context.Context, id string, member Member, settings map[string]string, event string) (State, error) {
	if err := firstError(checkID(id), member.check(), checkSettings(settings), checkEvent(event)); err != nil {
		return State{}, err
	}
	args := []any{string(member), event}
	for name, value := range settings {
		args = append(args, name, value)
	}
	reply, err := s.run(ctx, setScript, memberKeys(id, member)[:3], args...)
	if err != nil {
		return State{}, err
	}
	moved, err := stateReply(reply)
	if _, shows := settings["board"]; err == nil && shows {
		err = half(true, s.tendClosed(ctx, id))
	}
	return moved.State, err
}
