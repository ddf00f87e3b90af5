package fabric_test

import (
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/instruction/cases"
	"clew/patterns/problem"
)

// Every case of the table that has fixed counts comes out on a needle with
// exactly the stitches it uses.
func TestCasesUseAndMake(t *testing.T) {
	all, err := cases.Load("../instruction/testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, c := range all {
		if !c.Fixed || c.Across || len(c.Problems) > 0 {
			continue
		}
		tried++
		t.Run(c.Name, func(t *testing.T) {
			opts := instruction.Options{Sizes: c.Sizes, Abbreviations: &instruction.Abbreviations{}}
			for _, line := range c.Abbr {
				name, text, _ := strings.Cut(line, " = ")
				in, problems := instruction.Parse(text, problem.Span{End: len(text)}, opts)
				if len(problems) > 0 || !opts.Abbreviations.Define(&instruction.Definition{Name: name, Body: in.Body}) {
					t.Fatalf("abbreviation %q: %v", line, problems)
				}
			}
			in, problems := instruction.Parse(c.Canonical, problem.Span{End: len(c.Canonical)}, opts)
			if len(problems) > 0 {
				t.Fatalf("%q: %s", c.Canonical, problems[0].Message)
			}
			for _, rounds := range []bool{false, true} {
				f := fabric.CastOn(c.Uses).Begin(rounds, instruction.SideUnsaid)
				did := f.Work(in.Body, fabric.Row{Rounds: rounds})
				// The markers of an earlier row are not there.
				if did.Problem != nil && did.Problem.Code != "marker-missing" {
					t.Fatalf("%q on %d stitches, in rounds %v: %s", c.Canonical, c.Uses, rounds, did.Problem.Message)
				}
				if did.After.Count() != c.Makes {
					t.Errorf("%q on %d stitches, in rounds %v: %d stitches, want %d", c.Canonical, c.Uses, rounds, did.After.Count(), c.Makes)
				}
			}
		})
	}
	if tried < 40 {
		t.Errorf("only %d cases of the table have fixed counts", tried)
	}
}
