package fabric_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// worked gives the needle after a row that must come out.
func worked(t failer, f fabric.Fabric, text string, rounds bool) fabric.Fabric {
	t.Helper()
	did := f.Work(parse(t, text), fabric.Row{Rounds: rounds})
	if did.Problem != nil {
		t.Fatalf("%q on %d: %s", text, f.Count(), did.Problem.Message)
	}
	return did.After
}

// columnsAndFaces is a needle in letters: the columns from 0, each with k or p.
func columnsAndFaces(f fabric.Fabric) string {
	var b strings.Builder
	for _, l := range f.Loops() {
		fmt.Fprintf(&b, "%d%c ", l.Column, "kp"[l.Face])
	}
	return strings.TrimSpace(b.String())
}

// What a cross does to the order of the stitches. Source: Craft Yarn Council,
// knit cable abbreviations, from memory. 2/1 RPC: sl 1 to cn, hold in back, k2,
// p1 from cn. 2/1 LPC: sl 2 to cn, hold in front, p1, k2 from cn. 2/2 RC: sl 2
// to cn, hold in back, k2, k2 from cn. RT: sl 1 to cn, hold in back, k1, k1
// from cn. 2/1/2 RPC: sl 2 to a first cn and hold in back, sl 1 to a second and
// hold in back, k2, p1 from the second, k2 from the first. C4B, C4F, T3B, T3F:
// common practice, no source.
func TestCouncilsCrosses(t *testing.T) {
	for name, want := range map[string]string{
		"2/1 RPC":   "1k 2k 0p",
		"2/1 LPC":   "2p 0k 1k",
		"1/2 RPC":   "2k 0p 1p",
		"1/2 LPC":   "1p 2p 0k",
		"2/2 RC":    "2k 3k 0k 1k",
		"2/2 LC":    "2k 3k 0k 1k",
		"2/2 RPC":   "2k 3k 0p 1p",
		"2/2 LPC":   "2p 3p 0k 1k",
		"1/1 RC":    "1k 0k",
		"1/1 LPC":   "1p 0k",
		"RT":        "1k 0k",
		"LT":        "1k 0k",
		"3/1 RC":    "1k 2k 3k 0k",
		"3/1 LC":    "3k 0k 1k 2k",
		"2/1/2 RC":  "3k 4k 2k 0k 1k",
		"2/1/2 RPC": "3k 4k 2p 0k 1k",
		"2/1/2 LPC": "3k 4k 2p 0k 1k",
		"C4B":       "2k 3k 0k 1k",
		"C6F":       "3k 4k 5k 0k 1k 2k",
		"T3B":       "1k 2k 0p",
		"T3F":       "2p 0k 1k",
	} {
		t.Run(name, func(t *testing.T) {
			f := worked(t, fabric.CastOn(len(strings.Fields(want))), name, false)
			if got := columnsAndFaces(f); got != want {
				t.Errorf("got %s, want %s", got, want)
			}
			f = worked(t, fabric.CastOn(f.Count()+2), "k1, "+name+", k1", false)
			for i, l := range f.Loops() {
				if inside := i > 0 && i < f.Count()-1; (l.Marks == fabric.Crossed) != inside {
					t.Errorf("stitch %d has the marks %b", i, l.Marks)
				}
			}
		})
	}
}

// Which strand passes in front: the wide one that stays knitted (as above).
func TestFrontStrand(t *testing.T) {
	columns := func(loops []fabric.Loop) (out []int32) {
		for _, l := range loops {
			out = append(out, l.Column)
		}
		return out
	}
	for _, c := range []struct {
		text          string
		n             int
		front, behind []int32
	}{
		{"2/1 RPC", 3, []int32{1, 2}, []int32{0}},
		{"2/1 LPC", 3, []int32{0, 1}, []int32{2}},
		{"1/3 RC", 4, []int32{3}, []int32{0, 1, 2}},
		{"2/1/2 RPC", 5, []int32{3, 4}, []int32{0, 1}},
		{"2/1/2 LC", 5, []int32{0, 1}, []int32{3, 4}},
		{"sl 3 to cn, hold in front, k2, sl 1 from cn back to left needle, p1, k2 from cn", 5, []int32{0, 1, 2}, []int32{3, 4}},
		{"sl 2 to cn, hold in back, (p1, k1), k2 from cn", 4, []int32{2, 3}, []int32{0, 1}},
	} {
		did := fabric.CastOn(c.n).Work(parse(t, c.text), fabric.Row{})
		if did.Problem != nil || len(did.Crossings) != 1 {
			t.Fatalf("%s: %v, %d crossings", c.text, did.Problem, len(did.Crossings))
		}
		x := did.Crossings[0]
		if !slices.Equal(columns(x.Front), c.front) || !slices.Equal(columns(x.Behind), c.behind) {
			t.Errorf("%s: %v in front of %v, want %v in front of %v", c.text, columns(x.Front), columns(x.Behind), c.front, c.behind)
		}
	}
}

// For strands of any width, on either side and in the middle of a row: the
// named cross, the longhand that the Council gives for it, and the exchange of
// its strands are the same.
func TestAnyCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(1, stitch.MaxStrand).Draw(t, "front"), rapid.IntRange(1, stitch.MaxStrand).Draw(t, "back")
		left, purls, ws := rapid.Bool().Draw(t, "left"), rapid.Bool().Draw(t, "purl"), rapid.Bool().Draw(t, "WS")
		before, after := rapid.IntRange(0, 3).Draw(t, "before"), rapid.IntRange(0, 3).Draw(t, "after")
		under, kind := "k", "C"
		if purls {
			under, kind = "p", "PC"
		}
		named := fmt.Sprintf("%d/%d R%s", a, b, kind)
		longhand := fmt.Sprintf("sl %d to cn, hold in back, k%d, %s%d from cn", b, a, under, b)
		first, second := b, a
		if left {
			named = fmt.Sprintf("%d/%d L%s", a, b, kind)
			longhand = fmt.Sprintf("sl %d to cn, hold in front, %s%d, k%d from cn", a, under, b, a)
			first, second = a, b
		}
		side := instruction.RS
		if ws {
			side = instruction.WS
		}
		start := fabric.CastOn(before+a+b+after).Begin(false, side)
		row := fmt.Sprintf("[k1] %d times, %%s, [k1] %d times", before, after)
		short := start.Work(parse(t, fmt.Sprintf(row, named)), fabric.Row{})
		long := start.Work(parse(t, fmt.Sprintf(row, longhand)), fabric.Row{})
		if short.Problem != nil || long.Problem != nil {
			t.Fatalf("%s: %v; %s: %v", named, short.Problem, longhand, long.Problem)
		}
		if !slices.Equal(short.After.Loops(), long.After.Loops()) {
			t.Fatalf("%s gives %s, %s gives %s", named, columnsAndFaces(short.After), longhand, columnsAndFaces(long.After))
		}
		want := make([]int32, 0, start.Count())
		add := func(from, n int) {
			for i := range n {
				want = append(want, int32(from+i))
			}
		}
		add(0, before)
		add(before+first, second)
		add(before, first)
		add(before+first+second, after)
		var got []int32
		for _, l := range short.After.Loops() {
			got = append(got, l.Column)
		}
		if ws { // the same, read from the other edge
			slices.Reverse(got)
			for i, c := range got {
				got[i] = int32(start.Count()) - 1 - c
			}
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%s: columns %v, want %v", named, got, want)
		}
	})
}

// Stitches that increases and decreases use and make. Source: Craft Yarn
// Council, knitting abbreviations master list, from memory.
func TestCouncilsCounts(t *testing.T) {
	for text, counts := range map[string][2]int{
		"k2tog": {2, 1}, "p2tog": {2, 1}, "k3tog": {3, 1}, "ssk": {2, 1}, "ssp": {2, 1}, "sssk": {3, 1}, "skp": {2, 1}, "sk2p": {3, 1}, "s2kp": {3, 1},
		"sl 1, k1, psso": {2, 1}, "sl 1, k2tog, psso": {3, 1}, "sl 2 kwise, k1, p2sso": {3, 1}, "k1, pnso": {2, 1},
		"yo": {0, 1}, "yo twice": {0, 2}, "m1": {0, 1}, "m1l": {0, 1}, "m1r": {0, 1}, "m1p": {0, 1}, "kfb": {1, 2}, "pfb": {1, 2},
		"k1 tbl": {1, 1}, "sl 1": {1, 1}, "mb": {1, 1}, "BO 3": {3, 0}, "CO 3": {0, 3}, "pick up and knit 3": {0, 3}, "(k1, yo, k1) in next st": {1, 3},
	} {
		if f := worked(t, fabric.CastOn(counts[0]), text, false); f.Count() != counts[1] {
			t.Errorf("%s on %d: %d stitches, want %d", text, counts[0], f.Count(), counts[1])
		}
	}
}

// Feather and fan: the repeat takes 18 stitches and leaves 18. Common
// practice, no source.
func TestFeatherAndFan(t *testing.T) {
	for repeats := range 7 {
		f := fabric.CastOn(18 * repeats)
		for range 3 {
			for _, row := range []string{"k to end", "p to end", "*k2tog 3 times, [yo, k1] 6 times, k2tog 3 times; rep from * to end", "k to end"} {
				if f = worked(t, f, row, false); f.Count() != 18*repeats {
					t.Fatalf("%d repeats: %d stitches after %q, want %d", repeats, f.Count(), row, 18*repeats)
				}
			}
		}
	}
	did := fabric.CastOn(20).Work(parse(t, "*k2tog 3 times, [yo, k1] 6 times, k2tog 3 times; rep from * to end"), fabric.Row{})
	if want := "the repeat uses 18 stitches each time, and there are 20 for it: that is once with 2 left over"; did.Problem == nil || did.Problem.Message != want {
		t.Errorf("on 20 stitches: %v, want %q", did.Problem, want)
	}
}

// A crown of eight gores: every other round takes one stitch out of each, and
// so eight of the round. Common practice, no source.
func TestEightGoreCrown(t *testing.T) {
	f := fabric.CastOn(96).Begin(true, instruction.SideUnsaid)
	for k := 10; k >= 0; k-- {
		f = worked(t, f, fmt.Sprintf("*[k1] %d times, k2tog; rep from * around", k), true)
		if want := 8 * (k + 1); f.Count() != want {
			t.Fatalf("after k%d, k2tog: %d stitches, want %d", k, f.Count(), want)
		}
		f = worked(t, f, "k", true)
	}
	if f.Count() != 8 {
		t.Errorf("%d stitches are left to gather, want 8", f.Count())
	}
}

// A heel turned by short rows on 20 stitches: k12, ssk, k1, turn; sl 1, p5,
// p2tog, p1, turn; then one more each time, until the last has no stitch left
// to work after its decrease, leaves 12. Common practice, no source.
func TestHeelTurn(t *testing.T) {
	f := worked(t, fabric.CastOn(20), "k12, ssk, k1, turn", false)
	f = worked(t, f, "sl 1, p5, p2tog, p1, turn", false)
	for n := 6; n <= 8; n += 2 {
		f = worked(t, f, fmt.Sprintf("sl 1, k%d, ssk, k1, turn", n), false)
		f = worked(t, f, fmt.Sprintf("sl 1, p%d, p2tog, p1, turn", n+1), false)
	}
	f = worked(t, f, "sl 1, k10, ssk, turn", false)
	f = worked(t, f, "sl 1, p10, p2tog, turn", false)
	if f.Count() != 12 || f.Ahead() != 12 || f.Side() != instruction.RS {
		t.Errorf("%d stitches, %d ahead on the %s, want 12, all ahead on the RS", f.Count(), f.Ahead(), f.Side())
	}
}
