package patterns_test

import (
	"slices"
	"testing"

	"clew/patterns"
	"clew/patterns/samples"
)

func TestCycle(t *testing.T) {
	p, _ := patterns.Read([]byte(samples.First().Text))
	for _, c := range []struct {
		panel        string
		rows, period int
	}{{"Pebble edge", 2, 2}, {"Float", 24, 24}, {"Rope", 1, 1}, {"Anchor", 0, 1}} {
		if got := p.Cycle(0, c.panel); len(got.Texts) != c.rows || got.Period != c.period {
			t.Errorf("%s has %d rows and repeats every %d, want %d and %d", c.panel, len(got.Texts), got.Period, c.rows, c.period)
		}
	}
	if texts := p.Cycle(0, "Float").Texts; texts[8] != texts[9] || texts[8] == texts[10] {
		t.Errorf("rows 9 and 10 of the float say the same, and row 11 does not: %q", texts[8:11])
	}
	written, _ := patterns.Read([]byte("Pattern: Moss\nWorked: in rounds\nCast on: 2\nPanel: Moss, 2 sts\nRound 1: k1, p1.\nRound 2: p1, k1.\nRounds 3-8: repeat rounds 1-2.\nSection: All\nAcross: Moss\nRound 1: work the panels."))
	if got := written.Cycle(0, "Moss"); len(got.Texts) != 8 || got.Period != 2 {
		t.Errorf("%+v", got)
	}
}

// A row of the plan says which choices leave it out: those of its own line, and
// those of the panels' rows that it works.
func TestLeftOutBy(t *testing.T) {
	p, _ := patterns.Read([]byte(samples.First().Text))
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		leave []patterns.LeftOut
		want  []string
	}{
		{nil, nil},
		{[]patterns.LeftOut{{Owner: "Slack water", From: 1, Rows: 2}}, []string{"Slack water 5", "Slack water 6"}},
		{[]patterns.LeftOut{{Owner: "Float", From: 9, Rows: 2}, {Owner: "Slack water", From: 1}}, []string{"Floats 9", "Floats 10"}},
		{[]patterns.LeftOut{{Owner: "Float", From: 10, Rows: 2}}, nil}, // no group begins there
	} {
		var got []string
		for _, r := range plan.Rows {
			if r.LeftOutBy(c.leave...) {
				got = append(got, patterns.FormatLeftOut([]patterns.LeftOut{{Owner: r.Section.Name, From: r.Number, Rows: 1}}))
			}
		}
		for i := range got {
			got[i] = got[i][:len(got[i])-len(": 1")]
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v leaves out %v, want %v", c.leave, got, c.want)
		}
	}
}

// The doubts of a plan are those that Read has of the rows that are left: the
// column that stops in round 5 stands for one round alone where 3 and 4 are left
// out, and is not told of.
func TestLayOutWithDoubts(t *testing.T) {
	p, problems := patterns.Read([]byte(`Pattern: Reed
Worked: in rounds
Cast on: 20
Section: All
Round 1: [p3, k1, p6] twice.
Round 2: purl.
Rounds 3-4 (optional in twos): [p3, k1, p6] twice.
Round 5: purl.`))
	if len(problems) != 1 || problems[0].Code != "column-stops" {
		t.Fatalf("%v", problems)
	}
	for rows, want := range map[int]int{0: 1, 2: 0} {
		plan, doubts, err := p.LayOutWithDoubts(patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "All", From: 3, Rows: rows}}})
		if err != nil || len(plan.Rows) != 5-rows || len(doubts) != want {
			t.Errorf("%d rows left out: %d doubts, %v; want %d", rows, len(doubts), err, want)
		}
	}
	if _, _, err := p.LayOutWithDoubts(patterns.Choice{Size: "huge"}); err == nil {
		t.Error("a size that there is not")
	}
}
