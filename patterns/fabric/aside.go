package fabric

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// from works nodes on other loops as if they were the left needle, and gives
// back what is left of those. The source names them, in words.
func (m *machine) from(loops []Loop, source string, body []instruction.Node) ([]instruction.Node, []Loop) {
	n, outer := m.needles, m.source
	left, floor, start, passed, marks := n.left, n.floor, n.start, n.passed, n.leftMarks
	n.left, n.floor, n.start, n.passed, n.leftMarks, m.source = loops, 0, -1, -1, nil, source
	m.record.mute(1)
	done := m.run(body)
	m.record.mute(-1)
	rest := n.left
	n.left, n.floor, n.start, n.passed, n.leftMarks, m.source = left, floor, start, passed, marks, outer
	return done, rest
}

// workInto works several stitches into the next one.
func (m *machine) workInto(n *instruction.Into) []instruction.Node {
	l := m.need(n.Span)
	uses := m.usedBy(n.Body)
	if uses == 0 {
		m.fail(n.Span, "into", "nothing in this group is worked into the stitch").Suggest("begin it with k1 or p1")
		m.put(l)
		return nil
	}
	if !m.spend(uses, n.Span) {
		return nil
	}
	again := make([]Loop, uses)
	for i := 1; i < uses; i++ {
		again[uses-1-i] = m.fresh()
		again[uses-1-i].Face, again[uses-1-i].Yarn = l.Face, l.Yarn
	}
	again[uses-1] = l
	body, _ := m.from(again, "the stitch that the group is worked into", n.Body)
	return m.did(&instruction.Into{Span: n.Span, Body: body})
}

// usedBy is how many times a group puts the needle into its stitch.
func (m *machine) usedBy(nodes []instruction.Node) int {
	n := 0
	for _, node := range nodes {
		switch node := node.(type) {
		case *instruction.Work:
			n += node.Stitch.Uses * node.Extent.N.At(m.size)
		case *instruction.Repeat:
			n += m.usedBy(node.Body) * node.Extent.N.At(m.size)
		case *instruction.Macro:
			n += m.usedBy(node.Body)
		}
	}
	return min(n, maxActs)
}

func (m *machine) marker(n *instruction.Marker) {
	switch {
	case n.Act == instruction.PlaceMarker:
		m.placeMark()
		return
	case !m.markerHere():
		m.noMarker(n.Span)
	}
	m.slipMarks()
	if n.Act != instruction.RemoveMarker {
		return
	}
	if m.markDone() {
		m.rightMarks = m.rightMarks[:len(m.rightMarks)-1]
	}
}

// markerHere says that a marker stands between the needles. At the end of a
// round that is also the one at its beginning.
func (m *machine) markerHere() bool {
	return m.markNext() || m.markDone() || len(m.left) == 0 && m.atStart()
}

func (m *machine) noMarker(at problem.Span) {
	if d, ok := m.toMarker(); ok {
		m.fail(at, "marker-missing", "no marker stands here; the next one is %s further on", stitches(d)).Suggest("write: k to m, sm")
		return
	}
	m.fail(at, "marker-missing", "no marker stands here, and none is ahead").Suggest("place it in an earlier row with pm")
}

// turnWork turns the work in the middle of a row. Inside a panel it must be
// turned back before the panel ends, as for a bobble.
func (m *machine) turnWork(n *instruction.Turn) {
	if m.source != "" || m.crossing > 0 {
		m.fail(n.Span, "turn", "the work can't be turned inside a cross, or a group worked into one stitch")
		return
	}
	if n.Wrap {
		if len(m.left) <= m.floor {
			m.fail(n.Span, "turn", "there is no next stitch to wrap")
		} else {
			m.left[len(m.left)-1].Marks |= Wrapped
		}
	}
	m.unworked = max(m.ahead(), 0)
	if m.rounds && m.panel == nil {
		m.spend((len(m.left)+len(m.right))/longMove, n.Span) // every stitch of the ring is moved
		m.turnRing()
	} else {
		m.swap()
	}
	m.turns, m.sinceTurn = true, max(m.ahead(), 0)
}

// longMove is how many stitches moved at once count as one act.
const longMove = 50

func (m *machine) takeYarn(n *instruction.Yarn) {
	key := stitch.Key(n.Name)
	i := slices.IndexFunc(m.fabric.yarns, func(y yarn) bool { return y.key == key })
	if i < 0 {
		if i = len(m.fabric.yarns); i == maxYarns {
			m.fail(n.Span, "too-many-yarns", "this is one more than %d yarns", maxYarns).Suggest("give the same yarn the same name each time")
			return
		}
		m.fabric.yarns = append(slices.Clip(m.fabric.yarns), yarn{n.Name, key})
	}
	m.fabric.yarn = uint8(i + 1)
}

// held puts stitches on hold, or returns the group that was put there with
// that many, else the oldest ones.
func (m *machine) held(n *instruction.Held) []instruction.Node {
	count := n.N.At(m.size)
	if count == 0 {
		return nil
	}
	if n.Return {
		m.returnHeld(n, count)
	} else {
		if !m.spend(count, n.Span) {
			return nil
		}
		group := make([]Loop, 0, count)
		for range count {
			group = append(group, m.need(n.Span))
		}
		if m.back {
			slices.Reverse(group)
		}
		m.fabric.held = append(m.ownHeld(), group)
	}
	did := *n
	did.Count = count
	return m.did(&did)
}

// returnHeld puts stitches that were on hold on the left needle, as they face
// now.
func (m *machine) returnHeld(n *instruction.Held, count int) {
	if m.source != "" || m.crossing > 0 || m.panel != nil {
		m.fail(n.Span, "not-held", "stitches can't be returned inside a panel, a cross or a group worked into one stitch")
		return
	}
	if on := m.fabric.Held(); on < count {
		m.fail(n.Span, "not-held", "%s on hold, and %d are to be returned", areStitches(on), count)
		return
	}
	if !m.spend(len(m.fabric.held)/longMove, n.Span) {
		return
	}
	group := m.offHold(count)
	if !m.back { // the tip of the needle is its end
		slices.Reverse(group)
	}
	for i := range group {
		group[i].Marks &= lasting
	}
	m.left = append(m.left, group...)
	m.before += count
}

// ownHeld is the list of what is on hold, as one that this row may change.
func (m *machine) ownHeld() [][]Loop {
	if !m.ownsHeld {
		m.fabric.held, m.ownsHeld = slices.Clone(m.fabric.held), true
	}
	return m.fabric.held
}

// offHold takes the oldest group of so many stitches, or, where there is none,
// the oldest stitches.
func (m *machine) offHold(count int) []Loop {
	held := m.ownHeld()
	if i := slices.IndexFunc(held, func(h []Loop) bool { return len(h) == count }); i >= 0 {
		group := slices.Clone(held[i])
		m.fabric.held = slices.Delete(held, i, i+1)
		return group
	}
	var group []Loop
	for len(group) < count {
		part := held[0][:min(count-len(group), len(held[0]))]
		group = append(group, part...)
		if held[0] = held[0][len(part):]; len(held[0]) == 0 {
			held = held[1:]
		}
	}
	m.fabric.held = held
	return group
}
