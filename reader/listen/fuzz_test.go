package listen

import (
	"strings"
	"testing"
)

// FuzzHear holds whatever is said against what Heard promises.
func FuzzHear(f *testing.F) {
	for _, file := range []string{"phrases.tsv", "heldout.tsv", "voices.tsv"} {
		for i, p := range readPhrases(f, file) {
			if i%5 == 0 {
				f.Add(p.words)
			}
		}
	}
	for _, s := range []string{"", " ", "\xff\xfe row 12", "next\x00row", "row ½", strings.Repeat("next ", 120), strings.Repeat("a", 501), "row 99999999999999999999", "’’’'''",
		"row 1,2,3,456", "1/2/3", "-5", "é́́́", "👩‍👩‍👧 next row", "ＮＥＸＴ ｒｏｗ"} {
		f.Add(s)
	}
	l := New(terms, "Lanterns", "Seed edge")
	f.Fuzz(func(t *testing.T, said string) {
		h := l.Hear(said)
		if RequestFor(h.Intent).Wants == "" && h.Intent != None && h.Intent != Unsure {
			t.Fatalf("%q: unknown intent in %+v", said, h)
		}
		if h.Sure == (h.Intent == Unsure) {
			t.Fatalf("%q: sure and unsure at once: %+v", said, h)
		}
		if h.Number < 0 || h.Number > maxNumber || !h.HasNumber && h.Number != 0 || h.Intent == At && (!h.HasNumber || h.Number == 0) {
			t.Fatalf("%q: number out of range: %+v", said, h)
		}
		if (h.Intent == Unsure) != (h.Ask != "") || (h.Intent == Unsure) != (len(h.Alternatives) > 0) {
			t.Fatalf("%q: a question that is none: %+v", said, h)
		}
		if !speakable(h.Ask) {
			t.Fatalf("%q: a question that can't be spoken: %q", said, h.Ask)
		}
		if again := l.Hear(said); again.Intent != h.Intent || again.Number != h.Number {
			t.Fatalf("%q: heard %+v, then %+v", said, h, again)
		}
	})
}

// speakable reports whether s holds only letters, spaces and the signs that a voice reads as pauses.
func speakable(s string) bool {
	return strings.Trim(strings.ToLower(s), "abcdefghijklmnopqrstuvwxyz ,.?'-") == "" && !strings.ContainsAny(s, "0123456789_/\"")
}
