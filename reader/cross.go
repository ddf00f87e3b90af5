package reader

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// Crosses gives the names of the crosses that a row's body works, each once,
// in the order in which they come. Longhand crosses that equal no named one
// have no name.
func Crosses(body []instruction.Node) []string {
	var names []string
	for c := range crossesIn(body) {
		if named := nameOf(c); !named.Zero() {
			if name := named.Name(); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// nameOf gives the named cross that a cross is: its own name, or for a
// longhand one the name of the cross that moves and works the same stitches in
// the same way. Zero where there is none.
func nameOf(c *instruction.Cross) stitch.Cross {
	if !c.Named.Zero() {
		return c.Named
	}
	if len(c.Slipped) == 0 || len(c.Parts) != len(c.Slipped)+1 || len(c.Slipped) > 2 || c.Slipped[0].Hold == instruction.HoldUnsaid {
		return stitch.Cross{}
	}
	left := c.Slipped[0].Hold == instruction.HoldFront
	sources := []instruction.Source{instruction.FromLeft, instruction.FromFirst}
	if len(c.Slipped) == 2 {
		sources = []instruction.Source{instruction.FromLeft, instruction.FromSecond, instruction.FromFirst}
		if c.Slipped[1].Hold != instruction.HoldBack {
			return stitch.Cross{}
		}
	}
	var widths, purls [3]int
	for i, part := range c.Parts {
		w := plainPart(part, sources[i])
		if w == nil {
			return stitch.Cross{}
		}
		widths[i] = timesOf(w, 0)
		if w.Stitch == purl {
			purls[i] = 1
		}
	}
	last := len(c.Parts) - 1
	if widths[last] != c.Slipped[0].N {
		return stitch.Cross{}
	}
	named := stitch.Cross{Front: widths[0], Back: widths[last], Left: left}
	behind := last // the strand that a purl cross purls
	switch {
	case len(c.Slipped) == 2:
		if widths[1] != c.Slipped[1].N {
			return stitch.Cross{}
		}
		named.Middle, behind = widths[1], 1
	case left:
		behind = 0
	}
	if left {
		named.Front, named.Back = named.Back, named.Front
	}
	named.Purl = purls[behind] == 1
	if purls[0]+purls[1]+purls[2] > purls[behind] || max(named.Front, named.Middle, named.Back) > stitch.MaxStrand {
		return stitch.Cross{}
	}
	return named
}

// plainPart gives the knits or purls that are all of a part, or nil.
func plainPart(part instruction.Part, from instruction.Source) *instruction.Work {
	if part.From != from || part.Returned > 0 || len(part.Body) != 1 {
		return nil
	}
	w, ok := part.Body[0].(*instruction.Work)
	if !ok || w.TBL || w.Manner != 0 || (w.Stitch != knit && w.Stitch != purl) {
		return nil
	}
	return w
}

// inFull says whether a cross is to be said in full.
func (s *speaker) inFull(c stitch.Cross) bool {
	switch {
	case c.Zero() || s.form.Crosses == AlwaysFull:
		return true
	case s.form.Crosses == AlwaysShort || slices.Contains(s.heard, c):
		return false
	}
	return len(s.form.Heard) == 0 || !s.form.Heard[c.Name()]
}

// cross says a cross, in full or by its name.
func (s *speaker) cross(c *instruction.Cross) {
	name := nameOf(c)
	switch {
	case s.mark != "":
		s.crossInside(c)
	case s.inFull(name):
		s.close()
		s.cut()
		s.crossInFull(c, name)
		s.close()
		s.cut()
		s.heard = append(s.heard, name)
	default:
		s.item(name.Words())
		s.breathe()
	}
}

// crossInFull says each thing that is done.
func (s *speaker) crossInFull(c *instruction.Cross, name stitch.Cross) {
	words := "cross"
	if !name.Zero() {
		words = name.Words()
	}
	s.parts(words, "still in the cross")
	s.crossParts(c)
}

// crossInside says a cross inside another or inside an into.
func (s *speaker) crossInside(c *instruction.Cross) {
	if name := nameOf(c); !name.Zero() {
		s.item(name.Words())
		return
	}
	s.crossParts(c)
}

func (s *speaker) crossParts(c *instruction.Cross) {
	for i, strand := range c.Slipped {
		s.item("slip " + Number(strand.N) + [...]string{" to the cable needle", " to a second cable needle"}[i] +
			[...]string{"", " and hold it behind", " and hold it in front"}[strand.Hold])
	}
	for _, part := range c.Parts {
		if part.Returned > 0 {
			s.item("put " + Number(part.Returned) + " from the cable needle back on the left needle")
			continue
		}
		s.from = [...]string{"", " from the cable needle", " from the second cable needle"}[part.From]
		s.list(part.Body)
		s.from = ""
	}
}
