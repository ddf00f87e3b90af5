package chart

import (
	"slices"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// factsIn gathers the facts of a view, all of it drawn, whose stitches have been
// followed.
func factsIn(v View, cloth []*piece) Facts {
	first, last := v.Plan.Rows[v.From], v.Plan.Rows[v.To]
	f := Facts{Fabric: v.Fabric, Name: first.Section.Name, Rounds: first.Rounds, First: first.Number, Last: last.Number}
	f.Least, f.Most = first.Before.Count(), first.Before.Count()
	for i := v.From; i <= v.To; i++ {
		r := v.Plan.Rows[i]
		if !slices.Contains(f.Sections, r.Section.Name) {
			f.Sections = append(f.Sections, r.Section.Name)
		}
		f.Least, f.Most = min(f.Least, r.After.Count()), max(f.Most, r.After.Count())
	}
	if v.Here >= v.From && v.Here <= v.To {
		f.Here = v.Plan.Rows[v.Here].Number
	}
	if y := yarnsOf(v); len(y.names) > 1 {
		f.Yarns = y.names
	}
	f.Strands = strandFacts(cloth)
	for _, p := range cloth {
		f.Textures = append(f.Textures, textures(p)...)
	}
	f.Stitches = stitchFacts(cloth)
	return f
}

// oncePerRepeat makes the facts those of a picture that draws a repeat once that
// stands so many times side by side.
func (f *Facts) oncePerRepeat(times int) {
	f.Times = times
	if times < 2 {
		return
	}
	for i := range f.Strands {
		whole := f.WholeFrom > 0 && f.Strands[i].First >= f.WholeFrom
		if n := f.Strands[i].Times; n%times == 0 && !whole {
			f.Strands[i].Times = n / times
		}
	}
	for i := range f.Textures {
		if n := f.Textures[i].Times; n%times == 0 {
			f.Textures[i].Times = n / times
		}
	}
}

// stitchFacts tells of single stitches, those of each section together.
func stitchFacts(cloth []*piece) []StitchFact {
	var facts []StitchFact
	var section *patterns.Section
	began := 0
	for _, p := range cloth {
		for i := range p.rows {
			m := &p.rows[i]
			if m.row.Section != section {
				section, began = m.row.Section, len(facts)
			}
			for kind, n := range m.tally() {
				if n > 0 {
					facts = noted(facts, began, StitchKind(kind), n, m.row)
				}
			}
		}
	}
	return facts
}

// noted adds a row to the fact of its kind, of those from began on. A piece that
// narrows and then grows wider, or the other way round, is a new fact each time.
func noted(facts []StitchFact, began int, kind StitchKind, n int, r *patterns.Row) []StitchFact {
	i := len(facts) - 1
	for i >= began && facts[i].Kind != kind {
		if kind == Narrower && facts[i].Kind == Wider || kind == Wider && facts[i].Kind == Narrower {
			i = began - 1
			break
		}
		i--
	}
	if i < began {
		facts = append(facts, StitchFact{Section: r.Section.Name, Kind: kind, First: r.Number})
		i = len(facts) - 1
		if kind == Narrower || kind == Wider {
			facts[i].From = r.Before.Count()
		}
	}
	f := &facts[i]
	f.Last, f.Rows, f.In, f.PerRow = r.Number, f.Rows+1, append(f.In, r.Number), max(f.PerRow, n)
	if kind == Narrower || kind == Wider {
		f.To = r.After.Count()
	}
	return facts
}

// tally counts what a row has of each StitchKind.
func (m *meshRow) tally() (n [ShortRows + 1]int) {
	if change := m.row.After.Count() - m.row.Before.Count(); !m.bulk && change > 0 {
		n[Wider] = change
	} else if !m.bulk {
		n[Narrower] = -change
	}
	for i := range m.acts {
		a := &m.acts[i]
		switch a.Node.(type) {
		case *instruction.Bead:
			n[Beads]++
		case *instruction.Turn:
			n[ShortRows] = max(n[ShortRows], m.row.Unworked())
		}
		switch {
		case isBobble(a):
			n[Bobbles]++
		case isYarnOver(a):
			n[Holes]++
		case a.Stitch != nil && a.Stitch.Kind == stitch.BindOff:
			n[BoundOff]++
		}
	}
	n[OnHold] = len(m.held)
	for j := range m.slots {
		slot := &m.slots[j]
		a := m.actOf(slot)
		if slot.state != slipped || a == nil || m.firstWorked(slot) {
			continue
		}
		n[Slipped]++
		if m.hasBar(slot, a) {
			n[Bars]++
		}
	}
	return n
}

func isYarnOver(a *fabric.Act) bool {
	return a.Stitch != nil && (a.Stitch.Abbr == "yo" || a.Stitch.Abbr == "byo")
}

// firstWorked says that nothing was worked before a stitch in a flat row, whose
// edge it is.
func (m *meshRow) firstWorked(slot *slot) bool {
	return !m.row.Rounds && !slices.ContainsFunc(m.acts[:slot.act], func(a fabric.Act) bool { return len(a.Makes) > 0 })
}
