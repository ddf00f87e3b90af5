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

// A Comparison is what a new plan changes of an old one.
type Comparison struct {
	Changes []Change // in the order in which the rows are worked; nil where nothing has changed

	old, new *patterns.Plan
	sections []pair
	newOf    []int  // by the index of a row of the old plan: its index in the new one, or -1
	kept     []bool // by the index of a row of the old plan: it is in the new one, and not changed
}

// Rows gives what a new plan changes of an old one of the same size.
func Rows(old, new *patterns.Plan) []Change { return Of(old, new).Changes }

// Of compares an old plan with a new one of the same size. Another cast-on counts as a
// change of the first row that is worked on it. A section that stands elsewhere in the
// pattern is removed and added.
func Of(old, new *patterns.Plan) *Comparison {
	c := &Comparison{old: old, new: new, newOf: make([]int, len(old.Rows)), kept: make([]bool, len(old.Rows))}
	w := working{oldYarns: yarnsOf(old), newYarns: yarnsOf(new), Comparison: c}
	w.match()
	w.walk()
	return c
}

// Carry gives the row of the new plan that is row i of the old one, in a renamed
// section, too. Where there is none any more, kept is false, and it is the last row
// before it that is in both and not changed, or the first row of the plan.
func (c *Comparison) Carry(i int) (j int, kept bool) {
	if i < 0 || i >= len(c.newOf) {
		return 0, false
	}
	if c.newOf[i] >= 0 {
		return c.newOf[i], true
	}
	for i--; i >= 0; i-- {
		if c.kept[i] {
			return c.newOf[i], false
		}
	}
	return 0, false
}

// SectionNow gives the name that a section of the old plan has in the new one; ""
// where it is not in it any more.
func (c *Comparison) SectionNow(section string) string {
	for _, p := range c.sections {
		if c.old.Rows[p.old.from].Section.Name == section {
			return c.new.Rows[p.new.from].Section.Name
		}
	}
	return ""
}
