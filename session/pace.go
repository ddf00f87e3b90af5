package session

// PaceGuess is how many stitches a minute are taken for granted of somebody whose
// pace is not known.
const PaceGuess = 20

// PaceRows is how many rows it takes to know somebody's pace.
const PaceRows = 10

// Pace is how fast somebody knits.
type Pace struct {
	StitchesAMinute float64 // more than 0; PaceGuess where it is a guess
	Rows            int     // the rows that it was worked out from
}

// Guess tells that there were too few rows to know.
func (p Pace) Guess() bool { return p.Rows < PaceRows }

// PaceOf works out a pace from a log, the newest move first as Log gives it.
func PaceOf(entries []Entry) Pace { return Pace{StitchesAMinute: PaceGuess} }
