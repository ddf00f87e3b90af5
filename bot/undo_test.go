package bot_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
)

// Undo asked for by several at once takes back one move for each event, though
// each comes twice, and both get the same words.
func TestUndoManyAtOnce(t *testing.T) {
	const moves, undos = 6, 4
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "quay-cap"))
	for range moves {
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row"})
	}
	var asking sync.WaitGroup
	var said [undos][2]string
	for e := range undos {
		for twice := range 2 {
			asking.Go(func() {
				r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "undo", Event: fmt.Sprintf("u%d", e)})
				if r.Failed != nil {
					t.Errorf("a request failed: %s %q", r.Failed.Code, r.Said)
				}
				said[e][twice] = r.Said
			})
		}
	}
	asking.Wait()
	if at := h.place(t, id, wren); at.Row != moves-undos {
		t.Errorf("found row %d, expected %d", at.Row, moves-undos)
	}
	log, err := h.store.Log(t.Context(), id, wren, 0)
	if err != nil || len(log) != moves+undos {
		t.Errorf("found %d moves in the log, expected %d (%v)", len(log), moves+undos, err)
	}
	for e, s := range said {
		if s[0] != s[1] || !strings.HasPrefix(s[0], "Your last move is taken back. ") {
			t.Errorf("undo %d was answered %q and %q, expected the same, of a move taken back", e, s[0], s[1])
		}
	}
}

// An event that let her join comes again, and reads as a change of size now: it
// changes nothing, and is answered as it was; by a bot that has been started
// since, which does not know what it came to, with where she is.
func TestJoiningComesAgainAsASize(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, strings.Replace(short, "Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)", 1))
	ask := bot.Ask{Member: odo, Knitalong: id, Words: "size wide", Event: "e1"}
	const hears = "Cast on forty-eight stitches, and join to work in the round. Then say next row to hear the first."
	first := h.Answer(t.Context(), ask).Said
	if !strings.HasPrefix(first, "You have joined ") || !strings.HasSuffix(first, hears) {
		t.Errorf("joining is answered %q", first)
	}
	before := h.dump(t)
	if r := h.Answer(t.Context(), ask); r.Said != first || r.Failed != nil {
		t.Errorf("the second time it is answered %q, expected %q", r.Said, first)
	}
	h.stop(t)
	h.start(t)
	if r := h.Answer(t.Context(), ask); r.Said != hears || r.Failed != nil {
		t.Errorf("after a new start it is answered %q, expected %q", r.Said, hears)
	}
	if diff := cmp.Diff(before, h.dump(t)); diff != "" {
		t.Errorf("the second time changed the store (-before +after):\n%s", diff)
	}
}
