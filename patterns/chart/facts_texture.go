package chart

import (
	"slices"

	"clew/patterns/stitch"
)

const (
	// edgeStitches are left out at both sides of a flat piece when it is asked
	// whether a row is all knit or all purl: it may have an edge of its own.
	edgeStitches = 4
	// sparse is how many stitches of a row there are at least to each that
	// decreases or increases, for the row to look as plain ones do.
	sparse = 4
	// fewRows is how many rows show a texture that is told of a part of them.
	fewRows = 4
)

// textures tells what the rows of a piece show, section by section.
func textures(p *piece) []TextureFact {
	var facts []TextureFact
	for from := 0; from < len(p.rows); {
		to := from + 1
		for to < len(p.rows) && p.rows[to].row.Section == p.rows[from].row.Section {
			to++
		}
		r := rowRun{p, from, to}
		facts = append(facts, r.textures()...)
		from = to
	}
	return facts
}

// A rowRun is rows of a piece that follow each other in one section: from up to
// below to.
type rowRun struct {
	p        *piece
	from, to int
}

// textures tells what the run shows: by its columns, where the stitches stand
// straight above each other all along; else by the runs of alike rows in it.
func (r rowRun) textures() []TextureFact {
	crossed, level := false, true
	for i := r.from; i < r.to; i++ {
		crossed = crossed || len(r.p.rows[i].crosses) > 0
		level = level && r.p.rows[i].level()
	}
	var facts []TextureFact
	if crossed {
		facts = r.ground()
	}
	if level && (r.to-r.from > 1 || crossed) {
		if found := r.bands(); len(found) > 0 || crossed {
			return append(facts, found...)
		}
	}
	return append(facts, r.byRows(!crossed, level)...)
}

// level says that each stitch of a row was worked into the one below it.
func (m *meshRow) level() bool {
	for j := range m.slots {
		s := &m.slots[j]
		if s.state == waiting || s.state == bound || len(s.track) != 1 || int(s.track[0]) != j {
			return false
		}
	}
	return len(m.slots) > 0 && len(m.held) == 0
}

// fact is a texture of the run.
func (r rowRun) fact(t TextureFact) TextureFact {
	first, last := r.p.rows[r.from].row, r.p.rows[r.to-1].row
	t.Section, t.First, t.Last = first.Section.Name, first.Number, last.Number
	return t
}

// ground tells what lies beside the crosses of the run, where it is the same
// beside all of them.
func (r rowRun) ground() []TextureFact {
	knits, purls := 0, 0
	for i := r.from; i < r.to; i++ {
		m := &r.p.rows[i]
		for k := range m.crosses {
			slots := m.crosses[k].slots
			for _, j := range []int{int(first(slots)) - 1, int(first(slots)) + len(slots)} {
				switch {
				case len(slots) == 0 || j < 0 || j >= len(m.slots) || m.slots[j].cross >= 0:
				case m.slots[j].loop.Face == stitch.Knit:
					knits++
				default:
					purls++
				}
			}
		}
	}
	switch {
	case knits == 0 && purls > 0:
		return []TextureFact{r.fact(TextureFact{Texture: Bumpy, Place: Ground})}
	case purls == 0 && knits > 0:
		return []TextureFact{r.fact(TextureFact{Texture: Smooth, Place: Ground})}
	}
	return nil
}

// byRows tells the textures of rows that are all knit or all purl, and, if it
// is asked for, of those between them that stand straight above each other:
// between rows that are not level, of a good many that show one thing.
func (r rowRun) byRows(columns, level bool) []TextureFact {
	kinds := make([]rowKind, r.to-r.from)
	for i := range kinds {
		kinds[i] = r.p.rows[r.from+i].kind()
	}
	var facts []TextureFact
	for i := 0; i < len(kinds); {
		j := i + 1
		for j < len(kinds) && kinds[j].group() == kinds[i].group() {
			j++
		}
		run := rowRun{r.p, r.from + i, r.from + j}
		switch kinds[i].group() {
		case plainRows:
			facts = append(facts, run.plain(kinds[i:j])...)
		case columnRows:
			switch {
			case columns && level && j-i > 1:
				facts = append(facts, run.columnRuns()...)
			case columns && j-i >= fewRows:
				facts = append(facts, slices.DeleteFunc(run.columnRuns(), func(t TextureFact) bool { return t.Place == Strips })...)
			}
		}
		i = j
	}
	return facts
}

// columnRuns tells the textures of rows with knits and purls in them: of all,
// or, where they do not go together, of those that show the same at least four
// times.
func (r rowRun) columnRuns() []TextureFact {
	if found := r.bands(); len(found) > 0 {
		return found
	}
	var facts []TextureFact
	for i := r.from; i < r.to; {
		j := i + 1
		for j < r.to && sameFaces(&r.p.rows[i], &r.p.rows[j]) {
			j++
		}
		if j-i >= fewRows && (i > r.from || j < r.to) {
			facts = append(facts, rowRun{r.p, i, j}.bands()...)
		}
		i = j
	}
	return facts
}

func sameFaces(a, b *meshRow) bool {
	if len(a.slots) != len(b.slots) {
		return false
	}
	for j := range a.slots {
		if a.slots[j].loop.Face != b.slots[j].loop.Face {
			return false
		}
	}
	return true
}

// A rowKind is what one row shows by itself.
type rowKind struct {
	face   stitch.Face // of a plain row
	plain  bool        // it is all knit or all purl
	shaped bool        // it decreases or increases
	level  bool
}

// A rowGroup is what a row has in common with those that it is taken with.
type rowGroup uint8

const (
	otherRows rowGroup = iota
	plainRows
	columnRows
)

func (k rowKind) group() rowGroup {
	switch {
	case k.plain:
		return plainRows
	case k.level:
		return columnRows
	}
	return otherRows
}

// kind looks at the right side of one row.
func (m *meshRow) kind() rowKind {
	k := rowKind{level: m.level()}
	slots := m.seen()
	if len(m.crosses) > 0 || len(slots) == 0 {
		return rowKind{}
	}
	k.face, k.plain = slots[0].loop.Face, true
	shaped := 0
	for _, s := range slots {
		k.plain = k.plain && s.loop.Face == k.face
		if len(s.below) != 1 {
			shaped++
		}
	}
	k.shaped = shaped > 0 || m.row.Before.Count() != m.row.After.Count() && !m.bulk
	k.plain = k.plain && shaped*sparse <= len(slots)
	return k
}

// seen are the stitches of a row that its texture is told by: those that it
// worked, without the edges of a flat one.
func (m *meshRow) seen() []*slot {
	var slots []*slot
	for j := range m.slots {
		if s := m.slots[j].state; s != waiting && s != slipped {
			slots = append(slots, &m.slots[j])
		}
	}
	if !m.row.Rounds && len(slots) > 3*edgeStitches {
		slots = slots[edgeStitches : len(slots)-edgeStitches]
	}
	return slots
}

// plain tells the textures of rows that are each all knit or all purl: stretches
// of ridges, and what lies between them.
func (r rowRun) plain(kinds []rowKind) []TextureFact {
	faces := make([]stitch.Face, len(kinds))
	shaped := false
	for i, k := range kinds {
		faces[i], shaped = k.face, shaped || k.shaped
	}
	if t := r.column(faces); t.Texture != Mixed {
		if len(kinds) == 1 {
			return nil // it takes two rows to see it
		}
		t.Shaped = shaped
		edges := r.edges(t)
		if len(edges) > 0 {
			t.Place = Rest
		}
		return append(edges, r.fact(t))
	}
	var facts []TextureFact
	for i := 0; i < len(faces); {
		j := ridgesEnd(faces, i)
		if j == i {
			for j < len(faces) && ridgesEnd(faces, j) == j && (j == i || faces[j] == faces[i]) {
				j++
			}
		}
		if j-i > 1 {
			facts = append(facts, rowRun{r.p, r.from + i, r.from + j}.plain(kinds[i:j])...)
		}
		i = j
	}
	return facts
}

// edges tells of ridges at both edges of flat rows that show another texture
// between them.
func (r rowRun) edges(between TextureFact) []TextureFact {
	rows := r.p.rows[r.from:r.to]
	if rows[0].row.Rounds || between.Texture == Ridges || len(rows) < fewRows {
		return nil
	}
	wide := 0
	for ; wide < edgeStitches; wide++ {
		right, left := make([]stitch.Face, len(rows)), make([]stitch.Face, len(rows))
		for i := range rows {
			slots := rows[i].slots
			if len(slots) < 2*edgeStitches {
				return nil
			}
			right[i], left[i] = slots[wide].loop.Face, slots[len(slots)-1-wide].loop.Face
		}
		if r.column(right).Texture != Ridges || r.column(left).Texture != Ridges {
			break
		}
	}
	if wide == 0 {
		return nil
	}
	return []TextureFact{r.fact(TextureFact{Texture: Ridges, Place: AtEdges, Stitches: wide})}
}

// ridgesEnd is where a stretch of ridges ends that begins at a row: four rows at
// least, of which no more than two by two are alike; the row itself for none.
func ridgesEnd(faces []stitch.Face, from int) int {
	if from > 0 && from+1 < len(faces) && faces[from] == faces[from-1] && faces[from] == faces[from+1] {
		return from
	}
	end := from
	for end < len(faces) {
		n := sameFrom(faces, end)
		if n > 2 {
			break
		}
		end += n
	}
	if end-from < fewRows {
		return from
	}
	return end
}

// sameFrom is how many faces from a place on are the same.
func sameFrom(faces []stitch.Face, from int) int {
	n := 1
	for from+n < len(faces) && faces[from+n] == faces[from] {
		n++
	}
	return n
}

// column is the texture of stitches that stand above each other, each row of
// the run showing one face.
func (r rowRun) column(faces []stitch.Face) TextureFact {
	changes, longest, longestPurls := -1, 0, 0
	var purls []int
	for i := 0; i < len(faces); {
		n := sameFrom(faces, i)
		changes, longest = changes+1, max(longest, n)
		if faces[i] == stitch.Purl {
			longestPurls = max(longestPurls, n)
			for k := range n {
				purls = append(purls, r.p.rows[r.from+i+k].row.Number)
			}
		}
		i += n
	}
	switch {
	case changes == 0 && faces[0] == stitch.Knit:
		return TextureFact{Texture: Smooth}
	case changes == 0:
		return TextureFact{Texture: Bumpy}
	case longest <= 2 && len(faces) != 3:
		return TextureFact{Texture: Ridges}
	case longestPurls <= 2 && 2*len(purls) < len(faces) && ridgesApart(faces):
		return TextureFact{Texture: Ridged, Rows: purls}
	}
	return TextureFact{}
}

// ridgesApart says that no stretch of rows would be told as ridges by itself.
func ridgesApart(faces []stitch.Face) bool {
	for i := range faces {
		if ridgesEnd(faces, i) > i {
			return false
		}
	}
	return true
}
