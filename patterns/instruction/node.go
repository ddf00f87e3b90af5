// Package instruction scans, parses and prints what one row says to do. The
// tree that it gives is as written: numbers for every size, "to end" still to
// be measured. The fabric works it and gives back a tree of the same nodes
// with every count filled in.
package instruction

import (
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// A Node is one part of an instruction.
type Node interface {
	Pos() problem.Span
}

// A Number is one number for all sizes, or one for each size, in their order.
// Zero means "skip this in that size". Values may be shared between numbers, and
// are not to be changed.
type Number struct {
	problem.Span
	Values []int
}

// N is the number that is n in every size.
func N(n int) Number { return Number{Values: single(n)} }

// single is a list of one number; small ones are shared.
func single(n int) []int {
	if n >= 0 && n < len(singles) {
		return singles[n : n+1 : n+1]
	}
	return []int{n}
}

var singles = func() (all [128]int) {
	for i := range all {
		all[i] = i
	}
	return all
}()

// At gives the number for a size, counted from 0.
func (n Number) At(size int) int {
	if len(n.Values) == 1 {
		return n.Values[0]
	}
	if size < 0 || size >= len(n.Values) {
		return 0
	}
	return n.Values[size]
}

// Max gives the largest of its values.
func (n Number) Max() int {
	most := 0
	for _, v := range n.Values {
		most = max(most, v)
	}
	return most
}

// plus adds k to every value.
func (n Number) plus(k int) Number {
	values := make([]int, len(n.Values))
	for i, v := range n.Values {
		values[i] = v + k
	}
	return Number{n.Span, values}
}

// A Reach says how far something is worked.
type Reach uint8

// The reaches.
const (
	Times    Reach = iota // N times, or over N stitches
	ToEnd                 // to the end of the row, or of the panel
	ToLast                // until N stitches are left
	ToMarker              // to N stitches before the next marker; 0: up to it
)

// An Extent is a reach with its number.
type Extent struct {
	Reach Reach
	N     Number
}

// once is the extent of something that stands without a count.
func once() Extent { return Extent{Times, N(1)} }

// once says that this is one time in every size.
func (e Extent) once() bool {
	return e.Reach == Times && len(e.N.Values) == 1 && e.N.Values[0] == 1
}

// A Manner is how a stitch is slipped, and where the yarn is held.
type Manner uint8

// The manners, to be combined.
const (
	Purlwise Manner = 1 << iota
	Knitwise
	YarnFront
	YarnBack
)

// Work is a stitch of the table, a number of times or as far as its extent.
// In a worked tree Count says how many times.
type Work struct {
	problem.Span
	Stitch *stitch.Stitch
	TBL    bool // through the back loop
	Manner Manner
	Extent Extent
	Count  int
}

// Repeat is a group in brackets or from an asterisk. In a worked tree Count
// says how many times.
type Repeat struct {
	problem.Span
	Body   []Node
	Extent Extent
	Count  int
}

// Into works every part of its body into one and the same stitch.
type Into struct {
	problem.Span
	Body []Node
}

// A Hold is where a cable needle waits.
type Hold uint8

// The places; a pattern that says none leaves it open which strand passes in
// front, though not where the stitches land.
const (
	HoldUnsaid Hold = iota
	HoldBack
	HoldFront
)

// A Slipped is a strand put on a cable needle, the first or the second.
type Slipped struct {
	N    int // stitches
	Hold Hold
}

// A Source is where a part of a cross takes its stitches from.
type Source uint8

// The sources.
const (
	FromLeft Source = iota
	FromFirst
	FromSecond
)

// A Part is what a cross does with one strand. A part with Returned > 0 has no
// body: it slips that many stitches, from the far end of the first cable
// needle, back to the left needle.
type Part struct {
	From     Source
	Body     []Node
	Returned int
}

// Cross moves strands past each other. Named is zero for a longhand cross.
type Cross struct {
	problem.Span
	Named   stitch.Cross
	Slipped []Slipped
	Parts   []Part
}

// Macro is an abbreviation that the pattern itself defines.
type Macro struct {
	problem.Span
	Name string
	Body []Node
	size extentOf
}

// A MarkerAct is what is done with a marker.
type MarkerAct uint8

// The acts.
const (
	PlaceMarker MarkerAct = iota
	SlipMarker
	RemoveMarker
)

// Marker places, slips or removes a marker.
type Marker struct {
	problem.Span
	Act MarkerAct
}

// Turn turns the work in the middle of a row; with Wrap the next stitch is
// wrapped first.
type Turn struct {
	problem.Span
	Wrap bool
}

// Yarn takes up another yarn, by the name the pattern gives it.
type Yarn struct {
	problem.Span
	Name string
}

// Bead puts a bead on the yarn, against the stitch just worked.
type Bead struct{ problem.Span }

// Held puts stitches on hold, or returns them to the left needle.
type Held struct {
	problem.Span
	N      Number
	Return bool
	Count  int
}

// AsLooks works every stitch as its face shows, or, with Opposite, against
// it. In a worked tree Body says what that comes to.
type AsLooks struct {
	problem.Span
	Opposite bool
	Extent   Extent
	Body     []Node
}

// Panels is "work the panels": each panel's own row, side by side.
type Panels struct{ problem.Span }

// Strip is one panel's row in its place. Its body must use exactly the
// panel's stitches. In an Across line it has a name alone.
type Strip struct {
	problem.Span
	Panel     string
	Continued bool // goes on from the row it had reached in the section before
	Row       int  // the panel's own row, from 1
	Width     int  // stitches it must use
	Body      []Node
}

// AsRows says that a row is worked as another, or rows as others.
type AsRows struct {
	problem.Span
	From, To Number // equal for one row
}

// RepeatRows says that rows repeat earlier ones.
type RepeatRows struct {
	problem.Span
	From, To Number
	Last     Number // "rep last 2 rows": how many; then From and To are empty
	Times    Number // how often in all lines; empty: as often as fits
}

// An Instruction is a whole row.
type Instruction struct {
	problem.Span
	Body   []Node
	Stated *Number // the count that the row states after itself, if it does
}
