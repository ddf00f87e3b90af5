package canvas

import "math"

// A figure is a list of polylines, in pixels. It is used again and again, so
// that forty thousand strokes need no memory of their own.
type figure struct {
	points []point
	ends   []int  // of each polyline in points
	closed []bool // whether it returns to its start
}

// A placing puts a shape where it belongs on the sheet.
type placing struct{ sx, sy, dx, dy float64 }

func (m placing) at(p point) point { return point{p.x*m.sx + m.dx, p.y*m.sy + m.dy} }

// flatness is how far in pixels a polyline may stray from its curve.
const flatness = 0.08

func (f *figure) reset() {
	f.points, f.ends, f.closed = f.points[:0], f.ends[:0], f.closed[:0]
}

func (f *figure) add(p point) { f.points = append(f.points, p) }

// finish ends the polyline that is being drawn; a lone point is none.
func (f *figure) finish(closed bool) {
	start := f.start(len(f.ends))
	if len(f.points)-start < 2 {
		f.points = f.points[:start]
		return
	}
	f.ends = append(f.ends, len(f.points))
	f.closed = append(f.closed, closed)
}

func (f *figure) start(i int) int {
	if i == 0 {
		return 0
	}
	return f.ends[i-1]
}

// line is polyline i.
func (f *figure) line(i int) []point { return f.points[f.start(i):f.ends[i]] }

// flatten draws a path as polylines.
func (f *figure) flatten(path []Segment, m placing) {
	var from, first point
	for i, s := range path {
		to := m.at(s.to)
		switch s.op {
		case move:
			f.finish(false)
			f.add(to)
			first = to
		case lineTo:
			f.add(to)
		case quad:
			f.quad(from, m.at(s.c1), to)
		case cubic:
			f.cubic(from, m.at(s.c1), m.at(s.c2), to)
		case closing:
			f.finish(true)
			to = first
			if i+1 < len(path) && path[i+1].op != move {
				f.add(first)
			}
		}
		from = to
	}
	f.finish(false)
}

func (f *figure) quad(a, b, c point) {
	bend := math.Hypot(a.x-2*b.x+c.x, a.y-2*b.y+c.y)
	n := pieces(bend / 4)
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		f.add(between(between(a, b, t), between(b, c, t), t))
	}
	f.add(c)
}

func (f *figure) cubic(a, b, c, d point) {
	bend := max(math.Hypot(a.x-2*b.x+c.x, a.y-2*b.y+c.y), math.Hypot(b.x-2*c.x+d.x, b.y-2*c.y+d.y))
	n := pieces(bend * 3 / 4)
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
		f.add(between(between(ab, bc, t), between(bc, cd, t), t))
	}
	f.add(d)
}

// pieces is how many straight pieces keep a curve flat that strays so far from
// its chord: n pieces stray n times n times less.
func pieces(stray float64) int {
	return int(min(max(math.Ceil(math.Sqrt(stray/flatness)), 1), 256))
}

func between(a, b point, t float64) point {
	return point{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t}
}

// bounds gives the corners of the box around the figure.
func (f *figure) bounds() (low, high point) {
	low, high = f.points[0], f.points[0]
	for _, p := range f.points[1:] {
		low = point{min(low.x, p.x), min(low.y, p.y)}
		high = point{max(high.x, p.x), max(high.y, p.y)}
	}
	return low, high
}

// far is farther than any picture reaches, in pixels.
const far = 1 << 20

// tame makes coordinates into numbers that pixels can be counted with.
func (f *figure) tame() {
	for i, p := range f.points {
		if math.IsNaN(p.x) || math.IsNaN(p.y) {
			p = point{}
		}
		f.points[i] = point{min(max(p.x, -far), far), min(max(p.y, -far), far)}
	}
}
