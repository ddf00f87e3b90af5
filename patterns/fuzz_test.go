package patterns_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"clew/patterns"
)

// seeds gives the texts of all patterns in the tests, and of the samples.
func seeds(t testing.TB) [][]byte {
	t.Helper()
	var out [][]byte
	for _, glob := range []string{"samples/*.txt", "testdata/books/*.txt", "testdata/common/*.txt"} {
		names, err := filepath.Glob(glob)
		if err != nil || len(names) == 0 {
			t.Fatal("no files", glob, err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, src)
		}
	}
	archives, err := filepath.Glob("testdata/told/*.txtar")
	if err != nil || len(archives) == 0 {
		t.Fatal("no archives", err)
	}
	for _, name := range archives {
		archive, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			if strings.HasSuffix(f.Name, ".txt") {
				out = append(out, f.Data)
			}
		}
	}
	return out
}

// FuzzRead reads anything: nothing panics, all that is told lies in the text,
// and what is taken as sound can be laid out.
func FuzzRead(f *testing.F) {
	for _, src := range seeds(f) {
		f.Add(src)
	}
	for _, src := range hostile(200) {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		p, problems := patterns.Read(src)
		checkProblems(t, src, problems)
		caretForm(src, problems)
		checkSound(t, p, !patterns.HasErrors(problems))
	})
}

type failer interface {
	Helper()
	Errorf(string, ...any)
}

// checkSound checks the plans of a pattern in all its sizes: that of a sound
// one has the rows that can be worked, and each row begins on what the one
// before it leaves. One that is not sound can't be laid out.
func checkSound(t failer, p *patterns.Pattern, sound bool) {
	t.Helper()
	for size := range p.SizeCount() {
		choice := patterns.Choice{}
		if len(p.Sizes) > 0 {
			choice.Size = p.Sizes[size]
		}
		workable := p.Workable(size)
		checkChain(t, workable)
		plan, err := p.LayOut(choice)
		if !sound {
			if err == nil {
				t.Errorf("a pattern with errors can be laid out")
			}
			continue
		}
		if err != nil {
			t.Errorf("size %d: %v", size, err)
			continue
		}
		if len(plan.Rows) != len(workable) {
			t.Errorf("size %d: %d rows in the plan, %d workable", size, len(plan.Rows), len(workable))
			continue
		}
		for i, r := range plan.Rows {
			if w := workable[i]; name(w) != name(r) || w.Before.Count() != r.Before.Count() || w.After.Count() != r.After.Count() {
				t.Errorf("size %d, row %d: %v in the plan, %v workable", size, i, name(r), name(w))
			}
			if at, found := plan.Find(r.Section.Name, r.Number); !found || plan.Rows[at] != r {
				t.Errorf("size %d: row %v is not found by its name", size, name(r))
			}
		}
	}
}

func checkChain(t failer, rows []*patterns.Row) {
	t.Helper()
	for i, r := range rows {
		begins := r.First && r.Section.CastOn != nil
		if i > 0 && !begins && r.Before.Count() != rows[i-1].After.Count() {
			t.Errorf("row %v begins on %d stitches, and %v leaves %d", name(r), r.Before.Count(), name(rows[i-1]), rows[i-1].After.Count())
		}
	}
}

// A rowName is what a row is known by.
type rowName struct {
	section string
	number  int
}

func name(r *patterns.Row) rowName { return rowName{r.Section.Name, r.Number} }
