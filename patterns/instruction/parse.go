package instruction

import (
	"sync"

	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// Limits of one row.
const (
	MaxNesting  = 16     // brackets and asterisks inside each other
	MaxStitches = 5_000  // stitches used, or made, by one row
	maxActs     = 20_000 // everything done in one row, markers and beads included
	maxProblems = 100    // problems told of one row
)

// Options is what the parser must know of the pattern around the row.
type Options struct {
	Sizes         int            // how many sizes there are; 0 is taken as 1
	Abbreviations *Abbreviations // the pattern's own; nil for none
	Panels        []string       // panel names that may stand in an Across line
	MaxNesting    int            // 0 is taken as MaxNesting
}

// Parse reads one row's instruction, src[at.Start:at.End], and gives its tree
// with every problem found in it. The tree is whole only when there is none.
// It takes time linear in the length of the text; nothing is expanded.
func Parse(src string, at problem.Span, opts Options) (*Instruction, []problem.Problem) {
	p := newParser(src, at, opts)
	defer p.release()
	body := p.list(listOf{top: true})
	in := &Instruction{Span: at, Body: body, Stated: p.stated}
	if len(body) > 0 {
		in.Span = body[0].Pos().To(body[len(body)-1].Pos())
	} else if len(p.problems) == 0 {
		p.fail(at, "empty-row", "the row says nothing to work").Suggest("write what is worked, such as: k to end")
	}
	if len(p.problems) == 0 {
		p.checkBare(body)
		p.checkAlone(body)
	}
	if len(p.problems) == 0 {
		p.checkSize(body)
	}
	return in, p.problems
}

type parser struct {
	src      string
	tokens   []token
	i        int
	opts     Options
	problems []problem.Problem
	depth    int
	stated   *Number
	bare     []*Work  // "k" or "purl" without a number: the rest of the row
	whole    []Node   // "as row 3" and "repeat rows 1-6": they stand for a whole row
	crossing bool     // inside a longhand cross
	open     []string // what closes the brackets that are open, outermost first
	cut      bool     // the rest of the row was not read: what is missing there is no problem
	phrases  phraseBook
	works    []Work // made, and not given to a node yet
}

func newParser(src string, at problem.Span, opts Options) *parser {
	if opts.Sizes == 0 {
		opts.Sizes = 1
	}
	if opts.MaxNesting == 0 {
		opts.MaxNesting = MaxNesting
	}
	p := parsers.Get().(*parser)
	*p = parser{src: src, tokens: scan(src, at, p.tokens), works: p.works, open: p.open, opts: opts, phrases: phraseBook{opts.Abbreviations}}
	return p
}

// parsers are used again from row to row, for the sake of their lists: a row is
// short, and a pattern has thousands of them.
var parsers = sync.Pool{New: func() any { return new(parser) }}

// release gives the parser back. No node keeps a token, and no other row gets
// the same Work. A list that a hostile row made huge is left to the collector.
func (p *parser) release() {
	if cap(p.tokens) > 1<<14 {
		p.tokens = nil
	}
	*p = parser{tokens: p.tokens[:0], works: p.works, open: p.open[:0]}
	parsers.Put(p)
}

// newWork gives an empty Work. They are made by the dozen, since most of a row
// is these.
func (p *parser) newWork() *Work {
	if len(p.works) == 0 {
		p.works = make([]Work, 24)
	}
	w := &p.works[0]
	p.works = p.works[1:]
	return w
}

func (p *parser) peek() *token { return &p.tokens[p.i] }

// ahead looks n tokens on; past the end it gives the end.
func (p *parser) ahead(n int) *token { return &p.tokens[min(p.i+n, len(p.tokens)-1)] }

func (p *parser) take() *token {
	t := &p.tokens[p.i]
	if t.kind != end {
		p.i++
	}
	return t
}

func (p *parser) isMark(text string) bool {
	t := p.peek()
	return t.kind == mark && t.text == text
}

// words takes the given words if they all stand next.
func (p *parser) words(texts ...string) bool {
	for n, text := range texts {
		if t := p.ahead(n); t.kind != word || t.text != text {
			return false
		}
	}
	p.i += len(texts)
	return true
}

// oneOf takes the next word if it is one of those given.
func (p *parser) oneOf(texts ...string) bool {
	for _, text := range texts {
		if p.words(text) {
			return true
		}
	}
	return false
}

// since is the span from a start to the last token taken.
func (p *parser) since(start int) problem.Span {
	last := start
	if p.i > 0 {
		last = max(start, p.tokens[p.i-1].End)
	}
	return problem.Span{Start: start, End: last}
}

// fail reports a problem. The same one at the same place is told once, though
// the parser may have come by it on two ways; and past maxProblems the rest of
// the row is not read, since a text with so many is no instruction.
func (p *parser) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	told := problem.Errorf(at, code, format, args...)
	n := len(p.problems)
	if n > maxProblems {
		return told
	}
	if n > 0 && p.problems[n-1].Span == at && p.problems[n-1].Code == code {
		return &p.problems[n-1]
	}
	if n == maxProblems {
		told = problem.Errorf(at, "too-many", "this row has more than %d problems; the rest of it was not read", maxProblems)
		p.leave()
	}
	p.problems = append(p.problems, *told)
	return &p.problems[n]
}

// listOf says what kind of list is being read, and so what ends it.
type listOf struct {
	top   bool // the whole row
	stars int  // an asterisk list: as many asterisks; it ends before its "rep from"
}

// list reads items up to what ends the list, which it leaves unread.
func (p *parser) list(of listOf) []Node {
	nodes := make([]Node, 0, 4)
	for {
		p.skipSeparators()
		if p.endsList(of) {
			return nodes
		}
		if p.takesStated(of.top) {
			continue
		}
		before, failed := p.i, len(p.problems)
		node := p.item()
		if node != nil {
			nodes = append(nodes, node)
		}
		switch {
		case len(p.problems) > failed:
			p.recover(of)
		case !p.atSeparator() && !p.endsList(of) && !p.closerAhead() && !p.isMark("*") && !p.statedAhead() && !p.remark():
			p.commaMissing()
			p.recover(of)
		}
		if p.i == before { // never stand still
			p.take()
		}
	}
}

func (p *parser) atSeparator() bool {
	t := p.peek()
	switch t.kind {
	case mark:
		return t.text == "," || t.text == ";" || t.text == "."
	case word:
		return t.text == "and" || t.text == "then"
	}
	return false
}

func (p *parser) skipSeparators() {
	for p.atSeparator() {
		p.i++
	}
}

func (p *parser) endsList(of listOf) bool {
	t := p.peek()
	switch {
	case t.kind == end:
		return true
	case p.closerAhead():
		return len(p.open) > 0
	case of.stars > 0:
		return p.repAhead() || p.closingStars(of.stars)
	}
	return false
}

// recover skips to where the next item may begin, so that one mistake is told
// once and the rest of the row is still read.
func (p *parser) recover(of listOf) {
	for depth := 0; ; p.i++ {
		t := p.peek()
		if t.kind == end {
			return
		}
		if t.kind != mark {
			continue
		}
		switch t.text {
		case "(", "[", "{":
			depth++
		case ")", "]", "}":
			if depth == 0 {
				return
			}
			depth--
		case ",", ";", ".":
			if depth == 0 {
				return
			}
		}
	}
}

// item reads one item: a group, a repeat or a single thing to do.
func (p *parser) item() Node {
	t := p.peek()
	switch {
	case t.kind == mark && (t.text == "[" || t.text == "(" || t.text == "{"):
		return p.group()
	case t.kind == mark && t.text == "*":
		return p.starred()
	case t.kind == mark && (t.text == ")" || t.text == "]" || t.text == "}"):
		p.fail(t.Span, "bracket-unopened", "%s closes a group here, and none is open", p.quote(*t)).Suggest("take it out, or open the group where it begins")
		p.take()
		return nil
	case t.kind == word, t.kind == number:
		return p.named()
	}
	p.misplaced(*t)
	return nil
}

func (p *parser) misplaced(t token) {
	if t.kind == bad {
		p.fail(t.Span, "character", "the character %s has no meaning in a row", p.quote(t)).Suggest("take it out")
		return
	}
	p.fail(t.Span, "character", "a stitch or a group was expected here, and %s was found", p.quote(t)).Suggest("take it out, or write what is worked here")
}

// namesSomething says that an item can begin with the next token.
func (p *parser) namesSomething() bool {
	start := p.i
	_, named := p.phrases.match(p)
	p.i = start
	return named || p.opener()
}

// glued is where the letters and numbers begin that the next token is glued to.
func (p *parser) glued() int {
	i := p.i
	for i > 0 && p.tokens[i].glued && (p.tokens[i-1].kind == word || p.tokens[i-1].kind == number) {
		i--
	}
	return i
}

func (p *parser) commaMissing() {
	t := *p.peek()
	if t.kind == bad {
		p.misplaced(t)
		return
	}
	if t.kind == word && t.glued && !p.namesSomething() {
		p.i = p.glued()
		p.unknown() // k2togg is one name, and a wrong one
		return
	}
	fail := p.fail(t.Span, "comma-missing", "a comma was expected before %s", p.quote(t))
	switch t.text {
	case "with", "using":
		fail.Suggest("name the yarn first, then what is worked with it: with MC, k2")
	case "to", "until", "around", "across":
		fail.Suggest("put what repeats in brackets: [k2, p2] to end")
	case "over":
		fail.Suggest("leave it out: the name of a stitch says how many it takes")
	case "(", "[":
		fail.Suggest("put a comma before a group; a remark belongs on a line below the row: Tip: ...")
	case "in", "loosely", "knitwise", "purlwise", "kwise", "pwise":
		fail.Suggest("a yarn is named first: with MC, k2; a remark belongs on a line below the row: Tip: ...")
	default:
		fail.Suggest("put a comma between one stitch and the next: k2, p2")
	}
}

// quote gives a token as it stands in the source, in quotation marks; where the
// text is at its end, that nothing stands there.
func (p *parser) quote(t token) string {
	if t.kind == end {
		return "nothing"
	}
	return problem.Quote(p.src[t.Start:t.End])
}

// enter counts a level of nesting; it reports the first level too many, and
// then the rest of the row is not read.
func (p *parser) enter(at problem.Span) bool {
	p.depth++
	if p.depth <= p.opts.MaxNesting {
		return true
	}
	p.fail(at, "nesting", "groups stand inside each other more than %d deep here", p.opts.MaxNesting).
		Suggest("write the innermost group out, or give it an Abbreviation line")
	p.leave()
	return false
}

// leave gives up the rest of the row.
func (p *parser) leave() {
	p.cut = true
	p.tokens = append(p.tokens[:p.i], p.tokens[len(p.tokens)-1])
}

// repeated wraps what has no count of its own; at is the span of both.
func repeated(n Node, at problem.Span, by Extent) Node {
	if by.once() {
		return n
	}
	return &Repeat{Span: at, Body: []Node{n}, Extent: by}
}

func (p *parser) stitch(s *stitch.Stitch) *Work {
	w := p.newWork()
	w.Stitch, w.Extent = s, once()
	return w
}
