package reader

import (
	"reflect"
	"slices"

	"clew/patterns/chart"
)

// textures says what plain rows look like, each texture once.
func (p pictured) textures() []string {
	var clauses []string
	for i, f := range p.Textures {
		alike := func(g chart.TextureFact) bool { return sameTexture(f, g) }
		if f.Texture == chart.Mixed || f.Place == chart.Ground || slices.IndexFunc(p.Textures, alike) < i {
			continue
		}
		var runs []chart.TextureFact
		for _, g := range p.Textures {
			if alike(g) {
				runs = append(runs, g)
			}
		}
		clauses = append(clauses, p.textured(f, runs))
	}
	return clauses
}

// sameTexture says that two facts differ in their rows alone.
func sameTexture(f, g chart.TextureFact) bool {
	f.First, f.Last = g.First, g.Last
	return reflect.DeepEqual(f, g)
}

// textured says the texture of one run of rows, or of several.
func (p pictured) textured(f chart.TextureFact, runs []chart.TextureFact) string {
	words, whole := p.textureWords(f), len(p.Sections) < 2 && f.First == p.First && f.Last == p.Last
	one := len(runs) < 2
	switch f.Place {
	case chart.AtEdges, chart.Strips, chart.Rest:
		said := placed(f) + words
		if whole && one {
			return said
		}
		return "in " + p.runsOf(f, runs) + " " + said
	}
	is := " are "
	switch {
	case one && whole:
		return "it is " + words
	case one && f.First == f.Last:
		is = " is "
	}
	return p.runsOf(f, runs) + is + words
}

// placed says where in its rows a texture is, and the verb.
func placed(f chart.TextureFact) string {
	are := " are "
	if f.Stitches == 1 {
		are = " is "
	}
	switch {
	case f.Place == chart.Rest:
		return "the rest is "
	case f.Place == chart.AtEdges:
		return stitches(f.Stitches) + " at each edge" + are
	case f.Times > 1:
		return Number(f.Times) + " strips of " + stitches(f.Stitches) + " each are "
	}
	return "a strip of " + stitches(f.Stitches) + " is "
}

// mostRuns is how many runs of rows are named one by one.
const mostRuns = 4

// runsOf names the rows of runs: "rows one to four and nine to twelve"; of many
// runs, how many rows they are.
func (p pictured) runsOf(f chart.TextureFact, runs []chart.TextureFact) string {
	if len(runs) < 2 {
		return p.span(f.First, f.Last) + p.of(f.Section)
	}
	names, rows := make([]string, len(runs)), 0
	for i, r := range runs {
		rows += r.Last - r.First + 1
		if names[i] = Number(r.First); r.Last > r.First {
			names[i] += " to " + Number(r.Last)
		}
	}
	if len(runs) > mostRuns {
		return Number(rows) + " of " + p.span(f.First, runs[len(runs)-1].Last) + p.of(f.Section)
	}
	return p.row(2) + " " + series(names) + p.of(f.Section)
}

// ground says what lies beside strands.
func (p pictured) ground() []string {
	var clauses []string
	for _, f := range p.Textures {
		if f.Place != chart.Ground || f.Texture != chart.Smooth && f.Texture != chart.Bumpy {
			continue
		}
		face := "purls"
		if f.Texture == chart.Smooth {
			face = "knits"
		}
		clauses = append(clauses, "the stitches beside the strands"+p.of(f.Section)+" are "+face)
	}
	return clauses
}

func (p pictured) textureWords(f chart.TextureFact) string {
	whole := f.Place == chart.Everywhere
	switch {
	case !whole:
	case f.Shaped && f.Texture == chart.Smooth:
		return "smooth otherwise"
	case f.Shaped && f.Texture == chart.Bumpy:
		return "bumpy otherwise"
	case f.Shaped && f.Texture == chart.Ridges:
		return "in ridges otherwise"
	}
	switch f.Texture {
	case chart.Smooth:
		if whole {
			return "smooth, all knits"
		}
		return "smooth"
	case chart.Bumpy:
		return "bumpy, all purls"
	case chart.Ridges:
		if whole {
			return "in ridges, knits and purls by turns"
		}
		return "in ridges"
	case chart.Ribbing:
		if f.Knits == 0 {
			return "ribbed, in columns of knits and purls"
		}
		return "ribbed, " + knitsAndPurls(f) + " by turns"
	case chart.Blocks:
		every := "every " + p.row(1)
		if f.Every > 1 {
			every = "every " + Number(f.Every) + " " + p.row(f.Every)
		}
		return "in blocks of " + knitsAndPurls(f) + " that change places " + every
	case chart.Ridged:
		return "smooth, with " + p.ridges(f.Rows)
	}
	return "like seeds, knits and purls by turns both ways"
}

func knitsAndPurls(f chart.TextureFact) string {
	return Number(f.Knits) + " " + plural("knit", f.Knits) + " and " + Number(f.Purls) + " " + plural("purl", f.Purls)
}

// mostRidges is how many ridges are named one by one.
const mostRidges = 6

// ridges says where rows of purls stand.
func (p pictured) ridges(rows []int) string {
	_, even := spaced(rows)
	switch {
	case len(rows) == 0:
		return "ridges"
	case even || len(rows) <= mostRidges:
		return "a ridge at " + p.rowsNamed(rows)
	}
	return Number(len(rows)) + " ridges"
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
	return slices.ContainsFunc(p.Stitches, func(g chart.StitchFact) bool { return reflect.DeepEqual(f, g) })
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
	rows := " in " + p.rowsOf(f) + p.of(f.Section)
	switch {
	case f.Kind == chart.Narrower:
		return "it narrows from " + stitches(f.From) + " to " + Number(f.To) + rows
	case f.Kind == chart.Wider:
		return "it widens from " + stitches(f.From) + " to " + Number(f.To) + rows
	case f.PerRow == 1 && f.Rows <= 1:
		return seen[f.Kind].one + rows
	case f.Rows <= 1 && f.PerRow > 0:
		return seen[f.Kind].several + rows + ", " + Number(f.PerRow) + " in all"
	}
	return seen[f.Kind].several + rows
}

// rowsOf names the rows in which single stitches are seen: each, where they are
// few or stand the same number of rows apart.
func (p pictured) rowsOf(f chart.StitchFact) string {
	_, even := spaced(f.In)
	all := f.Rows == 0 || f.Rows >= f.Last-f.First+1
	switch {
	case all:
		return p.span(f.First, f.Last)
	case len(f.In) == f.Rows && (even || f.Rows <= mostRidges):
		return p.rowsNamed(f.In)
	}
	return Number(f.Rows) + " of " + p.span(f.First, f.Last)
}
