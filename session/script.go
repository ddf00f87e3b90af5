package session

import (
	"context"
	_ "embed"
	"fmt"

	"github.com/redis/go-redis/v9"
)

//go:embed lua/prelude.lua
var preludeSource string

// placeScript makes a script that works on a member's place hash.
func placeScript(source string) *redis.Script {
	return redis.NewScript(preludeSource + source)
}

//go:embed lua/index.lua
var indexSource string

// personScript makes a script that works on a person's hash.
func personScript(source string) *redis.Script {
	return redis.NewScript(indexSource + source)
}

// run calls a script by its digest, or by its text where Redis has not met it
// yet, and gives its reply, whose first string is the code. What Redis has no
// value for is empty.
func (s *Store) run(ctx context.Context, script *redis.Script, keys []string, args ...any) ([]string, error) {
	return s.eval(ctx, script, true, keys, args...)
}

// read calls, like run, a script that writes nothing: when it fails, it is
// certain that nothing was changed.
func (s *Store) read(ctx context.Context, script *redis.Script, keys []string, args ...any) ([]string, error) {
	return s.eval(ctx, script, false, keys, args...)
}

func (s *Store) eval(ctx context.Context, script *redis.Script, changing bool, keys []string, args ...any) ([]string, error) {
	if err := ctx.Err(); err != nil {
		return nil, unreachable(err)
	}
	values, err := script.Run(ctx, s.client, keys, args...).Slice()
	if err != nil {
		return nil, failure(err, changing)
	}
	reply := make([]string, len(values))
	for i, value := range values {
		if value == nil {
			continue
		}
		text, ok := value.(string)
		if !ok {
			return nil, fmt.Errorf("a script of the store gave a %T where a text was expected", value)
		}
		reply[i] = text
	}
	if len(reply) == 0 {
		return nil, fmt.Errorf("a script of the store gave an empty reply")
	}
	return reply, nil
}

// refusals are the codes that stand for an error wherever a script gives them.
var refusals = map[string]error{
	"unknown":    ErrUnknownKnitalong,
	"not-joined": ErrNotJoined,
	"nothing":    ErrNothingToUndo,
	"exists":     ErrStarted,
	"full":       ErrHelpers,
	"crowded":    ErrCrowded,
	"no-session": ErrUnknownSession,
}

// stateReply is a script's reply of a code, a stored answer and a state.
func stateReply(reply []string) (Moved, error) {
	code := reply[0]
	if err, ok := refusals[code]; ok {
		return Moved{}, err
	}
	if len(reply) != 2+len(stateFields) {
		return Moved{}, fmt.Errorf("a script of the store gave %d values, expected %d", len(reply), 2+len(stateFields))
	}
	state, err := decodeState(reply[2:])
	if err != nil {
		return Moved{}, err
	}
	if code == "stale" {
		return Moved{}, &Stale{Now: state.Place}
	}
	return Moved{State: state, Repeated: code == "repeated", Answer: reply[1]}, nil
}
