package instruction

import "strings"

// numberWords are the numbers that designers spell out in front of "times".
var numberWords = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
	"seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12}

// number reads "4", "4 (6, 8)" or a small number in words. A list of the wrong
// length is reported where it stands.
func (p *parser) number() (Number, bool) {
	t := p.peek()
	if t.kind == word {
		n, ok := numberWords[t.text]
		if !ok {
			return Number{}, false
		}
		p.i++
		return Number{t.Span, single(n)}, true
	}
	if t.kind != number {
		return Number{}, false
	}
	p.i++
	n := Number{t.Span, single(t.value)}
	p.checkNumber(t)
	known := len(p.problems)
	if p.isMark("(") && p.numberList(&n) {
		n.Span = p.since(t.Start)
		if len(n.Values) != p.opts.Sizes && len(p.problems) == known {
			p.fail(n.Span, "size-list", "%d numbers stand here, and the pattern has %s", len(n.Values), sizes(p.opts.Sizes)).
				Suggest("write one number for each size, or one number for all")
		}
	}
	return n, true
}

// checkNumber refuses a number that is larger than anything in a pattern.
func (p *parser) checkNumber(t *token) {
	if t.value > maxNumber {
		p.fail(t.Span, "number-large", "this number is too large: %s; a pattern counts up to %d", p.quote(*t), maxNumber).
			Suggest("check whether a comma or a space is missing in it")
	}
}

func sizes(n int) string {
	if n == 1 {
		return "one size"
	}
	return itoa(n) + " sizes"
}

// numberList takes "(6, 8)" after a first number; anything else in the
// parentheses is left alone.
func (p *parser) numberList(n *Number) bool {
	start, open := p.i, *p.peek()
	p.i++
	values := n.Values
	for p.peek().kind == number {
		t := p.take()
		p.checkNumber(t)
		values = append(values, t.value)
		if p.isMark(",") {
			p.i++
		}
		switch {
		case p.peek().kind == number:
		case p.peek().kind == end:
			p.fail(open.Span, "bracket-unclosed", "%s is opened here and never closed", p.quote(open)).
				Suggest("close it with ) behind the numbers")
			n.Values = values
			return true
		case p.isMark(")"):
			p.i++
			n.Values = values
			return true
		default:
			p.i = start
			return false
		}
	}
	p.i = start
	return false
}

// extent reads how often or how far: "4 times", "x4", "twice", "to end", "to
// last 3 sts", "to m", "to 1 st before m", "around", "across".
func (p *parser) extent() (Extent, bool) {
	start := p.i
	switch t := p.peek(); {
	case t.kind == mark && t.text == "(": // yo (twice)
		p.i++
		if k := p.peek().kind; k == word || k == number {
			if e, ok := p.extent(); ok && p.isMark(")") {
				p.i++
				return e, true
			}
		}
		p.i = start
		return Extent{}, false
	case t.kind != word && t.kind != number:
		return Extent{}, false
	}
	if e, ok := p.reach(); ok {
		return e, true
	}
	at := p.peek().Span
	switch {
	case p.oneOf("once"):
		return Extent{Times, Number{at, single(1)}}, true
	case p.oneOf("twice"):
		return Extent{Times, Number{at, single(2)}}, true
	case p.oneOf("thrice"):
		return Extent{Times, Number{at, single(3)}}, true
	case p.oneOf("x"):
		if n, ok := p.number(); ok {
			p.oneOf("times")
			return Extent{Times, n}, true
		}
	default:
		if n, ok := p.number(); ok && p.oneOf("times", "time", "x") {
			return Extent{Times, n}, true
		}
	}
	p.i = start
	return Extent{}, false
}

// reach reads the part of an extent that is measured on the needle.
func (p *parser) reach() (Extent, bool) {
	if p.peek().kind != word {
		return Extent{}, false
	}
	start := p.i
	switch {
	case p.oneOf("around", "across"):
		if start := p.i; p.oneOf("the") && !isRow(p.peek().text) {
			p.i = start
		}
		p.oneOf("row", "round", "rnd")
		return Extent{Reach: ToEnd}, true
	case !p.oneOf("to", "until"):
		return Extent{}, false
	}
	p.oneOf("the")
	if p.oneOf("end") {
		p.tail("of", "row", "rows", "round", "rnd", "needle")
		return Extent{Reach: ToEnd}, true
	}
	if p.oneOf("last", "final") {
		n, found := p.number()
		if !found {
			n = N(1)
		}
		if p.stitches() {
			return Extent{ToLast, n}, true
		}
	} else if n, found := p.number(); found {
		switch {
		case !p.stitches():
		case p.words("before") && p.marker():
			return Extent{ToMarker, n}, true
		case p.oneOf("rem", "remain", "remains", "left"): // until 2 sts remain
			return Extent{ToLast, n}, true
		}
	} else if p.marker() {
		return Extent{ToMarker, N(0)}, true
	}
	p.i = start
	return Extent{}, false
}

// tail takes "of", "of the" and one of the words after it, where they stand.
func (p *parser) tail(of string, words ...string) {
	start := p.i
	if !p.words(of) {
		return
	}
	p.oneOf("the")
	if !p.oneOf(words...) {
		p.i = start
	}
}

// marker takes "m", "marker", "next m", "the marker".
func (p *parser) marker() bool {
	start := p.i
	p.oneOf("the")
	p.oneOf("next")
	if p.oneOf("m", "marker") {
		return true
	}
	p.i = start
	return false
}

// statedAhead says that "(96 sts)" or "- 96 sts" stands next.
func (p *parser) statedAhead() bool {
	start, found := p.i, len(p.problems)
	_, ok := p.readStated()
	p.i, p.problems = start, p.problems[:found]
	return ok
}

// takesStated takes the count that a row states after itself. Anywhere but at
// the end of the row it is an error.
func (p *parser) takesStated(top bool) bool {
	if t := p.peek(); t.kind != mark || (t.text != "(" && t.text != "[" && t.text != "-") {
		return false
	}
	start, found := p.i, len(p.problems)
	n, ok := p.readStated()
	if !ok {
		p.i, p.problems = start, p.problems[:found]
		return false
	}
	at := p.since(p.tokens[start].Start)
	p.skipSeparators()
	if p.peek().kind != end || !top {
		p.fail(at, "stated-place", "this states a count in the middle of the row, and it is checked only at the end").Suggest("move it behind the last stitch of the row")
	}
	n.Span = at
	p.stated = &n
	return true
}

func (p *parser) readStated() (Number, bool) {
	t := p.peek()
	if t.kind != mark || (t.text != "(" && t.text != "[" && t.text != "-") {
		return Number{}, false
	}
	p.i++
	p.oneOf("total")
	n, ok := p.number()
	if !ok || !p.stitches() {
		return Number{}, false
	}
	for p.oneOf("rem", "remain", "remaining", "total", "in", "all", "on", "the", "needle", "needles", "left") {
	}
	if closer := closers[t.text]; closer != "" {
		p.skipSeparators()
		if !p.isMark(closer) {
			return Number{}, false
		}
		p.i++
	}
	return n, true
}

// remark passes over "(the yo)": parentheses behind an item whose first word
// names nothing that can be worked.
func (p *parser) remark() bool {
	if !p.isMark("(") || p.ahead(1).kind != word {
		return false
	}
	start := p.i
	p.i++
	if _, found := p.phrases.match(p); found || p.opener() {
		p.i = start
		return false
	}
	for p.peek().kind == word && !meansWork[p.peek().text] {
		p.i++
	}
	if !p.isMark(")") {
		p.i = start
		return false
	}
	p.i++
	return true
}

// meansWork are words that change what is worked, and so stand in no remark.
var meansWork = func() map[string]bool {
	words := map[string]bool{}
	for _, w := range strings.Fields("once twice thrice times time more each every all rep repeat in into to until around across with without from tbl wyif wyib " +
		"kwise pwise knitwise purlwise through hold skip skipping omit omitting not no") {
		words[w] = true
	}
	return words
}()

func (p *parser) closerAhead() bool { return p.isMark(")") || p.isMark("]") || p.isMark("}") }
