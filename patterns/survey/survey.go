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
)

// A Part is rows of one kind, one after the other and in one section:
// plan.Rows[From:To].
type Part struct {
	Kind     Kind
	From, To int
	As       int // Again: the index of the row that the first is worked as; As to From is what comes again
}

// Routine says that the rows can be told in one sentence.
func (p Part) Routine() bool { return p.Kind != Unusual }

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
	Parts        []Part // every row is in one of them, in order
	New          []New  // not met in any row of the plan before From, in the order in which it comes
	FirstUnusual int    // index of the first row that is not routine; -1 for none
}

// Of surveys plan.Rows[from:to]. What is not in the plan is left out; a survey of no
// rows has the stitches that are on the needle at from.
func Of(plan *patterns.Plan, from, to int) Survey {
	return Survey{From: from, To: to, FirstUnusual: -1}
}

// Unusual gives the indexes of the rows that are not routine.
func (s Survey) Unusual() []int {
	var rows []int
	for _, p := range s.Parts {
		if p.Kind == Unusual {
			rows = append(rows, p.From)
		}
	}
	return rows
}

// Weight is how good a place is to stop at; higher is better.
type Weight int

// The weights.
const (
	Possible   Weight = 1 + iota // nothing speaks against it but that the row was not a plain one
	AfterPlain                   // the row is plain: the next one begins afresh
	AfterRun                     // it is the last of some plain rows, before one that is not
	SectionEnd                   // the last row of a section
)

// A Stop is a row after which the work may be put down.
type Stop struct {
	Row    int // index
	Weight Weight
}

// Stops gives the rows of plan.Rows[from:to] after which it is good to stop, in
// order. It never gives a place between a row with a cross and the row after it, nor
// between two rows with crosses that have one row between them, nor one in the middle
// of a short row. There may be none.
func Stops(plan *patterns.Plan, from, to int) []Stop { return nil }
