package listen

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// goneOn gives what is heard of the first way to go on that is heard as the same intent and says more, or "".
func goneOn(l *Listener, asked, answer string) string {
	before := l.Hear(asked)
	for _, words := range Continue(asked, answer) {
		if h := l.Hear(words); h.Intent == before.Intent && told(h) != told(before) {
			return told(h)
		}
	}
	return ""
}

// A question's answer goes on with what was asked.
func TestContinue(t *testing.T) {
	l := New(terms, "Lanterns", "Crown")
	for _, c := range []struct{ asked, answer, want string }{
		{"my head is 57", "centimetres", "fit sizes head 57cm"},
		{"my head is fifty seven", "inches please", "fit sizes head 57in"},
		{"My head is 57.", "Centimetres.", "fit sizes head 57cm"},
		{"my head is 57", "57 cm", "fit sizes head 57cm"},
		{"my head is 57", "it's in centimetres", "fit sizes head 57cm"},
		{"my head is 57", "in centimetres", "fit sizes head 57cm"},
		{"which size fits me", "57 cm", "fit sizes 57cm"},
		{"what size", "fifty seven centimetres", "fit sizes 57cm"},
		{"make it longer", "two centimetres", "fit longer 2cm"},
		{"make it longer", "by two centimetres", "fit longer 2cm"},
		{"make it longer", "two", "fit longer 2"},
		{"make it two longer", "centimetres", "fit longer 2cm"},
		{"make it two longer", "two inches", "fit longer 2in"},
		{"I'd like it a bit shorter", "an inch and a half", "fit shorter 1.5in"},
		{"make the crown shorter", "um, two centimetres please", "fit shorter 2cm of crown"},
		{"it's too long", "two centimetres", "fit shorter 2cm"},
		{"make it wider", "to inches", "fit wider 2in"},
		{"make it narrower", "two inches", "fit narrower 2in"},
		{"shorten it", "two centimetres", "fit shorter 2cm"},
		{"it should be 21 long", "centimetres", "fit length 21cm"},
		{"my gauge is 24 stitches and 32 rows", "ten centimetres", "fit gauge 24x32 to 10cm"},
		{"my gauge is 24 stitches and 32 rows", "to ten centimetres", "fit gauge 24x32 to 10cm"},
		{"I get 21 stitches and 29 rows", "over four inches", "fit gauge 21x29 to 4in"},
		{"my gauge is 22 by 30", "10 cm", "fit gauge 22x30 to 10cm"},
		{"my gauge is 5.5", "per inch", "fit gauge 5.5x0 to 1in"},
		{"my gauge is 5 and a half", "to the inch", "fit gauge 5.5x0 to 1in"},
		{"my gauge is 22 stitches to ten", "centimetres", "fit gauge 22x0 to 10cm"},
		{"cast on for fifty", "centimetres", "fit caston 50cm"},
		{"leave out four rounds", "the crown", "fit leaveout leave 4 of crown"},
		{"leave out four rounds", "of lanterns", "fit leaveout leave 4 of lanterns"},
		{"I had 50 grams, 20 are left", "the gray", "yarn had 50 left 20 g of gray"},
		{"I had 50 grams, 20 are left", "of the gray", "yarn had 50 left 20 g of gray"},
		{"will my yarn last", "the gray", "yarn of gray"},
		{"I had 100, 38 are left", "grams", "yarn had 100 left 38 g"},
		{"I had 100 grams", "38 grams", "yarn had 100 left 38 g"},
		{"I had 100 grams", "38", "yarn had 100 left 38 g"},
		{"thirty eight grams are left", "a hundred grams", "yarn had 100 left 38 g"},

		{"make it longer", "next row", ""}, {"make it longer", "help", ""}, {"make it longer", "my head is 57 cm", ""}, {"make it longer", "go back", ""}, {"my head is 57", "for a toddler", ""},
		{"make it longer", "", ""}, {"", "two centimetres", ""}, {"make it longer", "the cat sat on the mat today", ""}, {"make it longer", "?!", ""}, {"make it longer", "centimetres", ""},
		{"next row", "two centimetres", ""}, {"next row", "the gray", ""},
	} {
		if got := goneOn(l, c.asked, c.answer); got != c.want {
			t.Errorf("%q, then %q: heard %q, expected %q of %q", c.asked, c.answer, got, c.want, Continue(c.asked, c.answer))
		}
	}
}

// The ways, word for word.
func TestContinueWords(t *testing.T) {
	for _, c := range []struct{ asked, answer, want string }{
		{"my head is 57", "centimetres", "my head is 57 centimetres"},
		{"Make it a bit longer.", "two centimetres", "Make it two centimetres longer"},
		{"I had 100, 38 are left", "grams", "I had 100, 38 grams are left; I had 100 grams, 38 grams are left; I had 100 grams, 38 are left"},
		{"my gauge is 24 stitches and 32 rows", "ten centimetres", "my gauge is 24 stitches and 32 rows to ten centimetres"},
		{"how wide is it", "the crown", "how wide is it of the crown"},
		{"make it longer", "next row", ""},
	} {
		if got := strings.Join(Continue(c.asked, c.answer), "; "); !strings.HasPrefix(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%q, then %q: %q, expected first %q", c.asked, c.answer, got, c.want)
		}
	}
}

// A request of its own goes on with nothing, unless it is a unit or an amount by itself.
func TestContinueWithRequest(t *testing.T) {
	for _, p := range readPhrases(t, "phrases.tsv") {
		if ws := answerWords(p.words); len(ws) == 0 || plainListener().Hear(p.words).Intent == None || isUnit(ws) || isQuantity(ws) || links[ws[0].text] && len(ws) > 1 {
			continue
		}
		ways := Continue("make it longer", p.words)
		if len(ways) > 0 && plainListener().Hear(spell(answerWords(p.words))).Intent != None {
			t.Errorf("%s:%d: %q goes on: %q", p.file, p.line, p.words, ways)
		}
	}
}

// Whatever is said, there are at most four ways, no two alike, all of them longer than what was asked.
func TestContinueBounds(t *testing.T) {
	var all []string
	for _, w := range readWishes(t) {
		all = append(all, w.words)
	}
	rapid.Check(t, func(t *rapid.T) {
		asked := rapid.OneOf(rapid.SampledFrom(all), rapid.String()).Draw(t, "asked")
		answer := rapid.OneOf(rapid.SampledFrom([]string{"centimetres", "two inches", "57 cm", "the gray", "to ten centimetres", "38 grams", "four"}), rapid.SampledFrom(all), rapid.String()).Draw(t, "answer")
		ways := Continue(asked, answer)
		if len(ways) > mostContinuations || len(distinct(ways...)) != len(ways) || !slices.Equal(ways, Continue(asked, answer)) {
			t.Fatalf("%q, then %q: %q", asked, answer, ways)
		}
		for _, words := range ways {
			checkContinued(t, asked, answer, words)
		}
	})
}

// checkContinued holds a way to go on against the words that it is made of.
func checkContinued(t *rapid.T, asked, answer, words string) {
	for _, w := range answerWords(answer) {
		if w.text != "in" && !strings.Contains(words, w.text) {
			t.Fatalf("%q, then %q: %q has no %q", asked, answer, words, w.text)
		}
	}
}
