// Package worked tells rows apart by what is done in them, and not by how they are
// written: "k1, k1" and "k2" are the same, and so are a repeat and what it comes to, a
// cross under any of its names, and what has a name and is written out ("sl 1, k1,
// psso" is skp).
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
// no difference. A slipped stitch is slipped purlwise where nothing is said, and
// knitwise in a decrease that is written out.
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
// are worked alike one after the other are counted, and those that have a name together
// are found, before they are written.
type encoder struct {
	bytes  []byte
	runs   []run  // not written yet
	yarn   string // in use
	noted  string // the yarn that the bytes tell of
	unsaid bool   // they tell of none yet
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
		if s := named(n.Body); s != nil {
			e.work(&instruction.Work{Stitch: s, Count: 1})
			return
		}
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
	if e.unsaid || e.noted != e.yarn {
		e.flush()
		e.noteYarn()
	}
	e.runs = follow(e.runs, run{worked{w.Stitch, w.TBL, w.Manner}, w.Count, w.Count})
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
	for i, part := range c.Parts {
		if i == 0 || part.Returned > 0 || c.Parts[i-1].Returned > 0 || c.Parts[i-1].From != part.From {
			e.put('p', byte(part.From))
			e.number(part.Returned)
		}
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

// flush writes the stitches that were counted. Only now is it known which slips are
// part of no decrease, so that they are purlwise where nothing is said.
func (e *encoder) flush() {
	for i := range e.runs {
		r := &e.runs[i]
		r.worked = r.purlwise()
		if i+1 < len(e.runs) && e.runs[i+1].purlwise() == r.worked {
			e.runs[i+1].count += r.count
			continue
		}
		e.write(r)
	}
	e.runs = e.runs[:0]
}

func (e *encoder) write(r *run) {
	tbl := byte(0)
	if r.tbl {
		tbl = 1
	}
	e.bytes = append(e.bytes, 's', tbl, byte(r.manner))
	e.text(r.stitch.Abbr)
	e.number(r.count)
}
