package reader

import (
	"slices"
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// list says nodes one after the other.
func (s *speaker) list(nodes []instruction.Node) {
	outside := s.panelAhead
	for i, n := range nodes {
		if silent(n) {
			continue
		}
		s.panelAhead = outside || holdsPanel(nodes[i+1:])
		s.leavePanel(n)
		s.node(n)
	}
	s.panelAhead = outside
}

func (s *speaker) node(n instruction.Node) {
	switch n := n.(type) {
	case *instruction.Work:
		s.work(n)
	case *instruction.Repeat:
		s.repeat(n, n.Extent)
	case *instruction.Macro:
		s.list(n.Body)
	case *instruction.Into:
		s.into(n, 1, instruction.Extent{})
	case *instruction.Cross:
		s.cross(n)
	case *instruction.AsLooks:
		s.asLooks(n)
	case *instruction.Strip:
		s.panel(n)
	case *instruction.Marker:
		s.marker(n, 1)
	case *instruction.Turn:
		s.item(turnWords(n))
		s.breathe()
	case *instruction.Bead:
		s.bead(1)
	default:
		s.item(itemWords(n, s.size))
	}
}

// item says one thing to do that has nothing inside.
func (s *speaker) item(words string) {
	s.action()
	s.put(words)
}

// itemWords words what takes up a yarn or holds stitches.
func itemWords(n instruction.Node, size int) string {
	switch n := n.(type) {
	case *instruction.Yarn:
		return "take " + yarnName(n.Name)
	case *instruction.Held:
		count := n.Count
		if count == 0 {
			count = n.N.At(size)
		}
		if n.Return {
			return "return " + Number(count) + " held " + plural("stitch", count) + " to the left needle"
		}
		return "put " + stitches(count) + " on hold"
	}
	return ""
}

// yarnName words a yarn: the trade's letters as what they stand for, any other
// name as it is.
func yarnName(name string) string {
	key := stitch.Key(name)
	for _, letters := range []struct{ abbr, words string }{{"mc", "the main color"}, {"cc", "contrast color"}} {
		number, ok := strings.CutPrefix(key, letters.abbr)
		switch {
		case !ok || strings.Trim(number, "0123456789") != "":
		case number != "":
			return strings.TrimPrefix(letters.words, "the ") + " " + Name(number)
		default:
			return "the " + strings.TrimPrefix(letters.words, "the ")
		}
	}
	return Name(name)
}

func turnWords(n *instruction.Turn) string {
	if n.Wrap {
		return "wrap the next stitch and turn"
	}
	return "turn"
}

// marker says what is done with a marker, n times. A knitter pauses at it,
// unless she has done nothing yet.
func (s *speaker) marker(m *instruction.Marker, n int) {
	s.item([...]string{"place a marker", "slip the marker", "remove the marker"}[m.Act])
	s.again(n)
	if s.actions > 1 {
		s.breathe()
	}
}

func (s *speaker) bead(n int) {
	s.item("place a bead")
	s.again(n)
}

// again says how often the words before it are worked, where that is more than
// once.
func (s *speaker) again(n int) {
	if n > 1 {
		s.put(" ")
		s.put(Times(n))
	}
}

// work says a stitch of the table. One whose words are several phrases, as "slip,
// slip, knit", is a sentence of its own: in a list nothing would tell where it
// begins and ends.
func (s *speaker) work(w *instruction.Work) {
	n := timesOf(w, s.size)
	own := phrasesOf(w.Stitch) > 1 && s.mark == "" && !s.flowing
	if own && n > 1 && w.Extent.Reach != instruction.Times {
		once := *w
		once.Extent, once.Count = instruction.Extent{}, 1
		s.andSoOn([]instruction.Node{&once}, w.Extent, n)
		return
	}
	if own {
		s.close()
	}
	s.phrases(phrasesOf(w.Stitch))
	s.stitch(w, n)
	s.put(s.from)
	s.reach(w.Extent)
	switch {
	case own:
		s.close()
	case w.Stitch.Kind == stitch.BindOff && (w != s.last || s.groups > 0) && s.mark == "":
		s.note("The stitch left on the right needle counts as the first of what follows.")
	}
}

// isPhrase says that a stitch's words are several phrases, so that how often
// they are worked would be heard of the last phrase alone if it were said right
// behind it.
func isPhrase(w *instruction.Work, n int) bool {
	return n > 1 && phrasesOf(w.Stitch) > 1
}

// phrasesOf is how many things a stitch's words ask for: "slip, slip, knit"
// asks for three.
func phrasesOf(s *stitch.Stitch) int { return 1 + strings.Count(s.Words, ",") }

// hasPhrases says that there is a stitch among nodes whose words are several phrases.
func hasPhrases(nodes []instruction.Node) bool {
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		w, ok := n.(*instruction.Work)
		return ok && phrasesOf(w.Stitch) > 1
	})
}

// stitch says a stitch worked n times, without how far that is.
func (s *speaker) stitch(w *instruction.Work, n int) {
	s.put(w.Stitch.Words)
	if w.Stitch.Counted {
		s.put(" ")
		s.put(Number(n))
		if w.Stitch.Noun != "" {
			s.put(" ")
			s.put(plural(w.Stitch.Noun, n))
		}
	}
	s.manner(w.Manner)
	s.loop(w)
	switch {
	case isPhrase(w, n):
		s.put(", ")
		s.put(Number(n))
		s.put(" times in all")
	case !w.Stitch.Counted:
		s.again(n)
	}
}

func (s *speaker) manner(m instruction.Manner) {
	for _, way := range [...]struct {
		bit   instruction.Manner
		words string
	}{
		{instruction.Purlwise, " purlwise"}, {instruction.Knitwise, " knitwise"},
		{instruction.YarnFront, " with the yarn in front"}, {instruction.YarnBack, " with the yarn in back"},
	} {
		if m&way.bit != 0 {
			s.put(way.words)
		}
	}
}

func (s *speaker) loop(w *instruction.Work) {
	if w.TBL {
		s.put(" through the back loop")
	}
}

// timesOf is how often a stitch is worked: what the fabric found, or, in a
// tree that was not worked, what is written.
func timesOf(w *instruction.Work, size int) int {
	if w.Count > 0 || w.Extent.Reach != instruction.Times {
		return w.Count
	}
	return w.Extent.N.At(size)
}

// reach says how far the item before it goes, where it goes to a place.
func (s *speaker) reach(e instruction.Extent) {
	if e.Reach != instruction.Times && s.mark == "" {
		s.put(", ")
		s.put(s.reachWords(e))
	}
}

// reachWords words a place that is worked to. Inside a panel the end is the
// panel's own.
func (s *speaker) reachWords(e instruction.Extent) string {
	n, of := e.N.At(s.size), ""
	if s.inPanel {
		of = " of the panel"
	}
	switch {
	case e.Reach == instruction.ToLast && n > 0:
		return "to the last " + Number(n) + of
	case e.Reach == instruction.ToMarker && n > 0:
		return "to " + Number(n) + " before the marker"
	case e.Reach == instruction.ToMarker:
		return "to the marker"
	}
	return "to the end" + of
}
