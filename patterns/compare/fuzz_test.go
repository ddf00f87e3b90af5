package compare_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/compare"
)

// FuzzOf compares a text with what becomes of it when something in it is replaced: every
// row of either plan is in both, added or removed, and Carry agrees with that.
func FuzzOf(f *testing.F) {
	f.Add(lanterns, "Round 3: *k2tog, k2;", "Round 3: *k2tog, k4;")
	f.Add(lanterns, "Section: Lanterns", "Section: Lamps")
	f.Add(lanterns, "Rounds 1-2: k to end.\nRound 3", "Round 1: k to end.\nRound 2")
	files, _ := filepath.Glob("../samples/*.txt")
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src), "k2tog", "ssk")
	}
	f.Fuzz(func(t *testing.T, text, from, to string) {
		old, now := smallPlan(text), smallPlan(strings.Replace(text, from, to, 1))
		if old == nil || now == nil || len(old.Rows) == 0 || len(now.Rows) == 0 {
			return
		}
		c := compare.Of(old, now)
		kinds := map[compare.Kind]int{}
		for _, one := range c.Changes {
			kinds[one.Kind]++
		}
		inBoth := map[int]bool{}
		last := -1
		for i := range old.Rows {
			j, kept := c.Carry(i)
			if j < 0 || j >= len(now.Rows) {
				t.Fatalf("row %d is row %d, of %d", i, j, len(now.Rows))
			}
			if kept {
				if j <= last {
					t.Fatalf("row %d is row %d, and one before it is row %d", i, j, last)
				}
				last, inBoth[j] = j, true
			}
		}
		if removed, added := len(old.Rows)-len(inBoth), len(now.Rows)-len(inBoth); kinds[compare.Removed] != removed || kinds[compare.Added] != added {
			t.Fatalf("%d rows are removed and %d are added, and %d and %d are told", removed, added, kinds[compare.Removed], kinds[compare.Added])
		}
		if text == strings.Replace(text, from, to, 1) && c.Changes != nil {
			t.Fatalf("it is not itself: %+v", c.Changes)
		}
	})
}

// smallPlan lays out the first size of a text that is sound and not large; nil for any
// other.
func smallPlan(text string) *patterns.Plan {
	if len(text) > 10_000 {
		return nil
	}
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) || p.MostStitches() > 20_000 {
		return nil
	}
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		return nil
	}
	return plan
}
