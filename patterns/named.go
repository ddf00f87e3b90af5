package patterns

import (
	"fmt"
	"slices"
	"strings"

	"clew/patterns/fabric"
	"clew/patterns/problem"
)

// SectionNamed finds a section by its name, whatever its case. The error offers
// the nearest, and lists them.
func (p *Pattern) SectionNamed(name string) (*Section, error) {
	for _, s := range p.Sections {
		if sameName(s.Name, name) {
			return s, nil
		}
	}
	var names []string
	for _, s := range p.Sections {
		names = append(names, s.Name)
	}
	return nil, noneNamed("section", name, names)
}

// PanelNamed finds a panel by its name, whatever its case. The error offers the
// nearest, and lists them.
func (p *Pattern) PanelNamed(name string) (*Panel, error) {
	for _, panel := range p.Panels {
		if sameName(panel.Name, name) {
			return panel, nil
		}
	}
	var names []string
	for _, panel := range p.Panels {
		names = append(names, panel.Name)
	}
	return nil, noneNamed("panel", name, names)
}

func sameName(a, b string) bool { return strings.EqualFold(a, strings.TrimSpace(b)) }

func noneNamed(what, name string, names []string) error {
	if len(names) == 0 {
		return fmt.Errorf("there is no %s %q; the pattern has no %ss", what, name, what)
	}
	small := make([]string, len(names))
	for i, n := range names {
		small[i] = strings.ToLower(n)
	}
	nearest := ""
	if near := problem.Nearest(strings.ToLower(name), small); near != "" {
		nearest = "did you mean " + names[slices.Index(small, near)] + "? "
	}
	return fmt.Errorf("there is no %s %q; %sthe %ss are %s", what, name, nearest, what, strings.Join(names, ", "))
}

// PanelPlan gives a panel's rows by themselves, on the panel's own stitches, as
// a plan of one section that bears the panel's name. Errors: ErrUnsound; those of
// PanelNamed; a sentence where the panel has no stitches in this size.
func (p *Pattern) PanelPlan(size int, name string) (*Plan, error) {
	if !p.sound {
		return nil, ErrUnsound
	}
	panel, err := p.PanelNamed(name)
	if err != nil {
		return nil, err
	}
	s := (&layout{p: p, size: size}).strip(panel)
	if len(s.rows) == 0 {
		return nil, fmt.Errorf("the panel %s has no stitches in this size", panel.Name)
	}
	plan := &Plan{Pattern: p, Size: size, index: map[rowID]int{}}
	section := &Section{Span: panel.Span, Name: panel.Name, Rounds: p.Rounds, Lines: panel.Lines}
	before, worked := fabric.CastOn(s.widths[0]).Begin(p.Rounds, s.sides[0]), int64(0)
	for i, row := range s.rows {
		res := before.Work(s.bodies[i], fabric.Row{Rounds: p.Rounds, Size: size})
		plan.index[rowID{section.Name, row.number}] = i
		plan.Rows = append(plan.Rows, &Row{Section: section, Number: row.number, Line: row.line, Rounds: p.Rounds, Side: before.Side(), First: i == 0,
			Written: s.bodies[i], Body: res.Done, Before: before, After: res.After, Crossings: res.Crossings, Worked: worked, unworked: res.Unworked})
		worked += int64(before.Ahead() - res.Unworked)
		before = res.After
	}
	return plan, nil
}
