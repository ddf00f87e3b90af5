// Package survey tells what rows ahead of a knitter are like: which stretches are
// routine, which rows are not, what is new in them, and where it is good to stop.
package survey

import (
	"clew/patterns"
	"clew/patterns/instruction"
)

// A Kind is what some rows in a row have in common.
type Kind uint8

// The kinds. All but Unusual are routine: they can be told in one sentence.
const (
	Unusual  Kind = iota // one row that is to be told by itself
	Knit                 // every stitch is knitted
	Purl                 // every stitch is purled
	Stocking             // in rows: knitted on the right side and purled on the wrong side
	AsLooks              // every stitch is worked as it looks
	Same                 // the same row over and over
	InTurn               // two rows in turn
	Again                // the same as as many rows before them, once or several times over
	Every                // every second row of those from From to To; the others are in the parts that come after it
)

// A Part is rows of one kind in one section. They follow each other as
// plan.Rows[From:To], but those of Every, which are plan.Rows[From], [From+2] and so on
// up to [To-1].
type Part struct {
	Kind     Kind
	From, To int
	As       int  // Again: the index of the row that the first is worked as; As to From is what comes again
	Each     Kind // Every: what each of the rows is, Knit, Purl or AsLooks; Unusual where it is none of them
}

// Routine says that the rows can be told in one sentence.
func (p Part) Routine() bool { return p.Kind != Unusual }

// Rows is how many rows a part has.
func (p Part) Rows() int {
	if p.Kind == Every {
		return (p.To - p.From + 1) / 2
	}
	return p.To - p.From
}

// New is something that no row before has. Knit and purl stitches are never new.
type New struct {
	Row int // index of the first row in which it comes
	// What it is: a *instruction.Work (a stitch of the table), *instruction.Cross,
	// *instruction.Into (several stitches into one), *instruction.Turn,
	// *instruction.Held or *instruction.Bead.
	Node instruction.Node
}

// A Survey is what plan.Rows[From:To] are like.
type Survey struct {
	From, To     int
	Stitches     int64  // worked in all of them
	Begin, End   int    // stitches on the needle before the first and after the last
	Parts        []Part // every row is in one of them; in the order of their first rows
	New          []New  // not met in any row of the plan before From, in the order in which it comes
	FirstUnusual int    // index of the first row that is not routine; -1 for none
}

// Of surveys plan.Rows[from:to]. What is not in the plan is left out; a survey of no
// rows has the stitches that are on the needle at from.
func Of(plan *patterns.Plan, from, to int) Survey {
	from = min(max(from, 0), len(plan.Rows))
	to = min(max(to, from), len(plan.Rows))
	s := Survey{From: from, To: to, FirstUnusual: -1, Begin: countAt(plan, from), Stitches: workedAt(plan, to) - workedAt(plan, from)}
	if s.End = s.Begin; from == to {
		return s
	}
	s.End = plan.Rows[to-1].After.Count() // of this piece, where the next row begins another
	s.New = newIn(plan, from, to)
	s.Parts = parts(plan, from, to)
	if rows := s.Unusual(); len(rows) > 0 {
		s.FirstUnusual = rows[0]
	}
	return s
}

// Unusual gives the indexes of the rows that are not routine.
func (s Survey) Unusual() []int {
	var rows []int
	for _, p := range s.Parts {
		if !p.Routine() {
			rows = append(rows, p.From)
		}
	}
	return rows
}

// countAt is how many stitches are on the needle before row i, or after the last.
func countAt(plan *patterns.Plan, i int) int {
	switch {
	case i < len(plan.Rows):
		return plan.Rows[i].Before.Count()
	case i == 0:
		return 0
	}
	return plan.Rows[i-1].After.Count()
}

// workedAt is how many stitches are worked before row i, or in all rows of the plan.
func workedAt(plan *patterns.Plan, i int) int64 {
	if i == 0 {
		return 0
	}
	last := plan.Rows[i-1]
	return last.Worked + int64(last.Before.Ahead()-last.Unworked())
}
