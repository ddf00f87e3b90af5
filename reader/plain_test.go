package reader_test

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"clew/patterns/stitch"
	"clew/reader"
)

func TestPlain(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"words stay", "keep the cable needle close", "keep the cable needle close"},
		{"full stops stay", "Rest here. Then go on.", "Rest here. Then go on."},
		{"accents stay", "Crème brûlée, très léger", "Crème brûlée, très léger"},
		{"other scripts stay", "Вязание ひも", "Вязание ひも"},
		{"accents of their own are dropped", "cafe\u0301", "cafe"},
		{"nothing to say", " ★ — … ", ""},
		{"emoji dropped", "well done 🎉🧶!", "well done."},

		{"number", "work 12 rows", "work twelve rows"},
		{"thousands", "1,024 sts", "one thousand and twenty-four stitches"},
		{"list of numbers", "96, 112, 128", "ninety-six, one hundred and twelve, one hundred and twenty-eight"},
		{"decimal", "2.5 times", "two point five times"},
		{"zero before the point", "0.75", "zero point seven five"},
		{"end of a sentence", "Work 4. Turn.", "Work four. Turn."},
		{"half", "1/2", "one half"},
		{"quarters", "3/4 of it", "three quarters of it"},
		{"odd fraction", "5/7", "five over seven"},
		{"mixed number", "2 1/2 in", "two and one half inches"},
		{"fraction sign", "2½ in and ¼ yd", "two and one half inches and one quarter yards"},
		{"range", "rows 5-8", "rows five to eight"},
		{"range with a dash", "5 – 8 cm", "five to eight centimetres"},
		{"minus", "at -5", "at minus five"},
		{"ordinals", "1st, 2nd, 3rd, 11th and 42nd", "first, second, third, eleventh and forty-second"},
		{"time of day", "at 7:30 pm", "at seven thirty p m"},
		{"year", "in 1886", "in one thousand eight hundred and eighty-six"},
		{"long number", "call 5550123456", "call five five five zero one two three four five six"},
		{"leading zero", "no. 007", "no. zero zero seven"},
		{"digits of another script", "٣ rows", "three rows"},
		{"by", "10 x 10 cm, 2x2 rib, 3×3", "ten by ten centimetres, two by two rib, three by three"},

		{"centimetres", "5 cm", "five centimetres"},
		{"glued unit", "5cm, 100g and 4.5mm", "five centimetres, one hundred grams and four point five millimetres"},
		{"one of a unit", "1 cm or 1 in.", "one centimetre or one inch."},
		{"inches", "4 in, or 4\"", "four inches, or four inches"},
		{"inches and a word", "4 in from the edge", "four inches from the edge"},
		{"the preposition", "work 4 in each corner, in the round", "work four in each corner, in the round"},
		{"metres and marker", "120 m of yarn; knit to m", "one hundred and twenty metres of yarn; knit to marker"},
		{"money", "$5", "five dollars"},
		{"a page", "see p. 12, and on p 3 (p. 4)", "see page twelve, and on page three, page four"},
		{"to a page", "Turn to p. 12. Knit to p 12.", "Turn to page twelve. Knit to purl twelve."},
		{"pages", "Chart: pp. 5-8, pg. 9.", "Chart: pages five to eight, page nine."},
		{"purl and a number", "k 2, p 12. Then p.", "knit two, purl twelve. Then purl."},
		{"purl with a stop of its own", "k2, p. 12 sts remain", "knit two, purl twelve stitches remain"},

		{"decrease", "k2tog at the end", "knit two together at the end"},
		{"decrease several times", "k2tog x3", "knit two together three times"},
		{"counted stitches", "k4, P2, sl1, ktbl", "knit four, purl two, slip one, ktbl"},
		{"through the back loop", "k1tbl", "knit one through the back loop"},
		{"cast on", "CO 96 sts", "cast on ninety-six stitches"},
		{"bind off glued", "BO5, co1", "bind off five stitches, cast on one stitch"},
		{"crosses", "2/2 RPC, C4B and RT", "two over two right purl cross, two over two right cross and right twist"},
		{"a cross that is none", "99/1 RC", "nine nine one R C"},
		{"terms", "rem sts on RS, rep 2 rnds", "remaining stitches on right side, repeat two rounds"},
		{"plurals", "dpns, 3 pats", "double-pointed needles, three patterns"},
		{"several words", "St st, g st, rev St st; 3 g st rows", "stockinette stitch, garter stitch, reverse stockinette stitch; three garter stitch rows"},
		{"full stop of an abbreviation", "approx. 5 cm, rem. sts", "approximately five centimetres, remaining stitches"},
		{"full stop of both", "k the rem. Then rest.", "knit the remaining. Then rest."},
		{"wrap and turn", "w&t", "wrap the next stitch and turn"},
		{"words that look like abbreviations", "turn it; pop in; begin", "turn it; pop in; begin"},
		{"an initial", "by K. Holm", "by K. Holm"},

		{"signs", "a & b + c = 5% @ #4", "a and b plus c equals five percent at number four"},
		{"ampersand in a word", "R&D", "R and D"},
		{"letters and digits", "A1, B52s", "A one, B fifty-two s"},
		{"brackets", "work (loosely) now", "work, loosely, now"},
		{"brackets at the end", "rest (or sleep).", "rest, or sleep."},
		{"dash", "slow down — breathe", "slow down, breathe"},
		{"hyphens", "four-ply, 4-ply, well - done", "four-ply, four-ply, well, done"},
		{"quotes", "the “knitters’” own 'don’t'", "the knitters own don't"},
		{"shouting", "Stop!!! Really?!", "Stop. Really."},
		{"several marks", "a ,; b ... c", "a; b. c"},
		{"several lines", "one\n\ttwo\u00a0three", "one two three"},
		{"a link", "https://knots.example/2", "https: knots. example two"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := reader.Plain(c.text); got != c.want {
				t.Errorf("Plain(%q)\n got %q\nwant %q", c.text, got, c.want)
			}
		})
	}
}

func TestName(t *testing.T) {
	for text, want := range map[string]string{
		"Seed edge": "Seed edge", "Seed st": "Seed stitch", "Lantern 2": "Lantern two", "Left: front, (RS)": "Left front right side",
		"St. Mary's": "stitch Mary's", "★★": "", "7": "seven",
		"m": "m", " M ": "M", "S": "S", "MC": "main color", // sizes are often one letter
	} {
		if got := reader.Name(text); got != want {
			t.Errorf("Name(%q) = %q, want %q", text, got, want)
		}
	}
}

// TestTableInText holds every canonical abbreviation of the stitch table to its
// words, where it stands in free text.
func TestTableInText(t *testing.T) {
	asWords := map[string]string{"turn": "turn", "g": "g", "in": "in", "pop": "pop", "pup": "pup"}
	for _, s := range stitch.All() {
		want := s.Words
		if word := asWords[s.Abbr]; word != "" {
			want = word
		}
		if got := reader.Plain("then " + s.Abbr); got != "then "+want && !strings.Contains(s.Abbr, " ") {
			t.Errorf("%s: %q", s.Abbr, got)
		}
	}
	for _, term := range stitch.Terms() {
		want, _, _ := strings.Cut(strings.ReplaceAll(term.Meaning, ":", ","), ",")
		if word := asWords[term.Abbr]; word != "" {
			want = word
		}
		if got := reader.Plain("then " + term.Abbr); got != "then "+want {
			t.Errorf("%s: %q, and %q was expected", term.Abbr, got, want)
		}
	}
}

func TestPlainKeepsToItsCharacters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOf(rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"k2tog", "2/2 RPC", " 5", "1/2", "in", "m", " ", ".", "-", "x3", "$", "(", "\"", "1st", "sts", "&", "½", "’"})))
		text := strings.Join(pieces.Draw(t, "text"), "")
		plain, name := reader.Plain(text), reader.Name(text)
		checkAllowed(t, plain)
		checkAllowed(t, name)
		if strings.ContainsAny(name, ",.;:") {
			t.Fatalf("the name of %q is %q, which could end or divide a sentence", text, name)
		}
		if strings.IndexFunc(text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) >= 0 && name == "" {
			t.Fatalf("nothing is left of %q", text)
		}
		if again := reader.Plain(text); again != plain {
			t.Fatalf("%q came out as %q and as %q", text, plain, again)
		}
	})
}

type failing interface{ Fatalf(string, ...any) }

// checkAllowed holds a text to letters, single spaces and , . ; : ' -
func checkAllowed(t failing, text string) {
	for _, r := range text {
		if !unicode.IsLetter(r) && !strings.ContainsRune(" ,.;:'-", r) {
			t.Fatalf("%q has the character %q, which can't be said", text, r)
		}
	}
	if strings.Contains(text, "  ") || strings.TrimSpace(text) != text {
		t.Fatalf("%q has a space too many", text)
	}
}
