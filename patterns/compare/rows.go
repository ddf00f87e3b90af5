package compare

import (
	"bytes"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/worked"
)

// working compares the rows of two plans.
type working struct {
	*Comparison
	oldYarns, newYarns []string // the yarn in use before each row
	oldKey, newKey     []byte   // of the two rows compared last, kept for their room
}

func yarnsOf(p *patterns.Plan) []string {
	yarns := make([]string, len(p.Rows))
	yarn := ""
	for i, r := range p.Rows {
		yarns[i] = yarn
		yarn = worked.YarnAfter(r.Body, yarn)
	}
	return yarns
}

// walk goes through both plans at once and notes what is not alike.
func (w *working) walk() {
	begun := -1 // the first row of the old section in which a row was found in both
	for i, j := 0, 0; i < len(w.old.Rows) || j < len(w.new.Rows); {
		switch {
		case i < len(w.old.Rows) && w.newOf[i] < 0:
			w.note(Removed, i, j)
			i++
		case i == len(w.old.Rows) || j < w.newOf[i]:
			w.note(Added, i, j)
			j++
		default:
			first := begun < 0 || w.old.Rows[begun].Section != w.old.Rows[i].Section
			if begun = i; first && w.old.Rows[i].Section.Name != w.new.Rows[j].Section.Name {
				w.note(Renamed, i, j)
			}
			w.both(i, j, first)
			i, j = i+1, j+1
		}
	}
}

// both compares a row that is in both plans; first says that it is the first such row
// of its section.
func (w *working) both(i, j int, first bool) {
	switch {
	case first && w.beginsOtherwise(i, j):
		w.note(Changed, i, j)
	case w.alike(i, j):
		w.kept[i] = true
	case w.follows(i, j) && len(w.Changes) > 0:
		w.kept[i] = true
		w.Changes[len(w.Changes)-1].Followers++
	default:
		w.note(Changed, i, j)
	}
}

// note notes a change at two places of the plans.
func (w *working) note(kind Kind, i, j int) {
	c := Change{Kind: kind, Old: -1, New: -1}
	if kind == Added {
		c.OldBefore = countAt(w.old, i)
		c.OldAfter = c.OldBefore
	} else {
		r := w.old.Rows[i]
		c.Old, c.OldBefore, c.OldAfter, c.Section, c.Number = i, r.Before.Count(), r.After.Count(), r.Section.Name, r.Number
	}
	if kind == Renamed {
		c.Was = c.Section
	}
	if kind == Removed {
		c.NewBefore = countAt(w.new, j)
		c.NewAfter = c.NewBefore
	} else {
		r := w.new.Rows[j]
		c.New, c.NewBefore, c.NewAfter, c.Section, c.Number = j, r.Before.Count(), r.After.Count(), r.Section.Name, r.Number
	}
	w.Changes = append(w.Changes, c)
}

// countAt is how many stitches are on the needle between row i and the one before it.
// Where a new piece begins there, those are of the piece before.
func countAt(p *patterns.Plan, i int) int {
	switch {
	case i > 0:
		return p.Rows[i-1].After.Count()
	case len(p.Rows) == 0:
		return 0
	}
	return p.Rows[0].Before.Count()
}

// beginsOtherwise says that a section begins on another cast-on, or on another side,
// or is worked in rounds and was worked in rows, or the other way about.
func (w *working) beginsOtherwise(i, j int) bool {
	was, is := w.old.Rows[i], w.new.Rows[j]
	if was.Rounds != is.Rounds || castOn(w.old, i) != castOn(w.new, j) {
		return true
	}
	if was.Section == w.old.Rows[0].Section && is.Section == w.new.Rows[0].Section &&
		w.old.Pattern.CastOn.At(w.old.Size) != w.new.Pattern.CastOn.At(w.new.Size) {
		return true
	}
	return was.Side != is.Side && sideAfter(w.old, i-1) == sideAfter(w.new, j-1)
}

// castOn is how many stitches the section of row i is cast on with, where it is a new
// piece; -1 where it goes on with what is on the needle.
func castOn(p *patterns.Plan, i int) int {
	if section := p.Rows[i].Section; section.CastOn != nil {
		return section.CastOn.At(p.Size)
	}
	return -1
}

// sideAfter is the side that faces after row i; that of a fabric just cast on where
// there is no such row.
func sideAfter(p *patterns.Plan, i int) instruction.Side {
	if i < 0 {
		return fabric.Fabric{}.Side()
	}
	return p.Rows[i].After.Side()
}

// alike says that two rows are worked alike, in the same yarns.
func (w *working) alike(i, j int) bool {
	w.oldKey, _ = worked.KeyInYarn(w.oldKey[:0], w.old.Rows[i].Body, w.oldYarns[i])
	w.newKey, _ = worked.KeyInYarn(w.newKey[:0], w.new.Rows[j].Body, w.newYarns[j])
	return bytes.Equal(w.oldKey, w.newKey)
}

// follows says that two rows, which are not worked alike, would be on the same
// stitches: that what the one says comes to the other on the other's stitches.
func (w *working) follows(i, j int) bool {
	was, is := w.old.Rows[i], w.new.Rows[j]
	if was.Before.Differs(is.Before) == fabric.Alike {
		return false
	}
	return comesTo(is, was, w.new.Size, w.oldYarns[i]) || comesTo(was, is, w.old.Size, w.newYarns[j])
}

// comesTo says that what a row says, in a plan of a size, is what another one works,
// on the other's stitches and with the yarn that is in use there.
func comesTo(says, works *patterns.Row, size int, yarn string) bool {
	result := works.Before.Work(says.Written, fabric.Row{Rounds: works.Rounds, Size: size})
	if result.Problem != nil {
		return false
	}
	a, _ := worked.KeyInYarn(nil, result.Done, yarn)
	b, _ := worked.KeyInYarn(nil, works.Body, yarn)
	return bytes.Equal(a, b)
}
