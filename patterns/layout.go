package patterns

import (
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
	Written   []instruction.Node // as written, references followed and panels set side by side
	Body      []instruction.Node // as worked: every count filled in
	Before    fabric.Fabric
	After     fabric.Fabric
	Crossings []fabric.Crossing
	Worked    int64 // stitches worked in all rows before this one
}

// Unworked is how many stitches a short row leaves.
func (r *Row) Unworked() int {
	if len(r.Written) == 0 {
		return 0
	}
	if _, turns := r.Written[len(r.Written)-1].(*instruction.Turn); !turns {
		return 0
	}
	return max(0, r.After.Count()-r.After.Ahead())
}

// layout lays a pattern out in one size and notes what can't be worked.
type layout struct {
	p        *Pattern
	size     int
	leave    []LeftOut
	strips   map[string]*strip
	begun    map[string]int // where each panel of the section begins, as an index of its rows
	rows     []*Row
	fabric   fabric.Fabric
	worked   int64
	problems []problem.Problem
	failed   int // index of the first row that can't be worked; -1 for none
}

func (l *layout) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	l.problems = append(l.problems, *problem.Errorf(at, code, format, args...))
	return &l.problems[len(l.problems)-1]
}

func (l *layout) word(rounds bool) string {
	if rounds {
		return "round"
	}
	return "row"
}

// layOut works every row of a pattern in one size.
func (p *Pattern) layOut(size int, leave []LeftOut) *layout {
	l := &layout{p: p, size: size, leave: leave, strips: map[string]*strip{}, failed: -1}
	for _, panel := range p.Panels {
		if l.strips[panel.Name] == nil {
			l.strips[panel.Name] = l.strip(panel)
		}
	}
	l.fabric = fabric.CastOn(p.CastOn.At(size))
	older, last := map[int]*numbered{}, 0
	for i, s := range p.Sections {
		next := 0
		if i+1 < len(p.Sections) {
			next = lowestNamed(p.Sections[i+1].Lines, size)
		}
		older, last = l.section(s, older, last, next)
		if len(l.rows) > MaxRows {
			l.fail(s.Span, "too-many-rows", "the rows go past %d in this section; a pattern has at most that many", MaxRows)
			break
		}
	}
	return l
}

// section lays out one section. It gives its rows by number, for the sections
// whose numbers go on from it, and its last number.
func (l *layout) section(s *Section, older map[int]*numbered, last, next int) (map[int]*numbered, int) {
	if s.CastOn != nil {
		l.fabric = l.fabric.CastOn(s.CastOn.At(l.size))
	}
	side := instruction.SideUnsaid
	if len(s.Lines) > 0 && len(s.Lines[0].Ranges) > 0 {
		side = s.Lines[0].Side
	}
	l.fabric = l.fabric.Begin(s.Rounds, side)
	n := numbering{size: l.size, rounds: s.Rounds, word: l.word(s.Rounds), first: l.fabric.Side(), after: last, next: next, src: l.p.src, unsure: s.unsure}
	rows := n.number(s.Lines)
	l.problems = append(l.problems, n.problems...)
	if len(rows) == 0 {
		if len(s.Lines) == 0 {
			l.fail(s.Span, "no-rows", "the section %s has no rows", s.Name).Suggest("write below it: Round 1: k to end")
		}
		return older, last
	}
	l.beginPanels(s)
	if rows[0].number == 1 {
		older = map[int]*numbered{}
	}
	section := &sectionRows{layout: l, section: s, rows: rows, refer: referring{size: l.size, rows: n.rows, older: older}}
	section.work()
	l.endPanels(s, section.panelRows)
	for number, row := range older {
		if n.rows[number] == nil {
			n.rows[number] = row
		}
	}
	return n.rows, rows[len(rows)-1].number
}

// beginPanels sets each panel of a section to its first row, or to where the
// section before left it.
func (l *layout) beginPanels(s *Section) {
	before := l.begun
	l.begun = map[string]int{}
	for _, p := range panelsIn(s.Across) {
		if !p.Continued {
			continue
		}
		if at, found := before[p.Panel]; found {
			l.begun[p.Panel] = at
		} else {
			l.fail(p.Span, "panel-continued", "the panel %s does not stand in the section before, so it can't be continued", p.Panel).
				Suggest("write %s alone to begin with its row 1", p.Panel)
		}
	}
	if len(s.Across) == 0 {
		return
	}
	if width := l.acrossWidth(s.Across, 0); width != l.fabric.Count() && l.soundAcross(s) {
		l.fail(s.acrossAt, "across-width", "the panels and columns come to %d stitches, and there are %d on the needle", width, l.fabric.Count()).
			Suggest("check how often each group stands, and the widths of the panels")
		l.fabric = l.fabric.Resized(width)
	}
}

// endPanels notes where each panel has come to, for a section that continues it.
func (l *layout) endPanels(s *Section, rows int) {
	reached := map[string]int{}
	for _, p := range panelsIn(s.Across) {
		if strip := l.strips[p.Panel]; strip != nil && len(strip.rows) > 0 {
			reached[p.Panel] = l.rowOf(strip, rows)
		}
	}
	l.begun = reached
}

// soundAcross says that every panel of a section is proved, so that a problem
// of the section is its own.
func (l *layout) soundAcross(s *Section) bool {
	for _, p := range panelsIn(s.Across) {
		if strip := l.strips[p.Panel]; strip == nil || !strip.sound {
			return false
		}
	}
	return true
}

// checkStated compares the count that a row states with the one that came out.
func (l *layout) checkStated(row *numbered, count int) bool {
	stated := row.line.Stated
	if stated == nil {
		return true
	}
	want := stated.At(l.size)
	if want == count || (want == 0 && len(stated.Values) > 1) {
		return true
	}
	where := ""
	if row.of > 1 {
		where = " after row " + itoa(row.number)
	}
	l.fail(stated.Span, "count-differs", "%d stitches are stated, and %d come out%s", want, count, where).
		Suggest("either the count or the row is wrong by %d", max(want-count, count-want))
	return false
}
