// Package compare tells what a corrected pattern changes: row by row, as they are
// worked, and not as they are typed.
package compare

import "clew/patterns"

// A Kind is what became of a row.
type Kind uint8

// The kinds.
const (
	Changed Kind = iota // it is worked otherwise
	Added               // it is in the new plan alone
	Removed             // it is in the old plan alone
	Renamed             // its section has another name, and most of its rows are as they were; one change stands for the whole section
)

// A Change is one row that is not what it was. A row in which other stitches are
// worked only because a row before it leaves others is no change of its own.
type Change struct {
	Kind     Kind
	Section  string // as the new plan calls it; of a removed row, as the old one does
	Was      string // Renamed: what the old plan calls the section; else ""
	Number   int    // of the row in its section; of the section's first row where that is renamed
	Old, New int    // indexes in the two plans; -1 where the row is not in it
	// Stitches on the needle before and after the row. Where a plan does not have
	// the row, both are what it has on the needle at that place.
	OldBefore, OldAfter int
	NewBefore, NewAfter int
	Followers           int // how many rows after it, up to the next change, are worked otherwise on its account alone
}

// CountDiffers says that the stitches on the needle after the row are not as many
// as they were.
func (c Change) CountDiffers() bool { return c.OldAfter != c.NewAfter }

// Rows gives what a new plan changes of an old one of the same size, in the order
// in which the rows are worked. It is nil where nothing has changed. Another cast-on
// counts as a change of the first row that is worked on it.
func Rows(old, new *patterns.Plan) []Change { return nil }

// Carry gives the row of a new plan that is row i of the old one, by section and
// number, in a renamed section, too. Where there is none any more, kept is false,
// and it is the last row before it that is in both and not changed, or the first
// row of the plan.
func Carry(old, new *patterns.Plan, i int) (j int, kept bool) { return 0, false }

// SectionNow gives the name that a section of an old plan has in a new one; "" where
// it is not in it.
func SectionNow(old, new *patterns.Plan, section string) string { return "" }
