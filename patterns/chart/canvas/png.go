package canvas

import (
	"encoding/binary"
	"fmt"
	"math"
)

// widest is how many pixels a side of a PNG has at most.
const widest = 1 << 14

// PNG renders the picture with scale pixels to the unit, in at most sixteen
// colours. The scale is 1 to 4; a picture of more than 16,384 pixels a side, or
// of more than 64 million in all, is refused.
func (c *Canvas) PNG(scale int) ([]byte, error) {
	if scale < 1 || scale > 4 {
		return nil, fmt.Errorf("a picture is drawn at a scale of 1 to 4, not %d", scale)
	}
	w, h := math.Ceil(c.width*float64(scale)), math.Ceil(c.height*float64(scale))
	if w > widest || h > widest || w*h > 64e6 {
		return nil, fmt.Errorf("a picture of %.0f by %.0f pixels is too large to draw; draw fewer rows, or at a smaller scale", w, h)
	}
	r := newRenderer(int(w), int(h), float64(scale), &c.look)
	defer r.sheet.free()
	for _, i := range c.items {
		i.paint(r)
	}
	return r.sheet.encode()
}

// encode gives the sheet as a PNG in the colours that suit it best.
func (s *sheet) encode() ([]byte, error) {
	pixels := s.count()
	palette, to := reduce(s.mixer.shades, &pixels)
	return writePNG(s, palette, &to)
}

// count counts the pixels of each shade, and takes the eight of a word at once
// where they are alike, as most are.
func (s *sheet) count() (pixels [256]int) {
	rest := s.shade
	for ; len(rest) >= 8; rest = rest[8:] {
		if binary.LittleEndian.Uint64(rest) == uint64(rest[0])*0x0101010101010101 {
			pixels[rest[0]] += 8
			continue
		}
		for _, n := range rest[:8] {
			pixels[n]++
		}
	}
	for _, n := range rest {
		pixels[n]++
	}
	return pixels
}
