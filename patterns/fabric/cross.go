package fabric

import (
	"fmt"
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// cross moves strands past each other: it slips them to cable needles and
// works them from there in the order that the cross says.
func (m *machine) cross(c *instruction.Cross) []instruction.Node {
	var cables [3][]Loop // by source; the next stitch of a cable is its last
	var waits, moved []Loop
	for i, s := range c.Slipped {
		if i+1 >= len(cables) || !m.spend(s.N, c.Span) {
			break
		}
		strand := make([]Loop, 0, s.N)
		for range s.N {
			strand = append(strand, m.need(c.Span))
		}
		if i == 0 {
			waits = slices.Clone(strand)
		}
		slices.Reverse(strand)
		cables[i+1] = strand
	}
	begin, side, returned := len(m.right), m.fabricSide(), 0
	var parts []instruction.Part
	for _, part := range c.Parts {
		did := part
		switch {
		case part.Returned > 0:
			returned = min(part.Returned, len(cables[1]))
			m.left = append(m.left, cables[1][:returned]...)
			cables[1] = cables[1][returned:]
		case part.From == instruction.FromLeft:
			before := m.left
			m.crossing++
			did.Body = m.run(part.Body)
			m.crossing--
			took := before[min(len(m.left), len(before)):]
			moved = appendReversed(moved, took[:max(0, len(took)-returned)]) // the rest came off the cable needle
			returned = max(0, returned-len(took))
		default:
			did.Body, cables[part.From] = m.from(cables[part.From], "the cable needle", part.Body)
		}
		if m.quiet == 0 {
			parts = append(parts, did)
		}
	}
	for _, waiting := range cables {
		if len(waiting) > 0 {
			m.fail(c.Span, "cross-unfinished", "the cross never ends: %s still on the cable needle", areStitches(len(waiting)))
			m.right = appendReversed(m.right, waiting)
		}
	}
	for i := min(begin, len(m.right)); i < len(m.right); i++ {
		m.right[i].Marks |= Crossed
	}
	m.note(c, side, waits, moved)
	if m.quiet > 0 {
		return nil
	}
	return m.did(&instruction.Cross{Span: c.Span, Named: c.Named, Slipped: c.Slipped, Parts: parts})
}

func appendReversed(to, from []Loop) []Loop {
	for i := len(from) - 1; i >= 0; i-- {
		to = append(to, from[i])
	}
	return to
}

func (m *machine) fabricSide() instruction.Side {
	if m.back {
		return instruction.WS
	}
	return instruction.RS
}

// note records a cross for the warnings: the strand that waited on the first
// cable needle, and the one from the left needle that moved past it. Where the
// cable needle waits in back, the other one passes in front. The middle one of
// three strands stays where it is.
func (m *machine) note(c *instruction.Cross, side instruction.Side, waits, moved []Loop) {
	front, behind := waits, moved
	if len(c.Slipped) > 0 && c.Slipped[0].Hold == instruction.HoldBack {
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
	if !m.spend(count, n.Span) {
		return nil
	}
	var runs []instruction.Node
	var run *instruction.Work
	for range count {
		var s *stitch.Stitch
		if m.record == nil {
			s = m.asLooksOnce(n)
		} else {
			m.act(n, func() *stitch.Stitch { s = m.asLooksOnce(n); return s })
		}
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
	return m.did(&did)
}

var knit, purl = stitch.Find("k"), stitch.Find("p")

// asLooksOnce works one stitch as it looks, and says as which.
func (m *machine) asLooksOnce(n *instruction.AsLooks) *stitch.Stitch {
	l := m.need(n.Span)
	face := m.shown(l.Face)
	if n.Opposite {
		face = face.Other()
	}
	m.putWorked(l, face, false, false)
	if face == stitch.Purl {
		return purl
	}
	return knit
}

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
	if avail := m.ahead(); avail < n.Width {
		m.fail(n.Span, "panel-room", "the panel %s needs %s, and finds %d", n.Panel, stitches(n.Width), max(avail, 0))
	}
	floor, wall, panel, back, lacked, told := m.floor, m.wall, m.panel, m.back, m.lacking, m.short
	m.floor, m.wall, m.panel = max(m.floor, len(m.left)-n.Width), len(m.right), n
	body := m.run(n.Body)
	if m.back != back {
		m.fail(lastOf(n.Body), "turn", "the work is turned in the panel %s, and not turned back before its row %d ends", n.Panel, n.Row)
		m.swap()
	}
	if m.short != nil && told == nil {
		m.short.Code, m.short.Message = "panel-width", fmt.Sprintf("the panel %s has %s, and its row %d needs %d: they run out here", n.Panel, stitches(n.Width), n.Row, n.Width+m.lacking-lacked)
		m.short = nil
	}
	if left := m.ahead(); left > 0 {
		m.fail(lastOf(n.Body), "panel-width", "row %d of the panel %s leaves %s unworked", n.Row, n.Panel, stitches(left))
		m.skip(left)
	}
	m.floor, m.wall, m.panel = floor, wall, panel
	return m.did(&instruction.Strip{Span: n.Span, Panel: n.Panel, Continued: n.Continued, Row: n.Row, Width: n.Width, Body: body})
}
