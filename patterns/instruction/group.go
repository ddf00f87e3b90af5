package instruction

import "clew/patterns/problem"

var closers = map[string]string{"(": ")", "[": "]", "{": "}"}

// group reads "[ ... ] 4 times", "( ... ) to end" and "( ... ) in next st".
func (p *parser) group() Node {
	open := *p.take()
	if !p.enter(open.Span) {
		p.depth--
		p.skipGroup()
		return nil
	}
	body := p.list(listOf{close: closers[open.text]})
	p.depth--
	if !p.closes(open) {
		return nil
	}
	whole := p.since(open.Start)
	if len(body) == 0 {
		if len(p.problems) == 0 {
			p.fail(whole, "empty-group", "the brackets hold nothing to work")
		}
		return nil
	}
	if into, each := p.intoStitch(); into {
		return repeated(&Into{Span: p.since(open.Start), Body: body}, each)
	}
	extent, found := p.extent()
	if !found {
		if len(p.problems) == 0 {
			p.fail(whole, "repeat-count", "how often is this group worked? A number was expected after %q", closers[open.text]).
				Suggest("write: 2 times, or: to end, or: in next st")
		}
		return nil
	}
	return &Repeat{Span: p.since(open.Start), Body: body, Extent: extent}
}

// skipGroup passes over the rest of a group that is nested too deep.
func (p *parser) skipGroup() {
	for depth := 1; depth > 0 && p.peek().kind != end; p.i++ {
		switch t := p.peek(); {
		case t.kind != mark:
		case closers[t.text] != "":
			depth++
		case t.text == ")" || t.text == "]" || t.text == "}":
			depth--
		}
	}
}

// closes takes the bracket that closes open, and says where open stands when
// there is none.
func (p *parser) closes(open token) bool {
	t := p.peek()
	if t.kind == mark && t.text == closers[open.text] {
		p.take()
		return true
	}
	if t.kind == end {
		p.fail(open.Span, "bracket-unclosed", "%s is opened here and never closed", p.quote(open)).
			Suggest("close it with %s where the group ends", closers[open.text])
		return false
	}
	at := problem.Locate([]byte(p.src), open.Start)
	p.fail(t.Span, "bracket-mismatch", "%s was expected, to close the %s opened in line %d, column %d; %s stands here",
		`"`+closers[open.text]+`"`, p.quote(open), at.Line, at.Col, p.quote(*t))
	p.take()
	return false
}

// intoStitch takes "in next st", "into 1 st", "in the same st" and "in each of
// next 3 sts", and says how many stitches are worked so.
func (p *parser) intoStitch() (bool, Extent) {
	start := p.i
	if !p.oneOf("in", "into") {
		return false, Extent{}
	}
	p.oneOf("the")
	each := p.words("each", "of")
	p.oneOf("the")
	named := p.oneOf("next", "same", "following")
	n, found := p.number()
	if p.oneOf("st", "stitch", "sts", "stitches") && (named || found) {
		if !found {
			n = N(1)
		}
		if each || n.Max() == 1 {
			return true, Extent{Times, n}
		}
		p.fail(p.since(p.tokens[start].Start), "into", "a group can be worked into one stitch, not into several at once").
			Suggest("write: in each of next %d sts", n.Max())
		return true, once()
	}
	p.i = start
	return false, Extent{}
}

// stars counts the asterisks that stand next.
func (p *parser) stars() int {
	n := 0
	for t := p.ahead(n); t.kind == mark && t.text == "*" && (n == 0 || t.glued); t = p.ahead(n) {
		n++
	}
	return n
}

// starred reads "*...; rep from * to end" and its second level "**".
func (p *parser) starred() Node {
	start := *p.peek()
	level := p.stars()
	p.i += level
	if !p.enter(start.Span) {
		p.depth--
		return nil
	}
	body := p.list(listOf{stars: level})
	p.depth--
	if p.closingStars(level) {
		p.i += level
		p.skipSeparators()
	}
	if !p.repFromAhead() {
		if len(p.problems) == 0 {
			p.fail(start.Span, "star-unrepeated", "nothing repeats from this asterisk").Suggest("write: ; rep from * to end")
		}
		return nil
	}
	from := *p.take()
	p.take() // from
	if n := p.stars(); n != level {
		p.fail(p.tokens[p.i].Span, "star-level", "this repeats from %d asterisks, but the group that is open here began with %d", n, level)
	}
	p.i += p.stars()
	extent, ok := p.repExtent(from)
	if !ok || len(body) == 0 {
		if len(p.problems) == 0 {
			p.fail(start.Span, "empty-group", "there is nothing to work between the asterisk and its repeat")
		}
		return nil
	}
	return &Repeat{Span: p.since(start.Start), Body: body, Extent: extent}
}

// repFromAhead says that "rep from *" stands next.
func (p *parser) repFromAhead() bool {
	a, b, c := p.peek(), p.ahead(1), p.ahead(2)
	return a.kind == word && (a.text == "rep" || a.text == "repeat") &&
		b.kind == word && b.text == "from" && c.kind == mark && c.text == "*"
}

// closingStars says that the asterisks that stand next close the list, since a
// "rep from" follows them.
func (p *parser) closingStars(level int) bool {
	if p.stars() != level {
		return false
	}
	start := p.i
	p.i += level
	p.skipSeparators()
	closing := p.repFromAhead()
	p.i = start
	return closing
}

// repExtent reads what follows "rep from *": how many more times, or how far.
func (p *parser) repExtent(from token) (Extent, bool) {
	start := p.i
	if n, ok := p.moreTimes(); ok {
		return Extent{Times, n.plus(1)}, true
	}
	p.i = start
	extent, found := p.extent()
	switch {
	case !found:
		return Extent{Reach: ToEnd}, true
	case extent.Reach == Times:
		n := extent.N.Max()
		p.fail(p.since(from.Start), "repeat-count", "%d times in all, or %d more times? Print uses this for both", n, n).
			Suggest("write: rep from * %d more times, or put the group in brackets: [...] %d times", n, n)
		return Extent{}, false
	}
	return extent, true
}

// moreTimes reads "4 more times", "4 times more", "once more", "twice more".
func (p *parser) moreTimes() (Number, bool) {
	at := p.peek().Span
	switch {
	case p.words("once", "more"), p.words("one", "more", "time"):
		return Number{at, []int{1}}, true
	case p.words("twice", "more"):
		return Number{at, []int{2}}, true
	}
	n, found := p.number()
	if found && (p.words("more", "times") || p.words("more", "time") || p.words("times", "more") || p.words("time", "more")) {
		return n, true
	}
	return Number{}, false
}
