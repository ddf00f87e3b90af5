package listen

import (
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSections(t *testing.T) {
	l := New(terms, "Lanterns", "Left Thumb", "Crown (closing)")
	for _, c := range []struct {
		words string
		want  Heard
	}{
		{"put me at row 3 of the crown", Heard{Intent: At, Number: 3, HasNumber: true, Section: "crown", Sure: true}},
		{"I'm on row twelve of the Lanterns", Heard{Intent: At, Number: 12, HasNumber: true, Section: "lanterns", Sure: true}},
		{"go to row 2 left thumb", Heard{Intent: At, Number: 2, HasNumber: true, Section: "left thumb", Sure: true}},
		{"go to lanterns row two", Heard{Intent: At, Number: 2, HasNumber: true, Section: "lanterns", Sure: true}},
		{"put me on row 5 of the crown closing", Heard{Intent: At, Number: 5, HasNumber: true, Section: "crown closing", Sure: true}},
		{"read row 3 of the crown", Heard{Intent: Row, Number: 3, HasNumber: true, Section: "crown", Sure: true}},
		{"read row 3 of the wide edge", Heard{Intent: Row, Number: 3, HasNumber: true, Section: "wide edge", Sure: true}},
		{"put me at row 3 of the wide edge", Heard{Intent: Unsure, Number: 3, HasNumber: true, Section: "wide edge", Alternatives: []Intent{At, Row}, Ask: "Do you want to go to that row?"}},
	} {
		t.Run(c.words, func(t *testing.T) {
			got := l.Hear(c.words)
			if got.Intent == Unsure {
				got.Section = c.want.Section // a place name that isn't known is only a guess
			}
			if d := cmp.Diff(c.want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

// Where names collide, an abbreviation goes before a spoken name, and the first of two terms before the second.
func TestGlossaryOrder(t *testing.T) {
	l := New([]Term{{"one", []string{"brindle", "tup"}}, {"two", []string{"brindle"}}, {"tup", nil}, {"", []string{""}}})
	for words, want := range map[string]string{"explain brindle": "one", "explain tup": "tup", "explain T.U.P.": "tup"} {
		if h := l.Hear(words); h.Intent != Explain || h.Stitch != want {
			t.Errorf("%q: heard %+v, want explain %s", words, h, want)
		}
	}
	if h := New(nil).Hear("how do I work that cross"); h.Intent != Explain || h.Stitch != "cross" {
		t.Errorf("with no glossary: heard %+v, want explain cross", h)
	}
}

func TestTooLong(t *testing.T) {
	l := New(terms)
	for _, c := range []struct {
		name, words string
		want        Intent
	}{
		{"just fits", "next row" + strings.Repeat(" ", maxRunes-8), Next},
		{"one more", "next row" + strings.Repeat(" ", maxRunes-7), None},
		{"wide letters", "next row" + strings.Repeat("\u2003", maxRunes-8), Next},
		{"many words", strings.Repeat("next ", maxWords+1), None},
		{"megabytes", strings.Repeat("next row ", 1<<20), None},
		{"invalid", "\xff\xfenext\xff row\xc3", Next},
		{"nothing", "", None},
		{"signs", "?!… 👍", None},
	} {
		t.Run(c.name, func(t *testing.T) {
			if h := l.Hear(c.words); h.Intent != c.want {
				t.Errorf("heard %+v, want %s", h, c.want)
			}
		})
	}
}

// A listener is shared by all who talk at once.
func TestTogether(t *testing.T) {
	l := New(terms)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 50 {
				if h := l.Hear("jump to row twenty four"); h.Intent != At || h.Number != 24 {
					t.Errorf("heard %+v, want at 24", h)
				}
			}
		})
	}
	all.Wait()
}
