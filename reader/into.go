package reader

import "clew/patterns/instruction"

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
	inner := &speaker{size: s.size, flowing: true, mark: ", ", state: opened}
	inner.list(n.Body)
	s.item(string(inner.step[len(" "):]))
	s.put(", all into the next stitch")
	s.put(s.from)
}
