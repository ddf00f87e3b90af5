package patterns_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/samples"
)

// columnsOf gives the columns on the needle, in the order in which a side works them.
func columnsOf(f fabric.Fabric, side instruction.Side) []int32 {
	columns := make([]int32, 0, f.Count())
	for _, l := range f.Loops() {
		columns = append(columns, l.Column)
	}
	if side == instruction.WS {
		slices.Reverse(columns)
	}
	return columns
}

// checkActs replays what a row's acts say on a plain list of columns, which
// must come to what the fabric has after the row.
func checkActs(t *testing.T, plan *patterns.Plan, i int) {
	t.Helper()
	r := plan.Rows[i]
	acts := plan.Acts(i)
	side := r.Side
	all := columnsOf(r.Before, side)
	done := len(all) - r.Before.Ahead() // a short row before this one left them there
	left, right := slices.Clone(all[done:]), slices.Clone(all[:done])
	asides, turns := false, false
	for _, a := range acts {
		switch a.Node.(type) {
		case *instruction.Held:
			asides = true
		case *instruction.Turn:
			turns = true
		case *instruction.Work, *instruction.AsLooks:
			if a.Stitch == nil {
				t.Fatalf("%s row %d: an act works no stitch: %+v", r.Section.Name, r.Number, a)
			}
			if want := len(a.Stitch.Makes); a.Stitch.Kind == 0 && (len(a.Makes) != want || len(a.Uses) != a.Stitch.Uses) {
				t.Fatalf("%s row %d: %s uses %d and makes %d, want %d and %d", r.Section.Name, r.Number, a.Stitch.Abbr, len(a.Uses), len(a.Makes), a.Stitch.Uses, want)
			}
		case *instruction.Cross:
			if same := sorted(a.Uses); len(a.Uses) == len(a.Makes) && !slices.Equal(same, sorted(a.Makes)) {
				t.Fatalf("%s row %d: a cross uses %v and makes %v", r.Section.Name, r.Number, a.Uses, a.Makes)
			}
		}
		for _, u := range a.Uses {
			at := slices.Index(left, u)
			if at < 0 && !asides && r.Unworked() == 0 && !turns {
				t.Fatalf("%s row %d: column %d is used and not on the left needle", r.Section.Name, r.Number, u)
			}
			if at >= 0 {
				left = slices.Delete(left, at, at+1)
			}
		}
		for _, p := range a.Passed {
			at := slices.Index(right, p)
			if at < 0 {
				t.Fatalf("%s row %d: column %d is passed over and not on the right needle", r.Section.Name, r.Number, p)
			}
			right = slices.Delete(right, at, at+1)
		}
		right = append(right, a.Makes...)
	}
	if asides { // what comes back from a holder is on no needle before
		return
	}
	if got, want := append(right, left...), columnsOf(r.After, side); !slices.Equal(got, want) && !turns {
		t.Fatalf("%s row %d: the acts come to columns\n%v\nand the fabric has\n%v", r.Section.Name, r.Number, got, want)
	}
}

func sorted(s []int32) []int32 {
	s = slices.Clone(s)
	slices.Sort(s)
	return s
}

// TestActsComeToTheFabric replays the acts of every row of the samples and of
// the handbook's patterns.
func TestActsComeToTheFabric(t *testing.T) {
	texts := map[string]string{}
	for _, s := range samples.All() {
		texts[s.Name] = s.Text
	}
	for _, e := range handbook(t) {
		texts[e.ID] = write(e).text
	}
	rows := 0
	for name, text := range texts {
		pattern, problems := patterns.Read([]byte(text))
		if patterns.HasErrors(problems) {
			continue // misprints
		}
		sizes := append([]string{""}, pattern.Sizes...)
		for _, size := range sizes {
			plan, err := pattern.LayOut(patterns.Choice{Size: size})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for i := range plan.Rows {
				checkActs(t, plan, i)
				rows++
			}
		}
	}
	if rows < 2000 {
		t.Errorf("%d rows were replayed, want 2000 at least", rows)
	}
}

// TestActsOf tells single rows act by act.
func TestActsOf(t *testing.T) {
	const head = "Pattern: P\nWorked: in rows\nCast on: 6\nAbbreviation: MB = (k1, yo, k1) in next st, turn, p3, turn, sk2p\nAbbreviation: pair = k1, p1\n\nSection: S\nRow 1 (RS): "
	for _, c := range []struct{ name, row, want string }{
		{"plain", "k2, p4", "k:1>1 k:1>1 p:1>1 p:1>1 p:1>1 p:1>1"},
		{"lace", "k1, yo, k2tog, k3", "k:1>1 yo:0>1 k2tog:2>1 k:1>1 k:1>1 k:1>1"},
		{"passed over", "sl 1, k1, psso, k4", "sl:1>1 k:1>1 psso:0>0-1 k:1>1 k:1>1 k:1>1 k:1>1"},
		{"passed by itself", "k2, sl 1 kwise, k2, psso, k1", "k:1>1 k:1>1 sl:1>1 k:1>1 k:1>1 psso:0>0-1 k:1>1"},
		{"a cross", "k1, 2/2 RC, k1", "k:1>1 Cross:4>4 k:1>1"},
		{"part of it put back", "k1, sl 3 to cn, hold in back, k1, sl 1 from cn back to left needle, p1, k2 from cn, k1", "k:1>1 Cross:4>4 k:1>1"},
		{"a bobble of her own", "k2, MB, k3", "k:1>1 k:1>1 Macro:1>1 k:1>1 k:1>1 k:1>1"},
		{"her own of plain stitches", "pair 3 times", "k:1>1 p:1>1 k:1>1 p:1>1 k:1>1 p:1>1"},
		{"three into one", "k2, (k1, yo, k1) in next st, k3", "k:1>1 k:1>1 Into:1>3 k:1>1 k:1>1 k:1>1"},
		{"a group tried and taken back", "[k1, yo, k1, k2tog] to last 2 sts, k2", "k:1>1 yo:0>1 k:1>1 k2tog:2>1 k:1>1 k:1>1"},
		{"bound off", "BO 2 sts, k to end", "BO:1>0 BO:1>0 k:1>1 k:1>1 k:1>1 k:1>1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			pattern, problems := patterns.Read([]byte(head + c.row + ".\n"))
			if patterns.HasErrors(problems) {
				t.Fatal(problems)
			}
			plan, err := pattern.LayOut(patterns.Choice{})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, a := range plan.Acts(0) {
				got = append(got, actText(a))
			}
			if told := strings.Join(got, " "); told != c.want {
				t.Errorf("got  %s\nwant %s", told, c.want)
			}
		})
	}
}

func actText(a fabric.Act) string {
	name := strings.TrimPrefix(fmt.Sprintf("%T", a.Node), "*instruction.")
	if a.Stitch != nil {
		name = a.Stitch.Abbr
	}
	text := fmt.Sprintf("%s:%d>%d", name, len(a.Uses), len(a.Makes))
	if len(a.Passed) > 0 {
		text += fmt.Sprintf("-%d", len(a.Passed))
	}
	return text
}

// TestNamed finds sections and panels, and offers the nearest.
func TestNamed(t *testing.T) {
	pattern, _ := patterns.Read([]byte(samples.First().Text))
	for _, c := range []struct{ section, want string }{
		{"crown", "Crown"}, {" Slack Water ", "Slack water"},
		{"Crwn", `there is no section "Crwn"; did you mean Crown? the sections are Brim, Set-up, Floats, Slack water, Crown`},
		{"heel", `there is no section "heel"; the sections are Brim, Set-up, Floats, Slack water, Crown`},
	} {
		s, err := pattern.SectionNamed(c.section)
		got := ""
		if err != nil {
			got = err.Error()
		} else {
			got = s.Name
		}
		if got != c.want {
			t.Errorf("%q: got %s, want %s", c.section, got, c.want)
		}
	}
	if _, err := pattern.PanelNamed("flaot"); err == nil || !strings.Contains(err.Error(), "did you mean Float?") {
		t.Errorf("flaot: %v", err)
	}
}

// TestPanelPlan works each panel of the samples by itself: as wide as it says,
// and with the rows that its section works.
func TestPanelPlan(t *testing.T) {
	panels := 0
	for _, s := range samples.All() {
		pattern, _ := patterns.Read([]byte(s.Text))
		for _, panel := range pattern.Panels {
			for size := range pattern.SizeCount() {
				plan, err := pattern.PanelPlan(size, strings.ToUpper(panel.Name))
				if err != nil {
					t.Fatal(err)
				}
				panels++
				if got, want := plan.Rows[0].Before.Count(), panel.Width.At(size); got != want {
					t.Errorf("%s: %d stitches, want %d", panel.Name, got, want)
				}
				for i := range plan.Rows {
					checkActs(t, plan, i)
				}
				last := plan.Rows[len(plan.Rows)-1]
				if last.After.Count() != panel.Width.At(size) {
					t.Errorf("%s: it ends with %d stitches", panel.Name, last.After.Count())
				}
			}
		}
	}
	if panels == 0 {
		t.Error("no sample has a panel")
	}
}
