package instruction

import (
	"runtime/debug"
	"strings"
	"testing"
)

// huge is as long as a whole pattern file may be, in bytes.
const longest = 256 << 10

func filled(piece string) string { return strings.Repeat(piece, longest/len(piece)) }

var hostile = []struct {
	name, text string
	first      string // the code of the first problem; empty: there is none
}{
	{"open brackets", filled("["), "nesting"},
	{"open parentheses with a space", filled("( "), "nesting"},
	{"closed brackets", filled("]"), "bracket-unopened"},
	{"pairs of brackets", filled("[]"), "empty-group"},
	{"mismatched brackets", filled("[)"), "bracket-mismatch"},
	{"mismatched brackets and commas", filled("[),"), "bracket-mismatch"},
	{"asterisks", filled("*"), "star-level"},
	{"asterisks apart", filled("* "), "nesting"},
	{"asterisks and commas", filled("*,"), "nesting"},
	{"asterisks that close nothing", filled("*k1**, "), "nesting"},
	{"repeats of nothing", filled("rep from * "), "star-missing"},
	{"stitches and brackets", filled("k1("), "comma-missing"},
	{"a list of sizes that never ends", "k1 (" + filled("2, "), "bracket-unclosed"},
	{"lists of sizes", filled("k1 (2, "), "comma-missing"},
	{"stated counts", filled("(84 sts)"), "stated-place"},
	{"stated counts that never end", filled("(84 sts "), "count-alone"},
	{"remarks that never end", filled("k1 (zork "), "comma-missing"},
	{"a remark that never ends", "k1 (zork" + filled(" zork"), "comma-missing"},
	{"crosses that never end", filled("sl 1 to cn, hold in back,"), "cross-nested"},
	{"a cross that never ends", "sl 2 to cn, hold in back" + filled(", k1"), "cross-unfinished"},
	{"crosses held nowhere", filled("sl 1 to cn, hold "), "cross-hold"},
	{"second cable needles", filled("sl 1 to cn, sl 1 to 2nd cn, "), "cross-nested"},
	{"one word", filled("k"), "unknown-abbreviation"},
	{"unknown words", filled("zork, "), "unknown-abbreviation"},
	{"words without a comma", filled("k1 "), "comma-missing"},
	{"digits", filled("9"), "count-alone"},
	{"a stitch and digits", "k" + filled("9"), "number-large"},
	{"strokes", filled("1/"), "unknown-abbreviation"},
	{"ampersands", filled("w&"), "unknown-abbreviation"},
	{"a yarn with a long name", "with " + filled("red "), ""},
	{"yarns", filled("with "), "too-large"},
	{"cast on along", "CO 3 along " + filled("the "), ""},
	{"commas", filled(","), "empty-row"},
	{"and", filled("and "), "empty-row"},
	{"slips", filled("sl 1 tog "), "comma-missing"},
	{"a slip in many manners", "sl 1 " + filled("tog "), ""},
	{"bytes that are no text", filled("\xff"), "character"},
	{"zeros", filled("\x00"), "character"},
	{"comments", filled("//\n"), "empty-row"},
	{"letters of several bytes", filled("é"), "unknown-abbreviation"},
	{"as many stitches as fit the text", filled("k1,"), "too-large"},
	{"as many rows", filled("as row 1,"), "row-reference"},
	{"as many bare stitches", filled("k,"), "count-missing"},
	{"as many stitches of none", filled("k0,"), ""},
}

// The longest hostile texts are read on a small stack, and without the test
// running into its time limit, as it would were the time not linear.
func TestHostileRows(t *testing.T) {
	defer debug.SetMaxStack(debug.SetMaxStack(512 << 10))
	for _, c := range hostile {
		t.Run(c.name, func(t *testing.T) {
			_, problems := Parse(c.text, whole(c.text), Options{})
			checkProblemForms(t, c.text, problems)
			first := ""
			if len(problems) > 0 {
				first = problems[0].Code
			}
			if first != c.first {
				t.Errorf("the first problem is %q; %q was expected", first, c.first)
			}
			_, problems = ParseAcross(c.text, whole(c.text), Options{Panels: []string{"Seed edge"}})
			checkProblemForms(t, c.text, problems)
			_, problems = ParseHead(c.text, whole(c.text), 1)
			checkProblemForms(t, c.text, problems)
		})
	}
}

// The seventeenth bracket is told, alone, and neither those around it nor
// those behind it.
func TestNestingLimit(t *testing.T) {
	for _, limit := range []int{1, 3, MaxNesting} {
		deep := func(n int) string { return strings.Repeat("[", n) + "k1" + strings.Repeat("] once", n) }
		opts := Options{MaxNesting: limit}
		if limit == MaxNesting {
			opts.MaxNesting = 0
		}
		if _, problems := Parse(deep(limit), whole(deep(limit)), opts); len(problems) > 0 {
			t.Errorf("%d brackets are refused where %d may stand: %v", limit, limit, problems)
		}
		text := deep(limit+1) + ", zork"
		_, problems := Parse(text, whole(text), opts)
		if len(problems) != 1 || problems[0].Code != "nesting" || problems[0].Start != limit || problems[0].End != limit+1 {
			t.Errorf("bracket %d alone was expected: %v", limit+1, problems)
		}
	}
}

func TestProblemsHaveALimit(t *testing.T) {
	for _, n := range []int{maxProblems, maxProblems + 1, 3 * maxProblems} {
		text := strings.Repeat("zork, ", n)
		_, problems := Parse(text, whole(text), Options{})
		if n == maxProblems {
			if len(problems) != n || problems[n-1].Code != "unknown-abbreviation" {
				t.Errorf("%d problems are told of %d", len(problems), n)
			}
			continue
		}
		if len(problems) != maxProblems+1 {
			t.Fatalf("%d problems are told of %d", len(problems), n)
		}
		if last := problems[maxProblems]; last.Code != "too-many" || last.Start != maxProblems*len("zork, ") {
			t.Errorf("the last one is %+v", last)
		}
	}
}

// Abbreviations that stand for each other again and again are added up once
// each, however many stitches they come to.
func TestAbbreviationBomb(t *testing.T) {
	opts := Options{Abbreviations: &Abbreviations{}}
	text := "k1, p1"
	for i := range 200 {
		name := "z" + strings.Repeat("y", i%20) + strings.Repeat("x", i/20)
		in, _ := Parse(text, whole(text), opts)
		if !opts.Abbreviations.Define(&Definition{Name: name, Body: in.Body}) {
			t.Fatalf("%q is taken", name)
		}
		text = "[" + name + ", " + name + "] 0 times, " + name + ", " + name
	}
	_, problems := Parse(text, whole(text), opts)
	if len(problems) != 1 || problems[0].Code != "too-large" {
		t.Errorf("too large a row was expected: %v", problems)
	}
}

func TestDefine(t *testing.T) {
	a := &Abbreviations{}
	for _, c := range []struct {
		name string
		want bool
	}{
		{"T5R", true}, {"t5r", false}, {"t 5 r", false}, {"", false}, {" . ", false},
		{strings.Repeat("y", MaxName), true}, {strings.Repeat("x", MaxName+1), false},
	} {
		if got := a.Define(&Definition{Name: c.name}); got != c.want {
			t.Errorf("%q is defined: %v", c.name, got)
		}
	}
	if a.Find("T 5 R") == nil || a.Find("T5L") != nil || (*Abbreviations)(nil).Find("T5R") != nil {
		t.Error("a name is found that is none, or one is not")
	}
	if n := len(a.Names()); n != 2 {
		t.Errorf("%d names are known", n)
	}
}
