package patterns

import (
	"fmt"
	"slices"
	"strings"

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
			found = append(found, *problem.Errorf(o.line.at(), "optional", "%s can't be left out of %d", rowsOf(o.Step), o.Count()).
				Suggest("%s", l.together(o, o.Step)))
			continue
		}
		steps = append(steps, LeftOut{o.Owner, o.From, o.Step})
		whole = append(whole, LeftOut{o.Owner, o.From, o.Count() - o.Count()%o.Step})
	}
	if len(found) > 0 || len(steps) == 0 {
		return found
	}
	for _, leave := range [][]LeftOut{steps, whole} {
		if !l.fails(leave) {
			continue
		}
		if found = l.blamed(groups, leave); len(found) > 0 {
			break
		}
	}
	return found
}

// fails says that a pattern can't be worked with rows left out.
func (l *layout) fails(leave []LeftOut) bool {
	return len(l.p.layOut(layout{size: l.size, leave: leave, given: l.given}).problems) > 0
}

// blamed tells of each group that can't be left out by itself; where each can, of
// the first that can't together with those before it.
func (l *layout) blamed(groups []Optional, leave []LeftOut) []problem.Problem {
	var found []problem.Problem
	for i, o := range groups {
		if p := l.broken(o, leave[i:i+1], ""); p != nil {
			found = append(found, *p)
		}
	}
	for i := 0; len(found) == 0 && i < len(groups); i++ {
		if p := l.broken(groups[i], leave[:i+1], " and all optional rows before it"); p != nil {
			found = append(found, *p)
		}
	}
	return found
}

// broken tells what can't be worked with rows left out, at the line of one group;
// nil for nothing, and where the time is over.
func (l *layout) broken(o Optional, leave []LeftOut, besides string) *problem.Problem {
	out := l.p.layOut(layout{size: l.size, leave: leave, given: l.given, keep: true})
	if len(out.problems) == 0 || l.timeOver() {
		return nil
	}
	numbers := o.Last(leave[len(leave)-1].Rows)
	gone := itoa(len(numbers)) + " of these " + l.wordIn(o.line) + "s"
	if first, last := numbers[0], numbers[len(numbers)-1]; last-first == len(numbers)-1 {
		gone = numberedRows(l.wordIn(o.line), first, last)
	}
	where, why := out.rowOfProblem(out.problems[0])
	return problem.Errorf(o.line.at(), "optional", "with %s%s left out, %s can't be worked: %s", gone, besides, where, why).
		Suggest("take the mark off rows that change what the next ones are worked on")
}

// rowOfProblem says in which row of which section a problem is, and what it is: "round 7 of
// Crown".
func (l *layout) rowOfProblem(p problem.Problem) (where, why string) {
	p.Message = strings.TrimSuffix(p.Message, ": they run out here")
	line := func(at int) int { return problem.Locate(l.p.text, at).Line }
	for _, r := range l.rows {
		if line(r.Line.at().Start) > line(p.Start) || line(r.Line.at().End) < line(p.Start) && !within(p.Span, r.Line.Instruction.Span) {
			continue
		}
		number := r.Number
		if named, rest, found := strings.Cut(p.Message, ", "); found {
			var n int
			if _, err := fmt.Sscanf(named, "in "+wordOf(r.Rounds)+" %d", &n); err == nil {
				number, p.Message = n, rest
			}
		}
		return fmt.Sprintf("%s %d of %s", wordOf(r.Rounds), number, r.Section.Name), p.Message
	}
	return fmt.Sprintf("line %d", line(p.Start)), p.Message
}

// optionalDoubts tells where leaving rows out would put something out of step.
// nths has for each line of the section which rows of the panels its rows work.
func (s *sectionRows) optionalDoubts(nths map[*Line][]int) {
	for _, o := range s.p.Optionals(s.size) {
		line := o.line
		if o.Step > o.Count() {
			continue // an error, which says how to go on
		}
		own := s.strips[o.Owner]
		switch {
		case !o.Panel && o.Owner == s.section.Name:
			s.doubtful(o, func(other *strip, continued bool) bool { return other.straight(s.layout, nths[line], continued) })
		case o.Panel && own != nil && slices.ContainsFunc(s.section.panels, func(p *instruction.Strip) bool { return p.Panel == o.Owner }):
			s.doubtful(o, func(other *strip, _ bool) bool { return other == own })
		}
	}
}

// doubtful tells of the first panel that would no longer go on where it was when
// rows are left out of a group, or else of a flat row that would fall on the
// wrong side; spared says which panels would go on.
func (s *sectionRows) doubtful(o Optional, spared func(s *strip, continued bool) bool) {
	missed := s.outOfStep(o, spared)
	flat := !s.section.Rounds && o.Step%2 == 1
	if missed == nil && !flat {
		return
	}
	unit := 1
	if flat {
		unit = 2
	}
	for _, other := range missed {
		unit = commonMultiple(unit, other.period(s.size))
	}
	advice := "let them be left out in a multiple of " + itoa(unit)
	switch {
	case o.Count() < unit:
		advice = s.together(o, unit)
	case unit == 2:
		advice = "let them be left out in twos"
	}
	message, code := "", "optional-step"
	if missed == nil {
		rows := "an odd number of rows"
		if o.Step == 1 {
			rows = "a single row"
		}
		message, code = "leaving out "+rows+" puts the next right-side row on the wrong side", "optional-side"
	} else {
		message = fmt.Sprintf("leaving out %s at a time puts the panel %s out of step, which repeats every %d rows", rowsOf(o.Step), missed[0].panel.Name, missed[0].period(s.size))
	}
	s.doubts.found = append(s.doubts.found, *warning(o.line.at(), code, "%s", message).Suggest("%s", advice))
}

// outOfStep gives the panels that would no longer go on where they were.
func (s *sectionRows) outOfStep(o Optional, spared func(s *strip, continued bool) bool) []*strip {
	var missed []*strip
	for _, p := range s.section.panels {
		other := s.strips[p.Panel]
		if other != nil && o.Step%other.period(s.size) != 0 && !spared(other, p.Continued) {
			missed = append(missed, other)
		}
	}
	return missed
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
