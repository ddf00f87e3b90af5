package fabric

import (
	"fmt"

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
	Unworked  int // stitches that were ahead when a turn ended the row
	Lacking   int // stitches made up that were not there
	// Problem is nil when the row could be worked. Otherwise After is a guess,
	// for the sake of the rows that follow, in which the whole row has been
	// worked: stitches that were lacking are made up, and those for which a
	// repeat did not come out, or that the row forgot, are left as they were.
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
	m.tellShortage()
	if !m.turned {
		m.endRow(body)
	}
	unworked := 0
	if m.turned { // into turns the work at the end of every flat row
		unworked = m.unworked
	}
	after := m.into(m.fabric)
	if after.Count() > instruction.MaxStitches {
		m.tooLarge(spanOf(body))
	}
	return Result{After: after, Done: done, Crossings: m.crossings, Unworked: unworked, Lacking: m.lacking, Problem: m.problem}
}

// endRow checks that a row that does not end with a turn has come to its end,
// and passes what it forgot.
func (m *machine) endRow(body []instruction.Node) {
	if m.passed >= 0 && !m.ended {
		m.fail(lastOf(body), "past-beginning", "the round goes on past its beginning, before which it had %s", stitches(m.before)).
			Suggest("write turn if it is a short row that is meant to stop here")
		return
	}
	if left := m.ahead(); left > 0 {
		m.fail(lastOf(body), "unworked", "%s left unworked at the end of the row, which began with %d", areStitches(left), m.before).
			Suggest("%s", m.unworkedAdvice())
		m.skip(left)
	}
}

func (m *machine) unworkedAdvice() string {
	if m.turns {
		return "work them, or turn once more where the row is meant to stop"
	}
	return "work them, or write turn if the row is meant to stop here"
}

func lastOf(body []instruction.Node) problem.Span {
	if len(body) == 0 {
		return problem.Span{}
	}
	return body[len(body)-1].Pos()
}

func spanOf(body []instruction.Node) problem.Span {
	if len(body) == 0 {
		return problem.Span{}
	}
	return body[0].Pos().To(lastOf(body))
}

// machine works an instruction. After the first problem it goes on as well as
// it can, so that the rows that follow can still be checked.
type machine struct {
	*needles
	fabric    Fabric // carries yarns and what is on hold
	size      int
	before    int
	crossings []Crossing
	problem   *problem.Problem
	short     *problem.Problem   // the shortage, told when its size is known
	lacking   int                // stitches made up
	acts      int                // everything done so far
	stopped   bool               // a limit has been passed, and nothing more is done
	quiet     int                // above 0 no record of what is done is made
	trial     int                // above 0 a shortage is noted and not told
	panel     *instruction.Strip // the panel whose stitches are being worked
	source    string             // what stands in for the left needle; empty for itself
	crossing  int                // crosses that have not ended
	unworked  int                // stitches that were ahead when the work was turned last
	turns     bool               // the work has been turned in this row
	sinceTurn int                // stitches that were ahead after that
	ownsHeld  bool               // the list of what is on hold is this row's own copy
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
	switch {
	case m.problem != nil || m.trial > 0:
	case m.source != "":
		m.fail(at, "short", "there is no stitch left on %s here", m.source)
	default:
		m.short = m.fail(at, "short", "the stitches run out here")
	}
	return m.fresh()
}

// tellShortage words a shortage, once it is known how many stitches the whole
// row would have needed.
func (m *machine) tellShortage() {
	if m.short == nil {
		return
	}
	if m.turns {
		m.short.Message = fmt.Sprintf("since the work was turned there are %s, and %d more are needed: they run out here", stitches(m.sinceTurn), m.lacking)
		m.short = nil
		return
	}
	m.short.Message = fmt.Sprintf("the row needs %s, and there are %d: they run out here", stitches(m.before+m.lacking), m.before)
	m.short = nil
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

// What is done in one row is bounded, whatever its repeats measure. The
// stitches are counted when the row ends; in its middle there may be more.
const (
	maxActs  = 40_000
	maxLoops = 2 * instruction.MaxStitches
)

// spend counts what is about to be done. It says false once a limit has been
// passed.
func (m *machine) spend(acts int, at problem.Span) bool {
	m.acts += acts
	if !m.stopped && (m.acts > maxActs || len(m.left)+len(m.right) > maxLoops) {
		m.tooLarge(at)
	}
	return !m.stopped
}

func (m *machine) tooLarge(at problem.Span) {
	m.stopped = true
	m.fail(at, "too-large", "the row grows past %d stitches here", instruction.MaxStitches).Suggest("check the numbers of the repeats")
}

// run works nodes in turn and gives them back with their counts.
func (m *machine) run(nodes []instruction.Node) []instruction.Node {
	var done []instruction.Node
	for _, n := range nodes {
		if !m.spend(1, n.Pos()) {
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
	switch n := n.(type) {
	case *instruction.Work:
		return m.work(n)
	case *instruction.Repeat:
		return m.repeat(n)
	case *instruction.AsLooks:
		return m.asLooks(n)
	case *instruction.Strip:
		return m.strip(n)
	case *instruction.Macro:
		if !whole(n.Body) {
			return m.did(&instruction.Macro{Span: n.Span, Name: n.Name, Body: m.run(n.Body)})
		}
	}
	var did []instruction.Node
	m.act(n, func() *stitch.Stitch { did = m.single(n); return nil })
	return did
}

// single works a node that is one act.
func (m *machine) single(n instruction.Node) []instruction.Node {
	switch n := n.(type) {
	case *instruction.Into:
		return m.workInto(n)
	case *instruction.Cross:
		return m.cross(n)
	case *instruction.Macro:
		return m.did(&instruction.Macro{Span: n.Span, Name: n.Name, Body: m.run(n.Body)})
	case *instruction.Marker:
		m.marker(n)
	case *instruction.Turn:
		m.turnWork(n)
	case *instruction.Yarn:
		m.takeYarn(n)
	case *instruction.Bead:
		if len(m.right) > m.wall {
			m.right[len(m.right)-1].Marks |= Beaded
		}
	case *instruction.Held:
		return m.held(n)
	default:
		m.fail(n.Pos(), "misplaced", "this stands for whole rows, and can't be part of one")
	}
	return m.did(n)
}

// did is what a node gives back when it has been worked.
func (m *machine) did(n instruction.Node) []instruction.Node {
	if m.quiet > 0 {
		return nil
	}
	return []instruction.Node{n}
}

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
	count, over := w.Extent.N.At(m.size), 0
	if w.Extent.Reach != instruction.Times {
		reach, ok := m.measure(w.Extent, w.Span)
		if !ok {
			return nil
		}
		uses := w.Stitch.Uses
		if uses == 0 {
			m.fail(w.Span, "no-end", "%q uses no stitch, so it never reaches an end", w.Stitch.Abbr).Suggest("say how many times")
			return nil
		}
		if count, over = reach/uses, reach%uses; over != 0 {
			m.uneven(w.Span, w.Stitch.Abbr, uses, reach)
		}
	}
	for range count {
		if !m.spend(1, w.Span) {
			break
		}
		if m.record == nil { // most rows are only worked
			m.stitch(w)
			continue
		}
		m.act(w, func() *stitch.Stitch { m.stitch(w); return w.Stitch })
	}
	m.skip(over)
	if m.quiet > 0 || count == 0 {
		return nil
	}
	did := *w
	did.Count = count
	return m.did(&did)
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
		m.putWorked(l, face, w.TBL || s.Twisted, s.Uses > 1)
	}
	if s.Uses > 0 && len(s.Makes) == 0 { // lifted over the last stitch
		if len(m.right) <= m.wall {
			m.fail(w.Span, "nothing-to-pass", "there is no stitch on the right needle to pass the next one over")
			return
		}
		m.right[len(m.right)-1].Marks |= Joined
	}
}

// putWorked puts a stitch on the right needle after it has been worked.
func (m *machine) putWorked(l Loop, face stitch.Face, twisted, joined bool) {
	l.Face, l.Yarn = m.shown(face), m.fabric.yarn
	l.Marks &^= lasting | Slipped
	if twisted {
		l.Marks |= Twisted
	}
	if joined {
		l.Marks |= Joined
	}
	m.put(l)
}

// passReach is over how many stitches a slipped one can be passed; no pattern
// comes near it.
const passReach = 100

// passOver lifts slipped stitches, or the one before the last, over what was
// worked after them.
func (m *machine) passOver(w *instruction.Work) {
	for range max(w.Stitch.Passes, 1) {
		i := len(m.right) - 2
		end := max(m.wall, i-passReach)
		for !w.Stitch.Unslipped && i >= end && m.right[i].Marks&Slipped == 0 {
			i--
		}
		if i < end {
			if w.Stitch.Unslipped {
				m.fail(w.Span, "nothing-to-pass", "there is no earlier stitch on the right needle to pass over")
			} else {
				m.fail(w.Span, "nothing-to-pass", "%q finds no slipped stitch to pass over", w.Stitch.Abbr).Suggest("slip one first: sl 1, k1, psso")
			}
			return
		}
		m.remove(i)
		m.right[len(m.right)-1].Marks |= Joined
	}
}
