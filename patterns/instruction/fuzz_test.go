package instruction

import (
	"strings"
	"testing"
	"unicode/utf8"

	"clew/patterns/problem"
)

// FuzzParse reads anything, as a row and as an Across line. Whatever it is,
// nothing panics and problems stand inside the text; where there is none, the
// printed text gives the same tree, is its own print, and every node stands
// where it was read.
func FuzzParse(f *testing.F) {
	for _, c := range table(f) {
		for _, text := range c.Spellings {
			f.Add(text, c.Sizes)
		}
		f.Add(c.Canonical, c.Sizes)
	}
	f.Add("sl 2 to cn, hold in back, sl 1 to 2nd cn, k2tog (last st of cable needle with next st)", 1)
	f.Add("[[[[*k1 (3, 4) times; ** rep from * ((", 2)
	f.Add("k2\xff\xfe, \x00, p2", 1)
	opts := treeOpts(f)
	opts.Panels = []string{"Seed edge", "Lantern", "k2tog"}
	f.Fuzz(func(t *testing.T, text string, sizes int) {
		opts := opts
		opts.Sizes = 1 + max(0, sizes)%4
		for _, across := range []bool{false, true} {
			nodes, stated, problems := read(text, whole(text), opts, across)
			checkProblemForms(t, text, problems)
			if len(problems) > 0 {
				continue
			}
			if stated != nil && (stated.Start < 0 || stated.End > len(text)) {
				t.Fatalf("the stated count of %q stands at %v", text, stated.Span)
			}
			if err := checkPositions(text, nodes, around(text), opts, across); err != nil {
				t.Fatal(err)
			}
			printed := Print(nodes, AllSizes)
			again, _, problems := read(printed, whole(printed), opts, across)
			if len(problems) > 0 {
				t.Fatalf("%q prints %q, which has problems: %v", text, printed, problems)
			}
			if diff := sameTree(nodes, again); diff != "" {
				t.Fatalf("%q prints %q, which is another tree:\n%s", text, printed, diff)
			}
			if twice := Print(again, AllSizes); twice != printed {
				t.Fatalf("%q prints %q, which prints %q", text, printed, twice)
			}
			for size := range opts.Sizes {
				Print(nodes, size)
			}
		}
	})
}

// checkProblemForms holds what every problem owes its reader: a place inside
// the text, a code, a sentence that can be shown anywhere, and what to do.
func checkProblemForms(t testing.TB, text string, problems []problem.Problem) {
	t.Helper()
	if len(problems) > maxProblems+1 {
		t.Fatalf("%d problems are told of one row", len(problems))
	}
	for i, p := range problems {
		if p.Start < 0 || p.End < p.Start || p.End > len(text) {
			t.Fatalf("%.80q: %s stands at %v", text, p.Code, p.Span)
		}
		if p.Code == "" || p.Message == "" || strings.HasSuffix(p.Message, ".") || !utf8.ValidString(p.Message+p.Suggestion) ||
			strings.ContainsAny(p.Message+p.Suggestion, "\n\r\x00\x1b") || len(p.Message) > 400 {
			t.Fatalf("%.80q: this is no sentence to show: %q, %q", text, p.Message, p.Suggestion)
		}
		if p.Suggestion == "" && p.Code != "unknown-abbreviation" && p.Code != "not-a-stitch" && p.Code != "too-many" {
			t.Fatalf("%.80q: %s says nothing of what to do", text, p.Code)
		}
		if i < 3 {
			problem.Caret("row", []byte(text), p)
		}
	}
}

// FuzzParseHead reads anything as what stands before the colon of a row.
func FuzzParseHead(f *testing.F) {
	for _, c := range headCases {
		f.Add(c.text)
	}
	for _, c := range headProblems {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		h, problems := ParseHead(text, whole(text), 3)
		checkProblemForms(t, text, problems)
		if len(problems) == 0 && len(h.Ranges) == 0 && h.Every == NoOthers {
			t.Fatalf("%q names no row", text)
		}
		for _, r := range h.Ranges {
			if len(r.From.Values) == 0 || len(r.To.Values) == 0 {
				t.Fatalf("%q has a range without an end", text)
			}
		}
	})
}
