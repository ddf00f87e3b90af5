package session_test

import (
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"

	"clew/session"
)

func testMove(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	m := next("e1", castOn, row(7))
	m.To.Step = 4
	moved, err := b.Move(ctx, group, m)
	must(t, err)
	want := session.State{Place: m.To, Done: 7 * 96, Joined: true, Told: 1, Moved: evening, Since: evening}
	equal(t, "moved", moved, session.Moved{State: want})
	state, err := b.State(ctx, group, wren)
	must(t, err)
	equal(t, "the state", state, want)
	entries, err := b.Log(ctx, group, wren, 0)
	must(t, err)
	equal(t, "the log", entries, []session.Entry{{At: evening, How: "next", From: castOn, To: m.To, ToDone: 7 * 96}})
}

func testMoveNowhere(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	if _, err := b.Move(ctx, group, next("e1", at, at)); err != nil {
		t.Fatal(err)
	}
	again, err := b.Move(ctx, group, next("e1", at, row(9)))
	must(t, err)
	equal(t, "known as an event", again.Repeated, true)
	undone, err := b.Undo(ctx, group, undo("e2", at, castOn))
	must(t, err)
	equal(t, "undo takes back the move before", undone.Place, castOn)
	entries, err := b.Log(ctx, group, wren, 0)
	must(t, err)
	equal(t, "moves in the log", len(entries), 2)
}

func testStale(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 2)
	change := map[string]func(p *session.Place){
		"section":  func(p *session.Place) { p.Section = "Crown" },
		"row":      func(p *session.Place) { p.Row++ },
		"step":     func(p *session.Place) { p.Step++ },
		"revision": func(p *session.Place) { p.Revision++ },
		"size":     func(p *session.Place) { p.Size = "" },
		"left out": func(p *session.Place) { p.LeftOut = "Lanterns 9" },
	}
	for name, differ := range change {
		from := at
		differ(&from)
		b.unchanged(t, func() {
			_, err := b.Move(ctx, group, next("e1", from, row(3)))
			stale(t, "a move from another "+name, err, at)
			_, err = b.Undo(ctx, group, undo("e1", from, castOn))
			stale(t, "an undo from another "+name, err, at)
			to := castOn
			differ(&to)
			_, err = b.Undo(ctx, group, undo("e1", at, to))
			stale(t, "an undo to another "+name, err, at)
		})
	}
	_, err := b.Move(ctx, group, next("e1", at, row(3)))
	must(t, err) // the refused event was not used up
}

func testRepeated(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	first := next("e1", castOn, row(2))
	_, err := b.Move(ctx, group, first)
	must(t, err)
	second, err := b.Move(ctx, group, next("e2", row(2), row(3)))
	must(t, err)
	b.unchanged(t, func() {
		for _, from := range []session.Place{castOn, row(2), row(3), row(40)} {
			m := first
			m.From, m.To, m.Answer = from, row(9), "another"
			again, err := b.Move(ctx, group, m)
			must(t, err)
			equal(t, "repeated", again, session.Moved{State: second.State, Repeated: true, Answer: first.Answer})
			answers, err := b.Answers(ctx, group, wren, "never", first.Event)
			must(t, err)
			equal(t, "the answers", answers, []string{"", first.Answer})
		}
	})

	back := undo("e3", row(3), row(2))
	undone, err := b.Undo(ctx, group, back)
	must(t, err)
	b.unchanged(t, func() {
		for _, from := range []session.Place{row(3), row(2), row(40)} {
			m := back
			m.From, m.To, m.Answer = from, castOn, "another"
			again, err := b.Undo(ctx, group, m)
			must(t, err)
			equal(t, "undo repeated", again, session.Moved{State: undone.State, Repeated: true, Answer: back.Answer})
		}
	})
	// Without an id nothing is a repeat: the same move is stale, not answered.
	_, err = b.Move(ctx, group, next("", row(2), row(3)))
	must(t, err)
	var stale *session.Stale
	if _, err = b.Move(ctx, group, next("", row(2), row(3))); !errors.As(err, &stale) {
		t.Errorf("a move without an id, again: found %v, expected a stale one", err)
	}
}

func testEventsKept(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	const events = 40
	at := castOn
	for n := range events {
		m := next(fmt.Sprintf("e%d", n), at, row(n+2))
		_, err := b.Move(ctx, group, m)
		must(t, err)
		at = m.To
	}
	b.unchanged(t, func() {
		for n := range events {
			again, err := b.Move(ctx, group, next(fmt.Sprintf("e%d", n), castOn, row(1)))
			if n >= events-session.EventsKept {
				must(t, err)
				equal(t, fmt.Sprintf("event %d", n), again.Repeated, true)
				continue
			}
			var stale *session.Stale
			if !errors.As(err, &stale) {
				t.Errorf("event %d: found %v, expected it to be forgotten", n, err)
			}
		}
	})
}

func testUndo(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 3)
	fit := next("e1", at, at)
	fit.To.Size, fit.To.LeftOut, fit.To.Revision, fit.To.Step = "large", "", 2, 1
	fit.How, fit.Done = "fit", 3*128
	_, err := b.Move(ctx, group, fit)
	must(t, err)

	to, err := b.Undoable(ctx, group, wren)
	must(t, err)
	equal(t, "what undo would lead to", to, at)
	undone, err := b.Undo(ctx, group, undo("e2", fit.To, at))
	must(t, err)
	equal(t, "undone", undone, session.Moved{State: session.State{Place: at, Done: 3 * 96, Joined: true, Told: 1, Moved: evening, Since: evening}})
	board, err := b.Board(ctx, group)
	must(t, err)
	equal(t, "the board", board, []session.Standing{{Member: wren, Done: 3 * 96}})
	entries, err := b.Log(ctx, group, wren, 1)
	must(t, err)
	equal(t, "the log", entries, []session.Entry{{At: evening, How: "undo", From: fit.To, To: at, FromDone: 3 * 128, ToDone: 3 * 96}})
	undone, err = b.Undo(ctx, group, undo("", at, row(2)))
	must(t, err)
	equal(t, "undone once more", undone.Place, row(2))
}

func testUndoDepth(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	at := b.walk(t, castOn, 75)
	for round := range 2 {
		for n := range session.UndoDepth {
			to, err := b.Undoable(ctx, group, wren)
			must(t, err)
			undone, err := b.Undo(ctx, group, undo(fmt.Sprintf("u%d.%d", round, n), at, to))
			must(t, err)
			if want := row(at.Row - 1); undone.Place != want || undone.Done != int64(want.Row)*96 {
				t.Fatalf("undo %d: found %+v, expected %+v", n+1, undone.State, want)
			}
			at = undone.Place
		}
		b.unchanged(t, func() {
			_, err := b.Undoable(ctx, group, wren)
			refused(t, "one more", err, session.ErrNothingToUndo)
			_, err = b.Undo(ctx, group, undo("one too many", at, row(at.Row-1)))
			stale(t, "one more", err, at)
		})
		at = b.walk(t, at, at.Row+60)
	}
}

func testLog(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	entries, err := b.Log(ctx, group, wren, 0)
	must(t, err)
	equal(t, "the log before any move", entries, []session.Entry{})
	b.walk(t, castOn, 221)
	for n, want := range map[int]int{-1: 200, 0: 200, 1: 1, 7: 7, 200: 200, 1000: 200} {
		entries, err := b.Log(ctx, group, wren, n)
		must(t, err)
		equal(t, fmt.Sprintf("entries when asked for %d", n), len(entries), want)
		for i, e := range entries {
			equal(t, fmt.Sprintf("entry %d", i), e, session.Entry{At: evening, How: "next", From: row(220 - i), To: row(221 - i),
				FromDone: int64(220-i) * 96, ToDone: int64(221-i) * 96})
		}
	}
	entries, err = b.Log(ctx, group, wren, 0)
	must(t, err)
	members := slices.Repeat([]session.Member{odo, wren}, 150) // more than are read together
	want := slices.Repeat([]session.Pace{{StitchesAMinute: session.PaceGuess}, session.PaceOf(entries)}, 150)
	paces, err := b.Paces(ctx, group, members)
	must(t, err)
	equal(t, "the paces of some", paces, want)
}

func testConcurrent(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	const callers, moves = 8, 15 // 120 in all: the log holds every one
	var wg sync.WaitGroup
	for c := range callers {
		wg.Go(func() {
			at := castOn
			for n := range moves {
				for {
					m := next(fmt.Sprintf("c%d.%d", c, n), at, row(at.Row+1))
					_, err := b.Move(ctx, group, m)
					var stale *session.Stale
					if errors.As(err, &stale) {
						at = stale.Now
						continue
					}
					if err != nil {
						t.Errorf("caller %d, move %d: %v", c, n, err)
						return
					}
					at = m.To
					break
				}
			}
		})
	}
	wg.Wait()
	state, err := b.State(ctx, group, wren)
	must(t, err)
	equal(t, "the last row", state.Place, row(1+callers*moves))
	entries, err := b.Log(ctx, group, wren, 0)
	must(t, err)
	equal(t, "moves in the log", len(entries), callers*moves)
	for i, e := range entries[:len(entries)-1] {
		equal(t, "each move leaves where the one before ended", e.From, entries[i+1].To)
	}
}

func testConcurrentRepeats(t *testing.T, b bench) {
	ctx := t.Context()
	b.begin(t, wren)
	const callers = 12
	var wg sync.WaitGroup
	var mu sync.Mutex
	repeated := 0
	for range callers {
		wg.Go(func() {
			moved, err := b.Move(ctx, group, next("e1", castOn, row(2)))
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Error(err)
			}
			if moved.Repeated {
				repeated++
			}
			if moved.Place != row(2) {
				t.Errorf("found %v, expected row 2", moved.Place)
			}
		})
	}
	wg.Wait()
	equal(t, "callers told that it was answered before", repeated, callers-1)
}
