// Package stitch is the glossary: the one table that knows each stitch, what
// it takes off the left needle, what it leaves on the right one, its words and
// its chart symbol. Crosses are generated from their widths (see Cross).
package stitch

// A Face is what a stitch shows on the side it is looked at from.
type Face uint8

// The smooth V of a knit, and the bump of a purl.
const (
	Knit Face = iota
	Purl
)

// Other gives the face that the same stitch shows on the other side.
func (f Face) Other() Face { return 1 - f }

// A Kind says what the needles do, for the few stitches that do more than
// take Uses stitches off the left needle and leave Makes on the right.
type Kind uint8

// The kinds.
const (
	Worked   Kind = iota // uses and makes, nothing else
	Slip                 // moves a stitch as it is
	PassOver             // lifts an earlier stitch on the right needle over the later ones
	BindOff              // ends stitches
	CastOn               // adds stitches at the tip of the right needle
)

// A Stitch is one entry of the table.
type Stitch struct {
	Abbr      string   // the canonical abbreviation
	Spellings []string // other ways to write it; spaces and case don't matter
	Kind      Kind
	Uses      int    // stitches taken off the left needle
	Makes     []Face // stitches left on the right needle, as seen from the side being worked
	Twisted   bool   // the stitch it makes is twisted
	Passes    int    // PassOver: how many stitches are lifted over
	Unslipped bool   // PassOver: what is lifted was worked, and stands right before the last stitch
	Counted   bool   // a number after it counts stitches ("k4"), not repetitions ("yo 2")
	Words     string // said short: "knit two together"; a Counted stitch: the verb, before the number
	Noun      string // Counted: said after the number, "stitch" in "bind off five stitches"
	HowTo     string // how it is worked, in plain sentences for the ear
	Symbol    string // its chart symbol
	Source    string // where the definition is from
}

// Net is the change of the stitch count each time it is worked. A slip changes
// nothing: what it moves is what it leaves.
func (s *Stitch) Net() int {
	if s.Kind == Slip {
		return 0
	}
	return len(s.Makes) - s.Uses - s.Passes
}

// A Term is an abbreviation that is not a stitch: a word for notes, which can
// be explained.
type Term struct {
	Abbr      string
	Spellings []string
	Meaning   string // in plain words
	Instead   string // what to write where a stitch is expected; empty: nothing in particular
	Source    string
}
