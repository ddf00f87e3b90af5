package fabric

import (
	"reflect"
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// repeat works a group as often as its extent says, or until its reach is
// used up, which must come out even.
func (m *machine) repeat(n *instruction.Repeat) []instruction.Node {
	same := m.uniform(n.Body)
	if n.Extent.Reach == instruction.Times {
		return m.repeatTimes(n, n.Extent.N.At(m.size), same)
	}
	over, ok := m.measure(n.Extent, n.Span)
	if !ok || over == 0 {
		return nil
	}
	rest := m.ahead() - over
	first, used, ok := m.try(n)
	if !ok {
		m.uneven(n.Span, used, over)
		m.skip(over)
		return nil
	}
	if used == 0 {
		m.fail(n.Span, "no-end", "the repeat uses no stitches, so it never reaches its end").Suggest("say how many times")
		return nil
	}
	if m.ahead() < rest {
		m.uneven(n.Span, used, over)
		return nil
	}
	bodies := [][]instruction.Node{first}
	times := 1
	for m.ahead() > rest {
		if same && m.ahead()-rest >= used {
			m.quiet++
			m.run(n.Body)
			m.quiet--
			times++
			continue
		}
		body, took, ok := m.tryWithin(n, same, rest)
		if !ok || took == 0 {
			m.uneven(n.Span, max(used, took), over)
			m.skip(m.ahead() - rest)
			break
		}
		bodies, times = append(bodies, body), times+1
	}
	return m.told(n, bodies, times)
}

// tryWithin works the group once more unless that would reach past rest
// stitches before the end.
func (m *machine) tryWithin(n *instruction.Repeat, same bool, rest int) ([]instruction.Node, int, bool) {
	if same {
		return nil, 0, false
	}
	before := m.mark()
	body, took, ok := m.try(n)
	if ok && m.ahead() < rest {
		m.reset(before)
		return nil, took, false
	}
	return body, took, ok
}

func (m *machine) repeatTimes(n *instruction.Repeat, times int, same bool) []instruction.Node {
	var bodies [][]instruction.Node
	for i := range times {
		if m.acts > maxActs {
			break
		}
		if same && i > 0 {
			m.quiet++
			m.run(n.Body)
			m.quiet--
			continue
		}
		bodies = append(bodies, m.run(n.Body))
	}
	if times == 0 {
		return nil
	}
	return m.told(n, bodies, times)
}

// told gives the repeat with its count; where it did not go the same way each
// time, as several repeats in turn.
func (m *machine) told(n *instruction.Repeat, bodies [][]instruction.Node, times int) []instruction.Node {
	if m.quiet > 0 {
		return nil
	}
	if len(bodies) <= 1 {
		return one(&instruction.Repeat{Span: n.Span, Body: slices.Concat(bodies...), Extent: n.Extent, Count: times})
	}
	var done []instruction.Node
	for i := 0; i < len(bodies); {
		j := i + 1
		for j < len(bodies) && reflect.DeepEqual(bodies[i], bodies[j]) {
			j++
		}
		part := &instruction.Repeat{Span: n.Span, Body: bodies[i], Extent: instruction.Extent{N: instruction.N(j - i)}, Count: j - i}
		if j-i == len(bodies) {
			part.Extent = n.Extent
		}
		done = append(done, part)
		i = j
	}
	return done
}

// A state is what a trial can go back to.
type state struct {
	needles needles
	fabric  Fabric
	lacking int
	crossed int
	problem *problem.Problem
}

func (m *machine) mark() state {
	n := *m.needles
	n.leftMarks, n.rightMarks = slices.Clone(n.leftMarks), slices.Clone(n.rightMarks)
	return state{n, m.fabric, m.lacking, len(m.crossings), m.problem}
}

func (m *machine) reset(s state) {
	*m.needles = s.needles
	m.fabric, m.lacking, m.crossings, m.problem = s.fabric, s.lacking, m.crossings[:s.crossed], s.problem
}

// try works a group once. Where the stitches run out it goes back to before,
// and says how many the group would have used.
func (m *machine) try(n *instruction.Repeat) (body []instruction.Node, used int, ok bool) {
	before, had := m.mark(), len(m.left)
	m.trial++
	body = m.run(n.Body)
	m.trial--
	used = had - len(m.left) + m.lacking - before.lacking
	if m.lacking > before.lacking {
		m.reset(before)
		return nil, used, false
	}
	return body, used, true
}

// uneven reports a repeat that does not come out.
func (m *machine) uneven(at problem.Span, used, over int) {
	if used == 0 {
		m.fail(at, "uneven", "the repeat does not come out even over the %s ahead of it", stitches(over))
		return
	}
	m.fail(at, "uneven", "the repeat uses %s, and there are %d for it: that is %s with %d left over", stitches(used), over, timesWord(over/used), over%used).
		Suggest("it comes out even on %d or %d", over/used*used, (over/used+1)*used)
}

func timesWord(n int) string {
	if n == 1 {
		return "once"
	}
	return itoa(n) + " times"
}

// skip passes stitches over as they are, after a problem has been told.
func (m *machine) skip(n int) {
	for range n {
		l, ok := m.take()
		if !ok {
			return
		}
		m.put(l)
	}
}

// uniform says that a group does the same each time it is worked, wherever it
// begins, so that working it once tells all of them.
func (m *machine) uniform(nodes []instruction.Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Work:
			if n.Extent.Reach != instruction.Times {
				return false
			}
		case *instruction.Repeat:
			if n.Extent.Reach != instruction.Times || !m.uniform(n.Body) {
				return false
			}
		case *instruction.Into:
			if !m.uniform(n.Body) {
				return false
			}
		case *instruction.Macro:
			if !m.uniform(n.Body) {
				return false
			}
		case *instruction.Cross, *instruction.Yarn, *instruction.Bead:
		case *instruction.Strip:
			if !m.uniform(n.Body) {
				return false
			}
		default:
			return false
		}
	}
	return true
}
