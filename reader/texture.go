package reader

import (
	"slices"

	"clew/patterns/chart"
)

// textures says what plain rows look like, each texture once.
func (p pictured) textures() []string {
	var clauses []string
	for i, f := range p.Textures {
		alike := func(g chart.TextureFact) bool {
			return g.Section == f.Section && g.Texture == f.Texture && g.Knits == f.Knits && g.Purls == f.Purls
		}
		if f.Texture == chart.Mixed || slices.IndexFunc(p.Textures, alike) < i {
			continue
		}
		runs, rows := 0, 0
		for _, g := range p.Textures {
			if alike(g) {
				runs++
				rows += g.Last - g.First + 1
			}
		}
		clauses = append(clauses, p.textured(f, runs, rows))
	}
	return clauses
}

// textured says the texture of one run of rows, or of several that have so
// many rows together.
func (p pictured) textured(f chart.TextureFact, runs, rows int) string {
	switch {
	case runs > 1:
		return Number(rows) + " " + p.row(rows) + p.of(f.Section) + " are " + textureWords(f)
	case len(p.Sections) < 2 && f.First == p.First && f.Last == p.Last:
		return "it is " + textureWords(f)
	}
	is := " are "
	if f.First == f.Last {
		is = " is "
	}
	return p.span(f.First, f.Last) + p.of(f.Section) + is + textureWords(f)
}

func textureWords(f chart.TextureFact) string {
	switch f.Texture {
	case chart.Smooth:
		return "smooth, all knits"
	case chart.Bumpy:
		return "bumpy, all purls"
	case chart.Ridges:
		return "in ridges, knits and purls by turns"
	case chart.Ribbing:
		return "ribbed, " + Number(f.Knits) + " " + plural("knit", f.Knits) + " and " + Number(f.Purls) + " " + plural("purl", f.Purls) + " by turns"
	}
	return "like seeds, knits and purls by turns both ways"
}

// change says how the width goes, where it goes one way alone.
func (p pictured) change() (string, bool) {
	var only *chart.StitchFact
	for i, f := range p.Stitches {
		if f.Kind != chart.Narrower && f.Kind != chart.Wider {
			continue
		}
		if only != nil {
			return "", false
		}
		only = &p.Stitches[i]
	}
	switch {
	case only == nil || min(only.From, only.To) != p.Least || max(only.From, only.To) != p.Most || p.Least == 0:
		return "", false
	case only.Kind == chart.Narrower:
		return "narrowing from " + stitches(only.From) + " to " + Number(only.To), true
	}
	return "widening from " + stitches(only.From) + " to " + Number(only.To), true
}

// stitchFacts says what single stitches show.
func (p pictured) stitchFacts() []string {
	_, told := p.change()
	var clauses []string
	for _, f := range p.Stitches {
		if told && (f.Kind == chart.Narrower || f.Kind == chart.Wider) {
			continue
		}
		clauses = append(clauses, p.stitchFact(f))
	}
	return clauses
}

// seen is what single stitches look like, one in all and several.
var seen = [...]struct{ one, several string }{
	chart.Holes:     {"a yarn over leaves a hole", "yarn overs leave holes"},
	chart.Bobbles:   {"there is a bobble", "there are bobbles"},
	chart.Beads:     {"there is a bead", "there are beads"},
	chart.Slipped:   {"a stitch is slipped", "stitches are slipped"},
	chart.Bars:      {"a slipped stitch leaves a bar", "slipped stitches leave bars"},
	chart.BoundOff:  {"a stitch is bound off", "stitches are bound off"},
	chart.OnHold:    {"a stitch is put on hold", "stitches are put on hold"},
	chart.ShortRows: {"a stitch stays unworked", "stitches stay unworked"},
}

func (p pictured) stitchFact(f chart.StitchFact) string {
	rows := " in " + p.span(f.First, f.Last) + p.of(f.Section)
	if f.Rows > 0 && f.Rows < f.Last-f.First+1 {
		rows = " in " + Number(f.Rows) + " of " + p.span(f.First, f.Last) + p.of(f.Section)
	}
	switch {
	case f.Kind == chart.Narrower:
		return "it narrows from " + stitches(f.From) + " to " + Number(f.To) + rows
	case f.Kind == chart.Wider:
		return "it widens from " + stitches(f.From) + " to " + Number(f.To) + rows
	case f.PerRow == 1 && f.Rows <= 1:
		return seen[f.Kind].one + rows
	case f.PerRow < 1:
		return seen[f.Kind].several + rows
	case f.Rows <= 1:
		return seen[f.Kind].several + rows + ", " + Number(f.PerRow) + " in all"
	}
	return seen[f.Kind].several + rows + ", up to " + Number(f.PerRow) + " in a " + p.row(1)
}
