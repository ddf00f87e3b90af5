package fit

import (
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// A reach is how many rows lie below a stitch in its section: along the shortest
// way up the columns that leads to it, and along the longest. A decrease joins
// ways. The two differ where short rows have left stitches unworked.
type reach struct{ short, long int }

// lengths gives how many rows a section is long, along the columns with the
// fewest and with the most rows. Its rows are those of the plan from one index up
// to another.
func lengths(plan *patterns.Plan, from, to int) (short, long int) {
	c := columns{}
	for i := from; i < to; i++ {
		row := plan.Rows[i]
		if c.reached == nil && !partly(row) {
			c.level++ // every stitch has been worked once
			continue
		}
		c.begin(row.Before)
		c.row(plan.Acts(i))
	}
	if c.reached == nil {
		return c.level, c.level
	}
	last := plan.Rows[to-1]
	loops := last.After.Loops()
	if len(loops) == 0 { // bound off
		loops = last.Before.Loops()
	}
	return c.ends(loops)
}

// partly says that a row does not work each stitch of the needle just once.
func partly(r *patterns.Row) bool {
	return r.Unworked() > 0 || r.Before.Ahead() < r.Before.Count() || holds(r.Body, isTurn)
}

// holds says that one of some nodes, or one inside of them, is the one that is
// looked for.
func holds(nodes []instruction.Node, is func(instruction.Node) bool) bool {
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		if is(n) {
			return true
		}
		switch n := n.(type) {
		case *instruction.Repeat:
			return holds(n.Body, is)
		case *instruction.Macro:
			return holds(n.Body, is)
		case *instruction.Strip:
			return holds(n.Body, is)
		}
		return false
	})
}

func isTurn(n instruction.Node) bool {
	_, is := n.(*instruction.Turn)
	return is
}

// isPickUp says that stitches are picked up along an edge.
func isPickUp(n instruction.Node) bool {
	w, is := n.(*instruction.Work)
	return is && (w.Stitch.Abbr == "pu" || w.Stitch.Abbr == "pup")
}

// columns follows how far each column of a section has come. As long as every row
// works every stitch, level tells it of all of them, and reached is nil.
type columns struct {
	level   int
	reached map[int32]reach
}

// begin notes the columns one by one, before the first row that turns early.
func (c *columns) begin(f fabric.Fabric) {
	if c.reached != nil {
		return
	}
	c.reached = make(map[int32]reach, f.Count())
	for _, l := range f.Loops() {
		c.reached[l.Column] = reach{c.level, c.level}
	}
}

// row adds what a row did. A stitch made out of nothing, and one that comes back
// from a holder, has come as far as its neighbour.
func (c *columns) row(acts []fabric.Act) {
	beside := c.firstTaken(acts)
	var last int32 // the column made last, over which stitches are passed
	for _, a := range acts {
		below, known := c.joined(a.Uses)
		if !known {
			below = beside
		}
		beside = below
		for _, column := range a.Makes {
			from := below
			if own, kept := c.reached[column]; kept && len(a.Makes) >= len(a.Uses) && slices.Contains(a.Uses, column) {
				from = own // a cross moves columns, and joins none
			}
			c.reached[column] = reach{from.short + 1, from.long + 1}
			last = column
		}
		if _, is := a.Node.(*instruction.Work); is && len(a.Makes) == 0 { // bound off, which is a row too
			for _, column := range a.Uses {
				c.reached[column] = reach{below.short + 1, below.long + 1}
			}
		}
		if over, found := c.joined(a.Passed); found {
			c.reached[last] = joined(c.reached[last], over)
		}
	}
}

// firstTaken is how far the first stitch that a row takes has come.
func (c *columns) firstTaken(acts []fabric.Act) reach {
	for _, a := range acts {
		if below, known := c.joined(a.Uses); known {
			return below
		}
	}
	return reach{c.level, c.level}
}

// joined is how far stitches that become one have come; false where none of them
// is known.
func (c *columns) joined(stitches []int32) (reach, bool) {
	var all reach
	found := false
	for _, column := range stitches {
		r, known := c.reached[column]
		switch {
		case known && found:
			all = joined(all, r)
		case known:
			all, found = r, true
		}
	}
	return all, found
}

func joined(a, b reach) reach { return reach{min(a.short, b.short), max(a.long, b.long)} }

// ends gives the fewest and the most rows that lie below the stitches on the
// needle.
func (c *columns) ends(loops []fabric.Loop) (short, long int) {
	on := make([]int32, len(loops))
	for i, l := range loops {
		on[i] = l.Column
	}
	all, found := c.joined(on)
	if !found {
		return c.level, c.level
	}
	return all.short, all.long
}
