package instruction

import (
	"slices"
	"strings"

	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// named reads an item that begins with a word or a number.
func (p *parser) named() Node {
	start := p.i
	if n := p.plain(); n != nil {
		return n
	}
	p.i = start
	found, ok := p.phrases.match(p)
	if !ok {
		if n, handled := p.special(); handled {
			return n
		}
		p.i = start
		p.unknown()
		return nil
	}
	at := p.tokens[start].Start
	switch {
	case found.ambiguous != nil:
		name := problem.Quote(p.src[at:p.since(at).End])
		p.fail(p.since(at), "two-meanings", "%s has two meanings in print: %s", name, found.ambiguous.Meanings).
			Suggest("%s", found.ambiguous.Instead)
		return nil
	case found.badWidth:
		p.fail(p.since(at), "cross-width", "each strand of a cross has from 1 to %d stitches", stitch.MaxStrand).Suggest("write, for example: 2/2 RC")
		return nil
	case found.definition != nil:
		m := &Macro{Span: p.since(at), Name: found.definition.Name, Body: found.definition.Body, size: found.definition.size}
		return p.counted(m)
	case found.stitch == nil:
		return p.counted(namedCross(p.since(at), found.cross))
	case found.stitch.Kind == stitch.Slip:
		return p.slip(at)
	}
	return p.work(found.stitch, at)
}

// plain reads "k4", the plainest and most frequent item, without looking any
// name up.
func (p *parser) plain() Node {
	t, n, after := p.peek(), p.ahead(1), p.ahead(2)
	if t.kind != word || n.kind != number || n.value > maxNumber || len(t.text) != 1 || p.opts.Abbreviations.begins(t.text) {
		return nil
	}
	if after.kind != end && (after.kind != mark || (after.text != "," && after.text != ";" && after.text != ".")) {
		return nil
	}
	var s *stitch.Stitch
	switch t.text {
	case "k":
		s = knit
	case "p":
		s = purl
	default:
		return nil
	}
	p.i += 2
	w := p.newWork()
	w.Span, w.Stitch, w.Extent = problem.Span{Start: t.Start, End: n.End}, s, Extent{Times, Number{n.Span, single(n.value)}}
	return w
}

var knit, purl, slipped = stitch.Find("k"), stitch.Find("p"), stitch.Find("sl")

// work reads what follows the name of a stitch: its loop, its count.
func (p *parser) work(s *stitch.Stitch, at int) Node {
	if n := p.knitTheKnits(s, at); n != nil {
		return n
	}
	w := p.stitch(s)
	w.TBL = p.throughBack()
	p.throughFront()
	if s.Counted {
		p.amount(w, at)
	} else if n, ok := p.extent(); ok {
		w.Extent = n
	} else if n, ok := p.number(); ok {
		w.Extent = Extent{Times, n}
	}
	w.TBL = p.throughBack() || w.TBL
	p.throughFront()
	w.Span = p.since(at)
	if s.Kind == stitch.CastOn {
		p.edgeRemark()
	}
	return p.again(w)
}

// again reads "3 times" behind a count of stitches: k2 3 times.
func (p *parser) again(w *Work) Node {
	if !w.Stitch.Counted || w.Extent.Reach != Times {
		return w
	}
	start := p.i
	if e, ok := p.extent(); ok && e.Reach == Times {
		return repeated(w, p.since(w.Start), e)
	}
	p.i = start
	return w
}

// amount reads how many stitches: "4", "4 sts", "the next 4 sts", "all sts",
// "to end", "1 round"; nothing means the rest of the row, which is allowed
// only at its end.
func (p *parser) amount(w *Work, at int) {
	p.oneOf("loosely")
	defer p.oneOf("loosely")
	if e, ok := p.reach(); ok {
		w.Extent = e
		return
	}
	if p.words("the", "rest") || p.words("rest") {
		p.tail("of", "row", "round", "rnd", "sts", "stitches")
		w.Extent = Extent{Reach: ToEnd}
		return
	}
	if p.allStitches() {
		w.Extent = Extent{Reach: ToEnd}
		if e, ok := p.reach(); ok {
			w.Extent = e
		}
		return
	}
	p.oneOf("the")
	next := p.oneOf("next")
	start := p.i
	n, ok := p.number()
	if next && !ok && p.oneOf("st", "stitch") {
		return // the next st is one
	}
	if !ok {
		if w.Stitch.Kind == stitch.CastOn {
			p.fail(p.since(at), "count-missing", "how many stitches? A number was expected after %q", w.Stitch.Words).
				Suggest("write, for example: %s 3 sts", w.Stitch.Abbr)
			return
		}
		if w.TBL { // ktbl is one stitch, as k2tog is
			return
		}
		w.Extent = Extent{Reach: ToEnd}
		p.bare = append(p.bare, w)
		return
	}
	w.Extent = Extent{Times, n}
	switch {
	case p.oneOf("st", "sts", "stitch", "stitches"):
	case p.oneOf("round", "rounds", "rnd", "rnds", "row", "rows"):
		p.wholeRow(w, n)
	case p.oneOf("times", "time"):
		p.fail(p.since(p.tokens[start].Start), "count-unclear", "how many stitches are worked each time? After %q a number counts stitches", w.Stitch.Words).
			Suggest("write: %s; or in brackets what repeats: [...] %d times", sample(w.Stitch, n.Max()), n.Max())
	}
}

// sample is how n of a stitch are written.
func sample(s *stitch.Stitch, n int) string {
	return Print([]Node{&Work{Stitch: s, Extent: Extent{Times, N(n)}}}, AllSizes)
}

// allStitches takes "all sts", "every st", "rem sts", "all the remaining sts".
func (p *parser) allStitches() bool {
	start := p.i
	all := p.oneOf("all", "every")
	p.oneOf("of")
	p.oneOf("the")
	rest := p.oneOf("rem", "remaining")
	if named := p.stitches(); (named && (all || rest)) || (all && !rest) {
		return true
	}
	p.i = start
	return false
}

// wholeRow reads "purl 1 round", which is the whole of this row.
func (p *parser) wholeRow(w *Work, n Number) {
	w.Extent = Extent{Reach: ToEnd}
	if len(n.Values) != 1 || n.Values[0] != 1 {
		p.fail(n.Span, "rows-inside", "a line says how one row is worked, and this asks for %d rows", n.Max()).
			Suggest("number the rows in front: Rows 1-%d: %s", n.Max(), w.Stitch.Words)
		return
	}
	p.bare = append(p.bare, w)
}

func (p *parser) throughBack() bool {
	if p.isMark("-") && p.ahead(1).text == throughBack { // k2tog-tbl
		p.i += 2
		return true
	}
	if p.peek().kind != word {
		return false
	}
	return p.words("tbl") || p.words("through", "back", "loop") || p.words("through", "the", "back", "loop") ||
		p.words("through", "back", "loops") || p.words("through", "the", "back", "loops")
}

// throughFront passes over "tfl", which says what is usual.
func (p *parser) throughFront() {
	if p.words("tfl") || p.words("through", "the", "front", "loop") {
		return
	}
	p.words("through", "front", "loop")
}

// edgeRemark passes over "along the edge", which says where and not what.
func (p *parser) edgeRemark() {
	if p.oneOf("along", "evenly", "from", "around", "at", "over", "across") {
		for p.peek().kind == word {
			p.i++
		}
	}
}

// counted reads the count that may follow a cross or an own abbreviation.
func (p *parser) counted(n Node) Node {
	at := n.Pos().Start
	if e, ok := p.extent(); ok {
		return repeated(n, p.since(at), e)
	}
	if count, ok := p.number(); ok {
		return repeated(n, p.since(at), Extent{Times, count})
	}
	return n
}

// knitTheKnits reads "knit the knits and purl the purls", and the other way
// round.
func (p *parser) knitTheKnits(s *stitch.Stitch, at int) Node {
	if (s != knit && s != purl) || p.peek().kind != word {
		return nil
	}
	start := p.i
	first, ok := p.theFaces()
	if ok && p.words("and") {
		second := p.oneOf("knit", "k")
		if second || p.oneOf("purl", "p") {
			other, ok := p.theFaces()
			if ok && other != first && second == (s == purl) {
				n := &AsLooks{Opposite: first != (s == knit), Extent: p.reachOr(Extent{Reach: ToEnd})}
				n.Span = p.since(at)
				return n
			}
		}
	}
	p.i = start
	return nil
}

// theFaces takes "the knits" or "the purl sts"; it says whether knits.
func (p *parser) theFaces() (knits, ok bool) {
	p.oneOf("all")
	if !p.words("the") {
		return false, false
	}
	switch {
	case p.oneOf("knits"):
		return true, true
	case p.oneOf("purls"):
		return false, true
	case p.oneOf("knit", "k"):
		return true, p.oneOf("sts", "stitches")
	case p.oneOf("purl", "p"):
		return false, p.oneOf("sts", "stitches")
	}
	return false, false
}

func (p *parser) reachOr(e Extent) Extent {
	if r, ok := p.reach(); ok {
		return r
	}
	return e
}

// unknown reports a name that nothing knows, with the nearest that is known.
func (p *parser) unknown() {
	t := *p.take()
	for p.peek().glued && (p.peek().kind == word || p.peek().kind == number) {
		p.i++
	}
	stroke := t.kind == number && p.isMark("/")
	for stroke && (p.isMark("/") || p.peek().kind == number) {
		p.i++
	}
	if stroke && p.peek().kind == word {
		p.i++
	}
	at := p.since(t.Start)
	name := p.src[at.Start:at.End]
	if stroke {
		p.fail(at, "unknown-abbreviation", "%s is no cross that Clew knows", problem.Quote(name)).
			Suggest("a cross is named by its widths and one of RC, LC, RPC, LPC, such as: 2/1 RPC")
		return
	}
	if t.kind == number {
		p.fail(at, "count-alone", "a number stands here without a stitch: %s", problem.Quote(name)).Suggest("write the stitch in front of its number, such as k4, and commas between the stitches")
		return
	}
	if t.text == "rep" || t.text == "repeat" {
		p.fail(at, "star-missing", "this repeats from an asterisk, and no group that began with one is open here").Suggest("put * where the repeat begins")
		return
	}
	if t.text == "end" || t.text == "ending" {
		p.fail(at, "not-a-stitch", "%s does not say how many stitches are left for the end", problem.Quote(name)).
			Suggest("write, for example: rep from * to last 2 sts, k2")
		return
	}
	if instead, ok := unfinished[t.text]; ok {
		p.fail(at, "not-a-stitch", "%s alone does not say what is worked", problem.Quote(name)).Suggest("write, for example: %s", instead)
		return
	}
	term, ok := stitch.FindTerm(name)
	if !ok {
		term, ok = stitch.FindTerm(strings.TrimRight(name, "0123456789"))
	}
	if ok {
		fail := p.fail(at, "not-a-stitch", "%s is known (%s), but it is nothing to work in this place", problem.Quote(name), term.Meaning)
		if term.Instead != "" {
			fail.Suggest("write %s", term.Instead)
		}
		return
	}
	fail := p.fail(at, "unknown-abbreviation", "%s is no abbreviation that Clew knows, and the pattern does not define it", problem.Quote(name))
	known := append(p.opts.Abbreviations.Names(), stitch.Names()...)
	letters := strings.TrimRight(name, "0123456789")
	if near := nearest(name, known); near != "" {
		fail.Meant = near
	} else if near := nearest(letters, known); near != "" && letters != name {
		fail.Meant = near + strings.TrimPrefix(name, letters)
	}
	if fail.Meant != "" {
		fail.Suggest("did you mean %s?", fail.Meant)
	} else if len(name) <= longestOwn {
		fail.Suggest("if it is the pattern's own, define it above: Abbreviation: %s = ...", name)
	}
}

// unfinished are words that open an item, with a way to end it.
var unfinished = map[string]string{
	"work": "work sts as they present; or: work even", "cont": "work sts as they present", "continue": "work sts as they present",
	"put": "put 30 sts on hold", "hold": "sl 2 to cn, hold in back, k2, k2 from cn", "place": "pm; or: place bead; or: put 30 sts on hold",
	"return": "return 30 held sts", "wrap": "w&t", "remove": "rm", "make": "m1; or: m1l", "cable": "2/2 RC; or: 2/2 LC", "in": "with MC, k4",
	"row": "as row 3", "rows": "as rows 1-4", "round": "as round 3", "rounds": "as rounds 1-4", "twice": "[k2, p2] twice", "times": "[k2, p2] 4 times",
	"increase": "m1; or: kfb", "decrease": "k2tog; or: ssk",
}

// longestOwn is the longest name, in bytes, that an abbreviation is likely to
// have.
const longestOwn = 24

// nearest is the known name nearest to one, whatever its case.
func nearest(name string, known []string) string {
	if len(name) > longestOwn {
		return ""
	}
	lower := make([]string, len(known))
	for i := range known {
		lower[i] = strings.ToLower(known[i])
	}
	near := problem.Nearest(stitch.Key(name), lower)
	if i := slices.Index(lower, near); near != "" && i >= 0 {
		return known[i]
	}
	return ""
}
