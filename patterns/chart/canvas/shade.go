package canvas

import (
	"image"
	"math"

	"golang.org/x/image/vector"
)

// A mask says how much of each pixel of a box a shape covers: 0 to 255.
type mask struct {
	x, y, w, h int
	alpha      []uint8
}

// A shader makes masks of shapes. It keeps its memory between them.
type shader struct {
	w, h   int // of the sheet, in pixels
	raster vector.Rasterizer
	pen    pen

	lines, area, spare, other figure
	alpha                     []uint8
}

// stroke gives the mask of a stroke. It lasts until the next one.
func (s *shader) stroke(path []Segment, width float64, m placing) mask {
	s.lines.reset()
	s.lines.flatten(path, m)
	s.lines.tame()
	if !(width > 0) {
		return s.fill(&s.lines)
	}
	s.area.reset()
	s.pen.radius, s.pen.into = min(width, far)/2, &s.area
	for i := range s.lines.ends {
		s.pen.draw(s.lines.line(i), s.lines.closed[i])
	}
	return s.fill(&s.area)
}

// fill gives the mask of an area.
func (s *shader) fill(f *figure) mask {
	if len(f.ends) == 0 {
		return mask{}
	}
	f = f.clipped(float64(s.w), float64(s.h), &s.spare, &s.other)
	if len(f.ends) == 0 {
		return mask{}
	}
	low, high := f.bounds()
	m := mask{x: int(math.Floor(low.x)), y: int(math.Floor(low.y))}
	m.w, m.h = int(math.Ceil(high.x))-m.x, int(math.Ceil(high.y))-m.y
	if m.w <= 0 || m.h <= 0 {
		return mask{}
	}
	s.raster.Reset(m.w, m.h)
	for i := range f.ends {
		for j, p := range f.line(i) {
			x, y := float32(p.x-float64(m.x)), float32(p.y-float64(m.y))
			if j == 0 {
				s.raster.MoveTo(x, y)
			} else {
				s.raster.LineTo(x, y)
			}
		}
		s.raster.ClosePath()
	}
	if n := m.w * m.h; n > cap(s.alpha) {
		s.alpha = make([]uint8, n)
	}
	m.alpha = s.alpha[:m.w*m.h]
	clear(m.alpha)
	box := image.Rect(0, 0, m.w, m.h)
	s.raster.Draw(&image.Alpha{Pix: m.alpha, Stride: m.w, Rect: box}, box, image.Opaque, image.Point{})
	return m
}
