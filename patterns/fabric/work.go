package fabric

import (
	"fmt"
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// A Row is how an instruction is worked.
type Row struct {
	Rounds bool // in rounds; else in rows, and the work is turned after it
	Size   int  // which of the sizes, from 0
}

// A Result is what came of working a row.
type Result struct {
	After     Fabric
	Done      []instruction.Node // the instruction with every count filled in
	Crossings []Crossing
	// Problem is nil when the row could be worked. Otherwise After is a guess,
	// for the sake of the rows that follow: what the row would make if there
	// were enough stitches, with what it leaves unworked as it was.
	Problem *problem.Problem
}

// A Crossing is a cross as it met the stitches.
type Crossing struct {
	Cross  *instruction.Cross
	Side   instruction.Side
	Front  []Loop // the strand that passed in front, as it was before
	Behind []Loop // the strand that passed behind it
}

// Work works one row. It never changes f.
func (f Fabric) Work(body []instruction.Node, row Row) Result {
	m := &machine{needles: f.needles(row.Rounds), fabric: f, size: row.Size, before: f.Ahead()}
	done := m.run(body)
	turned := m.turnedLast
	if left := m.ahead(); left > 0 && !turned && m.problem == nil {
		m.fail(lastOf(body), "unworked", "%s left unworked at the end of the row, which began with %d", areStitches(left), m.before).
			Suggest("work them, or write turn if the row is meant to stop here")
	} else if !turned && m.problem == nil && m.passed >= 0 && m.start < 0 && len(m.left) > 0 && m.passed != len(m.right) {
		m.fail(lastOf(body), "unworked", "the round ends past its beginning; a turn was expected")
	}
	m.tellShortage()
	next := m.fabric
	after := m.into(next, turned)
	return Result{After: after, Done: done, Crossings: m.crossings, Problem: m.problem}
}

func lastOf(body []instruction.Node) problem.Span {
	if len(body) == 0 {
		return problem.Span{}
	}
	return body[len(body)-1].Pos()
}

// machine works an instruction. After the first problem it goes on as well as
// it can, so that the rows that follow can still be checked.
type machine struct {
	*needles
	fabric     Fabric // carries yarns and what is on hold
	size       int
	before     int
	crossings  []Crossing
	problem    *problem.Problem
	short      *problem.Problem // the shortage, told when its size is known
	lacking    int
	acts       int
	quiet      int // above 0 no record of what is done is made
	trial      int // above 0 a shortage is noted and not told
	turnedLast bool
}

func (m *machine) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	p := problem.Errorf(at, code, format, args...)
	if m.problem == nil {
		m.problem = p
	}
	return p
}

// need takes the next stitch, or makes one up and notes the shortage.
func (m *machine) need(at problem.Span) Loop {
	if l, ok := m.take(); ok {
		return l
	}
	m.lacking++
	if m.problem == nil && m.trial == 0 {
		m.short = &problem.Problem{Span: at, Code: "short"}
		m.problem = m.short
	}
	return m.fresh()
}

// tellShortage words a shortage, once it is known how many stitches the whole
// row would have needed.
func (m *machine) tellShortage() {
	if m.short == nil {
		return
	}
	m.short.Message = fmt.Sprintf("the row needs %s, and there are %d: they run out here", stitches(m.before+m.lacking), m.before)
}

func stitches(n int) string {
	if n == 1 {
		return "1 stitch"
	}
	return fmt.Sprintf("%d stitches", n)
}

func areStitches(n int) string {
	if n == 1 {
		return "1 stitch is"
	}
	return fmt.Sprintf("%d stitches are", n)
}

// maxActs bounds what is done in one row, whatever its repeats measure.
const maxActs = 40_000

// run works nodes in turn and gives them back with their counts.
func (m *machine) run(nodes []instruction.Node) []instruction.Node {
	var done []instruction.Node
	for _, n := range nodes {
		if m.acts++; m.acts > maxActs || len(m.right) > instruction.MaxStitches {
			m.fail(n.Pos(), "too-large", "the row grows past %d stitches here", instruction.MaxStitches).Suggest("check the numbers of the repeats")
			return done
		}
		did := m.node(n)
		if m.quiet == 0 {
			done = append(done, did...)
		}
	}
	return done
}

// node works one node. What it gives back is a single node, or several for a
// repeat that went differently each time.
func (m *machine) node(n instruction.Node) []instruction.Node {
	_, m.turnedLast = n.(*instruction.Turn)
	switch n := n.(type) {
	case *instruction.Work:
		return m.work(n)
	case *instruction.Repeat:
		return m.repeat(n)
	case *instruction.Into:
		return m.workInto(n)
	case *instruction.Cross:
		return m.cross(n)
	case *instruction.Macro:
		body := m.run(n.Body)
		return one(&instruction.Macro{Span: n.Span, Name: n.Name, Body: body})
	case *instruction.Marker:
		m.marker(n)
	case *instruction.Turn:
		m.turnWork(n)
	case *instruction.Yarn:
		m.takeYarn(n.Name)
	case *instruction.Bead:
		if len(m.right) > 0 {
			m.right[len(m.right)-1].Marks |= Beaded
		}
	case *instruction.Held:
		return m.held(n)
	case *instruction.AsLooks:
		return m.asLooks(n)
	case *instruction.Strip:
		return m.strip(n)
	default:
		m.fail(n.Pos(), "misplaced", "this stands for whole rows, and can't be part of one")
	}
	return one(n)
}

func one(n instruction.Node) []instruction.Node { return []instruction.Node{n} }

// measure gives over how many of the stitches ahead an extent reaches.
func (m *machine) measure(e instruction.Extent, at problem.Span) (int, bool) {
	n := e.N.At(m.size)
	switch e.Reach {
	case instruction.ToLast:
		if m.ahead() < n {
			m.fail(at, "short", "this goes to the last %s, and there are only %d ahead", stitches(n), max(m.ahead(), 0))
			return 0, false
		}
		return m.ahead() - n, true
	case instruction.ToMarker:
		d, ok := m.toMarker()
		if !ok {
			m.fail(at, "marker-missing", "no marker is ahead of this place").Suggest("place one in an earlier row with pm, or say how many stitches")
			return 0, false
		}
		if d < n {
			m.fail(at, "short", "the next marker is %s away, too near to stop %d before it", stitches(d), n)
			return 0, false
		}
		return d - n, true
	}
	return max(m.ahead(), 0), true
}

// work works a stitch of the table.
func (m *machine) work(w *instruction.Work) []instruction.Node {
	count := w.Extent.N.At(m.size)
	if w.Extent.Reach != instruction.Times {
		over, ok := m.measure(w.Extent, w.Span)
		if !ok {
			return nil
		}
		if w.Stitch.Uses == 0 {
			m.fail(w.Span, "no-end", "%q uses no stitch, so it never reaches an end", w.Stitch.Abbr).Suggest("say how many times")
			return nil
		}
		if over%w.Stitch.Uses != 0 {
			m.uneven(w.Span, w.Stitch.Uses, over)
		}
		count = over / w.Stitch.Uses
	}
	if count == 0 {
		return nil
	}
	m.acts += count
	for range count {
		if m.acts > maxActs {
			m.fail(w.Span, "too-large", "the row grows past %d stitches here", instruction.MaxStitches)
			break
		}
		m.stitch(w)
	}
	if m.quiet > 0 {
		return nil
	}
	did := *w
	did.Count = count
	return one(&did)
}

// stitch works one stitch once.
func (m *machine) stitch(w *instruction.Work) {
	s := w.Stitch
	switch s.Kind {
	case stitch.Slip:
		l := m.need(w.Span)
		l.Marks |= Slipped
		if w.TBL {
			l.Marks ^= Twisted
		}
		m.put(l)
		return
	case stitch.PassOver:
		m.passOver(w)
		return
	case stitch.BindOff:
		m.need(w.Span)
		return
	}
	var first Loop
	for i := range s.Uses {
		if l := m.need(w.Span); i == 0 {
			first = l
		}
	}
	for i, face := range s.Makes {
		l := first
		if i > 0 || s.Uses == 0 {
			l = m.fresh()
		}
		l.Face, l.Yarn = m.shown(face), m.fabric.yarn
		l.Marks &^= Twisted | Wrapped | Slipped
		if s.Twisted || w.TBL {
			l.Marks |= Twisted
		}
		if s.Uses > 1 {
			l.Marks |= Joined
		}
		m.put(l)
	}
}

// passOver lifts slipped stitches, or the one before the last, over what was
// worked after them.
func (m *machine) passOver(w *instruction.Work) {
	lift := func(i int) {
		m.remove(i)
		m.right[len(m.right)-1].Marks |= Joined
	}
	if w.Stitch.Unslipped {
		if len(m.right) < 2 {
			m.fail(w.Span, "nothing-to-pass", "there is no earlier stitch on the right needle to pass over")
			return
		}
		lift(len(m.right) - 2)
		return
	}
	for range w.Stitch.Passes {
		i := len(m.right) - 2
		for i >= 0 && m.right[i].Marks&Slipped == 0 {
			i--
		}
		if i < 0 {
			m.fail(w.Span, "nothing-to-pass", "%q finds no slipped stitch to pass over", w.Stitch.Abbr).Suggest("slip one first: sl 1, k1, psso")
			return
		}
		lift(i)
	}
}

// workInto works several stitches into the next one.
func (m *machine) workInto(n *instruction.Into) []instruction.Node {
	l := m.need(n.Span)
	left, floor, start, marks := m.left, m.floor, m.start, m.leftMarks
	uses := m.usedBy(n.Body)
	if uses == 0 {
		m.fail(n.Span, "into", "nothing in this group is worked into the stitch").Suggest("begin it with k1 or p1")
	}
	m.left, m.floor, m.start, m.leftMarks = make([]Loop, 0, uses), 0, 0, nil
	for i := range uses {
		again := l
		if i > 0 {
			again = m.fresh()
			again.Face = l.Face
		}
		m.left = append(m.left, again)
	}
	body := m.run(n.Body)
	m.left, m.floor, m.start, m.leftMarks = left, floor, start, marks
	return one(&instruction.Into{Span: n.Span, Body: body})
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
	return n
}

func (m *machine) marker(n *instruction.Marker) {
	switch n.Act {
	case instruction.PlaceMarker:
		m.rightMarks = append(m.rightMarks, len(m.right))
	case instruction.SlipMarker:
		if !m.markerHere() {
			m.noMarker(n.Span)
		}
		m.slipMarks()
	case instruction.RemoveMarker:
		if !m.markerHere() {
			m.noMarker(n.Span)
		}
		m.leftMarks = slices.DeleteFunc(m.leftMarks, func(r int) bool { return r == len(m.left) })
		m.rightMarks = slices.DeleteFunc(m.rightMarks, func(i int) bool { return i == len(m.right) || m.atEnd() && i == 0 })
	}
}

// markerHere says that a marker stands between the needles. At the end of a
// round that is also the one at its beginning.
func (m *machine) markerHere() bool {
	return slices.Contains(m.leftMarks, len(m.left)) || slices.Contains(m.rightMarks, len(m.right)) || m.atEnd() && m.atStart()
}

func (m *machine) atEnd() bool { return m.rounds && len(m.left) == 0 }

func (m *machine) noMarker(at problem.Span) {
	if d, ok := m.toMarker(); ok {
		m.fail(at, "marker-missing", "no marker stands here; the next one is %s further on", stitches(d)).Suggest("write: k to m, sm")
		return
	}
	m.fail(at, "marker-missing", "no marker stands here, and none is ahead").Suggest("place it in an earlier row with pm")
}

func (m *machine) turnWork(n *instruction.Turn) {
	if m.floor > 0 {
		m.fail(n.Span, "turn", "the work can't be turned inside a panel")
		return
	}
	if n.Wrap {
		if len(m.left) == 0 {
			m.fail(n.Span, "turn", "there is no next stitch to wrap")
		} else {
			m.left = slices.Clone(m.left)
			m.left[0].Marks |= Wrapped
		}
	}
	m.turn()
}

func (m *machine) takeYarn(name string) {
	key := stitch.Key(name)
	i := slices.IndexFunc(m.fabric.yarns, func(y string) bool { return stitch.Key(y) == key })
	if i < 0 {
		m.fabric.yarns = append(slices.Clip(m.fabric.yarns), name)
		i = len(m.fabric.yarns) - 1
	}
	m.fabric.yarn = uint8(min(i+1, 255))
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
		group := make([]Loop, 0, count)
		for range count {
			group = append(group, m.need(n.Span))
		}
		if m.back {
			slices.Reverse(group)
		}
		m.fabric.held = append(slices.Clip(m.fabric.held), group)
	}
	did := *n
	did.Count = count
	return one(&did)
}

func (m *machine) returnHeld(n *instruction.Held, count int) {
	i := slices.IndexFunc(m.fabric.held, func(h []Loop) bool { return len(h) == count })
	var group []Loop
	if i >= 0 {
		group = slices.Clone(m.fabric.held[i])
		m.fabric.held = slices.Delete(slices.Clone(m.fabric.held), i, i+1)
	} else {
		all := slices.Concat(m.fabric.held...)
		if len(all) < count {
			m.fail(n.Span, "not-held", "%s on hold, and %d are to be returned", areStitches(len(all)), count)
			return
		}
		group = all[:count]
		m.fabric.held = nil
		if rest := all[count:]; len(rest) > 0 {
			m.fabric.held = [][]Loop{rest}
		}
	}
	if m.back {
		slices.Reverse(group)
	}
	m.left = slices.Concat(group, m.left)
	m.before += count
}
