package canvas

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"sync"
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
	for _, i := range c.items {
		i.paint(r)
	}
	return r.sheet.encode()
}

// encode gives the sheet as a PNG in the colours that suit it best.
func (s *sheet) encode() ([]byte, error) {
	var pixels [256]int
	for _, n := range s.shade {
		pixels[n]++
	}
	palette, to := reduce(s.mixer.shades, &pixels)
	for i, n := range s.shade {
		s.shade[i] = to[n]
	}
	var out bytes.Buffer
	encoder := png.Encoder{BufferPool: buffers{}}
	err := encoder.Encode(&out, &image.Paletted{Pix: s.shade, Stride: s.w, Rect: image.Rect(0, 0, s.w, s.h), Palette: palette})
	return out.Bytes(), err
}

// buffers keeps the encoder's memory from one picture to the next.
type buffers struct{}

var spareBuffers sync.Pool

func (buffers) Get() *png.EncoderBuffer {
	b, _ := spareBuffers.Get().(*png.EncoderBuffer)
	return b
}

func (buffers) Put(b *png.EncoderBuffer) { spareBuffers.Put(b) }
