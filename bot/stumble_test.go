package bot_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/session"
)

// What gives a knitter pause is counted by its row: hearing it again, having it
// explained, going back from it, another count after it. Nothing else is, and nothing
// before she begins.
func TestStumbles(t *testing.T) {
	house := newHouse(t)
	id := house.knit(t, wren, short)
	for i, words := range []string{
		"again", "explain yarn over", "next", "again", "next", "where am I", "next", "explain that", "read row 1", "I count 3", "catch me up", "settings",
		"back", "next", "put me at row 1 of the band", "undo", "help", "my cat is knitting", "back", "back", "back",
	} {
		ask := bot.Ask{Member: wren, Knitalong: id, Words: words, Event: fmt.Sprint(i)}
		for range 2 { // an event that comes again counts once
			if r := house.Answer(t.Context(), ask); r.Failed != nil {
				t.Fatal(r.Said)
			}
		}
	}
	found, err := house.store.Stumbles(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	want := []session.Stumbled{
		{Section: "Band", Row: 3, Explained: 1, WentBack: 3, Miscounted: 1},
		{Section: "Band", Row: 1, Again: 1, WentBack: 1},
		{Section: "Band", Row: 2, WentBack: 1},
	}
	if diff := cmp.Diff(want, found); diff != "" {
		t.Errorf("stumbles (-want +found):\n%s", diff)
	}
}
