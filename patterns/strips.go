package patterns

import (
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// A strip is a panel in one size: its rows in order, and how many stitches it
// has before each.
type strip struct {
	panel  *Panel
	rows   []*numbered
	bodies [][]instruction.Node
	widths []int
	sides  []instruction.Side // of each row; unsaid where a row may fall on either side
	marked bool               // a line says which side it is for
	sound  bool               // every row uses exactly the panel's stitches

	printed []string // see texts
	repeats int      // see period
}

// strip proves a panel by itself: its rows worked in turn on its own stitches.
// A panel that has no stitches in this size has no rows in it either.
func (l *layout) strip(p *Panel) *strip {
	s := &strip{panel: p}
	width := p.Width.At(l.size)
	if len(p.Lines) == 0 {
		l.fail(p.Span, "panel-rows", "the panel %s has no rows", p.Name).Suggest("write below it: Row 1: k to end")
		return s
	}
	if len(p.Width.Values) == 0 || width == 0 {
		s.sound = p.Width.Max() > 0
		return s
	}
	n := numbering{size: l.size, rounds: l.p.Rounds, word: wordOf(l.p.Rounds), first: instruction.RS, text: l.p.text, unsure: p.unsure}
	s.rows = n.number(p.Lines)
	l.problems = append(l.problems, n.problems...)
	s.sound = len(n.problems) == 0 && !n.unsure && len(s.rows) > 0
	s.setSides(l.p.Rounds)
	s.work(l, referring{size: l.size, rows: n.rows, unsure: n.unsure}, width)
	return s
}

// work proves the rows of a panel.
func (s *strip) work(l *layout, refer referring, width int) {
	if len(s.rows) == 0 {
		return
	}
	f := follow(fabric.CastOn(width).Begin(l.p.Rounds, s.sides[0]))
	f.home = width
	for i, row := range s.rows {
		if l.timeOver() { // nothing of this layout is used any more
			return
		}
		if i > 0 && row.number > s.rows[i-1].number+1 {
			f.miss(row.number-s.rows[i-1].number-1, l.p.Rounds)
		}
		body, wrong := refer.written(row)
		if wrong != nil {
			l.problems = append(l.problems, *wrong)
		}
		s.bodies = append(s.bodies, body)
		s.widths = append(s.widths, f.fabric().Count())
		if body == nil {
			f.pass(l.unread(row, l.p.Rounds))
			continue
		}
		f.work(task{body: body, how: fabric.Row{Rounds: l.p.Rounds, Size: l.size}, stated: l.stated(row),
			panel:   &instruction.Strip{Span: row.line.Instruction.Span, Panel: s.panel.Name, Row: row.number},
			word:    func(p *problem.Problem) *problem.Problem { return s.inRow(row, p, wordOf(l.p.Rounds)) },
			differs: func(count int) *problem.Problem { return l.differs(row, count) }})
	}
	s.sound = s.sound && f.sound()
	l.problems = append(l.problems, f.problems()...)
	if after := f.fabric().Count(); s.sound && after != width {
		s.sound = false
		l.fail(s.panel.Span, "panel-width", "the panel %s has %d stitches after its last row and %d at its first, so it can't begin again", s.panel.Name, after, width).
			Suggest("take back in a later row what an earlier one made")
	}
}

// inRow words a problem of a panel's row.
func (s *strip) inRow(row *numbered, p *problem.Problem, word string) *problem.Problem {
	told := *p
	switch told.Code {
	case "count-differs":
	case "panel-width", "panel-room": // they name the panel
		told.Code = "panel-width"
		told.Suggestion = "each row of a panel is worked on all its stitches, and on no others"
	default:
		told.Message = "in " + word + " " + itoa(row.number) + " of the panel " + s.panel.Name + ", " + p.Message
	}
	if !within(p.Span, row.line.Instruction.Span) {
		told.Span = row.line.Instruction.Span
	}
	return &told
}

func within(inner, outer problem.Span) bool {
	return inner.Start >= outer.Start && inner.End <= outer.End
}

// setSides works out on which side each row of a flat panel is worked. Rows
// that carry no side alternate from the right side. Where there is an odd number
// of them, each falls on both sides in turn; it may, where all are the same.
func (s *strip) setSides(rounds bool) {
	s.sides = make([]instruction.Side, len(s.rows))
	if rounds {
		return
	}
	s.marked = slices.ContainsFunc(s.rows, func(r *numbered) bool { return r.line.Side != instruction.SideUnsaid })
	side := instruction.RS
	for i, r := range s.rows {
		if r.line.Side != instruction.SideUnsaid && r.startsRange() {
			side = r.line.Side
		}
		s.sides[i] = side
		side = side.Other()
	}
}

// startsRange says that a row is the first of its line, or of a list such as
// "Rows 1, 3 and 5", each of which has the side that the line gives.
func (r *numbered) startsRange() bool { return r.nth == 0 || len(r.line.Ranges) > 1 }

// across sets the panels side by side for one row: each panel's own row, in
// the order in which this side works them.
func (l *layout) across(nodes []instruction.Node, side instruction.Side, nth int) []instruction.Node {
	out := make([]instruction.Node, 0, len(nodes))
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Strip:
			s := l.strips[n.Panel]
			if s == nil || len(s.rows) == 0 {
				continue
			}
			i := l.rowOf(s, nth, n.Continued)
			out = append(out, &instruction.Strip{Span: n.Span, Panel: n.Panel, Row: s.rows[i].number, Width: s.widths[i], Body: s.bodies[i]})
		case *instruction.Repeat:
			group := *n
			if group.Body = l.across(n.Body, side, nth); len(group.Body) > 0 {
				out = append(out, &group)
			}
		case *instruction.Work:
			column := *n
			if side == instruction.WS {
				column.Stitch = otherFace[column.Stitch]
			}
			out = append(out, &column)
		}
	}
	if side == instruction.WS {
		slices.Reverse(out)
	}
	return out
}

var (
	knit, purl = stitch.Find("k"), stitch.Find("p")
	otherFace  = map[*stitch.Stitch]*stitch.Stitch{knit: purl, purl: knit}
)

// rowOf is which of a panel's rows falls on the nth row of the section that
// works the panels: counted from its first row, or from where the section
// before left it.
func (l *layout) rowOf(s *strip, nth int, continued bool) int {
	if continued {
		nth += l.begun[s.panel.Name]
	}
	return nth % len(s.rows)
}

// acrossWidth is how many stitches the panels and columns need for row nth.
func (l *layout) acrossWidth(nodes []instruction.Node, nth int) int {
	width := 0
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Strip:
			if s := l.strips[n.Panel]; s != nil && len(s.rows) > 0 {
				width += s.widths[l.rowOf(s, nth, n.Continued)]
			}
		case *instruction.Repeat:
			width += n.Extent.N.At(l.size) * l.acrossWidth(n.Body, nth)
		case *instruction.Work:
			width += n.Extent.N.At(l.size)
		}
	}
	return width
}

// panelsIn gives the panels of an Across line, each once; one that stands there
// both from its beginning and continued, twice.
func panelsIn(nodes []instruction.Node) []*instruction.Strip {
	var found []*instruction.Strip
	type place struct {
		panel     string
		continued bool
	}
	seen := map[place]bool{}
	var look func(nodes []instruction.Node)
	look = func(nodes []instruction.Node) {
		for _, n := range nodes {
			switch n := n.(type) {
			case *instruction.Strip:
				if at := (place{n.Panel, n.Continued}); !seen[at] {
					seen[at] = true
					found = append(found, n)
				}
			case *instruction.Repeat:
				look(n.Body)
			}
		}
	}
	look(nodes)
	return found
}
