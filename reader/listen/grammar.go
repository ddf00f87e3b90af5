package listen

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// The grammar is read once, from grammar.txt, which explains its own notation; wishes.txt, which is about fit, yarn and pictures; and group.txt, which is
// about the group and what a member has missed of it.
var (
	//go:embed grammar.txt
	grammarText string
	//go:embed wishes.txt
	wishesText string
	//go:embed group.txt
	groupText string
)

// rank orders the rules: words that fit an exact rule are never held against a looser one.
type rank int

const (
	exact rank = iota
	ask        // two readings are near: Clew asks
	loose      // the words point one way; only intents that move nothing
)

// rule is one phrase of the grammar and what it asks for.
type rule struct {
	rank     rank
	intent   Intent
	says     bool     // it states something, so with a question mark behind it Clew asks
	more     bool     // of help and catchup, what they do not tell at first
	fit      FitKind  // of fit, what is asked in particular
	part     string   // of catchup, what is asked in particular
	setting  Setting  // of settings, what is to be changed
	near     []Intent // for rank ask
	question string   // for rank ask
	phrase   *node
	needs    []bitset // of each of these, one word is in every such phrase
}

// changes reports whether the rule's intent moves a place or a member, or its wish changes a plan.
func (r *rule) changes() bool { return r.intent.Moves() || r.fit.changes() }

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
	kOwnName     // a term that is more than one word, or a word that the grammar doesn't have
	kAsSaid      // one to four words, kept as they were said
	kCode        // one word that looks like an abbreviation, kept as it was said
	kSection     // the name of a section
	kAnySection  // one to three words that may be the name of a section
	kPlain       // any run of words that the grammar knows, but refusals
	kSome        // one to four words, whatever they are
	kKeep        // its words are what is asked about
	kPick        // its words go into a slot

	kFraction       // a number, with a fraction or without
	kStrictFraction // the same, with a word that means nothing else
	kLength         // a length with its unit
	kPer            // a length, or one of a unit
	kAmount         // so much yarn, with its unit
)

var marks = map[string]kind{"#": kNumber, "#!": kStrictNumber, "#th": kOrdinal, "#-": kOtherNumber, "@": kStitch, "@@": kOwnName, "~": kAsSaid, "~~": kCode,
	"%": kSection, "%%": kAnySection, "*": kPlain, "+": kSome,
	"##": kFraction, "##!": kStrictFraction, "#cm": kLength, "#per": kPer, "#g": kAmount}

// node is a phrase or a part of one.
type node struct {
	kind  kind
	words bitset // for kWord: any one of them; for a length or an amount: the units
	word  string
	kids  []*node
	slot  slot // for kPick

	// So that most rules are passed over at a glance:
	first bitset // the words that it can begin with; nil where it can begin with a mark, or stand for no words at all
	empty bool   // it can stand for no words
}

type grammar struct {
	rules  []rule
	macros map[string]*node
	ids    map[string]int // every word of the grammar, numbered
	common int            // those with smaller numbers may be passed over

	file string // what is being read, for mistakes
	line int
}

// readGrammar reads the notation of grammar.txt. It panics on a mistake in it, naming the line: the text is part of the program.
func readGrammar(text string) *grammar {
	g := &grammar{macros: map[string]*node{}, ids: map[string]int{}}
	g.read("grammar.txt", text)
	g.common = len(g.ids)
	return g
}

// read adds the phrases of a text to the grammar.
func (g *grammar) read(file, text string) {
	var head rule
	var lead string
	g.file, g.line = file, 0
	for l := range strings.Lines(text) {
		g.line++
		l = strings.TrimRight(l, " \n")
		switch {
		case strings.TrimSpace(l) == "" || strings.HasPrefix(l, "//"):
		case strings.HasPrefix(l, "  "):
			r := head
			r.phrase = g.parse(lead + l)
			if loosely(r.phrase) {
				r.rank = max(r.rank, loose)
			}
			if r.rank == loose && r.changes() {
				g.fail("a loose phrase for %s, which moves", strings.TrimSpace(string(r.intent)+" "+string(r.fit)))
			}
			r.needs = needs(r.phrase)
			g.rules = append(g.rules, r)
		default:
			if name, phrase, ok := strings.Cut(l, " = "); ok {
				if g.macros[name] != nil {
					g.fail("the name %q stands twice", name)
				}
				g.macros[name] = g.parse(phrase)
				continue
			}
			head, lead = g.readHead(l)
		}
	}
}

// fail stops the program: the text of the grammar is part of it.
func (g *grammar) fail(format string, args ...any) {
	panic(fmt.Sprintf("%s:%d: ", g.file, g.line) + fmt.Sprintf(format, args...))
}

// readHead reads "next says: {lead}", "fit longer: {lead}" or "ask row at: The question?".
func (g *grammar) readHead(l string) (r rule, lead string) {
	before, after, ok := strings.Cut(l, ":")
	words := strings.Fields(before)
	if !ok || len(words) == 0 {
		g.fail("expected a heading, found %q", l)
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
		case "more":
			r.more = true
		default:
			if !r.asksFor(w) {
				g.fail("unknown word %q in a heading", w)
			}
		}
	}
	return r, after
}

// asksFor sets what is asked in particular. It is false where nothing of the rule's intent has that name.
func (r *rule) asksFor(name string) bool {
	switch r.intent {
	case Fit:
		r.fit = FitKind(name)
		return slices.Contains(fitKinds, r.fit)
	case Catchup:
		r.part, r.more = name, true
		return slices.Contains(catchupParts, name)
	case Settings:
		r.setting = Setting(name)
		return slices.Contains(settings, r.setting)
	}
	return false
}

// parse reads one phrase: words, [maybe], (one|or|another), {macro} and the marks.
func (g *grammar) parse(text string) *node {
	for _, c := range []string{"[", "]", "(", ")", "|", "{", "}", "<", ">"} {
		text = strings.ReplaceAll(text, c, " "+c+" ")
	}
	text = strings.ReplaceAll(text, ":", ": ")
	p := phraseParser{g: g, in: strings.Fields(text)}
	n := p.alternatives()
	if p.at < len(p.in) {
		p.fail("nothing more")
	}
	return n
}

type phraseParser struct {
	g  *grammar
	in []string
	at int
}

func (p *phraseParser) fail(expected string) {
	p.g.fail("expected %s at word %d of %q", expected, p.at+1, strings.Join(p.in, " "))
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
	kids := []*node{n}
	for p.next() == "|" {
		p.at++
		kids = append(kids, p.sequence())
	}
	return either(kids)
}

func (p *phraseParser) sequence() *node {
	var kids []*node
	for {
		switch p.next() {
		case "", "|", ")", "]", ">":
			if len(kids) == 0 {
				p.fail("a phrase")
			}
			if len(kids) == 1 {
				return kids[0]
			}
			return sequence(kids)
		}
		kids = append(kids, p.element())
	}
}

func (p *phraseParser) element() *node {
	s := p.next()
	p.at++
	switch s {
	case "(":
		n := p.alternatives()
		p.expect(")")
		return n
	case "[":
		n := p.alternatives()
		p.expect("]")
		return &node{kind: kMaybe, kids: []*node{n}, empty: true}
	case "<":
		n := p.alternatives()
		p.expect(">")
		return &node{kind: kKeep, kids: []*node{n}, first: n.first, empty: n.empty}
	case "{":
		n, ok := p.g.macros[p.next()]
		if !ok {
			p.fail("a name that is defined above")
		}
		p.at++
		p.expect("}")
		return n
	}
	if name, ok := strings.CutSuffix(s, ":"); ok {
		if !slices.Contains(slots, slot(name)) || p.next() == "" {
			p.fail("a slot and what goes into it")
		}
		n := p.element()
		return &node{kind: kPick, slot: slot(name), kids: []*node{n}, first: n.first, empty: n.empty}
	}
	return p.g.leaf(s)
}

func (g *grammar) leaf(s string) *node {
	if k, ok := marks[s]; ok {
		n := &node{kind: k, empty: k == kPlain}
		for _, word := range slices.Sorted(maps.Keys(units[k])) {
			n.words = n.words.with(g.id(word))
		}
		return n
	}
	n := &node{kind: kWord}
	if plain, ok := strings.CutPrefix(s, "="); ok {
		n.kind, n.word, s = kExactWord, plain, plain
	}
	n.words = n.words.with(g.id(s))
	n.first = n.words
	return n
}

// id gives the number of a word.
func (g *grammar) id(word string) int {
	id, ok := g.ids[word]
	if !ok {
		id = len(g.ids)
		g.ids[word] = id
	}
	return id
}

// either makes alternatives; those that are single words become one node.
func either(kids []*node) *node {
	n := &node{kind: kAlt}
	words := &node{kind: kWord}
	told := true
	for _, k := range kids {
		n.empty = n.empty || k.empty
		told = told && k.first != nil
		n.first = n.first.or(k.first)
		if k.kind == kWord {
			words.words = words.words.or(k.words)
			continue
		}
		n.kids = append(n.kids, k)
	}
	if !told {
		n.first = nil
	}
	words.first = words.words
	switch {
	case words.words == nil:
	case len(n.kids) == 0:
		return words
	default:
		n.kids = append(n.kids, words)
	}
	return n
}

func sequence(kids []*node) *node {
	n := &node{kind: kSeq, kids: kids, empty: true}
	told := true
	for _, k := range kids {
		begins := k.first
		if k.kind == kMaybe {
			begins = k.kids[0].first
		}
		if n.empty {
			told = told && begins != nil
			n.first = n.first.or(begins)
		}
		n.empty = n.empty && k.empty
	}
	if !told || n.empty {
		n.first = nil
	}
	return n
}

// needs gives sets of words of which each phrase that n stands for holds at least one.
func needs(n *node) (all []bitset) {
	switch n.kind {
	case kWord, kExactWord, kLength, kPer, kAmount:
		return []bitset{n.words}
	case kKeep, kPick:
		return needs(n.kids[0])
	case kSeq:
		for _, k := range n.kids {
			all = append(all, needs(k)...)
		}
	case kAlt:
		var one bitset
		for _, k := range n.kids {
			of := needs(k)
			if len(of) == 0 {
				return nil
			}
			one = one.or(slices.MinFunc(of, func(a, b bitset) int { return a.count() - b.count() }))
		}
		return []bitset{one}
	}
	return all
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
