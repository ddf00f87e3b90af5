package instruction

import (
	"fmt"
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"clew/patterns/instruction/cases"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

const tablePath = "testdata/cases.txt"

func table(t testing.TB) []cases.Case {
	t.Helper()
	all, err := cases.Load(tablePath)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// options gives what a case says of the pattern around the row.
func options(t testing.TB, c cases.Case) Options {
	t.Helper()
	opts := Options{Sizes: c.Sizes, MaxNesting: c.MaxNesting, Panels: c.Panels, Abbreviations: &Abbreviations{}}
	for _, line := range c.Abbr {
		name, text, _ := strings.Cut(line, " = ")
		in, problems := Parse(text, whole(text), opts)
		if len(problems) > 0 || !opts.Abbreviations.Define(&Definition{Name: name, Body: in.Body}) {
			t.Fatalf("abbreviation %q can't be defined: %v", line, problems)
		}
	}
	return opts
}

func whole(text string) problem.Span { return problem.Span{End: len(text)} }

// read parses a row, or an Across line.
func read(text string, at problem.Span, opts Options, across bool) (nodes []Node, stated *Number, problems []problem.Problem) {
	if across {
		nodes, problems = ParseAcross(text, at, opts)
		return nodes, nil, problems
	}
	in, problems := Parse(text, at, opts)
	return in.Body, in.Stated, problems
}

// dump gives a tree in full, one field after the other: unlike Equal, which
// compares what trees print. Where it is read from is left out on demand.
func dump(nodes []Node, spans bool) string {
	var b strings.Builder
	dumpValue(&b, reflect.ValueOf(nodes), spans)
	return b.String()
}

func dumpValue(b *strings.Builder, v reflect.Value, spans bool) {
	switch v.Kind() {
	case reflect.Interface, reflect.Pointer:
		if v.IsNil() {
			b.WriteString("nil")
		} else if v.Type() == reflect.TypeFor[*stitch.Stitch]() {
			b.WriteString(v.Elem().FieldByName("Abbr").String())
		} else {
			dumpValue(b, v.Elem(), spans)
		}
	case reflect.Slice:
		b.WriteString("[")
		for i := range v.Len() {
			b.WriteString(" ")
			dumpValue(b, v.Index(i), spans)
		}
		b.WriteString("]")
	case reflect.Struct:
		b.WriteString(v.Type().Name() + "{")
		for i := range v.NumField() {
			if field := v.Type().Field(i); spans || field.Type != reflect.TypeFor[problem.Span]() {
				b.WriteString(" " + field.Name + ":")
				dumpValue(b, v.Field(i), spans)
			}
		}
		b.WriteString("}")
	default:
		fmt.Fprint(b, v)
	}
}

// different gives both trees where they are not the same.
func different(a, b []Node, spans bool) string {
	one, other := dump(a, spans), dump(b, spans)
	if one == other {
		return ""
	}
	return one + "\n" + other
}

// sameTree compares trees wherever they stand.
func sameTree(a, b []Node) string { return different(a, b, false) }

func TestTable(t *testing.T) {
	for _, c := range table(t) {
		t.Run(c.Name, func(t *testing.T) {
			opts := options(t, c)
			for _, text := range c.Spellings {
				nodes, stated, problems := read(text, whole(text), opts, c.Across)
				checkProblems(t, c, text, problems)
				if len(c.Problems) > 0 || t.Failed() {
					continue
				}
				if got := Print(nodes, AllSizes); got != c.Canonical {
					t.Errorf("%q\n     prints %q\nis expected %q", text, got, c.Canonical)
				}
				again, _, problems := read(c.Canonical, whole(c.Canonical), opts, c.Across)
				if len(problems) > 0 {
					t.Errorf("the canonical text has problems: %v", problems)
				}
				if diff := sameTree(nodes, again); diff != "" {
					t.Errorf("%q and its canonical text are not the same tree:\n%s", text, diff)
				}
				var counts []int
				if stated != nil {
					counts = stated.Values
				}
				if !slices.Equal(counts, c.Stated) {
					t.Errorf("%q states %v; %v is expected", text, counts, c.Stated)
				}
			}
		})
	}
}

func checkProblems(t *testing.T, c cases.Case, text string, problems []problem.Problem) {
	t.Helper()
	for i, p := range problems {
		at := problem.Locate([]byte(text), p.Start)
		if i >= len(c.Problems) {
			t.Errorf("%q: nothing more is expected, and told is\n%s", text, problem.Caret("row", []byte(text), p))
			continue
		}
		want := c.Problems[i]
		if at.Line != want.Line || at.Col != want.Col || p.Code != want.Code || !strings.HasPrefix(p.Message, want.Message) {
			t.Errorf("%q: %+v is expected, and told is (%s)\n%s", text, want, p.Code, problem.Caret("row", []byte(text), p))
		}
	}
	if len(problems) < len(c.Problems) {
		t.Errorf("%q: %d problems are told, %d are expected", text, len(problems), len(c.Problems))
	}
}

// tally adds up stitches one at a time, the slow and obvious way: what is left
// to take, and what each stitch leaves.
type tally struct{ uses, made int }

func (c *tally) work(nodes []Node, t *testing.T) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			for range c.count(n.Extent, t) {
				c.uses += n.Stitch.Uses
				c.made += len(n.Stitch.Makes) - n.Stitch.Passes
				if n.Stitch.Kind == stitch.Slip {
					c.made++
				}
			}
		case *Repeat:
			for range c.count(n.Extent, t) {
				c.work(n.Body, t)
			}
		case *Into:
			var inside tally
			inside.work(n.Body, t)
			c.uses++
			c.made += inside.made
		case *Cross:
			for _, part := range n.Parts {
				c.work(part.Body, t)
			}
		case *Macro:
			c.work(n.Body, t)
		case *AsLooks:
			c.uses += c.count(n.Extent, t)
			c.made += c.count(n.Extent, t)
		case *Marker, *Yarn, *Bead:
		default:
			t.Fatalf("%T has no fixed count", n)
		}
	}
}

func (c *tally) count(e Extent, t *testing.T) int {
	if e.Reach != Times || len(e.N.Values) != 1 {
		t.Fatalf("%v is no fixed count", e)
	}
	return e.N.Values[0]
}

// The stitches of the fixed rows are counted by hand in the table.
func TestTableCounts(t *testing.T) {
	counted := 0
	for _, c := range table(t) {
		if !c.Fixed {
			continue
		}
		counted++
		t.Run(c.Name, func(t *testing.T) {
			nodes, _, problems := read(c.Canonical, whole(c.Canonical), options(t, c), c.Across)
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			var got tally
			if got.work(nodes, t); got.uses != c.Uses || got.made != c.Makes {
				t.Errorf("%q takes %d and leaves %d; %d and %d are expected", c.Canonical, got.uses, got.made, c.Uses, c.Makes)
			}
			if s := size(nodes); s.uses != got.uses || s.makes < got.made {
				t.Errorf("%q: the size %+v does not hold %+v", c.Canonical, s, got)
			}
		})
	}
	if counted < 60 {
		t.Errorf("only %d rows are counted", counted)
	}
}

// Every code that the parser can give stands in the table or in the tests of
// the row heads and of the counts, and no code is there that it can't give.
func TestEveryCodeIsTested(t *testing.T) {
	tested := map[string]bool{"too-many": true} // TestProblemsHaveALimit
	for _, c := range headProblems {
		tested[c.code] = true
	}
	for _, c := range table(t) {
		for _, p := range c.Problems {
			tested[p.Code] = true
		}
	}
	given := codesInSource(t)
	if len(given) < 25 {
		t.Fatalf("only these codes were found in the source: %v", given)
	}
	for code := range given {
		if !tested[code] {
			t.Errorf("no case gives the problem %q", code)
		}
	}
	for code := range tested {
		if !given[code] {
			t.Errorf("the parser gives no problem %q", code)
		}
	}
}

// codesInSource finds the second argument of every call of fail, headFail and Errorf.
func codesInSource(t *testing.T) map[string]bool {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	codes := map[string]bool{}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := goparser.ParseFile(gotoken.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 3 {
				return true
			}
			name, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || (name.Sel.Name != "fail" && name.Sel.Name != "headFail" && name.Sel.Name != "Errorf") {
				return true
			}
			if text, ok := call.Args[1].(*ast.BasicLit); ok && text.Kind == gotoken.STRING {
				code, err := strconv.Unquote(text.Value)
				if err != nil {
					t.Fatal(err)
				}
				codes[code] = true
			}
			return true
		})
	}
	return codes
}

// Rows are read side by side, on parsers that are used again; a tree that was
// given away never changes.
func TestManyAtOnce(t *testing.T) {
	all := table(t)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var kept [][]Node
			var texts []string
			for _, c := range all {
				if len(c.Problems) > 0 || c.Across || len(c.Abbr) > 0 {
					continue
				}
				in, _ := Parse(c.Spellings[0], whole(c.Spellings[0]), Options{Sizes: c.Sizes})
				kept, texts = append(kept, in.Body), append(texts, c.Canonical)
			}
			for i, nodes := range kept {
				if got := Print(nodes, AllSizes); got != texts[i] {
					t.Errorf("%q has become %q", texts[i], got)
				}
			}
		})
	}
	wg.Wait()
}
