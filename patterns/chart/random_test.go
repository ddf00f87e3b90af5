package chart_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/chart"
)

// A random part of a row: what it takes off the needle and puts on it.
type randomPart struct {
	text        string
	uses, makes int
}

var randomParts = []randomPart{
	{"k1", 1, 1}, {"p1", 1, 1}, {"k1", 1, 1}, {"p1", 1, 1}, {"k1 tbl", 1, 1}, {"sl 1 wyif", 1, 1},
	{"yo", 0, 1}, {"m1l", 0, 1}, {"k2tog", 2, 1}, {"ssk", 2, 1}, {"p2tog", 2, 1}, {"s2kp", 3, 1}, {"kfb", 1, 2},
	{"(k1, yo, k1) in next st", 1, 3}, {"sl 1, k1, psso", 2, 1}, {"sl 1, k2, psso", 3, 2}, {"k1, pnso", 2, 1},
	{"2/1 RPC", 3, 3}, {"2/2 LC", 4, 4}, {"2/1/2 RC", 5, 5}, {"BO 1", 1, 0}, {"CO 2", 0, 2},
	{"sl 1 to cn, hold in back, k2, p1 from cn", 3, 3}, {"sl 2 to cn, hold in front, k2tog, k2 from cn", 4, 3},
}

// randomPattern draws a small pattern that can be worked, short rows among its
// rows where it is flat.
func randomPattern(t *rapid.T) string {
	var b strings.Builder
	rounds := rapid.Bool().Draw(t, "rounds")
	count := rapid.IntRange(4, 16).Draw(t, "cast on")
	word, worked := "Row", "in rows"
	if rounds {
		word, worked = "Round", "in rounds"
	}
	fmt.Fprintf(&b, "Pattern: Random\nWorked: %s\nCast on: %d\n\nSection: All\n", worked, count)
	behind := 0 // stitches that a short row left, which the next row ends with
	rows := rapid.IntRange(1, 8).Draw(t, "rows")
	for row := 1; row <= rows && count > behind; row++ {
		var parts []string
		ahead, made := count-behind, 0
		stop := 0
		if !rounds && rapid.IntRange(0, 5).Draw(t, "short") == 0 && ahead > 2 {
			stop = rapid.IntRange(1, ahead-1).Draw(t, "left")
		}
		for ahead > stop {
			p := rapid.SampledFrom(randomParts).Draw(t, "part")
			if p.uses > ahead-stop || made+p.makes > 24 {
				p = randomParts[0]
			}
			ahead, made = ahead-p.uses, made+p.makes
			parts = append(parts, p.text)
		}
		if stop > 0 {
			parts = append(parts, "turn")
		}
		fmt.Fprintf(&b, "%s %d: %s.\n", word, row, strings.Join(parts, ", "))
		count, behind = behind+made+stop, stop
	}
	return b.String()
}

// TestRandomCharts compares charts of random patterns with the fabric.
func TestRandomCharts(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := randomPattern(r)
		p, problems := patterns.Read([]byte(text))
		plan, err := p.LayOut(patterns.Choice{})
		if err != nil {
			r.Fatalf("%v %v\n%s", err, problems, text)
		}
		v := chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: rapid.IntRange(-1, len(plan.Rows)-1).Draw(r, "here")}
		compare(r, v)
		if r.Failed() {
			r.Log(text)
		}
	})
}
