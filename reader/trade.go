package reader

import (
	"strings"
	"unicode"

	"clew/patterns/stitch"
)

// english are the writings in the stitch table that are words of their own,
// and so stand as they are.
var english = set("alternately begin begins beginning centimeter centimetre continue continues decrease decreases decreasing follow follows gram inch " +
	"increase increases increasing loops millimeter millimetre ounce remain remains repeat repeats rounds stitches yard turn " +
	"knit purl slip pop popcorn pup")

// measures are the units of length and weight.
var measures = set("in ins g gr m mm cm oz yd yds")

// onlyMeasures are those that mean something else, or nothing, where no number
// stands before them.
var onlyMeasures = set("in ins g gr")

// afterInches are the words that may follow "4 in" where it is a length.
var afterInches = set("long wide deep high tall from above below square and or by x of")

func set(words string) map[string]bool {
	in := map[string]bool{}
	for _, w := range strings.Fields(words) {
		in[w] = true
	}
	return in
}

// word says a word, or what it stands for.
func (p *plainer) word(w string) {
	lower := strings.ToLower(w)
	switch {
	case english[lower]:
		p.say(w)
	case p.phrase(w), p.page(lower):
	case measures[lower] && p.counted:
		p.unit(w, lower)
	case lower == "pm" && p.counted: // of the clock
		p.say("p m")
	case lower == "x" && p.counted && isNumber(p.next()):
		p.say("by")
	case p.stitch(w), p.term(w, lower):
		p.short = true
	default:
		p.unknown(w)
	}
}

// unit says a measure behind its number.
func (p *plainer) unit(w, lower string) {
	if lower == "in" && isLetter(p.next()) && !afterInches[strings.ToLower(p.next())] {
		p.say(w) // the preposition
		return
	}
	words := "metres"
	if lower != "m" {
		t, _ := stitch.FindTerm(lower)
		words = t.Meaning
	}
	if p.number == 1 {
		words = singular(words)
	}
	p.say(words)
	p.short = true
}

func singular(words string) string {
	if stem, ok := strings.CutSuffix(words, "ches"); ok {
		return stem + "ch"
	}
	return strings.TrimSuffix(words, "s")
}

// phrase says a term of several words, all of which end in "st": "St st", "rev
// St st", "g st".
func (p *plainer) phrase(w string) bool {
	name, longest := w, 0
	var found stitch.Term
	for n := 2; n <= 4 && isSpace(p.at(n-1)); n += 2 {
		name += p.at(n)
		if t, ok := stitch.FindTerm(name); ok && strings.EqualFold(p.at(n), "st") {
			found, longest = t, n
		}
	}
	if longest == 0 {
		return false
	}
	p.say(inShort(found))
	p.i += longest
	return true
}

// pages are the short forms of a page and of pages; toPage are the words in
// front of "p" that make it a page and no purl stitch.
var (
	pages  = map[string]string{"p": "page", "pg": "page", "pp": "pages", "pgs": "pages"}
	toPage = set("see on from at of page cf")
)

// page says "see p. 12": the page, and not twelve purl stitches.
func (p *plainer) page(lower string) bool {
	stop := 0
	if p.at(1) == "." {
		stop = 1
	}
	after := p.at(stop + 1)
	if isSpace(after) {
		after = p.at(stop + 2)
	}
	before := p.at(-1)
	if isSpace(before) {
		before = p.at(-2)
	}
	pointed := toPage[strings.ToLower(before)] || stop == 1 && (before == "(" || strings.EqualFold(before, "to"))
	if pages[lower] == "" || !isNumber(after) || lower == "p" && !pointed {
		return false
	}
	p.say(pages[lower])
	p.i += stop
	return true
}

// stitch says a stitch or a cross by its words, with the count that is written
// onto it: "k2tog", "k4", "sl1", "C4B".
func (p *plainer) stitch(w string) bool {
	if c, _, ok := stitch.FindCross(w); ok && (strings.ToUpper(w) == w || len(w) > 2) {
		p.say(c.Words())
		return true
	}
	if s := stitch.Find(w); s != nil {
		if len(w) == 1 && unicode.IsUpper(rune(w[0])) { // an initial
			return false
		}
		p.say(s.Words)
		return true
	}
	w, tbl := withoutLoop(w)
	letters := strings.TrimRightFunc(w, unicode.IsDigit)
	number := w[len(letters):]
	s := stitch.Find(letters)
	switch {
	case strings.EqualFold(letters, "x") && number != "":
		p.timesBy(number)
		return true
	case s == nil || !s.Counted || number == "":
		return false
	}
	words := s.Words + " " + wholeNumber(number)
	switch {
	case s.Noun != "" && number == "1":
		words += " " + s.Noun
	case s.Noun != "":
		words += " " + plural(s.Noun, 2)
	}
	if tbl {
		words += " through the back loop"
	}
	p.say(words)
	return true
}

// withoutLoop takes the "tbl" off the end of "k1tbl".
func withoutLoop(w string) (string, bool) {
	if cut := len(w) - len("tbl"); cut > 0 && strings.EqualFold(w[cut:], "tbl") && unicode.IsDigit(rune(w[cut-1])) {
		return w[:cut], true
	}
	return w, false
}

// timesBy says "x3": "three times", but "by three" at once behind a number.
func (p *plainer) timesBy(number string) {
	if p.counted && isNumber(p.at(-1)) {
		p.say("by " + wholeNumber(number))
		p.counted = true
		return
	}
	p.say(wholeNumber(number) + " times")
}

// term says what an abbreviation of the trade stands for.
func (p *plainer) term(w, lower string) bool {
	t, ok := stitch.FindTerm(w)
	if !ok || onlyMeasures[lower] || w == "M" {
		return false
	}
	words := inShort(t)
	if one, isPlural := strings.CutSuffix(lower, "s"); isPlural && stitch.Key(t.Abbr) != lower && !strings.HasSuffix(words, "s") {
		if _, known := stitch.FindTerm(one); known {
			words = plural(words, 2)
		}
	}
	p.say(words)
	return true
}

// inShort is a term's meaning without what explains it further.
func inShort(t stitch.Term) string {
	cut := strings.IndexAny(t.Meaning, ",:")
	if cut < 0 {
		return t.Meaning
	}
	return t.Meaning[:cut]
}

// unknown says a word as it stands, with its digits worded.
func (p *plainer) unknown(w string) {
	for w != "" {
		number := strings.IndexFunc(w, unicode.IsDigit)
		switch {
		case number < 0:
			p.say(strings.ReplaceAll(w, "&", " and "))
			return
		case number > 0:
			p.say(strings.Trim(strings.ReplaceAll(w[:number], "&", " and "), " '"))
			w = w[number:]
		default:
			rest := strings.TrimLeftFunc(w, unicode.IsDigit)
			p.say(wholeNumber(w[:len(w)-len(rest)]))
			w = strings.TrimLeft(rest, "&'")
		}
	}
}
