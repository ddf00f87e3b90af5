package survey_test

import (
	"testing"

	"clew/patterns/survey"
)

// longest is a pattern of as many rows as one may have, on 120 stitches.
const longest = `Pattern: The Long Pier (invented)
Worked: in rounds
Cast on: 120

Section: Planks
Round 1: *k2, p2; rep from * to end.
Round 2: *2/2 RC, p1, 2/1 LPC, k2; rep from * to end.
Round 3: work sts as they present.
Round 4: *k1, yo, k2tog, [k1, p1] twice, 2/1 RPC; rep from * to end.
Rounds 5-5000: repeat rounds 1-4.
`

func BenchmarkOf(b *testing.B) {
	plan := layOut(b, longest, "")
	for name, from := range map[string]int{"all": 0, "the last ten rows": len(plan.Rows) - 10} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				survey.Of(plan, from, len(plan.Rows))
			}
		})
	}
}

func BenchmarkStops(b *testing.B) {
	plan := layOut(b, longest, "")
	for b.Loop() {
		survey.Stops(plan, 0, len(plan.Rows))
	}
}
