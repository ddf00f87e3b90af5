package instruction

import (
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
	case found.ambiguous != "":
		name := p.src[at:p.since(at).End]
		p.fail(p.since(at), "two-meanings", "%q has more than one meaning in print: %s", name, found.ambiguous).
			Suggest("say which with a line such as: Abbreviation: %s = sl 2 to cn, hold in back, k2, k2 from cn", name)
		return nil
	case found.definition != nil:
		m := &Macro{Span: p.since(at), Name: found.definition.Name, Body: found.definition.Body}
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
	if t.kind != word || n.kind != number || len(t.text) != 1 || p.opts.Abbreviations.begins(t.text) {
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
	return &Work{Span: problem.Span{Start: t.Start, End: n.End}, Stitch: s, Extent: Extent{Times, Number{n.Span, []int{n.value}}}}
}

var knit, purl, slipped = stitch.Find("k"), stitch.Find("p"), stitch.Find("sl")

// work reads what follows the name of a stitch: its loop, its count.
func (p *parser) work(s *stitch.Stitch, at int) Node {
	if n := p.knitTheKnits(s, at); n != nil {
		return n
	}
	w := p.stitch(s)
	w.TBL = p.throughBack()
	if s.Counted {
		p.amount(w)
	} else if n, ok := p.extent(); ok {
		w.Extent = n
	} else if n, ok := p.number(); ok {
		w.Extent = Extent{Times, n}
	}
	w.TBL = p.throughBack() || w.TBL
	w.Span = p.since(at)
	if s.Kind == stitch.CastOn {
		p.edgeRemark()
	}
	return w
}

// amount reads how many stitches: "4", "4 sts", "the next 4 sts", "all sts",
// "to end", "1 round"; nothing means the rest of the row, which is allowed
// only at its end.
func (p *parser) amount(w *Work) {
	if e, ok := p.reach(); ok {
		w.Extent = e
		return
	}
	if p.oneOf("all", "every") {
		p.oneOf("the")
		p.oneOf("rem", "remaining")
		p.oneOf("sts", "st", "stitches", "stitch")
		w.Extent = Extent{Reach: ToEnd}
		if e, ok := p.reach(); ok {
			w.Extent = e
		}
		return
	}
	p.oneOf("the")
	p.oneOf("next")
	start := p.i
	n, ok := p.number()
	if !ok {
		if w.Stitch.Kind == stitch.CastOn {
			p.fail(p.peek().Span, "count-missing", "how many stitches? A number was expected after %q", w.Stitch.Abbr)
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
		at := p.since(p.tokens[start].Start)
		p.fail(at, "count-unclear", "%q counts stitches here, and so can't count repeats", w.Stitch.Abbr).
			Suggest("write %s%d, or put what repeats in brackets: [...] %d times", w.Stitch.Abbr, n.Max(), n.Max())
	}
}

// wholeRow reads "purl 1 round", which is the whole of this row.
func (p *parser) wholeRow(w *Work, n Number) {
	w.Extent = Extent{Reach: ToEnd}
	if len(n.Values) != 1 || n.Values[0] != 1 {
		p.fail(n.Span, "rows-inside", "a row says how one row is worked, not %d", n.Max()).
			Suggest("number the rows in front: Rows 1-%d: %s", n.Max(), w.Stitch.Words)
		return
	}
	p.bare = append(p.bare, w)
}

func (p *parser) throughBack() bool {
	return p.words("tbl") || p.words("through", "back", "loop") || p.words("through", "the", "back", "loop") ||
		p.words("through", "back", "loops") || p.words("through", "the", "back", "loops")
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
	if e, ok := p.extent(); ok {
		return repeated(n, e)
	}
	if count, ok := p.number(); ok {
		return repeated(n, Extent{Times, count})
	}
	return n
}

// knitTheKnits reads "knit the knits and purl the purls", and the other way
// round.
func (p *parser) knitTheKnits(s *stitch.Stitch, at int) Node {
	if s != knit && s != purl {
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
	t := p.take()
	for p.peek().glued && (p.peek().kind == word || p.peek().kind == number) {
		p.i++
	}
	at := p.since(t.Start)
	name := p.src[at.Start:at.End]
	if t.kind == number {
		p.fail(at, "count-alone", "the number %s stands without a stitch", name).Suggest("write the stitch in front of its count, such as: k%s", name)
		return
	}
	fail := p.fail(at, "unknown-abbreviation", "%q is no abbreviation that Clew knows, nor one that this pattern defines", name)
	known := append(p.opts.Abbreviations.Names(), stitch.Names()...)
	letters := strings.TrimRight(name, "0123456789")
	if near := problem.Nearest(stitch.Key(name), lower(known)); near != "" {
		fail.Suggest("did you mean %s?", near)
	} else if near := problem.Nearest(stitch.Key(letters), lower(known)); near != "" && letters != name {
		fail.Suggest("did you mean %s%s?", near, strings.TrimPrefix(name, letters))
	} else {
		fail.Suggest("if it is the pattern's own, define it: Abbreviation: %s = ...", name)
	}
}

func lower(names []string) []string {
	for i := range names {
		names[i] = strings.ToLower(names[i])
	}
	return names
}
