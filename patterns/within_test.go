package patterns_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"clew/patterns"
	"clew/patterns/samples"
)

// endless is a pattern that takes about a minute to prove: as many sizes, rows
// and stitches as a text may have, each row worked as it looks.
func endless() []byte {
	var sizes, counts []string
	for i := range 20 {
		sizes, counts = append(sizes, fmt.Sprintf("s%d", i)), append(counts, "4998")
	}
	return fmt.Appendf(nil, "Pattern: The Long Pier (invented)\nWorked: in rounds\nSizes: %s (%s)\nCast on: %s (%s)\n\nSection: Planks\nRound 1: *k1, p1; rep from * to end.\nRounds 2-4999: work sts as they appear.\n",
		sizes[0], strings.Join(sizes[1:], ", "), counts[0], strings.Join(counts[1:], ", "))
}

func TestReadWithinGivesUp(t *testing.T) {
	for name, limit := range map[string]time.Duration{"at once": 0, "in the middle": 50 * time.Millisecond} {
		t.Run(name, func(t *testing.T) {
			ctx, cancel := context.WithTimeout(t.Context(), limit)
			defer cancel()
			pattern, problems, err := patterns.ReadWithin(ctx, endless())
			if pattern != nil || problems != nil || !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("it gives a pattern: %v, %d problems and %v, expected nothing but that the time is over", pattern != nil, len(problems), err)
			}
		})
	}
}

func TestReadWithinIsRead(t *testing.T) {
	src := []byte(samples.First().Text)
	_, want := patterns.Read(src)
	pattern, problems, err := patterns.ReadWithin(t.Context(), src)
	if err != nil || pattern == nil || len(problems) != len(want) {
		t.Errorf("it gives %d problems and %v, expected those of Read, which are %d", len(problems), err, len(want))
	}
}
