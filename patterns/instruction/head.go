package instruction

import (
	"strings"

	"clew/patterns/problem"
)

// A Side is the side of the fabric that faces the knitter.
type Side uint8

// The sides; a line may leave it unsaid.
const (
	SideUnsaid Side = iota
	RS
	WS
)

// String gives the trade's letters, or nothing.
func (s Side) String() string { return [...]string{"", "RS", "WS"}[s] }

// Other gives the other side; of an unsaid side, an unsaid one.
func (s Side) Other() Side { return [...]Side{SideUnsaid, WS, RS}[s] }

// An Every is which further rows a line stands for: "and all WS rows".
type Every uint8

// The kinds of further rows.
const (
	NoOthers Every = iota
	EveryWS
	EveryRS
	EveryEven
	EveryOdd
	EveryOther // every second row from the one named
)

// A RowRange is the rows from one number to another, both included.
type RowRange struct{ From, To Number }

// A Head is what stands before the colon of a row line.
type Head struct {
	problem.Span
	Round    bool // written as rounds
	Ranges   []RowRange
	Every    Every
	Side     Side
	Optional Number // how many rows at a time a knitter may leave out; empty: none
}

// ParseHead reads what stands before the colon: "Row 1 (RS)", "Rounds 3, 7 and
// 11", "Row 2 and all WS rows", "Rounds 5-8 (optional in twos)".
func ParseHead(src string, at problem.Span, sizes int) (Head, []problem.Problem) {
	p := newParser(src, at, Options{Sizes: sizes})
	h := Head{Span: at}
	if p.oneOf("all", "every") {
		p.others(&h)
	} else {
		h.Round = p.rowWord()
		p.ranges(&h)
	}
	for p.peek().kind != end && len(p.problems) == 0 {
		p.asides(&h)
	}
	return h, p.problems
}

// asides reads "(RS)", "[WS]", "(RS, optional in twos)", or the same without
// brackets.
func (p *parser) asides(h *Head) {
	p.skipSeparators()
	if p.peek().kind != mark || closers[p.peek().text] == "" {
		p.aside(h)
		return
	}
	p.bracketed(func(closer string) []Node {
		for !p.isMark(closer) && p.peek().kind != end && len(p.problems) == 0 {
			p.aside(h)
			p.skipSeparators()
		}
		return nil
	})
}

// rowWord takes "row", "rounds", "rnd" and says whether rounds.
func (p *parser) rowWord() bool {
	if !isRow(p.peek().text) {
		p.fail(p.peek().Span, "row-head", "Row or Round was expected, and %s was found", p.quote(*p.peek()))
		return false
	}
	text := p.take().text
	return strings.HasPrefix(text, "rou") || strings.HasPrefix(text, "rnd")
}

func (p *parser) ranges(h *Head) {
	for {
		from, ok := p.number()
		if !ok {
			p.fail(p.peek().Span, "row-number", "a row number was expected, and %s was found", p.quote(*p.peek()))
			return
		}
		r := RowRange{from, from}
		if p.isMark("-") || p.peek().text == "to" {
			p.i++
			if r.To, ok = p.number(); !ok {
				p.fail(p.peek().Span, "row-number", "the last row's number was expected, and %s was found", p.quote(*p.peek()))
				return
			}
		}
		h.Ranges = append(h.Ranges, r)
		switch {
		case p.isMark(","):
			p.i++
			p.oneOf("and")
		case p.isMark("&"), p.peek().text == "and":
			p.i++
		default:
			return
		}
		if p.oneOf("all", "every") {
			p.others(h)
			return
		}
	}
}

// others reads "all WS rows", "every even round", "every other row".
func (p *parser) others(h *Head) {
	p.oneOf("foll", "following", "subsequent")
	switch {
	case p.words("ws"), p.words("wrong", "side"):
		h.Every = EveryWS
	case p.words("rs"), p.words("right", "side"):
		h.Every = EveryRS
	case p.oneOf("even"):
		h.Every = EveryEven
	case p.oneOf("odd"):
		h.Every = EveryOdd
	case p.oneOf("other", "alt", "alternate"):
		h.Every = EveryOther
		p.otherSide(h)
	default:
		p.fail(p.peek().Span, "row-head", "which rows? WS, RS, even, odd or other was expected, and %s was found", p.quote(*p.peek()))
		return
	}
	if p.isMark("-") {
		p.i++
	}
	p.oneOf("numbered", "side")
	if !isRow(p.peek().text) {
		p.fail(p.peek().Span, "row-head", "rows or rounds was expected, and %s was found", p.quote(*p.peek()))
		return
	}
	round := p.rowWord()
	h.Round = h.Round || round
}

// otherSide reads the side in "all other WS rows".
func (p *parser) otherSide(h *Head) {
	switch {
	case p.words("ws"):
		h.Every = EveryWS
	case p.words("rs"):
		h.Every = EveryRS
	case p.oneOf("even"):
		h.Every = EveryEven
	case p.oneOf("odd"):
		h.Every = EveryOdd
	}
}

// aside reads "RS", "wrong side", "optional in twos".
func (p *parser) aside(h *Head) {
	t := *p.take()
	switch {
	case t.text == "rs", t.text == "right":
		p.oneOf("side")
		h.Side = RS
	case t.text == "ws", t.text == "wrong":
		p.oneOf("side")
		h.Side = WS
	case t.text == "optional":
		p.optional(h, t)
	default:
		p.fail(t.Span, "row-head", "%s was found where the colon of the row was expected", p.quote(t)).
			Suggest("write the row's number, then a colon: Row 1 (RS): k to end")
	}
}

var groupWords = map[string]int{"ones": 1, "twos": 2, "threes": 3, "fours": 4, "fives": 5, "sixes": 6, "sevens": 7, "eights": 8,
	"nines": 9, "tens": 10, "elevens": 11, "twelves": 12}

func (p *parser) optional(h *Head, t token) {
	if !p.words("in") {
		p.fail(t.Span, "optional", "how many rows may be left out at a time?").Suggest("write: (optional in twos)")
		return
	}
	if n, ok := groupWords[p.peek().text]; ok {
		h.Optional = Number{p.take().Span, []int{n}}
		return
	}
	n, ok := p.number()
	if !ok || n.Max() == 0 {
		p.fail(p.peek().Span, "optional", "how many rows may be left out at a time? %s was found", p.quote(*p.peek())).Suggest("write: (optional in twos)")
		return
	}
	p.oneOf("s", "rows", "rounds")
	h.Optional = n
}
