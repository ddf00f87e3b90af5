package instruction

import "strings"

// special reads the items that are no stitches. The second result says
// whether the words were known, whatever came of them.
func (p *parser) special() (Node, bool) {
	at := p.peek().Start
	if n := p.markerOrTurn(at); n != nil {
		return n, true
	}
	switch {
	case p.words("opposite"):
		n := &AsLooks{Opposite: true, Extent: p.reachOr(Extent{Reach: ToEnd})}
		n.Span = p.since(at)
		return n, true
	case p.oneOf("with", "using"), p.words("change", "to"), p.words("switch", "to"), p.words("join"):
		return p.yarn(at), true
	case p.oneOf("return"):
		return p.held(at)
	case p.oneOf("put", "place", "hold"):
		return p.hold(at)
	case p.words("work"):
		return p.workAs(at)
	case p.oneOf("as"), p.words("same", "as"):
		return p.asRows(at)
	case p.oneOf("rep", "repeat"):
		return p.repeatRows(at)
	}
	return nil, false
}

// markerOrTurn reads markers, turns and beads.
func (p *parser) markerOrTurn(at int) Node {
	switch {
	case p.words("pm"), p.words("place", "marker"), p.words("place", "a", "marker"), p.words("place", "m"):
		return p.counted(&Marker{Span: p.since(at), Act: PlaceMarker})
	case p.words("sm"), p.words("slip", "marker"), p.words("slip", "the", "marker"), p.words("slip", "m"):
		return &Marker{Span: p.since(at), Act: SlipMarker}
	case p.words("rm"), p.words("remove", "marker"), p.words("remove", "the", "marker"), p.words("remove", "m"):
		return &Marker{Span: p.since(at), Act: RemoveMarker}
	case p.words("turn"):
		p.words("work")
		return &Turn{Span: p.since(at)}
	case p.words("w&t"), p.words("wrap", "and", "turn"), p.wrapAmpersandTurn():
		return &Turn{Span: p.since(at), Wrap: true}
	case p.words("pb"), p.words("place", "bead"), p.words("place", "a", "bead"):
		return p.counted(&Bead{p.since(at)})
	}
	return nil
}

// wrapAmpersandTurn takes "w & t" and "wrap & turn".
func (p *parser) wrapAmpersandTurn() bool {
	first, and, turn := p.peek().text, p.ahead(1), p.ahead(2).text
	if (first == "w" && turn == "t" || first == "wrap" && turn == "turn") && and.kind == mark && and.text == "&" {
		p.i += 3
		return true
	}
	return false
}

// yarn reads the name of a yarn: up to the next separator, or one word where a
// stitch follows it without one.
func (p *parser) yarn(at int) Node {
	if named := p.ahead(1).kind; named == word || named == number { // "with color A"
		p.oneOf("color", "colour")
	}
	start := p.i
	if p.peek().kind != word && p.peek().kind != number {
		p.fail(p.since(at), "yarn-name", "which yarn? Its name was expected behind this, and %s was found", p.quote(*p.peek())).
			Suggest("write, for example: with MC, k4")
		return nil
	}
	p.i++
	for p.peek().kind == word || p.peek().kind == number {
		if !p.peek().glued {
			before := p.i
			p.skipSeparators() // "with MC then k4"
			_, stitchFollows := p.phrases.match(p)
			ends := stitchFollows || p.opener()
			p.i = before
			if ends {
				break
			}
		}
		p.i++
	}
	n := &Yarn{Span: p.since(at), Name: p.asWritten(p.tokens[start:p.i])}
	if p.isMark(":") {
		p.i++
	}
	p.implied()
	return n
}

// asWritten joins tokens in the case of the source, one space where any stood.
func (p *parser) asWritten(tokens []token) string {
	var b strings.Builder
	for i, t := range tokens {
		if i > 0 && !t.glued {
			b.WriteByte(' ')
		}
		b.WriteString(p.src[t.Start:t.End])
	}
	return b.String()
}

// implied turns the end of an item that needs no comma after it into one: the
// next item may follow at once.
func (p *parser) implied() {
	if t := p.peek(); t.kind == word || t.kind == number || p.isMark("[") || p.isMark("(") {
		comma := *t
		comma.kind, comma.text, comma.End = mark, ",", t.Start
		p.i--
		p.tokens[p.i] = comma
	}
}

// hold reads "put 30 sts on hold".
func (p *parser) hold(at int) (Node, bool) {
	p.oneOf("the")
	p.oneOf("next")
	n, ok := p.number()
	if !ok || !p.stitches() {
		return nil, false
	}
	known := len(p.problems)
	if c := p.toCable(at, n); c != nil || len(p.problems) > known { // place 2 sts on cn
		return c, true
	}
	if !p.onHold() {
		return nil, false
	}
	return &Held{Span: p.since(at), N: n}, true
}

func (p *parser) onHold() bool {
	return p.words("on", "hold") || p.words("on", "holder") || p.words("on", "a", "holder") || p.words("to", "holder") ||
		p.words("on", "waste", "yarn") || p.words("onto", "holder") || p.words("onto", "a", "holder") || p.words("onto", "waste", "yarn")
}

func (p *parser) stitches() bool { return p.oneOf("sts", "st", "stitches", "stitch") }

// held reads "return 30 held sts".
func (p *parser) held(at int) (Node, bool) {
	p.oneOf("the")
	n, ok := p.number()
	p.oneOf("held")
	if !ok || !p.stitches() {
		return nil, false
	}
	p.tail("from", "hold", "holder")
	p.tail("to", "needle", "needles")
	return &Held{Span: p.since(at), N: n, Return: true}, true
}

// workAs reads what may follow "work".
func (p *parser) workAs(at int) (Node, bool) {
	if p.words("even") {
		n := &AsLooks{Extent: p.reachOr(Extent{Reach: ToEnd})}
		n.Span = p.since(at)
		return n, true
	}
	if p.words("opposite") {
		n := &AsLooks{Opposite: true, Extent: p.reachOr(Extent{Reach: ToEnd})}
		n.Span = p.since(at)
		return n, true
	}
	if p.words("the", "panels") || p.words("panels") || p.words("all", "panels") {
		return &Panels{p.since(at)}, true
	}
	if a, b := p.peek().text, p.ahead(1).text; a == "as" && (b == "for" || isRow(b)) {
		p.i++
		return p.asRows(at)
	}
	p.oneOf("the", "all", "each", "every")
	p.oneOf("the", "next", "rem", "remaining")
	extent := Extent{Reach: ToEnd}
	if n, ok := p.number(); ok {
		extent = Extent{Times, n}
	}
	p.oneOf("sts", "st", "stitches", "stitch")
	if extent.Reach == ToEnd {
		extent = p.reachOr(extent)
	}
	if !p.words("as") || !p.oneOf("they", "it") {
		return nil, false
	}
	if !p.oneOf("present", "presents", "look", "looks", "appear", "appears", "face") {
		return nil, false
	}
	p.words("themselves")
	if extent.Reach == ToEnd {
		extent = p.reachOr(extent)
	}
	return &AsLooks{Span: p.since(at), Extent: extent}, true
}

func isRow(text string) bool {
	switch text {
	case "row", "rows", "round", "rounds", "rnd", "rnds":
		return true
	}
	return false
}

// asRows reads "as row 3" and "as rows 1-4".
func (p *parser) asRows(at int) (Node, bool) {
	p.oneOf("for")
	if !isRow(p.peek().text) {
		return nil, false
	}
	p.i++
	from, to, ok := p.rowRange()
	if !ok {
		return nil, false
	}
	n := &AsRows{Span: p.since(at), From: from, To: to}
	p.whole = append(p.whole, n)
	return n, true
}

// repeatRows reads "rep rows 1-6 twice", "repeat rows 1-6 2 more times" and
// "rep last 2 rows 4 times".
func (p *parser) repeatRows(at int) (Node, bool) {
	n := &RepeatRows{}
	p.oneOf("the")
	if p.oneOf("last", "previous") {
		count, ok := p.number()
		if !ok {
			count = N(1)
		}
		if !isRow(p.peek().text) {
			return nil, false
		}
		p.i++
		n.Last = count
	} else {
		if !isRow(p.peek().text) {
			return nil, false
		}
		p.i++
		var ok bool
		if n.From, n.To, ok = p.rowRange(); !ok {
			return nil, false
		}
	}
	if times, ok := p.moreTimes(); ok {
		n.Times = times
	} else if e, ok := p.extent(); ok && e.Reach == Times {
		n.Times = e.N
	}
	n.Span = p.since(at)
	p.whole = append(p.whole, n)
	return n, true
}

// rowRange reads "3", "1-4", "1 to 4" and "1 and 2".
func (p *parser) rowRange() (from, to Number, ok bool) {
	if from, ok = p.number(); !ok {
		return
	}
	to = from
	start := p.i
	if p.isMark("-") {
		p.i++
	} else if !p.oneOf("to", "and") {
		return from, to, true
	}
	if n, found := p.number(); found {
		return from, n, true
	}
	p.i = start
	return from, to, true
}
