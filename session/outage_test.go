package session_test

import (
	"context"
	"errors"
	"net"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"clew/session"
	"clew/session/redistest"
)

// everyCall asks the store everything once.
func everyCall(ctx context.Context, s *session.Store) map[string]error {
	calls := map[string]error{}
	_, calls["move"] = s.Move(ctx, group, next("e9", castOn, row(2)))
	_, calls["undo"] = s.Undo(ctx, group, undo("e8", row(2), castOn))
	_, calls["join"] = s.Join(ctx, group, session.Joining{Member: "terminal:tansy", Place: castOn, Event: "e7", At: evening})
	_, calls["set"] = s.Set(ctx, group, wren, map[string]string{"a": "b"}, "")
	_, calls["revise"] = s.AddRevision(ctx, group, "another pattern", nil)
	_, calls["undoable"] = s.Undoable(ctx, group, wren)
	_, calls["state"] = s.State(ctx, group, wren)
	_, calls["log"] = s.Log(ctx, group, wren, 0)
	_, calls["paces"] = s.Paces(ctx, group, []session.Member{wren})
	_, calls["board"] = s.Board(ctx, group)
	_, calls["stumbles"] = s.Stumbles(ctx, group)
	_, calls["about"] = s.About(ctx, group)
	_, calls["pattern"] = s.Pattern(ctx, group, 0)
	_, _, calls["around"] = s.Around(ctx, wren, about.Server)
	_, calls["abouts"] = s.Abouts(ctx, []string{group, "other"})
	_, calls["person"] = s.Person(ctx, wren)
	calls["start"] = s.Start(ctx, session.About{ID: "other", Title: "Other", Host: odo}, pattern)
	calls["schedule"] = s.Schedule(ctx, group, parts(0, 1), "", false)
	_, calls["open"] = s.OpenSession(ctx, group, 2, evening)
	_, _, calls["claim an announcement"] = s.ClaimAnnouncement(ctx, group, evening)
	calls["announced"] = s.Announced(ctx, group, 1, evening)
	calls["tend"] = s.Tend(ctx, group)
	_, calls["due"] = s.Due(ctx, "discord", evening)
	_, _, calls["claim the board"] = s.ClaimBoard(ctx, group, evening)
	calls["board shown"] = s.BoardShown(ctx, group, 1, "m")
	calls["board gone"] = s.BoardGone(ctx, group, "m")
	calls["close"] = s.Close(ctx, group)
	_, calls["closed"] = s.Closed(ctx, about.Server)
	calls["reopen"] = s.Reopen(ctx, group)
	calls["help"] = s.Help(ctx, group, wren, true)
	calls["leave"] = s.Leave(ctx, group, wren, "l1")
	_, calls["forget"] = s.ForgetAll(ctx, wren, group)
	calls["stumble"] = s.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 1, Kind: session.Again, Event: "e6"})
	_, calls["stuck"] = s.Stuck(ctx, group, wren, "e5", evening)
	calls["told"] = s.ToldRevision(ctx, group, wren, 2)
	_, calls["roster"] = s.Roster(ctx, group)
	_, calls["kept"] = s.Kept(ctx, wren, group)
	calls["tell"] = s.Tell(ctx, odo, evening, group)
	_, calls["answers"] = s.Answers(ctx, group, wren, "e1")
	calls["prefer"] = s.Prefer(ctx, wren, session.Preferences{Units: "inches"})
	return calls
}

func TestRedisGoesAway(t *testing.T) {
	server := redistest.Start(t, "--appendonly", "yes", "--appendfsync", "always")
	client := connect(t, "redis://"+server.Addr)
	b := bench{session.Open(client), client}
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	before := b.dump(t)

	server.Kill()
	for name, err := range everyCall(t.Context(), b.Store) {
		if !errors.Is(err, session.ErrUnreachable) {
			t.Errorf("%s with Redis gone: found %v, expected ErrUnreachable", name, err)
		}
	}
	// The first calls met connections that had died; by now none is left, and
	// it is certain that nothing was sent.
	for name, err := range everyCall(t.Context(), b.Store) {
		if !errors.Is(err, session.ErrUnreachable) || errors.Is(err, session.ErrUncertain) {
			t.Errorf("%s with Redis still gone: found %v, expected it to be certain that nothing changed", name, err)
		}
	}

	server.Run(t)
	redistest.Eventually(t, "the store works again", func(ctx context.Context) error {
		_, err := b.State(ctx, group, wren)
		return err
	})
	if diff := cmp.Diff(before, b.dump(t)); diff != "" {
		t.Errorf("the outage has changed the state (-before +after):\n%s", diff)
	}
	b.walk(t, at, 3)
}

// A frozen Redis takes requests and does not answer: whether they will be done
// can't be known, and the same event settles it.
func TestRedisFreezes(t *testing.T) {
	server := redistest.Start(t)
	client := connect(t, "redis://"+server.Addr)
	b := bench{session.Open(client), client}
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	server.Freeze(t)
	ctx, cancel := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer cancel()
	_, err := b.Move(ctx, group, next("e1", at, row(3)))
	reading, done := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer done()
	if _, err := b.Undoable(reading, group, wren); !errors.Is(err, session.ErrUnreachable) || errors.Is(err, session.ErrUncertain) {
		t.Errorf("a question without an answer: found %v, expected it to be certain that nothing changed", err)
	}
	server.Thaw(t)
	if !errors.Is(err, session.ErrUnreachable) || !errors.Is(err, session.ErrUncertain) {
		t.Fatalf("a move without an answer: found %v, expected ErrUncertain", err)
	}
	if !strings.Contains(err.Error(), "it is not known whether") {
		t.Errorf("the error does not say that the outcome is unknown: %v", err)
	}
	moved, err := b.Move(t.Context(), group, next("e1", at, row(3)))
	must(t, err)
	equal(t, "the place after asking again", moved.Place, row(3))
	entries, err := b.Log(t.Context(), group, wren, 0)
	must(t, err)
	equal(t, "moves in the log", len(entries), 2)
}

func TestNoRedisAtAll(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	addr := l.Addr().String()
	must(t, l.Close())
	for _, url := range []string{"redis://:hush-hush@" + addr, "redis+cluster://:hush-hush@" + addr, "redis+sentinel://:hush-hush@" + addr + "/lamp"} {
		t.Run(url, func(t *testing.T) {
			store := session.Open(connect(t, url))
			for name, err := range everyCall(t.Context(), store) {
				if !errors.Is(err, session.ErrUnreachable) {
					t.Errorf("%s: found %v, expected ErrUnreachable", name, err)
				}
				if err != nil && strings.Contains(err.Error(), "hush") {
					t.Errorf("%s gives the password away: %v", name, err)
				}
			}
		})
	}
}

func TestContextOver(t *testing.T) {
	client := openLocal(t)
	b := bench{session.Open(client), client}
	b.begin(t, wren)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	b.unchanged(t, func() {
		_, err := b.Move(ctx, group, next("e1", castOn, row(2)))
		if !errors.Is(err, session.ErrUnreachable) || !errors.Is(err, context.Canceled) || errors.Is(err, session.ErrUncertain) {
			t.Errorf("found %v, expected it to be certain that nothing changed, because of the context", err)
		}
	})
}

// A Redis without memory or without its disk answers, and refuses writes.
func TestRedisRefuses(t *testing.T) {
	server := redistest.Start(t)
	client := connect(t, "redis://"+server.Addr)
	b := bench{session.Open(client), client}
	b.begin(t, wren)
	must(t, client.ConfigSet(t.Context(), "maxmemory", "1").Err())
	b.unchanged(t, func() {
		_, err := b.Move(t.Context(), group, next("e1", castOn, row(2)))
		if !errors.Is(err, session.ErrRefused) || !strings.Contains(err.Error(), "memory") {
			t.Errorf("found %v, expected ErrRefused for want of memory", err)
		}
	})
	must(t, client.ConfigSet(t.Context(), "maxmemory", "0").Err())
	b.walk(t, castOn, 2)
}

func TestSentinel(t *testing.T) {
	server := redistest.Start(t)
	sentinel := redistest.StartSentinel(t, "lamp", server)
	client := connect(t, "redis+sentinel://"+sentinel+"/lamp/2")
	b := bench{session.Open(client), client}
	b.begin(t, wren)
	b.walk(t, castOn, 2)
	state, err := session.Open(connect(t, "redis://"+server.Addr+"/2")).State(t.Context(), group, wren)
	must(t, err)
	equal(t, "the place in the server that the Sentinel watches", state.Place, row(2))
}

func TestPassword(t *testing.T) {
	server := redistest.Start(t, "--requirepass", "hush@hush")
	right := session.Open(connect(t, "redis://:hush%40hush@"+server.Addr))
	must(t, right.Start(t.Context(), about, pattern))
	for _, login := range []string{":shy-shy@", "odo:shy-shy@"} {
		wrong := session.Open(connect(t, "redis://"+login+server.Addr))
		for name, err := range everyCall(t.Context(), wrong) {
			if !errors.Is(err, session.ErrRefused) || strings.Contains(err.Error(), "shy") {
				t.Errorf("%s with %q: found %v, expected ErrRefused and no password", name, login, err)
			}
		}
	}
	// Without any, Redis refuses short requests and hangs up on long ones.
	for name, err := range everyCall(t.Context(), session.Open(connect(t, "redis://"+server.Addr))) {
		if !errors.Is(err, session.ErrRefused) && !errors.Is(err, session.ErrUnreachable) {
			t.Errorf("%s without a password: found %v, expected ErrRefused or ErrUnreachable", name, err)
		}
	}
}
