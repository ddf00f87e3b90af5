package bot_test

import (
	"fmt"
	"strings"
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

// A row gives pause to who has something explained that is in it, and in no other case.
func TestStumblesOverWhatIsThere(t *testing.T) {
	for _, c := range []struct {
		row, words string
		counts     int64
	}{
		{"3", "explain yarn over", 1}, {"3", "explain that", 1}, {"3", "explain knit two together", 1}, {"3", "explain two over two right cross", 0}, {"3", "explain that cross", 0},
		{"2", "explain two over two right cross", 1}, {"2", "explain that cross", 1}, {"2", "explain that", 1}, {"2", "explain two over two left cross", 0},
		{"2", "explain yarn over", 0}, {"1", "explain that", 0}, {"1", "explain knit", 1},
	} {
		h := newHouse(t)
		id := h.knit(t, wren, short)
		for _, words := range []string{"put me at row " + c.row + " of the band", c.words} {
			h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words, Event: words})
		}
		found, err := h.store.Stumbles(t.Context(), id)
		n := int64(0)
		for _, s := range found {
			n += s.Explained
		}
		if err != nil || n != c.counts {
			t.Errorf("%s in row %s counts %d, %v; expected %d", c.words, c.row, n, err, c.counts)
		}
	}
}

// Where a row reads otherwise in other sizes, a host hears in which it reads so.
func TestStumblesSaySize(t *testing.T) {
	const text = `Pattern: Hat
Worked: in rounds
Sizes: small, large
Cast on: 20 (24)
Section: Brim
Round 1: knit.
Round 2: k10 (12), p10 (12).
`
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(text), Event: "start"})
	for _, words := range []string{"join large", "next", "again", "next", "again", "again"} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words})
	}
	r := h.order(t, bot.Order{Deed: bot.Stumbles, Member: tamsin, Manages: true})
	for _, want := range []string{"was heard again twice. In size small it reads: knit ten, purl ten.", "In size small it reads: knit all twenty stitches."} {
		if !strings.Contains(r.Said, want) {
			t.Errorf("answered %q, expected %q in it", r.Said, want)
		}
	}
}
