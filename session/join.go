package session

import (
	"context"
	_ "embed"
	"time"

	"github.com/redis/go-redis/v9"
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
	All      int64             // stitches of her whole pattern, 0 to 2^53; 0 keeps what was known
}

func (j Joining) check() error {
	return firstError(j.Member.check(), j.Place.check(), checkSettings(j.Settings), checkEvent(j.Event),
		checkText("the name", j.Name, 0, 128), checkNumber("the number of stitches in all", j.All, 0))
}

// Join puts a new member at a place with nothing done and these settings. Where it
// is the only knit-along that the person has joined, it becomes the
// one that the person is on; else the person is on none until Prefer chooses
// one. A member who has joined already keeps place, settings and choice,
// Repeated is set, and the event is remembered; one who had left comes back to them.
//
// It takes two calls to Redis. When the second fails after the first has changed
// something, the error is ErrUncertain, too.
//
// Errors: ErrUnknownKnitalong. Joining again is safe after any error.
func (s *Store) Join(ctx context.Context, id string, j Joining) (Moved, error) {
	if err := firstError(checkID(id), j.check()); err != nil {
		return Moved{}, err
	}
	args := j.Place.append([]any{string(j.Member), j.Event})
	reply, err := s.run(ctx, joinScript, []string{placeKey(id, j.Member), boardKey(id), aboutKey(id)},
		append(args, encodeSettings(j.Settings))...)
	if err != nil {
		return Moved{}, err
	}
	moved, err := stateReply(reply)
	if err != nil || !moved.Joined {
		return moved, err
	}
	// The person is outside of the knit-along's hash tag, so this can't be part
	// of the script. It comes second: a person never points at a knit-along
	// without a place in it.
	moved.Repeated = reply[0] != "joined"
	return moved, half(reply[0] != "repeated", s.enlist(ctx, id, j.Member, j.At))
}

//go:embed lua/leave.lua
var leaveSource string

var leaveScript = placeScript(leaveSource)

// Leave takes a member off the board and out of the person's knit-alongs. The
// place stays, for Join to come back to. An event that came before changes
// nothing and is no error, whether the member has joined again since or not.
//
// It takes two calls to Redis. When the second fails after the first has changed
// the place, the error is ErrUncertain, too.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong. Leaving again is safe after any
// error. Where somebody joins and leaves at the same moment, place and person
// may come to disagree; either, asked for once more, ends that.
func (s *Store) Leave(ctx context.Context, id string, member Member, event string) error {
	if err := firstError(checkID(id), member.check(), checkEvent(event)); err != nil {
		return err
	}
	reply, err := s.run(ctx, leaveScript, []string{placeKey(id, member), boardKey(id), aboutKey(id)}, string(member), event)
	if err != nil {
		return err
	}
	code := reply[0]
	if code == "unknown" || code == "repeated" && reply[1] == "1" {
		return refusals[code]
	}
	// The place comes first, since it alone knows the event. So a member who is
	// out of it may still have it among the person's knit-alongs, where an
	// earlier leaving broke off: this ends it.
	changed, err := s.part(ctx, id, member, "")
	if err != nil {
		return half(code == "left", err)
	}
	if changed {
		return nil
	}
	return refusals[code]
}

//go:embed lua/forget.lua
var forgetSource string

var forgetScript = redis.NewScript(forgetSource)

// Forget removes all that the knit-along keeps of a member: place, settings, log
// and board figure, and that the member helps. The person goes too when this was
// the only knit-along joined. Stumbles carry no name and stay; so does who began
// the knit-along. Forgetting whom nobody knows is no error.
//
// It takes two calls to Redis. When the second fails after the first has changed
// the person, the error is ErrUncertain, too. Forgetting again is safe after any
// error.
func (s *Store) Forget(ctx context.Context, id string, member Member) error {
	if err := firstError(checkID(id), member.check()); err != nil {
		return err
	}
	changed, err := s.part(ctx, id, member, "all")
	if err != nil {
		return err
	}
	_, err = s.run(ctx, forgetScript, []string{placeKey(id, member), logKey(id, member), boardKey(id), aboutKey(id)}, string(member))
	return half(changed, err)
}

//go:embed lua/set.lua
var setSource string

var setScript = placeScript(setSource)

// Set changes the settings named and leaves the others; an empty value removes
// one. Names are 1 to 32 small letters and hyphens, values one line of up to 256
// bytes. An event that came before changes nothing, and gets the member's state
// now.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Set(ctx context.Context, id string, member Member, settings map[string]string, event string) (State, error) {
	if err := firstError(checkID(id), member.check(), checkSettings(settings), checkEvent(event)); err != nil {
		return State{}, err
	}
	args := []any{event}
	for name, value := range settings {
		args = append(args, name, value)
	}
	reply, err := s.run(ctx, setScript, []string{placeKey(id, member), aboutKey(id)}, args...)
	if err != nil {
		return State{}, err
	}
	moved, err := stateReply(reply)
	return moved.State, err
}
