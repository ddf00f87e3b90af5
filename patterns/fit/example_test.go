package fit_test

import (
	"fmt"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

func ExampleParseLength() {
	cm, unit, err := fit.ParseLength(`22 ½"`)
	fmt.Println(cm, unit, err)
	_, _, err = fit.ParseLength("57")
	fmt.Println(err)
	// Output:
	// 57.15 in <nil>
	// "57" has no unit: say whether it is centimetres or inches, such as 57 cm or 22.5 in
}

func ExampleFormatLength() {
	fmt.Println(fit.FormatLength(57.15, fit.Centimetres), fit.FormatLength(57.15, fit.Inches))
	// Output: 57.15 cm 22.5 in
}

func ExampleParseGauge() {
	for _, told := range []string{"22x30", "5.5 to the inch", "200 stitches to the centimetre"} {
		fmt.Println(fit.ParseGauge(told))
	}
	// Output:
	// 22 sts and 30 rows = 10 cm <nil>
	// 21.654 sts = 10 cm <nil>
	// 0 sts = 10 cm "200 stitches to the centimetre" comes to 2000 stitches to 10 cm, and hand knitting has 4 to 80: check the number and the unit
}

func ExampleMeasure() {
	plan := laidOut("boathouse-socks", "medium")
	sections, err := fit.Measure(plan, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range sections {
		fmt.Printf("%s: %.1f cm wide, %.1f cm long\n", s.Section.Name, s.Width, s.Long)
	}
	// Output:
	// Cuff: 22.0 cm wide, 4.3 cm long
	// Leg: 22.0 cm wide, 5.7 cm long
	// Heel flap: 11.0 cm wide, 6.1 cm long
	// Heel turn: 10.5 cm wide, 2.9 cm long
	// Gusset: 29.0 cm wide, 6.1 cm long
	// Foot: 22.0 cm wide, 10.0 cm long
	// Toe: 20.0 cm wide, 5.4 cm long
}

func ExampleChooseSize() {
	p := laidOut("float-hat", "").Pattern
	s, err := fit.ChooseSize(p, fit.Head, 53, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, size := range s.Sizes {
		fmt.Printf("%s: %.0f cm, %+.0f cm\n", p.Sizes[size.Size], size.Width, size.Ease)
	}
	fmt.Println(p.Sizes[s.Best], s.Suits)
	_, err = fit.ChooseSize(p, fit.Head, 5, nil)
	fmt.Println(err)
	// Output:
	// small: 45 cm, -8 cm
	// medium: 50 cm, -3 cm
	// large: 55 cm, +2 cm
	// medium true
	// a head of 5 cm is not likely, since it measures 25 to 70 cm around: check the number and its unit, such as 57 cm
}

func ExamplePersonNamed() {
	p, found := fit.PersonNamed("for my three-year-old")
	fmt.Println(p.Name, p.Inches(fit.Head), p.Around(fit.Head), found)
	// Output: toddler 16 40.5 true
}

func ExampleCastOns() {
	p := laidOut("cobble-cowl", "").Pattern
	offers, err := fit.CastOns(p, 0, 70, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range offers {
		fmt.Printf("cast on %d, %d times %d: %.1f cm\n", c.Stitches, c.Times, c.Unit, c.Width)
	}
	// Output:
	// cast on 156, 26 times 6: 70.9 cm
	// cast on 150, 25 times 6: 68.2 cm
}

// laidOut lays a sample out in a size.
func laidOut(name, size string) *patterns.Plan {
	s, _ := samples.Find(name)
	p, _ := patterns.Read([]byte(s.Text))
	plan, err := p.LayOut(patterns.Choice{Size: size})
	if err != nil {
		panic(err)
	}
	return plan
}
