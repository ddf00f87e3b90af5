package listen

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// moving are the phrases of the test files that move something.
func moving(t testing.TB) (all []phrase) {
	for _, file := range []string{"phrases.tsv", "heldout.tsv", "voices.tsv"} {
		for _, p := range readPhrases(t, file) {
			if p.intent.Moves() {
				all = append(all, p)
			}
		}
	}
	return all
}

// TestWordTooMany puts a word that the grammar doesn't know into a request that moves. It may then move nothing, or what it
// moved before (a word behind "row five of the" is a section), never anything else.
func TestWordTooMany(t *testing.T) {
	l := New(terms)
	all := moving(t)
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(all).Draw(t, "phrase")
		words := strings.Fields(p.words)
		at := rapid.IntRange(0, len(words)).Draw(t, "at")
		extra := rapid.StringMatching(`[bdgz][aeiou][vxz][aeiou][a-z]{0,6}q`).Draw(t, "extra")
		said := strings.Join(words[:at], " ") + " " + extra + " " + strings.Join(words[at:], " ")
		h := l.Hear(said)
		if h.Intent.Moves() && (h.Intent != p.intent || h.Number != p.number) {
			t.Fatalf("%q moves: heard %+v, want nothing or %s %d", said, h, p.intent, p.number)
		}
		if h.Intent.Moves() && h.Section == "" {
			t.Fatalf("%q moves though %q is nothing that the grammar knows", said, extra)
		}
	})
}

// TestChatterMovesNothing puts every request that moves into a sentence that refuses it, tells of it or goes on about something else.
func TestChatterMovesNothing(t *testing.T) {
	l := New(terms)
	for i, p := range moving(t) {
		for k, before := range []string{"don't ", "do not ", "please don't ", "never ", "I won't ", "he didn't ", "I haven't ", "we don't need to ", "she said ", "my friend is ", "did you ",
			"why did you ", "when I'm ", "if they ", "my cat and I ", "tomorrow ", "yesterday ", "everyone "} {
			if (i+k)%4 > 0 {
				continue // each phrase meets a quarter of them, each of them a quarter of the phrases
			}
			if h := l.Hear(before + p.words); h.Intent.Moves() {
				t.Errorf("%q moves: heard %+v", before+p.words, h)
			}
		}
		for k, after := range []string{" for lunch", " tomorrow", " was hard", " later", " in five minutes", " yesterday", " with my sister", " of my book", " when the cat came in", " already?", " week",
			" for tonight", " or not", " but not yet", " because I like it", " of the theatre", " is what she said"} {
			if (i+k)%4 > 0 {
				continue
			}
			if h := l.Hear(p.words + after); h.Intent.Moves() {
				t.Errorf("%q moves: heard %+v", p.words+after, h)
			}
		}
	}
}

// TestNumbers says every row number in figures and in words, and those up to 1,300 and every thirteenth figure by figure too.
func TestNumbers(t *testing.T) {
	l := New(terms)
	for n := 1; n <= maxNumber; n++ {
		ways := []string{cardinal(n, " and ", " "), fmt.Sprint(n)}
		if n <= 1300 || n%13 == 0 {
			ways = append(ways, cardinal(n, " ", "-"), strings.Join(strings.Split(fmt.Sprint(n), ""), " "), digits(n))
		}
		for _, said := range ways {
			if h := l.Hear("go to row " + said); h.Intent != At || h.Number != n || !h.HasNumber {
				t.Fatalf("go to row %s: heard %+v, want at %d", said, h, n)
			}
		}
	}
}

var (
	testUnits = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	testTens  = strings.Fields("- - twenty thirty forty fifty sixty seventy eighty ninety")
)

// cardinal spells n as it is said in full, with what stands after a hundred and between tens and units.
func cardinal(n int, and, hyphen string) string {
	switch {
	case n >= 1000:
		rest := n % 1000
		s := testUnits[n/1000] + " thousand"
		if rest == 0 {
			return s
		}
		if rest < 100 {
			return s + and + cardinal(rest, and, hyphen)
		}
		return s + " " + cardinal(rest, and, hyphen)
	case n >= 100:
		s := testUnits[n/100] + " hundred"
		if n%100 == 0 {
			return s
		}
		return s + and + cardinal(n%100, and, hyphen)
	case n >= 20:
		s := testTens[n/10]
		if n%10 == 0 {
			return s
		}
		return s + hyphen + testUnits[n%10]
	}
	return testUnits[n]
}

func digits(n int) string {
	var words []string
	for _, d := range fmt.Sprint(n) {
		words = append(words, testUnits[d-'0'])
	}
	return strings.Join(words, " ")
}
