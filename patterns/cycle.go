package patterns

import "slices"

// A Cycle is what a panel says in its rows, in turn, in one size.
type Cycle struct {
	Texts  []string // of row 1, row 2 and so on: equal where two rows say the same
	Period int      // after how many rows it says the same again: 1 to len(Texts); 1 without rows
}

// Cycle gives that of a panel. It has no rows where no panel bears the name, or
// where the panel has no stitches in this size.
func (p *Pattern) Cycle(size int, name string) Cycle {
	i := slices.IndexFunc(p.Panels, func(panel *Panel) bool { return panel.Name == name })
	if i < 0 || !p.sound {
		return Cycle{Period: 1}
	}
	s := (&layout{p: p, size: size}).strip(p.Panels[i])
	return Cycle{slices.Clone(s.texts(size)), s.period(size)}
}
