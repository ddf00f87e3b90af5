package patterns_test

import (
	"fmt"

	"clew/patterns"
	"clew/patterns/problem"
)

// An invented pattern.
const tideCap = `Pattern: Tide cap
Worked: in rounds
Sizes: small (large)
Cast on: 72 (80)

Section: Brim
Rounds 1-4 (optional in twos): [k2, p2] to end.

Section: Crown
Round 1: [k6, k2tog] 9 (10) times. (63 (70) sts)
Round 2: k to end.
`

func ExampleRead() {
	src := []byte("Pattern: Tide cap\nWorked: in rounds\nCast on: 70\n\nSection: Brim\nRounds 1-4: [k2, p2] to end.\nRound 5: ssq, k to end.\n")
	_, problems := patterns.Read(src)
	for _, p := range problems {
		fmt.Println(problem.Line("tide-cap.txt", src, p))
	}
	fmt.Println("errors:", patterns.HasErrors(problems))
	// Output:
	// tide-cap.txt:6:13: error: in round 1, the repeat uses 4 stitches each time, and there are 70 for it: that is 17 times with 2 left over
	// tide-cap.txt:7:10: error: "ssq" is no abbreviation that Clew knows, and the pattern does not define it
	// errors: true
}

func ExamplePattern_LayOut() {
	pattern, problems := patterns.Read([]byte(tideCap))
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	plan, err := pattern.LayOut(patterns.Choice{
		Size:    "large",
		LeftOut: []patterns.LeftOut{{Owner: "Brim", From: 1, Rows: 2}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range plan.Rows {
		fmt.Println(row.Section.Name, row.Number, row.Before.Count(), "to", row.After.Count())
	}
	// Output:
	// Brim 1 80 to 80
	// Brim 2 80 to 80
	// Crown 1 80 to 70
	// Crown 2 70 to 70
}
