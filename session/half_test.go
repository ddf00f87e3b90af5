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
	saysClosed := about
	saysClosed.Closed = true
	second := about
	second.ID = "second"
	start := func(b bench) error { return b.Start(ctx, about, pattern) }
	startClosed := func(b bench) error { return b.Start(ctx, saysClosed, pattern) }
	join := func(b bench) error {
		_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: "j1", At: evening})
		return err
	}
	joinAgain := func(b bench) error {
		_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: "j2", At: evening})
		return err
	}
	leave := func(b bench) error { return b.Leave(ctx, group, wren, "l1") }
	leaveUnnamed := func(b bench) error { return b.Leave(ctx, group, wren, "") }
	startSecond := func(b bench) error { return b.Start(ctx, second, pattern) }
	joinSecond := func(b bench) error {
		_, err := b.Join(ctx, second.ID, session.Joining{Member: wren, Place: castOn, At: evening})
		return err
	}
	help := func(b bench) error { return b.Help(ctx, group, wren, true) }
	forget := func(b bench) error { _, err := b.ForgetAll(ctx, wren); return err }
	forgetHost := func(b bench) error { _, err := b.ForgetAll(ctx, odo); return err }
	closing := func(b bench) error { return b.Close(ctx, group) }
	reopen := func(b bench) error { return b.Reopen(ctx, group) }
	unlisted := func(b bench) error { return b.client.HDel(ctx, indexHash, group).Err() }
	untended := func(b bench) error { return b.client.ZRem(ctx, tendedSet, group).Err() }
	listed := func(b bench) error { return b.client.HSet(ctx, indexHash, group, entry).Err() }
	shown := func(b bench) error {
		showing, _, err := b.ClaimBoard(ctx, group, evening)
		must(t, err)
		must(t, b.BoardShown(ctx, group, showing.Change, "board"))
		_, err = b.Due(ctx, "discord", evening)
		return err
	}
	hide := func(b bench) error {
		_, err := b.Set(ctx, group, wren, map[string]string{"board": "hidden"}, "h1")
		return err
	}
	type deeds = []func(bench) error
	over := deeds{start, join, closing, shown}
	for _, c := range []halfDone{
		{"start", nil, start, nil, session.ErrStarted, 6, 0},
		{"start what says it is closed", nil, startClosed, nil, session.ErrStarted, 6, 0},
		{"start again", deeds{start}, start, session.ErrStarted, session.ErrStarted, 7, 6},
		{"start again, out of the index", deeds{start, unlisted}, start, session.ErrStarted, session.ErrStarted, 7, 2},
		{"start again, not tended", deeds{start, untended}, start, session.ErrStarted, session.ErrStarted, 7, 5},
		{"join", deeds{start}, join, nil, nil, 4, 1},
		{"join, having joined", deeds{start, join}, join, nil, nil, 4, 3},
		{"join by another event, having joined", deeds{start, join}, joinAgain, nil, nil, 4, 2},
		{"leave", deeds{start, join}, leave, nil, nil, 3, 0},
		{"leave without an event", deeds{start, join}, leaveUnnamed, nil, nil, 3, 0},
		{"leave, not having joined", deeds{start}, leave, session.ErrNotJoined, session.ErrNotJoined, 3, 2},
		{"leave again", deeds{start, join, leave}, leave, nil, nil, 3, 2},
		{"leave a closed one", over, leave, nil, nil, 4, 0},
		{"forget, in a closed one", over, forget, nil, nil, 6, 1},
		{"hide, in a closed one", over, hide, nil, nil, 3, 0},
		{"forget", deeds{start, join, startSecond, joinSecond}, forget, nil, nil, 5, 1},
		{"forget the host", deeds{start}, forgetHost, nil, nil, 4, 2},
		{"forget whom nobody knows", deeds{start}, forget, nil, nil, 3, 2},
		{"forget a helper", deeds{start, help}, forget, nil, nil, 4, 2},
		{"name a helper", deeds{start}, help, nil, nil, 2, 0},
		{"close", deeds{start}, closing, nil, nil, 3, 0},
		{"close what is closed", deeds{start, closing}, closing, nil, nil, 3, 2},
		{"close what is closed, in the index", deeds{start, closing, listed}, closing, nil, nil, 3, 1},
		{"reopen", deeds{start, closing}, reopen, nil, nil, 5, 0},
		{"reopen what is open", deeds{start}, reopen, nil, nil, 5, 4},
		{"reopen what is open, out of the index", deeds{start, unlisted}, reopen, nil, nil, 5, 1},
		{"reopen what is open, not tended", deeds{start, untended}, reopen, nil, nil, 5, 4},
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
	name   string
	before []func(bench) error // what has happened
	change func(bench) error
	whole  error // what it gives
	again  error // what asking again gives after a failed call
	calls  int   // how many it takes
	idle   int   // how many of the first ones change nothing
}

func (c halfDone) test(t *testing.T, through int, kind, cause error) {
	broken, uncertain := &breaking{}, through > c.idle
	b := c.begin(t)
	b.client.AddHook(broken)
	broken.arm(through, cause)
	err := c.change(b)
	if !broken.disarm() || !errors.Is(err, kind) || errors.Is(err, session.ErrUncertain) != uncertain {
		t.Errorf("found %v, expected it to be %q, and uncertain: %t", err, kind, uncertain)
	}
	if uncertain && strings.Contains(err.Error(), "nothing was changed") {
		t.Errorf("an earlier call has changed something, yet: %v", err)
	}
	// Asking again does the rest; then it is as if nothing had broken.
	if err := c.change(b); !errors.Is(err, c.again) {
		t.Errorf("asking again: found %v, expected %v", err, c.again)
	}
	twin, counted := c.begin(t), &breaking{}
	twin.client.AddHook(counted)
	counted.arm(100, nil)
	if err := c.change(twin); !errors.Is(err, c.whole) || counted.left != 100-c.calls {
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
	for _, do := range c.before {
		must(t, do(b))
	}
	return b
}

// redisError is a reply in which Redis refuses.
type redisError string

func (e redisError) Error() string { return string(e) }
func (redisError) RedisError()     {}
