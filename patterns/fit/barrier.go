package fit

import "clew/patterns"

// A Why is what would break.
type Why uint8

// The kinds.
const (
	WhyWork    Why = iota // the rows that follow can't be worked: Detail says why
	WhySide               // the next right-side row would fall on the wrong side
	WhyRepeat             // Panel would say a row twice
	WhySkip               // Panel would pass over Missed rows
	WhyTexture            // the section's own rows, which repeat, would be cut
	WhyFaces              // the next row, Row, would find other stitches than it expects: Detail says which
	WhyMarkers            // the next row would not find the markers where it expects them
	WhyHeld               // the next row would not find the stitches on hold that it expects
	WhyYarn               // the next row would find stitches in another yarn, or another yarn in use
	WhyEnd                // the section would end on other stitches: Missed more (fewer, where it is negative), or with Missed 0 other ones
	WhyDoubt              // the rows that follow would look like a mistake: Detail says why
)

// A Barrier is a number of rows that can't be left out, and what it would break.
type Barrier struct {
	Group   patterns.Optional
	Rows    int // of the group
	Why     Why
	Rounds  bool   // the section is worked in rounds
	Section string // where it would break
	Row     int    // the number of the row there; 0 for none
	Panel   string // with WhyRepeat and WhySkip
	Missed  int
	Detail  string // one clause
}

// Error says it in one sentence: "leaving out 1 round of Floats: the Pebble edge would repeat a round".
func (b *Barrier) Error() string { return "" }
