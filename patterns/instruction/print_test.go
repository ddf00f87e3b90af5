package instruction

import "testing"

// One size has its own numbers, and what it skips is not there.
func TestPrintOneSize(t *testing.T) {
	for _, c := range []struct{ text, small, large string }{
		{"k4 (6), p2", "k4, p2", "k6, p2"},
		{"k0 (1), p2", "p2", "k1, p2"},
		{"k0 (1)", "", "k1"},
		{"yo 1 (2) times", "yo", "yo 2 times"},
		{"[k2, p2] 0 (3) times, k1", "k1", "[k2, p2] 3 times, k1"},
		{"[k2, p2] 1 (3) times", "[k2, p2] once", "[k2, p2] 3 times"},
		{"[k0 (1), p0 (2)] to end", "", "[k1, p2] to end"},
		{"[k0 (1), p1] to end", "[p1] to end", "[k1, p1] to end"},
		{"(k0 (1), yo 0 (1) times) in next st, k1", "k1", "(k1, yo) in next st, k1"},
		{"put 0 (10) sts on hold, k1", "k1", "put 10 sts on hold, k1"},
		{"return 1 (0) held sts, k1", "return 1 held st, k1", "k1"},
		{"work 0 (5) sts as they present, k1", "k1", "work 5 sts as they present, k1"},
		{"k to last 0 (2) sts", "k to end", "k to last 2 sts"},
		{"k to last 1 (2) sts", "k to last 1 st", "k to last 2 sts"},
		{"k to 0 (1) sts before m", "k to m", "k to 1 st before m"},
		{"opposite to last 0 (2) sts", "opposite", "opposite to last 2 sts"},
		{"BO 1 (5) sts, k1", "BO 1 st, k1", "BO 5 sts, k1"},
		{"sl 2 to cn, hold in back, (k1, p1), k2 from cn, k0 (1)", "sl 2 to cn, hold in back, (k1, p1), k2 from cn", "sl 2 to cn, hold in back, (k1, p1), k2 from cn, k1"},
		{"repeat rows 1-2 1 (4) times", "repeat rows 1-2 once", "repeat rows 1-2 4 times"},
	} {
		in, problems := Parse(c.text, whole(c.text), Options{Sizes: 2})
		if len(problems) > 0 {
			t.Errorf("%q: %v", c.text, problems)
			continue
		}
		if got := Print(in.Body, AllSizes); got != c.text {
			t.Errorf("%q prints %q", c.text, got)
		}
		if got := Print(in.Body, 0); got != c.small {
			t.Errorf("%q prints %q for the first size; %q was expected", c.text, got, c.small)
		}
		if got := Print(in.Body, 1); got != c.large {
			t.Errorf("%q prints %q for the second size; %q was expected", c.text, got, c.large)
		}
	}
}

// A worked row holds each panel's own row; it prints what that comes to.
func TestPrintStrip(t *testing.T) {
	body := []Node{&Work{Stitch: knit, Extent: once()}, &Work{Stitch: purl, Extent: once()}}
	strip := &Strip{Panel: "Seed edge", Row: 2, Width: 2, Body: body}
	if got := Print([]Node{strip, body[0]}, 0); got != "k1, p1, k1" {
		t.Errorf("%q", got)
	}
}

func TestEqual(t *testing.T) {
	parse := func(text string) []Node {
		in, problems := Parse(text, whole(text), Options{Sizes: 2})
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		return in.Body
	}
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"*k1, p1; rep from * to end", "[K1, P1] to end", true}, {"k2", "k 2 sts", true}, {"C4B", "2/2 RC", true},
		{"k2", "k3", false}, {"k2 (3)", "k2", false}, {"k2", "k2, p1", false}, {"k1 tbl", "k1", false}, {"sl 1 wyif", "sl 1 wyib", false},
	} {
		if got := Equal(parse(c.a), parse(c.b)); got != c.want {
			t.Errorf("%q and %q are the same: %v", c.a, c.b, got)
		}
	}
}

func TestNumbers(t *testing.T) {
	bySize := Number{Values: []int{4, 6, 8}}
	for _, c := range []struct {
		n          Number
		size, want int
	}{{N(5), 0, 5}, {N(5), 7, 5}, {bySize, 0, 4}, {bySize, 2, 8}, {bySize, 3, 0}, {bySize, -1, 0}, {N(5000), 1, 5000}} {
		if got := c.n.At(c.size); got != c.want {
			t.Errorf("%v at size %d is %d", c.n.Values, c.size, got)
		}
	}
	if bySize.Max() != 8 || N(3).Max() != 3 || (Number{}).Max() != 0 {
		t.Error("the largest value is not the largest")
	}
	if more := bySize.plus(1); more.At(2) != 9 || bySize.At(2) != 8 {
		t.Error("adding changed the number itself, or not the other")
	}
}
