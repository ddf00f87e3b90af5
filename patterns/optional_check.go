package patterns

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// checkOptionals proves that a knitter can leave out what she may: a step of
// each group, and all of it.
func (l *layout) checkOptionals() []problem.Problem {
	var found []problem.Problem
	var steps, whole []LeftOut
	groups := l.p.Optionals(l.size)
	for _, o := range groups {
		if o.Step > o.Count() {
			found = append(found, *problem.Errorf(o.line.at(), "optional", "%d rows can't be left out of %d", o.Step, o.Count()).
				Suggest("make it at most %d", o.Count()))
			continue
		}
		steps = append(steps, LeftOut{o.Owner, o.From, o.Step})
		whole = append(whole, LeftOut{o.Owner, o.From, o.Count() - o.Count()%o.Step})
	}
	if len(found) > 0 || len(steps) == 0 {
		return found
	}
	for _, leave := range [][]LeftOut{steps, whole} {
		if out := l.p.layOut(layout{size: l.size, leave: leave, given: l.given}); len(out.problems) > 0 {
			told := out.problems[0]
			line := problem.Locate(l.p.text, told.Start).Line
			return append(found, *problem.Errorf(groups[0].line.at(), "optional", "with optional rows left out, line %d can't be worked: %s", line, told.Message).
				Suggest("take the mark off rows that change what the next ones are worked on"))
		}
	}
	return found
}

// optionalDoubts tells where leaving rows out would put something out of step.
// nths has for each line of the section which rows of the panels its rows work.
func (s *sectionRows) optionalDoubts(nths map[*Line][]int) {
	for _, line := range s.section.Lines {
		step := line.Optional.At(s.size)
		if step == 0 {
			continue
		}
		s.oddStep(line, step)
		s.outOfStep(line, step, func(other *strip, continued bool) bool { return other.straight(s.layout, nths[line], continued) })
	}
	for _, p := range s.section.panels {
		own := s.strips[p.Panel]
		if own == nil {
			continue
		}
		for _, line := range own.panel.Lines {
			if step := line.Optional.At(s.size); step > 0 {
				s.oddStep(line, step)
				s.outOfStep(line, step, func(other *strip, _ bool) bool { return other == own })
			}
		}
	}
}

func (s *sectionRows) oddStep(line *Line, step int) {
	if s.section.Rounds || step%2 == 0 {
		return
	}
	rows := "an odd number of rows"
	if step == 1 {
		rows = "a single row"
	}
	s.doubts.found = append(s.doubts.found, *warning(line.at(), "optional-side", "leaving out %s puts the next right-side row on the wrong side", rows).
		Suggest("let them be left out in twos"))
}

// outOfStep tells of the first panel that would no longer go on where it was;
// spared says which ones would.
func (s *sectionRows) outOfStep(line *Line, step int, spared func(s *strip, continued bool) bool) {
	for _, p := range s.section.panels {
		other := s.strips[p.Panel]
		if other == nil || step%other.period(s.size) == 0 || spared(other, p.Continued) {
			continue
		}
		s.doubts.found = append(s.doubts.found, *warning(line.at(), "optional-step", "leaving out %s at a time puts the panel %s out of step, which repeats every %d rows", rowsOf(step), p.Panel, other.period(s.size)).
			Suggest("let them be left out in a multiple of %d", other.period(s.size)))
		return
	}
}

// texts gives a panel's rows as canonical text, so that they can be compared.
func (s *strip) texts(size int) []string {
	if s.printed == nil {
		for _, body := range s.bodies {
			s.printed = append(s.printed, instruction.Print(body, size))
		}
	}
	return s.printed
}

// period is after how many rows a panel says the same again.
func (s *strip) period(size int) int {
	if s.repeats > 0 {
		return s.repeats
	}
	texts := s.texts(size)
	s.repeats = max(len(texts), 1)
	for period := 1; period <= len(texts)/2; period++ {
		if len(texts)%period == 0 && slices.Equal(texts[period:], texts[:len(texts)-period]) {
			s.repeats = period
			break
		}
	}
	return s.repeats
}

// straight says that a panel works the same in all of some rows, so that any
// of them can be missed.
func (s *strip) straight(l *layout, nths []int, continued bool) bool {
	texts := s.texts(l.size)
	if len(texts) == 0 || len(nths) == 0 {
		return true
	}
	first := texts[l.rowOf(s, nths[0], continued)]
	return !slices.ContainsFunc(nths, func(nth int) bool { return texts[l.rowOf(s, nth, continued)] != first })
}
