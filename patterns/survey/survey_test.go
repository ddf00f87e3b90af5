package survey_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/survey"
)

func layOut(t testing.TB, text, size string) *patterns.Plan {
	t.Helper()
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("the pattern can't be read: %s\n%s", problems[0].Message, text)
	}
	plan, err := p.LayOut(patterns.Choice{Size: size})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// plans keeps what all gives, which takes longer than any test.
var plans map[string]*patterns.Plan

// all gives the plans of all samples in all sizes, and of all handbook patterns whose
// rows connect.
func all(t testing.TB) map[string]*patterns.Plan {
	t.Helper()
	if plans != nil {
		return plans
	}
	plans = map[string]*patterns.Plan{}
	files, err := filepath.Glob("../samples/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples were found: %v", err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := patterns.Read(src)
		for _, size := range append([]string{""}, p.Sizes...) {
			plans[filepath.Base(file)+" "+size] = layOut(t, string(src), size)
		}
	}
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []struct {
			ID       string `json:"id"`
			Rounds   bool   `json:"in_the_round"`
			CastOn   int    `json:"cast_on"`
			Connects bool   `json:"connects"`
			Rows     []struct {
				Label any    `json:"n"`
				Text  string `json:"text_modern"`
			} `json:"rows"`
		} `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	for _, e := range book.Examples {
		if !e.Connects || e.ID == "W-LEGSHORT" { // whose short rows leave out their turns
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "Pattern: %s\nWorked: in %s\nCast on: %d\n", e.ID, map[bool]string{false: "rows", true: "rounds"}[e.Rounds], e.CastOn)
		number := 1
		for _, r := range e.Rows {
			last := number
			if from, to, ok := strings.Cut(fmt.Sprint(r.Label), "-"); ok {
				a, wrong := strconv.Atoi(from)
				if z, alsoWrong := strconv.Atoi(to); wrong == nil && alsoWrong == nil {
					last = number + z - a
				}
			}
			fmt.Fprintf(&b, "Rows %d-%d: %s.\n", number, last, r.Text)
			number = last + 1
		}
		plans[e.ID] = layOut(t, b.String(), "")
	}
	return plans
}

// eachRange visits the whole of every plan, and some ranges of it.
func eachRange(t *testing.T, visit func(t *testing.T, plan *patterns.Plan, from, to int)) {
	for name, plan := range all(t) {
		t.Run(name, func(t *testing.T) {
			n := len(plan.Rows)
			ranges := [][2]int{{0, n}, {0, n / 2}, {n / 3, n}, {n / 2, n/2 + 1}, {n - 1, n}, {n, n}}
			for i, r := range plan.Rows {
				if i > 0 && r.First && r.Section.CastOn != nil { // a new piece
					ranges = append(ranges, [2]int{i - 1, i}, [2]int{i, i + 1}, [2]int{i, i})
				}
			}
			for _, r := range ranges {
				visit(t, plan, r[0], r[1])
			}
		})
	}
}

// rowsOf gives the indexes of the rows of a part, as its doc says.
func rowsOf(p survey.Part) []int {
	step := 1
	if p.Kind == survey.Every {
		step = 2
	}
	var rows []int
	for i := p.From; i < p.To; i += step {
		rows = append(rows, i)
	}
	return rows
}

// TestPartsHaveEveryRow says that the parts of a survey have every row once, each in one
// section, in the order of their first rows.
func TestPartsHaveEveryRow(t *testing.T) {
	eachRange(t, func(t *testing.T, plan *patterns.Plan, from, to int) {
		seen := map[int]int{}
		last := from - 1
		for _, p := range survey.Of(plan, from, to).Parts {
			if p.From <= last {
				t.Errorf("a part of row %d comes after one of row %d", p.From, last)
			}
			last = p.From
			rows := rowsOf(p)
			if len(rows) != p.Rows() || len(rows) == 0 {
				t.Errorf("%+v has %d rows, and says %d", p, len(rows), p.Rows())
			}
			for _, i := range rows {
				seen[i]++
				if plan.Rows[i].Section != plan.Rows[p.From].Section {
					t.Errorf("%+v goes on in another section", p)
				}
			}
		}
		for i := from; i < to; i++ {
			if seen[i] != 1 {
				t.Errorf("row %d is in %d parts", i, seen[i])
			}
		}
		if len(seen) != to-from {
			t.Errorf("%d rows are in parts, and there are %d", len(seen), to-from)
		}
	})
}

// facesWorked gives the faces that a row's stitches are worked as, seen from the side that
// faces; false where it has anything but knits and purls.
func facesWorked(plan *patterns.Plan, i int) (string, bool) {
	var b strings.Builder
	for _, a := range plan.Acts(i) {
		switch {
		case a.Stitch != nil && !a.TBL && a.Stitch.Abbr == "k", a.Stitch != nil && !a.TBL && a.Stitch.Abbr == "p":
			b.WriteString(a.Stitch.Abbr)
		case a.Node != nil:
			if m, ok := a.Node.(*instruction.Marker); !ok || m.Act != instruction.SlipMarker {
				if y, ok := a.Node.(*instruction.Yarn); !ok || y.Name == "" {
					return "", false
				}
			}
		}
	}
	return b.String(), true
}

// TestPlainPartsArePlain checks the kinds of plain parts against what the acts of their
// rows are, one by one.
func TestPlainPartsArePlain(t *testing.T) {
	eachRange(t, func(t *testing.T, plan *patterns.Plan, from, to int) {
		for _, p := range survey.Of(plan, from, to).Parts {
			kind := p.Kind
			if kind == survey.Every {
				kind = p.Each
			}
			for _, i := range rowsOf(p) {
				r := plan.Rows[i]
				faces, plain := facesWorked(plan, i)
				want := map[survey.Kind]bool{
					survey.Knit: !strings.Contains(faces, "p"), survey.Purl: !strings.Contains(faces, "k"),
					survey.Stocking: !r.Rounds && !strings.Contains(faces, map[instruction.Side]string{instruction.RS: "p", instruction.WS: "k"}[r.Side]),
					survey.AsLooks:  faces == asTheyLook(r),
				}
				if right, isPlain := want[kind]; isPlain && (!plain || !right) {
					t.Errorf("row %d of %s is in %+v and is worked %q", r.Number, r.Section.Name, p, faces)
				}
			}
		}
	})
}

// asTheyLook gives how the stitches before a row look from the side that faces.
func asTheyLook(r *patterns.Row) string {
	var b strings.Builder
	loops := slices.Clone(r.Before.Loops())
	if r.Side == instruction.WS {
		slices.Reverse(loops)
	}
	for _, l := range loops {
		face := l.Face
		if r.Side == instruction.WS {
			face = face.Other()
		}
		b.WriteString([...]string{"k", "p"}[face])
	}
	return b.String()
}

// TestStitches checks the numbers of a survey against the needles.
func TestStitches(t *testing.T) {
	eachRange(t, func(t *testing.T, plan *patterns.Plan, from, to int) {
		s := survey.Of(plan, from, to)
		var sum int64
		for _, r := range plan.Rows[from:to] {
			sum += int64(r.Before.Ahead() - r.Unworked())
		}
		if s.Stitches != sum || s.From != from || s.To != to {
			t.Errorf("rows %d to %d: %+v; %d stitches were expected", from, to, s, sum)
		}
		if from < to && (s.Begin != plan.Rows[from].Before.Count() || s.End != plan.Rows[to-1].After.Count()) {
			t.Errorf("rows %d to %d begin and end with %d and %d", from, to, s.Begin, s.End)
		}
	})
}

// TestNew checks what is new against a list of all that the acts of the rows before
// have done, looked through from the beginning each time.
func TestNew(t *testing.T) {
	var named func(nodes []instruction.Node, size int) []string
	named = func(nodes []instruction.Node, size int) []string {
		var names []string
		for _, n := range nodes {
			switch n := n.(type) {
			case *instruction.Cross:
				names = append(names, instruction.Print([]instruction.Node{n}, size))
			case *instruction.Into:
				names = append(names, named(n.Body, size)...)
			case *instruction.Macro:
				names = append(names, named(n.Body, size)...)
			case *instruction.Work:
				if n.TBL || n.Stitch.Abbr != "k" && n.Stitch.Abbr != "p" {
					names = append(names, fmt.Sprintf("%s %v", n.Stitch.Abbr, n.TBL))
				}
			}
		}
		return names
	}
	worked := func(plan *patterns.Plan, i int) []string {
		var nodes []instruction.Node
		for _, a := range plan.Acts(i) {
			if a.Stitch != nil {
				nodes = append(nodes, &instruction.Work{Stitch: a.Stitch, TBL: a.TBL})
			} else {
				nodes = append(nodes, a.Node)
			}
		}
		return named(nodes, plan.Size)
	}
	eachRange(t, func(t *testing.T, plan *patterns.Plan, from, to int) {
		met := map[string]bool{}
		for i := range from {
			for _, name := range worked(plan, i) {
				met[name] = true
			}
		}
		want := map[string]int{}
		for i := from; i < to; i++ {
			for _, name := range worked(plan, i) {
				if !met[name] {
					met[name] = true
					want[name] = i
				}
			}
		}
		found := map[string]int{}
		for _, n := range survey.Of(plan, from, to).New {
			switch node := n.Node.(type) {
			case *instruction.Cross:
				found[instruction.Print([]instruction.Node{node}, plan.Size)] = n.Row
			case *instruction.Work:
				found[fmt.Sprintf("%s %v", node.Stitch.Abbr, node.TBL)] = n.Row
			}
		}
		if diff := cmp.Diff(want, found); diff != "" {
			t.Errorf("rows %d to %d (- expected, + found)\n%s", from, to, diff)
		}
	})
}
