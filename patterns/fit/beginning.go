package fit

import (
	"fmt"
	"slices"
	"sort"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// A beginning is the rows of a plan from its cast-on to the next one, or to the end,
// and what they ask of the number of stitches cast on.
type beginning struct {
	rows       []*patterns.Row
	size       int
	castOn     int
	unit, plus int                        // a number that all rows of the straight sections fit is a multiple of unit, and plus
	straight   map[*patterns.Section]bool // those that begin and end with the stitches cast on, from the first on; the first in any case
	through    int                        // how many rows those have
	scaled     []*scaling                 // of each row; nil where it has not been asked for
	spent      int64
	otherWays  string // what else makes the piece wider or narrower
}

// A scaling is the part of a row that takes up more stitches where there are more.
type scaling struct {
	at    int  // index in Row.Written; -1 for none, so that the row is for its number of stitches alone
	times bool // it is worked a number of times that changes; else it reaches as far as there are stitches
	unit  int  // stitches that it takes each time
	plus  int  // stitches of the row beside it
}

// beginningOf finds the piece that a plan begins with.
func beginningOf(plan *patterns.Plan) (*beginning, error) {
	b := &beginning{size: plan.Size, straight: map[*patterns.Section]bool{}, otherWays: "change the gauge"}
	if len(plan.Pattern.Sizes) > 1 {
		b.otherWays = "choose one of the sizes, or change the gauge"
	}
	for i, r := range plan.Rows {
		if i > 0 && r.First && r.Section.CastOn != nil {
			break
		}
		b.rows = append(b.rows, r)
	}
	if len(b.rows) == 0 {
		return nil, failed(CodeNoStitches, "the size has no rows")
	}
	b.castOn = b.rows[0].Before.Count()
	b.findStraight()
	return b, nil
}

// findRepeat finds what the rows of the straight sections ask of the number of
// stitches cast on. It fails where one has nothing that repeats.
func (b *beginning) findRepeat() error {
	b.unit, b.plus = 1, 0
	widest := 0
	for i, r := range b.rows[:b.through] {
		s := b.scaling(i)
		if s.at < 0 {
			return failed(CodeNoRepeat, "row %d of %s is written for %d stitches alone, with nothing in it that repeats across, so that no other cast-on can be worked out: %s",
				r.Number, r.Section.Name, r.Before.Count(), b.otherWays)
		}
		if r.Before.Ahead() != b.castOn {
			continue // its stitches follow from those of the rows before it
		}
		if b.unit = multiple(b.unit, s.unit); s.unit > widest {
			widest, b.plus = s.unit, s.plus
		}
		if b.unit > instruction.MaxStitches {
			return failed(CodeNoRepeat, "the repeats of the rows come out together on no number of stitches that can be worked: %s", b.otherWays)
		}
	}
	if b.unit == 1 || (b.castOn-b.plus)%b.unit != 0 { // edges make no difference, or rows with other edges have a say too
		b.plus = b.castOn % b.unit
	}
	return nil
}

// scaling is that of a row of the piece. It takes working the row several times.
func (b *beginning) scaling(i int) scaling {
	if b.scaled == nil {
		b.scaled = make([]*scaling, len(b.rows))
	}
	if b.scaled[i] == nil {
		s := scalingOf(b.rows[i], b.size)
		b.scaled[i] = &s
	}
	return *b.scaled[i]
}

// findStraight finds the sections that go on with the stitches cast on. The last
// of the piece may bind all of them off.
func (b *beginning) findStraight() {
	for i, r := range b.rows {
		last := i+1 == len(b.rows)
		if !last && b.rows[i+1].Section == r.Section {
			continue
		}
		goesOn := r.After.Count() == b.castOn
		boundOff := last && r.After.Count() == 0 && r.Before.Count() == b.castOn
		if b.through > 0 && !goesOn && !boundOff {
			return
		}
		b.straight[r.Section] = true
		b.through = i + 1
		if !goesOn {
			return
		}
	}
}

// rest is the section of the first row that could not be worked; nil for none.
func (b *beginning) rest(worked int) *patterns.Section {
	if worked == len(b.rows) {
		return nil
	}
	return b.rows[worked].Section
}

// multiple is the least common multiple of two numbers above 0.
func multiple(a, b int) int {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// multiple words what the rows need.
func (b *beginning) multiple() string {
	if b.plus == 0 {
		return fmt.Sprintf("a multiple of %d", b.unit)
	}
	return fmt.Sprintf("a multiple of %d plus %d", b.unit, b.plus)
}

// maxSpent is how many stitches are worked for the proofs of one answer: some
// seconds of work at most, whatever a pattern asks for.
const maxSpent = 4_000_000

// spend counts what working the piece on so many stitches is about to cost.
func (b *beginning) spend(stitches int) bool {
	b.spent += int64(stitches) * int64(len(b.rows))
	return b.spent <= maxSpent
}

// work works the piece on another number of stitches, and gives how many of its
// rows could be. After the straight sections only rounds that consist of repeats
// go on: others would be shaped in the wrong place, even where their
// stitches come out.
func (b *beginning) work(stitches int) int {
	if stitches == b.castOn { // the pattern's own
		return len(b.rows)
	}
	f := fabric.CastOn(stitches)
	for i, r := range b.rows {
		s := b.scaling(i)
		if i >= b.through && (!r.Rounds || s.at < 0 || s.plus > 0) {
			return b.sectionBegins(i)
		}
		if r.First {
			f = f.Begin(r.Rounds, r.Side)
		}
		body, ok := s.written(r, f.Ahead())
		if !ok {
			return b.sectionBegins(i)
		}
		did := f.Work(body, fabric.Row{Rounds: r.Rounds, Size: b.size})
		if did.Problem != nil {
			return b.sectionBegins(i)
		}
		f = did.After
	}
	return len(b.rows)
}

// sectionBegins is the first row of the section that a row stands in: a section
// goes on as it is written as a whole or not.
func (b *beginning) sectionBegins(i int) int {
	for i > 0 && b.rows[i-1].Section == b.rows[i].Section {
		i--
	}
	return i
}

// written gives what a row says when it has so many stitches before it; false
// where its repeat does not come out.
func (s scaling) written(r *patterns.Row, ahead int) ([]instruction.Node, bool) {
	if s.at < 0 {
		return nil, false
	}
	if !s.times {
		return r.Written, true
	}
	over := ahead - s.plus
	if over < s.unit || over%s.unit != 0 {
		return nil, false
	}
	extent := instruction.Extent{Reach: instruction.Times, N: instruction.N(over / s.unit)}
	body := slices.Clone(r.Written)
	switch n := body[s.at].(type) {
	case *instruction.Repeat:
		group := *n
		group.Extent = extent
		body[s.at] = &group
	case *instruction.Work:
		stitch := *n
		stitch.Extent = extent
		body[s.at] = &stitch
	}
	return body, true
}

// scalingOf finds the part of a row that repeats: what reaches to the end, to the
// last stitches or to a marker, a group before anything else; where nothing
// does, the group or the stitch that is worked a number of times over more than
// half of the row. What stands behind a turn is worked on the same stitches again.
func scalingOf(r *patterns.Row, size int) scaling {
	nodes := r.Written
	if i := slices.IndexFunc(nodes, isTurn); i >= 0 {
		nodes = nodes[:i]
	}
	at, groups := -1, 0
	for i, n := range nodes {
		if !reaches(n) {
			continue
		}
		if _, group := n.(*instruction.Repeat); group {
			at = i
			groups++
		} else if at < 0 {
			at = i
		}
	}
	switch {
	case groups > 1: // two that share the stitches out between them
		return scaling{at: -1}
	case at >= 0:
		return reaching(r, size, at)
	}
	return timesOver(r, size, nodes)
}

// timesOver is the scaling of a row with a node that is worked a number of times
// over more than half of the stitches: the one that reaches past the middle.
func timesOver(r *patterns.Row, size int, nodes []instruction.Node) scaling {
	before := r.Before.Ahead()
	i := sort.Search(len(nodes), func(i int) bool { return 2*taken(r, size, i+1) > before })
	if i == len(nodes) {
		return scaling{at: -1}
	}
	took, times := taken(r, size, i+1)-taken(r, size, i), timesOf(nodes[i], size)
	if times == 0 || 2*took <= before || took%times != 0 || !mayChange(nodes[i], r) {
		return scaling{at: -1}
	}
	return scaling{at: i, times: true, unit: took / times, plus: before - took}
}

// reaching is the scaling of a row with a node that goes as far as there are
// stitches.
func reaching(r *patterns.Row, size, at int) scaling {
	took := taken(r, size, at+1) - taken(r, size, at)
	s := scaling{at: at, unit: 1, plus: r.Before.Ahead() - took}
	switch n := r.Written[at].(type) {
	case *instruction.Work:
		s.unit = max(n.Stitch.Uses, 1)
	case *instruction.Repeat:
		times := timesWorked(r.Body, n)
		if times == 0 || took%times != 0 {
			return scaling{at: -1}
		}
		s.unit = took / times
	}
	return s
}

// mayChange says that a node that is worked a number of times may be worked
// another number of times: a group, and a stitch in a row that does not shape.
// Plain stitches beside a decrease say where it stands.
func mayChange(n instruction.Node, r *patterns.Row) bool {
	_, group := n.(*instruction.Repeat)
	return group || r.After.Count() == r.Before.Count()
}

// taken is how many stitches the first nodes of a row take off the left needle,
// measured on the fabric: the work is turned after them, and what is left told.
func taken(r *patterns.Row, size, nodes int) int {
	body := append(slices.Clip(r.Written[:nodes]), &instruction.Turn{})
	did := r.Before.Work(body, fabric.Row{Rounds: r.Rounds, Size: size})
	return r.Before.Ahead() - did.Unworked
}

// reaches says that a node goes as far as there are stitches.
func reaches(n instruction.Node) bool {
	switch n := n.(type) {
	case *instruction.Work:
		return n.Extent.Reach != instruction.Times
	case *instruction.Repeat:
		return n.Extent.Reach != instruction.Times
	case *instruction.AsLooks:
		return n.Extent.Reach != instruction.Times
	}
	return false
}

// timesOf is how often a group, or a stitch, is written to be worked; 0 for
// anything else.
func timesOf(n instruction.Node, size int) int {
	switch n := n.(type) {
	case *instruction.Work:
		return n.Extent.N.At(size)
	case *instruction.Repeat:
		return n.Extent.N.At(size)
	}
	return 0
}

// timesWorked is how often a group that reaches was worked, which the worked tree
// may tell in several parts.
func timesWorked(body []instruction.Node, written *instruction.Repeat) int {
	times := 0
	for _, n := range body {
		if group, is := n.(*instruction.Repeat); is && group.Span == written.Span {
			times += group.Count
		}
	}
	return times
}
