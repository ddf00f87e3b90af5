package reader

import (
	"clew/patterns"
	"clew/patterns/compare"
)

// Change tells a member what has become of a row. Worked says that she has worked
// it: "Round five of Lanterns, which you have worked, is now: knit two together. It
// leaves eighty-four stitches, not eighty-six."
func Change(old, new *patterns.Plan, c compare.Change, worked bool) string { return "" }

// ChangeInShort tells a change without the words of the row, for a list: "Round five
// of Lanterns is changed, and leaves eighty-four stitches, not eighty-six."
func ChangeInShort(c compare.Change, round bool) string { return "" }
