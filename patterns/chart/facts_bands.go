package chart

import (
	"slices"

	"clew/patterns/stitch"
)

// widestEdge is how many stitches at each side of a flat piece are at most told
// as its edges.
const widestEdge = 12

// A band is columns of stitches side by side that show one texture.
type band struct {
	texture  TextureFact
	stitches int
	crossed  bool // strands cross in it, or pass through it
}

// A columnGroup is columns side by side that show the same face in each row.
type columnGroup struct {
	faces    []stitch.Face // by row; nil where strands cross
	stitches int
}

// bands tells the textures of rows in which each stitch stands straight above
// the one below. Whatever is told holds in all rows of the run.
func (r rowRun) bands() []TextureFact {
	groups := r.columnGroups()
	var bands []band
	for k := 0; k < len(groups); {
		n, t := r.alternating(groups, k)
		if n == 0 {
			n, t = 1, TextureFact{}
			if groups[k].faces != nil {
				t = r.column(groups[k].faces)
			}
		}
		b := band{texture: t, crossed: groups[k].faces == nil}
		for _, g := range groups[k : k+n] {
			b.stitches += g.stitches
		}
		bands = append(bands, b)
		k += n
	}
	return r.told(bands)
}

// columnGroups gives the columns of the run, from the right.
func (r rowRun) columnGroups() []columnGroup {
	rows := r.p.rows[r.from:r.to]
	crossed := make([]bool, len(rows[0].slots))
	for i := range rows {
		for j := range rows[i].slots {
			crossed[j] = crossed[j] || rows[i].slots[j].cross >= 0
		}
	}
	var groups []columnGroup
	for j := range crossed {
		var faces []stitch.Face
		if !crossed[j] {
			faces = make([]stitch.Face, len(rows))
			for i := range rows {
				faces[i] = rows[i].face(j)
			}
		}
		if last := len(groups) - 1; last >= 0 && (faces == nil) == (groups[last].faces == nil) && slices.Equal(groups[last].faces, faces) {
			groups[last].stitches++
			continue
		}
		groups = append(groups, columnGroup{faces, 1})
	}
	return groups
}

// face is what the right side shows of a stitch. One that is slipped counts as
// the nearest one that the row worked: it shows none of its own there.
func (m *meshRow) face(j int) stitch.Face {
	for near := range m.slots {
		for _, k := range []int{j - near, j + near} {
			if k >= 0 && k < len(m.slots) && m.slots[k].state == worked {
				return m.slots[k].loop.Face
			}
		}
	}
	return m.slots[j].loop.Face
}

// alternating gives the texture of two kinds of columns that come by turns from a
// group on, and how many groups it takes in: ribs, or blocks that change places.
// Where that is all of the rows, the group at either end may be narrower.
func (r rowRun) alternating(all []columnGroup, from int) (int, TextureFact) {
	groups := all[from:]
	if len(groups) < 3 || groups[0].faces == nil || groups[1].faces == nil {
		return 0, TextureFact{}
	}
	every, opposed := opposites(groups[0].faces, groups[1].faces)
	if !opposed {
		return 0, TextureFact{}
	}
	n := 2
	for n < len(groups) && slices.Equal(groups[n].faces, groups[n-2].faces) {
		n++
	}
	if n < 3 || n < 4 && every == 0 {
		return 0, TextureFact{}
	}
	widths := [2]int{groups[n-1].stitches, groups[1].stitches} // of every other group
	if n > 3 {
		widths[0] = groups[2].stitches
	} else {
		widths[0] = max(groups[0].stitches, groups[2].stitches)
	}
	for i := 1; i < n-1; i++ {
		if groups[i].stitches != widths[i%2] {
			return 0, TextureFact{}
		}
	}
	fits := func(g columnGroup, width int) bool {
		return g.stitches == width || g.stitches < width && n == len(all)
	}
	if !fits(groups[0], widths[0]) || !fits(groups[n-1], widths[(n-1)%2]) {
		return 0, TextureFact{}
	}
	t := TextureFact{Texture: Ribbing, Knits: widths[0], Purls: widths[1]}
	if groups[0].faces[0] == stitch.Purl {
		t.Knits, t.Purls = t.Purls, t.Knits
	}
	switch {
	case every == 1 && t.Knits == 1 && t.Purls == 1:
		t = TextureFact{Texture: Seed}
	case every > 0:
		t.Texture, t.Every = Blocks, every
	}
	return n, t
}

// opposites says that two columns show different faces in each row, and after
// how many rows these change places; 0 where they never do.
func opposites(a, b []stitch.Face) (every int, opposed bool) {
	for i := range a {
		if a[i] == b[i] {
			return 0, false
		}
	}
	var runs []int
	for i := 0; i < len(a); {
		n := sameFrom(a, i)
		runs = append(runs, n)
		i += n
	}
	if len(runs) == 1 {
		return 0, true
	}
	every = slices.Max(runs)
	for _, n := range runs[1 : len(runs)-1] {
		if n != every {
			return 0, false
		}
	}
	return every, true
}

// told makes facts of bands: of one that is all there is, of edges that are the
// same at both sides, of the rest, and of strips that are alike.
func (r rowRun) told(bands []band) []TextureFact {
	if len(bands) == 1 {
		if bands[0].texture.Texture == Mixed {
			return nil
		}
		return []TextureFact{r.fact(bands[0].texture)}
	}
	if last := len(bands) - 1; r.p.rows[r.from].row.Rounds && bands[0].goesOn(bands[last]) { // around the end of the round
		bands[0].stitches += bands[last].stitches
		bands = bands[:last]
	}
	var facts []TextureFact
	inner := bands
	if last := len(bands) - 1; last > 1 && !r.p.rows[r.from].row.Rounds && bands[0].isEdge(bands[last]) {
		t := bands[0].texture
		t.Place, t.Stitches = AtEdges, bands[0].stitches
		facts, inner = append(facts, r.fact(t)), bands[1:last]
	}
	crossed := slices.ContainsFunc(bands, func(b band) bool { return b.crossed })
	if len(inner) == 1 && !crossed {
		t := inner[0].texture
		if t.Texture != Mixed {
			t.Place = Rest
			facts = append(facts, r.fact(t))
		}
		return facts
	}
	if !crossed && len(inner) >= 4 && !slices.ContainsFunc(inner, func(b band) bool { return !b.flat() }) {
		t := TextureFact{Texture: Ribbing}
		if len(inner) < len(bands) {
			t.Place = Rest
		}
		return append(facts, r.fact(t))
	}
	return append(facts, r.strips(inner)...)
}

// goesOn says that two bands are one, which the end of the round divides.
func (b band) goesOn(last band) bool {
	columns := b.texture.Texture == Smooth || b.texture.Texture == Ridges || b.texture.Texture == Ridged
	return columns && !b.crossed && !last.crossed && b.texture.alike(last.texture)
}

// flat says that a band is all knits or all purls.
func (b band) flat() bool { return b.texture.Texture == Smooth || b.texture.Texture == Bumpy }

// isEdge says that two bands, which are the outermost, are edges to be told.
func (b band) isEdge(other band) bool {
	return !b.crossed && !other.crossed && b.stitches == other.stitches && b.stitches <= widestEdge &&
		!b.flat() && b.texture.Texture != Mixed && b.texture.alike(other.texture)
}

// alike says that two textures of the same rows are the same.
func (t TextureFact) alike(other TextureFact) bool {
	return t.Texture == other.Texture && t.Knits == other.Knits && t.Purls == other.Purls && t.Every == other.Every && slices.Equal(t.Rows, other.Rows)
}

// leastStrip is how many stitches wide a strip is at least to be told, and
// plainStrip is that for one of knits.
const (
	leastStrip = 2
	plainStrip = 3
)

// strips tells of bands that are alike together. Purls, and a few knits, are
// the ground of the others.
func (r rowRun) strips(bands []band) []TextureFact {
	var facts []TextureFact
	for _, b := range bands {
		if b.crossed || b.texture.Texture == Mixed || b.texture.Texture == Bumpy || b.stitches < leastStrip || b.flat() && b.stitches < plainStrip {
			continue
		}
		i := slices.IndexFunc(facts, func(f TextureFact) bool { return f.Stitches == b.stitches && f.alike(b.texture) })
		if i >= 0 {
			facts[i].Times++
			continue
		}
		t := b.texture
		t.Place, t.Stitches, t.Times = Strips, b.stitches, 1
		facts = append(facts, r.fact(t))
	}
	slices.SortStableFunc(facts, func(a, b TextureFact) int { // what is more than plain comes first
		flat := func(f TextureFact) int {
			if f.Texture == Smooth {
				return 1
			}
			return 0
		}
		return flat(a) - flat(b)
	})
	return facts
}
