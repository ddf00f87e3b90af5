package patterns

import (
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

func warning(at problem.Span, code, format string, args ...any) *problem.Problem {
	p := problem.Errorf(at, code, format, args...)
	p.Severity = problem.Warning
	return p
}

// doubts gathers what can be knitted and yet is likely a mistake, row by row.
type doubts struct {
	found   []problem.Problem
	section *Section
	age     map[int32]int // rows that each column of knits has stood for
}

// row looks at a row that was worked; place says where in the text a stitch of
// it stands, and in which row.
func (d *doubts) row(r *Row, place func(stitch int) (problem.Span, string)) {
	for _, c := range r.Crossings {
		d.found = append(d.found, crossWarnings(c)...)
	}
	if r.Section != d.section {
		d.section, d.age = r.Section, map[int32]int{}
	}
	d.stoppedColumns(r, place)
}

// afterMistake looks at a row that follows a wrong one. What its stitches show
// is a guess, so it tells only what does not depend on them.
func (d *doubts) afterMistake(r *Row) {
	for _, c := range r.Crossings {
		d.found = append(d.found, plainCrossWarnings(c)...)
	}
}

// plainCrossWarnings tells of a cross worked on the wrong side, and of one that
// leaves unsaid which strand passes in front.
func plainCrossWarnings(c fabric.Crossing) []problem.Problem {
	var found []problem.Problem
	at := c.Cross.Span
	if c.Side == instruction.WS {
		found = append(found, *warning(at, "cross-wrong-side", "this cross is worked on the wrong side, where it can't be seen").
			Suggest("check which side the row is on; crosses are usual on the right side"))
	}
	if holdUnsaid(c) {
		found = append(found, *warning(at, "cross-hold", "the pattern does not say where the cable needle waits, and so which strand passes in front").
			Suggest("write: hold in front, or: hold in back"))
	}
	return found
}

func holdUnsaid(c fabric.Crossing) bool {
	return c.Cross.Named.Zero() && c.Cross.Slipped[0].Hold == instruction.HoldUnsaid
}

// crossWarnings tells, beside that, of a cross that carries a purl over a knit
// where its mirror would carry the knits.
func crossWarnings(c fabric.Crossing) []problem.Problem {
	found := plainCrossWarnings(c)
	if holdUnsaid(c) {
		return found
	}
	at := c.Cross.Span
	left := c.Cross.Slipped[0].Hold == instruction.HoldFront || c.Cross.Named.Left
	strip := slices.Concat(c.Behind, c.Front)
	if left {
		strip = slices.Concat(c.Front, c.Behind)
	}
	mirrored := strip[:len(c.Front)]
	if left {
		mirrored = strip[len(c.Behind):]
	}
	if showing(c.Front, c.Side, stitch.Purl) > 0 && showing(c.Behind, c.Side, stitch.Knit) > 0 && showing(mirrored, c.Side, stitch.Purl) == 0 {
		w := warning(at, "cross-carries-purl", "this cross carries a purl over a knit; the other way it would carry the knits")
		if !c.Cross.Named.Zero() {
			w.Suggest("did you mean %s?", c.Cross.Named.Mirror().Name())
		} else {
			w.Suggest("hold the cable needle on the other side")
		}
		found = append(found, *w)
	}
	return found
}

// showing counts the stitches that show a face to the knitter.
func showing(loops []fabric.Loop, side instruction.Side, face stitch.Face) int {
	if side == instruction.WS {
		face = face.Other()
	}
	n := 0
	for _, l := range loops {
		if l.Face == face {
			n++
		}
	}
	return n
}

// What counts as a column of knits on a purl ground.
const (
	columnWidth  = 6 // knits side by side at most; wider is a ground of its own
	columnGround = 2 // purls on either side at least
	columnRows   = 2 // rows that it has stood for at least, unless it is the only one: several may be dots
)

// stoppedColumns tells of columns of knits on a purl ground that turn into
// purls without a cross, a decrease or an end.
func (d *doubts) stoppedColumns(r *Row, place func(stitch int) (problem.Span, string)) {
	columns := knitColumns(r.Before.Loops(), r.Rounds)
	next := make(map[int32]int, len(columns))
	var stopped []int32
	var turned map[int32]bool
	if len(columns) > 0 {
		turned = turnedPurl(r.After)
	}
	for _, c := range columns {
		rows := d.age[c[0].Column] + 1
		next[c[0].Column] = rows
		if (rows >= columnRows || len(columns) == 1) && stops(c, turned) {
			stopped = append(stopped, c[0].Column)
		}
	}
	d.age = next
	if len(stopped) == 0 || newTexture(r) {
		return
	}
	for i, l := range r.Before.Loops() {
		if !slices.Contains(stopped, l.Column) {
			continue
		}
		at, row := place(i)
		if !slices.ContainsFunc(d.found, func(p problem.Problem) bool { return p.Code == "column-stops" && p.Span == at }) {
			d.found = append(d.found, *warning(at, "column-stops", "a column of knits on a purl ground stops in %s without a cross, a decrease or an end", row).
				Suggest("check whether a knit was meant where the column stood"))
		}
	}
}

// newTexture says that a row begins another texture, so that all may change: a
// ridge, where everything is purl after ribs, or one of the basket kind, where
// many knits turn into purls and many purls into knits.
func newTexture(r *Row) bool {
	was := map[int32]stitch.Face{}
	for _, l := range r.Before.Loops() {
		was[l.Column] = l.Face
	}
	knits, toPurl, toKnit := 0, 0, 0
	for _, l := range r.After.Loops() {
		before, old := was[l.Column]
		if l.Face == stitch.Knit {
			knits++
		}
		if old && before != l.Face && l.Marks&moved == 0 {
			if l.Face == stitch.Purl {
				toPurl++
			} else {
				toKnit++
			}
		}
	}
	return knits == 0 && ribs(r.Before.Loops()) || (toPurl+toKnit)*3 >= r.Before.Count() && toKnit*2 >= toPurl
}

// moved marks stitches that are not where or what they were.
const moved = fabric.Crossed | fabric.Joined | fabric.Slipped

// ribs says that knits and purls alternate so closely that no column of knits
// has a ground of its own.
func ribs(loops []fabric.Loop) bool {
	columns, ground := 0, 0
	for i, l := range loops {
		switch {
		case l.Face == stitch.Purl:
			ground++
		case i == 0 || loops[i-1].Face == stitch.Purl:
			columns++
		}
	}
	return ground < 2*columnGround*columns
}

// knitColumns gives the runs of knits that stand on a purl ground. In rounds
// the ground goes on past the beginning.
func knitColumns(loops []fabric.Loop, rounds bool) [][]fabric.Loop {
	if rounds {
		loops = aroundJoin(loops)
	}
	var found [][]fabric.Loop
	for i := 0; i < len(loops); {
		j := i
		for j < len(loops) && loops[j].Face == loops[i].Face {
			j++
		}
		if loops[i].Face == stitch.Knit && j-i <= columnWidth && purls(loops, i-columnGround, i) && purls(loops, j, j+columnGround) {
			found = append(found, loops[i:j])
		}
		i = j
	}
	return found
}

// aroundJoin gives the stitches of a round from where the face changes first,
// with enough of them again at either end to see the ground there.
func aroundJoin(loops []fabric.Loop) []fabric.Loop {
	n := len(loops)
	first := slices.IndexFunc(loops, func(l fabric.Loop) bool { return l.Face != loops[n-1].Face })
	if first < 0 || n <= columnGround {
		return loops
	}
	round := slices.Concat(loops[first:], loops[:first])
	return slices.Concat(round[n-columnGround:], round, round[:columnGround])
}

func purls(loops []fabric.Loop, from, to int) bool {
	if from < 0 || to > len(loops) {
		return false
	}
	return !slices.ContainsFunc(loops[from:to], func(l fabric.Loop) bool { return l.Face != stitch.Purl })
}

// turnedPurl gives the columns that end in a purl which was worked in its place
// and by itself.
func turnedPurl(f fabric.Fabric) map[int32]bool {
	purl := map[int32]bool{}
	for _, l := range f.Loops() {
		if l.Face == stitch.Purl && l.Marks&moved == 0 {
			purl[l.Column] = true
		}
	}
	return purl
}

// stops says that every stitch of a column has turned into a purl.
func stops(column []fabric.Loop, turned map[int32]bool) bool {
	return !slices.ContainsFunc(column, func(l fabric.Loop) bool { return !turned[l.Column] })
}
