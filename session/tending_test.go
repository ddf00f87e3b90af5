package session_test

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"

	"clew/session"
	"clew/session/redistest"
)

// due holds what is due at a moment, in the group, to "", "announce", "board" or
// both.
func (b bench) due(t *testing.T, what string, at time.Time, want string) {
	t.Helper()
	found := ""
	b.unchanged(t, func() {
		all, err := b.Due(t.Context(), "discord", at)
		must(t, err)
		for _, d := range all {
			if d.ID != group {
				t.Errorf("%s: %s is due", what, d.ID)
			}
			for name, is := range map[string]bool{"announce": d.Announce, "board": d.Board} {
				if is && found != "" {
					found = "both"
				} else if is {
					found = name
				}
			}
		}
	})
	equal(t, what, found, want)
}

// claim claims an announcement, and gives its session's number, 0 for none.
func (b bench) claim(t *testing.T, at time.Time) session.Session {
	t.Helper()
	claimed, ok, err := b.ClaimAnnouncement(t.Context(), group, at)
	must(t, err)
	equal(t, "a session was claimed", ok, claimed.Number > 0)
	return claimed
}

func testAnnounce(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		_, _, err := b.ClaimAnnouncement(ctx, group, evening)
		refused(t, "claiming in none", err, session.ErrUnknownKnitalong)
		refused(t, "announced in none", b.Announced(ctx, group, 1, evening), session.ErrUnknownKnitalong)
	})
	sessions := parts(1, never, 3, never)
	must(t, b.Start(ctx, planned(sessions...), pattern))
	none := session.Session{}

	b.due(t, "before the first opens", later(1).Add(-time.Millisecond), "")
	b.due(t, "when it opens", later(1), "announce")
	b.unchanged(t, func() { equal(t, "before it opens", b.claim(t, later(1).Add(-time.Millisecond)), none) })
	b.becomes(t, "claiming", func(s state) { s.hash(aboutHash)["claimed:1"] = ms(later(2)) },
		func() { equal(t, "the first", b.claim(t, later(2)), sessions[0]) })
	b.unchanged(t, func() {
		equal(t, "claimed within the lease", b.claim(t, later(2).Add(session.AnnounceLease-time.Millisecond)), none)
		equal(t, "by a clock that is behind", b.claim(t, later(1)), none)
		refused(t, "one that there is none of", b.Announced(ctx, group, 5, later(2)), session.ErrUnknownSession)
	})
	b.due(t, "claimed, not yet announced", later(2), "announce")
	over := later(2).Add(session.AnnounceLease)
	equal(t, "once the lease is over", b.claim(t, over), sessions[0])
	b.becomes(t, "announcing", func(s state) {
		hash := s.hash(aboutHash)
		hash["announced:1"], hash["due"] = ms(over), ms(later(3))
		delete(hash, "claimed:1")
	}, func() { must(t, b.Announced(ctx, group, 1, over)) })
	b.unchanged(t, func() {
		must(t, b.Announced(ctx, group, 1, later(2.5)))
		equal(t, "none is open any more", b.claim(t, later(2.5)), none)
	})
	b.due(t, "announced, where no board stands", later(2.5), "")
	must(t, b.Tend(ctx, group))
	b.show(t, later(2.5))

	// The second waits for a host, and the third opens it.
	want := sessions[1]
	want.Opens = later(3)
	equal(t, "the second", b.claim(t, later(4)), want)
	equal(t, "the third", b.claim(t, later(4)), sessions[2])
	equal(t, "no more", b.claim(t, later(4)), none)
	must(t, b.Announced(ctx, group, 3, later(4)))
	b.due(t, "the second is not announced, and the board does not tell of the third", later(4), "both")
	must(t, b.Announced(ctx, group, 2, later(4)))
	b.show(t, later(4.5))
	b.due(t, "all that opened are announced", later(400), "")

	opened, err := b.OpenSession(ctx, group, 4, later(5))
	must(t, err)
	equal(t, "opened", opened, true)
	b.show(t, later(5))
	b.due(t, "opened by hand", later(5), "announce")
	must(t, b.Close(ctx, group))
	b.show(t, later(6))
	b.unchanged(t, func() { equal(t, "in a closed one", b.claim(t, later(6)), none) })
	must(t, b.Reopen(ctx, group))
	b.show(t, later(7))
	want = sessions[3]
	want.Opens = later(5)
	equal(t, "opened again", b.claim(t, later(7)), want)
	b.unchanged(t, func() {
		equal(t, "claimed already", b.claim(t, later(7)), none)
		refused(t, "opening one past the last", second(b.OpenSession(ctx, group, 5, later(7))), session.ErrUnknownSession)
	})
}

// show claims the board and shows it.
func (b bench) show(t *testing.T, at time.Time) {
	t.Helper()
	showing, ok, err := b.ClaimBoard(t.Context(), group, at)
	must(t, err)
	if !ok {
		t.Fatalf("the board could not be claimed")
	}
	must(t, b.BoardShown(t.Context(), group, showing.Change, "board"))
}

func testBoardClaims(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		_, _, err := b.ClaimBoard(ctx, group, evening)
		refused(t, "claiming the board of none", err, session.ErrUnknownKnitalong)
		refused(t, "showing it", b.BoardShown(ctx, group, 1, "m"), session.ErrUnknownKnitalong)
		refused(t, "losing it", b.BoardGone(ctx, group, "m"), session.ErrUnknownKnitalong)
		refused(t, "tending it", b.Tend(ctx, group), session.ErrUnknownKnitalong)
	})
	b.begin(t)
	after := func(d time.Duration) time.Time { return evening.Add(d) }
	edit := func(what string, at time.Time, want ...session.Showing) {
		t.Helper()
		claim := func() {
			showing, ok, err := b.ClaimBoard(ctx, group, at)
			must(t, err)
			var got []session.Showing
			if ok {
				got = append(got, showing)
			}
			equal(t, what, got, want)
		}
		if len(want) == 0 {
			b.unchanged(t, claim)
			return
		}
		b.becomes(t, what, func(s state) { s.hash(aboutHash)["edited"] = ms(at) }, claim)
	}
	shown := func(what string, change int64, message string, then func(hash map[string]string)) {
		t.Helper()
		b.becomes(t, what, func(s state) { then(s.hash(aboutHash)) }, func() { must(t, b.BoardShown(ctx, group, change, message)) })
	}
	nothing := func(map[string]string) {}

	edit("nothing has changed", evening)
	b.due(t, "nothing has changed", evening, "")
	b.becomes(t, "a change", func(s state) { s.tended(group, s.changed(aboutHash)) }, func() { must(t, b.Tend(ctx, group)) })
	b.due(t, "it has changed", evening, "board")
	edit("the first", evening, session.Showing{Change: 1})
	b.due(t, "just claimed", after(session.BoardSpacing-1), "")
	edit("too soon", after(session.BoardSpacing-time.Millisecond))
	edit("by a clock that is behind", after(-time.Hour))
	b.due(t, "never shown", after(session.BoardSpacing), "board")
	edit("never shown, so once more", after(session.BoardSpacing), session.Showing{Change: 1})
	shown("shown", 1, "m1", func(hash map[string]string) { hash["shown"], hash["boardmsg"] = "1", "m1" })
	shown("shown again", 1, "m1", nothing)
	edit("all is shown", after(time.Hour))

	must(t, b.Tend(ctx, group))
	must(t, b.Tend(ctx, group))
	edit("two changes", after(time.Hour), session.Showing{Change: 3, Message: "m1", Shown: 1, Last: "m1"})
	must(t, b.Tend(ctx, group))
	shown("a part of it", 3, "m1", func(hash map[string]string) { hash["shown"] = "3" })
	shown("what was shown before that", 2, "m0", nothing)
	shown("in another message", 3, "m2", func(hash map[string]string) { hash["boardmsg"] = "m2" })
	edit("the last", after(2*time.Hour), session.Showing{Change: 4, Message: "m2", Shown: 3, Last: "m2"})
	b.unchanged(t, func() { must(t, b.BoardGone(ctx, group, "m1")) })
	got, err := b.About(ctx, group)
	must(t, err)
	equal(t, "the message", got.Board, "m2")
	b.becomes(t, "gone", func(s state) {
		delete(s.hash(aboutHash), "boardmsg")
		s.hash(aboutHash)["boardwas"] = "m2"
		s.changed(aboutHash)
	}, func() { must(t, b.BoardGone(ctx, group, "m2")) })
	b.unchanged(t, func() { must(t, b.BoardGone(ctx, group, "m2")) })
	shown("shown while it went", 4, "m2", func(hash map[string]string) { hash["shown"], hash["boardmsg"] = "4", "m2" })
	edit("to be posted", after(3*time.Hour), session.Showing{Change: 5, Message: "m2", Shown: 4, Last: "m2"})
	shown("no message shows it", 5, "", func(hash map[string]string) { hash["shown"] = "5"; delete(hash, "boardmsg") })
	edit("nothing is left", after(9*time.Hour))
	must(t, b.Tend(ctx, group))
	edit("to be posted anew", after(9*time.Hour), session.Showing{Change: 6, Shown: 5, Last: "m2"})
}

// testTended is which knit-alongs are looked at, from the start to the close.
func testTended(t *testing.T, b bench) {
	ctx := t.Context()
	b.due(t, "there is none", evening, "")
	b.begin(t)
	alone := held("alone", "Alone", "")
	must(t, b.Start(ctx, alone, pattern))
	terminal := held("terminal", "At the terminal", about.Server)
	terminal.Host = wren
	must(t, b.Start(ctx, terminal, pattern))
	for _, id := range []string{group, "alone", "terminal"} {
		must(t, b.Tend(ctx, id))
	}
	b.due(t, "one in a server", evening, "board")
	all, err := b.Due(ctx, "terminal", evening)
	must(t, err)
	equal(t, "of another platform", all, []session.Due{{ID: "terminal", Board: true}})

	must(t, b.Close(ctx, group))
	b.due(t, "closed", evening, "board")
	b.show(t, evening)
	b.becomes(t, "shown a last time", func(s state) { delete(s, tendedSet) }, func() {
		all, err := b.Due(ctx, "discord", later(1))
		must(t, err)
		equal(t, "nothing is due", len(all), 0)
	})
	b.becomes(t, "a change of a closed one", func(s state) { s.changed(aboutHash) }, func() { must(t, b.Tend(ctx, group)) })
	must(t, b.Reopen(ctx, group))
	b.due(t, "opened again", later(1), "board")
	b.show(t, later(1))
	testClosed(t, b)

	// One that was opened again while Due found it closed stays.
	must(t, b.Close(ctx, group))
	b.show(t, later(1.75))
	once := &beforeCall{number: 2, do: func() { must(t, b.Reopen(ctx, group)) }}
	b.client.AddHook(once)
	_, err = b.Due(ctx, "discord", later(2))
	must(t, err)
	equal(t, "the hook was called", once.number, 0)
	b.due(t, "opened while it was to be dropped", later(2), "board")

	// One that is entered late does not take the place of a newer entry.
	b.becomes(t, "tending while it is tended", func(s state) {
		s.changed(aboutHash)
		s.tended(group, s.changed(aboutHash))
	}, func() {
		once.number, once.do = 3, func() { must(t, b.Tend(ctx, group)) }
		must(t, b.Tend(ctx, group))
		equal(t, "the hook was called", once.number, 0)
	})

	// One that cannot be read keeps none of the others waiting.
	for id, damage := range map[string]func(key string) error{
		"one": func(key string) error { return b.client.HSet(ctx, key, "edited", "soon").Err() },
		"two": func(key string) error {
			must(t, b.client.Del(ctx, key).Err())
			return b.client.RPush(ctx, key, "no hash").Err()
		},
	} {
		must(t, b.Start(ctx, held(id, id, about.Server), pattern))
		must(t, damage("clew:{"+id+"}:about"))
	}
	all, err = b.Due(ctx, "discord", later(2))
	equal(t, "those that can be read", all, []session.Due{{ID: group, Board: true}})
	if err == nil {
		t.Error("it is not told that some cannot be read")
	}
	must(t, b.client.Del(ctx, "clew:{one}:about").Err())
	must(t, b.client.Del(ctx, "clew:{two}:about").Err())

	// What was deleted in Redis itself is dropped, too.
	must(t, b.client.Del(ctx, aboutHash).Err())
	b.becomes(t, "deleted", func(s state) { delete(s, tendedSet) }, func() {
		all, err := b.Due(ctx, "discord", later(2))
		must(t, err)
		equal(t, "nothing is due", len(all), 0)
	})
}

// testClosed lets members leave, hide and be forgotten when the knit-along is closed
// and the board was shown for the last time: that names them no longer.
func testClosed(t *testing.T, b bench) {
	ctx := t.Context()
	for _, m := range []session.Member{wren, tansy, "terminal:ana"} {
		must(t, second(b.Join(ctx, group, session.Joining{Member: m, Place: castOn, At: evening})))
	}
	must(t, b.Close(ctx, group))
	for i, change := range []func() error{
		func() error { return b.Leave(ctx, group, wren, "l1") },
		func() error { return second(b.Set(ctx, group, tansy, map[string]string{"board": "hidden"}, "")) },
		func() error { return second(b.ForgetAll(ctx, "terminal:ana")) },
	} {
		b.show(t, later(1.25+float64(i)/10))
		b.becomes(t, "shown a last time", func(s state) { delete(s, tendedSet) },
			func() { must(t, second(b.Due(ctx, "discord", later(2)))) })
		must(t, change())
		b.due(t, "nobody else is to stay on it", later(2), "board")
	}
	b.show(t, later(1.6))
	must(t, second(b.Set(ctx, group, tansy, map[string]string{"board": "hidden"}, "")))
	must(t, second(b.ForgetAll(ctx, wren)))
	must(t, second(b.Due(ctx, "discord", later(2))))
	b.unchanged(t, func() {
		must(t, second(b.Set(ctx, group, tansy, map[string]string{"board": "hidden"}, "")))
		refused(t, "leaving again", b.Leave(ctx, group, wren, ""), session.ErrNotJoined)
	})
	must(t, b.Reopen(ctx, group))
}

// beforeCall is a hook that does something once, before a call of that number,
// from 1; pipelines do not count.
type beforeCall struct {
	number int
	do     func()
}

func (h *beforeCall) DialHook(next redis.DialHook) redis.DialHook { return next }

func (h *beforeCall) ProcessPipelineHook(next redis.ProcessPipelineHook) redis.ProcessPipelineHook {
	return next
}

func (h *beforeCall) ProcessHook(next redis.ProcessHook) redis.ProcessHook {
	return func(ctx context.Context, cmd redis.Cmder) error {
		if h.number > 0 {
			if h.number--; h.number == 0 {
				h.do()
			}
		}
		return next(ctx, cmd)
	}
}

// testEarlier is a knit-along as it was kept before there were sessions and a
// board: all goes on, and Tend enters it.
func testEarlier(t *testing.T, b bench) {
	ctx := t.Context()
	must(t, b.client.HSet(ctx, aboutHash, "title", about.Title, "host", string(odo), "server", about.Server,
		"channel", about.Channel, "started", ms(evening), "revision", "1", "helper:"+string(wren), "1").Err())
	must(t, b.client.RPush(ctx, "clew:{harbour-lamp}:revisions", pattern).Err())
	must(t, b.client.HSet(ctx, indexHash, group, entry).Err())
	want := about
	want.Revision, want.Helpers = 1, []session.Member{wren}
	b.describes(t, "as it was", want)
	b.due(t, "not yet entered", later(1), "")
	b.unchanged(t, func() {
		_, ok, err := b.ClaimBoard(ctx, group, later(1))
		must(t, err)
		equal(t, "its board has changed", ok, false)
		equal(t, "it has a session", b.claim(t, later(1)), session.Session{})
		refused(t, "opening one", second(b.OpenSession(ctx, group, 1, later(1))), session.ErrUnknownSession)
		must(t, b.BoardGone(ctx, group, "m"))
	})
	b.becomes(t, "entering it", func(s state) { s.tended(group, s.changed(aboutHash)) }, func() { must(t, b.Tend(ctx, group)) })
	b.due(t, "entered", later(1), "board")
	b.show(t, later(1))
	n, err := b.AddRevision(ctx, group, "two", nil)
	must(t, err)
	equal(t, "a revision", n, 2)
	must(t, b.Schedule(ctx, group, parts(2), "", false))
	want.Revision, want.Sessions, want.Board = 2, parts(2), "board"
	b.describes(t, "with sessions", want)
	b.due(t, "with a session", later(2), "both")
	must(t, b.Close(ctx, group))
	must(t, b.Reopen(ctx, group))
	b.due(t, "opened again", later(2), "both")
}

// claimants are stores over clients of their own where the Redis allows it.
func claimants(b bench, clients ...redis.UniversalClient) []*session.Store {
	stores := []*session.Store{b.Store}
	for _, client := range clients {
		stores = append(stores, session.Open(client))
	}
	return stores
}

func testClaimsAtOnce(t *testing.T, b bench) { claimAtOnce(t, b, claimants(b)) }

// TestClaimsFromTwoClients lets two processes' clients claim on one real Redis.
func TestClaimsFromTwoClients(t *testing.T) {
	server := redistest.Start(t)
	first, other := connect(t, "redis://"+server.Addr), connect(t, "redis://"+server.Addr)
	b := bench{session.Open(first), first}
	claimAtOnce(t, b, claimants(b, other))
}

// claimAtOnce lets many claim everything at once, at several times: each
// announcement is claimed once within a lease, and edits keep their distance.
func claimAtOnce(t *testing.T, b bench, stores []*session.Store) {
	ctx := t.Context()
	must(t, b.Start(ctx, planned(parts(0, 0, 0, 1)...), pattern))
	must(t, b.Tend(ctx, group))
	var mu sync.Mutex
	var edits []time.Time
	for round := range 4 {
		claimed := map[int]int{}
		begins := later(0).Add(time.Duration(round) * session.AnnounceLease)
		var wg sync.WaitGroup
		for n := range 32 {
			store, at := stores[n%len(stores)], begins.Add(time.Duration(n)*session.AnnounceLease/32)
			wg.Go(func() {
				one, ok, err := store.ClaimAnnouncement(ctx, group, begins)
				_, edit, boardErr := store.ClaimBoard(ctx, group, at)
				if err != nil || boardErr != nil {
					t.Errorf("claiming: %v, %v", err, boardErr)
				}
				mu.Lock()
				defer mu.Unlock()
				if ok {
					claimed[one.Number]++
				}
				if edit {
					edits = append(edits, at)
				}
			})
		}
		wg.Wait()
		equal(t, fmt.Sprintf("the claims of round %d", round), claimed, map[int]int{1: 1, 2: 1, 3: 1})
	}
	keepDistance(t, edits)
	if len(edits) < 4 { // the board was never shown, so each round claims at least one
		t.Errorf("found %d edits, expected at least 4", len(edits))
	}
}

// keepDistance holds the times of edits, in the order in which they were claimed or
// any other, to the spacing.
func keepDistance(t interface{ Errorf(string, ...any) }, edits []time.Time) {
	edits = slices.SortedFunc(slices.Values(edits), time.Time.Compare)
	for i := 1; i < len(edits); i++ {
		if apart := edits[i].Sub(edits[i-1]); apart < session.BoardSpacing {
			t.Errorf("two edits are %s apart, expected at least %s", apart, session.BoardSpacing)
		}
	}
}
