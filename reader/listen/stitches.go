package listen

import "strings"

// Term is a stitch or another word of the craft that can be asked about.
type Term struct {
	Abbr   string   // as it stands in a pattern: "k2tog", "2/1 RPC"
	Spoken []string // as it is said: "knit two together", "two over one right purl cross"
}

// glossary finds a term by how it sounds.
type glossary struct {
	abbr    map[string]string
	longest int // words in the longest name, or letters in one that is spelled out
}

const longestSpelling = 6

func newGlossary(terms []Term) glossary {
	g := glossary{abbr: map[string]string{}, longest: longestSpelling}
	add := func(name, abbr string) {
		ws, _ := split(name)
		if len(ws) == 0 {
			return
		}
		g.longest = max(g.longest, len(ws))
		for _, key := range keys(ws) {
			if _, taken := g.abbr[key]; !taken {
				g.abbr[key] = abbr
			}
		}
	}
	for _, t := range terms {
		add(t.Abbr, t.Abbr)
	}
	for _, t := range terms {
		for _, s := range t.Spoken {
			add(s, t.Abbr)
		}
	}
	return g
}

// find gives the abbreviation of the term that the words name. A count at the end is no part of a name: k2 is k.
func (g glossary) find(ws []word) (string, bool) {
	for _, key := range keys(ws) {
		if abbr, ok := g.abbr[key]; ok {
			return abbr, true
		}
	}
	if last := len(ws) - 1; last > 0 && ws[last].num.written {
		return g.find(ws[:last])
	}
	return "", false
}

// keys are the ways in which a name can be written and still be the same name, without spaces: as typed ("k2tog"),
// letter by letter ("es es kay"), and by the sound of its words ("nit too together").
func keys(ws []word) [3]string {
	var typed, lettered, sounded strings.Builder
	for i, w := range ws {
		typed.WriteString(w.text)
		lettered.WriteString(orSelf(letterNames, w.text))
		if i > 0 && littleWords[w.text] {
			continue
		}
		sounded.WriteString(orSelf(stitchSounds, w.text))
	}
	if len(ws) == 1 {
		return [3]string{typed.String(), typed.String(), sounded.String()} // "okay" alone is no k
	}
	return [3]string{typed.String(), lettered.String(), sounded.String()}
}

func orSelf(m map[string]string, text string) string {
	if s, ok := m[text]; ok {
		return s
	}
	return text
}

// littleWords go unheard inside a name: "knit in the front and the back".
var littleWords = wordSet("the a an and of it stitch stitches st sts")

var stitchSounds = oneMeaning(`
	knit: nit net knits knitting k kay
	purl: pearl perl purrl pearls purls purling p pee
	0: zero
	1: one won
	2: two to too
	3: three free tree
	4: four for fore
	5: five
	6: six sicks
	7: seven
	8: eight ate
	9: nine
	10: ten tin
	12: twelve
	together: tog togther togethers
	slip: slipped slips sleep sl
	pass: past passed parse
	through: threw thru
	loop: loops
	into: in
	over: overs ova
	yarn: yawn yearn
	right: write rite wright
	left: lift
	cross: crossed kross crosses crossing
	cable: cables
	increase: increases increased
	decrease: decreases decreased
	make: makes made
	twist: twisted twists
`)

var letterNames = oneMeaning(`
	a: ay eh
	b: bee be
	c: see sea cee
	d: dee
	e: ee
	f: ef eff
	g: gee
	k: kay okay
	l: el ell
	m: em
	n: en
	o: oh owe
	p: pee
	r: are ar
	s: es ess
	t: tee tea
	w: doubleyou
	y: why
	1: one won
	2: two to too
	3: three
	4: four for fore
	5: five
	6: six sicks
	8: eight ate
`)

func oneMeaning(table string) map[string]string {
	m := map[string]string{}
	for heard, meant := range invert(table) {
		m[heard] = meant[0]
	}
	return m
}
