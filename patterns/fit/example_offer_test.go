package fit_test

import (
	"fmt"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

func ExampleShorter() {
	hat, _ := patterns.Read([]byte(samples.First().Text))
	s, err := fit.Shorter(hat, patterns.Choice{Size: "medium"}, 20, 2, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("leave out %s: %.2f cm shorter, %.1f cm in all\n", patterns.FormatLeftOut(s.Best.LeftOut), -s.Best.Change, s.Best.Length)
	fmt.Printf("at most %.2f cm\n", -s.Most.Change)
	// Output:
	// leave out Slack water 1: 6: 1.88 cm shorter, 18.4 cm in all
	// at most 3.12 cm
}

func ExampleLonger() {
	hat, _ := patterns.Read([]byte(samples.First().Text))
	l, err := fit.Longer(hat, patterns.Choice{}, 20, 2, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("work rounds %d to %d of %s %d times more: %.2f cm\n", l.Best.From, l.Best.To, l.Best.Section.Name, l.Best.Times, l.Best.Change)
	// Output: work rounds 5 to 6 of Slack water 3 times more: 1.88 cm
}

func ExampleProven() {
	p, _ := patterns.Read([]byte(`Pattern: Quay cowl
Worked: in rounds
Cast on: 12
Panel: Pebble edge, 3 sts
Round 1: p1, k1, p1.
Round 2: p3.
Section: Floats
Across: [Pebble edge, k3] twice
Rounds 1-3: work the panels.
Rounds 4-5 (optional in ones): work the panels.
Rounds 6-8: work the panels.`))
	for rows := 1; rows <= 2; rows++ {
		barrier, err := fit.Proven(p, 0, p.Optionals(0)[0], rows)
		if err != nil {
			fmt.Println(err)
		} else if barrier != nil {
			fmt.Println(barrier)
		} else {
			fmt.Println("leaving out", rows, "fits")
		}
	}
	// Output:
	// leaving out 1 round of Floats: the Pebble edge would repeat a round
	// leaving out 2 fits
}

func ExampleEstimateYarn() {
	hat, _ := patterns.Read([]byte(samples.First().Text))
	plan, _ := hat.LayOut(patterns.Choice{})
	e, err := fit.EstimateYarn(plan, 45, fit.Weighed{Had: 50, Left: 8, Unit: fit.Grams})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% is done; the rest needs %.1f to %.1f %s\n", 100*e.Share, e.Low, e.High, e.Unit)
	if e.RunsOut >= 0 {
		fmt.Printf("it runs out in round %d of %s\n", plan.Rows[e.RunsOut].Number, plan.Rows[e.RunsOut].Section.Name)
	}
	// Output:
	// 80 % is done; the rest needs 9.4 to 12.1 grams
	// it runs out in round 11 of Crown
}
