package listen

import (
	"slices"
	"strings"
)

// utterance is the words of one request, made ready to be held against the grammar.
type utterance struct {
	words    []word
	numbers  [][]numberAt // by the word that they begin at
	skips    [][]skip     // from each place, the places that can be reached over words that add nothing
	glossary glossary
	terms    [][]termAt // by the word that they begin at; nil until they were looked for
	sections map[string]string
	never    bitset   // no rule passes over these
	ids      [][]int  // the numbers in the grammar of what each word may stand for
	all      bitset   // those of all words
	begins   []bitset // from each place, those of the words that may come next, fillers passed over
	common   int      // the first words of the grammar, that many, may be passed over

	picks       []pick // what phrases have put into slots; the first is none
	pickNumbers map[pick]int
	quantities  map[quantityKey][]quantityAt
}

type numberAt struct {
	reading
	end int
}

type termAt struct {
	named
	end int
}

type skip struct{ to, cost int }

// state is how far a phrase has come along the words, and what it has picked up.
type state struct {
	at      int
	number  int
	counted bool // number was heard
	stitch  string
	manner  string
	section string
	picked  int // index into the utterance's picks
	cost    int // how much was passed over or guessed: the cheapest of several readings counts
}

// The costs of a word passed over, and of a word taken as a name because nothing else fits.
const (
	costSkipped = 2
	costPassed  = 1 // by a loose rule
	costName    = 1 // a term of the glossary: "what is next" asks for a row, though next may be a term
	costKept    = 2 // words kept as they are, where they may be a term too
	costNear    = 1 // asking back where a request fits as well
	costAsSaid  = 20
)

const longestNumber = 8 // words: nine thousand nine hundred and ninety nine is seven

func (l *Listener) prepare(ws []word) *utterance {
	u := &utterance{words: ws, glossary: l.glossary, terms: make([][]termAt, len(ws)+1), sections: l.sections, never: l.grammar.macros["never"].words, common: l.grammar.common}
	u.findNumbers()
	u.number(l.grammar.ids)
	u.findSkips(l.grammar.macros["filler"], l.grammar.macros["outer"])
	return u
}

func (u *utterance) number(ids map[string]int) {
	u.ids = make([][]int, len(u.words))
	u.begins = make([]bitset, len(u.words)+1)
	for i, w := range u.words {
		for _, f := range w.forms {
			if id, ok := ids[f]; ok {
				u.ids[i] = append(u.ids[i], id)
				u.all = u.all.with(id)
				u.begins[i] = u.begins[i].with(id)
			}
		}
	}
}

func (u *utterance) findNumbers() {
	u.numbers = make([][]numberAt, len(u.words)+1)
	var ns [longestNumber]numeral
	for i := range u.words {
		for j := i; j < len(u.words) && j-i < longestNumber; j++ {
			w := u.words[j]
			if w.num.scale == noNumber || j > i && w.pause && ns[j-i-1].scale < hundred {
				break
			}
			ns[j-i] = w.num
			if r, ok := readNumber(ns[:j-i+1]); ok {
				u.numbers[i] = append(u.numbers[i], numberAt{r, j + 1})
			}
		}
	}
}

// findSkips finds the fillers, and words that only say once more what stood right before them ("next next row").
func (u *utterance) findSkips(filler, outer *node) {
	n := len(u.words)
	u.skips = make([][]skip, n+1)
	for i := range u.skips {
		u.skips[i] = []skip{{to: i}} // while fillers are matched, none are passed over
	}
	inner, edge := make([][]int, n+1), make([][]int, n+1)
	for i := range n {
		for _, s := range u.walk(filler, []state{{at: i}}) {
			inner[i] = append(inner[i], s.at)
		}
		for _, s := range u.walk(outer, []state{{at: i}}) {
			edge[i] = append(edge[i], s.at)
		}
		for p := 1; p <= 6 && p <= i && i+p <= n; p++ {
			if u.repeats(i, p) {
				inner[i] = append(inner[i], i+p)
			}
		}
	}
	addOuter(inner, edge)
	for i := n - 1; i >= 0; i-- {
		for _, to := range inner[i] {
			for _, s := range u.skips[to] {
				u.addSkip(i, skip{s.to, s.cost + (to-i)*costSkipped})
			}
		}
		for _, s := range u.skips[i][1:] {
			if s.to < n {
				for _, id := range u.ids[s.to] {
					u.begins[i] = u.begins[i].with(id)
				}
			}
		}
	}
}

// addOuter adds to inner those steps of edge that have nothing but fillers before or after them.
func addOuter(inner, edge [][]int) {
	n := len(inner) - 1
	head, tail := make([]bool, n+1), make([]bool, n+1)
	head[0], tail[n] = true, true
	for i := range n {
		for _, to := range slices.Concat(inner[i], edge[i]) {
			head[to] = head[to] || head[i]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for _, to := range slices.Concat(inner[i], edge[i]) {
			tail[i] = tail[i] || tail[to]
		}
	}
	for i := range n {
		for _, to := range edge[i] {
			if head[i] || tail[to] {
				inner[i] = append(inner[i], to)
			}
		}
	}
}

func (u *utterance) addSkip(from int, s skip) {
	for i, old := range u.skips[from] {
		if old.to == s.to {
			u.skips[from][i].cost = min(old.cost, s.cost)
			return
		}
	}
	u.skips[from] = append(u.skips[from], s)
}

// repeats reports whether the n words from i on are the n words before i again. Numbers aren't: "two two" is twenty-two.
func (u *utterance) repeats(i, n int) bool {
	words := false
	for k := range n {
		if u.words[i+k].text != u.words[i-n+k].text {
			return false
		}
		words = words || u.words[i+k].num.scale == noNumber
	}
	return words
}

// match gives all ways in which the whole utterance is the phrase n.
func (u *utterance) match(n *node) (ways []state) {
	for _, s := range u.walk(n, []state{{}}) {
		for _, over := range u.skips[s.at] {
			if over.to == len(u.words) {
				s.at = over.to
				s.cost += over.cost
				ways = addState(ways, s)
				break
			}
		}
	}
	return ways
}

// addState adds s, unless the same was reached before; of two the cheaper stays.
func addState(to []state, s state) []state {
	for i, old := range to {
		cost := min(old.cost, s.cost)
		old.cost = s.cost
		if old == s {
			to[i].cost = cost
			return to
		}
	}
	return append(to, s)
}

// walk takes each state over n. States that are alike are kept once, so the work stays bounded by places times readings.
func (u *utterance) walk(n *node, from []state) (out []state) {
	if n.first != nil && !u.mayBegin(n, from) {
		return nil
	}
	switch n.kind {
	case kSeq:
		out = from
		for _, k := range n.kids {
			if out = u.walk(k, out); len(out) == 0 {
				return nil
			}
		}
		return out
	case kAlt:
		for _, k := range n.kids {
			for _, s := range u.walk(k, from) {
				out = addState(out, s)
			}
		}
		return out
	case kMaybe:
		out = append(out, from...)
		for _, s := range u.walk(n.kids[0], from) {
			out = addState(out, s)
		}
		return out
	case kPlain:
		for _, s := range from {
			for out = addState(out, s); s.at < len(u.words) && u.passable(s.at); {
				s.at++
				s.cost += costPassed
				out = addState(out, s)
			}
		}
		return out
	case kKeep:
		return u.keep(n.kids[0], from)
	case kPick:
		return u.pickAll(n, from)
	}
	for _, s := range from {
		for _, over := range u.skips[s.at] {
			past := s
			past.at = over.to
			past.cost += over.cost
			if past.at < len(u.words) {
				out = u.leaf(n, past, out)
			}
		}
	}
	return out
}

// keep walks over n and keeps its words as what is asked about.
func (u *utterance) keep(n *node, from []state) (out []state) {
	for _, s := range from {
		for _, over := range u.skips[s.at] {
			start := s
			start.at = over.to
			start.cost += over.cost
			for _, end := range u.walk(n, []state{start}) {
				end.stitch = spell(u.words[start.at:end.at])
				end.cost += costKept
				out = addState(out, end)
			}
		}
	}
	return out
}

// passable reports whether a loose rule may pass over the word at i: one that the grammar knows, and no refusal.
func (u *utterance) passable(i int) bool {
	for _, id := range u.ids[i] {
		if u.never.has(id) {
			return false
		}
	}
	return u.known(i)
}

// known reports whether the word at i is one of the common words of the grammar.
func (u *utterance) known(i int) bool {
	for _, id := range u.ids[i] {
		if id < u.common {
			return true
		}
	}
	return false
}

// mayBegin reports whether one of the states stands before a word that n can begin with.
func (u *utterance) mayBegin(n *node, from []state) bool {
	for _, s := range from {
		if n.first.meets(u.begins[s.at]) {
			return true
		}
	}
	return false
}

// leaf adds to out the states after n, which takes words.
func (u *utterance) leaf(n *node, s state, out []state) []state {
	switch n.kind {
	case kWord:
		for _, id := range u.ids[s.at] {
			if n.words.has(id) {
				s.at++
				return addState(out, s)
			}
		}
	case kExactWord:
		if u.words[s.at].text == n.word {
			s.at++
			out = addState(out, s)
		}
	case kNumber, kStrictNumber, kOrdinal, kOtherNumber:
		for _, r := range u.numbers[s.at] {
			if r.ordinal != (n.kind == kOrdinal) || n.kind == kStrictNumber && !r.strict {
				continue
			}
			t := s
			t.at = r.end
			if n.kind != kOtherNumber {
				t.number, t.counted = r.value, true
			}
			out = addState(out, t)
		}
	case kStitch, kOwnName:
		for _, term := range u.termsAt(s.at) {
			if n.kind == kOwnName && term.end == s.at+1 && u.known(s.at) {
				continue
			}
			t := s
			t.at, t.stitch, t.manner = term.end, term.abbr, term.manner
			t.cost += costName
			out = addState(out, t)
		}
	case kCode:
		if u.words[s.at].code && !u.known(s.at) {
			s.stitch = u.words[s.at].text
			s.at++
			s.cost += costAsSaid
			out = addState(out, s)
		}
	case kAsSaid, kSection, kAnySection, kSome:
		out = u.named(n.kind, s, out)
	case kFraction, kStrictFraction, kLength, kAmount, kPer:
		for _, q := range u.quantitiesAt(n.kind, s.at) {
			t := s
			t.at = q.end
			out = addState(out, t)
		}
	}
	return out
}

// termsAt gives the terms of the glossary that begin at a word.
func (u *utterance) termsAt(at int) []termAt {
	if u.terms[at] == nil {
		u.terms[at] = []termAt{}
		for end := at + 1; end <= len(u.words) && end-at <= u.glossary.longest+1; end++ {
			if n, ok := u.glossary.find(u.words[at:end]); ok {
				u.terms[at] = append(u.terms[at], termAt{n, end})
			}
		}
	}
	return u.terms[at]
}

// named takes one to four words from s on for a name, or for words that are only known to stand there.
func (u *utterance) named(k kind, s state, out []state) []state {
	for end := s.at + 1; end <= len(u.words) && end-s.at <= 4; end++ {
		last := u.words[end-1]
		if end-s.at > 1 && last.pause && k != kSome {
			break
		}
		t := s
		t.at = end
		t.cost += costAsSaid * (end - s.at)
		said := spell(u.words[s.at:end])
		switch k {
		case kAsSaid:
			if len(u.skips[end-1]) > 1 {
				return out // a filler is no part of a name
			}
			t.stitch = said
		case kSection:
			name, ok := u.sections[said]
			if !ok {
				continue
			}
			t.cost = s.cost
			t.section = name
		case kAnySection:
			if last.num.scale != noNumber || end-s.at > 3 {
				return out
			}
			t.section = said
		}
		out = addState(out, t)
	}
	return out
}

func spell(ws []word) string {
	texts := make([]string, len(ws))
	for i, w := range ws {
		texts[i] = w.text
	}
	return strings.Join(texts, " ")
}
