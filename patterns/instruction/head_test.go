package instruction

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"clew/patterns/problem"
)

// headText is a head in short: "R 1-4,7 every WS side RS optional 2".
func headText(h Head) string {
	var b strings.Builder
	b.WriteString(map[bool]string{false: "row", true: "round"}[h.Round])
	for i, r := range h.Ranges {
		b.WriteString([]string{" ", ","}[min(i, 1)])
		fmt.Fprint(&b, r.From.Values[0])
		if r.To.Values[0] != r.From.Values[0] {
			fmt.Fprint(&b, "-", r.To.Values[0])
		}
	}
	if h.Every != NoOthers {
		b.WriteString(" every " + [...]string{"", "WS", "RS", "even", "odd", "other"}[h.Every])
	}
	if h.Side != SideUnsaid {
		b.WriteString(" side " + h.Side.String())
	}
	if len(h.Optional.Values) > 0 {
		fmt.Fprint(&b, " optional ", h.Optional.Values[0])
	}
	return b.String()
}

var headCases = []struct{ text, want string }{
	{"Row 1", "row 1"},
	{"row 1", "row 1"},
	{"ROW 12", "row 12"},
	{"Round 1", "round 1"},
	{"Rnd 1", "round 1"},
	{"Rnds 1-4", "round 1-4"},
	{"Row 1 (RS)", "row 1 side RS"},
	{"Row 1 [WS]", "row 1 side WS"},
	{"Row 1 (right side)", "row 1 side RS"},
	{"Row 1 (wrong side)", "row 1 side WS"},
	{"Row 1 RS", "row 1 side RS"},
	{"Rows 2-10", "row 2-10"},
	{"Rows 2–10", "row 2-10"},
	{"Rows 2 to 10", "row 2-10"},
	{"Rows 2 - 10 (WS)", "row 2-10 side WS"},
	{"Rounds 3, 7 and 11", "round 3,7,11"},
	{"Rounds 3, 7, and 11", "round 3,7,11"},
	{"Rounds 3, 7 & 11", "round 3,7,11"},
	{"Rows 1-3, 5, 7-9", "row 1-3,5,7-9"},
	{"Row 2 and all WS rows", "row 2 every WS"},
	{"Row 2 and every WS row", "row 2 every WS"},
	{"Row 2 and all wrong side rows", "row 2 every WS"},
	{"Row 2 and all foll WS rows", "row 2 every WS"},
	{"Row 1 and all RS rows", "row 1 every RS"},
	{"Row 4 and every even row", "row 4 every even"},
	{"Row 4 and all even-numbered rows", "row 4 every even"},
	{"Round 3 and every odd round", "round 3 every odd"},
	{"Row 2 and every other row", "row 2 every other"},
	{"Row 2 and every alternate row", "row 2 every other"},
	{"Row 2 (WS) and all WS rows", "row 2 every WS side WS"},
	{"All WS rows", "row every WS"},
	{"All other WS rows", "row every WS"},
	{"Every even round", "round every even"},
	{"Rounds 5-8 (optional in twos)", "round 5-8 optional 2"},
	{"Rounds 5-8 (optional in 4s)", "round 5-8 optional 4"},
	{"Rounds 5-8 (optional in 2 rounds)", "round 5-8 optional 2"},
	{"Rows 5-8 (RS, optional in twos)", "row 5-8 side RS optional 2"},
	{"Rows 5-8 (RS) (optional in twelves)", "row 5-8 side RS optional 12"},
}

// The forms are those of the page that describes the pattern text.
func TestParseHead(t *testing.T) {
	for _, c := range headCases {
		t.Run(c.text, func(t *testing.T) {
			h, problems := ParseHead(c.text, whole(c.text), 1)
			if len(problems) > 0 {
				t.Fatal(problem.Caret("head", []byte(c.text), problems[0]))
			}
			if got := headText(h); got != c.want {
				t.Errorf("it reads as %q; %q is expected", got, c.want)
			}
			if h.Span != whole(c.text) {
				t.Errorf("it stands at %v", h.Span)
			}
		})
	}
}

var headProblems = []struct {
	text    string
	col     int
	code    string
	message string
}{
	{"Rwo 1", 1, "row-head", "Row or Round was expected"},
	{"Row", 4, "row-number", "a row number was expected"},
	{"Row x", 5, "row-number", `a row number was expected, and "x" was found`},
	{"Row 1-", 7, "row-number", "the last row's number was expected"},
	{"Row 1, ", 8, "row-number", "a row number was expected, and nothing was found"},
	{"Row 2 and all green rows", 15, "row-head", `which rows? One of "all WS", "all RS", "every even", "every odd" and "every other" was expected, and "green" was found`},
	{"Row 2 and all", 14, "row-head", "which rows?"},
	{"Row 2 and all other rows", 15, "row-head", "which rows?"},
	{"Row 2 and every other WS row", 23, "row-head", "which rows?"},
	{"Row 2 and all WS stitches", 18, "row-head", `rows or rounds was expected, and "stitches" was found`},
	{"Row 1 (inside)", 8, "row-head", `"inside" was found where the colon of the row was expected`},
	{"Row 1 (RS", 7, "bracket-unclosed", `"(" is opened here and never closed`},
	{"Row 1 RS)", 9, "row-head", `")" was found where the colon of the row was expected`},
	{"Row 1 (RS]", 10, "bracket-mismatch", `")" was expected`},
	{"Rows 1-4 (optional)", 11, "optional", "how many rows may be left out at a time?"},
	{"Rows 1-4 (optional in some)", 23, "optional", "how many rows may be left out at a time?"},
	{"Rows 1-4 (optional in 0s)", 23, "optional", "how many rows may be left out at a time?"},
	{"Row 123456789", 5, "number-large", "this number is too large"},
}

func TestParseHeadProblems(t *testing.T) {
	for _, c := range headProblems {
		t.Run(c.text, func(t *testing.T) {
			_, problems := ParseHead(c.text, whole(c.text), 1)
			if len(problems) != 1 {
				t.Fatalf("one problem is expected: %v", problems)
			}
			p := problems[0]
			if at := problem.Locate([]byte(c.text), p.Start); at.Col != c.col || p.Code != c.code || !strings.HasPrefix(p.Message, c.message) {
				t.Errorf("at %d %s %s\nis expected, and told is (%s)\n%s", c.col, c.code, c.message, p.Code, problem.Caret("head", []byte(c.text), p))
			}
			checkProblemForms(t, c.text, problems)
		})
	}
}

func TestSides(t *testing.T) {
	for _, c := range []struct{ side, other Side }{{RS, WS}, {WS, RS}, {SideUnsaid, SideUnsaid}} {
		if c.side.Other() != c.other {
			t.Errorf("the other side of %q is %q", c.side, c.side.Other())
		}
	}
}

func TestParseCount(t *testing.T) {
	for _, c := range []struct {
		text    string
		sizes   int
		want    []int
		col     int // of the problem
		message string
	}{
		{"96", 1, []int{96}, 0, ""},
		{"96 sts", 1, []int{96}, 0, ""},
		{" 96 (112, 128) stitches. ", 3, []int{96, 112, 128}, 0, ""},
		{"96 (112)", 3, nil, 1, "2 numbers stand here, and the pattern has 3 sizes"},
		{"", 1, nil, 1, "a number of stitches was expected here"},
		{"many", 1, nil, 1, "a number of stitches was expected here"},
		{"96 rows", 1, nil, 4, `"rows" was found behind the number of stitches`},
		{"5001", 1, nil, 1, "5001 stitches are too many; a row has at most 5000"},
		{"12345678901", 1, nil, 1, "this number is too large"},
	} {
		t.Run(c.text, func(t *testing.T) {
			n, problems := ParseCount(c.text, whole(c.text), c.sizes)
			checkProblemForms(t, c.text, problems)
			if c.message == "" {
				if len(problems) > 0 || !slices.Equal(n.Values, c.want) {
					t.Errorf("it reads as %v: %v", n.Values, problems)
				}
				return
			}
			if len(problems) == 0 || !strings.HasPrefix(problems[0].Message, c.message) || problem.Locate([]byte(c.text), problems[0].Start).Col != c.col {
				t.Errorf("%q at %d was expected: %+v", c.message, c.col, problems)
			}
		})
	}
}
