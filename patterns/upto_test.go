package patterns_test

import (
	"errors"
	"slices"
	"testing"

	"clew/patterns"
	"clew/patterns/instruction"
)

// cutText has in its second half what its first half has not (invented).
const cutText = `Pattern: Ferry Cowl
Worked: in rounds
Cast on: 24
Yarn: MC, 50 g
Yarn: Grey (for the Nightfall), 10 g
Note: Join without a twist.
Note: Crossings are worked slowly; so are Nightfalls.
Note: Slip, slip, knit with care.
Abbreviation: zw = yo, k2tog
Abbreviation: tipsy = sl 2 to cn, hold in front, p1, k2 from cn
Panel: Ripple, 6 sts
Rounds 1-2: zw 3 times.
Round 3: k6.
Panel: Kelp, 6 sts
Round 1: tipsy, k3.
Round 2: knit.
Section: Quay
Round 1: knit.
Rounds 2-5 (optional in twos): purl.
Section: Shoals
Across: [Ripple] 4 times.
Rounds 1-2: work the panels.
Rounds 3-6 (optional in twos): work the panels.
Section: Nightfall
Across: [Kelp] 4 times.
Rounds 1-2: work the panels.
Round 3: *k10, ssk; rep from * around.
Rounds 4-5 (optional in twos): knit.
`

func cutPlan(t *testing.T) *patterns.Plan {
	t.Helper()
	p, problems := patterns.Read([]byte(cutText))
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// What is cut has what comes up in its rows, and nothing else by name.
func TestUpTo(t *testing.T) {
	whole := cutPlan(t)
	for _, c := range []struct {
		n                              int
		sections, panels, own, offered string
		notes, yarns                   int
		ripple                         int // rows of the panel
	}{
		{-1, "", "", "", "", 1, 1, -1},
		{0, "", "", "", "", 1, 1, -1},
		{3, "Quay", "", "", "", 1, 1, -1},
		{5, "Quay", "", "", "Quay 2", 1, 1, -1},
		{6, "Quay Shoals", "Ripple", "zw", "Quay 2", 1, 1, 1},
		{8, "Quay Shoals", "Ripple", "zw", "Quay 2", 1, 1, 3},
		{11, "Quay Shoals", "Ripple", "zw", "Quay 2 Shoals 3", 1, 1, 3},
		{12, "Quay Shoals Nightfall", "Ripple Kelp", "tipsy zw", "Quay 2 Shoals 3", 2, 2, 3},
		{14, "Quay Shoals Nightfall", "Ripple Kelp", "tipsy zw", "Quay 2 Shoals 3", 3, 2, 3},
		{16, "Quay Shoals Nightfall", "Ripple Kelp", "tipsy zw", "Quay 2 Shoals 3 Nightfall 4", 3, 2, 3},
	} {
		cut := whole.UpTo(c.n)
		if cut.Whole() != whole || len(cut.Rows) != max(0, c.n) || (cut == whole) != (c.n == len(whole.Rows)) {
			t.Fatalf("cut at %d it has %d rows", c.n, len(cut.Rows))
		}
		var sections, panels, offered []string
		for _, s := range cut.Pattern.Sections {
			sections = append(sections, s.Name)
		}
		for _, p := range cut.Pattern.Panels {
			panels = append(panels, p.Name)
		}
		for _, o := range cut.Pattern.Optionals(0) {
			offered = append(offered, patterns.FormatLeftOut([]patterns.LeftOut{{Owner: o.Owner, From: o.From, Rows: 1}}))
		}
		own := cut.Pattern.Abbreviations.Names()
		slices.Sort(own)
		same(t, c.n, "sections", sections, c.sections)
		same(t, c.n, "panels", panels, c.panels)
		same(t, c.n, "abbreviations", own, c.own)
		for i, o := range offered {
			offered[i] = o[:len(o)-len(": 1")]
		}
		same(t, c.n, "groups", offered, c.offered)
		if len(cut.Pattern.Notes) != c.notes || len(cut.Pattern.Yarns) != c.yarns {
			t.Errorf("cut at %d it has the notes %q and the yarns %v", c.n, cut.Pattern.Notes, cut.Pattern.Yarns)
		}
		if cut.SectionRows("Shoals") != 6 || cut.Stitches() != whole.Stitches() {
			t.Errorf("cut at %d Shoals has %d rows, and all %d stitches", c.n, cut.SectionRows("Shoals"), cut.Stitches())
		}
		ripple, err := cut.PanelPlan("Ripple")
		if (err != nil) != (c.ripple < 0) || err == nil && len(ripple.Rows) != c.ripple {
			t.Errorf("cut at %d the panel Ripple is %+v (%v), expected %d rows", c.n, ripple, err, c.ripple)
		}
		for i, r := range whole.Rows {
			if j, ok := cut.Find(r.Section.Name, r.Number); ok != (i < c.n) || ok && j != i {
				t.Errorf("cut at %d, %s %d is found at %d, %t", c.n, r.Section.Name, r.Number, j, ok)
			}
		}
		if _, err := cut.Pattern.LayOut(patterns.Choice{}); cut != whole && !errors.Is(err, patterns.ErrUnsound) {
			t.Errorf("cut at %d it can be laid out: %v", c.n, err)
		}
	}
}

func same(t *testing.T, n int, what string, got []string, want string) {
	t.Helper()
	words := ""
	for i, name := range got {
		if i > 0 {
			words += " "
		}
		words += name
	}
	if words != want {
		t.Errorf("cut at %d its %s are %q, expected %q", n, what, words, want)
	}
}

// A cut of a cut is one of the whole, and the whole is as it was.
func TestUpToLeavesTheWhole(t *testing.T) {
	whole := cutPlan(t)
	again := whole.UpTo(3).UpTo(8)
	if again.Whole() != whole || len(again.Rows) != 8 {
		t.Errorf("a cut of a cut has %d rows", len(again.Rows))
	}
	if len(whole.Pattern.Sections) != 3 || len(whole.Pattern.Panels) != 2 || len(whole.Pattern.Notes) != 3 || len(whole.Pattern.Optionals(0)) != 3 {
		t.Errorf("the whole has become %+v", whole.Pattern)
	}
	if _, err := whole.Pattern.LayOut(patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Nightfall", From: 4, Rows: 2}}}); err != nil {
		t.Error(err)
	}
}

// A pattern that offers less leaves out no more than that.
func TestOffering(t *testing.T) {
	p := cutPlan(t).Pattern.Offering(func(o patterns.Optional) bool { return o.Owner == "Quay" })
	if groups := p.Optionals(0); len(groups) != 1 || groups[0].Owner != "Quay" {
		t.Fatalf("it offers %+v", groups)
	}
	if _, err := p.LayOut(patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Quay", From: 2, Rows: 2}}}); err != nil {
		t.Error(err)
	}
	if _, err := p.LayOut(patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Nightfall", From: 4, Rows: 2}}}); err == nil {
		t.Error("rows are left out that are not offered")
	}
}

func TestEachVisitsWhatIsInside(t *testing.T) {
	stitches := 0
	instruction.Each(cutPlan(t).Rows[5].Body, func(n instruction.Node) {
		if w, ok := n.(*instruction.Work); ok {
			stitches += w.Count
		}
	})
	if stitches == 0 {
		t.Error("no stitch is visited inside panels and abbreviations")
	}
}
