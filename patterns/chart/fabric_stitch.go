package chart

import (
	"math"
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// The grounds: what is seen between the legs of the stitches. Purls recede, so
// theirs is darker.
const (
	knitGround = canvas.Blank
	purlGround = canvas.Faint
)

// ground is what lies behind a stitch; false for none.
func (s *sheet) ground(m *meshRow, j int, claimed bool) (canvas.Color, bool) {
	slot := &m.slots[j]
	switch {
	case slot.state == waiting:
		return 0, false
	case claimed:
		return purlGround, true
	}
	return s.groundOf(slot.loop), true
}

func (s *sheet) groundOf(l fabric.Loop) canvas.Color {
	if l.Face == stitch.Purl || s.symbols.fine {
		return purlGround
	}
	return knitGround
}

// stitch draws one stitch of a row, in a strand of a cross or not.
func (s *sheet) stitch(rows []*meshRow, i, j int, inStrand bool) {
	m := rows[i]
	slot := &m.slots[j]
	data := []string{"column", strconv.Itoa(int(slot.loop.Column)), "face", faceWord(slot.loop.Face), "index", strconv.Itoa(m.index),
		"state", stateWords[slot.state], "at", strconv.FormatFloat(s.x(slot.top), 'f', 1, 64)}
	if lean := slot.lean(); lean != "" {
		data = append(data, "lean", lean)
	}
	s.c.Begin("stitch", data...)
	defer s.c.End()
	switch slot.state {
	case waiting:
		s.c.Line(s.x(slot.foot), s.y(float64(i-1)), s.x(slot.top), s.y(float64(i)), 1, canvas.Faint, false)
		return
	case slipped:
		return // it is drawn with the row that it was worked in
	}
	tall, top := 1, slot.top
	for k, at := i+1, int32(j); k < len(rows); k++ {
		at = rows[k-1].only(rows[k], at)
		if at < 0 || rows[k].slots[at].state != slipped {
			break
		}
		tall, top = tall+1, rows[k].slots[at].top
	}
	d := stamped{shape: s.shape(m, slot), loop: slot.loop, line: float64(i - 1 + tall), top: top, foot: slot.foot, width: m.edge(j, 0) - m.edge(j, 1), tall: tall, along: inStrand, ground: s.groundOf(slot.loop)}
	switch {
	case d.shape == vee && len(slot.below) > 1:
		s.decrease(d, slot, rows[i-1])
		return
	case d.shape == hole || d.shape == bobble:
		return // see over
	case d.shape == bump && tall > 1: // the bump stays where it was made, and its loop goes up
		d.shape, d.tall = bump, 1
		up := d
		d.line, d.top = float64(i), slot.top
		up.shape, up.tall, up.foot = vee, tall-1, slot.top
		s.stamp(d)
		s.stamp(up)
		return
	case d.shape != vee && d.shape != crossed:
		d.tall, d.line, d.top = 1, float64(i), slot.top
	}
	s.stamp(d)
	if a := m.actOf(slot); a != nil && a.Stitch != nil && a.Stitch.Kind == stitch.CastOn {
		s.stamp(stamped{shape: caston, loop: slot.loop, line: float64(i-1) + 0.3, top: slot.foot, foot: slot.foot, width: d.width, tall: 1, ground: canvas.Paper})
	}
}

var stateWords = [...]string{worked: "worked", waiting: "waiting", slipped: "slipped", bound: "bound"}

func faceWord(f stitch.Face) string {
	if f == stitch.Purl {
		return "purl"
	}
	return "knit"
}

// lean says to which side a decrease leans; empty for what is none, or does not
// lean.
func (s *slot) lean() string {
	switch {
	case s.over < 0 || len(s.below) < 2:
		return ""
	case s.over == slices.Max(s.below):
		return "right"
	case s.over == slices.Min(s.below):
		return "left"
	}
	return "centre"
}

// actOf is the act that made a stitch; nil for none.
func (m *meshRow) actOf(s *slot) *fabric.Act {
	if s.act < 0 || int(s.act) >= len(m.acts) {
		return nil
	}
	return &m.acts[s.act]
}

// shape is what a stitch looks like.
func (s *sheet) shape(m *meshRow, slot *slot) shape {
	if a := m.actOf(slot); a != nil {
		switch {
		case a.Stitch != nil && (a.Stitch.Abbr == "yo" || a.Stitch.Abbr == "byo"):
			return hole
		case isBobble(a):
			return bobble
		}
	}
	switch {
	case slot.loop.Face == stitch.Purl:
		return bump
	case slot.loop.Marks&fabric.Twisted != 0:
		return crossed
	}
	return vee
}

// isBobble says that an act makes a knot that stands out: a bobble of the
// table, or an abbreviation of the pattern's own that turns the work.
func isBobble(a *fabric.Act) bool {
	if a.Stitch != nil {
		return a.Stitch.Abbr == "mb" || a.Stitch.Abbr == "pop"
	}
	n, ok := a.Node.(*instruction.Macro)
	return ok && len(a.Makes) > 0 && turns(n.Body)
}

func turns(nodes []instruction.Node) bool {
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Turn:
			return true
		case *instruction.Repeat:
			return turns(n.Body)
		case *instruction.Macro:
			return turns(n.Body)
		}
		return false
	})
}

// decrease draws stitches that run into one: those behind first.
func (s *sheet) decrease(d stamped, slot *slot, below *meshRow) {
	d.shape = leg
	draw := func(k int32) {
		d.foot = below.slots[k].top
		s.stamp(d)
	}
	for _, k := range slot.below {
		if k != slot.over {
			draw(k)
		}
	}
	if slot.over >= 0 {
		draw(slot.over)
	}
}

// stamped is a symbol to be put down.
type stamped struct {
	shape     shape
	loop      fabric.Loop
	line      float64 // between rows: its top
	top, foot float64 // the middle of its top and of its foot, across
	along     bool    // it is turned into the direction in which it leans
	width     float64
	tall      int
	ground    canvas.Color
}

func (s *sheet) stamp(d stamped) {
	d.tall = max(d.tall, 1)
	width := math.Round(min(max(d.width, 0.5), 1.6)/widthStep) * widthStep
	lean := math.Round((d.top - d.foot) / width / leanStep)
	lean = min(max(lean, -120), 120)
	k := symbolKey{shape: d.shape, lean: int8(lean), tall: uint8(min(d.tall, 100)), tint: s.yarns.tint(d.loop.Yarn), along: d.along && d.shape == vee}
	if d.shape != vee && d.shape != crossed && d.shape != leg {
		k.lean = 0
		if d.shape == bump {
			d.top = (d.top + d.foot) / 2
		}
	}
	ground := d.ground
	if d.shape == hole {
		ground = canvas.Paper
	}
	unit := width * s.w
	left := s.x(d.top) - (0.5+max(float64(k.lean)*leanStep, 0))*unit
	s.c.Stamp(s.symbols.get(k), left, s.y(d.line), k.width()*unit, (float64(k.tall)+footing)*s.h, ground)
}

// standsOut says that a stitch is drawn on top, so that those beside it and above
// it do not lean over it.
func (s *sheet) standsOut(m *meshRow, slot *slot) bool {
	drawn := s.shape(m, slot)
	return drawn == hole || drawn == bobble
}

// over draws what lies on top of a row: holes, bobbles, the yarn in front of slipped stitches,
// beads, and the chain of an edge that is bound off.
func (s *sheet) over(rows []*meshRow, i int) {
	m := rows[i]
	for _, j := range m.held {
		slot := &rows[i-1].slots[j]
		s.c.Begin("held", "column", strconv.Itoa(int(slot.loop.Column)))
		s.stamp(stamped{shape: openLoop, loop: slot.loop, line: float64(i) - 0.3, top: slot.top, foot: slot.top, width: rows[i-1].edge(int(j), 0) - rows[i-1].edge(int(j), 1), ground: canvas.Paper})
		s.c.End()
	}
	for j := range m.slots {
		slot := &m.slots[j]
		d := stamped{loop: slot.loop, line: float64(i), top: slot.top, foot: slot.top, width: m.edge(j, 0) - m.edge(j, 1), ground: s.groundOf(slot.loop)}
		a := m.actOf(slot)
		switch {
		case slot.state == worked && s.standsOut(m, slot):
			d.shape = s.shape(m, slot)
			word := "hole"
			if d.shape == bobble {
				word, d.width, d.line = "bobble", 1.5, d.line+0.4
			}
			s.c.Begin(word, "column", strconv.Itoa(int(slot.loop.Column)), "index", strconv.Itoa(m.index))
			s.stamp(d)
			s.c.End()
		case slot.state == bound:
			d.shape, d.line = chain, float64(i)+0.4
			s.stamp(d)
		case slot.state == slipped && a != nil && m.hasBar(slot, a):
			d.shape, d.loop.Yarn = bar, a.Yarn
			s.c.Begin("bar", "column", strconv.Itoa(int(slot.loop.Column)), "index", strconv.Itoa(m.index))
			s.stamp(d)
			s.c.End()
		}
		if slot.loop.Marks&fabric.Beaded != 0 && slot.act >= 0 {
			r := s.w * 0.28
			x, y := s.x(slot.top), s.y(float64(i)-0.3)
			s.c.Begin("bead")
			s.c.Path(canvas.Stroke{Path: ellipse(x, y, r, r), Color: canvas.Ink}, canvas.Stroke{Path: ellipse(x-r*0.3, y-r*0.3, r*0.25, r*0.25), Color: canvas.Paper})
			s.c.End()
		}
	}
}

// hasBar says that the yarn lies in front of a slipped stitch on the right side.
// Before the first stitch of a row there is none: the yarn comes from below.
func (m *meshRow) hasBar(slot *slot, a *fabric.Act) bool {
	w, ok := a.Node.(*instruction.Work)
	if !ok {
		return false
	}
	for i := range m.acts[:slot.act] {
		if len(m.acts[i].Makes) > 0 {
			return w.Manner&frontOf(a.Side) != 0
		}
	}
	return m.row.Rounds && w.Manner&frontOf(a.Side) != 0
}

// frontOf is the manner that brings the yarn to the right side, in a row on the
// given side.
func frontOf(side instruction.Side) instruction.Manner {
	if side == instruction.WS {
		return instruction.YarnBack
	}
	return instruction.YarnFront
}
