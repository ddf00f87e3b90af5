package fabric_test

import (
	"runtime"
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// greedy rows fit the parser's limits and ask for as much as they can.
var greedy = map[string]string{
	"a repeat of beads":                       "*k1, pb 30; rep from * to end",
	"a repeat that doubles the row":           "*k1, yo; rep from * to end",
	"stitches that triple the row":            "kfbf to end",
	"nothing, many times":                     "[[k0] 99999 times] 99999 times",
	"turns":                                   "[turn] 20000 times",
	"turns that creep on":                     "[k2, turn, p1, turn] to end",
	"turns that stand still":                  "[k1, turn, turn, sl 1, turn, sl 2, turn] 1000 times",
	"markers":                                 "[k1, pm] 2500 times, turn, [k to m, sm] to end",
	"markers that are passed over":            "[sl 1, pm, k1, psso] 2500 times",
	"stitches passed over from far off":       "[sl 1] 2500 times, [k1, psso] 2500 times",
	"no stitch to pass over":                  "k2000, [psso] 3000 times",
	"holders":                                 "[put 1 st on hold] 5000 times",
	"holders that give back":                  "[put 1 st on hold] 2500 times, [return 1 held st] 2500 times",
	"one stitch to and from its holder":       "[put 1 st on hold, return 1 held st] to end",
	"looks, stitch by stitch":                 "[[[[work 1 st as it looks] to end] to end] to end] to end",
	"repeats in repeats that end early":       "[" + strings.Repeat("[k to last 4999 sts] 2 times, ", 1000) + "k1] to end",
	"bobbles":                                 "[(k1, p1, k1, p1) in next st, turn, p4, turn, k4tog] to end",
	"crosses that give stitches back":         "[sl 3 to cn, hold in front, k2, sl 1 from cn back to left needle, p1, k2 from cn] to end",
	"two yarns":                               "[with A, k1, with B, k1] to end",
	"one stitch worked into thousands":        "(k1, [yo, k1] 2499 times) in next st, k to end",
	"repeats of repeats that come to nothing": "[[[k1] to m] to m] to end",
}

// Each of them ends, and is worked or refused: a row takes a bounded number of
// acts, however its repeats are nested, and leaves no more stitches than a row
// may have, unless it is refused.
func TestGreedyRows(t *testing.T) {
	for name, text := range greedy {
		t.Run(name, func(t *testing.T) {
			nodes := parse(t, text)
			for _, rounds := range []bool{false, true} {
				f := fabric.CastOn(instruction.MaxStitches).Begin(rounds, instruction.SideUnsaid)
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				did := f.Work(nodes, fabric.Row{Rounds: rounds})
				runtime.ReadMemStats(&after)
				bytes := after.TotalAlloc - before.TotalAlloc
				if n := did.After.Count(); n > 2*instruction.MaxStitches+5 || n > instruction.MaxStitches && did.Problem == nil {
					t.Errorf("in rounds %v: %d stitches, %v", rounds, n, did.Problem)
				}
				if bytes > 32<<20 {
					t.Errorf("in rounds %v: %d MB were needed", rounds, bytes>>20)
				}
			}
		})
	}
}

func TestTooManyYarns(t *testing.T) {
	f := fabric.CastOn(1)
	for i := range 255 {
		f = worked(t, f, "with A"+strings.Repeat("x", i)+", k1", false)
	}
	did := f.Work(parse(t, "with one more, k1"), fabric.Row{})
	if did.Problem == nil || did.Problem.Code != "too-many-yarns" {
		t.Errorf("the yarn past the last that a stitch can tell apart: %v", did.Problem)
	}
}
