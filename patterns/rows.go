package patterns

import (
	"fmt"

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
	panelRows int // rows that worked the panels so far, those left out included
}

func (s *sectionRows) work() {
	out := s.leftOut()
	first := true
	for i, row := range s.rows {
		nth := s.panelRows
		if s.worksPanels(row) {
			s.panelRows++
		}
		if out[row.number] {
			continue
		}
		s.row(i, row, nth, first)
		first = false
		if len(s.layout.rows) > MaxRows {
			return
		}
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
	l := s.layout
	before := l.fabric
	s.checkSide(row, before)
	body, wrong := s.written(row, nth, before.Side())
	if wrong != nil {
		l.problems = append(l.problems, *wrong)
	}
	r := &Row{Section: s.section, Number: row.number, Line: row.line, Rounds: s.section.Rounds, Side: before.Side(), First: first,
		Written: body, Before: before, After: before, Worked: l.worked}
	if body == nil { // told already, here or where the line was parsed
		l.rows = append(l.rows, r)
		l.noteFailed()
		if !s.section.Rounds {
			l.fabric = turned(before)
		}
		return
	}
	did := before.Work(body, fabric.Row{Rounds: s.section.Rounds, Size: l.size})
	r.Body, r.After, r.Crossings = did.Done, did.After, did.Crossings
	l.worked += int64(before.Ahead())
	l.rows = append(l.rows, r)
	sound := did.Problem == nil
	if !sound {
		l.noteFailed()
		if !s.worksPanels(row) || l.soundAcross(s.section) {
			l.problems = append(l.problems, *s.told(row, did.Problem))
		}
	} else if !l.checkStated(row, did.After.Count()) {
		sound = false
	}
	l.fabric = did.After
	if !sound {
		l.fabric = s.recovered(i, row, before, did.After)
	}
}

// turned gives the fabric as it is when a row that could not be read has been
// passed over.
func turned(f fabric.Fabric) fabric.Fabric {
	return f.Begin(false, f.Side().Other())
}

func (l *layout) noteFailed() {
	if l.failed < 0 {
		l.failed = len(l.rows) - 1
	}
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
	if s.soundAcross(s.section) {
		if wrong := s.panelSides(row, nth, side); wrong != nil {
			return nil, wrong
		}
	}
	return s.across(s.section.Across, side, nth), nil
}

// panelSides checks that each panel's row falls on the side it is written for.
func (s *sectionRows) panelSides(row *numbered, nth int, side instruction.Side) *problem.Problem {
	if s.section.Rounds || len(s.leave) > 0 {
		return nil
	}
	for _, p := range panelsIn(s.section.Across) {
		strip := s.strips[p.Panel]
		i := s.rowOf(strip, nth)
		if want := strip.sides[i]; want != instruction.SideUnsaid && want != side {
			return problem.Errorf(row.line.at(), "panel-side", "row %d of the panel %s is written for the %s, and falls on the %s in row %d",
				strip.rows[i].number, p.Panel, sideWords[want], sideWords[side], row.number)
		}
	}
	return nil
}

var sideWords = map[instruction.Side]string{instruction.RS: "right side", instruction.WS: "wrong side"}

// checkSide compares the side that a line gives with the one that faces.
func (s *sectionRows) checkSide(row *numbered, f fabric.Fabric) {
	if len(s.leave) > 0 || row.line.Side == instruction.SideUnsaid || !row.startsRange() || row.line.Side == f.Side() {
		return
	}
	s.fail(row.line.at(), "side", "%s %d is marked %s, and the %s faces here", s.word(s.section.Rounds), row.number, row.line.Side, sideWords[f.Side()]).
		Suggest("check which row is missing, or mark it %s", f.Side())
}

// told words a problem for the line it belongs to. Where a line stands for
// several rows, or works what stands elsewhere, the message says which row.
func (s *sectionRows) told(row *numbered, p *problem.Problem) *problem.Problem {
	told := *p
	own := within(p.Span, row.line.Instruction.Span)
	if row.of > 1 || !own {
		told.Message = fmt.Sprintf("in %s %d, %s", s.word(s.section.Rounds), row.number, p.Message)
	}
	if !own {
		told.Span = row.line.Instruction.Span
	}
	return &told
}

// recovered guesses how many stitches the writer meant to have after a row
// that went wrong, so that one mistake is told once: the first of several
// counts on which the next row can be worked.
func (s *sectionRows) recovered(i int, row *numbered, before, after fabric.Fabric) fabric.Fabric {
	var counts []int
	if stated := row.line.Stated; stated != nil && stated.At(s.size) > 0 {
		counts = append(counts, stated.At(s.size))
	}
	counts = append(counts, after.Count(), before.Count())
	if i+1 < len(s.rows) {
		next := s.rows[i+1]
		for _, count := range counts {
			f := after.Resized(count)
			body, wrong := s.written(next, s.panelRows, f.Side())
			if wrong != nil || body == nil {
				break
			}
			if f.Work(body, fabric.Row{Rounds: s.section.Rounds, Size: s.size}).Problem == nil {
				return f
			}
		}
	}
	return after.Resized(counts[0])
}
