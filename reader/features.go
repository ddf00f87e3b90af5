package reader

import (
	"slices"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// features are what is remarkable in a row.
type features struct {
	yarns, crosses                   []string // words, each once
	unnamed                          bool     // a cross has no name
	edge                             []string // stitches cast on, picked up, bound off, held or returned
	net                              int      // what increases and decreases come to
	increases, overs                 bool
	decreases                        bool
	placed, removed                  bool // markers
	slipped, twisted, beaded, turned bool
	unworked                         int
	before, after                    int
}

func featuresOf(r *patterns.Row) *features {
	f := &features{unworked: r.Unworked(), before: r.Before.Count(), after: r.After.Count()}
	f.list(r.Body, 1)
	return f
}

// list notes nodes that are worked so many times.
func (f *features) list(nodes []instruction.Node, times int) {
	for _, n := range nodes {
		f.node(n, times)
	}
}

func (f *features) node(n instruction.Node, times int) {
	switch n := n.(type) {
	case *instruction.Work:
		f.work(n, times)
	case *instruction.Repeat:
		if n.Count > 0 {
			f.list(n.Body, times*n.Count)
		}
	case *instruction.Into:
		f.into(n, times)
	case *instruction.Cross:
		f.cross(n)
		for _, part := range n.Parts {
			inside := &features{}
			inside.list(part.Body, 1)
			f.net += inside.net * times
		}
	case *instruction.Marker:
		f.placed = f.placed || n.Act == instruction.PlaceMarker
		f.removed = f.removed || n.Act == instruction.RemoveMarker
	case *instruction.Turn:
		f.turned = true
	case *instruction.Yarn:
		f.yarns = addOnce(f.yarns, yarnName(n.Name))
	case *instruction.Bead:
		f.beaded = true
	case *instruction.Held:
		f.edge = addOnce(f.edge, itemWords(n, 0))
	default:
		f.list(inside(n), times)
	}
}

func (f *features) work(w *instruction.Work, times int) {
	n := timesOf(w, 0) * times
	switch w.Stitch.Kind {
	case stitch.BindOff, stitch.CastOn:
		if n > 0 {
			f.edge = addOnce(f.edge, w.Stitch.Words+" "+stitches(n))
		}
		return
	case stitch.Slip:
		f.slipped = true
	}
	f.twisted = f.twisted || w.TBL
	net := w.Stitch.Net() * n
	f.net += net
	f.increases = f.increases || net > 0
	f.decreases = f.decreases || net < 0
	f.overs = f.overs || w.Stitch == yarnOver && n > 0
}

var yarnOver = stitch.Find("yo")

// into notes several stitches that are worked into one.
func (f *features) into(n *instruction.Into, times int) {
	inside := &features{}
	makes := 0
	for _, part := range n.Body {
		if w, ok := part.(*instruction.Work); ok {
			makes += len(w.Stitch.Makes) * timesOf(w, 0)
			continue
		}
		inside.node(part, 1)
		makes += inside.net
	}
	f.net += (makes - 1) * times
	f.increases = true
}

func (f *features) cross(c *instruction.Cross) {
	if name := nameOf(c); !name.Zero() {
		f.crosses = addOnce(f.crosses, name.Words())
		return
	}
	f.unnamed = true
}

func addOnce(words []string, word string) []string {
	if slices.Contains(words, word) {
		return words
	}
	return append(words, word)
}

// telling says that what is remarkable says more of the row than its own words would.
func (f *features) telling() bool {
	return f.increases || f.decreases || len(f.crosses) > 0 || f.unnamed
}

// crossesNamed is how many kinds of cross are named; of more it is said that there are
// some.
const crossesNamed = 2

// words says what is remarkable.
func (f *features) words() string { return series(f.all("")) }

// wordsTo says it with the number of stitches that it leads to: "increase by eight, to
// one hundred and four stitches".
func (f *features) wordsTo() string {
	if f.net == 0 || len(f.edge) > 0 || f.after == 0 {
		return f.words() + f.thenHave()
	}
	if said := f.all(" to " + stitches(f.after)); len(said) > 1 {
		return series(said)
	}
	return f.words() + ", to " + stitches(f.after)
}

// orWords gives the row's own words, or what is remarkable where there are none.
func (f *features) orWords(own string) string {
	if own != "" {
		return own
	}
	return f.words()
}

// all lists what is remarkable; to stands behind what is increased or decreased.
func (f *features) all(to string) []string {
	var said []string
	add := func(is bool, words string) {
		if is {
			said = append(said, words)
		}
	}
	add(len(f.yarns) > 0, "take "+series(f.yarns))
	began := len(said)
	switch {
	case f.unnamed || len(f.crosses) > crossesNamed:
		said = append(said, "crosses")
	case len(f.crosses) > 0:
		said = append(said, f.crosses...)
	}
	said = append(said, f.edge...)
	switch {
	case f.net > 0:
		said = append(said, "increase by "+Number(f.net)+to)
	case f.net < 0:
		said = append(said, "decrease by "+Number(-f.net)+to)
	case f.overs && f.decreases:
		said = append(said, "yarn overs", "decreases")
	case f.increases || f.decreases:
		said = append(said, "increases", "decreases")
	}
	add(f.placed, "place markers")
	add(f.removed, "remove markers")
	add(f.beaded, "beads")
	add(f.unworked > 0, "turn with "+stitches(f.unworked)+" unworked")
	add(f.unworked == 0 && f.turned, "turns in the middle")
	if len(said) == began {
		add(f.slipped, "slipped stitches")
		add(f.twisted, "stitches through the back loop")
	}
	if len(said) == began {
		add(true, "knit and purl stitches")
	}
	return said
}

// thenHave says which count a row leaves after its words.
func (f *features) thenHave() string {
	if f.before == f.after || f.after == 0 {
		return ""
	}
	return "; you then have " + stitches(f.after)
}
