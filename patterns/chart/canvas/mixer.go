package canvas

import "image/color"

// steps is how many steps of cover a pixel can have, from none to all. With ten
// letters look no rougher than with more, and the mixtures of a picture with
// few tints all find room among sixteen colours.
const steps = 10

// A mixer knows the colours of a picture while it is drawn, by their numbers: a
// Color keeps its own, and each mixture that an edge needs gets the next one.
// Which of them the PNG shows is for the palette to choose.
type mixer struct {
	shades []color.RGBA
	mixed  [colors][steps][256]uint16 // the number of the mixture and one; 0 is not mixed yet
}

func newMixer(look *Look) *mixer {
	return &mixer{shades: append(make([]color.RGBA, 0, 256), look[:]...)}
}

// over gives the number of what comes of a colour that covers so many steps of
// a pixel of the colour below.
func (m *mixer) over(c Color, cover, below uint8) uint8 {
	if n := m.mixed[c][cover][below]; n > 0 {
		return uint8(n - 1)
	}
	return m.mix(c, cover, below)
}

func (m *mixer) mix(c Color, cover, below uint8) uint8 {
	a, b := m.shades[c], m.shades[below]
	part := func(a, b uint8) uint8 {
		return uint8((int(a)*int(cover) + int(b)*(steps-1-int(cover)) + (steps-1)/2) / (steps - 1))
	}
	want := color.RGBA{part(a.R, b.R), part(a.G, b.G), part(a.B, b.B), 0xff}
	const near = 40 // square of a distance that no eye sees
	n, off := nearest(m.shades, want)
	if off > near && len(m.shades) < 256 {
		n = len(m.shades)
		m.shades = append(m.shades, want)
	}
	m.mixed[c][cover][below] = uint16(n) + 1
	return uint8(n)
}

// nearest gives the index of the colour that is nearest, and the square of how
// far off it is.
func nearest(shades []color.RGBA, want color.RGBA) (at, off int) {
	off = apart(shades[0], want)
	for i, c := range shades {
		if d := apart(c, want); d < off {
			at, off = i, d
		}
	}
	return at, off
}

// apart is the square of the distance of two colours.
func apart(a, b color.RGBA) int {
	r, g, l := int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B)
	return r*r + g*g + l*l
}
