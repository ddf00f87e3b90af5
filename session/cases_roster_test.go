package session_test

import (
	"fmt"
	"strconv"
	"testing"
	"time"

	"clew/session"
)

func testMoveSays(t *testing.T, b bench) {
	ctx := t.Context()
	must(t, b.Start(ctx, about, pattern))
	b.becomes(t, "joining", func(s state) {
		s[placeHash] = map[string]string{
			"section": "Brim", "row": "1", "step": "0", "revision": "1", "size": "medium", "leftout": "", "done": "0", "all": "9000",
			"settings": "", "joined": "1", "told": "1", "name": "Wren 🧶", "entered": ms(evening), "seen": ms(evening),
		}
		s[rosterHash] = map[string]string{string(wren): "Wren 🧶\t\tBrim\t1\t0\t9000\t1\tmedium\t" + ms(evening) + "\t" + ms(evening) + "\t\t\t"}
		s[boardSet] = scores(0)
		s[personHash] = map[string]string{"joined:" + group: ms(evening), "on": group, "kept:" + group: "1", "kept": "1"}
		s.changed(aboutHash)
	}, func() {
		_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening, Name: "Wren 🧶", All: 9000})
		must(t, err)
	})

	// A move that leads nowhere keeps what its answer says.
	at := evening.Add(time.Minute)
	stay := session.Move{Member: wren, From: castOn, To: castOn, How: "where", At: at, Rests: true, Told: true}
	b.becomes(t, "a move to the same place", func(s state) {
		s.hash(placeHash)["rested"], s.hash(placeHash)["seen"] = ms(at), ms(at)
		s.hash(rosterHash)[string(wren)] = "Wren 🧶\t\tBrim\t1\t0\t9000\t1\tmedium\t" + ms(evening) + "\t" + ms(at) + "\t\t\t"
	}, func() {
		_, err := b.Move(ctx, group, stay)
		must(t, err)
	})
	stay.Name, stay.All, stay.At = "Wren", 9100, evening // a clock that is behind
	b.becomes(t, "a new name", func(s state) {
		s.hash(placeHash)["name"], s.hash(placeHash)["all"] = "Wren", "9100"
		s.hash(rosterHash)[string(wren)] = "Wren\t\tBrim\t1\t0\t9100\t1\tmedium\t" + ms(evening) + "\t" + ms(at) + "\t\t\t"
		s.changed(aboutHash)
	}, func() {
		_, err := b.Move(ctx, group, stay)
		must(t, err)
	})

	to := row(2)
	to.Revision = 3
	m := session.Move{Member: wren, From: castOn, To: to, How: "next", Done: 96, All: 9200, At: at, Told: true}
	moved, err := b.Move(ctx, group, m)
	must(t, err)
	want := session.State{Place: to, Done: 96, All: 9200, Told: 3, Moved: at, Since: at, Rested: at, Joined: true}
	equal(t, "a move to another revision", moved, session.Moved{State: want})
	undone, err := b.Undo(ctx, group, session.Move{Member: wren, From: to, To: castOn, How: "undo", At: at, All: 1})
	must(t, err)
	want.Place, want.Done, want.All = castOn, 0, 9100
	equal(t, "undone: the stitches in all come back, and she was told", undone, session.Moved{State: want})
}

// Moves go on without a break for as long as none is RestBreak after the one before.
func testSince(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at, from := evening, castOn
	for i, c := range []struct {
		after        time.Duration
		moved, since time.Duration
	}{
		{0, 0, 0},
		{session.RestBreak - time.Millisecond, session.RestBreak - time.Millisecond, 0},
		{2*session.RestBreak - 2*time.Millisecond, 2*session.RestBreak - 2*time.Millisecond, 0},
		{3*session.RestBreak - 2*time.Millisecond, 3*session.RestBreak - 2*time.Millisecond, 3*session.RestBreak - 2*time.Millisecond},
		{0, 3*session.RestBreak - 2*time.Millisecond, 3*session.RestBreak - 2*time.Millisecond}, // a clock that is behind
	} {
		m := next("", from, row(i+2))
		m.At = at.Add(c.after)
		moved, err := b.Move(ctx, group, m)
		must(t, err)
		equal(t, fmt.Sprintf("move %d", i+1), []time.Time{moved.Moved, moved.Since}, []time.Time{at.Add(c.moved), at.Add(c.since)})
		from = m.To
	}
}

func testRoster(t *testing.T, b bench) {
	ctx := t.Context()
	b.unchanged(t, func() {
		_, err := b.Roster(ctx, group)
		refused(t, "the roster of none", err, session.ErrUnknownKnitalong)
	})
	b.begin(t)
	see := func(what string, want ...session.Entrant) {
		t.Helper()
		b.unchanged(t, func() {
			got, err := b.Roster(ctx, group)
			must(t, err)
			equal(t, what, got, want)
		})
	}
	see("nobody")
	for _, j := range []session.Joining{
		{Member: wren, Place: castOn, At: evening, Name: "Wren"}, {Member: odo, Place: castOn, At: evening, All: 4000},
	} {
		_, err := b.Join(ctx, group, j)
		must(t, err)
	}
	his := session.Entrant{Member: odo, RowID: session.RowID{Section: "Brim", Row: 1}, Revision: 1, Size: "medium", All: 4000, Joined: evening, Seen: evening}
	hers := session.Entrant{Member: wren, Name: "Wren", RowID: his.RowID, Revision: 1, Size: "medium", Joined: evening, Seen: evening}
	see("two", his, hers)

	later := evening.Add(time.Hour)
	m := next("e1", castOn, row(7))
	m.At = later
	_, err := b.Move(ctx, group, m)
	must(t, err)
	hers.RowID, hers.Done, hers.Seen = session.RowID{Section: "Lanterns", Row: 7}, 7*96, later
	see("one has moved", his, hers)
	_, err = b.Set(ctx, group, wren, map[string]string{"board": "hidden"}, "")
	must(t, err)
	hers.Hidden = true
	see("one is hidden", his, hers)
	_, err = b.Set(ctx, group, wren, map[string]string{"board": "hidden-away", "a-board": "hidden"}, "")
	must(t, err)
	hers.Hidden = false
	see("other settings hide nobody", his, hers)

	must(t, b.Leave(ctx, group, odo, ""))
	see("one has left", hers)
	_, err = b.Join(ctx, group, session.Joining{Member: odo, Place: castOn, At: later, Name: "Odo", All: 1})
	must(t, err)
	his.Name, his.Joined, his.Seen = "Odo", later, later
	see("he is back", his, hers)
	b.forget(t, odo)
	see("one is forgotten", hers)
}

// What others see on the board counts as a change, and nothing else does.
func testChanges(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := castOn
	change := func(what string, by int, do func() error) {
		t.Helper()
		before := state(b.dump(t)).hash(aboutHash)["changes"]
		must(t, do())
		was, _ := strconv.Atoi(before)
		equal(t, what+" counts", state(b.dump(t)).hash(aboutHash)["changes"], strconv.Itoa(was+by))
	}
	move := func(to session.Place, done int64, change func(m *session.Move)) func() error {
		return func() error {
			m := session.Move{Member: wren, From: at, To: to, How: "next", Done: done, At: evening.Add(time.Second)}
			if change != nil {
				change(&m)
			}
			_, err := b.Move(ctx, group, m)
			at = to
			return err
		}
	}
	set := func(name, value string) func() error {
		return func() error {
			_, err := b.Set(ctx, group, wren, map[string]string{name: value}, "")
			return err
		}
	}
	step := row(2)
	step.Step = 1
	change("another row", 1, move(row(2), 96, nil))
	change("a step of it", 0, move(step, 96, nil))
	change("the same place", 0, move(step, 96, nil))
	change("a name", 1, move(step, 96, func(m *session.Move) { m.Name = "Wren" }))
	change("the same name", 0, move(step, 96, func(m *session.Move) { m.Name = "Wren" }))
	change("the stitches in all", 1, move(step, 96, func(m *session.Move) { m.All = 900 }))
	change("being told", 0, move(step, 96, func(m *session.Move) { m.Told, m.Rests = true, true }))
	change("undo within the row", 0, func() error {
		_, err := b.Undo(ctx, group, session.Move{Member: wren, From: step, To: row(2), How: "undo", At: evening})
		return err
	})
	change("undo", 1, func() error {
		_, err := b.Undo(ctx, group, session.Move{Member: wren, From: row(2), To: castOn, How: "undo", At: evening})
		return err
	})
	change("a setting", 0, set("reading", "steps"))
	change("hiding", 1, set("board", "hidden"))
	change("hiding again", 0, set("board", "hidden"))
	change("coming out", 1, set("board", ""))
	change("being stuck", 0, func() error { _, err := b.Stuck(ctx, group, wren, "", evening); return err })
	change("a stumble", 0, func() error {
		return b.Stumble(ctx, group, wren, session.StumbleAt{Section: "Brim", Row: 1, Kind: session.Again})
	})
	change("being told of a revision", 0, func() error { return b.ToldRevision(ctx, group, wren, 2) })
	change("leaving", 1, func() error { return b.Leave(ctx, group, wren, "") })
	change("coming back", 1, func() error {
		_, err := b.Join(ctx, group, session.Joining{Member: wren, Place: castOn, At: evening})
		return err
	})
	change("forgetting", 1, func() error { _, err := b.ForgetAll(ctx, wren); return err })
	change("forgetting again", 0, func() error { _, err := b.ForgetAll(ctx, wren, group); return err })
}

func testStuck(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	b.walk(t, castOn, 2)
	at := evening.Add(time.Minute)
	b.becomes(t, "asking for help", func(s state) {
		place := s.hash(placeHash)
		place["stuck"], place["stuckat"], place["seen"] = ms(at), "Lanterns\t2", ms(at)
		place["event"], place["event#1"], place["event:h1"] = "1", "h1", ""
		s.hash(rosterHash)[string(wren)] = "\t\tLanterns\t2\t192\t\t1\tmedium\t" + ms(evening) + "\t" + ms(at) + "\t" + ms(at) + "\tLanterns\t2"
	}, func() {
		_, err := b.Stuck(ctx, group, wren, "h1", at)
		must(t, err)
	})
	b.unchanged(t, func() {
		again, err := b.Stuck(ctx, group, wren, "h1", at.Add(time.Minute))
		must(t, err)
		now, err := b.State(ctx, group, wren)
		must(t, err)
		equal(t, "the state, on asking that comes again", again, now)
	})
	b.walk(t, row(2), 5) // it stays said where she was stuck
	roster, err := b.Roster(ctx, group)
	must(t, err)
	equal(t, "the roster", roster, []session.Entrant{{
		Member: wren, RowID: session.RowID{Section: "Lanterns", Row: 5}, Revision: 1, Size: "medium", Done: 5 * 96,
		Joined: evening, Seen: at, Stuck: at, StuckAt: session.RowID{Section: "Lanterns", Row: 2},
	}})
}

func testToldRevision(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	b.becomes(t, "being told", func(s state) { s.hash(placeHash)["told"] = "4" }, func() { must(t, b.ToldRevision(ctx, group, wren, 4)) })
	b.unchanged(t, func() {
		must(t, b.ToldRevision(ctx, group, wren, 4))
		must(t, b.ToldRevision(ctx, group, wren, 2))
	})
	state, err := b.State(ctx, group, wren)
	must(t, err)
	equal(t, "told of", state.Told, 4)
	late := castOn
	late.Revision = 3
	joined, err := b.Join(ctx, group, session.Joining{Member: odo, Place: late, At: evening})
	must(t, err)
	equal(t, "one who joins knows the revision that she begins with", joined.Told, 3)
}
