package fit

import (
	"cmp"
	"math"
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
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
// beyond that it is Far, since what is asked for is another piece. Rows that she
// leaves out, and has not passed, are worked first. Then rows are worked again
// whose last one she has not passed, of the first kind below that comes nearer
// than nothing and has enough of them, so that the look changes least; where none
// has enough, of the kind that comes nearest:
//
//   - a section's rows that may be left out, three times their own number at most;
//   - whole repeats of the panels, or of the texture, of the section with the most
//     rows, however many;
//   - plain rows, four at least that are alike one after the other, or in turns of
//     two, twice their number at most, of the longest such run.
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
	best := nearestAgain(q.again(leave), rest)
	switch {
	case best == nil && l.Restored == nil:
		return Lengthening{}, failed(CodeNothingStraight, "no %ss that are still to come can be worked again without changing the stitches or the look", rowWord(p.Rounds))
	case by > q.piece.Length+alikeLengths:
		return Lengthening{Wanted: by, Piece: q.piece, Far: true}, nil
	case best == nil:
		return l, nil
	}
	times := best.timesFor(rest)
	l.Best, l.Less, l.More = best.told(times, length), best.told(times-1, length), best.told(times+1, length)
	return l, nil
}

// A straight is rows of the full plan that may be worked again.
type straight struct {
	rows   []*patterns.Row
	class  int     // the lower, the sooner it is offered
	height float64 // cm of all of its rows
	most   int     // how often more they may be worked
	run    int     // of plain ones, how many rows are alike there
	begins bool    // the panels, or the texture, begin with the first of them
}

// The kinds of rows to work again.
const (
	classOptional = iota // a section's rows that may be left out
	classRepeat          // whole repeats of the panels or the texture of the section with the most rows
	classPlain           // rows that are alike
)

// Limits of how many rows are added, so that the piece keeps its look.
const (
	optionalTimes = 3 // the number of rows that may be left out
	plainTimes    = 2 // the number of rows that are alike
	plainRun      = 4 // rows that are alike at least
)

// timesFor is how often more they are worked to come nearest to a length; 0 where
// that is nearer than once.
func (s *straight) timesFor(cm float64) int {
	return min(s.most, s.exactTimes(cm))
}

func (s *straight) exactTimes(cm float64) int {
	return max(0, int(math.Ceil(cm/s.height-0.5-alikeLengths))) // of two as near the fewer
}

func (s *straight) miss(cm float64) float64 {
	return math.Abs(float64(s.timesFor(cm))*s.height - cm)
}

func (s *straight) told(times int, length float64) *Again {
	if times < 1 || times > s.most {
		return nil
	}
	change := float64(times) * s.height
	return &Again{Section: s.rows[0].Section, From: s.rows[0].Number, To: s.rows[len(s.rows)-1].Number, Optional: s.class == classOptional,
		Times: times, Rows: times * len(s.rows), Change: change, Length: length + change}
}

// nearestAgain chooses the rows: of the first class in which some come nearer than
// nothing and are enough, else those that come nearest.
func nearestAgain(found []*straight, cm float64) *straight {
	if len(found) == 0 {
		return nil
	}
	sorted := slices.Clone(found)
	slices.SortStableFunc(sorted, func(a, b *straight) int {
		class := func(s *straight) int {
			if times := s.exactTimes(cm); times >= 1 && times <= s.most {
				return s.class
			}
			return classPlain + 1
		}
		if class(a) == class(b) && class(a) == classPlain && a.run != b.run {
			return cmp.Compare(b.run, a.run)
		}
		return cmp.Or(cmp.Compare(class(a), class(b)), cmp.Compare(a.miss(cm), b.miss(cm)), cmp.Compare(a.class, b.class), cmp.Compare(len(a.rows), len(b.rows)))
	})
	return sorted[0]
}

// Limits of what is looked at to find rows to work again.
const (
	longestAgain = 48  // rows worked again in one go
	mostEnds     = 100 // rows of a section, from its end, that they may end with
)

// again finds rows that may be worked again in the piece, with a choice of rows
// left out: in each section the shortest of each class, as late as they stand, those before
// others that begin where the panels or the texture do.
func (q *question) again(leave []patterns.LeftOut) []*straight {
	var rows []int
	for i := q.from; i <= q.to; i++ {
		if !q.full.Rows[i].LeftOutBy(leave...) {
			rows = append(rows, i)
		}
	}
	q.pickUp, q.main = q.lastPickUp(), q.longest(rows)
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
	at := map[int]int{} // indexes of found, by class
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
			if i, seen := at[s.class]; !seen {
				at[s.class], found = len(found), append(found, s)
			} else if s.class != classPlain && s.begins && !found[i].begins {
				found[i] = s
			}
			if s.class != classPlain { // more of them are no better
				break
			}
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
	s := &straight{rows: rows}
	if !q.kindOf(s, from, to) || s.most < 1 {
		return nil, false
	}
	for i := from; i <= to; i++ {
		s.height += q.heights[i]
	}
	return s, q.worksAgain(rows)
}

// kindOf tells of which kind rows are that may be worked again, and how often;
// false where they are of none.
func (q *question) kindOf(s *straight, from, to int) bool {
	texts := q.texts(s.rows[0].Section)
	if cuts(texts.stretches, from-texts.first, to-texts.first) > 0 {
		return false
	}
	if !q.panelsAgain(from, to) {
		return false
	}
	n := len(s.rows)
	s.begins = q.begins(from, from-texts.first, texts.stretches)
	if count := q.optionalRows(s.rows); count > 0 {
		s.class, s.most = classOptional, optionalTimes*count/n
		return true
	}
	if n <= 2 {
		if s.run = q.alikeRun(from, to); s.run >= plainRun {
			s.class, s.most = classPlain, plainTimes*s.run/n
			return true
		}
	}
	repeats := slices.ContainsFunc(texts.stretches, func(s stretch) bool {
		return s.from <= from-texts.first && to-texts.first <= s.to && n%s.period == 0
	})
	s.class, s.most = classRepeat, math.MaxInt
	return repeats && s.rows[0].Section == q.main && !q.inTurns(s.rows)
}

// begins says that the panels begin with a row of the full plan, or, where it works
// none, the texture that it stands in; at is the row in its section.
func (q *question) begins(row, at int, textures []stretch) bool {
	works := q.stripsOf(q.full.Rows[row]).all
	if len(works) == 0 {
		return slices.ContainsFunc(textures, func(s stretch) bool { return s.from <= at && at <= s.to && (at-s.from)%s.period == 0 })
	}
	return !slices.ContainsFunc(works, func(s *instruction.Strip) bool { return (s.Row-1)%q.cycle(s.Panel).Period != 0 })
}

// inTurns says that some rows are alike, or every other one.
func (q *question) inTurns(rows []*patterns.Row) bool {
	for i := 2; i < len(rows); i++ {
		if q.says(rows[i]) != q.says(rows[i-2]) {
			return false
		}
	}
	return true
}

// longest is the section with the most of some rows of the full plan; of two the
// first.
func (q *question) longest(rows []int) *patterns.Section {
	counts := map[*patterns.Section]int{}
	var most *patterns.Section
	for _, i := range rows {
		counts[q.full.Rows[i].Section]++
	}
	for _, i := range rows {
		if s := q.full.Rows[i].Section; most == nil || counts[s] > counts[most] {
			most = s
		}
	}
	return most
}

// alikeRun is how many rows of the section around some say the same as them, one
// after the other, or in turns of two where they are two; those of the panels
// are told apart.
func (q *question) alikeRun(from, to int) int {
	rows, n := q.full.Rows, to-from+1
	alike := func(a, b int) bool {
		return a >= 0 && b < len(rows) && rows[a].Section == rows[b].Section && q.says(rows[a]) == q.says(rows[b])
	}
	first, last := from, to
	for alike(first-1, first-1+n) {
		first--
	}
	for alike(last+1-n, last+1) {
		last++
	}
	return last - first + 1
}

// says is what a row says, with what the panels say in it.
func (q *question) says(r *patterns.Row) string {
	said, known := q.said[r]
	if !known {
		said = rowText(r, q.size)
		for _, s := range q.stripsOf(r).all {
			said += "; " + q.cycle(s.Panel).Texts[s.Row-1]
		}
		q.said[r] = said
	}
	return said
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
// rows: they are as many as it repeats after. A plain stretch of a panel does not
// become longer: the rope or the rungs in it would stand farther apart there.
func (q *question) panelsAgain(from, to int) bool {
	if !q.look(from, to) {
		return false
	}
	for _, place := range q.places(from, to) {
		rows := 0
		for _, r := range q.full.Rows[from : to+1] {
			if q.stripsOf(r).at[place.Span] != nil {
				rows++
			}
		}
		if rows%q.cycle(place.Panel).Period != 0 {
			return false
		}
	}
	return true
}

// optionalRows is how many rows may be left out of the groups of the section that
// hold every one of some rows; 0 where one of them is in none.
func (q *question) optionalRows(rows []*patterns.Row) int {
	count := 0
	for _, l := range q.all {
		if l.Owner == rows[0].Section.Name && slices.ContainsFunc(rows, func(r *patterns.Row) bool { return r.LeftOutBy(l) }) {
			count += l.Rows
		}
	}
	own := slices.DeleteFunc(slices.Clone(q.all), func(l patterns.LeftOut) bool { return l.Owner != rows[0].Section.Name })
	if slices.ContainsFunc(rows, func(r *patterns.Row) bool { return !r.LeftOutBy(own...) }) {
		return 0
	}
	return count
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
