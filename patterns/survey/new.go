package survey

import (
	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/patterns/worked"
)

// newIn gives what comes in some rows and in no row before them.
func newIn(plan *patterns.Plan, from, to int) []New {
	m := meeting{stitches: map[loopedStitch]bool{}, others: map[string]bool{}}
	for i, r := range plan.Rows[:to] {
		m.row, m.telling = i, i >= from
		m.list(r.Body, false)
	}
	return m.found
}

// A meeting knows what has been met.
type meeting struct {
	stitches map[loopedStitch]bool
	others   map[string]bool
	key      []byte
	row      int
	telling  bool // what is met for the first time is to be told
	found    []New
}

// A loopedStitch is a stitch, through the back loop or not.
type loopedStitch struct {
	stitch *stitch.Stitch
	tbl    bool
}

// list meets nodes; where they are part of something that is told as a whole, of that
// the stitches alone are told.
func (m *meeting) list(nodes []instruction.Node, part bool) {
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Work:
			m.work(n)
		case *instruction.Repeat:
			if n.Count > 0 {
				m.list(n.Body, part)
			}
		case *instruction.Cross: // what its strands are worked as is told with it
			m.meet(n, part)
		case *instruction.Into:
			m.meet(n, part)
			m.list(n.Body, true)
		case *instruction.Macro:
			if len(n.Body) > 1 {
				m.meet(n, part)
			}
			m.list(n.Body, part || len(n.Body) > 1)
		case *instruction.Turn, *instruction.Held, *instruction.Bead:
			m.meet(n, part)
		default:
			m.list(worked.Inside(n), part)
		}
	}
}

func (m *meeting) work(w *instruction.Work) {
	key := loopedStitch{w.Stitch, w.TBL}
	if w.Count == 0 || plain(w) || m.stitches[key] {
		return
	}
	m.stitches[key] = true
	m.tell(w)
}

// meet meets what is no stitch of the table.
func (m *meeting) meet(n instruction.Node, part bool) {
	switch h := n.(type) {
	case *instruction.Macro:
		m.key, _ = worked.Key(append(m.key[:0], 'a'), h.Body, "")
	case *instruction.Held:
		m.key = append(m.key[:0], 'h')
		if h.Return {
			m.key[0] = 'r'
		}
	default:
		m.key, _ = worked.Key(m.key[:0], []instruction.Node{n}, "")
	}
	if part || m.others[string(m.key)] {
		return
	}
	m.others[string(m.key)] = true
	m.tell(n)
}

func (m *meeting) tell(n instruction.Node) {
	if m.telling {
		m.found = append(m.found, New{Row: m.row, Node: n})
	}
}

var knit, purl = stitch.Find("k"), stitch.Find("p")

// plain says that stitches are knitted or purled, and nothing else.
func plain(w *instruction.Work) bool {
	return (w.Stitch == knit || w.Stitch == purl) && !w.TBL && w.Manner == 0
}
