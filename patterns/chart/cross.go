package chart

import (
	"fmt"
	"slices"

	"clew/patterns"
	"clew/patterns/chart/canvas"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// A cross is how strands pass each other, as the right side shows it.
type cross struct {
	moves []move // by stitch, from right to left as they were
	uses  int
	makes int
	front string // where the foremost strand goes: "left" or "right"; "" where the pattern leaves it open
}

// A move is what a cross does with one stitch. From and to are counted from the
// right.
type move struct {
	from, to int
	depth    float64 // the deeper passes behind: 0 is the strand worked from the left needle
	purl     bool    // the right side shows a purl of it
}

// newCross follows the stitches of a cross by their columns. Is says where each
// stitch stands after the row.
func newCross(n *instruction.Cross, it item, is map[int32]int, row *patterns.Row) *cross {
	x := &cross{uses: len(it.uses), makes: len(it.makes), moves: make([]move, 0, len(it.uses))}
	depths := depthsOf(n, len(it.uses), row.Side)
	last := 0
	for i, c := range it.uses {
		to := slices.Index(it.makes, c)
		if to < 0 { // taken into the stitch beside it
			to = min(last, max(0, x.makes-1))
		}
		last = to
		face := stitch.Knit
		if to < len(it.makes) {
			face = row.After.Loops()[is[it.makes[to]]].Face
		}
		x.moves = append(x.moves, move{from: i, to: to, depth: depths[i], purl: face == stitch.Purl})
	}
	x.front = x.foremost()
	return x
}

// depthsOf tells how deep each stitch of a cross passes, from right to left as
// the right side shows them. A strand that waits in back is behind what is worked
// from the left needle, and one that waits in front before it; of two that wait
// in back, the second is deeper, which is how the middle of three strands stays
// behind both. A stitch that goes back to the left needle lies between what was
// worked meanwhile and the rest of its cable needle.
func depthsOf(n *instruction.Cross, uses int, side instruction.Side) []float64 {
	depths := make([]float64, 0, uses)
	returned := 0
	for _, p := range n.Parts {
		returned += p.Returned
	}
	for i, s := range n.Slipped {
		way := 0.0
		switch s.Hold {
		case instruction.HoldBack:
			way = 1
		case instruction.HoldFront:
			way = -1
		}
		for k := range s.N {
			depth := way * float64(i+1)
			if i == 0 && k >= s.N-returned {
				depth /= 2
			}
			depths = append(depths, depth)
		}
	}
	for len(depths) < uses {
		depths = append(depths, 0)
	}
	depths = depths[:uses]
	if side == instruction.WS {
		slices.Reverse(depths)
		for i := range depths {
			depths[i] = -depths[i]
		}
	}
	return depths
}

// foremost says where the foremost of the strands that move goes.
func (x *cross) foremost() string {
	front, open := "", true
	least := 0.0
	for i, m := range x.moves {
		if m.from == m.to {
			continue
		}
		if i > 0 && m.depth != x.moves[0].depth {
			open = false
		}
		if front == "" || m.depth < least {
			least = m.depth
			front = "right"
			if m.to > m.from {
				front = "left"
			}
		}
	}
	if open {
		return ""
	}
	return front
}

// named gives the cross of the Council's list that this is, for one that is
// written out; zero for none.
func (x *cross) named() stitch.Cross {
	if x.uses != x.makes || x.front == "" {
		return stitch.Cross{}
	}
	runs := x.runs()
	if len(runs) != 2 {
		return stitch.Cross{}
	}
	front, back := runs[0], runs[1]
	if front[0].depth > back[0].depth {
		front, back = back, front
	}
	isPurl := func(m move) bool { return m.purl }
	c := stitch.Cross{Front: len(front), Back: len(back), Left: x.front == "left", Purl: isPurl(back[0])}
	if slices.ContainsFunc(front, isPurl) || slices.ContainsFunc(back, func(m move) bool { return m.purl != c.Purl }) ||
		front[0].depth == back[0].depth || c.Front > stitch.MaxStrand || c.Back > stitch.MaxStrand {
		return stitch.Cross{}
	}
	return c
}

// runs are the strands: stitches that lie side by side and move together.
func (x *cross) runs() [][]move {
	var out [][]move
	for i, m := range x.moves {
		if i > 0 {
			last := x.moves[i-1]
			if m.depth == last.depth && (m.to == last.to+1 || m.to == last.to) {
				out[len(out)-1] = append(out[len(out)-1], m)
				continue
			}
		}
		out = append(out, []move{m})
	}
	return out
}

// cross gives the mark of a cross.
func (m *marks) cross(x *cross, n *instruction.Cross, side instruction.Side) *mark {
	c := n.Named
	if c.Zero() {
		c = x.named()
	} else if side == instruction.WS {
		c = stitch.Cross{}
	}
	name, words := "", ""
	switch {
	case !c.Zero():
		name, words = c.Name(), c.Words()
	case !n.Named.Zero():
		name, words = n.Named.Name(), n.Named.Words()
	default:
		name, words = m.named(instruction.Print([]instruction.Node{n}, 0))
	}
	wrong := c.Zero() && side == instruction.WS // the words are those of that side
	id := string(x.appendTo(fmt.Appendf(nil, "%s\x00%s\x00%t\x00", name, words, wrong)))
	k := m.texts[id]
	if k == nil {
		k = &mark{name: name, words: words, wrong: wrong, order: m.next(), width: max(x.uses, x.makes)}
		from, to := make([]int, x.uses), make([]int, x.makes)
		for i := range from {
			from[i] = i
		}
		for i := range to {
			to[i] = i
		}
		if !wrong {
			k.shape = string(x.appendTo(nil))
		}
		k.key = m.crossing(x, name, k.width, from, to)
		m.texts[id] = k
	}
	return k
}

// crossing draws a cross over so many slots. From and to are the slots of its
// stitches before and after, counted from the right.
func (m *marks) crossing(x *cross, name string, width int, from, to []int) *canvas.Symbol {
	id := x.appendTo(append([]byte(name), 0, byte(width)))
	for _, slot := range slices.Concat(from, to) {
		id = append(id, byte(slot))
	}
	if known := m.crosses[string(id)]; known != nil {
		return known
	}
	runs := x.runs()
	slices.SortStableFunc(runs, func(a, b []move) int {
		switch {
		case a[0].depth > b[0].depth:
			return -1
		case a[0].depth < b[0].depth:
			return 1
		}
		return 0
	})
	var out []canvas.Stroke
	edge := func(slot int) float64 { return float64(width - slot) } // the right edge of a slot
	for _, r := range runs {
		first, last := r[0], r[len(r)-1]
		out = append(out, strandStrokes(
			[2]float64{edge(from[last.from]) - 1, edge(from[first.from])},
			[2]float64{edge(to[last.to]) - 1, edge(to[first.to])}, float64(width), x.front != "", first.purl && last.purl)...)
	}
	for _, i := range x.made() { // new stitches, such as a yarn over between strands
		out = append(out, ring(edge(to[i])-0.5, 0.24, 0.15))
	}
	symbol := canvas.NewSymbol(name, float64(width), 1, out...)
	m.crosses[string(id)] = symbol
	return symbol
}

// appendTo appends what tells one cross from another: no slot and no depth is
// more than a byte.
func (x *cross) appendTo(id []byte) []byte {
	for _, m := range x.moves {
		purl := byte(0)
		if m.purl {
			purl = 1
		}
		id = append(id, byte(m.to), byte(int8(m.depth*2)), purl)
	}
	return append(id, byte(x.makes))
}

// made gives the stitches that a cross makes out of none.
func (x *cross) made() []int {
	var out []int
	for i := range x.makes {
		if !slices.ContainsFunc(x.moves, func(m move) bool { return m.to == i }) {
			out = append(out, i)
		}
	}
	return out
}

// inset is how far a strand keeps from the edges of its cells, and beside how far
// it hides what lies behind it on either side.
const (
	inset  = 0.08
	beside = 0.16
)

// strandStrokes draws a strand from an interval at the bottom to one at the top:
// its ground, which hides what lies behind it and a little beside it, and its
// two edges. One that is
// purled is tinted.
func strandStrokes(bottom, top [2]float64, width float64, covers, purl bool) []canvas.Stroke {
	a, b, c, d := bottom[0]+inset, bottom[1]-inset, top[0]+inset, top[1]-inset
	const low, high = 0.95, 0.05
	area := func(more float64) []canvas.Segment {
		low, high := low+more/4, high-more/4
		return []canvas.Segment{canvas.MoveTo(max(0, a-more), low), canvas.LineTo(max(0, c-more), high),
			canvas.LineTo(min(width, d+more), high), canvas.LineTo(min(width, b+more), low), canvas.ClosePath()}
	}
	var out []canvas.Stroke
	if covers {
		out = append(out, canvas.Stroke{Color: canvas.Paper, Path: area(beside)})
	}
	if purl {
		out = append(out, canvas.Stroke{Color: canvas.Faint, Path: area(0)})
	}
	return append(out, strokes(a, low, c, high), strokes(b, low, d, high))
}
