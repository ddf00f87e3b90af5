package bot

import (
	"regexp"
	"testing"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/samples"
	"clew/patterns/stitch"
)

// What a row's effects come to is what the fabric counts, in every row of every
// sample and size, and none stands outside of the row.
func TestEffectsComeToTheCount(t *testing.T) {
	rows := 0
	for _, s := range samples.All() {
		p, _ := patterns.Read([]byte(s.Text))
		for size := range p.SizeCount() {
			for _, r := range p.Workable(size) {
				rows++
				w := &walker{size: size}
				if net := w.walk(r.Body); net != r.After.Count()-r.Before.Count() {
					t.Errorf("%s, row %d of %s: the effects come to %d, the fabric to %d", s.Name, r.Number, r.Section.Name, net, r.After.Count()-r.Before.Count())
				}
				for _, e := range w.effects {
					if e.net == 0 || e.after[0] < 0 || e.after[len(e.after)-1] > w.made {
						t.Errorf("%s, row %d of %s: the effect %+v is outside of a row of %d stitches", s.Name, r.Number, r.Section.Name, *e, w.made)
					}
				}
			}
		}
	}
	if rows < 1000 {
		t.Errorf("only %d rows were looked at", rows)
	}
}

func worked(t *testing.T, row string) fabric.Result {
	t.Helper()
	in, problems := instruction.Parse(row, problem.Span{End: len(row)}, instruction.Options{})
	if len(problems) > 0 {
		t.Fatalf("%q can't be read: %v", row, problems)
	}
	return fabric.CastOn(20).Work(in.Body, fabric.Row{})
}

// Each stitch of the table that changes the count can be missed, and is worked
// twice at times; either is told in a sentence that can be said.
func TestEveryStitchCanSlip(t *testing.T) {
	said := regexp.MustCompile(`^(a yarn over|a backward yarn over|a decrease|an increase|one stitch) (was (missed|worked twice), after stitch two(: [a-z, ]+)?|too (many|few) was [a-z ]+, after stitch two)$`)
	told := 0
	for _, s := range stitch.All() {
		if s.Net() == 0 {
			continue
		}
		name := s.Abbr
		if s.Counted {
			name += " 1"
		}
		row := "k2, " + name + ", k to end"
		did := worked(t, row)
		for _, lead := range []string{"k1, sl 1, k1, ", "k1, sl 2, k1, "} { // it passes something over
			if did.Problem != nil {
				row = lead + name + ", k to end"
				did = worked(t, row)
			}
		}
		if did.Problem != nil {
			t.Errorf("%s can't be worked: %v", s.Abbr, did.Problem)
			continue
		}
		net := did.After.Count() - 20
		for _, off := range []int{net, -net} {
			for _, words := range slips(did.Done, 0, off) {
				told++
				words = regexp.MustCompile(`after stitch (three|four)`).ReplaceAllString(words, "after stitch two")
				if !said.MatchString(words) {
					t.Errorf("%s in %q, %d off: %q", s.Abbr, row, off, words)
				}
			}
			if len(slips(did.Done, 0, off)) != 1 {
				t.Errorf("%s in %q, %d off: found %d slips, expected one", s.Abbr, row, off, len(slips(did.Done, 0, off)))
			}
		}
	}
	if told < 60 {
		t.Errorf("only %d were told", told)
	}
}
