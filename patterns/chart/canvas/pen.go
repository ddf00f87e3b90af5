package canvas

import "math"

// A pen draws lines of a width: it makes the areas that they cover.
type pen struct {
	radius float64
	ring   []point // a line there and back, or once around
	into   *figure
}

// same is how near, in pixels, two points are one.
const same = 1e-6

// draw adds to the figure what the pen covers along a polyline. A line that is
// open is gone along there and back, so that a round end is a corner like any
// other; one that is closed has an outer and an inner edge.
func (p *pen) draw(line []point, closed bool) {
	p.ring = p.ring[:0]
	for _, at := range line {
		if n := len(p.ring); n == 0 || math.Hypot(at.x-p.ring[n-1].x, at.y-p.ring[n-1].y) > same {
			p.ring = append(p.ring, at)
		}
	}
	n := len(p.ring)
	if closed && n > 1 && math.Hypot(p.ring[0].x-p.ring[n-1].x, p.ring[0].y-p.ring[n-1].y) <= same {
		n--
		p.ring = p.ring[:n]
	}
	switch {
	case n == 1:
		p.arc(p.ring[0], 0, 2*math.Pi)
		p.into.finish(true)
	case closed && n > 2:
		p.edge()
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			p.ring[i], p.ring[j] = p.ring[j], p.ring[i]
		}
		p.edge()
	default:
		for i := n - 2; i > 0; i-- {
			p.ring = append(p.ring, p.ring[i])
		}
		p.edge()
	}
}

// edge goes around the ring at the pen's radius, on its left.
func (p *pen) edge() {
	n := len(p.ring)
	for i, at := range p.ring {
		p.corner(p.ring[(i+n-1)%n], at, p.ring[(i+1)%n])
	}
	p.into.finish(true)
}

// corner adds the edge at a point between two others.
func (p *pen) corner(from, at, to point) {
	in, out := math.Hypot(at.x-from.x, at.y-from.y), math.Hypot(to.x-at.x, to.y-at.y)
	a, b := point{(at.x - from.x) / in, (at.y - from.y) / in}, point{(to.x - at.x) / out, (to.y - at.y) / out}
	turn, along := a.x*b.y-a.y*b.x, a.x*b.x+a.y*b.y
	// The left of a direction (x, y) is (y, -x), since y grows downwards.
	const nearly = 0.9 // cosine of a bend so slight that a corner needs no rounding
	back := p.radius * math.Abs(turn) / (1 + along)
	outer := turn > 0 || along < 0 && math.Abs(turn) < 1e-9
	switch {
	case along > nearly && (outer || back <= min(in, out)), along > -nearly && !outer && back <= min(in, out):
		m := p.radius / (1 + along)
		p.into.add(point{at.x + (a.y+b.y)*m, at.y - (a.x+b.x)*m})
	case outer:
		start := math.Atan2(-a.x, a.y)
		p.arc(at, start, math.Acos(min(max(along, -1), 1)))
	default:
		p.into.add(point{at.x + a.y*p.radius, at.y - a.x*p.radius})
		p.into.add(at)
		p.into.add(point{at.x + b.y*p.radius, at.y - b.x*p.radius})
	}
}

// arc adds points around a centre, from an angle on by a sweep.
func (p *pen) arc(centre point, start, sweep float64) {
	step := 2 * math.Acos(1-min(flatness/p.radius, 0.5))
	const most = 512 // of an arc that is far larger than any picture
	n := int(min(max(math.Ceil(sweep/step), 1), most))
	for i := range n + 1 {
		sin, cos := math.Sincos(start + sweep*float64(i)/float64(n))
		p.into.add(point{centre.x + cos*p.radius, centre.y + sin*p.radius})
	}
}
