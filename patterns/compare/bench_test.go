package compare_test

import (
	"strings"
	"testing"

	"clew/patterns/compare"
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

func BenchmarkRows(b *testing.B) {
	old := layOut(b, longest, "")
	for name, text := range map[string]string{
		"as it was":       longest,
		"every fourth":    strings.Replace(longest, "yo, k2tog", "ssk, yo", 1),
		"another cast-on": strings.Replace(longest, "Cast on: 120", "Cast on: 180", 1),
	} {
		now := layOut(b, text, "")
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				compare.Rows(old, now)
			}
		})
	}
	b.Run("yardstick: laying it out", func(b *testing.B) {
		for b.Loop() {
			layOut(b, longest, "")
		}
	})
}
