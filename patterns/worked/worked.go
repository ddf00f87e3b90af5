// Package worked tells rows apart by what is done in them, and not by how they are
// written: "k1, k1" and "k2" are the same, and so are a repeat and what it comes to.
package worked

import (
	"encoding/binary"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// Key adds to a buffer what a worked body does, and gives the yarn in use after it.
// Two rows that add the same bytes are worked alike, stitch by stitch; where one takes
// up a yarn, the other takes up the same one. Yarns are told by stitch.Key of their
// names; "" is the yarn cast on with.
//
// Names of panels, the pattern's own abbreviations and markers that are slipped make
// no difference. A slipped stitch is slipped purlwise where nothing is said.
func Key(buffer []byte, body []instruction.Node, yarn string) ([]byte, string) {
	e := encoder{bytes: buffer, yarn: yarn, noted: yarn}
	e.list(body)
	e.flush()
	e.noteYarn()
	return e.bytes, e.yarn
}

// KeyInYarn is Key, and tells apart rows that are worked in different yarns, too,
// wherever those were taken up.
func KeyInYarn(buffer []byte, body []instruction.Node, yarn string) ([]byte, string) {
	e := encoder{bytes: buffer, yarn: yarn, unsaid: true}
	e.list(body)
	e.flush()
	return e.bytes, e.yarn
}

// YarnAfter gives the yarn in use after a worked body that begins with another.
func YarnAfter(body []instruction.Node, yarn string) string {
	for _, n := range body {
		switch n := n.(type) {
		case *instruction.Yarn:
			yarn = stitch.Key(n.Name)
		case *instruction.Cross:
			for _, part := range n.Parts {
				yarn = YarnAfter(part.Body, yarn)
			}
		case *instruction.Repeat:
			if n.Count > 0 {
				yarn = YarnAfter(n.Body, yarn)
			}
		default:
			yarn = YarnAfter(Inside(n), yarn)
		}
	}
	return yarn
}

// Inside gives the nodes inside a node; a cross has parts instead.
func Inside(n instruction.Node) []instruction.Node {
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

// An encoder writes what is done, each thing with a letter before it. Stitches that
// are worked alike one after the other are counted before they are written.
type encoder struct {
	bytes  []byte
	run    run
	count  int    // how often the run is worked; 0 for no run
	yarn   string // in use
	noted  string // the yarn that the bytes tell of
	unsaid bool   // they tell of none yet
}

// A run is a stitch, as it is worked.
type run struct {
	stitch *stitch.Stitch
	tbl    bool
	manner instruction.Manner
}

func (e *encoder) list(nodes []instruction.Node) {
	for _, n := range nodes {
		e.node(n)
	}
}

func (e *encoder) node(n instruction.Node) {
	switch n := n.(type) {
	case *instruction.Work:
		e.work(n)
	case *instruction.Repeat:
		for range n.Count {
			e.list(n.Body)
		}
	case *instruction.Into:
		e.put('i')
		e.list(n.Body)
		e.put('.')
	case *instruction.Cross:
		e.cross(n)
	case *instruction.Marker:
		if n.Act != instruction.SlipMarker {
			e.put('m', byte(n.Act))
		}
	case *instruction.Turn:
		if n.Wrap {
			e.put('w')
		}
		e.put('t')
	case *instruction.Yarn:
		e.yarn = stitch.Key(n.Name)
	case *instruction.Bead:
		e.put('b')
	case *instruction.Held:
		e.held(n)
	default:
		e.list(Inside(n))
	}
}

func (e *encoder) work(w *instruction.Work) {
	if w.Count == 0 {
		return
	}
	r := run{w.Stitch, w.TBL, w.Manner}
	if w.Stitch.Kind == stitch.Slip && r.manner&instruction.Knitwise == 0 {
		r.manner |= instruction.Purlwise
	}
	if e.count > 0 && (r != e.run || e.unsaid || e.noted != e.yarn) {
		e.flush()
	}
	if e.noteYarn(); e.count == 0 {
		e.run = r
	}
	e.count += w.Count
}

func (e *encoder) held(n *instruction.Held) {
	if n.Return {
		e.put('r')
	} else {
		e.put('h')
	}
	e.number(n.Count)
}

func (e *encoder) cross(c *instruction.Cross) {
	e.put('c', byte(len(c.Slipped)))
	for _, s := range c.Slipped {
		e.number(s.N)
		e.put(byte(s.Hold))
	}
	for _, part := range c.Parts {
		e.put('p', byte(part.From))
		e.number(part.Returned)
		e.list(part.Body)
	}
	e.put('.')
}

// put writes what is no stitch of a run.
func (e *encoder) put(bytes ...byte) {
	e.flush()
	e.bytes = append(e.bytes, bytes...)
}

func (e *encoder) number(n int) { e.bytes = binary.AppendUvarint(e.bytes, uint64(n)) }

func (e *encoder) text(s string) { e.bytes = append(append(e.bytes, s...), 0) }

// noteYarn writes which yarn is in use, where that is not known yet.
func (e *encoder) noteYarn() {
	if !e.unsaid && e.noted == e.yarn {
		return
	}
	e.bytes = append(e.bytes, 'y')
	e.text(e.yarn)
	e.noted, e.unsaid = e.yarn, false
}

// flush writes the stitches that were counted.
func (e *encoder) flush() {
	if e.count == 0 {
		return
	}
	tbl := byte(0)
	if e.run.tbl {
		tbl = 1
	}
	e.bytes = append(e.bytes, 's', tbl, byte(e.run.manner))
	e.text(e.run.stitch.Abbr)
	e.number(e.count)
	e.count = 0
}
