package chart

import (
	"fmt"
	"math"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
)

// beginning draws what a piece begins with: its cast-on edge, or the row that
// its first one is worked into.
func (s *sheet) beginning(p *piece) {
	s.c.Begin("beginning", "cast-on", strconv.FormatBool(p.castOn))
	defer s.c.End()
	b := &p.base
	rows := p.all()
	for j := range b.slots {
		slot := &b.slots[j]
		d := stamped{loop: slot.loop, line: 0, top: slot.top, foot: slot.top, width: b.edge(j, 0) - b.edge(j, 1), tall: 1, ground: canvas.Paper}
		if p.castOn {
			link := d
			link.shape, link.line = caston, 0.3
			s.stamp(link)
		}
		d.shape = s.shape(b, slot)
		d.ground = s.groundOf(slot.loop)
		if !p.castOn {
			s.c.Rect(s.x(b.edge(j, 1)), s.y(0), s.x(b.edge(j, 0))-s.x(b.edge(j, 1)), s.h, d.ground)
		}
		for k, at := 1, int32(j); k < len(rows) && d.shape == vee; k++ {
			at = rows[k-1].only(rows[k], at)
			if at < 0 || rows[k].slots[at].state != slipped {
				break
			}
			d.tall, d.top, d.line = d.tall+1, rows[k].slots[at].top, float64(k)
		}
		if p.castOn && d.tall == 1 {
			continue
		}
		if p.castOn { // it is slipped at once, and begins at the edge
			d.tall--
		}
		s.stamp(d)
	}
}

// needle draws the needle, where stitches are left on it.
func (s *sheet) needle(p *piece) {
	top := &p.rows[len(p.rows)-1]
	n := top.row.After.Count()
	low, high := math.Inf(1), math.Inf(-1)
	drawn := 0
	for j := range top.slots {
		if top.slots[j].state != bound {
			drawn++
			low, high = min(low, s.x(top.slots[j].x-0.5)), max(high, s.x(top.slots[j].x+0.5))
		}
	}
	y := s.y(float64(len(p.rows)))
	if n == 0 {
		return
	}
	text := fmt.Sprintf("%d on the needle", n)
	if drawn < n {
		text = fmt.Sprintf("%d of %d on the needle", drawn, n)
	}
	s.c.Begin("needle", "stitches", strconv.Itoa(n))
	s.c.Line(low-14, y-2, high+14, y-2, 3, canvas.Ink, false)
	s.c.Path(canvas.Stroke{Path: ellipse(high+16, y-4, 4, 4), Color: canvas.Ink})
	s.c.Text((low+high)/2, y-9, numberSize, canvas.Middle, canvas.Ink, text)
	s.c.End()
}

// edges writes row numbers, sections, yarns and the current row beside the
// fabric.
func (s *sheet) edges(p *piece) {
	step := 1
	for _, n := range []int{1, 2, 5, 10, 20, 50, 100} {
		if step = n; float64(n)*s.h >= 15 {
			break
		}
	}
	var onLeft, onRight, lastName column
	letters := make([]column, 3)
	yarn := -1
	rows := p.all()
	hereY, hereSide := s.here(p)
	for i := range p.rows {
		m := &p.rows[i]
		left, right := s.rowEnds(m, rows[i])
		y := s.y(float64(i) + 0.5)
		base := max(y+numberSize*0.35, s.y(float64(len(p.rows)))+numberSize) // below the needle
		starts := i == 0 || m.row.Section != p.rows[i-1].row.Section
		number := strconv.Itoa(m.row.Number)
		if starts && sections(s.v) > 1 && lastName.free(y, numberSize+1) {
			name := canvas.CutBold(numberSize, s.width-right-40, m.row.Section.Name)
			s.c.Bold(right+32, base, numberSize, canvas.Start, canvas.Ink, name)
		}
		here := m.index == s.v.Here
		crowded := !here && m.row.Side == hereSide && math.Abs(y-hereY) < numberSize+1
		if here || !crowded && (m.row.Number%step == 0 || starts) {
			if m.row.Side == instruction.WS && onLeft.free(y, numberSize) {
				s.c.Text(left-10, base, numberSize, canvas.End, canvas.Ink, number)
			} else if m.row.Side != instruction.WS && onRight.free(y, numberSize) {
				s.c.Text(right+10, base, numberSize, canvas.Start, canvas.Ink, number)
			}
		}
		if used := m.yarn(); len(s.yarns.order) > 1 && used >= 0 && used != yarn {
			yarn = used
			for k := range letters {
				if letters[k].free(y, numberSize-1) {
					s.c.Text(left-36-float64(k)*11, base, numberSize, canvas.Middle, canvas.Ink, s.yarns.letter(uint8(used)))
					break
				}
			}
		}
	}
}

// A column of texts, from the bottom up.
type column struct {
	any bool
	y   float64 // of the last one
}

// free says that a text has room at y, and takes it.
func (c *column) free(y, high float64) bool {
	if c.any && c.y-y < high {
		return false
	}
	c.any, c.y = true, y
	return true
}

// sections is how many sections a view runs through.
func sections(v View) int {
	n := 1
	for i := v.From + 1; i <= v.To; i++ {
		if v.Plan.Rows[i].Section != v.Plan.Rows[i-1].Section {
			n++
		}
	}
	return n
}

// yarn is the one that a row is worked with at its end; -1 for none.
func (m *meshRow) yarn() int {
	for i := len(m.acts) - 1; i >= 0; i-- {
		if len(m.acts[i].Makes)+len(m.acts[i].Uses) > 0 {
			return int(m.acts[i].Yarn)
		}
	}
	return -1
}

// rowEnds are the left and the right end of a row, where it is widest.
func (s *sheet) rowEnds(m, below *meshRow) (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for _, row := range []*meshRow{m, below} {
		if n := len(row.slots); n > 0 {
			left, right = min(left, s.x(row.edge(n-1, 1))), max(right, s.x(row.edge(0, 0)))
		}
	}
	if left > right {
		return s.middle, s.middle
	}
	return left, right
}

// here marks the current row, where it is one of a piece: by a pointer and a line
// at both ends, and a tint between them. It gives where the row stands and on
// which side its number.
func (s *sheet) here(p *piece) (y float64, side instruction.Side) {
	rows := p.all()
	for i := range p.rows {
		m := &p.rows[i]
		if m.index != s.v.Here {
			continue
		}
		y = s.y(float64(i) + 0.5)
		left, right := s.rowEnds(m, rows[i])
		s.c.Begin("here", "row", strconv.Itoa(m.row.Number))
		s.pointer(left-4, y, -1, s.left-18)
		s.pointer(right+4, y, 1, s.right-18)
		s.c.End()
		return y, m.row.Side
	}
	return math.Inf(-1), instruction.SideUnsaid
}

// pointer marks one end of a row: way is 1 at the right and -1 at the left, and
// out is how far the back of the pointer is from there.
func (s *sheet) pointer(x, y, way, out float64) {
	half := max(s.h/2, 3)
	back := x + way*out
	tip := back - way*14
	band := max(2*half, numberSize+2)
	s.c.Rect(min(x, tip), y-band/2, math.Abs(tip-x), band, canvas.Here)
	s.c.Line(x, y-half, x, y+half, 3, canvas.Ink, false)
	s.c.Path(canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(tip, y), canvas.LineTo(back, y-8), canvas.LineTo(back, y+8), canvas.ClosePath()}, Color: canvas.Ink})
}

func (s *sheet) keyHeight() float64 {
	lines := len(s.cutLines())
	if len(s.yarns.order) > 1 {
		lines += len(s.yarns.order)
	}
	return lineHeight*float64(lines) + bottomMargin
}

// cutLines say what is not drawn.
func (s *sheet) cutLines() []string {
	var lines []string
	if s.facts.Cut == CutRows {
		lines = append(lines, fmt.Sprintf("There is no room for all of %s: these are drawn.", rowRange(wordOf(s.v.Plan.Rows[s.v.From]), s.facts.Whole[0], s.facts.Whole[1])))
	}
	if s.facts.Drawn > 0 {
		whole := s.v.Plan.Rows[s.v.From].Before.Count()
		if whole < s.facts.Drawn { // they are cast on in the first row
			whole = mostStitches(s.v)
		}
		part := fmt.Sprintf("stitches 1 to %d of %d, from the right", s.facts.Drawn, whole)
		if r := s.facts.Repeats; r[0] > 0 && r[0] != s.facts.Drawn {
			part = fmt.Sprintf("%d of %d repeats, %s", r[0], r[1], part)
		}
		lines = append(lines, "Drawn so that each stitch can be seen: "+part+".")
	}
	return lines
}

// key writes what is drawn above the picture, and the yarns below it.
func (s *sheet) key() {
	const size, side = letterSize + 2, ", from the right side"
	title := titleOf(s.v)
	s.c.Title("Fabric of " + title.text() + side)
	s.c.Bold(16, 26, size, canvas.Start, canvas.Ink, title.cut(size, s.width-32-canvas.BoldWidth(size, side))+side)
	y := s.height - s.keyHeight() + lineHeight
	for _, line := range s.cutLines() {
		s.c.Text(16, y, letterSize, canvas.Start, canvas.Ink, canvas.Cut(letterSize, s.width-32, line))
		y += lineHeight
	}
	if len(s.yarns.order) < 2 {
		return
	}
	s.c.Begin("key")
	for i, yarn := range s.yarns.order {
		s.c.Rect(16, y-12, 28, 15, s.yarns.tint(yarn))
		s.c.Text(30, y, numberSize, canvas.Middle, canvas.Ink, s.yarns.letter(yarn))
		s.c.Text(54, y, letterSize, canvas.Start, canvas.Ink, canvas.Cut(letterSize, s.width-70, s.yarns.names[i]))
		y += lineHeight
	}
	s.c.End()
}
