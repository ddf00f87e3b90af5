package fit

import (
	"fmt"
	"slices"
	"strings"

	"clew/patterns"
)

// An Offer is a plan with other rows left out than the knitter's own, proven
// whole: it works without an error and without a warning that the full plan
// does not have, and each section ends on the fabric that it ends on there.
type Offer struct {
	LeftOut []patterns.LeftOut // all that is left out with it, what was left out before included
	Rows    int                // by how many rows the plan becomes shorter; negative: longer
	Change  float64            // cm by which the piece that she is in changes; negative is shorter
	Beside  float64            // the same of all other pieces
	Length  float64            // cm of the piece that she is in after it; 0 where the gauge is not known
	Stripes []string           // yarns of which a stripe is missed where two of another colour meet, as the pattern names them
	Plan    *patterns.Plan     // nil in what Offers gives: LayOut makes it
}

// By how many cm a piece can be asked to become shorter or longer.
const (
	leastChange = 0.1
	mostChange  = 1_000
)

// A Shortening is what may be left out to make a piece shorter.
type Shortening struct {
	Wanted float64 // cm by which it is to become shorter
	Piece  Piece   // as it is without that
	Far    bool    // nothing would be left of the piece: out of reach, and nothing else is told
	Best   *Offer  // comes nearest; nil: nothing comes nearer than leaving nothing out
	Less   *Offer  // the next one that leaves out less; nil for none
	More   *Offer  // the next one that leaves out more; nil for none
	Most   *Offer  // the most that may be left out
	Reach  bool    // Most comes to what is wanted, or misses it by no more than half the least that can be left out
}

// The codes of errors about rows left out and worked again.
const (
	CodeNothingOptional = "nothing-optional" // no rows may be left out
	CodeReached         = "reached"          // those that may are worked already
	CodeAllLeftOut      = "all-left-out"     // those that may are left out already
	CodeNothingLeft     = "nothing-left"     // nothing is left out, or no row would be left
	CodeBreaks          = "breaks"           // the sentence is that of a Barrier
	CodeRows            = "rows"             // this number of rows can't be left out, and others can
	CodeNothingStraight = "nothing-straight" // no rows can be worked again
)

// Shorter tells which rows to leave out to make the piece that the knitter is in
// shorter by so many centimetres (0.1 to 1,000), at the pattern's gauge or at her
// own, see GaugeOf. As much as the piece is long, or more, is Far. The first worked rows of her plan, the one that she is
// working included, stay as they are; rows left out already stay left out.
//
// Each number of rows is proven by itself first, then combinations are tried
// whole, nearest first. At most 48 layouts are made, fewer where the pattern
// is large; what could not be tried within that is not offered.
//
// Errors are ErrNoGauge, those of LayOut, and an *Error that says why nothing can
// be left out.
func Shorter(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Shortening, error) {
	if err := likely(by, leastChange, mostChange, "a length"); err != nil {
		return Shortening{}, err
	}
	return shorter(p, c, worked, by, own)
}

func shorter(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Shortening, error) {
	q, err := ask(p, c, worked, own)
	if err != nil {
		return Shortening{}, err
	}
	if err := q.needsGauge(); err != nil {
		return Shortening{}, err
	}
	groups := q.inPiece()
	options, barrier, reached := q.options(groups, false, q.height)
	if len(options) == 0 {
		return Shortening{}, q.none(groups, q.ofPiece(), barrier, reached)
	}
	if by >= q.piece.Length-alikeLengths {
		return Shortening{Wanted: by, Piece: q.piece, Far: true}, nil
	}
	s := Shortening{Wanted: by, Piece: q.piece}
	all := q.combine(options, by, stepTo(by), q.height)
	best := all[0]
	if best.further != nil {
		best, s.Best = q.first(all, func(*combination) bool { return true })
	}
	if best == nil || best.weight > 2*by { // what is left of them is farther off than nothing
		best, s.Best = &combination{}, nil
	}
	_, s.Less = q.first(byWeight(all, true), func(c *combination) bool { return c.weight < best.weight-alikeLengths })
	_, s.More = q.first(byWeight(all, false), func(c *combination) bool { return c.weight > best.weight+alikeLengths })
	if s.Most = q.most(options, q.height); s.Most == nil {
		s.Most = s.Best
	}
	if s.Most == nil {
		return Shortening{}, q.none(groups, q.ofPiece(), barrier, reached)
	}
	s.Reach = by <= -s.Most.Change+least(options)/2
	return s, nil
}

// height is how much a row of the full plan adds to the piece, in cm.
func (q *question) height(i int) float64 {
	if i < q.from || i > q.to {
		return 0
	}
	return q.heights[i]
}

// one weighs each row the same.
func one(int) float64 { return 1 }

// inPiece gives the groups that have rows in the piece.
func (q *question) inPiece() []patterns.Optional {
	return slices.DeleteFunc(q.p.Optionals(q.size), func(o patterns.Optional) bool {
		return !slices.ContainsFunc(q.full.Rows[q.from:q.to+1], func(r *patterns.Row) bool {
			return r.LeftOutBy(patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: o.Count()})
		})
	})
}

// ofPiece names the piece where it is not all there is.
func (q *question) ofPiece() string {
	if q.from == 0 && q.to == len(q.full.Rows)-1 {
		return ""
	}
	if q.piece.First == q.piece.Last {
		return " of " + q.piece.First.Name
	}
	return fmt.Sprintf(" from %s to %s", q.piece.First.Name, q.piece.Last.Name)
}

func byWeight(all []*combination, heavyFirst bool) []*combination {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b *combination) int {
		if heavyFirst {
			a, b = b, a
		}
		return order(a, b, 0)
	})
	return sorted
}

// least is the smallest weight that an option has.
func least(groups [][]option) float64 {
	smallest := groups[0][0].weight
	for _, options := range groups {
		for _, o := range options {
			smallest = min(smallest, o.weight)
		}
	}
	return smallest
}

// EveryRow asks LeaveOut for as many rows as may be left out.
const EveryRow = -1

// LeaveOut leaves out a number of rows of the plan (1 and more), or, with
// EveryRow, as many as may be, beside those that are left out already: of the
// section or panel that owner names, or, where it is empty, of any. Sections'
// own rows are taken before those of panels. Of a panel it is that many of the
// panel's own rows, each time that it is worked, so that the plan loses more,
// see Offer.Rows; a section that bears the panel's name goes before it. The first
// worked rows stay as they are. own may be nil, and the gauge unknown.
//
// Errors are those of LayOut, and an *Error: why nothing can be left out, or
// which numbers can in place of this one.
func LeaveOut(p *patterns.Pattern, c patterns.Choice, worked int, owner string, rows int, own *Gauge) (Offer, error) {
	if rows < 1 && rows != EveryRow {
		return Offer{}, failed(CodeZero, "a number of rows to leave out has to be 1 or more")
	}
	q, err := ask(p, c, worked, own)
	if err != nil {
		return Offer{}, err
	}
	groups, err := q.named(owner)
	if err != nil {
		return Offer{}, err
	}
	of := ""
	if owner != "" {
		of = " of " + owner
	}
	options, barrier, reached := q.options(groups, false, one)
	if len(options) == 0 {
		return Offer{}, q.none(groups, of, barrier, reached)
	}
	if rows == EveryRow {
		if o := q.most(options, one); o != nil {
			return *o, nil
		}
		return Offer{}, q.none(groups, of, barrier, reached)
	}
	all := q.numbers(groups, options, owner, rows)
	if _, o := q.first(all, func(c *combination) bool { return c.rows == rows }); o != nil {
		return *o, nil
	}
	return Offer{}, q.otherNumbers(all, rows, of, barrier)
}

// numbers gives the combinations of options by how many rows they leave out, the
// nearest to a number first: rows of the plan, or, where a panel was named, the
// panel's own.
func (q *question) numbers(groups []patterns.Optional, options [][]option, owner string, rows int) []*combination {
	panel := len(groups) > 0 && groups[0].Panel && strings.EqualFold(groups[0].Owner, strings.TrimSpace(owner))
	if !panel {
		return q.combine(options, float64(rows), 1, one)
	}
	own := make([][]option, len(options))
	for i, numbers := range options {
		own[i] = slices.Clone(numbers)
		for j := range own[i] {
			o := &own[i][j]
			o.rows = o.leave.Rows - leftOf(q.base, patterns.Optional{Owner: o.leave.Owner, From: o.leave.From})
			o.weight = float64(o.rows)
		}
	}
	return combinations(own, float64(rows), 1)
}

// otherNumbers tells which numbers of rows can be left out in place of one that can't.
func (q *question) otherNumbers(all []*combination, rows int, of string, barrier *Barrier) error {
	fewer, less := q.first(byWeight(all, true), func(c *combination) bool { return c.rows < rows })
	further, more := q.first(byWeight(all, false), func(c *combination) bool { return c.rows > rows })
	why := ""
	if barrier != nil && barrier.Rows == rows {
		why = ": " + barrier.breaks()
	}
	word := rowWord(q.p.Rounds)
	switch {
	case less != nil && more != nil:
		return failed(CodeRows, "%s%s can't be left out%s; %d or %d can", counted(rows, word), of, why, fewer.rows, further.rows)
	case less != nil:
		return failed(CodeRows, "%s%s can't be left out%s; %d at most can", counted(rows, word), of, why, fewer.rows)
	case more != nil:
		return failed(CodeRows, "%s%s can't be left out%s; %d at least can", counted(rows, word), of, why, further.rows)
	}
	return failed(CodeRows, "%s%s can't be left out%s", counted(rows, word), of, why)
}

// WorkAll works all rows that were left out, but those whose place is past: the
// first worked rows stay as they are. Errors are those of LayOut, and an *Error
// where nothing is left out, or all of it is past.
func WorkAll(p *patterns.Pattern, c patterns.Choice, worked int, own *Gauge) (Offer, error) {
	q, err := ask(p, c, worked, own)
	if err != nil {
		return Offer{}, err
	}
	if len(q.kept) == len(q.full.Rows) {
		return Offer{}, failed(CodeNothingLeft, "nothing is left out")
	}
	options, barrier, _ := q.options(q.p.Optionals(q.size), true, one)
	if o := q.most(options, one); o != nil {
		return *o, nil
	}
	if barrier != nil {
		return Offer{}, failed(CodeBreaks, "these %ss can't be worked after all: %s", rowWord(p.Rounds), barrier.breaks())
	}
	return Offer{}, failed(CodeReached, "the %ss that are left out stand before the one that you are on", rowWord(p.Rounds))
}

// Offers tells of each group of rows that may be left out in a size which
// numbers of them pass the proof, each number alone and with nothing else left
// out, and of the others what they would break. Lengths are at the pattern's
// gauge, and 0 where it has none. Numbers that could not be tried within the
// bound, see Shorter, are in neither list.
func Offers(p *patterns.Pattern, size int) ([]Offer, []Barrier, error) {
	name, err := sizeName(p, size)
	if err != nil {
		return nil, nil, err
	}
	q, err := ask(p, patterns.Choice{Size: name}, 0, nil)
	if err != nil {
		return nil, nil, err
	}
	var offers []Offer
	var barriers []Barrier
	for _, o := range p.Optionals(size) {
		for rows := o.Step; rows <= o.Count(); rows += o.Step {
			leave := with(nil, o, rows)
			b, decided := q.proven(leave)
			switch {
			case b != nil:
				barriers = append(barriers, *b.of(o, rows))
			case decided:
				offers = append(offers, q.told(leave, nil))
			}
		}
	}
	return offers, barriers, nil
}
