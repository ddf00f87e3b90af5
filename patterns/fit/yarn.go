package fit

import "clew/patterns"

// A YarnUnit is how yarn is measured.
type YarnUnit uint8

// The units.
const (
	Grams YarnUnit = iota
	Ounces
	Metres
	Yards
)

// A Weighed is what a knitter had of a yarn, and has left, in one unit.
type Weighed struct {
	Had, Left float64
	Unit      YarnUnit
	Yarn      string // its name in the pattern; empty where there is one, or for the yarn cast on with
}

// An Answer is whether yarn will do.
type Answer uint8

// The answers. Close is where it depends on the spread.
const (
	Enough Answer = iota
	Close
	NotEnough
)

// An Estimate is what the rest of a plan needs of a yarn, in the unit in which
// it was weighed.
type Estimate struct {
	Yarn             string // empty for the one yarn there is, or the one cast on with
	Unit             YarnUnit
	Used, Left       float64
	Share            float64 // of the stitches in this yarn that are done: 0 to 1
	Needs, Low, High float64 // for the rest; Low and High are the spread
	Answer           Answer
	RunsOut          int  // index of the row in which it runs out with Needs; -1 for none
	Earliest         int  // the same with High
	Guess            bool // too little has been worked to tell more than a guess
}

// EstimateYarn tells whether the yarn that is left will do for the rows of a
// plan from the one with index row on: those before it are done.
func EstimateYarn(plan *patterns.Plan, row int, w Weighed) (Estimate, error) {
	return Estimate{}, failed(CodeYarnUnused, "not yet")
}

// A Need is what a Yarn line of the pattern says that a size needs, against what
// there is.
type Need struct {
	Yarn   string  // the line's text
	Grams  float64 // that the pattern says it needs
	Had    float64 // in grams
	Answer Answer
}

// PatternNeeds compares what is there before casting on with the pattern's Yarn
// line. With several lines, name is a word of the one that is meant.
func PatternNeeds(p *patterns.Pattern, size int, name string, had float64, unit YarnUnit) (Need, error) {
	return Need{}, failed(CodeYarnUnused, "not yet")
}

// CodeYarnUnused and the others are the codes of the errors about yarn.
const (
	CodeYarnUnused = "yarn-unused"
)
