package canvas

import (
	"math"
	"sync"
)

// A sheet is a picture in pixels, each the number of a shade of the mixer.
type sheet struct {
	w, h  int
	shade []uint8
	mixer *mixer
}

// spareShades keeps the memory of sheets that are done with.
var spareShades sync.Pool

// newSheet gives a sheet that is all paper, whose number is 0.
func newSheet(w, h int, m *mixer) sheet {
	if spare, ok := spareShades.Get().(*[]uint8); ok && cap(*spare) >= w*h {
		shade := (*spare)[:w*h]
		clear(shade)
		return sheet{w: w, h: h, shade: shade, mixer: m}
	}
	return sheet{w: w, h: h, shade: make([]uint8, w*h), mixer: m}
}

// free gives the memory of a sheet back; it is not used after that.
func (s *sheet) free() { spareShades.Put(&s.shade) }

// step gives the steps of cover of an alpha of 0 to 255.
var step = func() (to [256]uint8) {
	for i := range to {
		to[i] = uint8((i*(steps-1) + 127) / 255)
	}
	return to
}()

// round gives the nearest whole number, halves upwards, so that two edges that
// meet meet in pixels too.
func round(x float64) int {
	if math.IsNaN(x) {
		return 0
	}
	return int(math.Floor(min(max(x, -far), far) + 0.5))
}

// rect fills a box of pixels, as far as it is on the sheet.
func (s *sheet) rect(x0, y0, x1, y1 int, fill Color) {
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, s.w), min(y1, s.h)
	if x0 >= x1 || y0 >= y1 {
		return
	}
	first := s.shade[y0*s.w+x0 : y0*s.w+x1]
	for i := range first {
		first[i] = uint8(fill)
	}
	for y := y0 + 1; y < y1; y++ {
		copy(s.shade[y*s.w+x0:y*s.w+x1], first)
	}
}

// cover lays a colour over what the mask covers.
func (s *sheet) cover(m mask, c Color) {
	x0, x1 := max(m.x, 0), min(m.x+m.w, s.w)
	for y := max(m.y, 0); y < min(m.y+m.h, s.h) && x0 < x1; y++ {
		alpha := m.alpha[(y-m.y)*m.w+x0-m.x : (y-m.y)*m.w+x1-m.x]
		row := s.shade[y*s.w+x0 : y*s.w+x1]
		for i, a := range alpha {
			if n := step[a]; n > 0 {
				row[i] = s.mixer.over(c, n, row[i])
			}
		}
	}
}
