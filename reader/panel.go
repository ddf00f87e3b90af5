package reader

import "clew/patterns/instruction"

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

// leavePanel says that what follows is outside the panel said last. It is between
// two panels only if another one comes each time that it is worked: what ends a
// group is the row's end the last time.
func (s *speaker) leavePanel(n instruction.Node) {
	if !s.afterPanel || s.inPanel || startsPanel(n) {
		return
	}
	s.close()
	if w, plain := n.(*instruction.Work); plain && s.actions+phrasesOf(w.Stitch) <= maxActions {
		s.toCut = false // a column or two goes with the panel before it
	}
	if s.panelAhead || holdsPanel([]instruction.Node{n}) {
		s.open("between the panels")
	} else {
		s.open("after the panel")
	}
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

// holdsPanel says that a panel is said somewhere in a body.
func holdsPanel(body []instruction.Node) bool {
	for _, n := range body {
		switch n := n.(type) {
		case *instruction.Strip:
			if !silent(n) {
				return true
			}
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
