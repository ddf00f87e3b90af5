package fabric

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// An Act is one thing done in a row, as it met the stitches: what a chart has a
// symbol for. Stitches are told by their columns, each of which is on the needle
// at most once. A stitch worked one to one keeps its column, a decrease keeps the
// first that it takes, and what comes out of no stitch has a new one.
type Act struct {
	Node   instruction.Node // *Work, *AsLooks, *Cross, *Into, *Macro, *Held, *Marker, *Turn, *Yarn or *Bead
	Stitch *stitch.Stitch   // of a Work, or of a stitch that is worked as it looks, as the side that faces works it; else nil
	TBL    bool             // it is worked through the back loop
	Side   instruction.Side // the side that faced
	Strip  *instruction.Strip
	Yarn   uint8   // the yarn in use after it, see Fabric.YarnName
	Uses   []int32 // columns taken off the left needle, in the order worked
	Makes  []int32 // columns put on the right needle, in the order worked
	Passed []int32 // columns lifted over the last stitch on the right needle, and gone
}

// Acts gives what a row does, one act for each time that a stitch is worked. A
// cross is one act, and so is a group worked into one stitch, and an abbreviation
// of the pattern's own that turns the work or passes stitches over; others come
// as what they stand for. The fabric is as it was. It is right for a row that can
// be worked.
func (f Fabric) Acts(body []instruction.Node, row Row) []Act {
	m := &machine{needles: f.needles(row.Rounds), fabric: f, size: row.Size, before: f.Ahead()}
	m.record = &record{}
	m.run(body)
	return m.record.acts
}

// A record is the acts of a row while it is worked.
type record struct {
	acts                []Act
	columns             []int32 // what the columns of all acts are cut from
	uses, makes, passed []int32 // of the act that goes on
	inside              int     // acts that have begun and not ended: one, and those that are part of it
	muted               int     // above 0 stitches come from elsewhere than the left needle
}

func (r *record) took(column int32) {
	if r.muted > 0 {
		return
	}
	if i := slices.Index(r.makes, column); i >= 0 { // the work was turned, and its own stitch is worked again
		r.makes = slices.Delete(r.makes, i, i+1)
		return
	}
	if !slices.Contains(r.uses, column) { // else it came back from a cable needle
		r.uses = append(r.uses, column)
	}
}

func (r *record) put(column int32) {
	r.makes = append(r.makes, column)
}

func (r *record) passedOver(column int32) {
	if i := slices.Index(r.makes, column); i >= 0 { // made and passed over in one act
		r.makes = slices.Delete(r.makes, i, i+1)
		return
	}
	r.passed = append(r.passed, column)
}

// mute notes that stitches come from another place than the left needle, or
// from there again.
func (r *record) mute(by int) {
	if r != nil {
		r.muted += by
	}
}

// act does one act, which gives the stitch that it worked or nil, and records it
// where acts are asked for. What happens inside belongs to it.
func (m *machine) act(n instruction.Node, do func() *stitch.Stitch) {
	r := m.record
	if r == nil || r.inside > 0 {
		do()
		return
	}
	a := Act{Node: n, Side: m.fabricSide(), Strip: m.panel}
	r.uses, r.makes, r.passed = r.uses[:0], r.makes[:0], r.passed[:0]
	r.inside++
	a.Stitch = do()
	r = m.record // a trial may have gone back to another
	r.inside--
	if w, is := n.(*instruction.Work); is {
		a.TBL = w.TBL
	}
	a.Yarn, a.Uses, a.Makes, a.Passed = m.fabric.yarn, r.kept(r.uses), r.kept(r.makes), r.kept(r.passed)
	r.acts = append(r.acts, a)
}

// kept copies columns to where they stay.
func (r *record) kept(columns []int32) []int32 {
	if len(columns) == 0 {
		return nil
	}
	from := len(r.columns)
	r.columns = append(r.columns, columns...)
	return r.columns[from:len(r.columns):len(r.columns)]
}

// saved is a copy of the record, to go back to.
func (r *record) saved() *record {
	if r == nil {
		return nil
	}
	copied := *r
	copied.uses, copied.makes, copied.passed = slices.Clone(r.uses), slices.Clone(r.makes), slices.Clone(r.passed)
	copied.acts, copied.columns = slices.Clip(r.acts), slices.Clip(r.columns)
	return &copied
}

// whole says that an abbreviation of the pattern's own is one act, because its
// stitches can't be told one by one.
func whole(nodes []instruction.Node) bool {
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Turn:
			return true
		case *instruction.Work:
			return n.Stitch.Kind == stitch.PassOver
		case *instruction.Repeat:
			return whole(n.Body)
		case *instruction.Macro:
			return whole(n.Body)
		case *instruction.Into:
			return whole(n.Body)
		}
		return false
	})
}
