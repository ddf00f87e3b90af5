package instruction

import (
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// checkBare reports a "k" without a number that is not the last of its row.
func (p *parser) checkBare(body []Node) {
	last := body[len(body)-1]
	for _, w := range p.bare {
		if Node(w) != last && !p.cut {
			p.fail(w.Span, "count-missing", "how many stitches? %q without a number means the rest of the row, and the row goes on behind it", w.Stitch.Words).
				Suggest("write %s, or say how far, such as: %s to last 2 sts", sample(w.Stitch, 1), w.Stitch.Abbr)
		}
	}
}

// checkAlone reports "as row 3" and "repeat rows 1-6" beside anything else:
// they stand for whole rows.
func (p *parser) checkAlone(body []Node) {
	for _, n := range p.whole {
		if (len(body) > 1 || n != body[0]) && !p.cut {
			p.fail(n.Pos(), "row-reference", "%s stands for a whole row, and more is worked in this one", problem.Quote(p.src[n.Pos().Start:n.Pos().End])).
				Suggest("give it a line of its own, or write this row out")
		}
	}
}

// checkSize refuses a row that would expand past the limits, before anything
// is expanded. The position is the innermost part that is too large.
func (p *parser) checkSize(body []Node) {
	if s, ok := p.small(body); ok && s.tooLarge() {
		p.tooLarge(body[0].Pos().To(body[len(body)-1].Pos()), s)
	}
}

// small adds up nodes, the inner ones first, and says whether none of them is
// too large by itself.
func (p *parser) small(nodes []Node) (sum extentOf, ok bool) {
	for _, n := range nodes {
		var s extentOf
		if r, repeats := n.(*Repeat); !repeats {
			s = sizeOf(n)
		} else if s, ok = p.small(r.Body); !ok {
			return s, false
		} else {
			s = s.times(r.Extent.fewest())
		}
		if s.tooLarge() {
			p.tooLarge(n.Pos(), s)
			return s, false
		}
		sum = sum.plus(s)
	}
	return sum, true
}

func (p *parser) tooLarge(at problem.Span, s extentOf) {
	if most := max(s.uses, s.makes); most > MaxStitches {
		p.fail(at, "too-large", "this comes to %s stitches, and a row has at most %d", atMost(most), MaxStitches).
			Suggest("check the numbers and the repeats")
		return
	}
	p.fail(at, "too-large", "this comes to %s things to do, and a row has at most %d", atMost(s.acts), maxActs).
		Suggest("check the numbers and the repeats")
}

func atMost(n int) string {
	switch {
	case n >= huge:
		return "more than a million"
	case n > maxNumber:
		return "more than " + itoa(maxNumber)
	}
	return itoa(n)
}

// huge is where sizes stop growing, so that they never overflow.
const huge = 1_000_000

// extentOf is the fewest stitches that nodes use and make, and how many acts
// that takes: the largest over the sizes of the pattern, and what is measured
// on the needle taken as once.
type extentOf struct{ uses, makes, acts int }

func (s extentOf) tooLarge() bool {
	return s.uses > MaxStitches || s.makes > MaxStitches || s.acts > maxActs
}

func (s extentOf) plus(t extentOf) extentOf {
	return extentOf{min(huge, s.uses+t.uses), min(huge, s.makes+t.makes), min(huge, s.acts+t.acts)}
}

func (s extentOf) times(n int) extentOf {
	n = min(n, huge) // the product of two numbers up to huge is far from an overflow
	return extentOf{min(huge, s.uses*n), min(huge, s.makes*n), min(huge, s.acts*n)}
}

// size adds up nodes. It takes time linear in what is written: a repeat is
// multiplied and an abbreviation was added up when it was defined.
func size(nodes []Node) extentOf {
	var sum extentOf
	for _, n := range nodes {
		sum = sum.plus(sizeOf(n))
	}
	return sum
}

func sizeOf(n Node) extentOf {
	switch n := n.(type) {
	case *Work:
		made := len(n.Stitch.Makes)
		if n.Stitch.Kind == stitch.Slip {
			made = 1
		}
		return extentOf{n.Stitch.Uses, made, 1}.times(n.Extent.fewest())
	case *Repeat:
		return size(n.Body).times(n.Extent.fewest())
	case *Into:
		s := size(n.Body)
		s.uses = 1
		return s
	case *Cross:
		s := extentOf{acts: 1}
		for _, part := range n.Parts {
			s = s.plus(size(part.Body))
		}
		return s
	case *Macro:
		return n.size
	case *Held:
		if n.Return {
			return extentOf{acts: 1}
		}
		return extentOf{uses: n.N.Max(), acts: 1}
	case *AsLooks:
		stitches := 1
		if n.Extent.Reach == Times {
			stitches = n.Extent.N.Max()
		}
		return extentOf{stitches, stitches, 1}
	}
	return extentOf{acts: 1}
}

// fewest is how often something with this extent is worked at least, in the
// size where that is most.
func (e Extent) fewest() int {
	if e.Reach == Times {
		return e.N.Max()
	}
	return 1
}
