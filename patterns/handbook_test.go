package patterns_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/problem"
)

// An example of the handbook data: a pattern of a book that is out of
// copyright, put into today's abbreviations and counted by a script that
// shares nothing with Clew. Each names its book, year and lines.
type example struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Source   string `json:"source"`
	Lines    string `json:"lines"`
	Rounds   bool   `json:"in_the_round"`
	CastOn   int    `json:"cast_on"`
	Connects bool   `json:"connects"`
	Problem  string `json:"problem"`
	Rows     []struct {
		Label any    `json:"n"`
		Text  string `json:"text_modern"`
		After int    `json:"on_needle_after"`
	} `json:"rows"`
}

func handbook(t testing.TB) []example {
	t.Helper()
	data, err := os.ReadFile("testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []example `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	return book.Examples
}

// A written example: the text of its pattern, and for each row line the label
// of the data, its line in the text, and the count after it.
type written struct {
	text  string
	lines []writtenLine
}

type writtenLine struct {
	label string
	line  int
	last  int // number of its last row
	after int
}

var shortRow = regexp.MustCompile(`^\d[ab]$`)

// write puts an example into a whole pattern. Its rows are numbered from 1;
// those of a label such as "3-6" are as many as it says.
func write(e example) written {
	var w written
	worked, word := "in rows", "Row"
	if e.Rounds {
		worked, word = "in rounds", "Round"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "// %s, lines %s\nPattern: %s\nWorked: %s\nCast on: %d\n\nSection: Whole\n", e.Source, e.Lines, e.Name, worked, e.CastOn)
	number := 0
	for _, r := range e.Rows {
		label, text := fmt.Sprint(r.Label), r.Text
		if e.ID == "W-LEGSHORT" && shortRow.MatchString(label) {
			text += ", turn" // which the data leaves out
		}
		rows := 1
		if from, to, ok := strings.Cut(label, "-"); ok {
			if first, err := strconv.Atoi(from); err == nil {
				if last, err := strconv.Atoi(to); err == nil {
					rows = last - first + 1
				}
			}
		}
		w.lines = append(w.lines, writtenLine{label, 1 + strings.Count(b.String(), "\n"), number + rows, r.After})
		if rows == 1 {
			fmt.Fprintf(&b, "%s %d: %s.\n", word, number+1, text)
		} else {
			fmt.Fprintf(&b, "%ss %d-%d: %s.\n", word, number+1, number+rows, text)
		}
		number += rows
	}
	w.text = b.String()
	return w
}

var misfit = regexp.MustCompile(`row (\S+) needs \d+, has \d+`)

// TestHandbook reads every pattern of the handbook data as a whole file: those
// that connect come out with the counts of the data, row by row; those that
// don't are refused, first of all in the row that the data names first.
func TestHandbook(t *testing.T) {
	connected, broken := 0, 0
	for _, e := range handbook(t) {
		t.Run(e.ID, func(t *testing.T) {
			w := write(e)
			p, problems := patterns.Read([]byte(w.text))
			checkProblems(t, []byte(w.text), problems)
			if e.Connects {
				connected++
				connects(t, w, p, problems)
				return
			}
			broken++
			named := misfit.FindStringSubmatch(e.Problem)
			for _, each := range problems {
				if each.Severity != problem.Error {
					continue
				}
				at := problem.Locate([]byte(w.text), each.Start)
				for _, l := range w.lines {
					if l.label == named[1] && l.line != at.Line {
						t.Errorf("the first error is in line %d (%s), and the data says row %s, in line %d:\n%s", at.Line, each.Message, named[1], l.line, w.text)
					}
				}
				return
			}
			t.Errorf("no error, and the data says: %s", e.Problem)
		})
	}
	if connected != 57 || broken != 17 {
		t.Errorf("%d patterns that connect and %d that don't, want 57 and 17", connected, broken)
	}
}

// TestHandbookMisfits says of figure 388, whose rows 3, 5, 7 and 11 the data
// finds to use another number of stitches than there are, that each of these is
// told, and no other.
func TestHandbookMisfits(t *testing.T) {
	for _, e := range handbook(t) {
		if e.ID != "D388" {
			continue
		}
		w := write(e)
		_, problems := patterns.Read([]byte(w.text))
		var want, got []string
		for _, m := range misfit.FindAllStringSubmatch(e.Problem, -1) {
			want = append(want, m[1])
		}
		for _, p := range problems {
			line := problem.Locate([]byte(w.text), p.Start).Line
			for _, l := range w.lines {
				if l.line == line {
					got = append(got, l.label)
				}
			}
		}
		if len(want) != 4 || len(got) != len(problems) || !slices.Equal(got, want) {
			t.Errorf("told in rows %v, and the data says %v:\n%s", got, want, caretForm([]byte(w.text), problems))
		}
		return
	}
	t.Error("the data has no figure 388")
}

func connects(t *testing.T, w written, p *patterns.Pattern, problems []problem.Problem) {
	t.Helper()
	if patterns.HasErrors(problems) {
		t.Fatalf("%s\n%s", caretForm([]byte(w.text), problems), w.text)
	}
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range w.lines {
		i, found := plan.Find("Whole", l.last)
		if !found {
			t.Fatalf("the plan has no row %d", l.last)
		}
		if after := plan.Rows[i].After.Count(); after != l.after {
			t.Errorf("row %s: %d stitches after it, and the data says %d", l.label, after, l.after)
		}
	}
}

// Pattern files in Clew's notation, each with the count that its last row must
// leave: of the books that the files name, and of common practice with no one
// source. Each states its counts row by row.
var files = []struct {
	name  string
	last  int // stitches after the last row, as the source gives them
	first int // stitches after the first row
}{
	{"books/babys-boot-sock", 48, 96},
	{"books/childs-mitten-top", 4, 60},
	{"books/feather-pattern", 108, 108},
	{"books/knitted-lace-396", 13, 13},
	{"books/knitted-lace", 12, 12},
	{"books/knitting-pattern-391", 21, 21},
	{"books/nuns-pattern", 112, 112},
	{"books/toe-362", 16, 68},
	{"common/eight-gores", 8, 88},
	{"common/feather-and-fan", 58, 58},
}

func TestPatternFiles(t *testing.T) {
	for _, f := range files {
		t.Run(f.name, func(t *testing.T) {
			src, err := os.ReadFile("testdata/" + f.name + ".txt")
			if err != nil {
				t.Fatal(err)
			}
			p, problems := patterns.Read(src)
			if len(problems) > 0 {
				t.Fatal(caretForm(src, problems))
			}
			plan, err := p.LayOut(patterns.Choice{})
			if err != nil {
				t.Fatal(err)
			}
			if n := plan.Rows[0].After.Count(); n != f.first {
				t.Errorf("%d stitches after the first row, want %d", n, f.first)
			}
			if n := plan.Rows[len(plan.Rows)-1].After.Count(); n != f.last {
				t.Errorf("%d stitches after the last row, want %d", n, f.last)
			}
		})
	}
}
