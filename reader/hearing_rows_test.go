package reader_test

import (
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/instruction/cases"
	"clew/patterns/problem"
	"clew/patterns/stitch"
	"clew/reader"
)

// Rows written by hand: between them every kind of node and every form of the
// spoken English. Those of the table of instructions follow below.
var rows = []struct {
	name string
	text string
	on   int // stitches
}{
	{"whole row", "k to end", 96},
	{"whole row purl", "p96", 96},
	{"whole row tbl", "k to end tbl", 5},
	{"row of one", "k1", 1},
	{"reach", "k2, p to last 3 sts, k3", 9},
	{"slips", "sl 1, sl 2 pwise wyif, sl 1 kwise wyib, sl 1 tbl", 5},
	{"increases", "k1, yo 2, m1l, m1r 3 times, m1, m1p, kll, krl, byo, kfb, pfb 2, kfbf, k1b", 6},
	{"decreases", "k2tog 2 times, p3tog, ssk, ssk 3 times, sssk, ssp, skp 2, sk2p, s2kp, ksp, k12tog tbl", 44},
	{"decreases to the end", "k1, ssk to end", 9},
	{"passes", "sl 1, k1, psso, sl 2 kwise, k1, p2sso, k2, pass previous st over, k1, pnso", 9},
	{"bobbles", "k1, mb, pop 2 times, k1", 5},
	{"bind off", "BO 3 sts, k5", 8},
	{"bind off all", "BO 8 sts", 8},
	{"bind off in a group", "[k3, BO 2 sts] 2 times", 10},
	{"cast on", "k2, CO 3 sts, pu 2 sts, pup 1 sts", 2},
	{"and so on", "[k1, p1] to last 2 sts, k2", 10},
	{"and so on twice", "[k2, p2] to end", 8},
	{"and so on, as much as a step may ask for", "[sssp, sssp] to last 1 sts, k1", 13},
	{"four items to the end, more than a step may ask for", "[1/1 LPC, CO 1 sts, skp, sssp] to last 4 sts, k4", 18},
	{"counted", "[k2, p2] 6 times, k1", 25},
	{"counted to a place", "[k1, BO 1 sts, k1] to last 1 sts, k1", 10},
	{"once", "[k1, p1] 1 times, k1", 3},
	{"groups three deep", "[[[k1, [p1, k1] 2 times] 2 times, k2] 2 times, k1] 2 times", 50},
	{"groups four deep", "[k1, [k1, [k1, [k1, p1] 2 times] 2 times] 2 times] 2 times", 46},
	{"group of one", "[k2tog] 4 times, [k2] 3 times", 14},
	{"long list", "k1, p1, k2, p2, k3, p3, k4, p4, k5, p5, k6, p6", 42},
	{"into", "(k1, yo, k1) in next st, k1", 2},
	{"into each", "(k1, p1) in each of next 3 sts", 3},
	{"into, many parts", "(k1, [yo, k1] 5 times) in next st, [(k1, [p1, k1] 5 times) in next st] 2 times", 3},
	{"cross", "2/2 RPC, k1, 2/2 RPC, 2/2 LC", 13},
	{"crosses in a group", "[2/1 LPC] 3 times, [RT] 2 times", 13},
	{"cross and so on", "2/2 RC, [2/2 RC, p1] to end", 14},
	{"three strands", "2/1/2 LPC, 1/2/3 RC", 11},
	{"longhand cross", "sl 3 to cn, hold in front, p2, (p1, k2) from cn, k1", 6},
	{"longhand cross like a name", "sl 2 to cn, hold in back, k2, p2 from cn", 4},
	{"longhand cross unsaid", "sl 2 to cn, k2, p2 from cn", 4},
	{"longhand cross on two needles", "sl 1 to cn, hold in front, sl 1 to 2nd cn, hold in back, k1, p1 from 2nd cn, k1 from cn", 3},
	{"longhand cross put back", "sl 3 to cn, hold in back, k2, sl 1 from cn back to left needle, p1, k2 from cn", 5},
	{"cross with an into", "sl 1 to cn, hold in back, k1, ((k1, yo, k1) in next st) from cn", 2},
	{"long cross", "sl 4 to cn, hold in back, (k1, p1, k1, p1, k1), (k1, p1, k1, p1) from cn", 9},
	{"as it looks", "work sts as they present", 12},
	{"as it looks in part", "k2, work 4 sts as they present, opposite", 12},
	{"markers", "k2, pm, k3, pm, k1", 6},
	{"turn", "k5, turn", 9},
	{"turn before the last", "k5, w&t", 6},
	{"turn twice", "k5, turn, p3, turn", 9},
	{"yarns", "with MC, k4, with CC, k2, with CC2, k1, with Old blue 7, k1", 8},
	{"yarns and so on", "[with MC, k1, with CC, k1] to end", 12},
	{"beads", "k1, place bead, k2, [place bead] 2 times, k1", 4},
	{"hold", "k1, put 2 sts on hold, k1", 4},
	{"hold and return", "k1, put 2 sts on hold, return 2 held sts, k3", 4},
}

func TestRowsHeard(t *testing.T) {
	for _, c := range rows {
		t.Run(c.name, func(t *testing.T) {
			for _, rounds := range []bool{true, false} {
				before := fabric.CastOn(c.on)
				result := before.Work(parsed(c.text), fabric.Row{Rounds: rounds})
				if result.Problem != nil {
					t.Fatalf("%s: %s", c.text, result.Problem.Message)
				}
				heardIn(t, rowOf(before, rounds, 0, result, 3), before)
			}
		})
	}
}

// heardIn has a row said in every form, and heard.
func heardIn(t *testing.T, row reader.Row, before fabric.Fabric) {
	t.Helper()
	for _, p := range pupils() {
		if wrong := p.learns(row, before); wrong != "" {
			t.Errorf("on %d stitches: %s", before.Count(), wrong)
		}
	}
}

// A panelRow is panels set side by side, as an Across line does.
type panelRow struct {
	name string
	body []instruction.Node
	on   int
}

func panelRows() []panelRow {
	strip := func(name, text string, width int) instruction.Node {
		return &instruction.Strip{Panel: name, Row: 1, Width: width, Body: parsed(text)}
	}
	group := func(n int, body ...instruction.Node) instruction.Node {
		return &instruction.Repeat{Body: body, Extent: instruction.Extent{N: instruction.N(n)}}
	}
	knit := parsed("k1")[0]
	return []panelRow{
		{"one", []instruction.Node{strip("Seed edge", "k1, p1, k1", 3)}, 3},
		{"side by side", []instruction.Node{strip("Seed edge", "k1, p1, k1", 3), knit, strip("Lantern", "p to last 2 sts, RT", 6), knit}, 11},
		{"in a group", []instruction.Node{group(3, strip("Seed edge", "[k1, p1] to end", 6), knit, strip("Lantern", "p to end", 4)), knit}, 34},
		{"group first", []instruction.Node{strip("Seed edge", "k1", 1), group(2, strip("Lantern", "p2", 2)), group(2, knit, strip("Lantern", "2/1 LPC", 3)), knit}, 14},
		{"at the end", []instruction.Node{knit, strip("Rope", "p2", 2), knit, strip("Rope", "p2", 2), group(2, knit, parsed("p1")[0]), knit}, 11},
		{"at the end of a group", []instruction.Node{group(2, strip("Rope", "p2", 2), knit)}, 6},
		{"at the end of a group, and a panel later", []instruction.Node{group(2, strip("Rope", "p2", 2), knit), knit, strip("Rope", "p2", 2)}, 9},
		{"at the end of groups", []instruction.Node{group(2, group(2, strip("Rope", "p2", 2), knit), knit)}, 14},
		{"in a group worked once", []instruction.Node{knit, strip("Rope", "p2", 2), group(1, strip("Rope", "p2", 2)), knit}, 6},
		{"at the start of a group", []instruction.Node{strip("Rope", "p2", 2), group(2, knit, strip("Rope", "p2", 2))}, 8},
		{"group of columns", []instruction.Node{strip("Seed edge", "k1", 1), group(2, knit, parsed("p1")[0])}, 5},
		{"group inside", []instruction.Node{knit, strip("Rope 2", "[k2tog, yo] 2 times, [BO 1 sts, k1] to last 1 sts, k1", 9), knit}, 11},
	}
}

func TestPanelsHeard(t *testing.T) {
	for _, c := range panelRows() {
		t.Run(c.name, func(t *testing.T) {
			before := fabric.CastOn(c.on)
			result := before.Work(c.body, fabric.Row{Rounds: true})
			if result.Problem != nil {
				t.Fatal(result.Problem.Message)
			}
			heardIn(t, rowOf(before, true, 0, result, 1), before)
		})
	}
}

// TestInstructionTableHeard hears every row of the table of instructions that
// can be worked on some needle: with markers, stitches on hold, or neither.
func TestInstructionTableHeard(t *testing.T) {
	table, err := cases.Load("../patterns/instruction/testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	heard, idle := 0, 0
	for _, c := range table {
		if len(c.Problems) > 0 || c.Across || c.Canonical == "" {
			continue
		}
		in := parsedCase(t, c)
		if forOtherRows(in.Body[0]) {
			continue
		}
		worked := false
		for size := range c.Sizes {
			before, result, ok := somewhere(in.Body, size)
			if !ok {
				continue
			}
			worked = true
			t.Run(c.Name, func(t *testing.T) { heardIn(t, rowOf(before, true, size, result, 2), before) })
		}
		if worked {
			heard++
		} else {
			idle++
			t.Logf("on no needle: %s", c.Canonical)
		}
	}
	t.Logf("%d rows heard, %d are for no needle", heard, idle)
	if heard < 100 || idle*15 > heard {
		t.Errorf("%d rows of the table were heard, and %d were not; a hundred were expected, and fifteen for each that is not", heard, idle)
	}
}

// forOtherRows says that an instruction stands for rows that are said
// elsewhere.
func forOtherRows(n instruction.Node) bool {
	switch n.(type) {
	case *instruction.AsRows, *instruction.RepeatRows, *instruction.Panels:
		return true
	}
	return false
}

func parsedCase(t *testing.T, c cases.Case) *instruction.Instruction {
	own := &instruction.Abbreviations{}
	read := func(text string) *instruction.Instruction {
		in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{Sizes: c.Sizes, Abbreviations: own, MaxNesting: c.MaxNesting})
		if len(problems) > 0 {
			t.Fatalf("%s: %s: %s", c.Name, text, problems[0].Message)
		}
		return in
	}
	for _, line := range c.Abbr {
		name, text, _ := strings.Cut(line, " = ")
		own.Define(&instruction.Definition{Name: name, Body: read(text).Body})
	}
	return read(c.Canonical)
}

// somewhere looks for a needle on which a row can be worked.
func somewhere(body []instruction.Node, size int) (fabric.Fabric, fabric.Result, bool) {
	for n := range 140 {
		plain := fabric.CastOn(n)
		needles := []fabric.Fabric{plain, fabric.CastOn(30).CastOn(10).CastOn(n)}
		for _, setup := range []string{"k to last 4 sts, pm, k4", "pm, k to end", "k to last 2 sts, pm, k2"} {
			needles = append(needles, plain.Work(parsed(setup), fabric.Row{Rounds: true}).After)
		}
		for _, before := range needles {
			if result := before.Work(body, fabric.Row{Rounds: true, Size: size}); result.Problem == nil && len(result.Done) > 0 {
				return before, result, true
			}
		}
	}
	return fabric.Fabric{}, fabric.Result{}, false
}

// TestEveryStitchHeard hears each stitch of the table, once and three times.
func TestEveryStitchHeard(t *testing.T) {
	for _, s := range stitch.All() {
		t.Run(s.Abbr, func(t *testing.T) {
			for _, n := range []int{1, 3} {
				w := &instruction.Work{Stitch: s, Extent: instruction.Extent{N: instruction.N(n)}}
				slipped, plain := parsed("sl 6")[0], parsed("k1")[0]
				before := fabric.CastOn(7 + n*s.Uses)
				result := before.Work([]instruction.Node{slipped, plain, w}, fabric.Row{})
				if result.Problem != nil {
					t.Fatal(result.Problem.Message)
				}
				heardIn(t, rowOf(before, false, 0, result, 1), before)
			}
		})
	}
}
