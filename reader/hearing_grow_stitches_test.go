package reader_test

import (
	"fmt"

	"clew/patterns/instruction"
)

// counted grows a stitch that a number belongs to.
func (g *grower) counted(n int) (instruction.Node, int) {
	used := g.upTo(min(n, 15), "stitches")
	if g.chance(12, "on hold") {
		return &instruction.Held{N: g.number(used)}, used
	}
	w := &instruction.Work{Stitch: find(g.pick("k", "p", "k", "p", "sl", "BO", "CO", "pu", "pup")), Extent: g.times(used)}
	switch w.Stitch.Abbr {
	case "k", "p":
		w.TBL = g.chance(3, "tbl")
	case "sl":
		w.TBL = g.chance(6, "tbl")
		w.Manner = []instruction.Manner{0, instruction.Purlwise, instruction.Knitwise}[g.upTo(3, "slipped how")-1] |
			[]instruction.Manner{0, instruction.YarnFront, instruction.YarnBack}[g.upTo(3, "yarn where")-1]
	case "CO", "pu", "pup":
		return w, 0
	}
	return w, used
}

// stitch grows a stitch that a number repeats, as often as it fits.
func (g *grower) stitch(n int) (instruction.Node, int) {
	w := &instruction.Work{Stitch: find(g.pick("yo", "byo", "m1", "m1l", "m1r", "m1p", "m1lp", "m1rp", "kll", "krl",
		"kfb", "pfb", "kfbf", "k1b", "mb", "pop",
		"k2tog", "p2tog", "ssk", "ssp", "skp", "ksp", "k3tog", "p3tog", "sssk", "sssp", "sk2p", "s2kp", "k5tog", "k12tog"))}
	most := 3
	if w.Stitch.Uses > 0 {
		most = min(4, n/w.Stitch.Uses)
	}
	if most == 0 {
		return g.plain(1), 1
	}
	count := g.upTo(most, "times")
	w.Extent = g.times(count)
	switch w.Stitch.Abbr {
	case "k2tog", "p2tog", "k3tog", "ssk", "k1b":
		w.TBL = g.chance(4, "tbl")
	}
	return w, count * w.Stitch.Uses
}

// passes grows a decrease that is written out.
func (g *grower) passes(n int) ([]instruction.Node, int) {
	for _, d := range []struct {
		text string
		uses int
	}{
		{g.pick("sl 2 kwise, k1, p2sso", "sl 1, k2tog, psso", "sl 2, k1, psso 2 times"), 3},
		{g.pick("sl 1, k1, psso", "k2, pass previous st over", "k1, pnso"), 2},
	} {
		if d.uses <= n && g.chance(2, "this one") {
			return parsed(d.text), d.uses
		}
	}
	return []instruction.Node{g.plain(1)}, 1
}

// cross grows a cross of the table, or one that is written out.
func (g *grower) cross(n int) (instruction.Node, int) {
	if n < 2 {
		return g.plain(1), 1
	}
	if g.chance(2, "longhand") {
		return g.longhand(n)
	}
	front := g.upTo(min(n-1, 4), "front")
	back := g.upTo(min(n-front, 4), "back")
	middle := 0
	if n-front-back > 0 && g.chance(3, "three strands") {
		middle = g.upTo(min(n-front-back, 4), "middle")
	}
	name := fmt.Sprintf("%d/%d %s", front, back, g.pick("RC", "LC", "RPC", "LPC"))
	if middle > 0 {
		name = fmt.Sprintf("%d/%d/%d %s", front, middle, back, g.pick("RC", "LC", "RPC", "LPC"))
	}
	if front+middle+back == 2 && g.chance(2, "twist") {
		name = g.pick("RT", "LT")
	}
	return parsed(name)[0], front + middle + back
}

// longhand grows a cross that is written out: strands on one cable needle or
// two, worked in parts, at times with a few stitches put back.
func (g *grower) longhand(n int) (instruction.Node, int) {
	first := g.upTo(min(n-1, 5), "on the cable needle")
	rest := n - first
	text := fmt.Sprintf("sl %d to cn%s", first, g.pick("", ", hold in back", ", hold in front"))
	second := 0
	if rest > 1 && g.chance(3, "second cable needle") {
		second = g.upTo(min(rest-1, 3), "on the second cable needle")
		text += fmt.Sprintf(", sl %d to 2nd cn%s", second, g.pick("", ", hold in back", ", hold in front"))
		rest -= second
	}
	left := g.upTo(min(rest, 5), "from the left needle")
	text += ", " + g.part(left)
	if second > 0 {
		text += ", " + g.part(second) + " from 2nd cn"
	}
	waiting := first
	if waiting > 1 && second == 0 && g.chance(4, "put back") {
		text += ", sl 1 from cn back to left needle, " + g.pick("p1", "k1")
		waiting--
	}
	text += ", " + g.part(waiting) + " from cn"
	if g.chance(3, "like one of the table") {
		hold := g.pick("back", "front")
		text = fmt.Sprintf("sl %d to cn, hold in %s, %s%d, %s%d from cn", first, hold, g.pick("k", "p"), left, g.pick("k", "p"), first)
		second = 0
	}
	return parsed(text)[0], first + second + left
}

// part grows what uses n stitches in one part of a cross.
func (g *grower) part(n int) string {
	whole := fmt.Sprintf("%s%d", g.pick("k", "p"), n)
	switch {
	case n == 1 && g.chance(6, "into"):
		return "((k1, yo, k1) in next st)"
	case n == 2 && g.chance(4, "decrease"):
		return g.pick("k2tog", "ssk", "p2tog", "skp", "k2tog tbl")
	case n == 3 && g.chance(4, "group"):
		return g.pick("(p1, k2)", "(k1, yo, k2)", "([k1 tbl] 3 times)", "(k1 tbl, p2)", "(k2tog, yo, k1)")
	case n == 4 && g.chance(4, "longer group"):
		return g.pick("([k1, p1] 2 times)", "(ssk 2)", "(k1, p2, k1)", "(skp, k2)")
	case g.chance(5, "slipped"):
		return fmt.Sprintf("sl %d pwise wyif", n)
	case g.chance(5, "twisted"):
		return whole + " tbl"
	}
	return whole
}
