package samples_test

import (
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/problem"
	"clew/patterns/samples"
)

func read(t *testing.T, name string) *patterns.Pattern {
	t.Helper()
	s, found := samples.Find(name)
	if !found {
		t.Fatalf("there is no sample %q", name)
	}
	p, problems := patterns.Read([]byte(s.Text))
	for _, told := range problems {
		t.Error(problem.Caret(s.Name, []byte(s.Text), told))
	}
	return p
}

func layOut(t *testing.T, p *patterns.Pattern, choice patterns.Choice) *patterns.Plan {
	t.Helper()
	plan, err := p.LayOut(choice)
	if err != nil {
		t.Fatalf("%s, %+v: %v", p.Title, choice, err)
	}
	return plan
}

func TestSamplesHaveNoProblems(t *testing.T) {
	for _, s := range samples.All() {
		read(t, s.Name)
	}
}

func TestSamplesAreMarkedAsInvented(t *testing.T) {
	for _, s := range samples.All() {
		t.Run(s.Name, func(t *testing.T) {
			p := read(t, s.Name)
			if !strings.Contains(p.By, "Tibberhythe (invented)") {
				t.Errorf("By says %q", p.By)
			}
			if len(p.Notes) == 0 || !strings.Contains(p.Notes[0], "invented") {
				t.Errorf("the first note does not say so: %q", p.Notes)
			}
		})
	}
}

func TestFind(t *testing.T) {
	for _, name := range []string{"float-hat", "Float-Hat", " float-hat.txt "} {
		if s, found := samples.Find(name); !found || s != samples.First() {
			t.Errorf("Find(%q) gives %q, %v", name, s.Name, found)
		}
	}
	if s, found := samples.Find("nothing"); found {
		t.Errorf("Find of no sample gives %q", s.Name)
	}
}

func TestAllGivesACopy(t *testing.T) {
	samples.All()[0].Name = "changed"
	if got := samples.All()[0].Name; got != "float-hat" {
		t.Errorf("the first sample is now %q", got)
	}
}
