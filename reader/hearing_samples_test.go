package reader_test

import (
	"os"
	"path/filepath"
	"testing"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/reader"
)

// TestSamplesHeard hears every row of every sample in every size, section by
// section, as a knitter does who works all of it.
func TestSamplesHeard(t *testing.T) {
	files, err := filepath.Glob("../patterns/samples/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples were found: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			pattern, problems := patterns.Read(src)
			if patterns.HasErrors(problems) {
				t.Fatalf("it can't be read: %s", problems[0].Message)
			}
			for _, size := range append([]string{""}, pattern.Sizes...) {
				plan, err := pattern.LayOut(patterns.Choice{Size: size})
				if err != nil {
					t.Fatal(err)
				}
				hearPlan(t, plan)
			}
		})
	}
}

// hearPlan hears the rows of a plan in every form.
func hearPlan(t *testing.T, plan *patterns.Plan) {
	t.Helper()
	listeners := pupils()
	for _, r := range plan.Rows {
		row := reader.Row{Section: r.Section.Name, Number: r.Number, Round: r.Rounds, WrongSide: r.Side == instruction.WS,
			First: r.First, SectionRows: plan.SectionRows(r.Section.Name), Size: plan.Size, Body: r.Body,
			Before: r.Before.Count(), After: r.After.Count(), Unworked: r.Unworked(), Tips: r.Line.Tips}
		for _, p := range listeners {
			if r.First {
				p.newSection()
			}
			if wrong := p.learns(row, r.Before); wrong != "" {
				t.Errorf("%s, row %d: %s", r.Section.Name, r.Number, wrong)
			}
		}
	}
	if listeners[0].rows == 0 {
		t.Errorf("the plan of size %d has no rows", plan.Size)
	}
}
