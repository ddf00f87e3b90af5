package session_test

import (
	"context"
	"errors"
	"net"
	"strings"
	"testing"

	"github.com/redis/go-redis/v9"

	"clew/session"
)

// breaking is a hook under which calls fail before they are sent, once the first
// script or write has come through.
type breaking struct {
	through int
	cause   error
}

func (b *breaking) DialHook(next redis.DialHook) redis.DialHook { return next }

func (b *breaking) ProcessPipelineHook(next redis.ProcessPipelineHook) redis.ProcessPipelineHook {
	return next
}

func (b *breaking) ProcessHook(next redis.ProcessHook) redis.ProcessHook {
	return func(ctx context.Context, cmd redis.Cmder) error {
		if b.through > 0 {
			cmd.SetErr(b.cause)
			return b.cause
		}
		err := next(ctx, cmd)
		if err == nil { // a script that Redis has not met yet is sent again
			b.through++
		}
		return err
	}
}

// Three changes take two calls. Once the first has changed something, nobody may
// be told that nothing was changed.
func TestSecondCallFails(t *testing.T) {
	ctx := t.Context()
	gone := &net.OpError{Op: "dial", Net: "tcp", Err: errors.New("no route")}
	full := redisError("OOM command not allowed when used memory > 'maxmemory'")
	join := func(s *session.Store) error {
		_, err := s.Join(ctx, group, wren, castOn, nil, "j1", evening)
		return err
	}
	leave := func(s *session.Store) error { return s.Leave(ctx, group, wren, "l1") }
	forget := func(s *session.Store) error { return s.Forget(ctx, group, wren) }
	for _, c := range []struct {
		name      string
		before    func(*session.Store) error // what has happened
		change    func(*session.Store) error
		again     error // what asking again gives
		uncertain bool
	}{
		{"join", nil, join, nil, true},
		{"join, having joined", join, join, nil, false},
		{"leave", join, leave, nil, true},
		{"leave, not having joined", nil, leave, session.ErrNotJoined, false},
		{"forget", join, forget, nil, true},
		{"forget whom nobody knows", nil, forget, nil, false},
	} {
		for kind, cause := range map[error]error{session.ErrUnreachable: gone, session.ErrRefused: full} {
			t.Run(c.name+": "+kind.Error(), func(t *testing.T) {
				client := openLocal(t)
				store := session.Open(client)
				must(t, store.Start(ctx, about, pattern))
				if c.before != nil {
					must(t, c.before(store))
				}
				broken := &breaking{cause: cause}
				client.AddHook(broken)
				err := c.change(store)
				if broken.through != 1 {
					t.Fatalf("%d calls came through, expected one", broken.through)
				}
				if !errors.Is(err, kind) || errors.Is(err, session.ErrUncertain) != c.uncertain {
					t.Errorf("found %v, expected it to be %q, and uncertain: %t", err, kind, c.uncertain)
				}
				if c.uncertain && strings.Contains(err.Error(), "nothing was changed") {
					t.Errorf("the first call has changed something, yet: %v", err)
				}
				// Asking again does the rest; then it is as if nothing had broken.
				broken.through = -100
				if err := c.change(store); !errors.Is(err, c.again) {
					t.Errorf("asking again: found %v, expected %v", err, c.again)
				}
				twin := openLocal(t)
				other := session.Open(twin)
				must(t, other.Start(ctx, about, pattern))
				if c.before != nil {
					must(t, c.before(other))
				}
				if err := c.change(other); !errors.Is(err, c.again) {
					t.Errorf("without a break: found %v, expected %v", err, c.again)
				}
				equal(t, "the state", bench{store, client}.dump(t), bench{other, twin}.dump(t))
			})
		}
	}
}

// redisError is a reply in which Redis refuses.
type redisError string

func (e redisError) Error() string { return string(e) }
func (redisError) RedisError()     {}
