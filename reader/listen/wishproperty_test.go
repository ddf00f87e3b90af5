package listen

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// changing are the lines of the table that change a plan.
func changing(t testing.TB, l *Listener) (all []wished) {
	for _, w := range readWishes(t) {
		if l.Hear(w.words).changes() && strings.HasPrefix(w.want, "fit") {
			all = append(all, w)
		}
	}
	if len(all) < 50 {
		t.Fatalf("found %d lines that change a plan, expected at least fifty", len(all))
	}
	return all
}

// A word that the grammar doesn't know, and no plan changes.
func TestWordTooManyInWish(t *testing.T) {
	l := wishListener()
	all := changing(t, l)
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(all).Draw(t, "wish")
		words := strings.Fields(w.words)
		at := rapid.IntRange(0, len(words)).Draw(t, "at")
		extra := rapid.StringMatching(`[bdgz][aeiou][vxz][aeiou][a-z]{0,6}q`).Draw(t, "extra")
		said := strings.Join(words[:at], " ") + " " + extra + " " + strings.Join(words[at:], " ")
		if h := l.Hear(said); h.changes() {
			t.Fatalf("%q changes something: %s", said, told(h))
		}
	})
}

// Who refuses to leave rows out, tells of it, asks about it or goes on about something else, has not left out any.
func TestChatterLeavesOutNothing(t *testing.T) {
	l := wishListener()
	for _, w := range changing(t, l) {
		for _, before := range []string{"please don't ", "never ", "I won't ", "he didn't ", "I haven't ", "we don't need to ", "she said ", "my friend is ", "did you ", "why did you ", "when I'm ", "if they ",
			"my cat and I ", "tomorrow ", "yesterday ", "everyone ", "should I ", "can I ", "how do I ", "maybe "} {
			if h := l.Hear(before + w.words); h.changes() && h.Fit.Kind == LeaveOut {
				t.Errorf("%q leaves rows out: %s", before+w.words, told(h))
			}
		}
		for _, after := range []string{" for lunch", " tomorrow", " was hard", " later", " yesterday", " with my sister", " of my book", " when the cat came in", " already?", "?", " for tonight", " or not", " but not yet",
			" because I like it", " is what she said", ", my sister said", " and next row", ", next row", ", and go to row 5"} {
			if h := l.Hear(strings.TrimRight(w.words, "?") + after); h.changes() {
				t.Errorf("%q changes something: %s", w.words+after, told(h))
			}
		}
	}
}

// Said politely or with hesitation, a wish stays what it is.
func TestWishWrapped(t *testing.T) {
	l := wishListener()
	for words, want := range map[string]string{
		"leave out four rounds": "fit leaveout leave 4", "put the rows back": "fit workall", "make it an inch longer": "fit longer 1in", "my head is 57 centimetres": "fit sizes head 57cm",
		"I get 21 stitches and 29 rows to ten centimetres": "fit gauge 21x29 to 10cm", "cast on for 50 cm": "fit caston 50cm", "how wide will it be": "fit measurements", "show me the chart of lanterns": "picture chart of lanterns",
		"I had 100 grams, 38 are left": "yarn had 100 left 38 g", "thirty eight grams left of a hundred": "yarn had 100 left 38 g", "what size for a toddler": "fit sizes for toddler",
	} {
		for _, before := range []string{"", "please ", "okay ", "hey clew ", "um, ", "Clew, ", "so ", "right, ", "yes ", "alright then ", "Okay great! ", "well ", "uh clue ", "good morning, ", "now "} {
			for _, after := range []string{"", " please", " now", " then", " thanks", ", thank you", " clew", " if you can", " 🙂", "!", "...", " okay", " thank you very much"} {
				if got := told(l.Hear(before + words + after)); got != want {
					t.Errorf("%q is heard as %q, expected %q", before+words+after, got, want)
				}
			}
		}
	}
}

// TestWishMisheard mishears the words of every line of the table: the same is understood, or nothing changes.
func TestWishMisheard(t *testing.T) {
	l := wishListener()
	said, right := 0, 0
	for _, w := range readWishes(t) {
		if strings.HasSuffix(w.words, "?") {
			continue // mishearing loses the question mark
		}
		for _, words := range mishear(w.words) {
			said++
			h := l.Hear(words)
			if told(h) == w.want {
				right++
				continue
			}
			if h.changes() {
				t.Errorf("%s: %q changes something: %s, expected %s", w.where, words, told(h), w.want)
			}
			t.Logf("%s: %q: heard %s, expected %s", w.where, words, told(h), w.want)
		}
	}
	t.Logf("%d of %d right", right, said)
	if right*100 < said*95 {
		t.Errorf("%d of %d misheard wishes understood; 95 in 100 are wanted", right, said)
	}
}

// spoken is a number as it is said, and its value.
type spokenNumber struct {
	words string
	value float64
}

func drawNumber(t *rapid.T, label string, whole bool) spokenNumber {
	n := rapid.IntRange(1, maxNumber).Draw(t, label)
	words := rapid.SampledFrom([]string{cardinal(n, " and ", " "), cardinal(n, " and ", "-"), fmt.Sprint(n)}).Draw(t, label+" words")
	written := words == fmt.Sprint(n)
	parts := []spokenNumber{{"", 0}}
	if !whole {
		parts = append(parts, spokenNumber{" and a half", .5}, spokenNumber{" and a quarter", .25}, spokenNumber{" and three quarters", .75}, spokenNumber{" point five", .5}, spokenNumber{" point two five", .25})
		if written {
			parts = append(parts, spokenNumber{".5", .5}, spokenNumber{".75", .75}, spokenNumber{"½", .5}, spokenNumber{" 1/2", .5}, spokenNumber{" 3/4", .75})
		}
	}
	part := rapid.SampledFrom(parts).Draw(t, label+" part")
	return spokenNumber{words + part.words, float64(n) + part.value}
}

// The numbers of a wish are those in the words.
func TestWishNumbers(t *testing.T) {
	l := wishListener()
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawNumber(t, "a", false), drawNumber(t, "b", false)
		n := drawNumber(t, "n", true)
		unit := rapid.SampledFrom([]string{"centimetres", "inches", "cm", "centimeters"}).Draw(t, "unit")
		stuff := rapid.SampledFrom([]string{"grams", "metres", "yards", "ounces", "g"}).Draw(t, "stuff")
		for _, c := range []struct {
			words string
			want  []float64
		}{
			{"my head is " + a.words + " " + unit, []float64{a.value}},
			{"make it " + a.words + " " + unit + " longer", []float64{a.value}},
			{"I want it to be " + a.words + " " + unit + " long", []float64{a.value}},
			{"cast on for " + a.words + " " + unit, []float64{a.value}},
			{"I get " + a.words + " stitches and " + b.words + " rows to ten centimetres", []float64{a.value, b.value, 10}},
			{"I had " + a.words + " " + stuff + ", " + b.words + " are left", []float64{a.value, b.value}},
			{b.words + " " + stuff + " left of " + a.words, []float64{a.value, b.value}},
			{"there are " + b.words + " " + stuff + " left", []float64{b.value}},
			{"leave out " + n.words + " rounds of slack water", []float64{n.value}},
		} {
			h := l.Hear(c.words)
			got := numbersOf(h)
			if len(got) != len(c.want) {
				t.Fatalf("%q is heard as %s, expected the numbers %v", c.words, told(h), c.want)
			}
			for i := range got {
				if math.Abs(got[i]-c.want[i]) > 1e-9 {
					t.Fatalf("%q is heard as %s, expected the numbers %v", c.words, told(h), c.want)
				}
			}
		}
	})
}

// numbersOf gives all numbers of a wish that were said.
func numbersOf(h Heard) (all []float64) {
	add := func(said bool, n float64) {
		if said {
			all = append(all, n)
		}
	}
	if f := h.Fit; f != nil {
		add(f.HasNumber && f.Kind != Gauge, f.Number)
		add(f.Stitches > 0, f.Stitches)
		add(f.Rows > 0, f.Rows)
		add(f.Over > 0, f.Over)
		add(f.Leave != 0, float64(f.Leave))
	}
	if y := h.Yarn; y != nil {
		add(y.HasHad, y.Had)
		add(y.HasLeft, y.Left)
	}
	return all
}
