package fit

import "clew/patterns"

// An Again is rows to be worked once more, right after they have been worked.
type Again struct {
	Section  *patterns.Section
	From, To int     // the numbers of the rows
	Optional bool    // they are of a group that may be left out
	Times    int     // how often more, 1 or above
	Rows     int     // in all: Times times the rows from From to To
	Change   float64 // cm by which the piece becomes longer
	Length   float64 // cm of the piece after it, and after Restored where there is one
}

// A Lengthening is what may be worked to make a piece longer.
type Lengthening struct {
	Wanted   float64 // cm by which it is to become longer
	Piece    Piece
	Restored *Offer // rows that she leaves out, and may work after all; nil for none
	Best     *Again // comes nearest, with Restored; nil: nothing beside it does better
	Less     *Again // the same rows once less; nil for none
	More     *Again // the same rows once more
	Reach    bool   // as in a Shortening
}

// Longer tells which rows to work again to make the piece that the knitter is
// in longer by so many centimetres (above 0).
func Longer(p *patterns.Pattern, c patterns.Choice, worked int, by float64, own *Gauge) (Lengthening, error) {
	return Lengthening{}, ErrNoGauge
}
