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

// changes tells the facts of rows that make the fabric narrower or wider.
func changes(f chart.StitchFact) bool { return f.Kind == chart.Narrower || f.Kind == chart.Wider }

// change says how the width goes, where it goes one way alone.
func (p pictured) change(least int) (string, bool) {
	i := slices.IndexFunc(p.Stitches, changes)
	if i < 0 || slices.ContainsFunc(p.Stitches[i+1:], changes) {
		return "", false
	}
	only := p.Stitches[i]
	if min(only.From, only.To) != least || max(only.From, only.To) != p.Most {
		return "", false
	}
	way := "widening"
	if only.Kind == chart.Narrower {
		way = "narrowing"
	}
	return way + " from " + stitches(only.From) + " to " + Number(only.To), true
}

// least is the fewest stitches that make up a width: not the none from which a
// piece begins, or which are left when all is bound off.
func (p pictured) least() int {
	if p.Least > 0 {
		return p.Least
	}
	least := 0
	for _, f := range p.Stitches {
		n := 0
		switch {
		case changes(f):
			n = min(f.From, f.To)
		case f.Kind == chart.BoundOff:
			n = f.PerRow
		}
		if n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least
}

// stitchFacts says what single stitches show.
func (p pictured) stitchFacts() []string {
	_, told := p.change(p.least())
	var clauses []string
	for _, f := range p.Stitches {
		if told && changes(f) || p.seenAsBars(f) {
			continue
		}
		clauses = append(clauses, p.stitchFact(f))
	}
	return clauses
}

// seenAsBars says that slipped stitches are told by the bars that they leave.
func (p pictured) seenAsBars(f chart.StitchFact) bool {
	if f.Kind != chart.Slipped {
		return false
	}
	f.Kind = chart.Bars
	return slices.Contains(p.Stitches, f)
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
