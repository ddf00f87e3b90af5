package patterns

// An Optional is a group of rows that a knitter may leave out, Step at a time,
// from the end of the group. Rows of a panel are left out of every section
// that works it, and with them what the other panels would have worked there.
type Optional struct {
	Owner string // the section or panel that the rows stand in
	Panel bool
	From  int // the first and the last row of the group
	To    int
	Step  int
	line  *Line
}

// LeftOut is a knitter's choice to leave rows out of one group.
type LeftOut struct {
	Owner string
	From  int // the first row of the group
	Rows  int // how many are left out: a multiple of the group's step
}

// Optionals gives the groups of rows that may be left out in a size.
func (p *Pattern) Optionals(size int) []Optional {
	var found []Optional
	add := func(owner string, panel bool, lines []*Line) {
		for _, line := range lines {
			step := line.Optional.At(size)
			if step == 0 || len(line.Ranges) == 0 {
				continue
			}
			first, last := line.Ranges[0].From.At(size), line.Ranges[len(line.Ranges)-1].To.At(size)
			if first > 0 && last >= first {
				found = append(found, Optional{owner, panel, first, last, step, line})
			}
		}
	}
	for _, panel := range p.Panels {
		add(panel.Name, true, panel.Lines)
	}
	for _, s := range p.Sections {
		add(s.Name, false, s.Lines)
	}
	return found
}

// count is how many rows the group has.
func (o Optional) count() int {
	if len(o.line.Ranges) > 1 {
		return len(o.line.Ranges)
	}
	return o.To - o.From + 1
}

// leftOut gives the numbers of the section's rows that are left out.
func (s *sectionRows) leftOut() map[int]bool {
	out := map[int]bool{}
	if len(s.leave) == 0 {
		return out
	}
	leave := map[string]map[int]int{} // how many rows, by owner and first row
	for _, l := range s.leave {
		if leave[l.Owner] == nil {
			leave[l.Owner] = map[int]int{}
		}
		leave[l.Owner][l.From] = l.Rows
	}
	for i := range lastRows(s.rows, leave[s.section.Name], s.size) {
		out[s.rows[i].number] = true
	}
	for _, p := range s.section.panels {
		if strip := s.strips[p.Panel]; strip != nil && leave[p.Panel] != nil {
			s.leftOutOfPanel(strip, lastRows(strip.rows, leave[p.Panel], s.size), out)
		}
	}
	return out
}

// lastRows gives the indexes of the rows that are left out: so many from the
// end of each group that begins with a given row.
func lastRows(rows []*numbered, leave map[int]int, size int) map[int]bool {
	out := map[int]bool{}
	for i, row := range rows {
		if row.line.Optional.At(size) > 0 && row.of-row.nth <= leave[row.first] {
			out[i] = true
		}
	}
	return out
}

// leftOutOfPanel adds the rows of the section in which a panel would work the
// rows that are left out of it.
func (s *sectionRows) leftOutOfPanel(strip *strip, left map[int]bool, out map[int]bool) {
	nth := 0
	for _, row := range s.rows {
		if !s.worksPanels(row) {
			continue
		}
		for _, p := range s.section.panels {
			if p.Panel == strip.panel.Name && left[s.rowOf(strip, nth, p.Continued)] {
				out[row.number] = true
			}
		}
		nth++
	}
}
