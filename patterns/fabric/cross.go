package fabric

import (
	"slices"
	"strconv"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

func itoa(n int) string { return strconv.Itoa(n) }

// cross moves strands past each other: it slips them to cable needles and
// works them from there in the order that the cross says.
func (m *machine) cross(c *instruction.Cross) []instruction.Node {
	var cables [3][]Loop
	var strands [][]Loop
	for i, s := range c.Slipped {
		strand := make([]Loop, 0, s.N)
		for range s.N {
			strand = append(strand, m.need(c.Span))
		}
		cables[i+1] = strand
		strands = append(strands, slices.Clone(strand))
	}
	begin, side := len(m.right), m.fabricSide()
	ahead := slices.Clone(m.left[:min(len(m.left), leftWidth(c))])
	parts := make([]instruction.Part, 0, len(c.Parts))
	for _, part := range c.Parts {
		did := part
		switch {
		case part.Returned > 0:
			first := len(cables[1]) - min(part.Returned, len(cables[1]))
			m.left = slices.Concat(cables[1][first:], m.left)
			cables[1] = cables[1][:first]
		case part.From == instruction.FromLeft:
			did.Body = m.run(part.Body)
		default:
			did.Body = m.fromCable(&cables[part.From], part.Body)
		}
		parts = append(parts, did)
	}
	for _, waiting := range cables {
		if len(waiting) > 0 {
			m.fail(c.Span, "cross-unfinished", "the cross never ends: %s still on the cable needle", areStitches(len(waiting)))
			m.right = append(m.right, waiting...)
		}
	}
	for i := min(begin, len(m.right)); i < len(m.right); i++ {
		m.right[i].Marks |= Crossed
	}
	m.note(c, side, append(strands, ahead))
	if m.quiet > 0 {
		return nil
	}
	return one(&instruction.Cross{Span: c.Span, Named: c.Named, Slipped: c.Slipped, Parts: parts})
}

// fromCable works nodes on a cable needle as if it were the left one.
func (m *machine) fromCable(cable *[]Loop, body []instruction.Node) []instruction.Node {
	left, floor, start, marks := m.left, m.floor, m.start, m.leftMarks
	m.left, m.floor, m.start, m.leftMarks = *cable, 0, 0, nil
	done := m.run(body)
	*cable = m.left
	m.left, m.floor, m.start, m.leftMarks = left, floor, start, marks
	return done
}

func (m *machine) fabricSide() instruction.Side {
	if m.back {
		return instruction.WS
	}
	return instruction.RS
}

// leftWidth is how many stitches a cross takes from the left needle itself.
func leftWidth(c *instruction.Cross) int {
	n := 0
	for _, p := range c.Parts {
		if p.From == instruction.FromLeft {
			for _, node := range p.Body {
				if w, ok := node.(*instruction.Work); ok {
					n += w.Stitch.Uses * w.Extent.N.At(0)
				}
			}
		}
	}
	return n
}

// note records a cross of two strands for the warnings. Where the cable needle
// waits in back, the strand from the left needle passes in front.
func (m *machine) note(c *instruction.Cross, side instruction.Side, strands [][]Loop) {
	if len(strands) == 3 { // the middle one stays where it is
		strands = [][]Loop{strands[0], strands[2]}
	}
	front, behind := strands[0], strands[1]
	if c.Slipped[0].Hold == instruction.HoldBack && !(len(c.Slipped) > 1 && c.Named.Left) {
		front, behind = behind, front
	}
	m.crossings = append(m.crossings, Crossing{Cross: c, Side: side, Front: front, Behind: behind})
}

// asLooks works stitches as their faces show on the side that faces the
// knitter, and tells what that comes to.
func (m *machine) asLooks(n *instruction.AsLooks) []instruction.Node {
	count := n.Extent.N.At(m.size)
	if n.Extent.Reach != instruction.Times {
		over, ok := m.measure(n.Extent, n.Span)
		if !ok {
			return nil
		}
		count = over
	}
	var runs []instruction.Node
	var run *instruction.Work
	for range count {
		l := m.need(n.Span)
		face := m.shown(l.Face)
		if n.Opposite {
			face = face.Other()
		}
		s := knit
		if face == stitch.Purl {
			s = purl
		}
		l.Face, l.Yarn = m.shown(face), m.fabric.yarn
		l.Marks &^= Twisted | Wrapped | Slipped
		m.put(l)
		if run == nil || run.Stitch != s {
			run = &instruction.Work{Span: n.Span, Stitch: s}
			runs = append(runs, run)
		}
		run.Count++
		run.Extent.N = instruction.N(run.Count)
	}
	if m.quiet > 0 || count == 0 {
		return nil
	}
	did := *n
	did.Body = folded(runs)
	return one(&did)
}

var knit, purl = stitch.Find("k"), stitch.Find("p")

// maxPeriod is the longest stretch of runs that is looked for as a repeat.
const maxPeriod = 8

// folded puts runs that recur at least three times in a row into a repeat, so
// that they can be heard: knit two, purl two, and so on.
func folded(runs []instruction.Node) []instruction.Node {
	var out []instruction.Node
	for i := 0; i < len(runs); {
		period, times := recurs(runs[i:])
		if times < 3 {
			out = append(out, runs[i])
			i++
			continue
		}
		out = append(out, &instruction.Repeat{Span: runs[i].Pos(), Body: runs[i : i+period : i+period],
			Extent: instruction.Extent{N: instruction.N(times)}, Count: times})
		i += period * times
	}
	return out
}

// recurs gives the shortest stretch at the start of runs that recurs at once,
// and how many times it stands there.
func recurs(runs []instruction.Node) (period, times int) {
	for period = 2; period <= min(maxPeriod, len(runs)/3); period++ {
		for times = 1; (times+1)*period <= len(runs) && sameRuns(runs[:period], runs[times*period:(times+1)*period]); times++ {
		}
		if times >= 3 {
			return period, times
		}
	}
	return 1, 1
}

func sameRuns(a, b []instruction.Node) bool {
	return slices.EqualFunc(a, b, func(x, y instruction.Node) bool {
		v, w := x.(*instruction.Work), y.(*instruction.Work)
		return v.Stitch == w.Stitch && v.Count == w.Count
	})
}

// strip works one panel's row on the panel's own stitches.
func (m *machine) strip(n *instruction.Strip) []instruction.Node {
	outer := m.floor
	if avail := m.ahead(); avail < n.Width {
		m.fail(n.Span, "panel-room", "the panel %s needs %s, and there are %d for it", n.Panel, stitches(n.Width), max(avail, 0))
	}
	m.floor = max(m.floor, len(m.left)-n.Width)
	body := m.run(n.Body)
	if left := m.ahead(); left > 0 {
		m.fail(lastOf(n.Body), "panel-width", "%s of the panel %s left unworked in its row %d", areStitches(left), n.Panel, n.Row)
		m.skip(left)
	}
	m.floor = outer
	if m.quiet > 0 {
		return nil
	}
	return one(&instruction.Strip{Span: n.Span, Panel: n.Panel, Continued: n.Continued, Row: n.Row, Width: n.Width, Body: body})
}
