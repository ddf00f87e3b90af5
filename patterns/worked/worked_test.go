package worked_test

import (
	"bytes"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/worked"
)

// work works a row of text on a needle of 12 stitches, purl and knit in turn.
func work(t *testing.T, text string) []instruction.Node {
	t.Helper()
	before := fabric.CastOn(12)
	for _, row := range []string{"[p1, k1] to end", text} {
		in, problems := instruction.Parse(row, problem.Span{End: len(row)}, instruction.Options{})
		if len(problems) > 0 {
			t.Fatalf("%q can't be read: %s", row, problems[0].Message)
		}
		did := before.Work(in.Body, fabric.Row{Rounds: true})
		if did.Problem != nil {
			t.Fatalf("%q can't be worked: %s", row, did.Problem.Message)
		}
		if row == text {
			return did.Done
		}
		before = did.After
	}
	return nil
}

var pairs = []struct {
	name, a, b string
	alike      bool
}{
	{"runs", "k1, k1, k10", "k12", true},
	{"to the end", "k to end", "k12", true},
	{"a repeat unrolled", "[k1, p1] 6 times", "k1, p1, k1, p1, k1, p1, k1, p1, k1, p1, k1, p1", true},
	{"a repeat to the last", "*k1, p1; rep from * to last 2 sts, k2", "[k1, p1] 5 times, k2", true},
	{"as they look", "work sts as they present", "[p1, k1] to end", true},
	{"against their look", "opposite", "[k1, p1] to end", true},
	{"a slip that does not say how", "sl 1, k11", "sl 1 pwise, k11", true},
	{"a named cross and its movements", "2/2 RC, k8", "sl 2 to cn, hold in back, k2, k2 from cn, k8", true},
	{"a yarn that is in use", "k12", "with Red, k12", false},
	{"a yarn taken up twice", "with Red, k6, with red, k6", "with Red, k12", true},
	{"a yarn taken up in the middle", "with Red, k12", "k6, with Red, k6", false},
	{"knit or purl", "k12", "k11, p1", false},
	{"another order", "k1, p1, k10", "p1, k1, k10", false},
	{"the back loop", "k12", "k1 tbl, k11", false},
	{"knitwise", "sl 1 kwise, k11", "sl 1, k11", false},
	{"where the yarn is held", "sl 1 wyif, k11", "sl 1 wyib, k11", false},
	{"which way a decrease leans", "k2tog, k10", "ssk, k10", false},
	{"which strand is in front", "2/2 RC, k8", "2/2 LC, k8", false},
	{"a purled strand", "2/2 RC, k8", "2/2 RPC, k8", false},
	{"a marker", "k6, pm, k6", "k12", false},
	{"a marker elsewhere", "k6, pm, k6", "k5, pm, k7", false},
	{"a turn", "k6, turn", "k6, w&t", false},
	{"several in one", "(k1, yo, k1) in next st, k11", "k1, yo, k1, k10", false},
	{"on hold", "k6, put 6 sts on hold", "k6, BO 6", false},
	{"a bead", "k6, place bead, k6", "k12", false},
}

// typed are ways to type the same work, and beside each of them one that is near it and
// is not the same. Source: FORMAT.md, 6, as to what can be typed, and the table of
// stitches, as to how each is worked.
var typed = []struct {
	name, a, b string
	alike      bool
}{
	{"skp written out", "skp, k10", "sl 1, k1, psso, k10", true},
	{"skp written out, knitwise", "skp, k10", "sl 1 kwise, k1, psso, k10", true},
	{"skp spelled out", "skp, k10", "slip 1 knitwise, knit 1, pass slipped st over, k10", true},
	{"skp, with the slip purlwise", "skp, k10", "sl 1 pwise, k1, psso, k10", false},
	{"skp, with the yarn in front", "skp, k10", "sl 1 wyif, k1, psso, k10", false},
	{"skp, with two knitted", "sl 1 kwise, k2, psso, k9", "sl 1, k2, psso, k9", false},
	{"skp, after another slip", "sl 1, skp, k9", "sl 2, k1, psso, k9", true},
	{"skp, after a knitwise slip", "sl 1 kwise, skp, k9", "sl 1, sl 1 kwise, k1, psso, k9", false},
	{"skp several times", "skp 3 times, k6", "[sl 1, k1, psso] 2 times, skp, k6", true},
	{"skp and ssk", "skp, k10", "ssk, k10", false},
	{"two of three worked", "skp, k1, skp, k7", "sl 1, k1, psso, k1, sl 1 kwise, k1, psso, k7", true},
	{"sk2p written out", "sk2p, k9", "sl 1, k2tog, psso, k9", true},
	{"sk2p written out, knitwise", "sk2p, k9", "sl 1 kwise, k2tog, psso, k9", true},
	{"sk2p, with a purl", "sk2p, k9", "sl 1, p2tog, psso, k9", false},
	{"sk2p and s2kp", "sk2p, k9", "sl 2 kwise, k1, p2sso, k9", false},
	{"s2kp written out", "s2kp, k9", "sl 2 kwise, k1, p2sso, k9", true},
	{"s2kp written out, unsaid", "s2kp, k9", "sl 2, k1, p2sso, k9", true},
	{"s2kp, as it is called too", "s2kp, k9", "cdd, k9", true},
	{"s2kp, with the slips one by one", "s2kp, k9", "sl 1 kwise, sl 1 kwise, k1, p2sso, k9", false},
	{"s2kp, with the slips purlwise", "s2kp, k9", "sl 2 pwise, k1, p2sso, k9", false},
	{"a slip said and unsaid", "sl 1, sl 1 pwise, sl 1, k9", "sl 3, k9", true},
	{"a slip through the back", "sl 1 tbl, k1, psso, k10", "skp, k10", false},
	{"one stitch through the back loop", "ktbl, k11", "k1 tbl, k11", true},
	{"glued", "k1tbl, k11", "knit 1 through the back loop, k11", true},
	{"the usual loop", "k1 tfl, k11", "k12", true},
	{"knit and k", "knit", "k12", true},
	{"a whole round", "purl 1 round", "p to end", true},
	{"all stitches", "knit all sts", "k", true},
	{"work even", "work even", "work sts as they present", true},
	{"as they look", "knit the knits and purl the purls", "work as they look", true},
	{"make one", "m1, k12", "make one, k12", true},
	{"make one and make one left", "m1, k12", "m1l, k12", false}, // the table lets m1 lift the strand either way
	{"make one purlwise", "m1p, k12", "make 1 purlwise, k12", true},
	{"lifted increases", "kll, k12", "lli, k12", true},
	{"yarn overs", "yo 2, k12", "yrn, yfwd, k12", true},
	{"a yarn over and a backward one", "yo, k12", "byo, k12", false},
	{"kfb written out", "kfb, k11", "(k1, k1 tbl) in next st, k11", true},
	{"pfb written out", "pfb, k11", "(p1, p1 tbl) into 1 st, k11", true},
	{"kfbf written out", "kfbf, k11", "(k1, k1 tbl, k1) in next st, k11", true},
	{"kfb and a knit and a purl", "kfb, k11", "(k1, p1) in next st, k11", false},
	{"a twist and a cross of one over one", "RT, LT, k8", "1/1 RC, 1/1 LC, k8", true},
	{"older names", "C4B, C6F, k2", "2/2 RC, 3/3 LC, k2", true},
	{"older names of purl crosses", "T3B, T3F, T4B, k2", "2/1 RPC, 2/1 LPC, 2/2 RPC, k2", true},
	{"the older name the other way", "C4B, k8", "C4F, k8", false},
	{"a cross written out, stitch by stitch", "2/2 RC, k8", "sl 2 to cn, hold in back, k1, k1, k1 from cn, k1 from cn, k8", true},
	{"a purl cross written out", "2/1 LPC, k9", "sl 2 to cn, hold in front, p1, k2 from cn, k9", true},
	{"three strands written out", "2/1/2 RC, k7", "sl 2 to cn, hold in back, sl 1 to 2nd cn, hold in back, k2, k1 from 2nd cn, k2 from cn, k7", true},
	{"three strands, with the middle one in front", "2/1/2 RC, k7", "sl 2 to cn, hold in back, sl 1 to 2nd cn, hold in front, k2, k1 from 2nd cn, k2 from cn, k7", false},
	{"wrap and turn", "k6, w&t", "k6, wrap and turn", true},
	{"bind off", "BO 4 sts, k8", "cast off 4, k8", true},
	{"pick up", "pu 2 sts, k12", "pick up and knit 2 sts, k12", true},
	{"hold", "put 2 sts on hold, k10", "slip 2 sts onto holder, k10", true},
}

func TestKey(t *testing.T) {
	for _, c := range append(pairs, typed...) {
		t.Run(c.name, func(t *testing.T) {
			a, _ := worked.Key(nil, work(t, c.a), "")
			b, _ := worked.Key(nil, work(t, c.b), "")
			if bytes.Equal(a, b) != c.alike {
				t.Errorf("%q and %q: alike is %v, expected %v\n%q\n%q", c.a, c.b, !c.alike, c.alike, a, b)
			}
		})
	}
}

// TestKeyInYarn says that a row that takes up a yarn is alike one for which an earlier
// row has, where yarns are told absolutely, and is not where what it does is told.
func TestKeyInYarn(t *testing.T) {
	takes, goesOn := work(t, "with Red, k12"), work(t, "k12")
	a, yarn := worked.KeyInYarn(nil, takes, "blue")
	b, _ := worked.KeyInYarn(nil, goesOn, "red")
	if !bytes.Equal(a, b) || yarn != "red" {
		t.Errorf("the yarn after it is %q, and the keys are %q and %q; red and the same were expected", yarn, a, b)
	}
	if c, _ := worked.KeyInYarn(nil, goesOn, "blue"); bytes.Equal(b, c) {
		t.Errorf("the same row in red and in blue has one key: %q", b)
	}
	a, _ = worked.Key(nil, takes, "blue")
	b, _ = worked.Key(nil, goesOn, "red")
	if bytes.Equal(a, b) {
		t.Errorf("a row that takes up a yarn, and one that does not, have one key: %q", a)
	}
	if after := worked.YarnAfter(takes, "blue"); after != "red" {
		t.Errorf("the yarn after it is %q, expected red", after)
	}
}
