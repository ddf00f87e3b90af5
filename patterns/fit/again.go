package fit

import (
	"cmp"
	"math"
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
)

// An Again is rows to be worked once more, right after they have been worked.
type Again struct {
	Section  *patterns.Section
	From, To int     // the numbers of the rows
	Optional bool    // they are of a group that may be left out
	Times    int     // how often more, 1 or above
	Rows     int     // in all: Times times the rows from From to To
	Change   float64 // cm by which the piece becomes longer, Restored left aside
	Length   float64 // cm of the piece after it, and after Restored where there is one
}

// A Lengthening is what may be worked to make a piece longer.
type Lengthening struct {
	Wanted   float64 // cm by which it is to become longer
	Piece    Piece   // as it is without that
	Far      bool    // it would become more than twice as long: out of reach, and nothing else is told
	Restored *Offer  // rows that she leaves out, and may work after all; nil for none
	Best     *Again  // comes nearest, with Restored; nil: nothing beside it comes nearer
	Less     *Again  // the same rows once less; nil for none
	More     *Again  // the same rows once more; nil where no rows can be worked again
}

// Longer tells which rows to work again to make the piece that the knitter is in
// longer by so many centimetres (0.1 to 1,000), at the pattern's gauge or at her
// own, see GaugeOf. A piece is made twice as long as it is in her plan at most:
// beyond that it is Far, since what is asked for is another piece. Rows that she leaves out, and has not passed, are worked
// first; then rows are worked again whose last one she has not passed: those that
// may be left out before others, plain ones before those of a texture, as long
// as they come as near as a row is high.
//
// Rows may be worked again when they find what they leave: the same stitches,
// stitch by stitch, on the same side, with every panel and every texture at the
// row where it was. That is proven by working them once more. Flat rows along
// whose side stitches are picked up later in the piece may not: there would be
// more of the side than stitches to be picked up.
//
// Errors are ErrNoGauge, those of LayOut, and an *Error where no row can be
// worked again.
func Longer(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Lengthening, error) {
	if err := likely(by, leastChange, mostChange, "a length"); err != nil {
		return Lengthening{}, err
	}
	return longer(p, c, worked, by, own)
}

func longer(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Lengthening, error) {
	q, err := ask(p, c, worked, own)
	if err != nil {
		return Lengthening{}, err
	}
	if err := q.needsGauge(); err != nil {
		return Lengthening{}, err
	}
	l := Lengthening{Wanted: by, Piece: q.piece}
	options, _, _ := q.options(q.inPiece(), true, q.height)
	if all := q.combine(options, by, stepTo(by), q.height); len(all) > 1 && all[0].further != nil {
		_, l.Restored = q.first(all, func(c *combination) bool { return c.weight <= 2*by })
	}
	rest, length := by, q.piece.Length
	leave := c.LeftOut
	if l.Restored != nil {
		rest, length, leave = by-l.Restored.Change, l.Restored.Length, l.Restored.LeftOut
	}
	found := q.again(leave)
	best := nearestAgain(found, rest)
	switch {
	case best == nil && l.Restored == nil:
		return Lengthening{}, failed(CodeNothingStraight, "no %ss that are still to come can be worked again without changing the stitches", rowWord(p.Rounds))
	case by > q.piece.Length+alikeLengths:
		return Lengthening{Wanted: by, Piece: q.piece, Far: true}, nil
	case best == nil:
		return l, nil
	}
	times := best.timesFor(rest)
	l.Best, l.More = best.told(times, length), best.told(times+1, length)
	l.Less = best.told(times-1, length)
	return l, nil
}

// A straight is rows of the full plan that may be worked again.
type straight struct {
	rows     []*patterns.Row
	optional bool
	class    int     // the lower, the sooner it is offered
	height   float64 // cm of all of its rows
}

// The classes of rows to work again.
const (
	classOptional = iota // a section's rows that may be left out
	classPlain           // rows that say the same as the one before
	classTexture         // a texture that repeats
	classPanel           // rows of panels that do not say the same
)

// timesFor is how often more they are worked to come nearest to a length; 0 where
// that is nearer than once.
func (s *straight) timesFor(cm float64) int {
	return max(0, int(math.Round(cm/s.height)))
}

func (s *straight) miss(cm float64) float64 {
	return math.Abs(float64(s.timesFor(cm))*s.height - cm)
}

func (s *straight) told(times int, length float64) *Again {
	if times < 1 {
		return nil
	}
	change := float64(times) * s.height
	return &Again{Section: s.rows[0].Section, From: s.rows[0].Number, To: s.rows[len(s.rows)-1].Number, Optional: s.optional,
		Times: times, Rows: times * len(s.rows), Change: change, Length: length + change}
}

// nearestAgain chooses the rows: of the first class in which some come as near
// as a row is high, else those that come nearest.
func nearestAgain(found []*straight, cm float64) *straight {
	if len(found) == 0 {
		return nil
	}
	sorted := slices.Clone(found)
	slices.SortStableFunc(sorted, func(a, b *straight) int {
		near := func(s *straight) int {
			if s.miss(cm) <= s.height/float64(len(s.rows)) {
				return s.class
			}
			return classPanel + 1
		}
		return cmp.Or(cmp.Compare(near(a), near(b)), cmp.Compare(a.miss(cm), b.miss(cm)), cmp.Compare(a.class, b.class), cmp.Compare(len(a.rows), len(b.rows)))
	})
	return sorted[0]
}

// Limits of what is looked at to find rows to work again.
const (
	longestAgain = 48  // rows worked again in one go
	mostEnds     = 100 // rows of a section, from its end, that they may end with
)

// again finds rows that may be worked again in the piece, with a choice of rows
// left out: in each section the shortest of each class, as late as they stand.
func (q *question) again(leave []patterns.LeftOut) []*straight {
	var rows []int
	for i := q.from; i <= q.to; i++ {
		if !q.full.Rows[i].LeftOutBy(leave...) {
			rows = append(rows, i)
		}
	}
	q.pickUp = q.lastPickUp()
	var found []*straight
	for end := len(rows); end > 0; {
		start := end - 1
		for start > 0 && q.full.Rows[rows[start-1]].Section == q.full.Rows[rows[end-1]].Section {
			start--
		}
		found = append(found, q.againIn(rows[start:end])...)
		end = start
	}
	return found
}

// againIn looks in the rows of one section, which are indexes of the full plan.
func (q *question) againIn(rows []int) []*straight {
	var found []*straight
	seen := map[int]bool{}
	for end := len(rows) - 1; end >= max(0, len(rows)-mostEnds) && rows[end] >= q.limit; end-- {
		for n := 1; n <= min(longestAgain, end+1); n++ {
			from := end + 1 - n
			if rows[end]-rows[from] != n-1 { // rows are left out among them
				break
			}
			s, ok := q.straight(rows[from], rows[end])
			if !ok {
				continue
			}
			if !seen[s.class] {
				seen[s.class] = true
				found = append(found, s)
			}
			break
		}
	}
	return found
}

// straight says whether rows of the full plan may be worked again.
func (q *question) straight(from, to int) (*straight, bool) {
	rows := q.full.Rows[from : to+1]
	first, last := rows[0], rows[len(rows)-1]
	if !first.Rounds && from < q.pickUp {
		return nil, false
	}
	if first.Before.Count() == 0 || first.Before.Differs(last.After) != fabric.Alike {
		return nil, false
	}
	s := &straight{rows: rows, class: classTexture}
	texts := q.texts(first.Section)
	if cuts(texts.stretches, from-texts.first, to-texts.first) > 0 {
		return nil, false
	}
	repeats := slices.ContainsFunc(texts.stretches, func(s stretch) bool {
		return s.from <= from-texts.first && to-texts.first <= s.to
	})
	plain, whole := q.panelsAgain(from, to)
	switch s.optional = q.optional(rows); {
	case !whole:
		return nil, false
	case s.optional && plain && q.ofSection(rows):
		s.class = classOptional
	case !repeats && !s.optional:
		return nil, false // a row that stands once is part of the shaping or of a motif
	case !plain:
		s.class = classPanel
	case q.plainRows(from, to):
		s.class = classPlain
	}
	for i := from; i <= to; i++ {
		s.height += q.heights[i]
	}
	return s, q.worksAgain(rows)
}

// lastPickUp is the index of the last row of the piece that picks up stitches;
// -1 for none.
func (q *question) lastPickUp() int {
	for i := q.to; i >= q.from; i-- {
		if holds(q.full.Rows[i].Written, isPickUp) {
			return i
		}
	}
	return -1
}

// panelsAgain says whether every panel is at the same row before and after some
// rows: whole, because they are as many as it repeats after, or because it says
// the same in all of them, and in one beside them; plain, where it does in all
// panels.
func (q *question) panelsAgain(from, to int) (plain, whole bool) {
	if !q.look(from, to) {
		return false, false
	}
	plain = true
	for _, place := range q.places(from, to) {
		var numbers []int
		for _, r := range q.full.Rows[from : to+1] {
			if s := q.stripsOf(r).at[place.Span]; s != nil {
				numbers = append(numbers, s.Row-1)
			}
		}
		c := q.cycle(place.Panel)
		before, after := q.nextKept(from-1, -1, place, nil), q.nextKept(to+1, 1, place, nil)
		short := shortens(c.Texts, numbers, before, after)
		if !short && len(numbers)%c.Period != 0 {
			return false, false
		}
		plain = plain && (short || c.Period <= 2)
	}
	return plain, true
}

// optional says that every one of some rows may be left out.
func (q *question) optional(rows []*patterns.Row) bool {
	return !slices.ContainsFunc(rows, func(r *patterns.Row) bool { return !r.LeftOutBy(q.all...) })
}

// ofSection says that the section itself lets some rows be left out.
func (q *question) ofSection(rows []*patterns.Row) bool {
	own := slices.DeleteFunc(slices.Clone(q.all), func(l patterns.LeftOut) bool { return l.Owner != rows[0].Section.Name })
	return !slices.ContainsFunc(rows, func(r *patterns.Row) bool { return !r.LeftOutBy(own...) })
}

// plainRows says that the section's rows say the same over and over: on each
// side, where they are flat.
func (q *question) plainRows(from, to int) bool {
	texts := q.texts(q.full.Rows[from].Section)
	return slices.ContainsFunc(texts.stretches, func(s stretch) bool {
		return s.period <= 2 && (s.period == 1 || !q.full.Rows[from].Rounds) && s.from <= from-texts.first && to-texts.first <= s.to
	})
}

// worksAgain works rows on what the last of them leaves.
func (q *question) worksAgain(rows []*patterns.Row) bool {
	needle := rows[len(rows)-1].After
	for _, r := range rows {
		did := needle.Work(r.Written, fabric.Row{Rounds: r.Rounds, Size: q.size})
		if did.Problem != nil {
			return false
		}
		needle = did.After
	}
	return needle.Differs(rows[len(rows)-1].After) == fabric.Alike
}
