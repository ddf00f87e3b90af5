package reader

import (
	"clew/patterns"
	"clew/patterns/fit"
)

var yarnUnits = [...]string{fit.Grams: "gram", fit.Ounces: "ounce", fit.Metres: "metre", fit.Yards: "yard"}

// Amount words an amount of yarn as scales tell it: below a hundred to the
// half, of ounces to the quarter, above to the whole. Amounts are up to a
// million; below zero their size is said.
func Amount(n float64, unit fit.YarnUnit) string { return "" }

// Yarn says whether the yarn that is left will do, what the rest needs, and
// where it runs out.
func Yarn(e fit.Estimate, plan *patterns.Plan) string { return "" }

// PatternNeeds says whether there is enough to begin with.
func PatternNeeds(n fit.Need) string { return "" }
