package instruction

import (
	"slices"
	"strings"

	"clew/patterns/problem"
)

var closers = map[string]string{"(": ")", "[": "]", "{": "}"}

// group reads "[ ... ] 4 times", "( ... ) to end" and "( ... ) in next st".
func (p *parser) group() Node {
	known := len(p.problems)
	open, body, ok := p.bracketed(func(closer string) []Node { return p.list(listOf{}) })
	if !ok {
		return nil
	}
	whole := p.since(open.Start)
	if len(body) == 0 {
		if len(p.problems) == known {
			p.fail(whole, "empty-group", "the brackets hold nothing to work").Suggest("write the stitches that repeat between them, or take them out")
		}
		return nil
	}
	if into, each := p.intoStitch(); into {
		at := p.since(open.Start)
		into := repeated(&Into{Span: at, Body: body}, at, each)
		if times, ok := p.extent(); ok {
			at = p.since(open.Start)
			return repeated(into, at, times)
		}
		return into
	}
	extent, found := p.extent()
	if !found {
		if len(p.problems) == known {
			p.fail(whole, "repeat-count", "how often is this group worked? A number was expected after %q", closers[open.text]).
				Suggest("write behind it: 2 times, or: to end, or: in next st")
		}
		return nil
	}
	return &Repeat{Span: p.since(open.Start), Body: body, Extent: extent}
}

// bracketed reads a bracket, what stands in it, and the bracket that closes
// it. It says false where that is missing, or the brackets stand too deep.
func (p *parser) bracketed(read func(closer string) []Node) (open token, body []Node, ok bool) {
	open = *p.take()
	closer := closers[open.text]
	p.open = append(p.open, closer)
	known := len(p.problems)
	if p.enter(open.Span) {
		body = read(closer)
	}
	p.depth--
	p.open = p.open[:len(p.open)-1]
	if p.peek().kind == end && len(p.problems) == known+1 && p.problems[known].Code == "comma-missing" {
		p.problems = p.problems[:known] // what follows the group was read as part of it
	}
	return open, body, p.closes(open)
}

// closes takes the bracket that closes open, and says where open stands when
// there is none.
func (p *parser) closes(open token) bool {
	t := p.peek()
	closer := closers[open.text]
	switch {
	case t.kind == mark && t.text == closer:
		p.take()
		return true
	case p.cut:
		return false
	case t.kind != mark || closers[t.text] != "" || !p.closerAhead():
		p.fail(open.Span, "bracket-unclosed", "%s is opened here and never closed", p.quote(open)).
			Suggest("close it with %s where the group ends", closer)
		return false
	}
	at := problem.Locate([]byte(p.src), open.Start)
	p.fail(t.Span, "bracket-mismatch", "%q was expected, to close the %s that was opened in line %d, column %d, and %s was found",
		closer, p.quote(open), at.Line, at.Col, p.quote(*t)).Suggest("close each group with the kind of bracket that opened it")
	if !slices.Contains(p.open, t.text) { // else it closes a group around this one
		p.take()
	}
	return false
}

// intoStitch takes "in next st", "into 1 st", "in the same st" and "in each of
// next 3 sts", and says how many stitches are worked so.
func (p *parser) intoStitch() (bool, Extent) {
	start := p.i
	p.oneOf("all")
	if !p.oneOf("in", "into") {
		p.i = start
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

// maxStars is how many asterisks can mark the beginning of a repeat, each
// number a level of its own.
const maxStars = 4

// starred reads "*...; rep from * to end" and its second level "**".
func (p *parser) starred() Node {
	start, known := *p.peek(), len(p.problems)
	level := p.stars()
	p.i += level
	if level > maxStars {
		p.fail(p.since(start.Start), "star-level", "%d asterisks stand here, and groups begin with %d at most", level, maxStars).
			Suggest("put the inner groups in brackets: [...] 4 times")
		return nil
	}
	var body []Node
	if p.enter(start.Span) {
		body = p.list(listOf{stars: level})
	}
	p.depth--
	closed := p.closingStars(level)
	if closed {
		p.i += level
		if e, ok := p.extent(); ok { // *k2, p2* 4 times
			return p.starGroup(start, body, e, known)
		}
		p.skipSeparators()
	}
	if !p.repAhead() {
		if len(p.problems) == known {
			asterisks := strings.Repeat("*", level)
			p.fail(start.Span, "star-unrepeated", "no \"rep from %s\" follows this asterisk", asterisks).
				Suggest("end the group with, for example: rep from %s to end", asterisks)
		}
		return nil
	}
	from := *p.take()
	if !p.words("from") { // rep to end
		e, _ := p.extent()
		return p.starGroup(start, body, e, known)
	}
	if n := p.stars(); n != level {
		began, found := strings.Repeat("*", level), strings.Repeat("*", min(n, level+1))
		p.fail(p.peek().Span, "star-level", "this repeats from %s, and the group that is open here began with %s", found, began).
			Suggest("write: rep from %s", began)
	}
	p.i += p.stars()
	extent, ok := p.repExtent(from)
	if !ok {
		return nil
	}
	return p.starGroup(start, body, extent, known)
}

func (p *parser) starGroup(start token, body []Node, extent Extent, known int) Node {
	if len(body) == 0 {
		if len(p.problems) == known {
			p.fail(p.since(start.Start), "empty-group", "there is nothing to work between the asterisk and its repeat").
				Suggest("write the stitches that repeat behind the asterisk")
		}
		return nil
	}
	return &Repeat{Span: p.since(start.Start), Body: body, Extent: extent}
}

// repAhead says that "rep from *" stands next, or "rep to end", which says the
// same where an asterisk is open.
func (p *parser) repAhead() bool {
	if p.repFromAhead() {
		return true
	}
	start := p.i
	repeats := false
	if p.oneOf("rep", "repeat") {
		_, repeats = p.reach()
	}
	p.i = start
	return repeats
}

// repFromAhead says that "rep from *" stands next.
func (p *parser) repFromAhead() bool {
	a, b, c := p.peek(), p.ahead(1), p.ahead(2)
	return a.kind == word && (a.text == "rep" || a.text == "repeat") &&
		b.kind == word && b.text == "from" && c.kind == mark && c.text == "*"
}

// closingStars says that the asterisks that stand next close the list, since a
// "rep from" or a count follows them.
func (p *parser) closingStars(level int) bool {
	if p.stars() != level {
		return false
	}
	start := p.i
	p.i += level
	_, closing := p.extent()
	if !closing {
		p.skipSeparators()
		closing = p.repAhead()
	}
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
		p.fail(p.since(from.Start), "two-meanings", "%d times in all, or %d more times? Print uses this for both", n, n).
			Suggest("for %d more, which is %d in all, write: rep from * %d more times; for %d in all put the group in brackets: [...] %d times", n, n+1, n, n, n)
		return Extent{}, false
	}
	return extent, true
}

// moreTimes reads "4 more times", "4 times more", "once more", "twice more".
func (p *parser) moreTimes() (Number, bool) {
	at := p.peek().Span
	switch {
	case p.words("once", "more"), p.words("one", "more", "time"):
		return Number{at, single(1)}, true
	case p.words("twice", "more"):
		return Number{at, single(2)}, true
	}
	start := p.i
	n, found := p.number()
	if found && (p.words("more", "times") || p.words("more", "time") || p.words("times", "more") || p.words("time", "more")) {
		return n, true
	}
	p.i = start
	return Number{}, false
}
