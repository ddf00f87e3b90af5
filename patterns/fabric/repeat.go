package fabric

import (
	"reflect"
	"slices"
	"strconv"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// repeat works a group as often as its extent says, or until its reach is
// used up, which must come out even.
func (m *machine) repeat(n *instruction.Repeat) []instruction.Node {
	if n.Extent.Reach == instruction.Times {
		return m.repeatTimes(n, n.Extent.N.At(m.size))
	}
	over, ok := m.measure(n.Extent, n.Span)
	if !ok {
		return nil
	}
	rest := m.ahead() - over
	most, bounded := mostTaken(n.Body, m.size)
	if !bounded {
		most = over + 1
	}
	same := m.uniform(n.Body)
	var bodies [][]instruction.Node
	times, used := 0, 0
	for m.ahead() > rest && !m.stopped {
		if same && times > 0 && m.ahead()-rest >= used {
			m.quietly(n.Body)
			times++
			continue
		}
		body, took, ok := m.once(n, rest, most)
		if !ok && took > 0 {
			m.unevenRepeat(n, times, used, took, m.ahead()-rest)
			m.skip(m.ahead() - rest)
			break
		}
		if took <= 0 && !m.stopped { // nothing was worked, or more is ahead than before
			m.fail(n.Span, "no-end", "the repeat uses no stitches, so it never reaches its end").Suggest("say how many times")
			m.skip(m.ahead() - rest)
			break
		}
		bodies, times, used = append(bodies, body), times+1, took
	}
	return m.told(n, bodies, times)
}

// once works the group once, unless its stitches run out or it would reach
// past rest stitches before the end: then it changes nothing, and says how
// many stitches the group would have used. A group that can take at most so
// many needs no such care while there are more.
func (m *machine) once(n *instruction.Repeat, rest, most int) (body []instruction.Node, took int, ok bool) {
	had := m.ahead()
	if had-rest >= most {
		body = m.run(n.Body)
		return body, had - m.ahead(), true
	}
	m.spend((len(m.left)+len(m.right))/longMove, n.Span)
	before := m.save()
	m.trial++
	body = m.run(n.Body)
	m.trial--
	took = had - m.ahead() + m.lacking - before.lacking
	if (m.lacking > before.lacking || m.ahead() < rest) && !m.stopped {
		m.restore(before)
		return nil, took, false
	}
	return body, took, true
}

func (m *machine) quietly(nodes []instruction.Node) {
	m.quiet++
	m.run(nodes)
	m.quiet--
}

func (m *machine) repeatTimes(n *instruction.Repeat, times int) []instruction.Node {
	same := m.uniform(n.Body)
	var bodies [][]instruction.Node
	for i := range times {
		if !m.spend(1, n.Span) {
			break
		}
		if same && i > 0 {
			m.quietly(n.Body)
			continue
		}
		bodies = append(bodies, m.run(n.Body))
	}
	return m.told(n, bodies, times)
}

// told gives the repeat with its count; where it did not go the same way each
// time, as several repeats in turn.
func (m *machine) told(n *instruction.Repeat, bodies [][]instruction.Node, times int) []instruction.Node {
	if m.quiet > 0 || times == 0 {
		return nil
	}
	if len(bodies) <= 1 {
		return m.did(&instruction.Repeat{Span: n.Span, Body: slices.Concat(bodies...), Extent: n.Extent, Count: times})
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
	before  int
	lacking int
	crossed int
	problem *problem.Problem
}

func (m *machine) save() state {
	n := *m.needles
	n.left, n.right = slices.Clone(n.left), slices.Clone(n.right)
	n.leftMarks, n.rightMarks = slices.Clone(n.leftMarks), slices.Clone(n.rightMarks)
	m.ownsHeld = false
	n.record = m.record.saved()
	return state{n, m.fabric, m.before, m.lacking, len(m.crossings), m.problem}
}

func (m *machine) restore(s state) {
	*m.needles = s.needles
	m.fabric, m.before, m.lacking, m.crossings, m.problem, m.ownsHeld = s.fabric, s.before, s.lacking, m.crossings[:s.crossed], s.problem, false
}

// mostTaken is how many stitches a group can take off the left needle at most;
// false where that depends on what is on it.
func mostTaken(nodes []instruction.Node, size int) (int, bool) {
	most := 0
	for _, n := range nodes {
		took, bounded := 0, true
		switch n := n.(type) {
		case *instruction.Work:
			took, bounded = n.Stitch.Uses*n.Extent.N.At(size), n.Extent.Reach == instruction.Times
		case *instruction.Repeat:
			took, bounded = mostTaken(n.Body, size)
			took *= n.Extent.N.At(size)
			bounded = bounded && n.Extent.Reach == instruction.Times
		case *instruction.Macro:
			took, bounded = mostTaken(n.Body, size)
		case *instruction.Into:
			took = 1
		case *instruction.Cross:
			took, bounded = crossTakes(n, size)
		case *instruction.AsLooks:
			took, bounded = n.Extent.N.At(size), n.Extent.Reach == instruction.Times
		case *instruction.Strip:
			took = n.Width
		case *instruction.Held:
			took, bounded = n.N.At(size), !n.Return
		case *instruction.Turn:
			bounded = false
		}
		if !bounded {
			return 0, false
		}
		most = min(most+took, maxActs)
	}
	return most, true
}

func crossTakes(c *instruction.Cross, size int) (most int, bounded bool) {
	for _, s := range c.Slipped {
		most += s.N
	}
	for _, p := range c.Parts {
		if p.From == instruction.FromLeft {
			took, bounded := mostTaken(p.Body, size)
			if !bounded {
				return 0, false
			}
			most += took
		}
	}
	return most, true
}

// uneven reports something that takes so many stitches each time, over a
// number of them that can't be shared out so.
func (m *machine) uneven(at problem.Span, what string, used, over int) {
	p := m.fail(at, "uneven", "%s uses %s each time, and there are %d for it: that is %s with %d left over", what, stitches(used), over, timesWord(over/used), over%used)
	if over < used {
		p.Suggest("it comes out even on %d", used)
	} else {
		p.Suggest("it comes out even on %d or %d", over/used*used, (over/used+1)*used)
	}
}

// unevenRepeat reports a repeat that has come out so many times, the last time
// over so many stitches, and would take more than are left.
func (m *machine) unevenRepeat(n *instruction.Repeat, times, used, took, left int) {
	if times == 0 || m.uniform(n.Body) && took == used {
		m.uneven(n.Span, "the repeat", took, times*took+left)
		return
	}
	m.fail(n.Span, "uneven", "the repeat comes out %s, and is left with %s where it would use %d", timesWord(times), stitches(left), took)
}

func timesWord(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
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
		case *instruction.Cross, *instruction.Yarn, *instruction.Bead, *instruction.Marker:
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
