package instruction

import (
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// ParseAcross reads an Across line: panels by name, plain columns such as k1
// or p2, and groups of them. Panels come back as strips that have a name alone.
func ParseAcross(src string, at problem.Span, opts Options) ([]Node, []problem.Problem) {
	p := newParser(src, at, opts)
	defer p.release()
	a := across{parser: p}
	for _, name := range opts.Panels {
		tokens := scan(name, problem.Span{End: len(name)}, nil)
		a.panels = append(a.panels, panelName{name, tokens[:len(tokens)-1]})
	}
	nodes := a.list("")
	if len(nodes) == 0 && len(p.problems) == 0 {
		p.fail(at, "across-empty", "nothing is set side by side here").Suggest("name panels and columns, such as: [Seed edge, k1, Lantern, k1] 8 times")
	}
	if len(p.problems) == 0 {
		p.checkSize(nodes)
	}
	return nodes, p.problems
}

type panelName struct {
	name   string
	tokens []token
}

type across struct {
	*parser
	panels []panelName
}

func (a across) list(closer string) []Node {
	var nodes []Node
	for {
		a.skipSeparators()
		t := a.peek()
		if t.kind == end || (t.kind == mark && closer != "" && (t.text == ")" || t.text == "]" || t.text == "}")) {
			return nodes
		}
		before, known := a.i, len(a.problems)
		if n := a.part(); n != nil {
			nodes = append(nodes, n)
		}
		if len(a.problems) == known && !a.atSeparator() && a.peek().kind != end && !a.closerAhead() {
			a.commaMissing()
		}
		if len(a.problems) > known {
			a.recover(listOf{})
		}
		if a.i == before {
			a.take()
		}
	}
}

func (a across) part() Node {
	t := *a.peek()
	if n := a.panel(); n != nil {
		return a.counted(n)
	}
	if t.kind == mark && closers[t.text] != "" {
		return a.group(t)
	}
	if t.kind == mark {
		a.misplaced(t)
		return nil
	}
	start := a.i
	if found, ok := a.phrases.match(a.parser); ok && (found.stitch == knit || found.stitch == purl) {
		w := a.parser.stitch(found.stitch)
		if n, ok := a.number(); ok {
			w.Extent.N = n
		}
		a.parser.stitches()
		w.Span = a.since(t.Start)
		return w
	}
	a.i = start
	a.unknownPanel()
	return nil
}

func (a across) group(open token) Node {
	_, body, ok := a.bracketed(a.list)
	if !ok {
		return nil
	}
	if len(body) == 0 {
		return nil
	}
	e, ok := a.extent()
	if !ok || e.Reach != Times {
		a.fail(a.since(open.Start), "repeat-count", "how often does this group stand? A number was expected after %q", closers[open.text]).
			Suggest("write behind it, for example: 8 times")
		return nil
	}
	return &Repeat{Span: a.since(open.Start), Body: body, Extent: e}
}

// panel takes the longest panel name that stands next.
func (a across) panel() Node {
	best := -1
	for i, p := range a.panels {
		if a.stands(p.tokens) && (best < 0 || len(p.tokens) > len(a.panels[best].tokens)) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	at := a.peek().Start
	a.i += len(a.panels[best].tokens)
	s := &Strip{Panel: a.panels[best].name}
	if a.isMark("(") && a.ahead(1).text == "continued" && a.ahead(2).text == ")" {
		a.i += 3
		s.Continued = true
	}
	s.Span = a.since(at)
	return s
}

func (a across) stands(tokens []token) bool {
	for i, t := range tokens {
		if next := a.ahead(i); next.kind != t.kind || next.text != t.text {
			return false
		}
	}
	return len(tokens) > 0
}

func (a across) unknownPanel() {
	t := *a.take()
	for !a.atSeparator() && a.peek().kind != end && !a.closerAhead() {
		a.i++
	}
	at := a.since(t.Start)
	name := a.src[at.Start:at.End]
	if s := stitch.Find(name); s != nil || t.kind == number {
		a.fail(at, "across-column", "%s can't be a column: a column is k or p with a number", problem.Quote(name)).
			Suggest("write k2 or p2, or make it a panel with rows of its own")
		return
	}
	var names []string
	for _, p := range a.panels {
		names = append(names, p.name)
	}
	fail := a.fail(at, "unknown-panel", "no panel is called %s", problem.Quote(name))
	if near := nearest(name, names); near != "" {
		fail.Suggest("did you mean %s?", near)
	} else {
		fail.Suggest("define it above the sections: Panel: %s, 3 sts", problem.Show(name))
	}
}
