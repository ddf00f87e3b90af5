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
		if o.count()%o.Step != 0 {
			found = append(found, *problem.Errorf(o.line.at(), "optional", "%d rows can't be left out %d at a time", o.count(), o.Step))
			continue
		}
		steps = append(steps, LeftOut{o.Owner, o.From, o.Step})
		whole = append(whole, LeftOut{o.Owner, o.From, o.count()})
		found = append(found, l.optionalWarnings(o)...)
	}
	if HasErrors(found) || len(steps) == 0 {
		return found
	}
	for _, leave := range [][]LeftOut{steps, whole} {
		if out := l.p.layOut(l.size, leave); out.failed >= 0 {
			at, told := groups[0].line.at(), out.problems[0]
			line := problem.Locate([]byte(l.p.src), told.Start).Line
			return append(found, *problem.Errorf(at, "optional", "with optional rows left out, line %d can't be worked: %s", line, told.Message))
		}
	}
	return found
}

// optionalWarnings tells where leaving rows out would put something out of step.
func (l *layout) optionalWarnings(o Optional) []problem.Problem {
	var found []problem.Problem
	for _, s := range l.p.Sections {
		panels := panelsIn(s.Across)
		mine := !o.Panel && s.Name == o.Owner
		if o.Panel {
			mine = slices.ContainsFunc(panels, func(n *instruction.Strip) bool { return n.Panel == o.Owner })
		}
		if !mine {
			continue
		}
		if !s.Rounds && o.Step%2 == 1 {
			found = append(found, *warning(o.line.at(), "optional-side", "leaving out %s of rows puts the next right-side row on the wrong side", oddNumber(o.Step)).
				Suggest("let them be left out in twos"))
		}
		for _, n := range panels {
			strip := l.strips[n.Panel]
			if strip == nil || (o.Panel && n.Panel == o.Owner) || o.Step%strip.period(l.size) == 0 || (!o.Panel && strip.straight(o, l.size)) {
				continue
			}
			found = append(found, *warning(o.line.at(), "optional-step", "leaving out %d rows at a time puts the panel %s out of step, which repeats every %d rows", o.Step, n.Panel, strip.period(l.size)).
				Suggest("let them be left out in a multiple of %d", strip.period(l.size)))
		}
	}
	return found
}

func oddNumber(n int) string {
	if n == 1 {
		return "a single one"
	}
	return "an odd number"
}

// period is after how many rows a panel says the same again.
func (s *strip) period(size int) int {
	n := len(s.bodies)
	for period := 1; period < n; period++ {
		if n%period == 0 && s.recursAfter(period, size) {
			return period
		}
	}
	return max(n, 1)
}

func (s *strip) recursAfter(period, size int) bool {
	for i := period; i < len(s.bodies); i++ {
		if instruction.Print(s.bodies[i], size) != instruction.Print(s.bodies[i-period], size) {
			return false
		}
	}
	return true
}

// straight says that a panel works the same in all rows of a section's group,
// so that some of them can be missed.
func (s *strip) straight(o Optional, size int) bool {
	if len(s.bodies) == 0 {
		return true
	}
	first := instruction.Print(s.bodies[(o.From-1)%len(s.bodies)], size)
	for row := o.From; row < o.To; row++ {
		if instruction.Print(s.bodies[row%len(s.bodies)], size) != first {
			return false
		}
	}
	return true
}
