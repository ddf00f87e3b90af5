package listen

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// dayTold puts a day into a few words.
func dayTold(d *Day) string {
	switch {
	case d == nil:
		return ""
	case d.HasIn:
		return fmt.Sprintf("in %d", d.In)
	case d.HasWeekday && d.Week == 1:
		return strings.ToLower(d.Weekday.String()) + "+1"
	case d.HasWeekday:
		return strings.ToLower(d.Weekday.String())
	}
	said := fmt.Sprint(d.Date)
	if d.Month > 0 {
		said += " " + strings.ToLower(d.Month.String())
	}
	if d.Year > 0 {
		said += fmt.Sprintf(" %d", d.Year)
	}
	return said
}

// Every line of the table is heard as it says.
func TestGroup(t *testing.T) {
	l := wishListener()
	for _, w := range readWished(t, "group.tsv") {
		if got := strings.TrimSpace(told(l.Hear(w.words))); got != w.want {
			t.Errorf("%s: %q is heard as %q, expected %q", w.where, w.words, got, w.want)
		}
	}
}

// A day is understood however it is said.
func TestDays(t *testing.T) {
	l := New(terms)
	heard := func(words, want string) {
		t.Helper()
		if h := l.Hear(words); h.Intent != Catchup || dayTold(h.Until) != want {
			t.Errorf("%q is heard as %q, expected by %s", words, told(h), want)
		}
	}
	for month := time.January; month <= time.December; month++ {
		name := month.String()
		for date := 1; date <= time.Date(2028, month+1, 0, 0, 0, 0, 0, time.UTC).Day(); date++ { // a leap year
			want := fmt.Sprintf("%d %s", date, strings.ToLower(name))
			ordinal := ordinalOf(date)
			heard(fmt.Sprintf("catch me up by the %s of %s", ordinal, name), want)
			heard(fmt.Sprintf("catch me up until %s %s", name, ordinal), want)
			heard(fmt.Sprintf("catch me up by %d %s", date, name), want)
			heard(fmt.Sprintf("a plan until %s %d", name[:3], date), want)
			heard(fmt.Sprintf("plan until the %s of %s twenty twenty eight", ordinal, name), want+" 2028")
			heard(fmt.Sprintf("catch me up by %d %s 2028", date, name), want+" 2028")
		}
	}
	for day := time.Sunday; day <= time.Saturday; day++ {
		name, want := day.String(), strings.ToLower(day.String())
		for _, way := range []string{"by %s", "by next %s", "until this %s evening", "before %s", "till %s in the evening"} {
			heard("catch me up "+fmt.Sprintf(way, name), want)
		}
		heard("catch me up by "+name[:3], want)
		heard("catch me up by "+name+" week", want+"+1")
		heard("a plan until "+name+" the third of december", "3 december")
	}
	for n := 2; n <= mostDays/30; n++ {
		heard("catch me up in "+cardinal(n, " and ", " ")+" days", fmt.Sprintf("in %d", n))
		heard(fmt.Sprintf("catch me up within %d weeks", n), fmt.Sprintf("in %d", 7*n))
		heard(fmt.Sprintf("a plan for the next %d evenings", n), fmt.Sprintf("in %d", n))
	}
}

// ordinalOf spells a day of the month.
func ordinalOf(n int) string {
	words := strings.Fields("first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth")
	switch {
	case n <= 20:
		return words[n-1]
	case n < 30:
		return "twenty " + words[n-21]
	case n == 30:
		return "thirtieth"
	}
	return "thirty first"
}

// Of a day that there is not, Clew asks.
func TestNoSuchDay(t *testing.T) {
	l := New(terms)
	for _, words := range []string{"catch me up by the thirty second of december", "catch me up by 31 june", "catch me up by the 30th of february", "catch me up by 29 february 2027",
		"plan until the fortieth", "catch me up by 1 march 1999", "catch me up in a thousand days", "catch me up in four hundred weeks"} {
		if h := l.Hear(words); h.Intent != Unsure || h.Ask != "Which day do you mean?" || !slices.Equal(h.Alternatives, []Intent{Catchup}) || h.Until != nil {
			t.Errorf("%q is heard as %+v, expected a question", words, h)
		}
	}
	if h := l.Hear("catch me up by 29 february 2028"); dayTold(h.Until) != "29 february 2028" {
		t.Errorf("the leap day is heard as %q", told(h))
	}
}

// acting are the phrases of the table that tell the host something or set something.
func acting(t testing.TB) (all []wished) {
	for _, w := range readWished(t, "group.tsv") {
		if w.want == "stuck" || strings.HasPrefix(w.want, "settings ") {
			all = append(all, w)
		}
	}
	return all
}

func acts(h Heard) bool { return h.Intent == Stuck || h.Setting != "" || h.Intent.Moves() }

// A word that the grammar doesn't know, anywhere in a phrase that does something: nothing is done.
func TestWordTooManyInGroup(t *testing.T) {
	l := New(terms)
	all := acting(t)
	rapid.Check(t, func(t *rapid.T) {
		words := strings.Fields(strings.ReplaceAll(rapid.SampledFrom(all).Draw(t, "phrase").words, ",", ""))
		at := rapid.IntRange(0, len(words)).Draw(t, "at")
		extra := rapid.StringMatching(`[bdgz][aeiou][vxz][aeiou][a-z]{0,6}q`).Draw(t, "extra")
		said := strings.Join(slices.Insert(words, at, extra), " ")
		if h := l.Hear(said); acts(h) {
			t.Fatalf("%q is heard as %+v, though %q is nothing that the grammar knows", said, h, extra)
		}
	})
}

// What is told of somebody or some other time does nothing.
func TestChatterSetsNothing(t *testing.T) {
	l := New(terms)
	for _, w := range acting(t) {
		for _, before := range []string{"she said ", "my friend said ", "why did you ", "he didn't ", "yesterday ", "my cat and I ", "when they ", "did you "} {
			if h := l.Hear(before + w.words); acts(h) {
				t.Errorf("%s: %q is heard as %+v", w.where, before+w.words, h)
			}
		}
		for _, after := range []string{" for lunch", " of my book", " with my sister", " at school", " when the cat came in", " is what she said"} {
			if h := l.Hear(w.words + after); acts(h) {
				t.Errorf("%s: %q is heard as %+v", w.where, w.words+after, h)
			}
		}
	}
}

// misheardGroup are mishearings of words that stand in these phrases.
var misheardGroup = map[string][]string{
	"board": {"bored"}, "hide": {"hied"}, "by": {"buy"}, "until": {"till", "til"}, "miss": {"mist"}, "new": {"knew", "gnu"}, "stuck": {"stuk"}, "rows": {"rose"}, "row": {"roe", "road"},
	"friday": {"fryday"}, "wednesday": {"wensday"}, "saturday": {"saterday"}, "tomorrow": {"tomorow"}, "two": {"to", "too"}, "four": {"for"}, "please": {"pleas"}, "stitches": {"stiches"},
	"which": {"witch"}, "what": {"wot"}, "where": {"wear"}, "rest": {"wrest"}, "everyone": {"every one"}, "december": {"desember"},
}

// A phrase that is misheard asks for the same, or for nothing; it never does something else.
func TestMisheardGroup(t *testing.T) {
	l := wishListener()
	said, right := 0, 0
	for _, w := range readWished(t, "group.tsv") {
		fields := strings.Fields(w.words)
		for i, f := range fields {
			for _, alt := range misheardGroup[strings.ToLower(strings.Trim(f, ",.?!"))] {
				words := strings.Join(slices.Concat(fields[:i], []string{alt}, fields[i+1:]), " ")
				said++
				h := l.Hear(words)
				switch {
				case told(h) == w.want:
					right++
				case acts(h):
					t.Errorf("%s: %q is heard as %q, expected %q", w.where, words, told(h), w.want)
				default:
					t.Logf("%s: %q is heard as %q, expected %q", w.where, words, told(h), w.want)
				}
			}
		}
	}
	t.Logf("%d of %d right", right, said)
	if right*100 < said*98 {
		t.Errorf("%d of %d misheard phrases understood; 98 in 100 are wanted", right, said)
	}
}
