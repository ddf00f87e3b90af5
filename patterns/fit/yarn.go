package fit

import (
	"math"
	"strconv"

	"clew/patterns"
)

// A YarnUnit is how yarn is measured.
type YarnUnit uint8

// The units.
const (
	Grams YarnUnit = iota
	Ounces
	Metres
	Yards
)

// GramsPerOunce is exact: the international avoirdupois ounce.
const GramsPerOunce = 28.349523125

// A yarnMeasure is what is to be known of a unit.
type yarnMeasure struct {
	word  string
	most  float64 // more than that nobody knits one piece of
	exact float64 // what two measurements together may be off by
	share float64 // the same as a share of what there was
	least float64 // what has to be used for more than a guess
}

// Kitchen scales show whole grams, or tenths of an ounce: each of two weighings
// is off by half of that at most. Nobody measures a ball's length: it is told from
// the band and a guess at what is left, here taken to two parts in a hundred.
var yarnMeasures = map[YarnUnit]yarnMeasure{
	Grams:  {word: "grams", most: 10_000, exact: 1, least: 5},
	Ounces: {word: "ounces", most: 350, exact: 0.1, least: 0.2},
	Metres: {word: "metres", most: 40_000, share: 0.02, least: 10},
	Yards:  {word: "yards", most: 44_000, share: 0.02, least: 11},
}

// String gives the unit's word: "grams".
func (u YarnUnit) String() string { return yarnMeasures[u].word }

// spread is by how much a stitch of the rest may take more or less than one of
// those that are done: other needles, another stitch, looser hands. Common
// practice keeps a tenth in reserve.
const spread = 0.10

// guessShare is the share of the stitches below which the estimate is a guess.
const guessShare = 0.05

// A Weighed is what a knitter had of a yarn before casting on, and has left, both in
// one unit.
type Weighed struct {
	Had, Left float64
	Unit      YarnUnit
	Yarn      string // its name in the pattern; may be empty where there is one
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
// it was measured: what a stitch has used so far, times the stitches to go.
//
// Stitches are those that a row works, as they were on the needle before it: so
// a round with decreases is counted with too many rather than too few. Where
// there are several yarns, only those worked in this one count, slipped ones
// don't. A stitch of the cast-on counts as one. What is sewn, picked up along
// an edge twice, or made for a second mitten is not known here.
//
// Low and High allow for both measurements, see YarnUnit, and for stitches that
// take a tenth more or less than those before.
type Estimate struct {
	Yarn             string // as the pattern calls it; empty where it has no name
	Unit             YarnUnit
	Used, Left       float64
	Share            float64 // of the stitches in this yarn that are done: 0 to 1
	Needs, Low, High float64 // for the rest
	Answer           Answer  // Enough: Left is High at least; NotEnough: less than Low
	RunsOut          int     // index of the row in which it runs out, with Needs; -1 for none
	Earliest         int     // the same with High
	Guess            bool    // less than a twentieth of the stitches is done, or too little used to be measured well
}

// The codes of errors about yarn.
const (
	CodeYarnNothing = "yarn-nothing" // nothing has been used, or worked
	CodeYarnMore    = "yarn-more"    // more is left than there was
	CodeYarnName    = "yarn-name"    // it has to be said which yarn, or no yarn bears the name
	CodeYarnUnknown = "yarn-unknown" // the pattern gives no weight
)

// EstimateYarn tells whether the yarn that is left will do for the rows of a
// plan from the one with index row on: those before it are done. It fails with an
// *Error for amounts that can't be, for a yarn that is not named, and where
// nothing has been worked in it.
func EstimateYarn(plan *patterns.Plan, row int, w Weighed) (Estimate, error) {
	measure, known := yarnMeasures[w.Unit]
	if !known {
		return Estimate{}, failed(CodeUnitUnknown, "yarn is measured in grams, ounces, metres or yards")
	}
	if err := w.check(measure); err != nil {
		return Estimate{}, err
	}
	if len(plan.Rows) == 0 {
		return Estimate{}, failed(CodeNothingLeft, "the plan has no rows")
	}
	counted, err := yarnNamed(plan, w.Yarn)
	if err != nil {
		return Estimate{}, err
	}
	row = min(max(row, 0), len(plan.Rows))
	done, rest := counted.castOn, 0.0
	for i, n := range counted.rows {
		if i < row {
			done += n
		} else {
			rest += n
		}
	}
	used := w.Had - w.Left
	off := measure.exact + measure.share*w.Had
	switch {
	case row == 0 || done == 0:
		return Estimate{}, failed(CodeYarnNothing, "nothing has been worked%s yet, so what a stitch takes can't be told", counted.inYarn())
	case used <= off:
		return Estimate{}, failed(CodeYarnNothing, "what has been used, %s, is too little to be told from the measurement: ask again some rows on", amount(used, w.Unit))
	}
	e := Estimate{Yarn: counted.name, Unit: w.Unit, Used: used, Left: w.Left, Share: done / (done + rest)}
	each := used / done
	e.Needs, e.Low, e.High = each*rest, (used-off)/done*(1-spread)*rest, (used+off)/done*(1+spread)*rest
	e.Answer = answer(w.Left, e.Low, e.High)
	e.RunsOut = counted.runsOut(row, w.Left, each)
	e.Earliest = counted.runsOut(row, w.Left, (used+off)/done*(1+spread))
	e.Guess = e.Share < guessShare || used < measure.least
	return e, nil
}

func answer(left, low, high float64) Answer {
	switch {
	case left >= high:
		return Enough
	case left < low:
		return NotEnough
	}
	return Close
}

// check refuses amounts that can't be.
func (w Weighed) check(m yarnMeasure) error {
	for _, n := range []float64{w.Had, w.Left} {
		switch {
		case math.IsNaN(n) || math.IsInf(n, 0):
			return failed(CodeUnreadable, "an amount of yarn has to be a number of %s", m.word)
		case n < 0:
			return failed(CodeNegative, "an amount of yarn can't be below 0 %s", m.word)
		case n > m.most:
			return failed(CodeLarge, "%s is more than a piece of knitting takes: check the number and the unit", amount(n, w.Unit))
		}
	}
	switch {
	case w.Had == 0:
		return failed(CodeZero, "there has to have been some yarn: say how many %s there were before casting on", m.word)
	case w.Left > w.Had:
		return failed(CodeYarnMore, "%s can't be left of %s: check which number is which", amount(w.Left, w.Unit), amount(w.Had, w.Unit))
	case w.Left == w.Had:
		return failed(CodeYarnNothing, "all of the yarn is left, so what a stitch takes can't be told")
	}
	return nil
}

func amount(n float64, u YarnUnit) string {
	return strconv.FormatFloat(math.Round(n*10)/10, 'f', -1, 64) + " " + u.String()
}
