package patterns

import (
	"fmt"
	"regexp"
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// sectionRows works the rows of one section.
type sectionRows struct {
	*layout
	section   *Section
	rows      []*numbered
	refer     referring
	panelRows int             // rows that worked the panels so far, those left out included
	tipped    map[*Line]bool  // lines whose tips have been said
	sideTold  map[string]bool // panels that were told to fall on the wrong side; "" for the rows themselves
}

func (s *sectionRows) work() {
	s.sideTold, s.tipped = map[string]bool{}, map[*Line]bool{}
	first := true
	nths := map[*Line][]int{}
	for i, row := range s.rows {
		if row.extra && s.follow.fabric().Count() == 0 { // all is bound off
			s.rows = s.rows[:i]
			delete(s.refer.rows, row.number)
			break
		}
		if i > 0 && row.number > s.rows[i-1].number+1 {
			s.follow.miss(row.number-s.rows[i-1].number-1, s.section.Rounds)
		}
		nth := s.panelRows
		if s.worksPanels(row) {
			s.panelRows++
			nths[row.line] = append(nths[row.line], nth)
		} else {
			s.follow.endPanels()
		}
		if len(s.leave) > 0 && leavesOut(s.leave, s.groups(row, nth)) {
			continue
		}
		if s.count++; s.count > MaxRows || s.timeOver() {
			return
		}
		s.row(i, row, nth, first)
		first = false
	}
	if s.doubts != nil && s.failed < 0 {
		s.optionalDoubts(nths)
	}
}

// worksPanels says that a row is "work the panels", as it stands or by
// reference.
func (s *sectionRows) worksPanels(row *numbered) bool {
	body, _ := s.refer.written(row)
	if len(body) != 1 {
		return false
	}
	_, panels := body[0].(*instruction.Panels)
	return panels
}

// row works one row and adds it to the plan.
func (s *sectionRows) row(i int, row *numbered, nth int, first bool) {
	l, rounds := s.layout, s.section.Rounds
	s.checkSide(i)
	before := l.follow.fabric()
	body, wrong := s.written(row, nth, before.Side())
	if wrong == nil && body != nil && s.worksPanels(row) {
		wrong = s.panelSides(row, nth, before.Side())
	}
	switch {
	case wrong == nil:
	case wrong.Severity == problem.Error:
		l.problems = append(l.problems, *wrong)
	case l.doubts != nil:
		l.doubts.found = append(l.doubts.found, *wrong)
	}
	o := outcome{before: before}
	o.After = before
	if body == nil { // told already, here or where the line was parsed
		l.follow.pass(l.unread(row, rounds))
	} else {
		o = l.follow.work(task{body: body, how: fabric.Row{Rounds: rounds, Size: l.size}, stated: l.stated(row),
			word:    func(p *problem.Problem) *problem.Problem { return s.told(row, p) },
			differs: func(count int) *problem.Problem { return l.differs(row, count) }})
	}
	if !o.real && l.failed < 0 {
		l.failed = l.count - 1
	}
	r := &Row{Section: s.section, Number: row.number, Line: row.line, Rounds: rounds, Side: o.before.Side(), First: first,
		Written: body, Body: o.Done, Before: o.before, After: o.After, Crossings: o.Crossings, Worked: l.worked}
	if r.unworked = o.Unworked; o.Problem == nil && s.worksPanels(row) {
		r.Written = instruction.Counted(o.Done)
	}
	l.worked += int64(o.before.Ahead() - o.Unworked)
	if l.keep {
		r.Tips, r.groups = s.tips(row, nth), s.groups(row, nth)
		l.rows = append(l.rows, r)
	}
	if l.doubts != nil && l.failed < 0 {
		l.doubts.row(r, func(stitch int) (problem.Span, string) { return s.place(r, stitch) })
	} else if l.doubts != nil {
		l.doubts.afterMistake(r)
	}
}

// place gives where the text of one stitch of a row stands, counted in the order
// of a right-side row, and in which row: where panels are worked, the panel's.
func (s *sectionRows) place(r *Row, stitch int) (problem.Span, string) {
	if r.Before.Side() == instruction.WS {
		stitch = r.Before.Count() - 1 - stitch
	}
	if p := stripAt(r.Written, &stitch, s.size); p != nil {
		rows := s.strips[p.Panel].rows
		line := rows[slices.IndexFunc(rows, func(n *numbered) bool { return n.number == p.Row })].line
		return line.Instruction.Span, fmt.Sprintf("row %d of the panel %s", p.Row, p.Panel)
	}
	return r.Line.Instruction.Span, fmt.Sprintf("%s %d", wordOf(r.Rounds), r.Number)
}

// stripAt finds the panel that works a stitch of a row, counted from the row's
// beginning; nil for none. It takes from the count what it passes.
func stripAt(nodes []instruction.Node, stitch *int, size int) *instruction.Strip {
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Strip:
			if *stitch < n.Width {
				return n
			}
			*stitch -= n.Width
		case *instruction.Repeat:
			for range n.Extent.N.At(size) {
				if p := stripAt(n.Body, stitch, size); p != nil {
					return p
				}
			}
		case *instruction.Work:
			*stitch -= n.Extent.N.At(size)
		}
		if *stitch < 0 {
			return nil
		}
	}
	return nil
}

// tips gives what is said after a row: the tips of its line, and of the lines
// of the panels that it works. They are said once in a section, with the first
// of the rows that a line stands for.
func (s *sectionRows) tips(row *numbered, nth int) []string {
	lines := []*Line{row.line}
	if s.worksPanels(row) {
		for _, p := range s.section.panels {
			if strip := s.strips[p.Panel]; len(strip.rows) > 0 {
				lines = append(lines, strip.rows[s.rowOf(strip, nth, p.Continued)].line)
			}
		}
	}
	var said []string
	for _, line := range lines {
		if s.tipped[line] {
			continue
		}
		s.tipped[line] = true
		for _, tip := range line.Tips {
			said = append(said, s.p.ForSize(tip, s.size))
		}
	}
	return said
}

// unread is a row that could not be read.
func (l *layout) unread(row *numbered, rounds bool) unread {
	return unread{rounds: rounds, stated: l.stated(row), body: row.line.partial, meant: row.line.meant, size: l.size, vague: row.line.vague, near: row.line.near,
		marks: placesMarkers(l.p.src, row.line)}
}

// markerWords are the words of a row that later rows may rely on.
var markerWords = regexp.MustCompile(`(?i)\b(pm|markers?|m|on hold|held|holder)\b`)

// marksUnsure says that one of the lines of which it is not known which rows
// they are may place markers or put stitches on hold.
func (s *Section) marksUnsure(src string) bool {
	return slices.ContainsFunc(s.Lines, func(l *Line) bool { return l.unsure && placesMarkers(src, l) })
}

// placesMarkers says that a row that could not be read may have placed markers
// or put stitches on hold.
func placesMarkers(src string, line *Line) bool {
	return markerWords.MatchString(src[line.Instruction.Start:line.Instruction.End])
}

// written gives what a row works: its text, or the panels side by side.
func (s *sectionRows) written(row *numbered, nth int, side instruction.Side) ([]instruction.Node, *problem.Problem) {
	body, wrong := s.refer.written(row)
	if wrong != nil || len(body) != 1 {
		return body, wrong
	}
	panels, ok := body[0].(*instruction.Panels)
	if !ok {
		return body, nil
	}
	if len(s.section.Across) == 0 {
		if s.section.acrossAt.End > 0 {
			return nil, nil // its own problem has been told
		}
		return nil, problem.Errorf(panels.Span, "no-across", "the section %s has no Across line that says which panels", s.section.Name).
			Suggest("write above the rows: Across: [Seed edge, k1] 8 times")
	}
	if s.tooWide || !s.soundAcross(s.section) {
		return nil, nil
	}
	return s.across(s.section.Across, side, nth), nil
}

// panelSides checks that each panel's row falls on the side it is written for.
// It tells of each panel once in a section: as a warning where an odd number of
// rows has no marks.
func (s *sectionRows) panelSides(row *numbered, nth int, side instruction.Side) *problem.Problem {
	if s.section.Rounds || len(s.leave) > 0 {
		return nil
	}
	for _, p := range s.section.panels {
		strip := s.strips[p.Panel]
		if len(strip.rows) == 0 || s.sideTold[p.Panel] || !strip.marked && strip.period(s.size) == 1 {
			continue
		}
		i := s.rowOf(strip, nth, p.Continued)
		if want := strip.sides[i]; want != instruction.SideUnsaid && want != side {
			s.sideTold[p.Panel] = true
			what := fmt.Sprintf("row %d of the panel %s is written for the %s, and falls on the %s in row %d",
				strip.rows[i].number, p.Panel, sideWords[want], sideWords[side], row.number)
			if !strip.marked && len(strip.rows)%2 == 1 {
				return warning(row.line.at(), "panel-odd", "%s", what).
					Suggest("check that an odd number of rows is meant, each to be worked on both sides in turn; (RS) or (WS) says which side a row is for")
			}
			return problem.Errorf(row.line.at(), "panel-side", "%s", what).
				Suggest("begin the panels on the side that their row 1 is written for")
		}
	}
	return nil
}

var sideWords = map[instruction.Side]string{instruction.RS: "right side", instruction.WS: "wrong side"}

// checkSide compares the side that a line gives with the one that faces. Where
// the rows after it agree with it, a row is missing, and the work is turned.
func (s *sectionRows) checkSide(i int) {
	row, facing := s.rows[i], s.follow.fabric().Side()
	if len(s.leave) > 0 || row.guessed || s.sideTold[""] || row.line.Side == instruction.SideUnsaid || !row.startsRange() || row.line.Side == facing {
		return
	}
	told := s.fail(row.line.at(), "side", "%s %d is marked %s, and the %s faces here", wordOf(s.section.Rounds), row.number, row.line.Side, sideWords[facing])
	if s.section.Rounds {
		told.Suggest("take the mark out: in rounds every round is a right-side one")
		s.sideTold[""] = true
		return
	}
	told.Suggest("check which row is missing, or mark it %s", facing)
	for n, next := range s.rows[i+1:] {
		if next.line.Side != instruction.SideUnsaid && next.startsRange() && next.line != row.line {
			if (next.line.Side == row.line.Side) == (n%2 == 0) { // it contradicts this row's mark
				return
			}
			break
		}
	}
	s.follow.begin(false, row.line.Side)
}

// told words a problem for the line it belongs to. Where a line stands for
// several rows, or works what stands elsewhere, the message says which row.
func (s *sectionRows) told(row *numbered, p *problem.Problem) *problem.Problem {
	if p.Code == "count-differs" {
		return p
	}
	told := *p
	own := within(p.Span, row.line.Instruction.Span)
	if row.of > 1 || !own {
		told.Message = fmt.Sprintf("in %s %d, %s", wordOf(s.section.Rounds), row.number, p.Message)
	}
	if !own {
		told.Span = row.line.Instruction.Span
	}
	return &told
}
