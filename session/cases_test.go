package session_test

import (
	"errors"
	"fmt"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/redis/go-redis/v9"

	"clew/session"
)

func equal(t *testing.T, what string, got, want any) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("%s (-expected +found):\n%s", what, diff)
	}
}

func refused(t *testing.T, what string, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("%s: found %v, expected %v", what, err, want)
	}
}

func stale(t *testing.T, what string, err error, now session.Place) {
	t.Helper()
	var s *session.Stale
	if !errors.As(err, &s) || s.Now != now {
		t.Errorf("%s: found %v, expected to be told of %+v", what, err, now)
	}
}

func testKnitalong(t *testing.T, b bench) {
	ctx := t.Context()
	_, err := b.About(ctx, group)
	refused(t, "about one that was never started", err, session.ErrUnknownKnitalong)
	_, err = b.Pattern(ctx, group, 0)
	refused(t, "its pattern", err, session.ErrUnknownKnitalong)
	b.unchanged(t, func() {
		_, err = b.AddRevision(ctx, group, pattern, nil)
		refused(t, "a revision of it", err, session.ErrUnknownKnitalong)
	})

	must(t, b.Start(ctx, about, pattern))
	want := about
	want.Revision = 1
	got, err := b.About(ctx, group)
	must(t, err)
	equal(t, "about", got, want)
	b.unchanged(t, func() { refused(t, "starting again", b.Start(ctx, about, "another"), session.ErrStarted) })

	second := "Pattern: Harbour Lamp, mended\n\x00\xff\r\n"
	n, err := b.AddRevision(ctx, group, second, nil)
	must(t, err)
	equal(t, "the second revision's number", n, 2)
	b.unchanged(t, func() {
		n, err := b.AddRevision(ctx, group, second, nil)
		must(t, err)
		equal(t, "the number when added again", n, 2)
	})
	n, err = b.AddRevision(ctx, group, pattern, nil)
	must(t, err)
	equal(t, "the number of a text that returns", n, 3)
	for revision, want := range []string{pattern, pattern, second, pattern} {
		got, err := b.Pattern(ctx, group, revision)
		must(t, err)
		equal(t, fmt.Sprintf("revision %d", revision), got, want)
	}
	_, err = b.Pattern(ctx, group, 4)
	refused(t, "a revision that is not there", err, session.ErrUnknownRevision)
}

func testJoinLeave(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: "e1", At: evening})
		refused(t, "joining what was never started", err, session.ErrUnknownKnitalong)
	})
	b.begin(t)
	about, state, err := b.Visit(ctx, group, wren)
	must(t, err)
	equal(t, "about, on a visit", about.Revision, 1)
	equal(t, "joined, on a visit", state.Joined, false)
	_, _, err = b.Visit(ctx, "no-such", wren)
	refused(t, "a visit to one never started", err, session.ErrUnknownKnitalong)
	state, err = b.State(ctx, group, wren)
	must(t, err)
	equal(t, "the state before joining", state, session.State{})

	joined, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Settings: map[string]string{"crosses": "full", "reading": ""}, Event: "e1", At: evening})
	must(t, err)
	want := session.State{Place: castOn, Settings: map[string]string{"crosses": "full"}, Joined: true, Told: 1}
	equal(t, "joined", joined, session.Moved{State: want})

	at := b.walk(t, castOn, 3)
	want.Place, want.Done, want.Moved, want.Since = at, 3*96, evening, evening
	again, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Settings: map[string]string{"crosses": "short"}, Event: "e2", At: evening})
	must(t, err)
	equal(t, "joined again", again, session.Moved{State: want, Repeated: true})
	for _, event := range []string{"e1", "e2", ""} {
		b.unchanged(t, func() {
			again, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Settings: map[string]string{"crosses": "short"}, Event: event, At: evening})
			must(t, err)
			equal(t, "joined again", again, session.Moved{State: want, Repeated: true})
		})
	}

	must(t, b.Leave(ctx, group, wren, ""))
	want.Joined = false
	state, err = b.State(ctx, group, wren)
	must(t, err)
	_, visited, err := b.Visit(ctx, group, wren)
	must(t, err)
	equal(t, "the state, on a visit", visited, state)
	equal(t, "the state after leaving", state, want)
	board, err := b.Board(ctx, group)
	must(t, err)
	equal(t, "the board after leaving", board, []session.Standing{})
	b.unchanged(t, func() {
		refused(t, "leaving again", b.Leave(ctx, group, wren, ""), session.ErrNotJoined)
		for _, event := range []string{"e1", "e2"} { // joining, and joining when she was in
			late, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: event, At: evening})
			must(t, err)
			equal(t, "the joining "+event+" delivered again", late, session.Moved{State: want, Repeated: true})
		}
	})

	back, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, Event: "e3", At: evening})
	must(t, err)
	want.Joined = true
	equal(t, "back again", back, session.Moved{State: want})
	board, err = b.Board(ctx, group)
	must(t, err)
	equal(t, "the board with her back", board, []session.Standing{{Member: wren, Done: 3 * 96}})
}

// testCrowded refuses one open knit-along too many in a server, and nothing is left
// of it.
func testCrowded(t *testing.T, b bench) {
	ctx := t.Context()
	one := func(i int) session.About {
		a := about
		a.ID = fmt.Sprint("k", i)
		return a
	}
	for i := range session.OpenMost {
		must(t, b.Start(ctx, one(i), pattern))
	}
	b.unchanged(t, func() {
		refused(t, "one too many", b.Start(ctx, one(session.OpenMost), pattern), session.ErrCrowded)
		refused(t, "one that is there, again", b.Start(ctx, one(3), pattern), session.ErrStarted)
	})
	elsewhere := one(session.OpenMost + 1)
	elsewhere.Server = "elsewhere"
	must(t, b.Start(ctx, elsewhere, pattern))
	must(t, b.Close(ctx, "k0"))
	must(t, b.Start(ctx, one(session.OpenMost), pattern))
	b.becomes(t, "reopening one too many", func(s state) {
		for range 2 { // it was open for a moment, and is shown as closed once more
			s.changed("clew:{k0}:about")
		}
	}, func() { refused(t, "reopening one too many", b.Reopen(ctx, "k0"), session.ErrCrowded) })
	must(t, b.Close(ctx, "k1"))
	must(t, b.Reopen(ctx, "k0"))
}

// testTold keeps what a person was told of, up to the newest few, until that is
// joined or forgotten.
func testTold(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, odo)
	clean := b.dump(t)
	told := func(what string, want ...session.Told) {
		t.Helper()
		person, held, err := b.Around(ctx, wren, about.Server)
		must(t, err)
		equal(t, what, person.Told, want)
		equal(t, what+", around", len(held), 1)
		alone, err := b.Person(ctx, wren)
		must(t, err)
		equal(t, what+", of the person alone", alone, person)
	}
	later := func(ms int) time.Time { return evening.Add(time.Duration(ms) * time.Millisecond) }
	must(t, b.Tell(ctx, wren, evening, group))
	must(t, b.Tell(ctx, wren, evening, "tide", "buoy"))
	equal(t, "the person's hash", b.dump(t)[personHash], any(map[string]string{
		"kept": "1", "told:" + group: strconv.FormatInt(evening.UnixMilli(), 10),
		"told:tide": strconv.FormatInt(later(1).UnixMilli(), 10), "told:buoy": strconv.FormatInt(later(1).UnixMilli(), 10),
	}))
	told("told of three", session.Told{ID: "buoy", At: later(1)}, session.Told{ID: "tide", At: later(1)}, session.Told{ID: group, At: evening})
	b.unchanged(t, func() { must(t, b.Tell(ctx, wren, later(60000), "tide")) }) // just now
	must(t, b.Tell(ctx, wren, evening, group))
	told("told of the first again", session.Told{ID: group, At: later(2)}, session.Told{ID: "buoy", At: later(1)}, session.Told{ID: "tide", At: later(1)})

	_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening})
	must(t, err)
	told("one joined", session.Told{ID: "buoy", At: later(1)}, session.Told{ID: "tide", At: later(1)})
	b.unchanged(t, func() { must(t, b.Tell(ctx, wren, later(48*3600*1000), group)) })
	for i := range session.ToldMost {
		must(t, b.Tell(ctx, wren, later(10+i), fmt.Sprint("more", i)))
	}
	person, err := b.Person(ctx, wren)
	must(t, err)
	equal(t, "the number kept", len(person.Told), session.ToldMost)
	equal(t, "the oldest kept", person.Told[session.ToldMost-1].ID, "more0")
	b.forget(t, wren)
	equal(t, "everything after forgetting", b.dump(t), changedBy(clean, aboutHash, 2))
}

// changedBy gives a state whose board has changed so often more.
func changedBy(s map[string]any, about string, times int) map[string]any {
	for range times {
		state(s).changed(about)
	}
	return s
}

// forget forgets somebody.
func (b bench) forget(t *testing.T, m session.Member) {
	t.Helper()
	_, err := b.ForgetAll(t.Context(), m)
	must(t, err)
}

func testSettings(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	steps := []struct {
		change, want map[string]string
	}{
		{map[string]string{"reading": "steps", "a-b": "x=y", "a": "one two"}, map[string]string{"reading": "steps", "a-b": "x=y", "a": "one two"}},
		{map[string]string{"reading": "rows"}, map[string]string{"reading": "rows", "a-b": "x=y", "a": "one two"}},
		{map[string]string{"a": "", "none": ""}, map[string]string{"reading": "rows", "a-b": "x=y"}},
		{map[string]string{}, map[string]string{"reading": "rows", "a-b": "x=y"}},
		{map[string]string{"reading": "", "a-b": ""}, map[string]string{}},
	}
	for _, s := range steps {
		got, err := b.Set(ctx, group, wren, s.change, "")
		must(t, err)
		equal(t, fmt.Sprintf("the answer to %v", s.change), got.Settings, s.want)
		state, err := b.State(ctx, group, wren)
		must(t, err)
		equal(t, fmt.Sprintf("the state after %v", s.change), state, got)
	}
}

func testRefusals(t *testing.T, b bench) {
	ctx := t.Context()
	calls := map[string]func() error{
		"move":     func() error { _, err := b.Move(ctx, group, next("e1", castOn, row(2))); return err },
		"undo":     func() error { _, err := b.Undo(ctx, group, undo("e1", row(2), castOn)); return err },
		"undoable": func() error { _, err := b.Undoable(ctx, group, wren); return err },
		"set":      func() error { _, err := b.Set(ctx, group, wren, map[string]string{"a": "b"}, ""); return err },
		"leave":    func() error { return b.Leave(ctx, group, wren, "") },
		"stuck":    func() error { _, err := b.Stuck(ctx, group, wren, "e1", evening); return err },
		"told":     func() error { return b.ToldRevision(ctx, group, wren, 2) },
		"stumble": func() error {
			return b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 1, Kind: session.Again, Event: "e1"})
		},
	}
	all := func(when string, want error) {
		t.Helper()
		for name, call := range calls {
			b.unchanged(t, func() { refused(t, name+" "+when, call(), want) })
		}
	}
	all("in an unknown knit-along", session.ErrUnknownKnitalong)
	b.unchanged(t, func() {
		_, err := b.State(ctx, group, wren)
		refused(t, "state", err, session.ErrUnknownKnitalong)
		_, err = b.Board(ctx, group)
		refused(t, "board", err, session.ErrUnknownKnitalong)
		_, err = b.Stumbles(ctx, group)
		refused(t, "stumbles", err, session.ErrUnknownKnitalong)
	})
	b.begin(t, odo)
	all("before joining", session.ErrNotJoined)
	_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening})
	must(t, err)
	b.unchanged(t, func() {
		_, err := b.Undoable(ctx, group, wren)
		refused(t, "what undo would lead to, before any move", err, session.ErrNothingToUndo)
		_, err = b.Undo(ctx, group, undo("e1", castOn, castOn))
		stale(t, "undo before any move", err, castOn)
	})
	must(t, b.Leave(ctx, group, wren, ""))
	all("after leaving", session.ErrNotJoined)
}

func testStumbles(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren, odo)
	rows, err := b.Stumbles(ctx, group)
	must(t, err)
	equal(t, "the stumbles before any", rows, []session.Stumbled{})
	_, err = b.Move(ctx, group, next("e1", castOn, row(2)))
	must(t, err)
	for _, s := range []struct {
		member session.Member
		row    int
		event  string
	}{
		{wren, 12, "e1"}, {wren, 12, "e2"}, {wren, 3, "e3"}, {odo, 12, "e1"}, {odo, 4, ""}, {odo, 4, ""},
	} {
		must(t, b.Stumble(ctx, group, s.member, session.StumbleAt{Section: "Lanterns", Row: s.row, Kind: session.Again, Event: s.event}))
	}
	must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 3, Kind: session.Again, Event: "e4"}))
	b.unchanged(t, func() {
		must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Lanterns", Row: 12, Kind: session.Again, Event: "e1"}))
		must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Lanterns", Row: 9, Kind: session.Again, Event: "e4"}))
	})
	rows, err = b.Stumbles(ctx, group)
	must(t, err)
	equal(t, "the stumbles", rows, []session.Stumbled{
		{Section: "Lanterns", Row: 12, Again: 3}, {Section: "Lanterns", Row: 4, Again: 2},
		{Section: "Brim", Row: 3, Again: 1}, {Section: "Lanterns", Row: 3, Again: 1},
	})
	b.unchanged(t, func() {
		again, err := b.Move(ctx, group, next("e1", castOn, row(2)))
		must(t, err)
		equal(t, "the move with the same event", again.Repeated, true)
	})

	for kind, times := range map[session.StumbleKind]int{session.Explained: 1, session.WentBack: 2, session.Miscounted: 3} {
		for range times {
			must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 3, Kind: kind}))
		}
	}
	must(t, b.client.HSet(ctx, "clew:{harbour-lamp}:stumbles", "3\tBrim", "10").Err()) // as an earlier version counted
	rows, err = b.Stumbles(ctx, group)
	must(t, err)
	equal(t, "the worst, by kind", rows[0], session.Stumbled{Section: "Brim", Row: 3, Again: 11, Explained: 1, WentBack: 2, Miscounted: 3})
	equal(t, "in all", rows[0].Times(), int64(17))
}

func testBoard(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren, odo, "terminal:tansy")
	m := next("e1", castOn, row(2))
	_, err := b.Move(ctx, group, m)
	must(t, err)
	board, err := b.Board(ctx, group)
	must(t, err)
	equal(t, "the board", board, []session.Standing{{Member: wren, Done: 192}, {Member: odo}, {Member: "terminal:tansy"}})
	back := next("e2", row(2), castOn)
	back.How, back.Done = "back", 0
	_, err = b.Move(ctx, group, back)
	must(t, err)
	board, err = b.Board(ctx, group)
	must(t, err)
	equal(t, "the board after going back", board, []session.Standing{{Member: odo}, {Member: "terminal:tansy"}, {Member: wren}})
}

func testPerson(t *testing.T, b bench) {
	ctx := t.Context()
	person, err := b.Person(ctx, wren)
	must(t, err)
	equal(t, "a person nobody knows", person, session.Person{})
	b.begin(t, wren)
	other := about
	other.ID = "second"
	must(t, b.Start(ctx, other, pattern))
	_, err = b.Join(ctx, "second", session.Joining{Member: wren, Place: castOn, At: evening})
	must(t, err)
	must(t, b.Prefer(ctx, wren, session.Preferences{Units: "inches", Voice: "slow"}))
	must(t, b.Prefer(ctx, wren, session.Preferences{Voice: "quick"}))
	want := session.Person{Knitalongs: []string{group, "second"}, Kept: []string{group, "second"}, Preferences: session.Preferences{Units: "inches", Voice: "quick"}}
	person, err = b.Person(ctx, wren)
	must(t, err)
	equal(t, "the person", person, want)

	must(t, b.Prefer(ctx, wren, session.Preferences{On: group}))
	b.unchanged(t, func() {
		err := b.Prefer(ctx, wren, session.Preferences{On: "third", Units: "metric"})
		refused(t, "being on one not joined", err, session.ErrNotJoined)
	})
	must(t, b.Leave(ctx, group, wren, ""))
	want.On, want.Knitalongs = "", []string{"second"}
	person, err = b.Person(ctx, wren)
	must(t, err)
	equal(t, "the person after leaving the one she was on", person, want)
	_, err = b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening})
	must(t, err)
	must(t, b.Leave(ctx, "second", wren, ""))
	want.Knitalongs = []string{group}
	person, err = b.Person(ctx, wren)
	must(t, err)
	equal(t, "the person after leaving the other", person, want)
}

func testNoScript(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	must(t, b.client.ScriptFlush(ctx).Err())
	b.walk(t, at, 4)
}

func testWholeState(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	_, err := b.Set(ctx, group, wren, map[string]string{"reading": "steps", "crosses": "short"}, "")
	must(t, err)
	_, err = b.Move(ctx, group, next("e1", castOn, row(2)))
	must(t, err)
	_, err = b.Move(ctx, group, next("e2", row(2), row(3)))
	must(t, err)
	_, err = b.Undo(ctx, group, undo("e3", row(3), row(2)))
	must(t, err)
	must(t, b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Lanterns", Row: 2, Kind: session.Again, Event: "e2"}))

	const (
		brim = "Brim\t1\t0\t1\tmedium\t"
		two  = "Lanterns\t2\t0\t1\tmedium\tLanterns 5-8"
		tri  = "Lanterns\t3\t0\t1\tmedium\tLanterns 5-8"
		when = "1700000000123"
	)
	equal(t, "every key", b.dump(t), map[string]any{
		"clew:{harbour-lamp}:about": map[string]string{
			"title": "The Harbour Lamp hat", "host": "discord:40961", "server": "tibberhythe", "channel": "lamp-room",
			"started": when, "revision": "1", "changes": "4", // joining, two moves, one back
		},
		"clew:{harbour-lamp}:revisions": []string{pattern},
		"clew:{harbour-lamp}:board":     []redis.Z{{Member: "terminal:wren", Score: 192}},
		"clew:{harbour-lamp}:roster": map[string]string{
			"terminal:wren": "\t\tLanterns\t2\t192\t\t1\tmedium\t" + when + "\t" + when + "\t\t\t",
		},
		"clew:{harbour-lamp}:stumbles": map[string]string{"2\tLanterns\tagain": "1"},
		"clew:{harbour-lamp}:log:terminal:wren": []string{
			when + "\tundo\t" + tri + "\t" + two + "\t288\t192",
			when + "\tnext\t" + two + "\t" + tri + "\t192\t288",
			when + "\tnext\t" + brim + "\t" + two + "\t0\t192",
		},
		"clew:{harbour-lamp}:place:terminal:wren": map[string]string{
			"section": "Lanterns", "row": "2", "step": "0", "revision": "1", "size": "medium", "leftout": "Lanterns 5-8",
			"done": "192", "settings": "crosses=short\nreading=steps\n", "joined": "1",
			"told": "1", "moved": when, "since": when, "entered": when, "seen": when,
			"undo": "1", "undo#1": brim + "\t0\t",
			"event": "3", "event#1": "e1", "event#2": "e2", "event#3": "e3",
			"event:e1": "you are at row c", "event:e2": "you are at row d", "event:e3": "you are back at row c",
			"stumble": "1", "stumble#1": "e2", "stumble:e2": "",
		},
		"clew:person:terminal:wren": map[string]string{
			"joined:harbour-lamp": when, "on": "harbour-lamp", "kept:harbour-lamp": "1", "kept": "1",
		},
		"clew:person:discord:40961": map[string]string{"kept:harbour-lamp": "1", "kept": "1"},
		"clew:server:tibberhythe":   map[string]string{"harbour-lamp": "lamp-room\tThe Harbour Lamp hat"},
		tendedSet:                   []redis.Z{{Member: group, Score: 0}},
	})
}
