package patterns_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

var update = flag.Bool("update", false, "write what comes out into the golden files")

// TestTold reads the patterns in testdata/told and compares what is told of
// each, in caret form. In each archive a file NAME.txt is a pattern, NAME.told
// what is told of it, and NAME.rows, where it stands, the rows that can be
// worked.
func TestTold(t *testing.T) {
	files, err := filepath.Glob("testdata/told/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no archives in testdata/told", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) { told(t, file) })
	}
}

func told(t *testing.T, file string) {
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out []txtar.File
	for i, f := range archive.Files {
		name, isPattern := strings.CutSuffix(f.Name, ".txt")
		if !isPattern {
			continue
		}
		t.Run(name, func(t *testing.T) {
			pattern, problems := patterns.Read(f.Data)
			checkProblems(t, f.Data, problems)
			out = append(out, f, compare(t, archive, name+".told", caretForm(f.Data, problems)))
			if i+2 < len(archive.Files) && archive.Files[i+2].Name == name+".rows" || find(archive, name+".rows") >= 0 {
				out = append(out, compare(t, archive, name+".rows", rowsForm(pattern)))
			}
		})
	}
	if *update {
		archive.Files = out
		if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func find(a *txtar.Archive, name string) int {
	return slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == name })
}

// compare compares what came out with a file of the archive, and gives it as
// it should be.
func compare(t *testing.T, a *txtar.Archive, name, got string) txtar.File {
	t.Helper()
	if *update {
		return txtar.File{Name: name, Data: []byte(got)}
	}
	i := find(a, name)
	if i < 0 {
		t.Fatalf("the archive has no %s", name)
	}
	if diff := cmp.Diff(string(a.Files[i].Data), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
	return a.Files[i]
}

// caretForm gives problems in caret form, each with its code before it.
func caretForm(src []byte, problems []problem.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		fmt.Fprintf(&b, "[%s] %s\n", p.Code, problem.Caret("", src, p))
	}
	return b.String()
}

// rowsForm gives the rows of each size that can be worked, a line each.
func rowsForm(p *patterns.Pattern) string {
	var b strings.Builder
	for size := range p.SizeCount() {
		if len(p.Sizes) > 0 {
			fmt.Fprintf(&b, "%s\n", p.Sizes[size])
		}
		for _, r := range p.Workable(size) {
			fmt.Fprintf(&b, "%s %d %s %d > %d: %s\n", r.Section.Name, r.Number, r.Side, r.Before.Count(), r.After.Count(), instruction.Print(r.Written, size))
		}
	}
	return b.String()
}

// checkProblems checks what holds for all problems: they lie inside the text,
// stand in its order, and are told once.
func checkProblems(t interface {
	Helper()
	Errorf(string, ...any)
}, src []byte, problems []problem.Problem) {
	t.Helper()
	for i, p := range problems {
		if p.Start < 0 || p.End < p.Start || p.End > len(src) {
			t.Errorf("problem outside the text of %d bytes: %+v", len(src), p)
		}
		if i > 0 && p.Start < problems[i-1].Start {
			t.Errorf("problem out of order: %+v after %+v", p, problems[i-1])
		}
		if p.Code == "" || p.Message == "" || strings.HasSuffix(p.Message, ".") {
			t.Errorf("problem without a code, or not worded as one: %+v", p)
		}
	}
}

// TestTen says that each of the patterns with ten different mistakes is told
// of exactly ten, in ten different kinds.
func TestTen(t *testing.T) {
	archive, err := txtar.ParseFile("testdata/told/ten.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files := 0
	for _, f := range archive.Files {
		if !strings.HasSuffix(f.Name, ".txt") {
			continue
		}
		files++
		_, problems := patterns.Read(f.Data)
		kinds := map[string]bool{}
		for _, p := range problems {
			kinds[p.Code] = true
			if p.Severity != problem.Error {
				t.Errorf("%s: a warning among the errors: %v", f.Name, p)
			}
		}
		if len(problems) != 10 || len(kinds) != 10 {
			t.Errorf("%s: %d problems of %d kinds, want ten of ten", f.Name, len(problems), len(kinds))
		}
	}
	if files < 3 {
		t.Errorf("%d patterns, want at least three", files)
	}
}
