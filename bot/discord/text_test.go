package discord

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"pgregory.net/rapid"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/reader"
)

func TestClean(t *testing.T) {
	for _, c := range []struct{ what, text, want string }{
		{"nothing", "", ""},
		{"plain text", "Ana Pell", "Ana Pell"},
		{"letters of other scripts", "Þóra Ñandú Łucja Ясна 編子", "Þóra Ñandú Łucja Ясна 編子"},
		{"space around and within", "  Ana \t  Pell ", "Ana Pell"},
		{"lines", "Ana\r\nPell\u2028Quay\u0085Marsh", "Ana Pell Quay Marsh"},
		{"spaces of every width", "Ana\u00a0Pell\u3000Quay\u2003Marsh", "Ana Pell Quay Marsh"},
		{"control characters", "Ana\x00\x1b[31m\x07Pell", "Ana [31m Pell"},
		{"space alone", "\u3000 \u2800\u3164", ""},
		{"letters that show as nothing", "Ana\u3164\u2800\uffa0Pell", "Ana Pell"},
		{"a turned line", "Ana \u202ellep\u202c \u2067x\u2069\u200f", "Ana llep x"},
		{"characters of no width", "@\u200beve\u2060ry\ufeffone\u00ad", "@everyone"},
		{"a joiner between Latin letters", "ha\u200dt\u200c", "hat"},
		{"a joiner that is spelling", "می\u200cخواهم क्\u200dष", "می\u200cخواهم क्\u200dष"},
		{"a letter under many marks", "A\u0300\u0301\u0302\u0303\u0304\u0305\u0306\u0307\u0308na", "A\u0300\u0301\u0302\u0303\u0304\u0305na"},
		{"a mark a letter", "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301", "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301"},
		{"a tag in characters that are not seen", "Ana\U000e0041\U000e0042", "Ana"},
		{"bytes that are no text", "Ana\xff\xfePell", "Ana��Pell"},
	} {
		t.Run(c.what, func(t *testing.T) {
			if found := clean(c.text); found != c.want {
				t.Errorf("%q became %q, expected %q", c.text, found, c.want)
			}
		})
	}
}

func TestEscape(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", ""},
		{"You have joined Lee Side Cap. Row one: slip one; don't turn! Ready?", "You have joined Lee Side Cap. Row one: slip one; don't turn! Ready?"},
		{"Knit twenty-four stitches", "Knit twenty-four stitches"},
		{"- knit two", `\- knit two`},
		{"+ knit two", `\+ knit two`},
		{"two- and three-stitch", `two\- and three-stitch`},
		{"*k2tog, yo; rep from * to end", `\*k2tog, yo; rep from \* to end`},
		{"[k2, p2] 6 (7, 8) times", "[k2, p2] 6 (7, 8) times"},
		{"p2, 2/2 RC, w&t", "p2, 2/2 RC, w&t"},
		{"1. knit", `1\. knit`},
		{"4.5 mm, about 10.", `4.5 mm, about 10\.`},
		{"# Brim", `\# Brim`},
		{"-# small", `-\# small`},
		{"> quoted", `\> quoted`},
		{"snake_case ~~no~~ ||no|| `no`", `snake\_case \~\~no\~\~ \|\|no\|\| ` + "\\`no\\`"},
		{`C:\yarn`, `C\:\\yarn`},
		{"<@123> <#1> </next:1> <t:1:R>", `\<\@123\> \<\#1\> \<\/next\:1\> \<t\:1\:R\>`},
		{"@everyone", `\@everyone`},
		{":yarn:", `\:yarn:`},
		{"https://example.org/a", `https\:\/\/example.org\/a`},
		{"[free yarn](https://example.org)", `[free yarn]\(https\:\/\/example.org)`},
		{"discord.gg/abc", `discord.gg\/abc`},
		{"row\n# one", `row \# one`},
	} {
		if found := escape(c.text); found != c.want {
			t.Errorf("%q became %q, expected %q", c.text, found, c.want)
		}
	}
}

// TestEscapeLines says that lines stay lines, and that what is read by itself stays
// so, in pairs.
func TestEscapeLines(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", ""},
		{"One.\n- two\n\n# three", "One.\n\\- two\n\n\\# three"},
		{"\n One. \n", "One."},
		{"\u2068\u05d3\u05e0\u05d9\u2069: round two.", "\u2068\u05d3\u05e0\u05d9\u2069: round two."},
		{"\u2068*Odo*\u2069", "\u2068\\*Odo\\*\u2069"},
		{"\u2068a\n\u2068b\u2069", "\u2068a\u2069\n\u2068b\u2069"},
		{"a\u2069 b\u2068c", "a b\u2068c\u2069"},
		{"\u2068a\u2069\u2069 b", "\u2068a\u2069 b"},
		{"\u2067a\u202eb\u200f", "ab"},
		{"\u2068@everyone\u2069", "\u2068\\@everyone\u2069"},
	} {
		if found := escapeLines(c.text); found != c.want {
			t.Errorf("%q became %q, expected %q", c.text, found, c.want)
		}
	}
}

// TestRowsStayAsSaid holds for every row of the samples, in every size and form
// of crosses: what is said has nothing to escape.
func TestRowsStayAsSaid(t *testing.T) {
	rows := 0
	for _, sample := range samples.All() {
		pattern, _ := patterns.Read([]byte(sample.Text))
		for size := range pattern.SizeCount() {
			choice := patterns.Choice{}
			if len(pattern.Sizes) > 0 {
				choice.Size = pattern.Sizes[size]
			}
			plan, err := pattern.LayOut(choice)
			if err != nil {
				t.Fatalf("%s: %v", sample.Name, err)
			}
			for i := range plan.Rows {
				said := bot.RowWords(plan, i, reader.Form{Crosses: reader.AlwaysFull}).Paragraph()
				rows++
				if found := escape(said); found != said {
					t.Errorf("%s, row %d: %q became %q", sample.Name, i, said, found)
				}
			}
		}
	}
	if rows == 0 {
		t.Error("no sample has a row")
	}
}

// hostile makes texts of members and patterns at their worst: pieces of every
// kind of markup, run together.
var hostile = rapid.Custom(func(t *rapid.T) string {
	piece := rapid.OneOf(
		rapid.SampledFrom([]string{
			"<@123>", "<@&9>", "<#12>", "</next:12>", "<t:1700000000:R>", "<:yarn:12>", "<id:home>", ":smile:", ":+1:", "@everyone", "@here",
			"https://example.org/x", "steam://x", "discord.gg/abc", "www.example.org", "[a](https://b.c)", "mailto:a@b.c",
			"*", "**", "_", "__", "~~", "||", "`", "```", "\\", "\\\\", ">", ">>>", "#", "##", "###", "-#", "-", "+", "1.", "12.", "1)", ":", "/", ".", "(", ")", "[", "]",
			"knit", "k2tog", "2/2 RC", "p2", "don't", "twenty-four", " ", " ", " ",
		}),
		rapid.StringMatching(`[ -~]{0,6}`),
		rapid.StringMatching(`[äñßžЯ編🧶]{0,3}`),
	)
	return strings.Join(rapid.SliceOfN(piece, 0, 30).Draw(t, "pieces"), "")
})

// TestEscapeShowsTheText is the round trip: what a person sees is the text, to
// the character, and no markup, whatever stands around it.
func TestEscapeShowsTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := hostile.Draw(t, "text")
		want := strings.Join(strings.Fields(text), " ")
		if want == "" {
			return
		}
		for _, before := range []string{"", "a ", "-# ", "a\n"} {
			for _, after := range []string{"", " a", "\na"} {
				found, around := readMarkdown(before+escape(text)+after), readMarkdown(before)
				if found.text != around.text+want+after || len(found.markup) != len(around.markup) {
					t.Fatalf("%q between %q and %q is shown as %q with %q", text, before, after, found.text, found.markup)
				}
			}
		}
	})
}

// checkClean holds for whatever was cleaned.
func checkClean(t interface{ Fatalf(string, ...any) }, text string) {
	found := clean(text)
	if !utf8.ValidString(found) || strings.Contains(found, "  ") || strings.TrimSpace(found) != found {
		t.Fatalf("%q became %q", text, found)
	}
	if again := clean(found); again != found {
		t.Fatalf("%q became %q, and then %q", text, found, again)
	}
	for _, r := range found {
		switch {
		case r == '\u200c' || r == '\u200d':
		case unicode.IsControl(r), r != ' ' && unicode.IsSpace(r), unicode.Is(unicode.Bidi_Control, r), r >= '\u200b' && r <= '\u200f', r >= '\u2060' && r <= '\u206f',
			r == '\ufeff', r == '\u00ad', r >= 0xe0000 && r <= 0xe0fff:
			t.Fatalf("%q became %q, which has %U", text, found, r)
		}
	}
	visible := func(s string) string { // what everybody has on the keyboard is never lost
		return strings.Map(func(r rune) rune {
			if r > ' ' && r <= '~' {
				return r
			}
			return -1
		}, s)
	}
	if visible(found) != visible(text) {
		t.Fatalf("%q lost something: %q", text, found)
	}
}

func TestCleanAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkClean(t, rapid.String().Draw(t, "text"))
	})
}

// checkSplit holds for every text cut into pieces: nothing is lost but the
// spaces at the cuts, no piece is too long, no word is cut that could have been
// left whole, and no escape ever.
func checkSplit(t interface{ Fatalf(string, ...any) }, text string, steps []string, limit int) {
	pieces := split(text, steps, limit)
	rest := text
	for i, piece := range pieces {
		if n := len(utf16.Encode([]rune(piece))); n > limit {
			t.Fatalf("piece %d of %q has %d of %d units: %q", i, text, n, limit, piece)
		}
		if piece == "" && len(pieces) > 1 {
			t.Fatalf("piece %d of %q is empty", i, text)
		}
		after, ok := strings.CutPrefix(rest, piece)
		if !ok {
			t.Fatalf("the pieces of %q are not its text: %q", text, pieces)
		}
		if readMarkdown(piece).markup != nil {
			t.Fatalf("piece %d of %q is markup: %q", i, text, piece)
		}
		if after != "" && after[0] != ' ' {
			word := rest[strings.LastIndexByte(rest[:len(piece)], ' ')+1:]
			word, _, _ = strings.Cut(word, " ")
			if len(utf16.Encode([]rune(word))) <= limit || strings.Contains(piece, " ") {
				t.Fatalf("piece %d of %q ends inside a word: %q", i, text, piece)
			}
		}
		rest = strings.TrimPrefix(after, " ")
	}
	if rest != "" {
		t.Fatalf("%q lost %q", text, rest)
	}
	var shownPieces []string
	for _, piece := range pieces {
		shownPieces = append(shownPieces, readMarkdown(piece).text)
	}
	squeezed := func(s string) string { return strings.ReplaceAll(s, " ", "") }
	if found, want := squeezed(strings.Join(shownPieces, "")), squeezed(readMarkdown(text).text); found != want {
		t.Fatalf("%q is shown in pieces as %q", want, found)
	}
}

func TestSplitAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SliceOfN(hostile, 1, 5).Draw(t, "steps")
		steps := make([]string, len(texts))
		for i := range texts {
			steps[i] = escape(texts[i])
		}
		checkSplit(t, escape(strings.Join(texts, " ")), steps, rapid.IntRange(2, 60).Draw(t, "limit"))
	})
}

func TestSplit(t *testing.T) {
	word := strings.Repeat("ab", 10)
	for _, c := range []struct {
		what, text string
		steps      []string
		limit      int
		want       []string
	}{
		{"nothing", "", nil, 10, []string{""}},
		{"what fits to the unit", "Knit two.", nil, 9, []string{"Knit two."}},
		{"steps first", "One. Two. Three, four. Five.", []string{"One. Two.", "Three, four.", "Five."}, 24, []string{"One. Two. Three, four.", "Five."}},
		{"a step is not begun that won't end", "One. Two. Three. Four.", []string{"One. Two.", "Three. Four."}, 18, []string{"One. Two.", "Three. Four."}},
		{"sentences where a step is too long", "One two. Three four. Five.", []string{"One two. Three four. Five."}, 22, []string{"One two. Three four.", "Five."}},
		{"a sentence is not begun that won't end", "One two. Three four five.", nil, 20, []string{"One two.", "Three four five."}},
		{"words where a sentence is too long", "One two three four.", nil, 10, []string{"One two", "three", "four."}},
		{"words before steps", "You are back. One. Two.", []string{"One.", "Two."}, 19, []string{"You are back. One.", "Two."}},
		{"steps that are not in the text", "One. Two.", []string{"Three."}, 5, []string{"One.", "Two."}},
		{"a word alone is cut", word + " c", nil, 8, []string{"abababab", "abababab", "abab c"}},
		{"an escape is not", `ab\*\*\*\*`, nil, 5, []string{`ab\*`, `\*\*`, `\*`}},
		{"a backslash neither", `a\\\\`, nil, 4, []string{`a\\`, `\\`}},
		{"a character outside the first plane counts two", "🧶🧶🧶", nil, 5, []string{"🧶🧶", "🧶"}},
		{"a mark stays with its letter", "abe\u0301abe\u0301", nil, 3, []string{"ab", "e\u0301a", "be\u0301"}},
		{"marks without end are cut", "a\u0301\u0301\u0301\u0301\u0301", nil, 3, []string{"a\u0301\u0301", "\u0301\u0301\u0301"}},
	} {
		t.Run(c.what, func(t *testing.T) {
			found := split(c.text, c.steps, c.limit)
			if strings.Join(found, "|") != strings.Join(c.want, "|") {
				t.Errorf("found %q, expected %q", found, c.want)
			}
		})
	}
}

// TestSplitRows holds for the rows of the samples: a piece that has no room for
// more than a step ends where a step ends.
func TestSplitRows(t *testing.T) {
	cuts := 0
	for _, sample := range samples.All() {
		pattern, _ := patterns.Read([]byte(sample.Text))
		plan, err := pattern.LayOut(patterns.Choice{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range plan.Rows {
			words := bot.RowWords(plan, i, reader.Form{Crosses: reader.AlwaysFull})
			steps, longest := words.StepTexts(), 2
			for _, step := range steps {
				longest = max(longest, len(step))
			}
			left := steps
			for _, piece := range split(words.Paragraph(), steps, longest) {
				var whole []string
				for len(left) > 0 && strings.Join(whole, " ") != piece {
					whole, left = append(whole, left[0]), left[1:]
				}
				if strings.Join(whole, " ") != piece {
					t.Fatalf("%s, row %d: a piece is not made of whole steps: %q", sample.Name, i, piece)
				}
				cuts++
			}
		}
	}
	if cuts < 100 {
		t.Errorf("only %d pieces were looked at", cuts)
	}
}

func TestShort(t *testing.T) {
	for _, c := range []struct {
		text  string
		limit int
		want  string
	}{
		{"Lee Side Cap", 12, "Lee Side Cap"},
		{"Lee Side Cap", 11, "Lee Side..."},
		{"Leesidecap and more", 10, "Leeside..."},
		{"🧶🧶🧶🧶", 7, "🧶🧶..."},
	} {
		if found := short(c.text, c.limit); found != c.want || rest.Characters(found) > c.limit {
			t.Errorf("%q in %d: found %q, expected %q", c.text, c.limit, found, c.want)
		}
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a.txt:1:2: error\n    k2\n\t^", "a.txt:1:2: error\n    k2\n\t^"},
		{"a\r\nb", "a\nb"},
		{"a ``` b", "a ''' b"},
		{"a\x1b\u202eb\u200bc", "a��b�c"},
	} {
		if found := fixed(c.text); found != c.want {
			t.Errorf("%q became %q, expected %q", c.text, found, c.want)
		}
	}
}

func FuzzText(f *testing.F) {
	for _, seed := range []string{"", "- a", "*k2tog, yo; rep from * to end", "<@1> :a: https://b.c \\ `x`", "\u202e\u200b\u3164", "12. a- b", "a\xffb", "¯\\_(ツ)_/¯"} {
		f.Add(seed, 7)
	}
	f.Fuzz(func(t *testing.T, text string, limit int) {
		checkClean(t, text)
		found := readMarkdown(escape(text))
		if found.markup != nil || found.text != clean(text) {
			t.Fatalf("%q is shown as %q with %q", text, found.text, found.markup)
		}
		checkSplit(t, escape(text), nil, 2+abs(limit)%4000)
		if strings.Contains(fixed(text), "`") {
			t.Fatalf("%q could close its block: %q", text, fixed(text))
		}
	})
}

func abs(n int) int { return max(n, -(n + 1)) }
