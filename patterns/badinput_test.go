package patterns_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/problem"
)

// unread are no pattern texts at all.
var unread = []struct {
	name, src, code string
	line, col       int
}{
	{"empty", "", "empty-file", 1, 1},
	{"blank", " \n\t\r\n", "empty-file", 1, 1},
	{"byte-order mark alone", "\ufeff", "empty-file", 1, 1},
	{"too large by a byte", "Pattern: x\n" + strings.Repeat("/", patterns.MaxBytes+1-11), "file-size", 1, 1},
	{"binary", "Pattern: x\nWorked\x00: in rows", "not-text", 2, 7},
	{"two bytes a letter", "\xff\xfeP\x00a\x00t\x00", "not-text", 1, 4},
	{"invalid UTF-8", "Pattern: x\nBy: M\xe9ra\n", "not-utf8", 2, 6},
	{"cut inside a letter", "Pattern: caf\xc3", "not-utf8", 1, 13},
}

// TestNoText refuses what is no pattern text, with one problem.
func TestNoText(t *testing.T) {
	for _, c := range unread {
		t.Run(c.name, func(t *testing.T) {
			p, problems := patterns.Read([]byte(c.src))
			if len(problems) != 1 || problems[0].Code != c.code {
				t.Fatalf("problems %v, want one %s", problems, c.code)
			}
			checkProblems(t, []byte(c.src), problems)
			if at := problem.Locate([]byte(c.src), problems[0].Start); at.Line != c.line || at.Col != c.col {
				t.Errorf("at line %d, column %d, want %d, %d", at.Line, at.Col, c.line, c.col)
			}
			if _, err := p.LayOut(patterns.Choice{}); err != patterns.ErrUnsound {
				t.Errorf("LayOut: %v, want ErrUnsound", err)
			}
			if rows := p.Workable(0); len(rows) > 0 {
				t.Errorf("%d rows can be worked", len(rows))
			}
		})
	}
}

// TestBadBytes says that a few bytes that are none of a text are told, and the
// rest of the file is read all the same.
func TestBadBytes(t *testing.T) {
	rows := strings.Repeat("Tip: mind the edge, and count\n", 20)
	for _, c := range []struct {
		name, src string
		told      []string
	}{
		{"two letters in Latin-1", "By: M\xe9ra \xe9\nSection: Cap\nRound 1: k8\n" + rows, []string{"4:6 not-utf8", "4:10 not-utf8"}},
		{"one in a row", "Section: Cap\nRound 1: k\xa08\nRound 2: k7\n" + rows, []string{"5:11 not-utf8", "6:10 unworked"}},
		{"zero bytes", "Section: Cap\nRound 1: k8\x00\x00\nRound 2: zork\n" + rows, []string{"5:12 not-text", "6:10 unknown-abbreviation"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := []byte(headed(c.src))
			_, problems := patterns.Read(src)
			checkProblems(t, src, problems)
			if got := places(src, problems); !slices.Equal(got, c.told) {
				t.Errorf("told %v, want %v", got, c.told)
			}
		})
	}
}

// TestLineEnds reads all the line ends that a text may have.
func TestLineEnds(t *testing.T) {
	plain := headed("Section: Cap\nRound 1: k8 // all\n\nRound 2: k2, p2\n  k2, zork\nRound 3: k7\n")
	_, problems := patterns.Read([]byte(plain))
	want := places([]byte(plain), problems)
	if len(want) < 2 {
		t.Fatal(want)
	}
	for name, end := range map[string]string{"CR": "\r", "CRLF": "\r\n", "next line": "\u0085", "line separator": "\u2028", "paragraph separator": "\u2029"} {
		t.Run(name, func(t *testing.T) {
			src := []byte(strings.ReplaceAll(plain, "\n", end))
			_, problems := patterns.Read(src)
			checkProblems(t, src, problems)
			if got := places(src, problems); !slices.Equal(got, want) {
				t.Errorf("told %v, want %v", got, want)
			}
		})
	}
}

// places gives where problems stand, and their codes.
func places(src []byte, problems []problem.Problem) []string {
	var out []string
	for _, p := range problems {
		at := problem.Locate(src, p.Start)
		out = append(out, fmt.Sprintf("%d:%d %s", at.Line, at.Col, p.Code))
	}
	return out
}

// headed is a pattern in rounds with a header of its own and the given rest.
func headed(rest string) string {
	return "Pattern: Tide cap\nWorked: in rounds\nCast on: 8\n" + rest
}

// namedSizes is a pattern of so many sizes.
func namedSizes(n int) string {
	names := make([]string, n)
	for i := range names {
		names[i] = fmt.Sprintf("s%d", i)
	}
	return fmt.Sprintf("Pattern: x\nWorked: in rounds\nSizes: %s (%s)\nCast on: 8\nSection: Cap\nRound 1: k8\n", names[0], strings.Join(names[1:], ", "))
}

// repeated is a line so many times, each with its number.
func repeated(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i+1)
	}
	return b.String()
}

// limits are patterns up to each limit and one past it.
var limits = []struct {
	name, src, code string // no code: it is sound
}{
	{"20 sizes", namedSizes(20), ""},
	{"21 sizes", namedSizes(21), "too-many-sizes"},
	{"200 panels", headed(repeated("Panel: p x%d, 1 sts\nRow 1: k1\n", 200) + "Section: Cap\nRound 1: k8\n"), ""},
	{"201 panels", headed(repeated("Panel: p x%d, 1 sts\nRow 1: k1\n", 201) + "Section: Cap\nRound 1: k8\n"), "too-many-panels"},
	{"200 abbreviations", headed(repeated("Abbreviation: ab%d = k1\n", 200) + "Section: Cap\nRound 1: k8\n"), ""},
	{"201 abbreviations", headed(repeated("Abbreviation: ab%d = k1\n", 201) + "Section: Cap\nRound 1: k8\n"), "too-many-abbreviations"},
	{"5,000 rows", headed("Section: Cap\nRounds 1-5000: k8\n"), ""},
	{"5,001 rows", headed("Section: Cap\nRounds 1-5001: k8\n"), "too-many-rows"},
	{"5,001 rows one by one", headed("Section: Cap\n" + repeated("Round %d: k8\n", 5001)), "too-many-rows"},
	{"5,001 rows of two sections", headed("Section: Cap\nRounds 1-5000: k8\nSection: Top\nRound 1: k8\n"), "too-many-rows"},
	{"5,001 rows of two panels", headed("Panel: A, 4 sts\nRows 1-5000: k4\nPanel: B, 4 sts\nRow 1: k4\nSection: Cap\nRound 1: k8\n"), "too-many-rows"},
	{"rows to 99,999", headed("Section: Cap\nRounds 1-99999: k8\n"), "too-many-rows"},
	{"rows past all numbers", headed("Section: Cap\nRounds 1-99999999999999999999: k8\n"), "number-large"},
	{"5,000 stitches", strings.Replace(headed("Section: Cap\nRound 1: k5000\n"), "on: 8", "on: 5000", 1), ""},
	{"5,001 stitches", strings.Replace(headed("Section: Cap\nRound 1: k to end\n"), "on: 8", "on: 5001", 1), "too-large"},
	{"panels past 5,000 stitches", headed("Panel: A, 5000 sts\nRow 1: k5000\nSection: Cap\nAcross: [A] 4000 times\nRound 1: work the panels\n"), "too-large"},
	{"a row that grows", headed("Section: Cap\nRound 1: k8, yo 4993\n"), "too-large"},
	{"16 deep", headed("Section: Cap\nRound 1: " + strings.Repeat("[", 16) + "k8" + strings.Repeat("] 1 times", 16) + "\n"), ""},
	{"17 deep", headed("Section: Cap\nRound 1: " + strings.Repeat("[", 17) + "k8" + strings.Repeat("] 1 times", 17) + "\n"), "nesting"},
	{"100,000 deep", headed("Section: Cap\nRound 1: " + strings.Repeat("[", 100_000) + "k8\n"), "nesting"},
	{"repeat bomb", headed("Section: Cap\nRound 1: [[[k1] 999 times] 999 times] 999 times\n"), "too-large"},
	{"300 yarns", headed("Section: Cap\n" + repeated("Round %d: with yarn no%[1]d, k8\n", 300)), "too-many-yarns"},
	{"bomb of abbreviations", headed("Abbreviation: aa = [k1] 99 times\nAbbreviation: bb = [aa] 99 times\nSection: Cap\nRound 1: bb\n"), "too-large"},
}

// TestLimits says that what is past a limit is told once, and nothing else
// with it.
func TestLimits(t *testing.T) {
	for _, c := range limits {
		t.Run(c.name, func(t *testing.T) {
			_, problems := patterns.Read([]byte(c.src))
			checkProblems(t, []byte(c.src), problems)
			switch {
			case c.code == "" && len(problems) > 0:
				t.Errorf("told: %s", caretForm([]byte(c.src), problems[:1]))
			case c.code != "" && (len(problems) != 1 || problems[0].Code != c.code):
				t.Errorf("%d problems, want one %s:\n%.400s", len(problems), c.code, caretForm([]byte(c.src), problems))
			}
		})
	}
}

// TestCutOff reads a good file cut off at every byte.
func TestCutOff(t *testing.T) {
	src, err := os.ReadFile("testdata/books/nuns-pattern.txt")
	if err != nil {
		t.Fatal(err)
	}
	src = append(src, "Section: Hem\nRows 7-12 (RS, optional in twos): as rows 1-6. // to end\nTip: mind the hem\n"...)
	for i := range src {
		p, problems := patterns.Read(src[:i])
		checkProblems(t, src[:i], problems)
		if patterns.HasErrors(problems) {
			continue
		}
		if _, err := p.LayOut(patterns.Choice{}); err != nil {
			t.Errorf("cut at %d: no errors, and %v", i, err)
		}
	}
}

// TestForms reads the same pattern in the forms that editors give a text.
func TestForms(t *testing.T) {
	plain := "Pattern: Tide mat\nWorked: in rows\nSizes: small (large)\nCast on: 8 (10)\n\nPanel: Seed edge, 2 sts\nRow 1: k1, p1\nRow 2: k1, p1\n\n" +
		"Section: Mat\nAcross: Seed edge, k4 (6), Seed edge\nRows 1-4: work the panels.\nRows 5-6: k2, [k2tog, yo] 2 (3) times, k2. (8 (10) sts)\nRow 7: k2tog x2, k to end\n"
	want, problems := patterns.Read([]byte(plain))
	if len(problems) > 0 {
		t.Fatal(caretForm([]byte(plain), problems))
	}
	for _, c := range []struct {
		name string
		form *strings.Replacer
		head string
	}{
		{"as it is", strings.NewReplacer(), ""},
		{"CRLF", strings.NewReplacer("\n", "\r\n"), ""},
		{"byte-order mark", strings.NewReplacer(), "\ufeff"},
		{"typographic", strings.NewReplacer("1-4", "1–4", "5-6", "5—6", ": ", ":\u00a0", " (", "\u202f(", ", ", ",\u00a0\u00a0", "x2", "×2"), ""},
		{"upper case", strings.NewReplacer("Row", "ROW", "k", "K", "p1", "P1", "work", "Work", "Section:", "SECTION:", "Across", "ACROSS", "to end", "TO END", "yo", "YO", "times", "TIMES"), ""},
		{"no space", strings.NewReplacer(": ", ":", ", ", ",", " (", "("), ""},
		{"much space", strings.NewReplacer(":", " : ", ",", " , ", "(", " ( ", ")", " ) ", "\n", " \t\n"), ""},
		{"comments", strings.NewReplacer("\n", " // why: k2, (\n// Row 9: k3\n"), ""},
		{"continued", strings.NewReplacer(", k", ",\n  k", " (10) sts", "\n\t(10) sts"), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := []byte(c.head + c.form.Replace(plain))
			got, problems := patterns.Read(src)
			if len(problems) > 0 {
				t.Fatal(caretForm(src, problems))
			}
			if rowsForm(got) != rowsForm(want) && c.name != "upper case" || strings.Count(rowsForm(got), "\n") != strings.Count(rowsForm(want), "\n") {
				t.Errorf("rows:\n%s\nwant:\n%s", rowsForm(got), rowsForm(want))
			}
		})
	}
}

// hostile gives texts within the limits that are as much work as they can be
// made, for the benchmark and for a run under -race.
func hostile(scale int) map[string]string {
	var names, optional, chained, oneLine strings.Builder
	for i := range 200 {
		fmt.Fprintf(&names, "Panel: p x%d, %d sts\nRows 1-%d: k to end\n", i, 5, 20)
	}
	names.WriteString("Section: Cap\nAcross: ")
	for i := range 200 {
		fmt.Fprintf(&names, "p x%d, ", i)
	}
	for i := range 2000 / scale {
		fmt.Fprintf(&optional, "Rounds %d-%d (optional in ones): k to end\n", 2*i+1, 2*i+2)
	}
	for i := range 4999 / scale {
		fmt.Fprintf(&chained, "Round %d: as round %d\n", i+2, i+1)
	}
	for i := range 4999 / scale {
		fmt.Fprintf(&oneLine, " k to end. Round %d:", i+2)
	}
	header := func(stitches int) string {
		return fmt.Sprintf("Pattern: x\nWorked: in rounds\nCast on: %d\n", stitches)
	}
	return map[string]string{
		"5,000 rows of 5,000 stitches": header(5000) + fmt.Sprintf("Section: Cap\nRounds 1-%d: [k1, p1] to end\n", 5000/scale),
		"as they look":                 header(5000) + fmt.Sprintf("Section: Cap\nRound 1: [k1, p2] 1666 times, k2\nRounds 2-%d: work as they look\n", 5000/scale),
		"200 panels across":            header(1000) + names.String() + fmt.Sprintf("\nRounds 1-%d: work the panels\n", 5000/scale),
		"optional groups":              header(8) + "Section: Cap\n" + optional.String(),
		"a chain of references":        header(8) + "Section: Cap\nRound 1: k8\n" + chained.String(),
		"rows on one line":             header(8) + "Section: Cap\nRound 1:" + oneLine.String() + " k8",
		"every other row again":        header(8) + "Section: Cap\nRounds 1-" + fmt.Sprint(5000/scale) + ": k8\n" + strings.Repeat("All even rounds: k8\nEvery odd round: p8\n", 3000/scale),
		"wrong rows":                   header(5000) + fmt.Sprintf("Section: Cap\nRounds 1-%d: k4999\n", 5000/scale),
		"unknown keys":                 header(8) + strings.Repeat("Sectoin: x\n", 20000/scale),
		"open brackets":                header(8) + "Section: Cap\n" + strings.Repeat("Round 1: [[[[[[[[[[\n", 8000/scale),
		"one long word":                header(8) + "Section: Cap\nRound 1: " + strings.Repeat("k", 200_000/scale),
		"commas":                       header(8) + "Section: Cap\nRound 1: " + strings.Repeat(",", 200_000/scale),
		"many small problems":          header(8) + "Section: Cap\nRound 1: " + strings.Repeat("zz,", 80_000/scale),
		"held stitches":                header(5000) + strings.Repeat("Section: a\nCast on: 5000\nRound 1: k to end\n", 3000/scale),
		"loose lines":                  header(8) + "Section: Cap\nRound 1: k8\n" + strings.Repeat("Row 2 k8\n", 20000/scale),
		"a long list of rows":          header(8) + "Section: Cap\nRounds 1" + strings.Repeat(", 2", 60_000/scale) + ": k8\n",
	}
}

// TestHostile reads what is as much work as it can be made, in small: nothing
// panics, and what is told lies in the text.
func TestHostile(t *testing.T) {
	for name, src := range hostile(20) {
		t.Run(name, func(t *testing.T) {
			_, problems := patterns.Read([]byte(src))
			checkProblems(t, []byte(src), problems)
		})
	}
}

// BenchmarkHostile reads the same in full.
func BenchmarkHostile(b *testing.B) {
	for name, src := range hostile(1) {
		if len(src) > patterns.MaxBytes {
			b.Errorf("%s: %d bytes, past the limit", name, len(src))
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				patterns.Read([]byte(src))
			}
		})
	}
}

// BenchmarkRead reads and proves a pattern of 1,000 rows and 300 stitches.
func BenchmarkRead(b *testing.B) {
	src := large()
	if _, problems := patterns.Read(src); len(problems) > 0 {
		b.Fatal(caretForm(src, problems))
	}
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		patterns.Read(src)
	}
}

// large is a pattern of 1,000 rows and 300 stitches: lace and ribbing written
// out row by row, and cables in panels.
func large() []byte {
	var b strings.Builder
	b.WriteString("Pattern: Long shawl\nWorked: in rows\nCast on: 300\n" +
		"Panel: Rope, 10 sts\nRow 1 (RS): p2, 3/3 RC, p2\nRow 2: k2, p6, k2\nRow 3: p2, k6, p2\nRow 4: work as they look\n\nSection: Shawl\n")
	for row := 1; row <= 500; row += 4 {
		fmt.Fprintf(&b, "Row %d (RS): k4, *yo, k2tog, k3, ssk, yo, k1; rep from * to last 8 sts, k8. (300 sts)\n", row)
		fmt.Fprintf(&b, "Row %d (WS): k4, p to last 4 sts, k4.\n", row+1)
		fmt.Fprintf(&b, "Row %d (RS): [k2, p2, k1 tbl, p1] 50 times.\n", row+2)
		fmt.Fprintf(&b, "Row %d (WS): k4, work as they look to last 4 sts, k4.\n", row+3)
	}
	b.WriteString("Section: Ropes\nAcross: [Rope, k5] 20 times\n")
	for row := 501; row <= 1000; row++ {
		fmt.Fprintf(&b, "Row %d: work the panels.\n", row)
	}
	return []byte(b.String())
}

// BenchmarkSamples reads and proves the patterns that ship with Clew.
func BenchmarkSamples(b *testing.B) {
	names, err := filepath.Glob("samples/*.txt")
	if err != nil || len(names) == 0 {
		b.Fatal("no samples", err)
	}
	for _, name := range names {
		src, err := os.ReadFile(name)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				patterns.Read(src)
			}
		})
	}
}
