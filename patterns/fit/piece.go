package fit

import (
	"errors"
	"math"

	"clew/patterns"
)

// A Piece is what is knitted from one cast-on, or, as a thumb is, from stitches
// that were on hold while all others were bound off: the sections from First to
// Last.
type Piece struct {
	First, Last *patterns.Section
	Rows        int
	Length      float64 // cm, along the rows: of something knitted sideways it is what goes around
}

// pieceOf gives the piece that a row of a plan belongs to. Its length is that of
// its sections together, each along the side that has the most rows. It fails
// with ErrNoGauge, and then gives all but the length; and for a plan without rows.
func pieceOf(plan *patterns.Plan, row int, own *Gauge) (Piece, error) {
	if len(plan.Rows) == 0 {
		return Piece{}, failed(CodeNothingLeft, "the plan has no rows")
	}
	from, to := extent(plan.Rows, min(max(row, 0), len(plan.Rows)-1))
	piece := Piece{First: plan.Rows[from].Section, Last: plan.Rows[to].Section, Rows: to - from + 1}
	sizes, err := Measure(plan, own)
	if err != nil {
		return piece, err
	}
	length, at := 0.0, 0
	for _, s := range sizes {
		if at >= from && at <= to {
			if s.Gauge.Rows == 0 {
				return piece, ErrNoGauge
			}
			length += s.Long
		}
		at += s.Rows
	}
	piece.Length = length
	return piece, nil
}

// Pieces gives the pieces of a plan in their order. It fails with ErrNoGauge, and
// for a plan without rows.
func Pieces(plan *patterns.Plan, own *Gauge) ([]Piece, error) {
	var pieces []Piece
	for row := 0; row == 0 || row < len(plan.Rows); {
		piece, err := pieceOf(plan, row, own)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, piece)
		row += piece.Rows
	}
	return pieces, nil
}

// extent gives the first and the last row of the piece that a row belongs to.
func extent(rows []*patterns.Row, row int) (from, to int) {
	for from = row; from > 0 && !begins(rows, from); from-- {
	}
	for to = row; to+1 < len(rows) && !begins(rows, to+1); to++ {
	}
	return from, to
}

// begins says that a new piece begins with a row: it is the first of a section
// that casts on, or that finds all bound off.
func begins(rows []*patterns.Row, i int) bool {
	r := rows[i]
	return r.First && (r.Section.CastOn != nil || rows[i-1].After.Count() == 0)
}

// A Fitting is how to come to a length.
type Fitting struct {
	Piece   Piece
	Wanted  float64      // cm
	Shorter *Shortening  // nil unless it has to become shorter
	Longer  *Lengthening // nil unless it has to become longer
	Against *Error       // why no rows can be left out, or worked again; nil where some can. With all three nil it comes to the length already
}

// ToLength tells how the piece that the knitter is in comes to a length in cm
// (1 to 1,000). What misses it by less than half a row is that length already.
// That no rows can be left out or worked again is no error, see Fitting.Against;
// others are those of Shorter and Longer.
func ToLength(p *patterns.Pattern, c patterns.Choice, worked int, length float64, own *Gauge) (Fitting, error) {
	if err := likely(length, 1, 1000, "a length"); err != nil {
		return Fitting{}, err
	}
	plan, err := p.LayOut(c)
	if err != nil {
		return Fitting{}, err
	}
	piece, err := pieceOf(plan, worked-1, own)
	if err != nil {
		return Fitting{}, err
	}
	f := Fitting{Piece: piece, Wanted: length}
	by := length - piece.Length
	gauge, _ := GaugeOf(p, piece.First, own)
	switch {
	case math.Abs(by) < gauge.Length(1)/2:
		return f, nil
	case by < 0:
		var found Shortening
		if found, err = shorter(p, c, worked, -by, own); err == nil {
			f.Shorter = &found
		}
	default:
		var found Lengthening
		if found, err = longer(p, c, worked, by, own); err == nil {
			f.Longer = &found
		}
	}
	if errors.As(err, &f.Against) && f.Against.Code != CodeNoGauge {
		return f, nil
	}
	f.Against = nil
	return f, err
}

// likely refuses a number of centimetres that is none that anybody knits.
func likely(cm, least, most float64, what string) error {
	switch {
	case math.IsNaN(cm) || math.IsInf(cm, 0):
		return failed(CodeUnreadable, "%s has to be a number of centimetres", what)
	case cm <= 0:
		return failed(CodeZero, "%s has to be more than 0 cm", what)
	case cm < least:
		return failed(CodeSmall, "%s of %g cm is shorter than anything that is knitted: give one of %g cm or more", what, cm, least)
	case cm > most:
		return failed(CodeLarge, "%s of %g cm is longer than anything that is knitted: give one of %g cm or less", what, cm, most)
	}
	return nil
}
