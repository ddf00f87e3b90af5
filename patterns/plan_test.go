package patterns_test

import (
	"slices"
	"strings"
	"testing"

	"clew/patterns"
)

// An invented pattern whose panel has rows that may be left out.
const lanternCap = `Pattern: Lantern cap
Worked: in rounds
Sizes: small (large)
Cast on: 12 (24)
Panel: Edge, 2 sts
Row 1: k1, p1
Row 2: p1, k1
Panel: Lantern, 8 sts
Row 1: p2, 2/2 RC, p2.
Rows 2-7 (optional in twos): work sts as they present.
Section: Cap
Across: [Edge, Lantern, Edge] 1 (2) times
Rounds 1-14: work the panels.
Section: Top
Rounds 1-3 (optional in ones): knit.
Round 4: purl.
`

func lantern(t *testing.T) *patterns.Pattern {
	t.Helper()
	p, problems := patterns.Read([]byte(lanternCap))
	if len(problems) > 0 {
		t.Fatal(caretForm([]byte(lanternCap), problems))
	}
	return p
}

func TestLeaveOut(t *testing.T) {
	p := lantern(t)
	for _, c := range []struct {
		name string
		left []patterns.LeftOut
		cap  []int // rows of the section Cap that stay
		top  []int
	}{
		{"nothing", nil, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}, []int{1, 2, 3, 4}},
		{"of the panel, from the end of the group", []patterns.LeftOut{{Owner: "Lantern", From: 2, Rows: 4}}, []int{1, 2, 3, 8, 9, 10}, []int{1, 2, 3, 4}},
		{"of the section", []patterns.LeftOut{{Owner: "Top", From: 1, Rows: 3}}, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}, []int{4}},
		{"of both", []patterns.LeftOut{{Owner: "Top", From: 1, Rows: 1}, {Owner: "Lantern", From: 2, Rows: 6}}, []int{1, 8}, []int{1, 2, 4}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan, err := p.LayOut(patterns.Choice{Size: "LARGE", LeftOut: c.left})
			if err != nil {
				t.Fatal(err)
			}
			got := map[string][]int{}
			for _, r := range plan.Rows {
				got[r.Section.Name] = append(got[r.Section.Name], r.Number)
				if r.Before.Count() != 24 {
					t.Errorf("row %d of %s begins on %d stitches, want 24", r.Number, r.Section.Name, r.Before.Count())
				}
			}
			if !slices.Equal(got["Cap"], c.cap) || !slices.Equal(got["Top"], c.top) {
				t.Errorf("rows %v, want Cap %v and Top %v", got, c.cap, c.top)
			}
		})
	}
}

func TestLayOutRefuses(t *testing.T) {
	p := lantern(t)
	for _, c := range []struct {
		name   string
		choice patterns.Choice
		says   string
	}{
		{"a size that does not exist", patterns.Choice{Size: "giant"}, `there is no size "giant"; the sizes are small, large`},
		{"an owner that does not exist", patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Brim", From: 1, Rows: 1}}}, "Brim has no rows from 1 on"},
		{"another first row", patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Lantern", From: 3, Rows: 2}}}, "Lantern has no rows from 3 on"},
		{"half a step", patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Lantern", From: 2, Rows: 3}}}, "2 at a time"},
		{"too many", patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Top", From: 1, Rows: 4}}}, "there are 3 of them"},
		{"fewer than none", patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Top", From: 1, Rows: -1}}}, "there are 3 of them"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if plan, err := p.LayOut(c.choice); err == nil || plan != nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("plan %v, error %v, want one that says %q", plan, err, c.says)
			}
		})
	}
}

func TestFindAndNearest(t *testing.T) {
	plan, err := lantern(t).LayOut(patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Lantern", From: 2, Rows: 4}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		section string
		number  int
		found   bool
		nearest rowName
	}{
		{"Cap", 8, true, rowName{"Cap", 8}},
		{"Cap", 5, false, rowName{"Cap", 3}}, // left out
		{"Cap", 99, false, rowName{"Cap", 10}},
		{"Top", 0, false, rowName{"Top", 1}},
		{"Brim", 2, false, rowName{"Cap", 1}},
	} {
		i, found := plan.Find(c.section, c.number)
		if found != c.found || found && name(plan.Rows[i]) != c.nearest {
			t.Errorf("Find(%s, %d): %d, %v", c.section, c.number, i, found)
		}
		if got := name(plan.Rows[plan.Nearest(c.section, c.number)]); got != c.nearest {
			t.Errorf("Nearest(%s, %d): %v, want %v", c.section, c.number, got, c.nearest)
		}
	}
	if n := plan.SectionRows("Cap"); n != 6 {
		t.Errorf("%d rows in Cap, want 6", n)
	}
	if n := plan.Stitches(); n != 10*12 {
		t.Errorf("%d stitches in all, want %d", n, 10*12)
	}
}

// TestWorkable gives the rows of a pattern with errors, up to the first that
// can't be worked. A row whose stated count is wrong can be.
func TestWorkable(t *testing.T) {
	for _, c := range []struct {
		name, rows string
		last       int
	}{
		{"a row too long", "Round 1: k12\nRound 2: k13\nRound 3: k12\n", 1},
		{"a row that can't be read", "Round 1: k12\nRound 2: k12\nRound 3: kk\nRound 4: k12\n", 2},
		{"a stated count that is wrong", "Round 1: k12\nRound 2: k12 (13 sts)\nRound 3: k12\n", 3},
		{"a row that is missing", "Round 1: k12\nRound 3: k12\n", 1},
		{"a marker that is missing", "Round 1: k12\nRound 2: k to m, sm, k6\n", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, problems := patterns.Read([]byte("Pattern: x\nWorked: in rounds\nCast on: 12\nSection: Cap\n" + c.rows))
			if len(problems) != 1 {
				t.Errorf("%d problems, want one: %v", len(problems), problems)
			}
			rows := p.Workable(0)
			if len(rows) == 0 || rows[len(rows)-1].Number != c.last || len(rows) != c.last {
				t.Errorf("%d rows, want up to row %d", len(rows), c.last)
			}
			checkChain(t, rows)
		})
	}
}
