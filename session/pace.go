package session

import (
	"cmp"
	"slices"
	"time"
)

// PaceGuess is how many stitches a minute are taken for granted of somebody whose
// pace is not known: common practice.
const PaceGuess = 20

// PaceRows is how many rows it takes to know somebody's pace.
const PaceRows = 10

// Pace is how fast somebody knits.
type Pace struct {
	StitchesAMinute float64 // more than 0; PaceGuess where it is a guess
	Rows            int     // the rows that it was worked out from; with fewer than PaceRows it is a guess
}

// Guess tells that there were too few rows to know.
func (p Pace) Guess() bool { return p.Rows < PaceRows }

// paceMost is how many stitches a minute nobody knits: who moves on sooner has only
// looked. From memory, the fastest on record made 118.
const paceMost = 120

// breakTimes is how many times what her pace takes a row may take, for no break to
// have been in it.
const breakTimes = 3

// PaceOf works out a pace from a log, the newest move first as Log gives it: the
// stitches of the rows that were moved on from with "next", over the time that each
// took since it was come to. A row counts once, the first time that it is worked. It
// does not count when it was come to or left by another move (back, undo, a jump, a
// change of size), when it took a break: longer than RestBreak and breakTimes what the
// median rate takes; or when it was only looked at.
func PaceOf(entries []Entry) Pace {
	rows := timed(entries)
	if len(rows) == 0 {
		return Pace{StitchesAMinute: PaceGuess}
	}
	slices.SortFunc(rows, func(a, b timedRow) int { return cmp.Compare(a.rate(), b.rate()) })
	median := rows[len(rows)/2].rate()
	p, stitches, minutes := Pace{StitchesAMinute: PaceGuess}, 0.0, 0.0
	for _, r := range rows {
		if r.took > RestBreak && r.took.Minutes() > breakTimes*r.stitches/median {
			continue
		}
		p.Rows++
		stitches += r.stitches
		minutes += r.took.Minutes()
	}
	if !p.Guess() {
		p.StitchesAMinute = stitches / minutes
	}
	return p
}

// timedRow is a row that was worked, with the time it took.
type timedRow struct {
	stitches float64
	took     time.Duration
}

// rate is in stitches a minute.
func (r timedRow) rate() float64 { return r.stitches / r.took.Minutes() }

// timed gives the rows of a log that were worked from one move on to the next.
func timed(entries []Entry) []timedRow {
	var rows []timedRow
	var began time.Time // when the row was come to; zero where that is not known
	var worked int64    // stitches done where she has moved on furthest
	for _, e := range slices.Backward(entries) {
		on := e.How == "next" && e.FromDone != Unknown && e.ToDone >= e.FromDone
		another := e.From.Revision != e.To.Revision || e.From.Size != e.To.Size || e.From.LeftOut != e.To.LeftOut
		switch {
		case another: // the figures are of two plans
			began, worked = time.Time{}, e.ToDone
			if on {
				began = e.At
			}
		case !on:
			began = time.Time{}
		case e.ToDone == e.FromDone:
			if e.From.Section != e.To.Section || e.From.Row != e.To.Row { // no step within the row
				began = e.At
			}
		default:
			row := timedRow{float64(e.ToDone - e.FromDone), e.At.Sub(began)}
			if !began.IsZero() && e.FromDone >= worked && row.took > 0 && row.rate() <= paceMost {
				rows = append(rows, row)
			}
			began = e.At
			if e.ToDone <= worked { // she comes back to where she was
				began = time.Time{}
			}
			worked = max(worked, e.ToDone)
		}
	}
	return rows
}
