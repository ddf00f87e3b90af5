package patterns

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns/instruction"
)

// UpTo gives the plan cut behind its first n rows, for one who may be told of
// those alone. Its pattern has nothing but what comes up in them: sections, panels,
// the pattern's own abbreviations, groups of rows that may be left out, and notes
// and yarns that name nothing else. It can't be laid out, so nothing can be
// reckoned from it that the rows behind have a part in: Whole is for that. What a
// section has in all, and the stitches, are still those of the whole. With n below
// zero it has no rows; a plan that has no more than n is given as it is.
func (p *Plan) UpTo(n int) *Plan {
	whole := p.Whole()
	if n >= len(whole.Rows) {
		return whole
	}
	n = max(0, n)
	open, closed := comesUp(whole.Rows[:n]), comesUp(whole.Rows[n:])
	closed.lose(open)
	return &Plan{Pattern: whole.Pattern.only(open, closed, whole, n), Size: whole.Size, Rows: whole.Rows[:n:n], index: whole.index, whole: whole}
}

// Whole is the plan that this one was cut from; itself where it was not cut.
func (p *Plan) Whole() *Plan {
	if p.whole != nil {
		return p.whole
	}
	return p
}

// PanelPlan is PanelPlan of its pattern, in its size; of a plan that was cut, up to
// the furthest of the panel's rows that comes up in it.
func (p *Plan) PanelPlan(name string) (*Plan, error) {
	if p.whole == nil {
		return p.Pattern.PanelPlan(p.Size, name)
	}
	panel, err := p.Pattern.PanelNamed(name)
	if err != nil {
		return nil, err
	}
	all, err := p.whole.Pattern.PanelPlan(p.Size, panel.Name)
	if err != nil {
		return nil, err
	}
	furthest := comesUp(p.Rows).panels[panel.Name]
	n := slices.IndexFunc(all.Rows, func(r *Row) bool { return r.Number > furthest })
	if n < 0 {
		n = len(all.Rows)
	}
	return &Plan{Pattern: p.Pattern, Size: p.Size, Rows: all.Rows[:n:n], index: all.index, whole: all}, nil
}

// A stock is what comes up in some rows.
type stock struct {
	sections map[string]bool
	panels   map[string]int // the furthest of its rows
	own      map[string]bool
	stitches map[string]bool // by abbreviation and in words, crosses as well
}

// comesUp collects it.
func comesUp(rows []*Row) stock {
	s := stock{sections: map[string]bool{}, panels: map[string]int{}, own: map[string]bool{}, stitches: map[string]bool{}}
	for _, r := range rows {
		s.sections[r.Section.Name] = true
		instruction.Each(r.Written, s.node)
		instruction.Each(r.Body, s.node)
	}
	return s
}

func (s stock) node(n instruction.Node) {
	switch n := n.(type) {
	case *instruction.Strip:
		s.panels[n.Panel] = max(s.panels[n.Panel], n.Row)
	case *instruction.Macro:
		s.own[n.Name] = true
	case *instruction.Work:
		s.stitches[n.Stitch.Abbr], s.stitches[n.Stitch.Words] = true, true
	case *instruction.Cross:
		if !n.Named.Zero() {
			s.stitches[n.Named.Name()], s.stitches[n.Named.Words()] = true, true
		}
		for _, part := range n.Parts {
			instruction.Each(part.Body, s.node)
		}
	}
}

// lose takes out what is in another.
func (s stock) lose(other stock) {
	for name := range other.sections {
		delete(s.sections, name)
	}
	for name := range other.panels {
		delete(s.panels, name)
	}
	for name := range other.own {
		delete(s.own, name)
	}
	for name := range other.stitches {
		delete(s.stitches, name)
	}
}

// only gives the pattern with nothing but what is open. It is not sound, so that
// it can't be laid out.
func (p *Pattern) only(open, closed stock, whole *Plan, n int) *Pattern {
	cut := *p
	cut.sound, cut.src, cut.text = false, "", nil
	cut.Sections = slices.DeleteFunc(slices.Clone(p.Sections), func(s *Section) bool { return !open.sections[s.Name] })
	cut.Panels = slices.DeleteFunc(slices.Clone(p.Panels), func(panel *Panel) bool { return open.panels[panel.Name] == 0 })
	cut.Abbreviations = &instruction.Abbreviations{}
	for _, name := range p.Abbreviations.Names() {
		if open.own[name] {
			cut.Abbreviations.Define(p.Abbreviations.Find(name))
		} else {
			closed.own[name] = true
		}
	}
	for _, panel := range p.Panels {
		if open.panels[panel.Name] == 0 {
			closed.panels[panel.Name] = 1
		}
	}
	for _, section := range p.Sections {
		if !open.sections[section.Name] {
			closed.sections[section.Name] = true
		}
	}
	cut.Notes = slices.DeleteFunc(slices.Clone(p.Notes), closed.named)
	cut.Yarns = slices.DeleteFunc(slices.Clone(p.Yarns), func(y Yarn) bool { return closed.named(y.Text) })
	cut.mayOffer = func(o Optional) bool { return p.offersGroup(o) && whole.groupUpTo(o, n, open) }
	return &cut
}

// groupUpTo says that every row of a group that may be left out is one of the
// first n. Those that are left out are where the rows beside them are.
func (p *Plan) groupUpTo(o Optional, n int, open stock) bool {
	group := LeftOut{Owner: o.Owner, From: o.From, Rows: o.Count()}
	if slices.ContainsFunc(p.Rows[n:], func(r *Row) bool { return r.LeftOutBy(group) }) {
		return false
	}
	next := p.Rows[n]
	switch {
	case o.Panel:
		return open.panels[o.Owner] > 0
	case !open.sections[o.Owner]:
		return false
	}
	return next.Section.Name != o.Owner || o.To < next.Number
}

// Offering gives the pattern with none of its groups of rows that may be left out
// but those that keep says; the others are rows as any.
func (p *Pattern) Offering(keep func(Optional) bool) *Pattern {
	some := *p
	some.mayOffer = func(o Optional) bool { return p.offersGroup(o) && keep(o) }
	return &some
}

func (p *Pattern) offersGroup(o Optional) bool { return p.mayOffer == nil || p.mayOffer(o) }

// named says that a text names anything of the stock, be it with more letters at
// its end: the section Crown is named by "crowns".
func (s stock) named(text string) bool {
	text = plainWords(text)
	names := func(name string) bool {
		name = plainWords(name)
		switch {
		case strings.TrimSpace(name) == "":
			return false
		case utf8.RuneCountInString(name) < 6: // with its spaces
			return strings.Contains(text, name)
		}
		return strings.Contains(text, strings.TrimRight(name, " "))
	}
	for _, some := range []map[string]bool{s.sections, s.own, s.stitches} {
		for name := range some {
			if names(name) {
				return true
			}
		}
	}
	for name := range s.panels {
		if names(name) {
			return true
		}
	}
	return false
}

// plainWords gives a text in small letters and digits, with one space before, after
// and between words.
func plainWords(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return " " + strings.Join(words, " ") + " "
}
