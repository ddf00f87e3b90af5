package instruction

import (
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// namedCross spells out what a cross of the table does with the needles.
//
// Two strands: to the right, the strand that lies first waits behind while
// the other is worked; to the left, it waits in front. Three strands: the two
// outer ones change places and the middle one stays behind both, on a cable
// needle of its own.
func namedCross(at problem.Span, c stitch.Cross) *Cross {
	first, last := c.Back, c.Front // the strands in the order they lie
	hold := HoldBack
	if c.Left {
		first, last, hold = c.Front, c.Back, HoldFront
	}
	under := knit
	if c.Purl {
		under = purl
	}
	n := &Cross{Span: at, Named: c, Slipped: []Slipped{{first, hold}}}
	works := func(s *stitch.Stitch, count int) []Node {
		return []Node{&Work{Span: at, Stitch: s, Extent: Extent{Times, N(count)}}}
	}
	switch {
	case c.Middle > 0:
		n.Slipped = append(n.Slipped, Slipped{c.Middle, HoldBack})
		n.Parts = []Part{{From: FromLeft, Body: works(knit, last)}, {From: FromSecond, Body: works(under, c.Middle)}, {From: FromFirst, Body: works(knit, first)}}
	case c.Left:
		n.Parts = []Part{{From: FromLeft, Body: works(under, last)}, {From: FromFirst, Body: works(knit, first)}}
	default:
		n.Parts = []Part{{From: FromLeft, Body: works(knit, last)}, {From: FromFirst, Body: works(under, first)}}
	}
	return n
}

// slip reads what follows "sl": a marker, a plain slip with its manner, or
// the beginning of a longhand cross.
func (p *parser) slip(at int) Node {
	if p.marker() {
		return &Marker{Span: p.since(at), Act: SlipMarker}
	}
	start := p.i
	p.oneOf("the")
	p.oneOf("next", "first")
	n, ok := p.number()
	if !ok {
		if !p.stitches() {
			p.i = start
		}
		n = N(1)
	}
	p.stitches()
	if p.i > start && len(n.Values) > 0 {
		if c := p.toCable(at, n); c != nil {
			return c
		}
		if p.onHold() {
			return &Held{Span: p.since(at), N: n}
		}
	}
	w := p.stitch(slipped)
	w.Extent.N = n
	p.manner(w)
	if p.toEndOfSlips(w, ok) {
		p.manner(w)
	}
	w.Span = p.since(at)
	return p.again(w)
}

// toEndOfSlips reads the reach of "sl to m" and its like.
func (p *parser) toEndOfSlips(w *Work, numbered bool) bool {
	if numbered {
		return false
	}
	e, ok := p.reach()
	if ok {
		w.Extent = e
	}
	return ok
}

// manner reads "pwise wyif", "kwise", "as if to purl", "with yarn in front",
// "tbl" and the glued letter of sl1k and sl1p.
func (p *parser) manner(w *Work) {
	for {
		switch t := p.peek(); {
		case p.oneOf("tog", "together"):
		case p.oneOf("pwise", "purlwise"), p.hyphenWise("p"), t.text == "p" && t.glued && p.words("p"), p.words("as", "if", "to", "purl"):
			w.Manner |= Purlwise
		case p.oneOf("kwise", "knitwise"), p.hyphenWise("k"), t.text == "k" && t.glued && p.words("k"), p.words("as", "if", "to", "knit"):
			w.Manner |= Knitwise
		case p.words("wyif"), p.words("with", "yarn", "in", "front"), p.words("with", "the", "yarn", "in", "front"):
			w.Manner |= YarnFront
		case p.words("wyib"), p.words("with", "yarn", "in", "back"), p.words("with", "the", "yarn", "in", "back"):
			w.Manner |= YarnBack
		case p.throughBack():
			w.TBL = true
		default:
			return
		}
	}
}

// hyphenWise takes "k-wise" or "p-wise".
func (p *parser) hyphenWise(letter string) bool {
	if p.peek().text != letter || p.ahead(1).text != "-" || p.ahead(2).text != "wise" {
		return false
	}
	p.i += 3
	return true
}

// toCable reads a longhand cross from "to cn" on, or nothing.
func (p *parser) toCable(at int, n Number) Node {
	start := p.i
	if !p.oneOf("to", "onto", "on") || p.cableNeedle() == FromLeft {
		p.i = start
		return nil
	}
	if p.crossing {
		p.fail(p.since(at), "cross-nested", "another cross begins here, before all stitches of the first are off the cable needle").
			Suggest("end the first cross, or put these stitches on the 2nd cn")
		return nil
	}
	known := len(p.problems)
	c := &Cross{Slipped: []Slipped{p.strand(n, at)}}
	p.crossing = true
	if len(p.problems) == known {
		p.crossParts(c, p.since(at))
	}
	p.crossing = false
	if len(p.problems) > known {
		p.leaveCross()
	}
	c.Span = p.since(at)
	return c
}

// leaveCross goes on behind the cross that a mistake was found in, so that its
// rest is not told as more mistakes.
func (p *parser) leaveCross() {
	start := p.i
	for t := p.peek(); t.kind != end && !p.closerAhead() && !p.repFromAhead(); t = p.peek() {
		if p.fromCable() != FromLeft {
			return
		}
		p.i++
	}
	p.i = start
}

// strand reads where the stitches that were put on a cable needle are held.
func (p *parser) strand(n Number, at int) Slipped {
	if len(n.Values) > 1 || n.At(0) < 1 || n.At(0) > maxHeld {
		p.fail(p.since(at), "cross-width", "a cable needle takes from 1 to %d stitches, the same number for all sizes", maxHeld).
			Suggest("write, for example: sl 2 to cn, hold in back, k2, k2 from cn")
	}
	return Slipped{n.At(0), p.holdClause()}
}

// maxHeld is the most stitches that a cable needle takes: two of three strands.
const maxHeld = 2 * stitch.MaxStrand

// cableNeedle takes "cn", "cable needle", "2nd cn" and says which.
func (p *parser) cableNeedle() Source {
	start := p.i
	p.oneOf("a", "the")
	which := FromFirst
	switch {
	case p.oneOf("first"):
	case p.oneOf("second"):
		which = FromSecond
	case p.peek().kind == number && p.peek().value <= 2:
		if p.take().value == 2 {
			which = FromSecond
		}
		p.oneOf("st", "nd")
	}
	if p.oneOf("cn") || p.words("cable", "needle") {
		if p.peek().kind == number && p.peek().value == 2 && !p.ahead(1).glued {
			p.i++
			which = FromSecond
		}
		return which
	}
	p.i = start
	return FromLeft
}

// holdClause takes "hold in back", "and hold at front", "hold to back of work".
func (p *parser) holdClause() Hold {
	start := p.i
	p.skipSeparators()
	if !p.oneOf("hold", "held", "leave", "keep") {
		p.i = start
		return HoldUnsaid
	}
	p.oneOf("it", "them")
	p.oneOf("in", "at", "to")
	p.oneOf("the")
	hold := HoldUnsaid
	switch {
	case p.oneOf("back", "behind"):
		hold = HoldBack
	case p.oneOf("front"):
		hold = HoldFront
	default:
		p.fail(p.peek().Span, "cross-hold", "front or back was expected after \"hold\", and %s was found", p.quote(*p.peek())).
			Suggest("write: hold in front, or: hold in back")
	}
	p.tail("of", "work")
	return hold
}

// crossParts reads what is worked until every stitch is off the cable needles.
// opening is the span of the slip that began the cross.
func (p *parser) crossParts(c *Cross, opening problem.Span) {
	waiting := [3]int{FromFirst: c.Slipped[0].N}
	for waiting[FromFirst]+waiting[FromSecond] > 0 {
		p.skipSeparators()
		if t := p.peek(); t.kind == end || (t.kind == mark && closers[t.text] == "") || p.repFromAhead() {
			p.unfinished(opening, waiting[FromFirst]+waiting[FromSecond])
			return
		}
		if p.secondNeedle(c, &waiting) || p.returned(c, &waiting) {
			continue
		}
		known := len(p.problems)
		node := p.crossItem()
		if node != nil && len(p.problems) == known {
			p.crossPart(c, node, &waiting, opening)
		}
		if len(p.problems) > known {
			return
		}
	}
}

// crossPart adds what a cross works, and takes it off the cable needle that it
// comes from.
func (p *parser) crossPart(c *Cross, node Node, waiting *[3]int, opening problem.Span) {
	body := unwrap(node)
	if w, ok := node.(*Work); ok && w.Extent.Reach != Times && !p.cableAhead() {
		p.unfinished(opening, waiting[FromFirst]+waiting[FromSecond]) // the row goes on past the cross
		return
	}
	if !fixed(body) {
		p.fail(node.Pos(), "cross-width", "a cross works a number of stitches that is the same in all sizes, and no other cross").
			Suggest("write how many stitches, such as: k2")
		return
	}
	if n := p.lastOfCable(); n > 0 {
		if n > waiting[FromFirst] {
			p.tooMany(node, n, waiting[FromFirst])
		}
		waiting[FromFirst] -= n
		c.Parts = append(c.Parts, Part{Returned: n}, Part{From: FromLeft, Body: body})
		return
	}
	from := p.fromCable()
	if from != FromLeft {
		used := size(body).uses
		switch {
		case used > waiting[from]:
			p.tooMany(node, used, waiting[from])
		case used == 0:
			p.fail(node.Pos(), "cross-width", "this takes no stitch from the cable needle").Suggest("write what is worked from it, such as: k2 from cn")
		}
		waiting[from] -= used
	}
	c.Parts = append(c.Parts, Part{From: from, Body: body})
}

// crossReach is how many tokens on a cross is looked for that goes on.
const crossReach = 24

// cableAhead says that something further on is worked from a cable needle, so
// that the cross goes on.
func (p *parser) cableAhead() bool {
	start := p.i
	defer func() { p.i = start }()
	for range crossReach {
		if p.fromCable() != FromLeft {
			return true
		}
		p.take()
	}
	return false
}

func (p *parser) tooMany(node Node, taken, left int) {
	p.fail(p.since(node.Pos().Start), "cross-width", "%d %s from the cable needle here, and %s on it", taken, is(taken, "is taken", "are taken"), countOf(left)).
		Suggest("make the numbers of the cross agree")
}

func is(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func countOf(n int) string { return itoa(n) + is(n, " is", " are") }

// fixed says that nodes take the same number of stitches in every size and on
// every fabric, and cross none of them.
func fixed(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Extent.Reach != Times || len(n.Extent.N.Values) > 1 {
				return false
			}
		case *Repeat:
			if n.Extent.Reach != Times || len(n.Extent.N.Values) > 1 || !fixed(n.Body) {
				return false
			}
		case *Into:
			if !fixed(n.Body) {
				return false
			}
		case *Macro:
			if !fixed(n.Body) {
				return false
			}
		case *Yarn, *Bead, *Marker:
		default:
			return false
		}
	}
	return true
}

func (p *parser) unfinished(opening problem.Span, left int) {
	if p.cut {
		return
	}
	p.fail(opening, "cross-unfinished", "this cross never ends: %d %s on the cable needle", left, is(left, "stitch stays", "stitches stay")).
		Suggest("say what is worked from it, such as: k%d from cn", left)
}

// crossItem reads one thing worked in a cross: a group in parentheses, or an
// item.
func (p *parser) crossItem() Node {
	if !p.isMark("(") && !p.isMark("[") {
		return p.item()
	}
	open, body, ok := p.bracketed(func(string) []Node { return p.list(listOf{}) })
	if !ok {
		return nil
	}
	if into, each := p.intoStitch(); into {
		at := p.since(open.Start)
		return repeated(&Into{Span: at, Body: body}, at, each)
	}
	group := &Repeat{Span: p.since(open.Start), Body: body, Extent: once()}
	if e, ok := p.extent(); ok {
		group.Extent, group.Span = e, p.since(open.Start)
		return &Repeat{Span: group.Span, Body: []Node{group}, Extent: once()}
	}
	return group
}

// unwrap gives the body of a group that is worked once.
func unwrap(n Node) []Node {
	if r, ok := n.(*Repeat); ok && r.Extent.once() {
		return r.Body
	}
	return []Node{n}
}

// fromCable takes "from cn", "from 2nd cn".
func (p *parser) fromCable() Source {
	start := p.i
	if p.words("from") || p.words("off") {
		if which := p.cableNeedle(); which != FromLeft {
			return which
		}
	}
	p.i = start
	return FromLeft
}

// secondNeedle reads "sl 1 to 2nd cn, hold in back" inside a cross.
func (p *parser) secondNeedle(c *Cross, waiting *[3]int) bool {
	start := p.i
	at := p.peek().Start
	if len(c.Slipped) > 1 || len(c.Parts) > 0 || !p.oneOf("sl", "slip") {
		return false
	}
	p.oneOf("next")
	n, ok := p.number()
	p.stitches()
	if ok && p.oneOf("to", "onto", "on") && p.cableNeedle() == FromSecond {
		c.Slipped = append(c.Slipped, p.strand(n, at))
		waiting[FromSecond] = n.At(0)
		return true
	}
	p.i = start
	return false
}

// returned reads "sl 1 from cn back to left needle".
func (p *parser) returned(c *Cross, waiting *[3]int) bool {
	start := p.i
	if p.oneOf("sl", "slip", "return") {
		n, ok := p.number()
		p.stitches()
		if ok && p.fromCable() == FromFirst {
			p.oneOf("back")
			if p.oneOf("to", "onto") {
				p.oneOf("the")
				if p.oneOf("left", "lh") && p.oneOf("needle") && n.At(0) >= 1 && n.At(0) <= waiting[FromFirst] {
					c.Parts = append(c.Parts, Part{Returned: n.At(0)})
					waiting[FromFirst] -= n.At(0)
					return true
				}
			}
		}
	}
	p.i = start
	return false
}

// lastOfCable reads "(last st of cable needle with next st)": a decrease that
// takes the last stitch of the cable needle and the next one together. It
// says how many stitches come from the cable needle.
func (p *parser) lastOfCable() int {
	start := p.i
	if p.isMark("(") {
		p.i++
		if p.words("last") {
			n, ok := p.number()
			if !ok {
				n = N(1)
			}
			if p.stitches() && p.oneOf("of", "on") && p.cableNeedle() == FromFirst && p.words("with", "next") {
				p.number()
				p.stitches()
				if p.isMark(")") && n.At(0) > 0 {
					p.i++
					return n.At(0)
				}
			}
		}
	}
	p.i = start
	return 0
}
