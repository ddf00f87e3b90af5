package chart

import (
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/fabric"
	"clew/patterns/stitch"
)

// strands draws the strands of all crosses of a piece, from the bottom up:
// those behind first.
func (s *sheet) strands(p *piece, claimed [][]int32) {
	rows := p.all()
	n := int32(0)
	for i := range rows {
		for k := range rows[i].crosses {
			c := &rows[i].crosses[k]
			n++
			s.strand(rows, i, c, c.middle, false, claimed, n)
			s.strand(rows, i, c, c.behind, false, claimed, n)
			s.strand(rows, i, c, c.front, true, claimed, n)
		}
	}
}

// strand draws one strand: a band from where its stitches were to where they
// are, and the stitches on it.
func (s *sheet) strand(rows []*meshRow, i int, c *crossing, slots []int32, over bool, claimed [][]int32, n int32) {
	if len(slots) == 0 {
		return
	}
	direction := "right"
	if c.left(rows[i]) == over {
		direction = "left"
	}
	s.c.Begin("strand", "over", strconv.FormatBool(over), "row", strconv.Itoa(rows[i].row.Number), "index", strconv.Itoa(rows[i].index), "to", direction, "stitches", strconv.Itoa(len(slots)))
	for _, run := range runsOf(slots) {
		s.band(rows, i, c, run, over)
	}
	for _, j := range slots {
		path := columnPath(rows, i, j, c)
		for d, at := range path.index {
			if r := path.first + d; claimed[r][at] == n {
				s.stitch(rows, r, int(at), true)
			}
		}
	}
	s.c.End()
}

// runsOf cuts a strand where its stitches do not stand side by side.
func runsOf(slots []int32) [][]int32 {
	var runs [][]int32
	for i := 0; i < len(slots); {
		j := i + 1
		for j < len(slots) && slots[j] == slots[j-1]+1 {
			j++
		}
		runs = append(runs, slots[i:j])
		i = j
	}
	return runs
}

// bandSteps is in how many straight steps the edge of a strand is drawn.
const bandSteps = 12

// band draws the ground of a strand. What is knitted has an edge; what passes
// in front stands off by a rim of paper.
func (s *sheet) band(rows []*meshRow, i int, c *crossing, slots []int32, over bool) {
	right := s.bandEdge(columnPath(rows, i, slots[0], c), c, 0.5)
	left := s.bandEdge(columnPath(rows, i, slots[len(slots)-1], c), c, -0.5)
	fill := s.groundOf(fabric.Loop{})
	for _, j := range slots {
		if rows[i].slots[j].loop.Face == stitch.Purl {
			fill = purlGround
		}
	}
	if over {
		rim := s.w * 0.3
		s.c.Path(canvas.Stroke{Path: penPath(right), Width: rim, Color: canvas.Paper}, canvas.Stroke{Path: penPath(left), Width: rim, Color: canvas.Paper})
	}
	slices.Reverse(left)
	area := append(penPath(slices.Concat(right, left)), canvas.ClosePath())
	s.c.Path(canvas.Stroke{Path: area, Color: fill})
	if (over || fill != purlGround) && !s.symbols.fine {
		ink := max(1, s.w*0.06)
		s.c.Path(canvas.Stroke{Path: penPath(right), Width: ink, Color: canvas.Ink}, canvas.Stroke{Path: penPath(left), Width: ink, Color: canvas.Ink})
	}
}

// bandEdge is one edge of a strand over the rows that its cross bends.
func (s *sheet) bandEdge(path colPath, c *crossing, side float64) [][2]float64 {
	from, to := path.at(c.low), path.at(c.high)
	edge := make([][2]float64, bandSteps+1)
	for k := range edge {
		t := float64(k) / bandSteps
		edge[k] = [2]float64{s.x(from + (to-from)*smooth(t) + side), s.y(c.low + (c.high-c.low)*t)}
	}
	return edge
}

func penPath(points [][2]float64) []canvas.Segment {
	path := make([]canvas.Segment, len(points), len(points)+1)
	for i, p := range points {
		path[i] = canvas.LineTo(p[0], p[1])
	}
	path[0] = canvas.MoveTo(points[0][0], points[0][1])
	return path
}
