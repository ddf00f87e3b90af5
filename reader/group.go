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

// into says what is worked into each of the next n stitches.
func (s *speaker) into(n *instruction.Into, times int, extent instruction.Extent) {
	if s.mark != "" { // inside a cross it is one part
		s.intoPart(n)
		return
	}
	s.close()
	s.cut()
	words := "into the next stitch"
	if times > 1 {
		words = "into each of the next " + stitches(times)
		if extent.Reach != instruction.Times {
			words += ", " + s.reachWords(extent)
		}
	}
	s.parts(words, "into the same stitch")
	s.list(n.Body)
	s.close()
	s.cut()
}

// intoPart says an into inside a cross: "knit one, yarn over, knit one, all
// into the next stitch".
func (s *speaker) intoPart(n *instruction.Into) {
	inner := &speaker{size: s.size, flowing: true, mark: ", "}
	inner.list(n.Body)
	s.item(string(inner.step))
	s.put(", all into the next stitch")
	s.put(s.from)
}

// asLooks says "work each stitch as it looks" and what that comes to.
func (s *speaker) asLooks(n *instruction.AsLooks) {
	words := "work each stitch as it looks"
	if n.Opposite {
		words = "work each stitch against its look"
	}
	s.close()
	s.cut()
	if len(n.Body) <= maxActions && isFlat(n.Body) {
		s.open(words)
		s.list(n.Body)
	} else {
		s.introduce(words)
		s.listTo(n.Body, n.Extent)
	}
	s.close()
	s.cut()
}

// introduce says a sentence that the next ones spell out.
func (s *speaker) introduce(words string) {
	if s.state == between {
		s.begin()
	} else {
		s.step = append(s.step, ' ')
	}
	s.put(words)
	s.state = listing
	s.close()
}

// listTo says nodes; a group at their end goes as far as the extent.
func (s *speaker) listTo(nodes []instruction.Node, extent instruction.Extent) {
	last := len(nodes) - 1
	if r, ok := nodes[last].(*instruction.Repeat); ok {
		s.list(nodes[:last])
		s.repeat(r, extent)
		return
	}
	s.list(nodes)
}

func isFlat(nodes []instruction.Node) bool {
	for _, n := range nodes {
		if _, ok := n.(*instruction.Work); !ok {
			return false
		}
	}
	return true
}

// panel says one panel's row.
func (s *speaker) panel(n *instruction.Strip) {
	s.close()
	s.cut()
	s.open(s.panelName(n.Panel))
	s.inPanel = true
	s.list(n.Body)
	s.close()
	s.cut()
	s.inPanel, s.afterPanel = false, true
}

// panelName is what a panel is called. A row may set the same panel many
// times.
func (s *speaker) panelName(name string) string {
	words, known := s.panels[name]
	if !known {
		if s.panels == nil {
			s.panels = map[string]string{}
		}
		words = "panel " + Name(name)
		s.panels[name] = words
	}
	return words
}

// leavePanel says that what follows is outside the panel said last.
func (s *speaker) leavePanel(n instruction.Node) {
	if !s.afterPanel || s.inPanel || startsPanel(n) {
		return
	}
	s.close()
	if _, plain := n.(*instruction.Work); plain && s.actions < maxActions {
		s.toCut = false // a column or two goes with the panel before it
	}
	s.open("between the panels")
	s.afterPanel = false
}

// startsPanel says that the first thing said of a node is a panel.
func startsPanel(n instruction.Node) bool {
	switch n := n.(type) {
	case *instruction.Strip:
		return true
	case *instruction.Repeat:
		return anyStarts(n.Body)
	case *instruction.Macro:
		return anyStarts(n.Body)
	}
	return false
}

func anyStarts(body []instruction.Node) bool {
	for _, n := range body {
		if !silent(n) {
			return startsPanel(n)
		}
	}
	return false
}

func holdsPanel(body []instruction.Node) bool {
	for _, n := range body {
		switch n := n.(type) {
		case *instruction.Strip:
			return true
		case *instruction.Repeat:
			if holdsPanel(n.Body) {
				return true
			}
		case *instruction.Macro:
			if holdsPanel(n.Body) {
				return true
			}
		}
	}
	return false
}
