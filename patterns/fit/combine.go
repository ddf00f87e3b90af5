package fit

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"clew/patterns"
)

// An option is one number of rows of one group.
type option struct {
	leave  patterns.LeftOut
	rows   int     // by how many rows the plan changes
	weight float64 // what is to be added up: cm, or rows
	cost   int     // what speaks against taking rows of this group
}

// What speaks against a group: each one that is touched is one more place where
// the work differs from the pattern, and rows of a panel are part of its motif.
const (
	sectionCost = 1
	panelCost   = 3
)

// A combination is one option each of some groups.
type combination struct {
	weight  float64
	rows    int
	cost    int
	option  option
	further *combination // the options of groups before it; nil for the combination of none
}

// leaves gives the choice: what a knitter leaves out already, but where an option
// takes its place.
func (c *combination) leaves(base []patterns.LeftOut) []patterns.LeftOut {
	leave := slices.Clone(base)
	for ; c.further != nil; c = c.further {
		o := c.option.leave
		leave = slices.DeleteFunc(leave, func(l patterns.LeftOut) bool { return l.Owner == o.Owner && l.From == o.From })
		if o.Rows > 0 {
			leave = append(leave, o)
		}
	}
	return leave
}

// Limits of the search for a combination.
const (
	weightSteps = 2_000 // that a target is divided into
	finest      = 0.005 // cm
	keptAbove   = 12
)

// stepTo is how near to each other two lengths are taken for the same, where as
// much as target is added up.
func stepTo(target float64) float64 { return max(finest, target/weightSteps) }

// combinations gives the sums that options of some groups come to, one option a
// group at most, with the cheapest combination for each: all that lie below the
// target, and the first few above it. Sums that fall into the same step are
// taken for one. They come nearest first, of two as near the cheaper. The sum of
// nothing, 0, is one of them.
func combinations(groups [][]option, target, step float64) []*combination {
	sums := map[int]*combination{0: {}}
	for _, options := range groups {
		next := make(map[int]*combination, len(sums))
		keep := func(c *combination) {
			key := int(math.Round(c.weight / step))
			if old := next[key]; old == nil || cmp.Or(cmp.Compare(c.cost, old.cost), order(c, old, target)) < 0 {
				next[key] = c
			}
		}
		for _, key := range slices.Sorted(maps.Keys(sums)) {
			c := sums[key]
			keep(c)
			for _, o := range options {
				keep(&combination{weight: c.weight + o.weight, rows: c.rows + o.rows, cost: c.cost + o.cost, option: o, further: c})
			}
		}
		sums = pruned(next, target)
	}
	var found []*combination
	for _, key := range slices.Sorted(maps.Keys(sums)) {
		found = append(found, sums[key])
	}
	slices.SortStableFunc(found, func(a, b *combination) int { return order(a, b, target) })
	return found
}

// pruned drops sums above the target but the nearest ones: sums only grow.
func pruned(sums map[int]*combination, target float64) map[int]*combination {
	var above []int
	for key, c := range sums {
		if c.weight > target {
			above = append(above, key)
		}
	}
	slices.Sort(above)
	for _, key := range above[min(len(above), keptAbove):] {
		delete(sums, key)
	}
	return sums
}

// order sorts what comes nearer first, then what costs less and takes fewer
// rows. Of two that are alike in all of it the earlier one stays the first.
func order(a, b *combination, target float64) int {
	if d := math.Abs(a.weight-target) - math.Abs(b.weight-target); math.Abs(d) > alikeLengths {
		return cmp.Compare(d, 0)
	}
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.rows, b.rows))
}

// alikeLengths is what two lengths of the same rows may differ by, in cm, for the
// order in which they were added up.
const alikeLengths = 1e-6
