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

// A Piece is what is knitted from one cast-on: the sections from First to Last.
type Piece struct {
	First, Last *patterns.Section
	Rows        int
	Length      float64 // cm, along the rows: of something knitted sideways it is what goes around
}

// A Fitting is how to come to a length.
type Fitting struct {
	Piece   Piece
	Shorter *Shortening  // nil unless it has to become shorter
	Longer  *Lengthening // nil unless it has to become longer; both nil: it comes to the length already
}

// ToLength tells how the piece that the knitter is in comes to a length in cm.
func ToLength(p *patterns.Pattern, c patterns.Choice, worked int, length float64, own *Gauge) (Fitting, error) {
	return Fitting{}, ErrNoGauge
}
