package problem_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"clew/patterns/problem"

	"pgregory.net/rapid"
)

// at is the span of the first place where text stands in src.
func at(t *testing.T, src, text string) problem.Span {
	t.Helper()
	i := strings.Index(src, text)
	if i < 0 {
		t.Fatalf("%q is not in %q", text, src)
	}
	return problem.Span{Start: i, End: i + len(text)}
}

func TestCaret(t *testing.T) {
	for _, c := range []struct {
		name, src, place string
		want             []string // the lines behind the first
		line, col        int
	}{
		{"plain", "Row 1: k2, zork, p2\n", "zork", []string{"    Row 1: k2, zork, p2", "               ^^^^"}, 1, 12},
		{"second line", "Row 1: k2\nRow 2: zork\nRow 3: p2\n", "zork", []string{"    Row 2: zork", "           ^^^^"}, 2, 8},
		{"tabs are copied", "Row 1:\tk2,\tzork\n", "zork", []string{"    Row 1:\tk2,\tzork", "          \t   \t^^^^"}, 1, 12},
		{"line ends of two characters", "Row 1: k2\r\nRow 2: zork\r\nRow 3\r\n", "zork", []string{"    Row 2: zork", "           ^^^^"}, 2, 8},
		{"byte-order mark", "\ufeffRow 1: zork", "zork", []string{"    Row 1: zork", "           ^^^^"}, 1, 8},
		{"byte-order mark, the whole line", "\ufeffRow 1", "\ufeffRow 1", []string{"    Row 1", "    ^^^^^"}, 1, 1},
		{"byte-order mark before the second line", "\ufeffRow 1\nRow 2: zork", "zork", []string{"    Row 2: zork", "           ^^^^"}, 2, 8},
		{"letters of two bytes", "Réw 1: çözé", "çözé", []string{"    Réw 1: çözé", "           ^^^^"}, 1, 8},
		{"wide letters", "毛糸: zork", "zork", []string{"    毛糸: zork", "          ^^^^"}, 1, 5},
		{"a wide span", "k2, 毛糸, p2", "毛糸", []string{"    k2, 毛糸, p2", "        ^^^^"}, 1, 5},
		{"a picture", "k2 😀, zork", "zork", []string{"    k2 😀, zork", "           ^^^^"}, 1, 7},
		{"combining marks", "Re\u0301w: zork", "zork", []string{"    Re\u0301w: zork", "         ^^^^"}, 1, 7},
		{"end of the file", "Row 1: k2", "", []string{"    Row 1: k2", "             ^"}, 1, 10},
		{"behind the last line end", "Row 1: k2\n", "", []string{"    ", "    ^"}, 2, 1},
		{"empty file", "", "", []string{"    ", "    ^"}, 1, 1},
		{"over two lines", "k2, [p2,\n  k2", "[p2,\n  k2", []string{"    k2, [p2,", "        ^^^^"}, 1, 5},
		{"over two lines with two characters", "k2, [p2,\r\n  k2", "[p2,\r\n  k2", []string{"    k2, [p2,", "        ^^^^"}, 1, 5},
		{"control characters", "k2\x1b[31m, zork\x00", "zork", []string{"    k2\ufffd[31m, zork\ufffd", "             ^^^^"}, 1, 10},
		{"a mark that turns the line round", "k2\u202e, zork", "zork", []string{"    k2\ufffd, zork", "         ^^^^"}, 1, 6},
		{"bytes that are no text", "k2\xff\xfe, zork", "zork", []string{"    k2\ufffd\ufffd, zork", "          ^^^^"}, 1, 7},
	} {
		t.Run(c.name, func(t *testing.T) {
			span := problem.Span{Start: len(c.src), End: len(c.src)}
			if c.place != "" {
				span = at(t, c.src, c.place)
			}
			p := problem.Problem{Span: span, Code: "x", Message: "this is wrong"}
			lines := strings.Split(problem.Caret("hat.clew", []byte(c.src), p), "\n")
			if got := problem.Locate([]byte(c.src), span.Start); got != (problem.Position{Line: c.line, Col: c.col}) {
				t.Errorf("it stands at %v; %d:%d was expected", got, c.line, c.col)
			}
			if strings.Join(lines[1:], "\n") != strings.Join(c.want, "\n") {
				t.Errorf("shown is\n%q\nand expected\n%q", lines[1:], c.want)
			}
		})
	}
}

func TestLine(t *testing.T) {
	src := []byte("Row 1: k2, zork\n")
	p := problem.Errorf(problem.Span{Start: 11, End: 15}, "unknown", "%q is unknown", "zork").Suggest("did you mean %s?", "work")
	if got, want := problem.Line("hat.clew", src, *p), `hat.clew:1:12: error: "zork" is unknown`; got != want {
		t.Errorf("%q; %q was expected", got, want)
	}
	if got, want := problem.Caret("hat.clew", src, *p), "hat.clew:1:12: error: \"zork\" is unknown\n    Row 1: k2, zork\n               ^^^^\n    did you mean work?"; got != want {
		t.Errorf("%q; %q was expected", got, want)
	}
	p.Severity, p.Sizes = problem.Warning, []string{"small", "large"}
	if got, want := problem.Line("hat.clew", src, *p), `hat.clew:1:12: warning: "zork" is unknown (in size small, large)`; got != want {
		t.Errorf("%q; %q was expected", got, want)
	}
}

// A line that no terminal holds is shown around the place.
func TestCaretInALongLine(t *testing.T) {
	src := "Row 1: " + strings.Repeat("k2, ", 100) + "zork" + strings.Repeat(", p2", 100)
	p := problem.Problem{Span: at(t, src, "zork"), Message: "this is wrong"}
	lines := strings.Split(problem.Caret("hat.clew", []byte(src), p), "\n")
	if n := len(lines[1]); n > 140 {
		t.Errorf("the line is shown with %d characters", n)
	}
	if !strings.HasPrefix(lines[1], "    ...k2, ") || !strings.HasSuffix(lines[1], ", p2...") {
		t.Errorf("what is left out is not marked: %q", lines[1])
	}
	if i, j := strings.Index(lines[1], "zork"), strings.Index(lines[2], "^^^^"); i < 0 || i != j {
		t.Errorf("the caret is not under the place:\n%s\n%s", lines[1], lines[2])
	}
	if !strings.HasPrefix(lines[0], "hat.clew:1:408: ") {
		t.Errorf("the column is that of the whole line: %q", lines[0])
	}
	start := problem.Problem{Span: problem.Span{Start: 0, End: len(src)}, Message: "all of it"}
	lines = strings.Split(problem.Caret("hat.clew", []byte(src), start), "\n")
	if !strings.HasPrefix(lines[1], "    Row 1: k2") || !strings.HasPrefix(lines[2], "    ^^^") || len(lines[2]) > len(lines[1]) {
		t.Errorf("from the first column:\n%s\n%s", lines[1], lines[2])
	}
}

// Any place in any text can be shown: on lines of its own, with the caret not
// before the line, at the column that counting characters gives.
func TestCaretAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.StringOf(rapid.SampledFrom([]rune("ab \t\r\n\ufeff毛é\u0301\x00\u0085\u2028\u2029"))).Draw(t, "src")
		start := rapid.IntRange(-1, len(src)+1).Draw(t, "start")
		for start > 0 && start < len(src) && !utf8.RuneStart(src[start]) {
			start-- // places come from the scanner, which stops at characters
		}
		p := problem.Problem{Span: problem.Span{Start: start, End: start + rapid.IntRange(0, 9).Draw(t, "length")}, Message: "wrong"}
		lines := strings.Split(problem.Caret("f", []byte(src), p), "\n")
		if caret := strings.TrimLeft(lines[len(lines)-1], " \t"); len(lines) != 3 || caret == "" || strings.Trim(caret, "^") != "" {
			t.Fatalf("%q", lines)
		}
		line, col := 1, 1
		for i, r := range src {
			if i >= start {
				break
			}
			switch {
			case r == '\n', r == '\r' && !strings.HasPrefix(src[i:], "\r\n"), r == '\u0085', r == '\u2028', r == '\u2029':
				line, col = line+1, 1
			case i > 0 || r != '\ufeff':
				col++
			}
		}
		if got := problem.Locate([]byte(src), start); got != (problem.Position{Line: line, Col: col}) {
			t.Fatalf("%d in %q is %v; %d:%d was expected", start, src, got, line, col)
		}
	})
}

func TestQuote(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"plain", "k2tog", `"k2tog"`},
		{"over two lines", "seed\n\tedge\r\nb", `"seed  edge b"`},
		{"control characters", "k\x1b2\x00", "\"k\ufffd2\ufffd\""},
		{"no text", "\xff", "\"\ufffd\""},
		{"forty letters", strings.Repeat("é", 40), `"` + strings.Repeat("é", 40) + `"`},
		{"forty-one letters", strings.Repeat("é", 41), `"` + strings.Repeat("é", 40) + `..."`},
	} {
		if got := problem.Quote(c.text); got != c.want {
			t.Errorf("%s: %q; %q was expected", c.name, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"k", "p", "yo", "k2tog", "ssk", "skp", "m1l", "m1r", "kfb", "marker", "lantern", "seed edge", "worked", "cast on"}
	for _, c := range []struct{ word, want string }{
		{"k2tgo", "k2tog"},  // two neighbours changed places
		{"k2og", "k2tog"},   // one is missing
		{"k2ttog", "k2tog"}, // one is double
		{"k3tog", "k2tog"},  // another letter
		{"sssk", "ssk"},     // one too many
		{"ks", "k"},         // a short word: one edit
		{"oy", "yo"},        // a swap is one edit
		{"m1x", "m1l"},      // a tie goes to the earlier word
		{"lantren", "lantern"},
		{"lanterns", "lantern"},
		{"seed egde", "seed edge"},
		{"cast-on", "cast on"},
		{"wrkd", "worked"}, // two edits in four letters
		{"kfb", "kfb"},     // none
		{"x", ""},          // every letter would change
		{"zzz", ""},
		{"zork", ""},
		{"", ""},
		{"something else", ""},
		{"abcdefgh", ""},
	} {
		if got := problem.Nearest(c.word, known); got != c.want {
			t.Errorf("%q is nearest %q; %q was expected", c.word, got, c.want)
		}
	}
	if got := problem.Nearest("k2tog", nil); got != "" {
		t.Errorf("nothing is known, and %q is nearest", got)
	}
}

func TestSpan(t *testing.T) {
	a, b := problem.Span{Start: 2, End: 4}, problem.Span{Start: 7, End: 9}
	if got := a.To(b); got != (problem.Span{Start: 2, End: 9}) || a.Pos() != a {
		t.Errorf("from %v to %v is %v", a, b, got)
	}
	if problem.Error.String() != "error" || problem.Warning.String() != "warning" {
		t.Error("the words of the severities are not those of the JSON form")
	}
}
