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
	longest int // words in the longest name
}

// longestGenerated is the words of the longest name that stands in no table: "two over one over two left leaning purl cross".
const longestGenerated = 9

func newGlossary(terms []Term) glossary {
	g := glossary{abbr: map[string]string{}, longest: longestGenerated}
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

// named is a term that some words name.
type named struct {
	abbr   string
	manner string // how it is worked, as Heard.Manner
}

// find gives the term that the words name. A count at the end is no part of a name, nor is the way in which the stitch is worked:
// k2 is k, and k1 tbl is k through the back loop.
func (g glossary) find(ws []word) (named, bool) {
	for _, key := range keys(ws) {
		if abbr, ok := g.abbr[key]; ok {
			return named{abbr: abbr}, true
		}
	}
	if name, ok := crossNamed(ws); ok {
		return named{abbr: name}, true
	}
	last := len(ws) - 1
	if last > 0 && (ws[last].num.written || ws[last].num.scale == digit && ws[last].num.value == 1) {
		return g.find(ws[:last])
	}
	for i := last; i > 0 && last-i < longestManner; i-- {
		manner, ok := manners[sound(ws[i:])]
		if !ok {
			continue
		}
		if n, ok := g.find(ws[:i]); ok && n.manner == "" {
			return named{n.abbr, manner}, true
		}
	}
	return named{}, false
}

// manners are the ways in which a stitch is worked, by their sound, where they aren't part of a name.
var manners = oneMeaning(`
	tbl: tbl throughbackloop throughback intobackloop intoback backloop twist
	tfl: tfl throughfrontloop
	wyif: wyif withyarnintofront withyarnfront
	wyib: wyib withyarnintoback withyarnback
	kwise: kwise knitwise
	pwise: pwise purlwise pearlwise
`)

const longestManner = 6 // words: through the back of the loop

// keys are the ways in which a name can be written and still be the same name, without spaces: as typed ("k2tog"),
// letter by letter ("es es kay"), and by the sound of its words ("nit too together").
func keys(ws []word) [3]string {
	var typed, lettered strings.Builder
	for _, w := range ws {
		typed.WriteString(w.text)
		lettered.WriteString(orSelf(letterNames, w.text))
	}
	if len(ws) == 1 {
		return [3]string{typed.String(), typed.String(), sound(ws)} // "okay" alone is no k
	}
	return [3]string{typed.String(), lettered.String(), sound(ws)}
}

func sound(ws []word) string {
	var s strings.Builder
	for i, w := range ws {
		if i == 0 || !littleWords[w.text] {
			s.WriteString(orSelf(stitchSounds, w.text))
		}
	}
	return s.String()
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
