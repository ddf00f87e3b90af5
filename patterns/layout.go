package patterns

import (
	"slices"
	"strconv"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

func itoa(n int) string { return strconv.Itoa(n) }

// A Row is one row of a plan: what it says, and the stitches before and after.
type Row struct {
	Section   *Section
	Number    int // in its section, or going on from the section before, as written
	Line      *Line
	Rounds    bool
	Side      instruction.Side
	First     bool               // the first row of its section
	Written   []instruction.Node // as written, references followed and panels set side by side, those with their counts
	Body      []instruction.Node // as worked: every count filled in
	Before    fabric.Fabric
	After     fabric.Fabric
	Crossings []fabric.Crossing
	Worked    int64    // stitches worked in all rows before this one
	Tips      []string // what is said after it, as it reads in this size

	unworked int
	groups   []inGroup // of rows that may be left out
}

// Unworked is how many stitches a turn at the end of a short row leaves.
func (r *Row) Unworked() int { return r.unworked }

// layout lays a pattern out in one size and notes what can't be worked.
type layout struct {
	p        *Pattern
	size     int
	leave    []LeftOut
	strips   map[string]*strip
	begun    map[string]int // where each panel of the section begins, as an index of its rows
	tooWide  bool           // the panels of the section come to more than a row may have
	next     *Section       // the one that follows; nil for none
	turned   bool           // the section goes on in rows, so that the side that faces is known
	lost     bool           // the Across line of the section before could not be read
	follow   follower
	rows     []*Row  // only when keep
	keep     bool    // keep the rows, and not the problems alone
	doubts   *doubts // what is likely a mistake; nil when not asked for
	count    int     // rows so far
	failed   int     // index of the first row that can't be worked; -1 for none
	worked   int64
	problems []problem.Problem
	given    <-chan struct{} // closed when the time for it is over; nil for as long as it takes
}

// timeOver says that what is laid out is no longer waited for.
func (l *layout) timeOver() bool {
	select {
	case <-l.given:
		return true
	default:
		return false
	}
}

func (l *layout) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	l.problems = append(l.problems, *problem.Errorf(at, code, format, args...))
	return &l.problems[len(l.problems)-1]
}

func wordOf(rounds bool) string {
	if rounds {
		return "round"
	}
	return "row"
}

// layOut works every row of a pattern in one size.
func (p *Pattern) layOut(l layout) *layout {
	l.p, l.strips, l.failed = p, map[string]*strip{}, -1
	panelRows := 0
	for _, panel := range p.Panels {
		if l.strips[panel.Name] != nil || l.timeOver() {
			continue
		}
		l.strips[panel.Name] = l.strip(panel)
		if panelRows += len(l.strips[panel.Name].rows); panelRows > MaxRows {
			l.fail(panel.Span, "too-many-rows", "the rows of the panels go past %d in this one; a pattern has at most that many", MaxRows).Suggest("check the row numbers")
			l.failed = 0
			return &l
		}
	}
	l.follow = follow(fabric.Fabric{})
	l.follow.castOn(p.CastOn, l.size)
	older, last := map[int]*numbered{}, 0
	for i, s := range p.Sections {
		if l.timeOver() {
			break
		}
		l.turned = i > 0 && last != lostCount && !s.Rounds && !p.Sections[i-1].Rounds && s.CastOn == nil && len(l.leave) == 0
		l.next = nil
		if i+1 < len(p.Sections) {
			l.next = p.Sections[i+1]
		}
		older, last = l.section(s, older, last)
		if l.count > MaxRows {
			l.fail(s.Span, "too-many-rows", "the rows go past %d in this section; a pattern has at most that many", MaxRows).Suggest("check the row numbers")
			break
		}
	}
	l.problems = append(l.problems, l.follow.problems()...)
	return &l
}

// section lays out one section. It gives its rows by number, for the sections
// whose numbers go on from it, and its last number, 0 when it is not known.
func (l *layout) section(s *Section, older map[int]*numbered, last int) (map[int]*numbered, int) {
	if s.CastOn != nil {
		l.follow.castOn(*s.CastOn, l.size)
	}
	side := instruction.SideUnsaid
	if !l.turned || l.follow.fabric().Count() == 0 {
		side = firstSide(s.Lines, l.size)
	}
	l.follow.begin(s.Rounds, side)
	n := numbering{size: l.size, rounds: s.Rounds, word: wordOf(s.Rounds), first: l.follow.fabric().Side(), after: last, text: l.p.text, unsure: s.unsure}
	if next := l.next; next != nil {
		n.next = lowestNamed(next.Lines, l.size)
		if !s.Rounds && !next.Rounds && next.CastOn == nil {
			n.nextSide = firstSide(next.Lines, l.size)
		}
	}
	rows := n.number(s.Lines)
	l.problems = append(l.problems, n.problems...)
	if len(s.Lines) == 0 {
		l.fail(s.Span, "no-rows", "the section %s has no rows", s.Name).Suggest("write below it: Round 1: k to end")
	}
	if len(rows) == 0 {
		if len(s.Lines) > 0 && n.unsure {
			return older, lostCount
		}
		return older, last
	}
	l.beginPanels(s)
	if rows[0].number == 1 {
		older = map[int]*numbered{}
	}
	section := &sectionRows{layout: l, section: s, rows: rows, refer: referring{size: l.size, rows: n.rows, older: older, unsure: n.unsure}}
	section.work()
	l.endPanels(s, section.panelRows)
	l.follow.endPanels()
	if n.unsure {
		if slices.ContainsFunc(s.Lines, func(line *Line) bool { return line.unsure && len(line.Ranges) == 0 && n.rowOf(line) == nil }) {
			l.follow.lose(s.marksUnsure(l.p.src))
		}
		return n.rows, lostCount
	}
	for number, row := range older {
		if n.rows[number] == nil {
			n.rows[number] = row
		}
	}
	return n.rows, section.rows[len(section.rows)-1].number
}

// lostCount is the last number of a section that could not be read whole.
const lostCount = -1

// beginPanels sets each panel of a section to its first row, or to where the
// section before left it.
func (l *layout) beginPanels(s *Section) {
	before := l.begun
	l.begun = map[string]int{}
	for _, p := range s.panels {
		if !p.Continued {
			continue
		}
		if at, found := before[p.Panel]; found {
			l.begun[p.Panel] = at
		} else if !l.lost {
			l.fail(p.Span, "panel-continued", "the panel %s does not stand in the section before, so it can't be continued", p.Panel).
				Suggest("write %s alone to begin with its row 1", p.Panel)
		}
	}
	l.tooWide = false
	if len(s.Across) == 0 || !l.soundAcross(s) {
		return
	}
	width := l.acrossWidth(s.Across, 0)
	if l.tooWide = width > instruction.MaxStitches; l.tooWide {
		l.fail(s.acrossAt, "too-large", "the panels and columns come to %d stitches, and a row has at most %d", width, instruction.MaxStitches).
			Suggest("check how often each group stands")
		return
	}
	l.follow.need(width, func(have int) *problem.Problem {
		return problem.Errorf(s.acrossAt, "across-width", "the panels and columns come to %d stitches, and there are %d on the needle", width, have).
			Suggest("check how often each group stands, and the widths of the panels")
	})
}

// endPanels notes where each panel has come to, for a section that continues it.
func (l *layout) endPanels(s *Section, rows int) {
	reached := map[string]int{}
	for _, p := range s.panels {
		if strip := l.strips[p.Panel]; strip != nil && len(strip.rows) > 0 {
			if _, set := reached[p.Panel]; !set || p.Continued {
				reached[p.Panel] = l.rowOf(strip, rows, p.Continued)
			}
		}
	}
	l.begun, l.lost = reached, s.acrossAt.End > 0 && len(s.Across) == 0
}

// soundAcross says that every panel of a section is proved, so that a problem
// of the section is its own.
func (l *layout) soundAcross(s *Section) bool {
	for _, p := range s.panels {
		if strip := l.strips[p.Panel]; strip == nil || !strip.sound {
			return false
		}
	}
	return true
}

// stated is the count that a row states, or noCount. A line that stands for
// rows in turn states what the last of them leaves.
func (l *layout) stated(row *numbered) int {
	s := row.line.Stated
	inTurn := len(row.line.Ranges) == 1 && row.line.Every == instruction.NoOthers
	if s == nil || s.At(l.size) == 0 && len(s.Values) > 1 || inTurn && row.nth+1 < row.of {
		return noCount
	}
	return s.At(l.size)
}

// differs says that a stated count is not the one that comes out.
func (l *layout) differs(row *numbered, count int) *problem.Problem {
	want, where := l.stated(row), ""
	if row.of > 1 {
		where = " after row " + itoa(row.number)
	}
	return problem.Errorf(row.line.Stated.Span, "count-differs", "%s stated, and %d come out%s", areStitches(want), count, where).
		Suggest("either the count or the row is wrong by %d", max(want-count, count-want))
}

// areStitches is "1 stitch is", "2 stitches are".
func areStitches(n int) string {
	if n == 1 {
		return "1 stitch is"
	}
	return itoa(n) + " stitches are"
}
