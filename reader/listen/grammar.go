package listen

import (
	_ "embed"
	"fmt"
	"strings"
)

// The grammar is read once, from grammar.txt, which explains its own notation.
//
//go:embed grammar.txt
var grammarText string

// rank orders the rules: words that fit an exact rule are never held against a looser one.
type rank int

const (
	exact rank = iota
	ask        // two readings are near: Clew asks
	loose      // the words point one way; only intents that move nothing
)

// rule is one phrase of the grammar and what it asks for.
type rule struct {
	rank      rank
	intent    Intent
	says      bool     // it states something, so with a question mark behind it Clew asks
	near      []Intent // for rank ask
	question  string   // for rank ask
	phrase    *node
	line      int             // in grammar.txt
	firstWord map[string]bool // the words that it can begin with; nil when they can't be told
}

type kind int

const (
	kWord      kind = iota
	kExactWord      // a word, and no sound-alike of it
	kSeq
	kAlt
	kMaybe
	kNumber       // a number, or a sound-alike of one
	kStrictNumber // a number with a word that means nothing else
	kOrdinal
	kOtherNumber // a number that isn't the one asked about
	kStitch      // a term of the glossary
	kAsSaid      // one to four words, kept as they were said
	kSection     // the name of a section
	kAnySection  // one to three words that may be the name of a section
	kPlain       // any run of words that say nothing by themselves
	kSome        // one to four words, whatever they are
	kKeep        // its words are what is asked about
)

var marks = map[string]kind{"#": kNumber, "#!": kStrictNumber, "#th": kOrdinal, "#-": kOtherNumber, "@": kStitch, "~": kAsSaid,
	"%": kSection, "%%": kAnySection, "*": kPlain, "+": kSome}

type node struct {
	kind kind
	word string
	kids []*node
}

type grammar struct {
	rules  []rule
	macros map[string]*node
}

// readGrammar reads the notation of grammar.txt. It panics on a mistake in it, naming the line: the text is part of the program.
func readGrammar(text string) *grammar {
	g := &grammar{macros: map[string]*node{}}
	var head rule
	var lead string
	line := 0
	for l := range strings.Lines(text) {
		line++
		l = strings.TrimRight(l, " \n")
		switch {
		case strings.TrimSpace(l) == "" || strings.HasPrefix(l, "//"):
		case strings.HasPrefix(l, "  "):
			r := head
			r.line = line
			r.phrase = g.parse(line, lead+l)
			if loosely(r.phrase) {
				r.rank = max(r.rank, loose)
			}
			if r.rank == loose && r.intent.Moves() {
				panic(fmt.Sprintf("grammar.txt:%d: a loose phrase for %s, which moves", line, r.intent))
			}
			r.firstWord = map[string]bool{}
			if !starts(r.phrase, r.firstWord) {
				r.firstWord = nil
			}
			g.rules = append(g.rules, r)
		default:
			if name, phrase, ok := strings.Cut(l, " = "); ok {
				g.macros[name] = g.parse(line, phrase)
				continue
			}
			head, lead = readHead(line, l)
		}
	}
	return g
}

// readHead reads "next says: {lead}" or "ask row at: The question?".
func readHead(line int, l string) (r rule, lead string) {
	before, after, ok := strings.Cut(l, ":")
	words := strings.Fields(before)
	if !ok || len(words) == 0 {
		panic(fmt.Sprintf("grammar.txt:%d: expected a heading, found %q", line, l))
	}
	if words[0] == "ask" {
		r = rule{rank: ask, intent: Unsure, question: strings.TrimSpace(after)}
		for _, w := range words[1:] {
			r.near = append(r.near, Intent(w))
		}
		return r, ""
	}
	r.intent = Intent(words[0])
	for _, w := range words[1:] {
		switch w {
		case "says":
			r.says = true
		case "loose":
			r.rank = loose
		default:
			panic(fmt.Sprintf("grammar.txt:%d: unknown word %q in a heading", line, w))
		}
	}
	return r, after
}

// parse reads one phrase: words, [maybe], (one|or|another), {macro} and the marks.
func (g *grammar) parse(line int, text string) *node {
	for _, c := range []string{"[", "]", "(", ")", "|", "{", "}", "<", ">"} {
		text = strings.ReplaceAll(text, c, " "+c+" ")
	}
	p := phraseParser{g: g, line: line, in: strings.Fields(text)}
	n := p.alternatives()
	if p.at < len(p.in) {
		p.fail("nothing more")
	}
	return n
}

type phraseParser struct {
	g    *grammar
	line int
	in   []string
	at   int
}

func (p *phraseParser) fail(expected string) {
	panic(fmt.Sprintf("grammar.txt:%d: expected %s at word %d of %q", p.line, expected, p.at+1, strings.Join(p.in, " ")))
}

func (p *phraseParser) next() string {
	if p.at == len(p.in) {
		return ""
	}
	return p.in[p.at]
}

func (p *phraseParser) expect(s string) {
	if p.next() != s {
		p.fail(s)
	}
	p.at++
}

func (p *phraseParser) alternatives() *node {
	n := p.sequence()
	if p.next() != "|" {
		return n
	}
	alt := &node{kind: kAlt, kids: []*node{n}}
	for p.next() == "|" {
		p.at++
		alt.kids = append(alt.kids, p.sequence())
	}
	return alt
}

func (p *phraseParser) sequence() *node {
	seq := &node{kind: kSeq}
	for {
		s := p.next()
		switch s {
		case "", "|", ")", "]", ">":
			if len(seq.kids) == 0 {
				p.fail("a phrase")
			}
			if len(seq.kids) == 1 {
				return seq.kids[0]
			}
			return seq
		case "(", "[", "<":
			p.at++
			n := p.alternatives()
			switch s {
			case "(":
				p.expect(")")
			case "[":
				p.expect("]")
				n = &node{kind: kMaybe, kids: []*node{n}}
			case "<":
				p.expect(">")
				n = &node{kind: kKeep, kids: []*node{n}}
			}
			seq.kids = append(seq.kids, n)
		case "{":
			p.at++
			n, ok := p.g.macros[p.next()]
			if !ok {
				p.fail("a name that is defined above")
			}
			p.at++
			p.expect("}")
			seq.kids = append(seq.kids, n)
		default:
			p.at++
			if k, ok := marks[s]; ok {
				seq.kids = append(seq.kids, &node{kind: k})
			} else if plain, ok := strings.CutPrefix(s, "="); ok {
				seq.kids = append(seq.kids, &node{kind: kExactWord, word: plain})
			} else {
				seq.kids = append(seq.kids, &node{kind: kWord, word: s})
			}
		}
	}
}

// loosely reports whether the phrase passes over words that it doesn't name.
func loosely(n *node) bool {
	if n.kind == kPlain {
		return true
	}
	for _, k := range n.kids {
		if loosely(k) {
			return true
		}
	}
	return false
}

// starts gathers the words that n can begin with and reports whether those are all: false where n can begin with a mark.
func starts(n *node, into map[string]bool) bool {
	switch n.kind {
	case kWord, kExactWord:
		into[n.word] = true
		return true
	case kMaybe, kKeep:
		return starts(n.kids[0], into)
	case kAlt:
		for _, k := range n.kids {
			if !starts(k, into) {
				return false
			}
		}
		return true
	case kSeq:
		for _, k := range n.kids {
			if !starts(k, into) {
				return false
			}
			if !empty(k) {
				return true
			}
		}
		return true
	}
	return false
}

// empty reports whether n can stand for no words at all.
func empty(n *node) bool {
	switch n.kind {
	case kMaybe, kPlain:
		return true
	case kAlt:
		for _, k := range n.kids {
			if empty(k) {
				return true
			}
		}
	case kSeq:
		for _, k := range n.kids {
			if !empty(k) {
				return false
			}
		}
		return true
	}
	return false
}
