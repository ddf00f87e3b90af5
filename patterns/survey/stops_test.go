package survey_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/survey"
)

// passing gives which pairs of columns passed each other in a row, told from the order
// in which its acts take them off one needle and put them on the other; the middle one
// of three strands, which stays where it is, is left out.
func passing(plan *patterns.Plan, i int) (pairs [][2]int32, crosses bool) {
	if i < 0 || i >= len(plan.Rows) {
		return nil, false
	}
	for _, a := range plan.Acts(i) {
		cross, is := a.Node.(*instruction.Cross)
		if !is {
			continue
		}
		crosses = true
		middle := func(at int) bool {
			return cross.Named.Middle > 0 && at >= cross.Slipped[0].N && at < cross.Slipped[0].N+cross.Slipped[1].N
		}
		for first := range a.Uses {
			for second := first + 1; second < len(a.Uses); second++ {
				if slices.Index(a.Makes, a.Uses[second]) < slices.Index(a.Makes, a.Uses[first]) && !middle(first) && !middle(second) {
					pairs = append(pairs, [2]int32{min(a.Uses[first], a.Uses[second]), max(a.Uses[first], a.Uses[second])})
				}
			}
		}
	}
	return pairs, crosses
}

// TestStops says that no stop is inside a crossing pair or a short row, but where rows
// are bound for long; that every other row is one; and that one is never far.
func TestStops(t *testing.T) {
	eachRange(t, func(t *testing.T, plan *patterns.Plan, from, to int) {
		stops := map[int]survey.Weight{}
		for _, s := range survey.Stops(plan, from, to) {
			stops[s.Row] = s.Weight
		}
		since := 0
		for i := from; i < to; i++ {
			last := i+1 == len(plan.Rows)
			before, crossedBefore := passing(plan, i-1)
			_, crossed := passing(plan, i)
			after, crossedAfter := passing(plan, i+1)
			again := crossedBefore && crossedAfter && slices.ContainsFunc(before, func(p [2]int32) bool { return slices.Contains(after, p) })
			bound := !last && (crossed || again) && !(plan.Rows[i+1].First && plan.Rows[i+1].Section.CastOn != nil)
			short := !last && plan.Rows[i].Unworked() > 0
			since++
			weight, is := stops[i]
			switch where := fmt.Sprintf("after row %d of %s", plan.Rows[i].Number, plan.Rows[i].Section.Name); {
			case is && short:
				t.Errorf("a stop %s, in a short row", where)
			case is && bound && since < 4 && from == 0:
				t.Errorf("a stop %s, in a crossing pair", where)
			case !is && !bound && !short:
				t.Errorf("no stop %s, and nothing is against it", where)
			case since > 8 && !is && !short:
				t.Errorf("no stop %s, %d rows after the one before", where, since)
			case is:
				if ends := last || plan.Rows[i+1].Section != plan.Rows[i].Section; ends != (weight == survey.SectionEnd) {
					t.Errorf("the stop %s weighs %d", where, weight)
				}
			}
			if is || short {
				since = 0
			}
		}
	})
}

// TestStopsAmongCrosses says where rows with crosses belong together: all of it common
// practice, no source.
func TestStopsAmongCrosses(t *testing.T) {
	for _, c := range []struct {
		name, rows string
		want       []int // numbers of the rows to stop after
	}{
		{"a cross and the row after it", "Round 1: 2/2 RC, p8.\nRounds 2-4: k4, p8.", []int{2, 3, 4}},
		{"the same cross again", "Rounds 1, 3: 2/2 RC, p8.\nRounds 2, 4: k4, p8.", []int{4}},
		{"its mirror", "Round 1: 2/2 RC, p8.\nRounds 2, 4: k4, p8.\nRound 3: 2/2 LC, p8.", []int{4}},
		{"a narrower one of the same strands", "Round 1: k4, 2/2 RC, k4.\nRounds 2, 4: k to end.\nRound 3: k5, 1/1 LC, k5.", []int{4}},
		{"one half of each strand, which have met", "Round 1: k4, 2/2 RC, k4.\nRounds 2, 4: k to end.\nRound 3: k4, 1/1 LC, 1/1 RC, k4.", []int{2, 4}},
		{"a strand that travels on", "Round 1: p6, 2/1 RPC, p3.\nRounds 2, 4, 6: work sts as they present.\nRound 3: p5, 2/1 RPC, p4.\nRound 5: p4, 2/1 RPC, p5.", []int{2, 4, 6}},
		{"a strand that turns back", "Round 1: p6, 2/1 RPC, p3.\nRounds 2, 4: work sts as they present.\nRound 3: p6, 2/1 LPC, p3.", []int{4}},
		{"two strands that part and go on", "Round 1: p4, 2/2 RC, p4.\nRounds 2, 4: work sts as they present.\nRound 3: p3, 2/1 RPC, 2/1 LPC, p3.", []int{2, 4}},
		{"another cross elsewhere", "Round 1: 2/2 RC, k8.\nRounds 2, 4: k to end.\nRound 3: k8, 2/2 RC.", []int{2, 4}},
		{"two rows between", "Rounds 1, 4: 2/2 RC, p8.\nRounds 2-3, 5: k4, p8.", []int{2, 3, 5}},
		{"a rope for long", "Rounds 1, 3, 5, 7, 9, 11: 2/2 RC, p8.\nRounds 2, 4, 6, 8, 10, 12: k4, p8.", []int{4, 8, 12}},
		{"crosses in every row", "Rounds 1-18: 2/2 RC, p8.\nRound 19: k to end.\nRound 20: k to end.", []int{8, 16, 19, 20}},
		{"crosses in two rows one after the other", "Round 1: 1/1 RC, p10.\nRound 2: p1, 1/1 RC, p9.\nRound 3: k to end.\nRound 4: k to end.", []int{3, 4}},
		{"a cross in the last row", "Round 1: k to end.\nRound 2: 2/2 RC, p8.", []int{1, 2}},
		{"a cross before a section", "Round 1: 2/2 RC, p8.\nSection: More\nRound 2: k to end.", []int{2}},
		{"a cross before a new piece", "Round 1: 2/2 RC, p8.\nSection: Strap\nCast on: 4\nRound 2: k to end.", []int{1, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := layOut(t, "Pattern: Stops (invented)\nWorked: in rounds\nCast on: 12\n\nSection: All\n"+c.rows+"\n", "")
			for from := range plan.Rows {
				var found, want []int
				for _, s := range survey.Stops(plan, from, len(plan.Rows)) {
					found = append(found, plan.Rows[s.Row].Number)
				}
				for _, n := range c.want {
					if n > from {
						want = append(want, n)
					}
				}
				if diff := cmp.Diff(want, found); diff != "" {
					t.Errorf("from row %d on (- expected, + found)\n%s", from+1, diff)
				}
			}
		})
	}
}

// TestStopsOfTheFloats says that the twenty-four rounds of the hat's floats, which cross
// in every second round, can be put down after each plain one.
func TestStopsOfTheFloats(t *testing.T) {
	plan := all(t)["float-hat.txt "]
	first, _ := plan.Find("Floats", 1)
	end, _ := plan.Find("Floats", 24)
	stops := survey.Stops(plan, first, end+1)
	for number := 2; number <= 24; number += 2 {
		if i := first + number - 1; !slices.ContainsFunc(stops, func(s survey.Stop) bool { return s.Row == i && s.Weight >= survey.AfterPlain }) {
			t.Errorf("there is no good stop after round %d of the floats: %v", number, stops)
		}
	}
}
