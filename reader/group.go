package reader

import (
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// maxFlowing is the most items of a group that is said as "and so on".
const maxFlowing = 4

// repeat says a group that is worked as far as its extent.
func (s *speaker) repeat(r *instruction.Repeat, extent instruction.Extent) {
	n := repeats(r, s.size)
	switch {
	case n == 1:
		s.list(r.Body)
	case s.mark != "": // inside a cross or an into, where a group can't be heard
		for range n {
			s.list(r.Body)
		}
	case s.single(r, extent, n):
	case extent.Reach != instruction.Times && s.canFlow(r.Body):
		s.andSoOn(r.Body, extent, n)
	default:
		s.counted(r.Body, extent, n)
	}
}

// repeats is how often a group is worked.
func repeats(r *instruction.Repeat, size int) int {
	if r.Count > 0 || r.Extent.Reach != instruction.Times {
		return r.Count
	}
	return r.Extent.N.At(size)
}

// single says a group of one thing alone, for which "twice" is enough.
func (s *speaker) single(r *instruction.Repeat, extent instruction.Extent, n int) bool {
	if w := folded(r, extent, n, s.size); w != nil {
		s.work(w)
		return true
	}
	switch only := only(r.Body).(type) {
	case *instruction.Into:
		if written(only.Body, s.size) > maxActions {
			return false
		}
		s.into(only, n, extent)
		return true
	case *instruction.Cross:
		name := nameOf(only)
		if extent.Reach != instruction.Times || s.inFull(name) {
			return false
		}
		s.item(name.Words())
		s.again(n)
		s.breathe()
		return true
	case *instruction.Marker:
		if extent.Reach == instruction.Times {
			s.marker(only, n)
			return true
		}
	case *instruction.Bead:
		if extent.Reach == instruction.Times {
			s.bead(n)
			return true
		}
	}
	return false
}

// folded gives the one stitch of a group as a stitch worked that many times
// more, or nil. A bind-off is not folded: each one leaves a stitch for the
// next.
func folded(r *instruction.Repeat, extent instruction.Extent, n, size int) *instruction.Work {
	w := alone(r.Body)
	if w == nil || w.Extent.Reach != instruction.Times || w.Stitch.Kind == stitch.BindOff {
		return nil
	}
	all := *w
	all.Count = timesOf(w, size) * n
	all.Extent = extent
	return &all
}

// only gives the one node of a body, through the abbreviations and groups that
// are worked once around it, or nil.
func only(body []instruction.Node) instruction.Node {
	if len(body) != 1 {
		return nil
	}
	switch n := body[0].(type) {
	case *instruction.Macro:
		return only(n.Body)
	case *instruction.Repeat:
		if n.Count == 1 {
			return only(n.Body)
		}
	}
	return body[0]
}

// alone gives the stitch that is all of a body, or nil.
func alone(body []instruction.Node) *instruction.Work {
	w, _ := only(body).(*instruction.Work)
	return w
}

// andSoOn says a short group in one sentence.
func (s *speaker) andSoOn(body []instruction.Node, extent instruction.Extent, n int) {
	s.close()
	s.cut()
	s.flowing = true
	s.list(body)
	s.flowing = false
	s.put(", and so on ")
	s.put(s.reachWords(extent))
	s.put(": ")
	s.put(Number(n))
	s.put(" times in all")
	s.close()
	s.cut()
}

// counted says a group between its count and its closing.
func (s *speaker) counted(body []instruction.Node, extent instruction.Extent, n int) {
	s.close()
	s.cut()
	words := Number(n) + " times"
	if extent.Reach != instruction.Times {
		words += ", " + s.reachWords(extent)
	}
	s.open(words)
	s.groups++
	s.list(body)
	switch s.groups {
	case 1:
		s.note("That is the group.")
	case 2:
		s.note("That is the inner group.")
	default:
		s.note("That is the group at level " + Number(s.groups) + ".")
	}
	s.groups--
	if holdsPanel(body) {
		s.afterPanel = false
	}
	s.cut()
}

// canFlow says that a group is short and has nothing in it that breaks a
// sentence.
func (s *speaker) canFlow(body []instruction.Node) bool {
	f := flow{speaker: s}
	f.list(body)
	return !f.broken && f.items > 0 && f.items <= maxFlowing
}

// A flow counts what a body asks for that is to be said in one sentence.
type flow struct {
	*speaker
	items  int  // of its list, each of which is one action
	broken bool // it can't be said so
}

func (f *flow) list(body []instruction.Node) {
	for _, n := range body {
		if f.broken {
			return
		}
		switch n := n.(type) {
		case *instruction.Work:
			f.broken = n.Stitch.Kind == stitch.BindOff || phrasesOf(n.Stitch) > 1
			f.items++
		case *instruction.Cross:
			f.broken = f.inFull(nameOf(n))
			f.items++
		case *instruction.Marker, *instruction.Yarn, *instruction.Bead:
			f.items++
		case *instruction.Macro:
			f.list(n.Body)
		case *instruction.Repeat:
			f.repeated(n)
		default:
			f.broken = true
		}
	}
}

// repeated counts a group inside: only one that is said as a single item can stay
// in the sentence.
func (f *flow) repeated(r *instruction.Repeat) {
	n := repeats(r, f.size)
	if n == 1 {
		f.list(r.Body)
		return
	}
	if w := folded(r, r.Extent, n, f.size); w != nil {
		f.list([]instruction.Node{w})
		return
	}
	switch only := only(r.Body).(type) {
	case *instruction.Cross, *instruction.Marker, *instruction.Bead:
		if r.Extent.Reach == instruction.Times {
			f.list([]instruction.Node{only})
			return
		}
	}
	f.broken = true
}
