package fit_test

import (
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

// Every number of rows that a sample lets out is one that its designer tried.
func TestSamplesAreProven(t *testing.T) {
	for _, s := range samples.All() {
		p := read(t, s.Text)
		for size := range p.SizeCount() {
			for _, o := range p.Optionals(size) {
				for rows := o.Step; rows <= o.Count(); rows += o.Step {
					b, err := fit.Proven(p, size, o, rows)
					if err != nil || b != nil {
						t.Errorf("%s, size %d: %v, %v", s.Name, size, b, err)
					}
				}
			}
		}
	}
}

// read reads a pattern that has no error. Warnings may be meant.
func read(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) *patterns.Pattern {
	t.Helper()
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("%v\n%s", problems, text)
	}
	return p
}

const inRounds = "Pattern: Tide cap\nWorked: in rounds\nCast on: 12\nGauge: 20 sts and 40 rounds = 10 cm\n"

// What stands in the way of each number of rows, from the smallest on, as a
// knitter who works it by hand finds it; empty where nothing does.
func TestBarriers(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"a two-round texture beside plain rounds", inRounds + `
Panel: Pebble edge, 3 sts
Round 1: p1, k1, p1.
Round 2: p3.
Section: Floats
Across: [Pebble edge, k3] twice
Rounds 1-4: work the panels.
Rounds 5-8 (optional in ones): work the panels.
Section: Top
Round 1: BO all sts.`, []string{
			"leaving out 1 round of Floats: the Pebble edge would end 1 round early",
			"",
			"leaving out 3 rounds of Floats: the Pebble edge would end 1 round early",
			""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, c.text)
			o := p.Optionals(0)[0]
			var got []string
			for rows := o.Step; rows <= o.Count(); rows += o.Step {
				b, err := fit.Proven(p, 0, o, rows)
				if err != nil {
					t.Fatal(err)
				}
				if b == nil {
					got = append(got, "")
				} else {
					got = append(got, b.Error())
				}
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}
