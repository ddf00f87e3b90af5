package samples_test

import (
	"testing"

	"clew/patterns"
	"clew/patterns/samples"
)

func TestOptionalRows(t *testing.T) {
	want := map[string][]patterns.Optional{
		"float-hat":       {{Owner: "Float", Panel: true, From: 9, To: 10, Step: 2}, {Owner: "Float", Panel: true, From: 15, To: 16, Step: 2}, {Owner: "Slack water", From: 1, To: 6, Step: 2}},
		"gull-kerchief":   {{Owner: "Shore", From: 3, To: 6, Step: 2}},
		"boathouse-socks": {{Owner: "Leg", From: 9, To: 16, Step: 4}, {Owner: "Foot", From: 19, To: 24, Step: 2}},
		"mender-mittens":  {{Owner: "Hand", From: 21, To: 26, Step: 2}},
	}
	for _, s := range samples.All() {
		got := read(t, s.Name).Optionals(0)
		if len(got) != len(want[s.Name]) {
			t.Errorf("%s: %d groups of rows may be left out; want %d", s.Name, len(got), len(want[s.Name]))
			continue
		}
		for i, w := range want[s.Name] {
			g := got[i]
			if g.Owner != w.Owner || g.Panel != w.Panel || g.From != w.From || g.To != w.To || g.Step != w.Step {
				t.Errorf("%s: group %d is rows %d to %d of %s by %d; want %d to %d of %s by %d", s.Name, i, g.From, g.To, g.Owner, g.Step, w.From, w.To, w.Owner, w.Step)
			}
		}
	}
}

// Whatever is left out, alone or with the rest, the piece ends on the same
// stitches, and so does every row of the crown.
func TestLeavingOut(t *testing.T) {
	for _, s := range samples.All() {
		p := read(t, s.Name)
		for i, size := range p.Sizes {
			whole := layOut(t, p, patterns.Choice{Size: size})
			for _, choice := range choices(p.Optionals(i)) {
				plan := layOut(t, p, patterns.Choice{Size: size, LeftOut: choice})
				left := 0
				for _, c := range choice {
					left += c.Rows
				}
				if got := len(whole.Rows) - len(plan.Rows); got != left {
					t.Errorf("%s, %s, %v: %d rows are left out; want %d", s.Name, size, choice, got, left)
				}
				sameFromTheEnd(t, whole, plan, choice)
				if s.Name == "float-hat" {
					checkCrown(t, plan, i, size)
				}
			}
		}
	}
}

// choices gives every way to leave rows out: of each group none, a step, two
// steps, and so on.
func choices(groups []patterns.Optional) [][]patterns.LeftOut {
	all := [][]patterns.LeftOut{nil}
	for _, o := range groups {
		for _, c := range all {
			for rows := o.Step; rows <= o.To-o.From+1; rows += o.Step {
				all = append(all, append(append([]patterns.LeftOut{}, c...), patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows}))
			}
		}
	}
	return all
}

// sameFromTheEnd compares the last section, in which nothing is left out but
// in the kerchief, whose last row binds off.
func sameFromTheEnd(t *testing.T, whole, plan *patterns.Plan, choice []patterns.LeftOut) {
	t.Helper()
	last := whole.Rows[len(whole.Rows)-1].Section.Name
	for i := 1; i <= len(plan.Rows); i++ {
		a, b := whole.Rows[len(whole.Rows)-i], plan.Rows[len(plan.Rows)-i]
		if b.Section.Name != last || i > 1 && len(choice) > 0 && choice[0].Owner == last {
			return
		}
		if a.Number != b.Number || a.After.Count() != b.After.Count() || a.Side != b.Side {
			t.Errorf("%s, %v: row %d on the %s leaves %d stitches; want row %d on the %s and %d", plan.Pattern.Title, choice,
				b.Number, b.Side, b.After.Count(), a.Number, a.Side, a.After.Count())
		}
	}
}

func checkCrown(t *testing.T, plan *patterns.Plan, i int, size string) {
	t.Helper()
	for _, want := range counts {
		if want.sample == "float-hat" && want.section == "Crown" {
			checkCount(t, plan, size, want.section, want.rows[i], want.stitches[i])
		}
	}
}
