package instruction

import "clew/patterns/problem"

// ParseCount reads a count of stitches that stands alone, such as the value of
// a Cast on line: "96 (112, 128)", with or without "sts" behind it.
func ParseCount(src string, at problem.Span, sizes int) (Number, []problem.Problem) {
	p := newParser(src, at, Options{Sizes: sizes})
	defer p.release()
	n, ok := p.number()
	if !ok {
		p.fail(p.tokenOr(at), "count-missing", "a number of stitches was expected here").Suggest("write the number, such as: 96 (112, 128)")
		return Number{}, p.problems
	}
	p.oneOf("sts", "st", "stitches", "stitch")
	for p.atSeparator() {
		p.i++
	}
	if p.peek().kind != end {
		p.fail(p.peek().Span, "count-missing", "%s was found behind the number of stitches", p.quote(*p.peek())).
			Suggest("write the number alone, such as: 96 (112, 128)")
	}
	if n.Max() > MaxStitches && n.Max() <= maxNumber { // a larger one has been told
		p.fail(n.Span, "too-large", "%s stitches are too many; a row has at most %d", atMost(n.Max()), MaxStitches).
			Suggest("check the number")
	}
	return n, p.problems
}

// tokenOr is the span of the next token, or of the whole where there is none.
func (p *parser) tokenOr(whole problem.Span) problem.Span {
	if p.peek().kind == end {
		return whole
	}
	return p.peek().Span
}
