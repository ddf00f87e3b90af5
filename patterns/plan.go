package patterns

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"clew/patterns/problem"
)

// A Choice is what one knitter chose: a size and the rows she leaves out.
type Choice struct {
	Size    string // a name of the pattern's sizes; empty is the first
	LeftOut []LeftOut
}

// A Plan is a pattern laid out for one knitter: her rows in order.
type Plan struct {
	Pattern *Pattern
	Size    int // index of her size
	Rows    []*Row
	index   map[rowID]int
}

type rowID struct {
	section string
	number  int
}

// ErrUnsound says that a pattern has errors, and can't be laid out.
var ErrUnsound = errors.New("the pattern has errors; check it first")

// LayOut gives the plan of one knitter. It fails with ErrUnsound for a pattern
// that was read with errors, and with a sentence for a size that does not
// exist or rows that can't be left out.
func (p *Pattern) LayOut(c Choice) (*Plan, error) {
	if !p.sound {
		return nil, ErrUnsound
	}
	size, err := p.SizeIndex(c.Size)
	if err != nil {
		return nil, err
	}
	if err := p.mayLeaveOut(size, c.LeftOut); err != nil {
		return nil, err
	}
	l := p.layOut(size, c.LeftOut)
	if l.failed >= 0 {
		return nil, fmt.Errorf("with these rows left out, %s", l.problems[0].Message)
	}
	plan := &Plan{Pattern: p, Size: size, Rows: l.rows, index: make(map[rowID]int, len(l.rows))}
	for i, r := range l.rows {
		plan.index[rowID{r.Section.Name, r.Number}] = i
	}
	return plan, nil
}

// Workable gives the rows of a size in order, up to the first that can't be
// worked, even of a pattern that has errors.
func (p *Pattern) Workable(size int) []*Row {
	if len(p.CastOn.Values) == 0 || len(p.Sections) == 0 {
		return nil
	}
	l := p.layOut(size, nil)
	if l.failed >= 0 {
		return l.rows[:l.failed]
	}
	return l.rows
}

// SizeIndex finds a size by its name, whatever its case; empty is the first.
func (p *Pattern) SizeIndex(name string) (int, error) {
	if name == "" {
		return 0, nil
	}
	i := slices.IndexFunc(p.Sizes, func(s string) bool { return strings.EqualFold(s, name) })
	switch {
	case i >= 0:
		return i, nil
	case len(p.Sizes) == 0:
		return 0, fmt.Errorf("the pattern has one size alone, so there is no size %q", name)
	}
	return 0, fmt.Errorf("there is no size %q; the sizes are %s", name, strings.Join(p.Sizes, ", "))
}

func (p *Pattern) mayLeaveOut(size int, leave []LeftOut) error {
	groups := p.Optionals(size)
	for _, l := range leave {
		i := slices.IndexFunc(groups, func(o Optional) bool { return o.Owner == l.Owner && o.From == l.From })
		switch {
		case i < 0:
			return fmt.Errorf("%s has no rows from %d on that may be left out", l.Owner, l.From)
		case l.Rows < 0 || l.Rows > groups[i].count() || l.Rows%groups[i].Step != 0:
			return fmt.Errorf("rows %d to %d of %s may be left out %d at a time, and there are %d of them", groups[i].From, groups[i].To, l.Owner, groups[i].Step, groups[i].count())
		}
	}
	return nil
}

// Find gives the index of a row; false when the plan has no such row.
func (p *Plan) Find(section string, number int) (int, bool) {
	i, ok := p.index[rowID{section, number}]
	return i, ok
}

// Nearest gives the index of a row, or of the one before it that is nearest,
// where the pattern has changed under a knitter: the same section first, then
// the first row.
func (p *Plan) Nearest(section string, number int) int {
	best := 0
	for i, r := range p.Rows {
		if r.Section.Name == section && (r.Number <= number || p.Rows[best].Section.Name != section) {
			best = i
		}
	}
	return best
}

// SectionRows is how many rows a section of the plan has.
func (p *Plan) SectionRows(section string) int {
	n := 0
	for _, r := range p.Rows {
		if r.Section.Name == section {
			n++
		}
	}
	return n
}

// Stitches is how many stitches the plan has knitted in all.
func (p *Plan) Stitches() int64 {
	if len(p.Rows) == 0 {
		return 0
	}
	last := p.Rows[len(p.Rows)-1]
	return last.Worked + int64(last.Before.Ahead())
}

// prove lays the pattern out in every size, and gives what is wrong with it:
// once where sizes agree, by size where they differ.
func (p *Pattern) prove() []problem.Problem {
	found, doubts := newMerged(p.Sizes), newMerged(p.Sizes)
	for size := range p.SizeCount() {
		l := p.layOut(size, nil)
		found.add(size, l.problems)
		if len(l.problems) == 0 {
			doubts.add(size, l.warnings())
			doubts.add(size, l.checkOptionals())
		}
	}
	if problems := found.problems(); len(problems) > 0 {
		return problems // what is doubtful is told when the rest is right
	}
	return doubts.problems()
}

// A merged list of problems knows in which sizes each was found.
type merged struct {
	sizes []string
	order []*mergedProblem
	at    map[mergedAt]*mergedProblem
}

type mergedAt struct {
	problem.Span
	code string
}

type mergedProblem struct {
	problem.Problem
	messages []string   // different ones, in the order of the sizes
	sizes    [][]string // of each message
}

func newMerged(sizes []string) *merged {
	return &merged{sizes: sizes, at: map[mergedAt]*mergedProblem{}}
}

// add enters the problems of one size; of several in one place the first.
func (m *merged) add(size int, problems []problem.Problem) {
	name := ""
	if size < len(m.sizes) {
		name = m.sizes[size]
	}
	told := map[mergedAt]bool{}
	for _, p := range problems {
		key := mergedAt{p.Span, p.Code}
		if told[key] {
			continue
		}
		told[key] = true
		entry := m.at[key]
		if entry == nil {
			entry = &mergedProblem{Problem: p}
			m.at[key] = entry
			m.order = append(m.order, entry)
		}
		i := slices.Index(entry.messages, p.Message)
		if i < 0 {
			i = len(entry.messages)
			entry.messages, entry.sizes = append(entry.messages, p.Message), append(entry.sizes, nil)
		}
		if !slices.Contains(entry.sizes[i], name) {
			entry.sizes[i] = append(entry.sizes[i], name)
		}
	}
}

func (m *merged) problems() []problem.Problem {
	var out []problem.Problem
	for _, e := range m.order {
		p := e.Problem
		switch {
		case len(m.sizes) < 2:
		case len(e.messages) == 1 && len(e.sizes[0]) == len(m.sizes):
		case len(e.messages) == 1:
			p.Sizes = e.sizes[0]
		default:
			parts := make([]string, len(e.messages))
			for i, message := range e.messages {
				parts[i] = strings.Join(e.sizes[i], ", ") + ": " + message
			}
			p.Message = strings.Join(parts, "; ")
		}
		out = append(out, p)
	}
	return out
}
