package fit_test

import (
	"math"
	"testing"

	"clew/patterns/fit"
)

// The Craft Yarn Council's head circumferences ("Standards and Guidelines for
// Crochet and Knitting", from memory): premature baby 12 inches, baby 14,
// toddler 16, child 18, woman 20, man 22; its foot circumferences are those of
// shoe sizes.
func TestPeople(t *testing.T) {
	tests := []struct {
		text, name       string
		head, hand, foot float64 // inches
	}{
		{"preemie", "premature baby", 12, 0, 0},
		{"for a newborn", "baby", 14, 0, 4.5},
		{"my baby", "baby", 14, 0, 4.5},
		{"for a toddler", "toddler", 16, 0, 5.5},
		{"Toddlers", "toddler", 16, 0, 5.5},
		{"a three year old", "toddler", 16, 0, 5.5},
		{"3-year-old", "toddler", 16, 0, 5.5},
		{"two years old", "toddler", 16, 0, 5.5},
		{"the child", "child", 18, 0, 6.5},
		{"my children", "child", 18, 0, 6.5},
		{"a five-year-old", "child", 18, 0, 6.5},
		{"a little girl", "child", 18, 0, 6.5},
		{"a woman.", "woman", 20, 7.5, 8},
		{"my wife", "woman", 20, 7.5, 8},
		{"women's", "woman", 20, 7.5, 8},
		{"for my husband", "man", 22, 8.5, 9},
		{"an adult man", "man", 22, 8.5, 9},
		{"MEN", "man", 22, 8.5, 9},
	}
	for _, want := range tests {
		p, found := fit.PersonNamed(want.text)
		if !found || p.Name != want.name || p.Inches(fit.Head) != want.head || p.Inches(fit.Hand) != want.hand || p.Inches(fit.Foot) != want.foot {
			t.Errorf("%q is %s, %t: head %v, hand %v, foot %v inches; want %+v", want.text, p.Name, found, p.Inches(fit.Head), p.Inches(fit.Hand), p.Inches(fit.Foot), want)
		}
	}
	for _, text := range []string{"", "a", "for my", "a dog", "adult", "teenager", "a ten year old", "10 year old", "a head", "manatee", "wo"} {
		if p, found := fit.PersonNamed(text); found {
			t.Errorf("%q is taken for a %s", text, p.Name)
		}
	}
}

// The two columns of the table are the same measure, the centimetres rounded to
// a half as they are printed; they lie in the range of what is asked for, and
// grow from row to row.
func TestPeopleTable(t *testing.T) {
	people := fit.People()
	for i, p := range people {
		for _, b := range []fit.Body{fit.Head, fit.Hand, fit.Foot} {
			cm, inches := p.Around(b), p.Inches(b)
			if (cm == 0) != (inches == 0) || math.Abs(cm-inches*fit.CentimetresPerInch) > 0.35 {
				t.Errorf("a %s's %s is %v cm and %v inches", p.Name, b, cm, inches)
			}
			if i > 0 && cm > 0 && cm <= people[i-1].Around(b) {
				t.Errorf("a %s's %s is no larger than a %s's", p.Name, b, people[i-1].Name)
			}
		}
		if named, found := fit.PersonNamed(p.Name); !found || named.Name != p.Name {
			t.Errorf("a %s is not found by name", p.Name)
		}
	}
	people[0].Name = "changed"
	if fit.People()[0].Name == "changed" {
		t.Error("the table can be changed from outside")
	}
}
