package instruction

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"clew/patterns/stitch"
)

// crossed works a cross on stitches numbered from 0 in the order in which they
// lie on the left needle, the slow and obvious way: two cable needles are two
// lists. It gives the order on the right needle with the face of each stitch,
// and the numbers of those that passed in front.
func crossed(t *testing.T, c *Cross, width int) (order, front string) {
	t.Helper()
	left := make([]int, width)
	for i := range left {
		left[i] = i
	}
	var cables [3][]int
	var inFront []string
	for i, s := range c.Slipped {
		taken := left[:s.N]
		left = left[s.N:]
		cables[i+1] = slices.Clone(taken)
		if s.Hold == HoldFront {
			for _, n := range taken {
				inFront = append(inFront, fmt.Sprint(n))
			}
		}
	}
	var out []string
	for _, part := range c.Parts {
		if part.Returned > 0 { // from the far end of the cable needle to the near end of the left one
			at := len(cables[FromFirst]) - part.Returned
			left = slices.Concat(cables[FromFirst][at:], left)
			cables[FromFirst] = cables[FromFirst][:at]
			continue
		}
		from := &left
		if part.From != FromLeft {
			from = &cables[part.From]
		}
		for _, n := range part.Body {
			w := n.(*Work)
			for range w.Extent.N.At(0) {
				out = append(out, fmt.Sprintf("%s%d", w.Stitch.Abbr, (*from)[0]))
				*from = (*from)[1:]
			}
		}
	}
	if len(left)+len(cables[FromFirst])+len(cables[FromSecond]) > 0 {
		t.Errorf("stitches are left over: %v, %v", left, cables)
	}
	return strings.Join(out, " "), strings.Join(inFront, " ")
}

func onlyCross(t *testing.T, text string) *Cross {
	t.Helper()
	in, problems := Parse(text, whole(text), Options{})
	if len(problems) > 0 || len(in.Body) != 1 {
		t.Fatalf("%q is no cross: %v", text, problems)
	}
	return in.Body[0].(*Cross)
}

// The Craft Yarn Council's definitions (knit cable abbreviations, from memory)
// beside their names, and the order in which the stitches come to lie: k2 is
// the third stitch of the left needle, knitted.
func TestCrossesAreTheCouncils(t *testing.T) {
	for _, c := range []struct{ name, longhand, order, front string }{
		{"1/1 RC", "sl 1 to cn, hold in back, k1, k1 from cn", "k1 k0", ""},
		{"1/1 LC", "sl 1 to cn, hold in front, k1, k1 from cn", "k1 k0", "0"},
		{"1/1 RPC", "sl 1 to cn, hold in back, k1, p1 from cn", "k1 p0", ""},
		{"1/1 LPC", "sl 1 to cn, hold in front, p1, k1 from cn", "p1 k0", "0"},
		{"RT", "sl 1 to cn, hold in back, k1, k1 from cn", "k1 k0", ""},
		{"LT", "sl 1 to cn, hold in front, k1, k1 from cn", "k1 k0", "0"},
		{"2/1 RC", "sl 1 to cn, hold in back, k2, k1 from cn", "k1 k2 k0", ""},
		{"2/1 LC", "sl 2 to cn, hold in front, k1, k2 from cn", "k2 k0 k1", "0 1"},
		{"2/1 RPC", "sl 1 to cn, hold in back, k2, p1 from cn", "k1 k2 p0", ""},
		{"2/1 LPC", "sl 2 to cn, hold in front, p1, k2 from cn", "p2 k0 k1", "0 1"},
		{"2/2 RC", "sl 2 to cn, hold in back, k2, k2 from cn", "k2 k3 k0 k1", ""},
		{"2/2 LC", "sl 2 to cn, hold in front, k2, k2 from cn", "k2 k3 k0 k1", "0 1"},
		{"2/2 RPC", "sl 2 to cn, hold in back, k2, p2 from cn", "k2 k3 p0 p1", ""},
		{"2/2 LPC", "sl 2 to cn, hold in front, p2, k2 from cn", "p2 p3 k0 k1", "0 1"},
		{"3/1 RPC", "sl 1 to cn, hold in back, k3, p1 from cn", "k1 k2 k3 p0", ""},
		{"3/1 LPC", "sl 3 to cn, hold in front, p1, k3 from cn", "p3 k0 k1 k2", "0 1 2"},
		{"3/3 LC", "sl 3 to cn, hold in front, k3, k3 from cn", "k3 k4 k5 k0 k1 k2", "0 1 2"},
		{"C4B", "sl 2 to cn, hold in back, k2, k2 from cn", "k2 k3 k0 k1", ""},
		{"C6F", "sl 3 to cn, hold in front, k3, k3 from cn", "k3 k4 k5 k0 k1 k2", "0 1 2"},
		{"T3B", "sl 1 to cn, hold in back, k2, p1 from cn", "k1 k2 p0", ""},
		{"T3F", "sl 2 to cn, hold in front, p1, k2 from cn", "p2 k0 k1", "0 1"},
		{"T4B", "sl 2 to cn, hold in back, k2, p2 from cn", "k2 k3 p0 p1", ""},
		{"T4F", "sl 2 to cn, hold in front, p2, k2 from cn", "p2 p3 k0 k1", "0 1"},
		{"2/1/2 LPC", "sl 2 to cn, hold in front, sl 1 to 2nd cn, hold in back, k2, p1 from 2nd cn, k2 from cn", "k3 k4 p2 k0 k1", "0 1"},
		{"2/1/2 LC", "sl 2 to cn, hold in front, sl 1 to 2nd cn, hold in back, k2, k1 from 2nd cn, k2 from cn", "k3 k4 k2 k0 k1", "0 1"},
		{"2/1/2 RPC", "sl 2 to cn, hold in back, sl 1 to 2nd cn, hold in back, k2, p1 from 2nd cn, k2 from cn", "k3 k4 p2 k0 k1", ""},
		{"2/1/2 RC", "sl 2 to cn, hold in back, sl 1 to 2nd cn, hold in back, k2, k1 from 2nd cn, k2 from cn", "k3 k4 k2 k0 k1", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			named, long := onlyCross(t, c.name), onlyCross(t, c.longhand)
			if order, front := crossed(t, named, named.Named.Uses()); order != c.order || front != c.front {
				t.Errorf("%q with %q in front; %q with %q was expected", order, front, c.order, c.front)
			}
			if order, front := crossed(t, long, named.Named.Uses()); order != c.order || front != c.front {
				t.Errorf("in longhand: %q with %q in front; %q with %q was expected", order, front, c.order, c.front)
			}
			named.Named = stitch.Cross{}
			if diff := sameTree([]Node{named}, []Node{long}); diff != "" {
				t.Errorf("the name and the longhand are not the same work:\n%s", diff)
			}
		})
	}
}

// The same order by two ways that patterns write it: a second cable needle, or
// the middle stitch put back. Common practice, no source.
func TestMiddlePutBack(t *testing.T) {
	back := onlyCross(t, "sl 3 to cn, hold in back, k2, sl 1 from cn back to left needle, p1, k2 from cn")
	if order, _ := crossed(t, back, 5); order != "k3 k4 p2 k0 k1" {
		t.Errorf("%q", order)
	}
}

// Of any widths: the front strand and the back strand change places, the middle
// one keeps its place behind both, and nobody is lost.
func TestCrossesOfAnyWidth(t *testing.T) {
	run := func(letter string, from, n int) []string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprint(letter, from+i))
		}
		return all
	}
	for a := 1; a <= stitch.MaxStrand; a++ {
		for b := 1; b <= stitch.MaxStrand; b++ {
			for _, middle := range []int{0, 1, 3} {
				for bits := range 4 {
					c := stitch.Cross{Front: a, Middle: middle, Back: b, Left: bits&1 > 0, Purl: bits&2 > 0}
					under, behind := "k", "k"
					if c.Purl && middle > 0 {
						under = "p"
					} else if c.Purl {
						behind = "p"
					}
					first, last, inFront := b, a, ""
					firstFace, lastFace := behind, "k"
					if c.Left {
						first, last = a, b
						firstFace, lastFace = "k", behind
						inFront = strings.Join(run("", 0, a), " ")
					}
					want := slices.Concat(run(lastFace, first+middle, last), run(under, first, middle), run(firstFace, 0, first))
					order, front := crossed(t, onlyCross(t, c.Name()), c.Uses())
					if order != strings.Join(want, " ") || front != inFront {
						t.Fatalf("%s: %q with %q in front; %q with %q was expected", c.Name(), order, front, want, inFront)
					}
				}
			}
		}
	}
}
