package canvas

// A tile is a symbol in pixels: the runs of those that it covers.
type tile []run

type run struct {
	x, y  int
	shade []uint8
}

// A stampKey says what a tile was made for; the sizes are in pixels.
type stampKey struct {
	symbol *Symbol
	w, h   float64
	ground Color
}

// tile draws a symbol on a sheet of its own.
func (r *renderer) tile(k stampKey) tile {
	const edge = 2 // pixels around the box, for strokes that lean out of it
	w, h := round(k.w+0.5)+2*edge, round(k.h+0.5)+2*edge
	small := sheet{w: w, h: h, shade: make([]uint8, w*h), mixer: r.sheet.mixer}
	small.rect(0, 0, w, h, k.ground)
	touched := make([]bool, w*h)
	shader := shader{w: w, h: h}
	m := placing{sx: k.w / k.symbol.w, sy: k.h / k.symbol.h, dx: edge, dy: edge}
	for _, stroke := range k.symbol.strokes {
		shape := shader.stroke(stroke.Path, stroke.Width*min(m.sx, m.sy), m)
		small.cover(shape, stroke.on(k.ground))
		for i, a := range shape.alpha {
			if step[a] > 0 {
				touched[(shape.y+i/shape.w)*w+shape.x+i%shape.w] = true
			}
		}
	}
	var t tile
	for y := range h {
		for x := 0; x < w; x++ {
			start := x
			for x < w && touched[y*w+x] {
				x++
			}
			if x > start {
				t = append(t, run{x: start - edge, y: y - edge, shade: small.shade[y*w+start : y*w+x]})
			}
		}
	}
	return t
}

// on is the colour of a symbol's stroke on a ground.
func (s Stroke) on(ground Color) Color {
	if s.Color == Paper {
		return ground
	}
	return s.Color
}

// stamp puts a tile down with its corner at a pixel.
func (s *sheet) stamp(t tile, x, y int) {
	for _, run := range t {
		shade, at := run.shade, x+run.x
		if over := at + len(shade) - s.w; over > 0 {
			shade = shade[:max(len(shade)-over, 0)]
		}
		if at < 0 {
			shade, at = shade[min(-at, len(shade)):], 0
		}
		if line := y + run.y; line >= 0 && line < s.h && len(shade) > 0 {
			copy(s.shade[line*s.w+at:], shade)
		}
	}
}
