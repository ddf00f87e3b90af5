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
	size  int // in which it has these rows
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
			group := Optional{owner, panel, first, last, step, size, line}
			if first > 0 && last >= first && p.offersGroup(group) {
				found = append(found, group)
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

// Count is how many rows the group has.
func (o Optional) Count() int {
	count := 0
	for from, to := range o.ranges {
		count += to - from + 1
	}
	return count
}

// Last gives the numbers of the last rows of the group, from 0 up to Count of
// them: those that are left out where so many are. Between them may stand rows
// that are not of the group.
func (o Optional) Last(rows int) []int {
	var numbers []int
	for from, to := range o.ranges {
		for n := from; n <= to; n++ {
			numbers = append(numbers, n)
		}
	}
	return numbers[max(0, len(numbers)-rows):]
}

// ranges gives the first and the last of rows that follow each other, in turn;
// those that the size does not have are none.
func (o Optional) ranges(yield func(from, to int) bool) {
	if o.line == nil {
		return
	}
	for _, r := range o.line.Ranges {
		if from, to := r.From.At(o.size), r.To.At(o.size); from > 0 && from <= to && !yield(from, to) {
			return
		}
	}
}

// inGroup is a row's place in a group of rows that may be left out.
type inGroup struct {
	owner   string
	from    int // the first row of the group
	fromEnd int // 1 for the last row of the group
}

// groups gives the groups that a row of the section stands in: that of its own
// line, and those of the panels' rows that it works.
func (s *sectionRows) groups(row *numbered, nth int) []inGroup {
	var in []inGroup
	add := func(owner string, r *numbered) {
		if r.line.Optional.At(s.size) > 0 {
			in = append(in, inGroup{owner, r.first, r.of - r.nth})
		}
	}
	add(s.section.Name, row)
	if !s.worksPanels(row) {
		return in
	}
	for _, p := range s.section.panels {
		if strip := s.strips[p.Panel]; strip != nil && len(strip.rows) > 0 {
			add(p.Panel, strip.rows[s.rowOf(strip, nth, p.Continued)])
		}
	}
	return in
}

// leavesOut says that a choice leaves a row out that stands in these groups.
func leavesOut(leave []LeftOut, in []inGroup) bool {
	for _, g := range in {
		for _, l := range leave {
			if g.owner == l.Owner && g.from == l.From && g.fromEnd <= l.Rows {
				return true
			}
		}
	}
	return false
}

// LeftOutBy says that a choice leaves out this row of a plan.
func (r *Row) LeftOutBy(leave ...LeftOut) bool { return leavesOut(leave, r.groups) }
