// Package patterns reads a written pattern, proves it, and lays it out row by
// row for one knitter. The text it reads is described in NOTATION.md.
package patterns

import (
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// Limits of one file.
const (
	MaxBytes         = 256 << 10
	MaxRows          = 5_000
	MaxSizes         = 20
	MaxPanels        = 200
	MaxAbbreviations = 200
)

// A Pattern is a written pattern, as read. It is not changed after Read.
type Pattern struct {
	Title         string
	By            string
	Rounds        bool     // worked in rounds; else in rows
	Sizes         []string // names; empty for a pattern of one size
	CastOn        instruction.Number
	Gauge         *Gauge
	Needles       string
	Yarns         []Yarn
	Notes         []string // said once, when a knitter starts
	Abbreviations *instruction.Abbreviations
	Panels        []*Panel
	Sections      []*Section

	src     string
	text    []byte // the same, for positions
	sound   bool   // read without an error, so that every row can be worked
	stopped bool   // past a limit, so that nothing was made of it
	most    int64  // stitches worked in all, in the size with the most

	mayOffer func(Optional) bool // set where not all groups of rows that may be left out count
}

// MostStitches is how many stitches are worked in all rows, in the size that has
// the most of them: 0 to 25 million. It is what laying the pattern out costs,
// at some 120 bytes a stitch. It is right for a pattern without errors.
func (p *Pattern) MostStitches() int64 { return p.most }

// SizeCount is how many sizes there are, at least 1.
func (p *Pattern) SizeCount() int { return max(1, len(p.Sizes)) }

// A Gauge is stitches and rows over a length.
type Gauge struct {
	problem.Span
	Stitches, Rows float64
	Centimeters    float64 // the length they are counted over
}

// A Yarn is one Yarn line.
type Yarn struct {
	Text  string
	Grams instruction.Number // needed by size; empty where the line gives none
}

// A Panel is a strip of stitches with rows of its own.
type Panel struct {
	problem.Span
	Name  string
	Width instruction.Number
	Lines []*Line

	unsure bool // a line of it could not be read at all
}

// A Section is a part of the pattern with rows of its own numbering.
type Section struct {
	problem.Span
	Name   string
	Rounds bool
	Gauge  *Gauge
	CastOn *instruction.Number // set where a new piece begins
	Across []instruction.Node  // panels and columns side by side
	Lines  []*Line

	acrossAt problem.Span
	panels   []*instruction.Strip // those of Across, each once
	unsure   bool                 // a line of it could not be read at all
}

// A Line is one row line: the rows it stands for and what they say.
type Line struct {
	instruction.Head
	*instruction.Instruction
	Tips []string

	partial []instruction.Node // what could be read of an instruction that has problems
	meant   []instruction.Node // what it was likely meant to say, where a name has a letter too many
	vague   bool               // such an instruction may change the count by any number
	near    bool               // it may change it by a stitch or two: an abbreviation is not known
	unsure  bool               // its head could not be read whole, so that it may stand for other rows
}

// at is where the line stands: its head.
func (l *Line) at() problem.Span { return l.Head.Span }
