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
	defer p.release()
	h := Head{Span: at}
	if p.oneOf("all", "every") {
		p.others(&h)
	} else if h.Round = p.rowWord(); !p.cut {
		p.ranges(&h)
	}
	for p.peek().kind != end {
		p.asides(&h)
	}
	return h, p.problems
}

// ParseAside reads "(RS)" or "(optional in twos)" that stands behind the colon
// of a row line into its head.
func ParseAside(src string, at problem.Span, sizes int, h *Head) []problem.Problem {
	p := newParser(src, at, Options{Sizes: sizes})
	defer p.release()
	p.asides(h)
	return p.problems
}

// headFail reports what is wrong with a head. The rest of it is not read: it
// would be told as more mistakes.
func (p *parser) headFail(at problem.Span, code, format string, args ...any) *problem.Problem {
	fail := p.fail(at, code, format, args...).Suggest("a row begins, for example: Row 1 (RS): or Rounds 3, 7 and 11:")
	p.leave()
	return fail
}

// rowWord takes "row", "rounds", "rnd" and says whether rounds.
func (p *parser) rowWord() bool {
	if !isRow(p.peek().text) {
		p.headFail(p.peek().Span, "row-head", "Row or Round was expected, and %s was found", p.quote(*p.peek()))
		return false
	}
	text := p.take().text
	return strings.HasPrefix(text, "rou") || strings.HasPrefix(text, "rnd")
}

func (p *parser) ranges(h *Head) {
	for {
		from, ok := p.number()
		if !ok {
			p.headFail(p.peek().Span, "row-number", "a row number was expected, and %s was found", p.quote(*p.peek()))
			return
		}
		r := RowRange{from, from}
		if p.isMark("-") || p.peek().text == "to" {
			p.i++
			if r.To, ok = p.number(); !ok {
				p.headFail(p.peek().Span, "row-number", "the last row's number was expected, and %s was found", p.quote(*p.peek()))
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

// others reads what follows "all" or "every": "WS rows", "even round", "other
// row". "Every other row" is every second one; "all other WS rows" are the rest
// of them; other mixtures could be either, and are refused.
func (p *parser) others(h *Head) {
	every := p.tokens[p.i-1].text == "every"
	p.oneOf("foll", "following", "subsequent")
	second := p.oneOf("alt", "alternate") || every && p.oneOf("other")
	rest := !second && p.oneOf("other")
	at := p.peek().Span
	switch {
	case second && isRow(p.peek().text):
		h.Every = EveryOther
	case second:
		p.whichRows(at)
		return
	case p.words("ws"), p.words("wrong", "side"):
		h.Every = EveryWS
	case p.words("rs"), p.words("right", "side"):
		h.Every = EveryRS
	case p.oneOf("even"):
		h.Every = EveryEven
	case p.oneOf("odd"):
		h.Every = EveryOdd
	default:
		if rest {
			at = p.tokens[p.i-1].Span
		}
		p.whichRows(at)
		return
	}
	if p.isMark("-") {
		p.i++
	}
	p.oneOf("numbered", "side")
	if !isRow(p.peek().text) {
		p.headFail(p.peek().Span, "row-head", "rows or rounds was expected, and %s was found", p.quote(*p.peek())).
			Suggest("write, for example: Row 2 and all WS rows:")
		return
	}
	round := p.rowWord()
	h.Round = h.Round || round
}

func (p *parser) whichRows(at problem.Span) {
	found := "nothing"
	if at.End > at.Start {
		found = problem.Quote(p.src[at.Start:at.End])
	}
	p.headFail(at, "row-head", "which rows? One of \"all WS\", \"all RS\", \"every even\", \"every odd\" and \"every other\" was expected, and %s was found", found).
		Suggest("write, for example: Row 2 and all WS rows:")
}

// asides reads what may stand behind the numbers: "(RS)", "[WS]", "(RS,
// optional in twos)", "and all WS rows", with or without brackets.
func (p *parser) asides(h *Head) {
	p.skipSeparators()
	switch t := p.peek(); {
	case p.oneOf("all", "every"):
		p.others(h)
	case t.kind == mark && closers[t.text] != "":
		p.bracketed(func(string) []Node {
			for p.peek().kind != end && !p.closerAhead() {
				p.aside(h)
				p.skipSeparators()
			}
			return nil
		})
	case t.kind != end:
		p.aside(h)
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
		p.headFail(t.Span, "row-head", "%s was found where the colon of the row was expected", p.quote(t))
	}
}

var groupWords = map[string]int{"ones": 1, "twos": 2, "threes": 3, "fours": 4, "fives": 5, "sixes": 6, "sevens": 7, "eights": 8,
	"nines": 9, "tens": 10, "elevens": 11, "twelves": 12}

func (p *parser) optional(h *Head, t token) {
	at := t.Span
	if p.words("in") {
		at = p.peek().Span
		if n, ok := groupWords[p.peek().text]; ok {
			h.Optional = Number{p.take().Span, single(n)}
			return
		}
		if n, ok := p.number(); ok && n.Max() > 0 {
			p.oneOf("s", "rows", "rounds")
			h.Optional = n
			return
		}
	}
	p.headFail(at, "optional", "how many rows may be left out at a time? A number was expected after \"optional in\"").
		Suggest("write: (optional in twos)")
}
