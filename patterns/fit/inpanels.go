package fit

import (
	"slices"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// strips gives the panels' rows that a row works, each place of the Across line
// once.
func strips(nodes []instruction.Node) []*instruction.Strip {
	var found []*instruction.Strip
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Strip:
			found = append(found, n)
		case *instruction.Repeat:
			found = append(found, strips(n.Body)...)
		}
	}
	return found
}

// rowStrips is the panels' rows that a row works, and each by the place of the
// Across line that it stands in.
type rowStrips struct {
	all []*instruction.Strip
	at  map[problem.Span]*instruction.Strip
}

// stripsOf gives the panels' rows that a row works. A question looks at the same
// rows over and over, so they are kept.
func (q *proof) stripsOf(r *patterns.Row) rowStrips {
	found, known := q.strips[r]
	if !known {
		found.all = strips(r.Written)
		if len(found.all) > 0 {
			found.at = make(map[problem.Span]*instruction.Strip, len(found.all))
		}
		for _, s := range found.all {
			found.at[s.Span] = s
		}
		q.strips[r] = found
	}
	return found
}

// look counts that the panels of some rows are looked at, once for each place of
// each row; false where that has been done often enough.
func (q *proof) look(from, to int) bool {
	for _, r := range q.full.Rows[from : to+1] {
		q.looks += len(q.stripsOf(r).all)
	}
	return q.looks <= mostLooks
}

// places gives the places of the Across line that rows of the full plan work.
func (q *proof) places(from, to int) []*instruction.Strip {
	var found []*instruction.Strip
	seen := map[problem.Span]bool{}
	for _, r := range q.full.Rows[from : to+1] {
		for _, s := range q.stripsOf(r).all {
			if !seen[s.Span] {
				seen[s.Span] = true
				found = append(found, s)
			}
		}
	}
	return found
}

// panelsAt tells of the first panel that would no longer go on where it was, or
// that would miss what it is there for.
func (q *proof) panelsAt(g gap, leave []patterns.LeftOut) *Barrier {
	sections := q.ofSections(leave)
	for _, place := range q.places(g.from, g.to) {
		own := slices.DeleteFunc(slices.Clone(leave), func(l patterns.LeftOut) bool { return l.Owner != place.Panel })
		var ownRows, others []int // rows of the panel, from 0: left out for its own sake, and for others'
		beside := false           // of those, some for the sake of another panel, and not of the section
		for _, r := range q.full.Rows[g.from : g.to+1] {
			if s := q.stripsOf(r).at[place.Span]; s != nil && r.LeftOutBy(own...) {
				ownRows = append(ownRows, s.Row-1)
			} else if s != nil {
				others = append(others, s.Row-1)
				beside = beside || !r.LeftOutBy(sections...)
			}
		}
		b := q.ownRows(place.Panel, ownRows, own)
		if b == nil {
			b = q.outOfStep(g, place, others, beside, leave)
		}
		if b != nil {
			first := q.full.Rows[g.from]
			b.Rounds, b.Section = first.Rounds, first.Section.Name
			return b
		}
	}
	return nil
}

// ofSections gives the part of a choice that leaves out sections' own rows.
func (q *proof) ofSections(leave []patterns.LeftOut) []patterns.LeftOut {
	return slices.DeleteFunc(slices.Clone(leave), func(l patterns.LeftOut) bool {
		return slices.ContainsFunc(q.p.Panels, func(p *patterns.Panel) bool { return p.Name == l.Owner })
	})
}

// ownRows tells of a texture inside a panel that would be cut by leaving out
// rows of the panel, and of what it would miss with them.
func (q *proof) ownRows(panel string, rows []int, leave []patterns.LeftOut) *Barrier {
	for len(rows) > 0 {
		n := 1
		for n < len(rows) && rows[n] == rows[n-1]+1 {
			n++
		}
		if period := cuts(q.stretchesOf(panel), rows[0], rows[n-1]); period > 0 {
			return &Barrier{Why: WhyTexture, Panel: panel, Missed: period}
		}
		if b := q.motif(panel, rows[:n], leave); b != nil {
			return b
		}
		rows = rows[n:]
	}
	return nil
}

// motif tells of crosses, increases or decreases that a panel would miss: where it
// is rows with such alone that are left out, or no other row of the panel has any.
// Whole repeats of a texture are spared, as long as one is left.
func (q *proof) motif(panel string, rows []int, leave []patterns.LeftOut) *Barrier {
	does := q.does(panel)
	if len(does) <= rows[len(rows)-1] {
		return nil
	}
	gone := map[int]bool{}
	for _, o := range q.p.Optionals(q.size) {
		if o.Panel && o.Owner == panel {
			for _, number := range o.Last(leftOf(leave, o)) {
				gone[number-1] = true
			}
		}
	}
	for _, s := range q.stretchesOf(panel) {
		if s.from <= rows[0] && rows[len(rows)-1] <= s.to && len(rows)%s.period == 0 && leavesSome(gone, s) {
			return nil
		}
	}
	plain, left, missed := false, false, panelRow{}
	for i, row := range does {
		if slices.Contains(rows, i) {
			plain = plain || !row.works()
			missed = panelRow{missed.crosses + row.crosses, missed.shapes || row.shapes}
		}
		left = left || !gone[i] && row.works()
	}
	if !missed.works() || plain && left {
		return nil
	}
	return &Barrier{Why: WhyMotif, Panel: panel, Missed: missed.crosses}
}

// leavesSome says that some rows of a stretch are not gone.
func leavesSome(gone map[int]bool, s stretch) bool {
	for i := s.from; i <= s.to; i++ {
		if !gone[i] {
			return true
		}
	}
	return false
}

// A panelRow is what a row of a panel does that shows: how many crosses it has, and
// whether it makes stitches, or takes some.
type panelRow struct {
	crosses int
	shapes  bool
}

func (r panelRow) works() bool { return r.crosses > 0 || r.shapes }

// does gives what the rows of a panel do.
func (q *proof) does(panel string) []panelRow {
	if found, known := q.motifs[panel]; known {
		return found
	}
	var found []panelRow
	if plan, err := q.p.PanelPlan(q.size, panel); err == nil {
		for i := range plan.Rows {
			var row panelRow
			for _, a := range plan.Acts(i) {
				switch {
				case holds([]instruction.Node{a.Node}, isCross):
					row.crosses++
				case len(a.Makes) != len(a.Uses) || len(a.Passed) > 0:
					row.shapes = true
				}
			}
			found = append(found, row)
		}
	}
	q.motifs[panel] = found
	return found
}

func isCross(n instruction.Node) bool {
	_, is := n.(*instruction.Cross)
	return is
}

func (q *proof) stretchesOf(panel string) []stretch {
	if _, known := q.panels[panel]; !known {
		q.panels[panel] = stretches(numbered(q.cycle(panel).Texts))
	}
	return q.panels[panel]
}

func (q *proof) cycle(panel string) patterns.Cycle {
	c, known := q.cycles[panel]
	if !known {
		c = q.p.Cycle(q.size, panel)
		q.cycles[panel] = c
	}
	return c
}

// outOfStep tells of a panel of which rows are left out that another panel, or
// the section, leaves out. For the section's sake a plain stretch of it may become
// shorter, once; beside another panel it would each time that one stands.
func (q *proof) outOfStep(g gap, place *instruction.Strip, rows []int, beside bool, leave []patterns.LeftOut) *Barrier {
	c := q.cycle(place.Panel)
	missed := len(rows) % c.Period
	if missed == 0 {
		return nil
	}
	before, after := q.nextKept(g.from-1, -1, place, leave), q.nextKept(g.to+1, 1, place, leave)
	if beside && before == nil && after == nil || !beside && shortens(c.Texts, append(rows, q.keptOfGroups(g, place, leave)...), before, after) {
		return nil
	}
	b := &Barrier{Why: WhySkip, Panel: place.Panel, Missed: missed}
	if after == nil {
		b.Why = WhyEarly
	} else if before != nil && missed == c.Period-1 {
		b.Why = WhyRepeat
	}
	return b
}

// keptOfGroups gives the panel's rows in what is kept of the groups before a gap,
// those of the panel itself left aside. From the end of a group rows are left
// out, so that this is where it goes on.
func (q *proof) keptOfGroups(g gap, place *instruction.Strip, leave []patterns.LeftOut) []int {
	var whole []patterns.LeftOut
	for _, l := range leave {
		if l.Owner != place.Panel && q.full.Rows[g.from].LeftOutBy(l) {
			whole = append(whole, patterns.LeftOut{Owner: l.Owner, From: l.From, Rows: patterns.MaxRows})
		}
	}
	var rows []int
	for i := g.from - 1; i >= 0 && q.full.Rows[i].Section == q.full.Rows[g.from].Section && q.full.Rows[i].LeftOutBy(whole...); i-- {
		if s := q.stripsOf(q.full.Rows[i]).at[place.Span]; s != nil {
			rows = append(rows, s.Row-1)
		}
	}
	return rows
}

// nextKept gives the panel's row that is worked next before or after a gap, in
// the same section, or in one that goes on with the panel; nil for none.
func (q *proof) nextKept(i, step int, place *instruction.Strip, leave []patterns.LeftOut) *instruction.Strip {
	rows := q.full.Rows
	section, here := rows[i-step].Section, true
	for ; i >= 0 && i < len(rows); i += step {
		r := rows[i]
		if r.Section != section {
			later := r.Section
			if step < 0 {
				later = section
			}
			if !goesOn(later.Across, place.Panel) {
				return nil
			}
			section, here = r.Section, false
		}
		if r.LeftOutBy(leave...) {
			continue
		}
		works := q.stripsOf(r)
		if s := works.at[place.Span]; s != nil {
			return s
		}
		if i := slices.IndexFunc(works.all, func(s *instruction.Strip) bool { return s.Panel == place.Panel }); i >= 0 && !here {
			return works.all[i]
		}
	}
	return nil
}

// goesOn says that a section goes on with a panel from where the one before left it.
func goesOn(across []instruction.Node, panel string) bool {
	return slices.ContainsFunc(strips(across), func(s *instruction.Strip) bool { return s.Panel == panel && s.Continued })
}

// shortens says that a panel says the same in all rows of the groups that rows
// are left out of, and in one beside those, so that a plain stretch of it becomes shorter, and no more;
// or that nothing of it is left for these to be in step with.
func shortens(texts []string, rows []int, before, after *instruction.Strip) bool {
	text := texts[rows[0]]
	if slices.ContainsFunc(rows, func(row int) bool { return texts[row] != text }) {
		return false
	}
	same := func(s *instruction.Strip) bool { return s != nil && texts[s.Row-1] == text }
	return before == nil && after == nil || same(before) || same(after)
}
