package session_test

import (
	"context"
	"errors"
	"fmt"
	"net"
	"strings"
	"testing"

	"github.com/redis/go-redis/v9"

	"clew/session"
)

// breaking is a hook under which calls fail before they are sent, once a number
// of them has come through. It does nothing until it is armed.
type breaking struct {
	armed bool
	left  int // how many come through yet
	cause error
}

// arm lets n calls through and fails those after it.
func (b *breaking) arm(n int, cause error) { *b = breaking{armed: true, left: n, cause: cause} }

// disarm says whether a call has failed, or would have been the next to fail.
func (b *breaking) disarm() (reached bool) {
	reached = b.left <= 0
	b.armed = false
	return reached
}

func (b *breaking) DialHook(next redis.DialHook) redis.DialHook { return next }

func (b *breaking) ProcessPipelineHook(next redis.ProcessPipelineHook) redis.ProcessPipelineHook {
	return next
}

func (b *breaking) ProcessHook(next redis.ProcessHook) redis.ProcessHook {
	return func(ctx context.Context, cmd redis.Cmder) error {
		if b.armed && b.left <= 0 {
			cmd.SetErr(b.cause)
			return b.cause
		}
		err := next(ctx, cmd)
		if err == nil { // a script that Redis has not met yet is sent again
			b.left--
		}
		return err
	}
}

// Some changes take several calls. Once one of them has changed something,
// nobody may be told that nothing was changed; and asking again does the rest.
func TestLaterCallFails(t *testing.T) {
	ctx := t.Context()
	join := func(s *session.Store) error {
		_, err := s.Join(ctx, group, wren, castOn, nil, "j1", evening)
		return err
	}
	start := func(s *session.Store) error { return s.Start(ctx, about, pattern) }
	leave := func(s *session.Store) error { return s.Leave(ctx, group, wren, "l1") }
	leaveUnnamed := func(s *session.Store) error { return s.Leave(ctx, group, wren, "") }
	forget := func(s *session.Store) error { return s.Forget(ctx, group, wren) }
	closing := func(s *session.Store) error { return s.Close(ctx, group) }
	reopen := func(s *session.Store) error { return s.Reopen(ctx, group) }
	both := func(a, b func(*session.Store) error) func(*session.Store) error {
		return func(s *session.Store) error { return errors.Join(a(s), b(s)) }
	}
	for _, c := range []halfDone{
		{"start", nil, start, nil, session.ErrStarted, 3, true},
		{"start again", start, start, session.ErrStarted, session.ErrStarted, 4, false},
		{"join", start, join, nil, nil, 2, true},
		{"join, having joined", both(start, join), join, nil, nil, 2, false},
		{"leave", both(start, join), leave, nil, nil, 2, true},
		{"leave without an event", both(start, join), leaveUnnamed, nil, nil, 2, true},
		{"leave, not having joined", start, leave, session.ErrNotJoined, session.ErrNotJoined, 2, false},
		{"leave again", both(start, both(join, leave)), leave, nil, nil, 2, false},
		{"forget", both(start, join), forget, nil, nil, 2, true},
		{"forget whom nobody knows", start, forget, nil, nil, 2, false},
		{"close", start, closing, nil, nil, 3, true},
		{"close what is closed", both(start, closing), closing, nil, nil, 3, false},
		{"reopen", both(start, closing), reopen, nil, nil, 3, true},
		{"reopen what is open", start, reopen, nil, nil, 3, false},
	} {
		for through := 1; through < c.calls; through++ {
			t.Run(fmt.Sprintf("%s, call %d away", c.name, through+1), func(t *testing.T) {
				c.test(t, through, session.ErrUnreachable, &net.OpError{Op: "dial", Net: "tcp", Err: errors.New("no route")})
			})
			t.Run(fmt.Sprintf("%s, call %d refused", c.name, through+1), func(t *testing.T) {
				c.test(t, through, session.ErrRefused, redisError("OOM command not allowed when used memory > 'maxmemory'"))
			})
		}
	}
}

// halfDone is a change that takes several calls.
type halfDone struct {
	name      string
	before    func(*session.Store) error // what has happened
	change    func(*session.Store) error
	whole     error // what it gives
	again     error // what asking again gives after a failed call
	calls     int   // how many it takes
	uncertain bool  // a failure of any but the first is
}

func (c halfDone) test(t *testing.T, through int, kind, cause error) {
	broken := &breaking{}
	b := c.begin(t)
	b.client.AddHook(broken)
	broken.arm(through, cause)
	err := c.change(b.Store)
	if !broken.disarm() || !errors.Is(err, kind) || errors.Is(err, session.ErrUncertain) != c.uncertain {
		t.Errorf("found %v, expected it to be %q, and uncertain: %t", err, kind, c.uncertain)
	}
	if c.uncertain && strings.Contains(err.Error(), "nothing was changed") {
		t.Errorf("an earlier call has changed something, yet: %v", err)
	}
	// Asking again does the rest; then it is as if nothing had broken.
	if err := c.change(b.Store); !errors.Is(err, c.again) {
		t.Errorf("asking again: found %v, expected %v", err, c.again)
	}
	twin, counted := c.begin(t), &breaking{}
	twin.client.AddHook(counted)
	counted.arm(100, nil)
	if err := c.change(twin.Store); !errors.Is(err, c.whole) || counted.left != 100-c.calls {
		t.Errorf("without a break: found %v in %d calls, expected %v in %d", err, 100-counted.left, c.whole, c.calls)
	}
	counted.disarm()
	equal(t, "the state", b.dump(t), twin.dump(t))
}

// begin gives a store in which what is before has happened.
func (c halfDone) begin(t *testing.T) bench {
	client := openLocal(t)
	must(t, client.Ping(t.Context()).Err()) // a new connection opens with a call of its own
	b := bench{session.Open(client), client}
	if c.before != nil {
		must(t, c.before(b.Store))
	}
	return b
}

// redisError is a reply in which Redis refuses.
type redisError string

func (e redisError) Error() string { return string(e) }
func (redisError) RedisError()     {}
