package bot

import (
	"slices"

	"clew/patterns"
	"clew/patterns/stitch"
	"clew/reader/listen"
)

// NewListener makes an ear for a pattern: it knows the stitches of the table,
// the words of the trade, and the pattern's own abbreviations, sections and
// panels. Without a pattern it knows the table alone.
// Crosses it knows by their widths.
func NewListener(p *patterns.Pattern) *listen.Listener {
	var terms []listen.Term
	var sections []string
	if p != nil {
		for _, name := range p.Abbreviations.Names() {
			terms = append(terms, listen.Term{Abbr: name})
		}
		for _, s := range p.Sections {
			sections = append(sections, s.Name)
		}
		for _, panel := range p.Panels {
			sections = append(sections, panel.Name)
		}
	}
	for _, s := range stitch.All() {
		terms = append(terms, listen.Term{Abbr: s.Abbr, Spoken: append([]string{s.Words}, heardAs(s)...)})
	}
	for _, name := range []string{"RT", "LT"} {
		c, _, _ := stitch.FindCross(name)
		terms = append(terms, listen.Term{Abbr: name, Spoken: []string{c.Words()}})
	}
	for _, t := range stitch.Terms() {
		terms = append(terms, listen.Term{Abbr: t.Abbr, Spoken: t.Spellings})
	}
	return listen.New(terms, sections...)
}

// heardAs gives the other names of a stitch that can be asked for. "won", wool
// over needle, sounds like "one", which is in too much that is said.
func heardAs(s *stitch.Stitch) []string {
	return slices.DeleteFunc(slices.Clone(s.Spellings), func(name string) bool { return name == "won" })
}
