package reader_test

import (
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/reader"
)

// Across lines with sizes, and what is said of the columns of each; the panel is two
// purls wide. The rows are as they lie on the needle: one after a panel is between two
// only where another panel comes.
var acrossSized = []struct {
	across     string
	on         [2]int
	small, big string
}{
	{"k0 (2), Rope, k0 (3)", [2]int{2, 7},
		"Panel Rope: purl two.",
		"Knit two. Panel Rope: purl two. After the panel: knit three."},
	{"[k3, Rope] 2 (2) times, k0 (1)", [2]int{10, 11},
		"Two times: knit three. Panel Rope: purl two. That is the group.",
		"Two times: knit three. Panel Rope: purl two. That is the group. Knit one."},
	{"[Rope, k0 (3)] 2 (2) times", [2]int{4, 10},
		"Two times: panel Rope: purl two. That is the group.",
		"Two times: panel Rope: purl two. After the panel: knit three. That is the group."},
	{"Rope, k0 (1), Rope, k1 (0)", [2]int{5, 5},
		"Panel Rope: purl two. Panel Rope: purl two. After the panel: knit one.",
		"Panel Rope: purl two. Between the panels: knit one. Panel Rope: purl two."},
	{"Rope, k3, [Rope] 0 (2) times", [2]int{5, 9},
		"Panel Rope: purl two. After the panel: knit three.",
		"Panel Rope: purl two. Between the panels: knit three. Two times: panel Rope: purl two. That is the group."},
}

// TestColumnsBySize says what is beside panels in each size, where columns and panels
// of one size are not there in the other.
func TestColumnsBySize(t *testing.T) {
	for _, c := range acrossSized {
		body, problems := instruction.ParseAcross(c.across, problem.Span{End: len(c.across)}, instruction.Options{Sizes: 2, Panels: []string{"Rope"}})
		if len(problems) > 0 {
			t.Fatalf("%s: %s", c.across, problems[0].Text())
		}
		written{panels: map[string]string{"Rope": "2: p2"}}.fill(t, body)
		for size, want := range []string{c.small, c.big} {
			before := fabric.CastOn(c.on[size])
			result := before.Work(body, fabric.Row{Rounds: true, Size: size})
			if result.Problem != nil {
				t.Fatalf("%s, size %d: %s", c.across, size, result.Problem.Text())
			}
			row := rowOf(before, true, size, result, 3)
			if said := strings.Join(reader.Say(row, reader.Form{}).Steps, " "); said != want {
				t.Errorf("%s, size %d, is said as\n%s\nexpected:\n%s", c.across, size, said, want)
			}
			heardIn(t, row, before)
		}
	}
}
