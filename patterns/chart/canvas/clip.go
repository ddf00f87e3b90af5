package canvas

// clipped gives the figure, whose lines are all closed, cut to the box from
// (0, 0) to (w, h): itself if it lies inside, else in spare. Cutting a ring on
// one side after another is Sutherland and Hodgman's way.
func (f *figure) clipped(w, h float64, spare, other *figure) *figure {
	low, high := f.bounds()
	if low.x >= 0 && low.y >= 0 && high.x <= w && high.y <= h {
		return f
	}
	from, to := f, spare
	for _, side := range [4]func(p point) float64{
		func(p point) float64 { return p.x },
		func(p point) float64 { return w - p.x },
		func(p point) float64 { return p.y },
		func(p point) float64 { return h - p.y },
	} {
		to.reset()
		for i := range from.ends {
			to.cut(from.line(i), side)
		}
		if from == f {
			from = other
		}
		from, to = to, from
	}
	return from
}

// cut adds what of a ring lies where inside is not negative.
func (f *figure) cut(ring []point, inside func(point) float64) {
	last := ring[len(ring)-1]
	was := inside(last)
	for _, p := range ring {
		is := inside(p)
		if (was < 0) != (is < 0) {
			f.add(between(last, p, was/(was-is)))
		}
		if is >= 0 {
			f.add(p)
		}
		last, was = p, is
	}
	f.finish(true)
}
