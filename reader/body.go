package reader

import (
	"iter"

	"clew/patterns/instruction"
)

// inside gives the nodes inside a node.
func inside(n instruction.Node) []instruction.Node {
	switch n := n.(type) {
	case *instruction.Repeat:
		return n.Body
	case *instruction.Macro:
		return n.Body
	case *instruction.Strip:
		return n.Body
	case *instruction.AsLooks:
		return n.Body
	case *instruction.Into:
		return n.Body
	}
	return nil
}

// silent says that there is nothing to say of a node: a number was zero in
// this size, or a panel worked none of its stitches.
func silent(n instruction.Node) bool {
	switch n := n.(type) {
	case *instruction.Repeat, *instruction.Macro, *instruction.Strip, *instruction.AsLooks, *instruction.Into:
		for _, part := range inside(n) {
			if !silent(part) {
				return false
			}
		}
		return true
	}
	return false
}

// crossesIn walks the crosses of a body in order.
func crossesIn(body []instruction.Node) iter.Seq[*instruction.Cross] {
	return func(yield func(*instruction.Cross) bool) { walkCrosses(body, yield) }
}

func walkCrosses(body []instruction.Node, yield func(*instruction.Cross) bool) bool {
	for _, n := range body {
		if c, ok := n.(*instruction.Cross); ok {
			if !yield(c) {
				return false
			}
		} else if !walkCrosses(inside(n), yield) {
			return false
		}
	}
	return true
}

// lastTaking gives the last node that takes stitches off the left needle, or
// nil.
func lastTaking(body []instruction.Node) instruction.Node {
	for i := len(body) - 1; i >= 0; i-- {
		switch n := body[i].(type) {
		case *instruction.Work:
			if n.Stitch.Uses > 0 {
				return n
			}
		case *instruction.Cross, *instruction.Into, *instruction.AsLooks, *instruction.Held:
			return n
		default:
			if last := lastTaking(inside(n)); last != nil {
				return last
			}
		}
	}
	return nil
}

// written is how many things an into asks for when its groups are written out.
func written(body []instruction.Node, size int) int {
	n := 0
	for _, node := range body {
		switch node := node.(type) {
		case *instruction.Repeat:
			n += written(node.Body, size) * repeats(node, size)
		case *instruction.Macro:
			n += written(node.Body, size)
		case *instruction.Work:
			n += phrasesOf(node.Stitch)
		default:
			n++
		}
	}
	return n
}
