package reader

import (
	"math"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
)

var yarnUnits = [...]string{fit.Grams: "gram", fit.Ounces: "ounce", fit.Metres: "metre", fit.Yards: "yard"}

// Amount words an amount of yarn as kitchen scales and a yardstick tell it: to
// the half, above a hundred to the whole, and ounces to the quarter. Less than
// that is "less than half a gram", never nothing. Amounts are up to a million;
// below zero their size is said.
func Amount(n float64, unit fit.YarnUnit) string {
	n = math.Abs(n)
	step := 2.0 // quarters that are told apart
	switch {
	case unit == fit.Ounces:
		step = 1
	case n > 100:
		step = 4
	}
	q := int(math.Round(4*n/step) * step)
	switch {
	case q > 0:
		return quarters(q, yarnUnits[unit])
	case step == 1:
		return "less than " + quarters(1, yarnUnits[unit])
	}
	return "less than " + quarters(2, yarnUnits[unit])
}

// roughly words an amount that is estimated: to the whole, above a hundred to
// the ten; ounces to the quarter.
func roughly(n float64, unit fit.YarnUnit) string {
	switch {
	case unit == fit.Ounces || n < 1:
		return Amount(n, unit)
	case n > 100:
		return Amount(10*math.Round(n/10), unit)
	}
	return Amount(math.Round(n), unit)
}

// Yarn says whether the yarn that is left will do, what the rest needs, where
// it runs out if it does not do, and what that rests on.
func Yarn(e fit.Estimate, plan *patterns.Plan) string {
	y := yarned{e, plan}
	if e.Share >= 1 || e.Needs <= 0 {
		return "The rest needs no more " + y.name() + ", so what you have will do."
	}
	verdict, trust := y.verdict(), "This is an estimate: every stitch is taken to use the same, so "+y.rowKind()+" with fewer stitches use less."
	if y.Guess {
		verdict, trust = "So early this is no more than a guess. "+verdict, "Ask again further on."
	}
	return strings.Join([]string{verdict, y.need(), trust}, " ")
}

// A yarned puts an estimate into words.
type yarned struct {
	fit.Estimate
	plan *patterns.Plan
}

func (y yarned) name() string {
	if y.Yarn == "" {
		return "yarn"
	}
	return shortName(y.Yarn, "yarn")
}

func (y yarned) verdict() string {
	switch y.Answer {
	case fit.Enough:
		return "You have enough " + y.name() + "."
	case fit.Close:
		return "It will be close. " + y.mayRunOut()
	}
	if y.RunsOut < 0 {
		return "You have too little " + y.name() + "."
	}
	return "You have too little " + y.name() + ": it runs out at about " + y.place(y.RunsOut) + "."
}

func (y yarned) mayRunOut() string {
	switch {
	case y.RunsOut >= 0:
		return "Your " + y.name() + " may run out at about " + y.place(y.RunsOut) + "."
	case y.Earliest >= 0:
		return "Your " + y.name() + " may just do, or run out at about " + y.place(y.Earliest) + "."
	}
	return "Your " + y.name() + " may just do."
}

// place names a row of the plan.
func (y yarned) place(i int) string {
	row := y.plan.Rows[i]
	return numbered(row.Number, row.Number, row.Rounds) + " of " + shortName(row.Section.Name, "the section")
}

func (y yarned) need() string {
	left := "and you have " + Amount(y.Left, y.Unit)
	if y.Left <= 0 {
		left = "and you have none left"
	}
	return "The rest needs about " + roughly(y.Needs, y.Unit) + y.spread() + ", " + left + "."
}

// spread says what it may come to where the answer hangs on it.
func (y yarned) spread() string {
	high := roughly(y.High, y.Unit)
	if y.Answer == fit.NotEnough || y.High <= y.Needs || high == roughly(y.Needs, y.Unit) {
		return ""
	}
	return ", perhaps as much as " + high
}

// rowKind is what the rows to come are called.
func (y yarned) rowKind() string {
	last := len(y.plan.Rows) - 1
	return kindOf(Row{Round: last >= 0 && y.plan.Rows[last].Rounds}, 2)
}

// PatternNeeds says whether the yarn that is there before casting on is what
// the pattern asks for.
func PatternNeeds(n fit.Need) string {
	need := "The pattern asks for " + Amount(n.Grams, fit.Grams) + ", and you have " + Amount(n.Had, fit.Grams) + "."
	switch n.Answer {
	case fit.Enough:
		return "You have enough. " + need
	case fit.Close:
		return "It will be close. " + need
	}
	return "You have too little. " + need
}
