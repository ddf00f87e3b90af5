package reader

import (
	"clew/patterns"
	"clew/patterns/survey"
)

// Stretch tells rows that are routine in one sentence: "Rounds thirty-three to
// forty are alike: work each stitch as it looks."
func Stretch(plan *patterns.Plan, part survey.Part) string { return "" }

// Unusual tells in short what row i of a plan does that is not routine: "Round five:
// increase by eight, to one hundred and four stitches." Its section is not named.
func Unusual(plan *patterns.Plan, i int) string { return "" }

// NewName names something that is new: "the two over one right purl cross", "knit
// two together".
func NewName(n survey.New) string { return "" }

// NewHowTo tells how something that is new is worked.
func NewHowTo(n survey.New) string { return "" }

// RowName names row i of a plan with its section: "round five of Lanterns".
func RowName(plan *patterns.Plan, i int) string { return "" }
