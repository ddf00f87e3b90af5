package listen

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// A wished is a line of testdata/wishes.tsv or group.tsv: words, and what is heard, as told tells it.
type wished struct {
	where, words, want string
}

func readWishes(t testing.TB) (all []wished) { return readWished(t, "wishes.tsv") }

func readWished(t testing.TB, file string) (all []wished) {
	t.Helper()
	text, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	line := 0
	for l := range strings.Lines(string(text)) {
		line++
		words, want, ok := strings.Cut(strings.TrimSuffix(l, "\n"), "\t")
		if !ok {
			t.Fatalf("%s:%d: expected two fields", file, line)
		}
		all = append(all, wished{fmt.Sprintf("%s:%d", file, line), words, want})
	}
	return all
}

// told puts what was heard into a few words.
func told(h Heard) string {
	parts := []string{string(h.Intent)}
	say := func(when bool, format string, args ...any) {
		if when {
			parts = append(parts, fmt.Sprintf(format, args...))
		}
	}
	if f := h.Fit; f != nil {
		say(true, "%s", f.Kind)
		say(f.Body != "", "%s", f.Body)
		say(f.Person != "", "for %s", f.Person)
		say(f.HasNumber && f.Kind != Gauge && f.Rows == 0, "%g%s", f.Number, f.Unit)
		say(f.HasNumber && f.Kind == Gauge, "%gx%g", f.Stitches, f.Rows)
		say(f.Over > 0, "to %g%s", f.Over, f.OverUnit)
		say(f.Kind == Longer && f.Rows != 0, "by %g rows", f.Rows)
		say(!f.HasNumber && f.Unit != "", "in %s", f.Unit)
		say(f.Leave != 0, "leave %d", f.Leave)
		say(f.More, "more")
		say(f.From != 0, "rows %d to %d", f.From, f.To)
		say(f.Section != "", "of %s", f.Section)
	}
	if y := h.Yarn; y != nil {
		say(y.HasHad, "had %g", y.Had)
		say(y.HasUsed, "used %g", y.Used)
		say(y.HasLeft, "left %g", y.Left)
		say(y.Unit != "", "%s", y.Unit)
		say(y.Mixed, "mixed")
		say(y.Yarn != "", "of %s", y.Yarn)
	}
	say(h.Look != "", "%s", h.Look)
	if h.Intent != Fit && h.Intent != Yarn {
		say(h.HasNumber, "%d", h.Number)
		say(h.Last != 0, "to %d", h.Last)
		say(h.Unit != "", "in %s", h.Unit)
		say(h.Section != "", "of %s", h.Section)
	}
	say(h.Part != "", "%s", h.Part)
	say(h.Part == "" && h.More, "more")
	say(h.Setting != "", "%s", h.Setting)
	say(h.Until != nil, "by %s", dayTold(h.Until))
	for _, i := range h.Alternatives {
		say(true, "%s?", i)
	}
	return strings.Join(parts, " ")
}

func wishListener() *Listener { return New(terms, "Lanterns", "Slack water", "Left Thumb") }

// A name of several words is known by its last one, where that is its alone and no other word.
func TestShortNames(t *testing.T) {
	l := New(terms, "Capstan rope", "Wide edge", "Old wall", "New wall", "Setup row", "Part 2", "Left Thumb", "Capstan rope")
	for words, want := range map[string]string{
		"show me the rope": "picture of capstan rope", "draw the rope panel": "picture of panel capstan rope", "what should the rope look like": "picture fabric of capstan rope",
		"leave out four rounds of the rope": "fit leaveout leave 4 of capstan rope", "chart of rounds three to five of the rope": "picture chart 3 to 5 of capstan rope",
		"draw the old wall": "picture of old wall", "draw the wall": "none", "draw the row": "picture", "draw the edge": "picture of edge", "draw the thumb": "picture of thumb",
		"put me at row 3 of the rope": "at 3 of capstan rope",
	} {
		if got := told(l.Hear(words)); got != want {
			t.Errorf("%q is heard as %q, expected %q", words, got, want)
		}
	}
}

// Every line of the table is heard as it says.
func TestWishes(t *testing.T) {
	l := wishListener()
	for _, w := range readWishes(t) {
		if got := told(l.Hear(w.words)); got != w.want {
			t.Errorf("%s: %q is heard as %q, expected %q", w.where, w.words, got, w.want)
		}
	}
}
