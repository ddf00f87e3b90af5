package instruction

import (
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// checkBare reports a "k" without a number that is not the last of its row.
func (p *parser) checkBare(body []Node) {
	last := body[len(body)-1]
	for _, w := range p.bare {
		if Node(w) != last {
			p.fail(w.Span, "count-missing", "%s how many? Without a number it means the rest of the row, and more follows here", w.Stitch.Words).
				Suggest("write %s1, or say how far: %s to last 2 sts", w.Stitch.Abbr, w.Stitch.Abbr)
		}
	}
}

// checkSize refuses a row that would expand past the limits, before anything
// is expanded. The position is the innermost part that is too large.
func (p *parser) checkSize(body []Node) {
	for _, n := range body {
		if !p.small(n) {
			return
		}
	}
	if uses, makes, acts := size(body); tooLarge(uses, makes, acts) {
		p.tooLarge(body[0].Pos().To(body[len(body)-1].Pos()), uses, makes)
	}
}

func (p *parser) small(n Node) bool {
	if r, ok := n.(*Repeat); ok {
		for _, inner := range r.Body {
			if !p.small(inner) {
				return false
			}
		}
	}
	uses, makes, acts := size([]Node{n})
	if tooLarge(uses, makes, acts) {
		p.tooLarge(n.Pos(), uses, makes)
		return false
	}
	return true
}

func tooLarge(uses, makes, acts int) bool {
	return uses > MaxStitches || makes > MaxStitches || acts > maxActs
}

func (p *parser) tooLarge(at problem.Span, uses, makes int) {
	p.fail(at, "too-large", "this comes to %s stitches; a row has at most %d", atMost(max(uses, makes)), MaxStitches).
		Suggest("check the numbers of the repeats")
}

func atMost(n int) string {
	if n >= huge {
		return "more than a million"
	}
	return itoa(n)
}

// huge is where sizes stop growing, so that they never overflow.
const huge = 1_000_000

func times(a, b int) int { return min(huge, min(a, huge)*min(b, huge)) }

// size gives the fewest stitches that nodes use, make, and how many acts that
// takes: the largest over the sizes, what is measured on the needle taken as
// once.
func size(nodes []Node) (uses, makes, acts int) {
	add := func(u, m, a, n int) {
		uses, makes, acts = min(huge, uses+times(u, n)), min(huge, makes+times(m, n)), min(huge, acts+times(a, n))
	}
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			made := len(n.Stitch.Makes)
			if n.Stitch.Kind == stitch.Slip {
				made = 1
			}
			add(n.Stitch.Uses, made, 1, n.Extent.fewest())
		case *Repeat:
			u, m, a := size(n.Body)
			add(u, m, a, n.Extent.fewest())
		case *Into:
			_, m, a := size(n.Body)
			add(1, m, a, 1)
		case *Cross:
			for _, part := range n.Parts {
				u, m, a := size(part.Body)
				add(u, m, a+1, 1)
			}
		case *Macro:
			u, m, a := size(n.Body)
			add(u, m, a, 1)
		case *Held:
			add(n.N.Max(), 0, 1, 1)
		default:
			add(0, 0, 1, 1)
		}
	}
	return uses, makes, acts
}

// fewest is how often something with this extent is worked at least, in the
// size where that is most.
func (e Extent) fewest() int {
	if e.Reach == Times {
		return e.N.Max()
	}
	return 1
}
