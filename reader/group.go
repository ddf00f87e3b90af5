package reader

import (
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// maxFlowing is the most actions of a group that is said as "and so on".
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
	actions := s.flows(body)
	return actions > 0 && actions <= maxFlowing
}

// flows counts the actions of a body that can be said in one sentence; past
// any limit where it can't.
func (s *speaker) flows(body []instruction.Node) int {
	const broken = maxFlowing + 1
	actions := 0
	for _, n := range body {
		switch n := n.(type) {
		case *instruction.Work:
			if n.Stitch.Kind == stitch.BindOff || isPhrase(n, timesOf(n, s.size)) {
				return broken
			}
			actions++
		case *instruction.Cross:
			if s.inFull(nameOf(n)) {
				return broken
			}
			actions++
		case *instruction.Marker, *instruction.Yarn, *instruction.Bead:
			actions++
		case *instruction.Macro:
			actions += s.flows(n.Body)
		case *instruction.Repeat:
			actions += s.flowsRepeated(n)
		default:
			return broken
		}
		if actions > maxFlowing {
			return broken
		}
	}
	return actions
}

// flowsRepeated is flows for a group inside: only one that is said as a single
// item can stay in the sentence.
func (s *speaker) flowsRepeated(r *instruction.Repeat) int {
	n := repeats(r, s.size)
	if n == 1 {
		return s.flows(r.Body)
	}
	if w := folded(r, r.Extent, n, s.size); w != nil {
		return s.flows([]instruction.Node{w})
	}
	switch only := only(r.Body).(type) {
	case *instruction.Cross, *instruction.Marker, *instruction.Bead:
		if r.Extent.Reach == instruction.Times {
			return s.flows([]instruction.Node{only})
		}
	}
	return maxFlowing + 1
}
