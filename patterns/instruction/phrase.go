package instruction

import (
	"strconv"
	"strings"

	"clew/patterns/problem"
	"clew/patterns/stitch"
)

func itoa(n int) string { return strconv.Itoa(n) }

// A Definition is one Abbreviation line of the pattern.
type Definition struct {
	Name string
	Body []Node
	problem.Span
	size extentOf // of the body, computed when it is defined
}

// Abbreviations are the pattern's own, by their looked-up names.
type Abbreviations struct {
	byKey   map[string]*Definition
	longest map[string]int // by first token: how many tokens the longest name that begins so has
}

// MaxName is the longest name of an abbreviation, in bytes of its Key.
const MaxName = 64

// Define adds a definition. It says false when the name is defined already,
// and when it is empty or longer than MaxName.
func (a *Abbreviations) Define(d *Definition) bool {
	if a.byKey == nil {
		a.byKey, a.longest = map[string]*Definition{}, map[string]int{}
	}
	key := stitch.Key(d.Name)
	if _, twice := a.byKey[key]; twice || key == "" || len(key) > MaxName {
		return false
	}
	d.size = size(d.Body)
	a.byKey[key] = d
	note(a.longest, d.Name)
	return true
}

// Names gives the defined names in no order.
func (a *Abbreviations) Names() []string {
	var names []string
	if a != nil {
		for _, d := range a.byKey {
			names = append(names, d.Name)
		}
	}
	return names
}

// Find gives the definition of a name in any writing of it, or nil.
func (a *Abbreviations) Find(name string) *Definition {
	if a == nil {
		return nil
	}
	return a.byKey[stitch.Key(name)]
}

// begins says that a defined name begins with this token.
func (a *Abbreviations) begins(first string) bool { return a != nil && a.longest[first] > 0 }

// note records how many tokens a name has.
func note(longest map[string]int, name string) {
	tokens := scan(name, problem.Span{End: len(name)}, nil)
	first := tokens[0].text
	longest[first] = max(longest[first], len(tokens)-1)
}

// longestName says, for the first token of each name in the stitch table, how
// many tokens the longest such name has.
var longestName = func() map[string]int {
	longest := map[string]int{}
	for _, s := range stitch.All() {
		note(longest, s.Abbr)
		for _, name := range s.Spellings {
			note(longest, name)
		}
	}
	for _, name := range []string{"RT", "LT", "C4B", "T4B", "RC", "LC", "FC", "BC", "yf"} {
		note(longest, name)
	}
	return longest
}()

// What a phrase names: exactly one of these is set.
type named struct {
	stitch     *stitch.Stitch
	cross      stitch.Cross
	definition *Definition
	ambiguous  *stitch.Ambiguity // the name is known, and print gives it two meanings
	badWidth   bool              // the name is a cross with a strand that is too wide, or of none
}

// A phraseBook finds the longest name that stands next: the pattern's own
// abbreviations win, then the stitch table, then the crosses.
type phraseBook struct{ own *Abbreviations }

// match takes the longest name and what it names.
func (b phraseBook) match(p *parser) (named, bool) {
	first := p.peek()
	if b.own != nil {
		if found, ok := b.longest(p, b.own.longest[first.text], b.ownName); ok {
			return found, true
		}
	}
	if first.kind == number {
		return b.longest(p, 6, crossName) // 2/1 RPC, 2/1/2 LC
	}
	if first.kind != word {
		return named{}, false
	}
	return b.longest(p, longestName[first.text], tableName)
}

// longest tries names of so many tokens, then shorter ones.
func (b phraseBook) longest(p *parser, tokens int, find func(key []byte) (named, bool)) (named, bool) {
	if tokens == 0 {
		return named{}, false
	}
	var buffer [MaxName]byte
	var ends [MaxName + 1]int // ends[n]: length of the key of the first n tokens
	key, count := buffer[:0], 0
	for count < tokens {
		t := p.ahead(count)
		if t.kind == end || len(key)+len(t.text) > MaxName || (t.kind == mark && !insideName(t, p.ahead(count+1))) {
			break
		}
		key = append(key, t.text...)
		count++
		ends[count] = len(key)
	}
	var best named
	length := 0
	for n := count; n > 0; n-- {
		if cuts(p.ahead(n)) {
			continue
		}
		found, ok := find(key[:ends[n]])
		if !ok {
			continue
		}
		best, length = found, n
		if last := p.ahead(n - 1); last.kind != number || last.glued || found.definition != nil {
			break
		} // else the number may be a count: s2kp 2 is s2kp twice, though s2kp2 is a name too
	}
	p.i += length
	return best, length > 0
}

// insideName says that a mark can stand inside a name: glued on both sides,
// or the stroke of a cross.
func insideName(t, next *token) bool {
	switch t.text {
	case "/", "&":
		return true
	case "-", "'", "+":
		return t.glued && next.glued
	}
	return false
}

// cuts says that a name cannot end here, since letters follow at once: m1 is
// no part of m1z.
func cuts(next *token) bool {
	return next.kind == word && next.glued && next.text != throughBack && next.text != "x"
}

func (b phraseBook) ownName(key []byte) (named, bool) {
	d, ok := b.own.byKey[string(key)]
	return named{definition: d}, ok
}

func tableName(key []byte) (named, bool) {
	if s := stitch.FindKey(key); s != nil {
		return named{stitch: s}, true
	}
	if string(key) == "yf" {
		return named{ambiguous: stitch.Ambiguous("yf")}, true
	}
	return crossName(key)
}

func crossName(key []byte) (named, bool) {
	if !stitch.LooksLikeCross(key) {
		return named{}, false
	}
	c, meanings, ok := stitch.FindCross(string(key))
	if !ok && meanings == "" {
		return named{}, false
	}
	if ok {
		return named{cross: c}, true
	}
	twice := stitch.Ambiguous(strings.ToUpper(string(key)))
	return named{ambiguous: twice, badWidth: twice == nil}, true
}

// opener says that the next word opens an item that is no stitch.
func (p *parser) opener() bool {
	switch p.peek().text {
	case "pm", "sm", "rm", "pb", "place", "remove", "turn", "w&t", "wrap", "with", "work", "opposite", "put", "return", "rep", "repeat", "as":
		return true
	}
	return false
}
