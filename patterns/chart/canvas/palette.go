package canvas

import "image/color"

// most is how many colours a PNG has at most, so that a pixel takes four bits.
const most = 16

// reduce chooses the colours that a picture shows and says which of them stands
// for each of its shades, by how many pixels have it. The colours that it was
// drawn in are kept as they are; the room that is left goes to the mixtures
// that bring the picture nearest to what was drawn, so that a picture of few
// tints has the smoother edges.
func reduce(shades []color.RGBA, pixels *[256]int) (chosen []color.RGBA, to [256]uint8) {
	var off [256]int // of each shade from the nearest of the chosen
	for i := range off {
		off[i] = 1 << 20
	}
	choose := func(c int) {
		chosen = append(chosen, shades[c])
		for i := range shades {
			off[i] = min(off[i], apart(shades[i], shades[c]))
		}
	}
	for c := range colors {
		if pixels[c] > 0 && len(chosen) < most {
			choose(c)
		}
	}
	for len(chosen) < most {
		best, most := -1, 0
		for c := range shades {
			if gain := gain(shades, pixels, &off, c); gain > most {
				best, most = c, gain
			}
		}
		if best < 0 {
			break
		}
		choose(best)
	}
	for i, c := range shades {
		n, _ := nearest(chosen, c)
		to[i] = uint8(n)
	}
	return chosen, to
}

// gain is how much nearer the picture comes if one more shade is chosen.
func gain(shades []color.RGBA, pixels *[256]int, off *[256]int, c int) int {
	if pixels[c] == 0 {
		return 0
	}
	gain := 0
	for i, shade := range shades {
		if pixels[i] > 0 {
			gain += pixels[i] * max(off[i]-apart(shade, shades[c]), 0)
		}
	}
	return gain
}
