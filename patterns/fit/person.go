package fit

import (
	"slices"
	"strings"
)

// A Body is a part of the body that something is knitted for. Each is measured
// around.
type Body uint8

// The parts.
const (
	Head Body = iota
	Hand      // around the palm, without the thumb
	Foot      // around the ball
)

// String names the part: "head", "hand", "foot".
func (b Body) String() string {
	switch b {
	case Hand:
		return "hand"
	case Foot:
		return "foot"
	}
	return "head"
}

// A Person is what a person of an age measures around, in cm; 0 where the table
// does not say.
type Person struct {
	Name             string // one word, or "premature baby"
	Head, Hand, Foot float64

	inches [3]float64 // by Body, as published
	called []string   // further words that people use
}

// people is the table of standard body measurements. Heads and feet are those
// that the Craft Yarn Council publishes under "Standards and Guidelines for
// Crochet and Knitting" (its head circumference and foot size charts), put down
// from memory in inches and centimetres as they are printed there. Feet are
// those of the shoe sizes (US) 0 to 4, 4 to 8, 10 to 2, 6 to 9 (woman) and 10.5
// to 12 (man). Hands are no more than the common sizes of gloves, of which the
// Council's figures were not at hand: women's medium and men's medium. A measure
// that is not sure enough is left out.
var people = []Person{
	{Name: "premature baby", Head: 30.5, inches: [3]float64{Head: 12}, called: []string{"preemie", "premie", "preterm baby"}},
	{Name: "baby", Head: 35.5, Foot: 11.5, inches: [3]float64{Head: 14, Foot: 4.5}, called: []string{"newborn", "newborn baby", "infant"}},
	{Name: "toddler", Head: 40.5, Foot: 14, inches: [3]float64{Head: 16, Foot: 5.5}, called: []string{"one year old", "two year old", "three year old"}},
	{Name: "child", Head: 45.5, Foot: 16.5, inches: [3]float64{Head: 18, Foot: 6.5},
		called: []string{"kid", "boy", "girl", "little boy", "little girl", "four year old", "five year old", "six year old", "seven year old", "eight year old"}},
	{Name: "woman", Head: 50.5, Hand: 19, Foot: 20.5, inches: [3]float64{Head: 20, Hand: 7.5, Foot: 8},
		called: []string{"lady", "wife", "mother", "mum", "mom", "grandmother", "girlfriend"}},
	{Name: "man", Head: 56, Hand: 21.5, Foot: 23, inches: [3]float64{Head: 22, Hand: 8.5, Foot: 9},
		called: []string{"gentleman", "husband", "father", "dad", "grandfather", "boyfriend"}},
}

// People gives the table of standard measurements, from the smallest on.
func People() []Person { return slices.Clone(people) }

// Around is what a part measures around, in cm as published; 0 where the table
// does not say.
func (p Person) Around(b Body) float64 {
	switch b {
	case Hand:
		return p.Hand
	case Foot:
		return p.Foot
	}
	return p.Head
}

// Inches is the same in inches, as published: a round number, not the
// centimetres divided.
func (p Person) Inches(b Body) float64 {
	if int(b) >= len(p.inches) {
		return p.inches[Head]
	}
	return p.inches[b]
}

var (
	ages = strings.NewReplacer("-", " ", "'s", "", "1", "one", "2", "two", "3", "three", "4", "four", "5", "five", "6", "six", "7", "seven", "8", "eight",
		"years old", "year old", "yr old", "year old", "yrs old", "year old")
	beforePerson = []string{"for", "of", "a", "an", "my", "our", "the", "his", "her", "their", "one", "grown", "adult"}
	manyPersons  = map[string]string{"men": "man", "women": "woman", "children": "child", "babies": "baby", "ladies": "lady"}
)

// PersonNamed finds a person of the table by the plain words that people use, such
// as "for a toddler", "a three-year-old", "my husband", whatever their
// case; false for none.
func PersonNamed(text string) (Person, bool) {
	name := strings.Join(strings.Fields(ages.Replace(plain(text))), " ")
	for {
		if p, found := personCalled(name); found {
			return p, true
		}
		first, rest, more := strings.Cut(name, " ")
		if !more || !slices.Contains(beforePerson, first) {
			return Person{}, false
		}
		name = rest
	}
}

func personCalled(name string) (Person, bool) {
	if one, many := manyPersons[name]; many {
		name = one
	}
	i := slices.IndexFunc(people, func(p Person) bool {
		return p.Name == name || p.Name+"s" == name || slices.Contains(p.called, name) || slices.Contains(p.called, strings.TrimSuffix(name, "s"))
	})
	if i < 0 {
		return Person{}, false
	}
	return people[i], true
}
