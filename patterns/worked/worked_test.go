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

func TestKey(t *testing.T) {
	for _, c := range pairs {
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
