package patterns_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/samples"
)

// checkAgain prints every row of a pattern, reads what was printed and works it
// again: it leaves the same stitches.
func checkAgain(t *testing.T, p *patterns.Pattern) {
	t.Helper()
	for size := range p.SizeCount() {
		for _, r := range p.Workable(size) {
			text := instruction.Print(r.Written, size)
			in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{Sizes: p.SizeCount(), Abbreviations: p.Abbreviations})
			if len(problems) > 0 {
				t.Errorf("%s %d: %q: %s", r.Section.Name, r.Number, text, problems[0].Message)
				continue
			}
			did := r.Before.Work(in.Body, fabric.Row{Rounds: r.Rounds, Size: size})
			switch {
			case did.Problem != nil:
				t.Errorf("%s %d: %q worked again: %s", r.Section.Name, r.Number, text, did.Problem.Message)
			case !cmp.Equal(did.After.Loops(), r.After.Loops()) || !cmp.Equal(did.After.Markers(), r.After.Markers()) || did.After.Held() != r.After.Held():
				t.Errorf("%s %d: %q worked again leaves other stitches", r.Section.Name, r.Number, text)
			}
		}
	}
}

func TestPrintedRowsWorkTheSame(t *testing.T) {
	for _, s := range samples.All() {
		t.Run(s.Name, func(t *testing.T) {
			p, problems := patterns.Read([]byte(s.Text))
			if patterns.HasErrors(problems) {
				t.Fatal(problems)
			}
			checkAgain(t, p)
		})
	}
}

// TestPrintedPanelsWorkTheSame prints panels whose rows reach to their end.
func TestPrintedPanelsWorkTheSame(t *testing.T) {
	for i, rows := range []string{
		"Row 1: k2, p to end\nRow 2: work sts as they present\nRow 3: opposite",
		"Row 1: [k1, p1] to end\nRow 2: [k2tog, yo] to last 2 sts, k2\nRow 3: k",
		"Row 1: rest\nRow 2: work sts as they present to last 2 sts, k2tog, yo\nRow 3: *p2, k1; rep from * to end",
	} {
		src := fmt.Sprintf("Pattern: Tide cap\nWorked: in rounds\nCast on: 22\nAbbreviation: rest = k1, p to end\nPanel: Wave, 6 sts\n%s\n"+
			"Section: Cap\nAcross: [Wave, p2] 2 times, Wave\nRounds 1-6: work the panels\n", rows)
		p, problems := patterns.Read([]byte(src))
		if len(problems) > 0 {
			t.Fatalf("%d: %s", i, caretForm([]byte(src), problems))
		}
		if len(p.Workable(0)) != 6 {
			t.Errorf("%d: %d rows", i, len(p.Workable(0)))
		}
		checkAgain(t, p)
	}
}
