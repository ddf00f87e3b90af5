package canvas

import "math"

// A renderer paints what was drawn on a sheet of pixels.
type renderer struct {
	scale  float64
	sheet  sheet
	shader shader
	tiles  map[stampKey]tile
	glyphs map[glyphKey]mask
}

func newRenderer(w, h int, scale float64, look *Look) *renderer {
	return &renderer{
		scale:  scale,
		sheet:  newSheet(w, h, newMixer(look)),
		shader: shader{w: w, h: h},
		tiles:  map[stampKey]tile{},
		glyphs: map[glyphKey]mask{},
	}
}

func (i rect) paint(r *renderer) {
	if !(i.w > 0 && i.h > 0) {
		return
	}
	x, y := round(i.x*r.scale), round(i.y*r.scale)
	r.sheet.rect(x, y, max(round((i.x+i.w)*r.scale), x+1), max(round((i.y+i.h)*r.scale), y+1), i.fill)
}

func (i line) paint(r *renderer) {
	long := math.Hypot(i.x2-i.x1, i.y2-i.y1)
	if !(long > 0) || math.IsInf(long, 0) || !(i.width > 0) {
		return
	}
	a, b := point{i.x1, i.y1}, point{i.x2, i.y2}
	if !i.dash {
		more := i.width / 2 / long
		r.bar(between(a, b, -more), between(a, b, 1+more), i.width, i.ink)
		return
	}
	on, step := dashOn*i.width/long, (dashOn+dashOff)*i.width/long
	for t := 0.0; t < 1; t += max(step, 1e-4) {
		r.bar(between(a, b, t), between(a, b, min(t+on, 1)), i.width, i.ink)
	}
}

// Dashes are so many widths long and so many apart.
const (
	dashOn  = 4
	dashOff = 3
)

// bar paints a straight piece from a to b. An upright or level one covers whole
// pixels.
func (r *renderer) bar(a, b point, width float64, ink Color) {
	a, b, width = point{a.x * r.scale, a.y * r.scale}, point{b.x * r.scale, b.y * r.scale}, width*r.scale
	thick := max(round(width), 1)
	switch {
	case a.x == b.x:
		x := round(a.x - float64(thick)/2)
		r.sheet.rect(x, round(min(a.y, b.y)), x+thick, round(max(a.y, b.y)), ink)
	case a.y == b.y:
		y := round(a.y - float64(thick)/2)
		r.sheet.rect(round(min(a.x, b.x)), y, round(max(a.x, b.x)), y+thick, ink)
	default:
		long := math.Hypot(b.x-a.x, b.y-a.y)
		dx, dy := (b.y-a.y)/long*width/2, (a.x-b.x)/long*width/2
		f := &r.shader.lines
		f.reset()
		for _, p := range [4]point{{a.x + dx, a.y + dy}, {b.x + dx, b.y + dy}, {b.x - dx, b.y - dy}, {a.x - dx, a.y - dy}} {
			f.add(p)
		}
		f.finish(true)
		f.tame()
		r.sheet.cover(r.shader.fill(f), ink)
	}
}

func (i path) paint(r *renderer) {
	for _, s := range i.strokes {
		r.sheet.cover(r.shader.stroke(s.Path, s.Width*r.scale, placing{sx: r.scale, sy: r.scale}), s.Color)
	}
}

func (i stamp) paint(r *renderer) {
	k := stampKey{symbol: i.symbol, w: i.w * r.scale, h: i.h * r.scale, ground: i.ground}
	if !(k.w > 0 && k.h > 0 && k.w < widest && k.h < widest) {
		return
	}
	t, made := r.tiles[k]
	if !made {
		t = r.tile(k)
		r.tiles[k] = t
	}
	r.sheet.stamp(t, round(i.x*r.scale), round(i.y*r.scale))
}

func (begin) paint(*renderer) {}
func (end) paint(*renderer)   {}
