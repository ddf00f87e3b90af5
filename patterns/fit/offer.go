package fit

import "clew/patterns"

// An Offer is a plan with other rows left out than the knitter's own, proven
// whole: it works without an error and without a warning that the full plan
// does not have, and each section ends on the fabric that it ends on there.
type Offer struct {
	LeftOut []patterns.LeftOut // all that is left out with it, what was left out before included
	Rows    int                // by how many rows the plan becomes shorter; negative: longer
	Change  float64            // cm by which the piece that she is in changes; negative is shorter
	Length  float64            // cm of that piece after it
	Plan    *patterns.Plan     // nil in what Offers gives: LayOut makes it
}

// A Shortening is what may be left out to make a piece shorter.
type Shortening struct {
	Wanted float64 // cm by which it is to become shorter
	Piece  Piece
	Best   *Offer // comes nearest; nil: nothing does better than all rows
	Less   *Offer // the next one that leaves out less; nil for none
	More   *Offer // the next one that leaves out more; nil for none
	Most   *Offer // the most that may be left out
	Reach  bool   // Best misses Wanted by less than a row's height, or half of what lies between it and the next offer
}

// Shorter tells which rows to leave out to make the piece that the knitter is in
// shorter by so many centimetres (above 0). The first worked rows of her plan
// stay as they are; rows left out already stay left out.
func Shorter(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Shortening, error) {
	return Shortening{}, ErrNoGauge
}

// LeaveOut leaves out a number of rows (above 0), or, with EveryRow, as many
// as may be: of the section or panel that owner names, or, where it is empty,
// of any.
func LeaveOut(p *patterns.Pattern, c patterns.Choice, worked int, owner string, rows int, own *Gauge) (Offer, error) {
	return Offer{}, ErrNoGauge
}

// EveryRow asks LeaveOut for as many rows as may be left out.
const EveryRow = -1

// WorkAll works all rows that were left out, but those whose place is past.
func WorkAll(p *patterns.Pattern, c patterns.Choice, worked int, own *Gauge) (Offer, error) {
	return Offer{}, ErrNoGauge
}

// Offers tells of each group of rows that may be left out in a size which
// numbers of them pass the proof, each number alone, and of the others what
// they would break.
func Offers(p *patterns.Pattern, size int) ([]Offer, []Barrier, error) { return nil, nil, nil }
