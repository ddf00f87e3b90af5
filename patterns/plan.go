package patterns

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"clew/patterns/fabric"
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
	whole   *Plan // of which it was cut; nil where it was not
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
	plan, _, err := p.layOutFor(c, nil)
	return plan, err
}

// LayOutWithDoubts is LayOut, and gives also what is likely a mistake in that
// plan: the warnings that Read gives of all rows, of the rows that are left.
func (p *Pattern) LayOutWithDoubts(c Choice) (*Plan, []problem.Problem, error) {
	return p.layOutFor(c, &doubts{})
}

func (p *Pattern) layOutFor(c Choice, d *doubts) (*Plan, []problem.Problem, error) {
	if !p.sound {
		return nil, nil, ErrUnsound
	}
	size, err := p.SizeIndex(c.Size)
	if err != nil {
		return nil, nil, err
	}
	if err := p.mayLeaveOut(size, c.LeftOut); err != nil {
		return nil, nil, err
	}
	l := p.layOut(layout{size: size, leave: c.LeftOut, keep: true, doubts: d})
	if len(l.problems) > 0 {
		return nil, nil, fmt.Errorf("with these rows left out, %s", l.problems[0].Message)
	}
	plan := &Plan{Pattern: p, Size: size, Rows: l.rows, index: make(map[rowID]int, len(l.rows))}
	for i, r := range l.rows {
		plan.index[rowID{r.Section.Name, r.Number}] = i
	}
	if d == nil {
		return plan, nil, nil
	}
	return plan, d.found, nil
}

// Workable gives the rows of a size in order, up to the first that can't be
// worked, even of a pattern that has errors.
func (p *Pattern) Workable(size int) []*Row {
	if p.stopped || size < 0 || size >= p.SizeCount() {
		return nil
	}
	l := p.layOut(layout{size: size, keep: true})
	if l.failed >= 0 {
		return l.rows[:min(l.failed, len(l.rows))]
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
		case l.Rows < 0 || l.Rows > groups[i].Count() || l.Rows%groups[i].Step != 0:
			return fmt.Errorf("rows %d to %d of %s may be left out %d at a time, and there are %d of them", groups[i].From, groups[i].To, l.Owner, groups[i].Step, groups[i].Count())
		}
	}
	return nil
}

// Find gives the index of a row; false when the plan has no such row.
func (p *Plan) Find(section string, number int) (int, bool) {
	i, ok := p.index[rowID{section, number}]
	if !ok || i >= len(p.Rows) {
		return 0, false
	}
	return i, true
}

// Acts gives what row i does, stitch by stitch.
func (p *Plan) Acts(i int) []fabric.Act {
	r := p.Rows[i]
	return r.Before.Acts(r.Body, fabric.Row{Rounds: r.Rounds, Size: p.Size})
}

// Nearest gives the index of a row, or of the one before it that is nearest,
// where the pattern has changed under a knitter: the same section first, then
// the first row. It is 0 for a plan without rows, too.
func (p *Plan) Nearest(section string, number int) int {
	best := 0
	for i, r := range p.Rows {
		if r.Section.Name == section && (r.Number <= number || p.Rows[best].Section.Name != section) {
			best = i
		}
	}
	return best
}

// SectionRows is how many rows a section of the whole plan has.
func (p *Plan) SectionRows(section string) int {
	n := 0
	for _, r := range p.Whole().Rows {
		if r.Section.Name == section {
			n++
		}
	}
	return n
}

// Stitches is how many stitches the whole plan has knitted in all.
func (p *Plan) Stitches() int64 {
	rows := p.Whole().Rows
	if len(rows) == 0 {
		return 0
	}
	last := rows[len(rows)-1]
	return last.Worked + int64(last.Before.Ahead()-last.Unworked())
}
