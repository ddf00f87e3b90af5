package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns"
	"clew/patterns/survey"
)

var kindNames = [...]string{"unusual", "knit", "purl", "stocking", "as looks", "same", "in turn", "again", "every"}

// told writes parts by the numbers of their rows.
func told(plan *patterns.Plan, parts []survey.Part) string {
	var b strings.Builder
	for _, p := range parts {
		fmt.Fprintf(&b, "%d-%d %s", plan.Rows[p.From].Number, plan.Rows[p.To-1].Number, kindNames[p.Kind])
		switch p.Kind {
		case survey.Again:
			fmt.Fprintf(&b, " as %d", plan.Rows[p.As].Number)
		case survey.Every:
			fmt.Fprintf(&b, " %s", kindNames[p.Each])
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestParts(t *testing.T) {
	for _, c := range []struct{ name, worked, castOn, rows, want string }{
		{"plain rounds", "rounds", "8", "Rounds 1-4: k to end.\nRounds 5-6: p to end.", "1-4 knit\n5-6 purl\n"},
		{"garter stitch in rows", "rows", "8", "Rows 1-4: k to end.", "1-4 knit\n"},
		{"stocking stitch in rows", "rows", "8", "Rows 1, 3, 5: k to end.\nRows 2, 4, 6: p to end.", "1-6 stocking\n"},
		{"rib begins, and goes on as it looks", "rounds", "8", "Rounds 1-4: *k2, p2; rep from * to end.", "1-4 same\n"},
		{"as it looks", "rounds", "8", "Round 1: *k2, p2; rep from * to end.\nRounds 2-4: work sts as they present.", "1-4 same\n"},
		{"as it looks after a cross", "rounds", "8", "Round 1: 2/2 RC, p4.\nRounds 2-4: work sts as they present.\nRound 5: 2/2 RC, p4.", "1-1 unusual\n2-4 as looks\n5-5 unusual\n"},
		{"knits that stand as they look", "rounds", "8", "Round 1: k6, k2tog.\nRound 2: work sts as they present.", "1-1 unusual\n2-2 knit\n"},
		{"a decrease three times", "rounds", "8", "Rounds 1-3: k2tog, k to end.", "1-3 same\n"},
		{"a decrease twice", "rounds", "8", "Rounds 1-2: k2tog, k to end.", "1-1 unusual\n2-2 unusual\n"},
		{"two rows in turn", "rounds", "8", "Round 1: k1, yo, k to end.\nRound 2: k to end.\nRounds 3-8: repeat rounds 1-2.", "1-8 in turn\n"},
		{"two rows in turn once", "rounds", "8", "Round 1: k1, yo, k to end.\nRound 2: k to end.", "1-1 unusual\n2-2 knit\n"},
		{"an odd number of rows", "rounds", "8", "Rounds 1, 3, 5: k1, yo, k to end.\nRounds 2, 4: p to end.", "1-4 in turn\n5-5 unusual\n"},
		{"four rows over and over", "rounds", "8", "Round 1: 2/2 RC, p4.\nRounds 2-4: k4, p4.\nRounds 5-16: repeat rounds 1-4.\nRound 17: 2/2 RC, p4.", "1-1 unusual\n2-4 as looks\n5-16 again as 1\n17-17 unusual\n"},
		{"every second row", "rounds", "8", "Round 1: 2/2 RC, p4.\nRound 2 and every even round: k4, p4.\nRound 3: 2/2 LC, p4.\nRound 5: 1/3 LC, p4.\nRound 7: 3/1 LC, p4.",
			"1-1 unusual\n2-8 every as looks\n3-3 unusual\n5-5 unusual\n7-7 unusual\n"},
		{"a yarn is taken up", "rounds", "8", "Round 1: with Red, k to end.\nRounds 2-3: k to end.\nRound 4: with Red, k to end.", "1-1 unusual\n2-4 knit\n"},
		{"a marker is placed", "rounds", "8", "Round 1: k4, pm, k4.\nRound 2: k to m, sm, k to end.\nRound 3: k to m, rm, k to end.", "1-1 unusual\n2-2 knit\n3-3 unusual\n"},
		{"through the back loop", "rounds", "8", "Round 1: k to end tbl.\nRound 2: k to end.", "1-1 unusual\n2-2 knit\n"},
		{"short rows", "rows", "8", "Row 1: k4, turn.\nRow 2: k4.", "1-1 unusual\n2-2 unusual\n"},
		{"a section ends a stretch", "rounds", "8", "Rounds 1-2: k to end.\nSection: More\nRounds 1-2: k to end.", "1-2 knit\n1-2 knit\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := layOut(t, fmt.Sprintf("Pattern: Parts (invented)\nWorked: in %s\nCast on: %s\n\nSection: All\n%s\n", c.worked, c.castOn, strings.ReplaceAll(c.rows, "k to end tbl", "k8 tbl")), "")
			s := survey.Of(plan, 0, len(plan.Rows))
			if diff := cmp.Diff(c.want, told(plan, s.Parts)); diff != "" {
				t.Errorf("(- expected, + found)\n%s", diff)
			}
			first := -1
			for _, p := range s.Parts {
				if p.Kind == survey.Unusual && first < 0 {
					first = p.From
				}
			}
			if s.FirstUnusual != first {
				t.Errorf("the first unusual row is %d, expected %d", s.FirstUnusual, first)
			}
		})
	}
}

// TestBounds says that a survey of what is not there is one of no rows.
func TestBounds(t *testing.T) {
	plan := layOut(t, "Pattern: Bounds (invented)\nWorked: in rounds\nCast on: 8\n\nSection: All\nRounds 1-3: k to end.\n", "")
	for _, c := range []struct{ from, to, wantFrom, wantTo int }{{-5, 2, 0, 2}, {1, 99, 1, 3}, {2, 1, 2, 2}, {99, 100, 3, 3}} {
		s := survey.Of(plan, c.from, c.to)
		if s.From != c.wantFrom || s.To != c.wantTo || s.Begin != 8 || s.End != 8 || s.Stitches != int64(8*(c.wantTo-c.wantFrom)) {
			t.Errorf("of %d to %d it is %+v", c.from, c.to, s)
		}
		if stops := survey.Stops(plan, c.from, c.to); len(stops) != c.wantTo-c.wantFrom {
			t.Errorf("of %d to %d the stops are %v", c.from, c.to, stops)
		}
	}
}

func TestStopsWeigh(t *testing.T) {
	plan := layOut(t, "Pattern: Stops (invented)\nWorked: in rounds\nCast on: 8\n\nSection: All\nRound 1: 2/2 RC, p4.\nRound 2: k4, p4.\nRound 3: 2/2 RC, p4.\nRounds 4-6: k4, p4.\nRound 7: k2tog, k2, p4.\nRound 8: k3, p4.\n\nSection: More\nRound 1: k to end.\n", "")
	want := []survey.Stop{{Row: 3, Weight: survey.AfterPlain}, {Row: 4, Weight: survey.AfterPlain}, {Row: 5, Weight: survey.AfterRun}, {Row: 6, Weight: survey.Possible},
		{Row: 7, Weight: survey.SectionEnd}, {Row: 8, Weight: survey.SectionEnd}}
	if diff := cmp.Diff(want, survey.Stops(plan, 0, len(plan.Rows))); diff != "" {
		t.Errorf("(- expected, + found)\n%s", diff)
	}
}

// TestStopsAfterColors says that a row in one yarn is plain whichever yarn it takes up,
// and one in two is not.
func TestStopsAfterColors(t *testing.T) {
	plan := layOut(t, "Pattern: Colors (invented)\nWorked: in rounds\nCast on: 8\n\nSection: All\nRound 1: with CC, k to end.\nRound 2: with CC, p to end.\nRound 3: with MC, *k1, sl 1 wyib; rep from * to end.\nRound 4: with MC, k4, with CC, k4.\nRound 5: k to end.\n", "")
	want := []survey.Stop{{Row: 0, Weight: survey.AfterPlain}, {Row: 1, Weight: survey.AfterRun}, {Row: 2, Weight: survey.Possible}, {Row: 3, Weight: survey.Possible}, {Row: 4, Weight: survey.SectionEnd}}
	if diff := cmp.Diff(want, survey.Stops(plan, 0, len(plan.Rows))); diff != "" {
		t.Errorf("(- expected, + found)\n%s", diff)
	}
}

// TestCut says that a plan that was cut is surveyed as the rows that it has are in the
// whole one.
func TestCut(t *testing.T) {
	for name, plan := range all(t) {
		for _, n := range []int{1, len(plan.Rows) / 3, len(plan.Rows) / 2, len(plan.Rows) - 1} {
			n = max(1, n)
			cut := plan.UpTo(n)
			if diff := cmp.Diff(survey.Of(plan, 0, n), survey.Of(cut, 0, len(plan.Rows)), cmp.Comparer(func(a, b survey.New) bool { return a == b })); diff != "" {
				t.Errorf("%s cut behind %d rows (- whole, + cut)\n%s", name, n, diff)
			}
			if diff := cmp.Diff(survey.Stops(plan, 0, n), survey.Stops(cut, 0, len(plan.Rows))); diff != "" {
				t.Errorf("the stops of %s cut behind %d rows (- whole, + cut)\n%s", name, n, diff)
			}
		}
	}
}
