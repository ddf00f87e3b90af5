package fit_test

import (
	"fmt"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// The slow check decides by hand whether rows may be left out: it strikes them
// from the list of rows, knits what is left from the first row on, and writes
// down what is on the needle. It shares no code with the proof, but for the
// fabric, and for the warnings of a plan that has been laid out.

// struck gives the rows of the full plan that a choice leaves out, by what the
// pattern says: the last ones of each group.
func struck(full *patterns.Plan, groups []patterns.Optional, leave []patterns.LeftOut) []bool {
	out := make([]bool, len(full.Rows))
	for _, l := range leave {
		i := slices.IndexFunc(groups, func(o patterns.Optional) bool { return o.Owner == l.Owner && o.From == l.From })
		o := groups[i]
		for j, r := range full.Rows {
			if !o.Panel && r.Section.Name == o.Owner && r.Number > max(o.To-l.Rows, o.From-1) && r.Number <= o.To {
				out[j] = true
			}
			for _, s := range panelsOf(r.Written) {
				if o.Panel && s.Panel == o.Owner && s.Row > max(o.To-l.Rows, o.From-1) && s.Row <= o.To {
					out[j] = true
				}
			}
		}
	}
	return out
}

func panelsOf(nodes []instruction.Node) []*instruction.Strip {
	var all []*instruction.Strip
	for _, n := range nodes {
		if s, ok := n.(*instruction.Strip); ok {
			all = append(all, s)
		}
		if r, ok := n.(*instruction.Repeat); ok {
			all = append(all, panelsOf(r.Body)...)
		}
	}
	return all
}

// written is what is on a needle: "RS kkp|p" and what is on hold.
func written(f fabric.Fabric, runs bool) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s ", f.Side())
	marks := f.Markers()
	last := ""
	mark := func(i int) {
		if slices.Contains(marks, i) {
			b.WriteString("|")
			last = ""
		}
	}
	for i, l := range f.Loops() {
		mark(i)
		face := map[stitch.Face]string{stitch.Knit: "k", stitch.Purl: "p"}[l.Face] + f.YarnName(l.Yarn)
		if !runs || face != last {
			b.WriteString(face)
		}
		last = face
	}
	mark(f.Count())
	if n := f.Held(); n > 0 { // they show their faces when they are returned
		back := f.Work([]instruction.Node{&instruction.Held{N: instruction.N(n), Return: true}}, fabric.Row{}).After
		fmt.Fprintf(&b, ", with %d from hold %s", n, written(back, runs))
	}
	return b.String()
}

// slowly says what is wrong with leaving rows out; empty for nothing.
func slowly(p *patterns.Pattern, full *patterns.Plan, size int, leave []patterns.LeftOut) string {
	out := struck(full, p.Optionals(size), leave)
	if wrong := knitted(full, out); wrong != "" {
		return wrong
	}
	for i := range full.Rows {
		if out[i] && (i == 0 || !out[i-1] || full.Rows[i-1].Section != full.Rows[i].Section) {
			to := i
			for to+1 < len(full.Rows) && out[to+1] && full.Rows[to+1].Section == full.Rows[i].Section {
				to++
			}
			if wrong := outOfStepSlowly(p, full, out, i, to, leave); wrong != "" {
				return wrong
			}
		}
	}
	return newWarning(p, size, leave)
}

// knitted knits the rows that are left.
func knitted(full *patterns.Plan, out []bool) string {
	rows := full.Rows
	needle := rows[0].Before
	gap := false
	for i, r := range rows {
		last := i+1 == len(rows) || rows[i+1].Section != r.Section
		if !out[i] {
			side := r.Side
			if needle.Side() != side && needle.Count() > 0 {
				return fmt.Sprintf("row %d of %s is on the %s", r.Number, r.Section.Name, needle.Side())
			}
			found, wanted := written(needle, false), written(r.Before, false)
			if needle.Count() != r.Before.Count() {
				found, wanted = written(needle, true), written(r.Before, true)
			}
			did := needle.Work(r.Written, fabric.Row{Rounds: r.Rounds, Size: full.Size})
			if gap && found != wanted && !overStripe(needle, r, did.After) {
				return fmt.Sprintf("row %d of %s finds %s, and expects %s", r.Number, r.Section.Name, found, wanted)
			}
			if did.Problem != nil {
				return did.Problem.Message
			}
			needle, gap = did.After, false
		} else {
			gap = true
		}
		if last && written(needle, false) != written(r.After, false) {
			return fmt.Sprintf("%s ends with %s, and should with %s", r.Section.Name, written(needle, false), written(r.After, false))
		}
	}
	return ""
}

// overStripe says that a row finds the very stitches that it expects but for their
// yarn, none on hold, and leaves what it leaves in the full plan.
func overStripe(needle fabric.Fabric, r *patterns.Row, after fabric.Fabric) bool {
	plain := func(f fabric.Fabric) string {
		text := written(f, false)
		for _, yarn := range []string{"Sand", "Sky"} {
			text = strings.ReplaceAll(text, yarn, "")
		}
		return text
	}
	return needle.Held() == 0 && r.Before.Held() == 0 && plain(needle) == plain(r.Before) && written(after, false) == written(r.After, false)
}

// missesSlowly says that rows of a panel which are left out leave it without what it
// is there for. They are the numbers from own on, in a row; gone are all that are
// left out of it.
func missesSlowly(says []string, own []int, gone map[int]bool) bool {
	works := func(row int) bool {
		for _, word := range []string{"RC", "LC", "yo", "k2tog", "ssk"} {
			if strings.Contains(says[row-1], word) {
				return true
			}
		}
		return false
	}
	from, to := own[0]-1, own[len(own)-1]-1
	for a := 0; a <= from; a++ {
		for b := to; b < len(says); b++ {
			for period := 1; 2*period <= b-a+1; period++ {
				some := false
				for i := a; i <= b; i++ {
					some = some || !gone[i+1]
				}
				if some && slices.Equal(says[a:b+1-period], says[a+period:b+1]) && len(own)%period == 0 {
					return false // whole repeats, of which one is left
				}
			}
		}
	}
	missed, plain, left := false, false, false
	for row := range says {
		switch row++; {
		case slices.Contains(own, row) && works(row):
			missed = true
		case slices.Contains(own, row):
			plain = true
		case !gone[row] && works(row):
			left = true
		}
	}
	return missed && !(plain && left)
}

// goneOf gives the numbers of a panel's rows that a choice leaves out of it.
func goneOf(groups []patterns.Optional, panel string, leave []patterns.LeftOut) map[int]bool {
	gone := map[int]bool{}
	for _, l := range leave {
		for _, o := range groups {
			for row := o.From; l.Owner == panel && o.Owner == panel && o.From == l.From && row <= o.To; row++ {
				gone[row] = gone[row] || row > o.To-l.Rows
			}
		}
	}
	return gone
}

// outOfStepSlowly looks at the panels beside the rows from one index to another,
// and at the section's own texture.
func outOfStepSlowly(p *patterns.Pattern, full *patterns.Plan, out []bool, from, to int, leave []patterns.LeftOut) string {
	section := full.Rows[from].Section
	var begins, ends int
	for i, r := range full.Rows {
		if r.Section == section {
			ends = i
		}
	}
	for begins = ends; begins > 0 && full.Rows[begins-1].Section == section; begins-- {
	}
	var texts []string
	for _, r := range full.Rows[begins : ends+1] {
		text := r.Side.String() + instruction.Print(r.Written, full.Size)
		if len(panelsOf(r.Written)) > 0 {
			text = "panels"
		}
		texts = append(texts, text)
	}
	if cutSlowly(texts, from-begins, to-begins) {
		return "a texture is cut"
	}
	for _, panel := range p.Panels {
		ours := struck(full, p.Optionals(full.Size), slices.DeleteFunc(slices.Clone(leave), func(l patterns.LeftOut) bool { return l.Owner != panel.Name }))
		says := panelTexts(full, panel.Name)
		sections := struck(full, p.Optionals(full.Size), slices.DeleteFunc(slices.Clone(leave), func(l patterns.LeftOut) bool {
			return slices.ContainsFunc(p.Panels, func(panel *patterns.Panel) bool { return panel.Name == l.Owner })
		}))
		var own, gone []int
		beside := false // some are gone for another panel's sake alone
		for i := from; i <= to; i++ {
			beside = beside || rowOf(full.Rows[i], panel.Name) > 0 && !ours[i] && !sections[i]
			if row := rowOf(full.Rows[i], panel.Name); row > 0 && ours[i] {
				own = append(own, row)
			} else if row > 0 {
				gone = append(gone, row)
			}
		}
		for a, b := 0, 0; a < len(own); a = b {
			for b = a + 1; b < len(own) && own[b] == own[b-1]+1; b++ {
			}
			if cutSlowly(says, own[a]-1, own[b-1]-1) {
				return "a texture of " + panel.Name + " is cut"
			}
			if missesSlowly(says, own[a:b], goneOf(p.Optionals(full.Size), panel.Name, leave)) {
				return panel.Name + " misses its motif"
			}
		}
		if len(gone) > 0 && !goesOnSlowly(says, gone) && !shorterStretch(full, out, leave, panel.Name, says, gone, from, to, begins, ends, beside) {
			return panel.Name + " is out of step"
		}
	}
	return ""
}

func rowOf(r *patterns.Row, panel string) int {
	for _, s := range panelsOf(r.Written) {
		if s.Panel == panel {
			return s.Row
		}
	}
	return 0
}

// panelTexts is what a panel says row by row, as it is seen in a plan of the
// panel alone.
func panelTexts(full *patterns.Plan, panel string) []string {
	plan, err := full.Pattern.PanelPlan(full.Size, panel)
	if err != nil {
		return nil
	}
	var texts []string
	for _, r := range plan.Rows {
		texts = append(texts, instruction.Print(r.Written, full.Size))
	}
	return texts
}

// goesOnSlowly says that the panel, begun again after the rows that are gone,
// says for ever what it would have said next.
func goesOnSlowly(says []string, gone []int) bool {
	next, after := gone[0]-1, gone[0]-1+len(gone)
	for i := range 2 * len(says) {
		if says[(next+i)%len(says)] != says[(after+i)%len(says)] {
			return false
		}
	}
	return true
}

// shorterStretch says that the panel says the same in all rows that are gone, in
// what is left of their group before them, and in the row worked before or after;
// beside another panel that they are gone for, that nothing of it is left.
func shorterStretch(full *patterns.Plan, out []bool, leave []patterns.LeftOut, panel string, says []string, gone []int, from, to, begins, ends int, beside bool) bool {
	text := says[gone[0]-1]
	groups := full.Pattern.Optionals(full.Size)
	for _, l := range leave {
		one := []patterns.LeftOut{l}
		if l.Owner == panel || !struck(full, groups, one)[from] {
			continue
		}
		one[0].Rows = 1000
		inGroup := struck(full, groups, one)
		for i := from - 1; i >= begins && inGroup[i]; i-- {
			if row := rowOf(full.Rows[i], panel); row > 0 {
				gone = append(gone, row)
			}
		}
	}
	for _, row := range gone {
		if says[row-1] != text && !beside {
			return false
		}
	}
	any := false
	for i, step := range map[int]int{from - 1: -1, to + 1: 1} {
		for ; i >= begins && i <= ends; i += step {
			if row := rowOf(full.Rows[i], panel); row > 0 && !out[i] {
				if any = true; says[row-1] == text && !beside {
					return true
				}
				break
			}
		}
	}
	return !any
}

// cutSlowly tries every stretch of rows around some that are left out: one that
// says the same at least twice, every two rows or more, has to lose whole
// repeats, or be part of another one that does.
func cutSlowly(texts []string, from, to int) bool {
	cut, whole := false, false
	for a := 0; a <= from; a++ {
		for b := to; b < len(texts); b++ {
			period := 1
			for !slices.Equal(texts[a:b+1-period], texts[a+period:b+1]) {
				period++
			}
			if period < 2 || 2*period > b-a+1 {
				continue
			}
			if (to-from+1)%period == 0 {
				whole = true
			} else {
				cut = true
			}
		}
	}
	return cut && !whole
}

func newWarning(p *patterns.Pattern, size int, leave []patterns.LeftOut) string {
	name := ""
	if size < len(p.Sizes) {
		name = p.Sizes[size]
	}
	_, before, _ := p.LayOutWithDoubts(patterns.Choice{Size: name})
	_, after, err := p.LayOutWithDoubts(patterns.Choice{Size: name, LeftOut: leave})
	if err != nil {
		return err.Error()
	}
	told := map[string]bool{}
	for _, w := range before {
		told[fmt.Sprint(w.Start, w.Code)] = true
	}
	for _, w := range after {
		if !told[fmt.Sprint(w.Start, w.Code)] {
			return w.Message
		}
	}
	return ""
}
