package reader

import "clew/patterns/instruction"

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
