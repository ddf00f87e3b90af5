package reader_test

import (
	"encoding/json"
	"os"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// handbook is the file of rows out of old knitting books; each names its book.
type handbook struct {
	Examples []struct {
		ID     string `json:"id"`
		Source string `json:"source"`
		Rounds bool   `json:"in_the_round"`
		Rows   []struct {
			Side string `json:"side"`
			Text string `json:"text_modern"`
			Uses int    `json:"consumes"`
		} `json:"rows"`
	} `json:"examples"`
}

// TestHandbookHeard hears every row of the handbooks, each on as many stitches
// as the independent count says that it uses, so that a misprint in the row
// before it is no hindrance.
func TestHandbookHeard(t *testing.T) {
	data, err := os.ReadFile("../patterns/testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book handbook
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	heard, idle := 0, 0
	for _, e := range book.Examples {
		t.Run(e.ID, func(t *testing.T) {
			listeners := pupils()
			for i, r := range e.Rows {
				in, problems := instruction.Parse(r.Text, problem.Span{End: len(r.Text)}, instruction.Options{})
				if len(problems) > 0 {
					t.Fatalf("row %d of %s: %s: %s", i+1, e.Source, r.Text, problems[0].Message)
				}
				side := instruction.RS
				if r.Side == "WS" {
					side = instruction.WS
				}
				before := fabric.CastOn(r.Uses).Begin(e.Rounds, side)
				result := before.Work(in.Body, fabric.Row{Rounds: e.Rounds})
				if result.Problem != nil {
					t.Logf("row %d of %s can't be worked: %s: %s", i+1, e.Source, r.Text, result.Problem.Message)
					idle++
					continue
				}
				heard++
				row := rowOf(before, e.Rounds, 0, result, i+1)
				for _, p := range listeners {
					if wrong := p.learns(row, before); wrong != "" {
						t.Errorf("row %d of %s, on %d stitches: %s", i+1, e.Source, r.Uses, wrong)
					}
				}
			}
		})
	}
	t.Logf("%d rows heard, %d can't be worked", heard, idle)
	if heard == 0 || idle > 0 {
		t.Errorf("%d rows were heard, and %d could not be worked; all of them were expected", heard, idle)
	}
}
