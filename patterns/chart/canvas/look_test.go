package canvas_test

import (
	"image/color"
	"math"
	"testing"

	"clew/patterns/chart/canvas"
)

// A linear colour is red, green and blue as amounts of light, 0 to 1.
type linear [3]float64

// light undoes the curve of sRGB (IEC 61966-2-1).
func light(c color.RGBA) linear {
	one := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return linear{one(c.R), one(c.G), one(c.B)}
}

func (l linear) luminance() float64 { return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }

// contrast is the contrast ratio of WCAG 2.2, section "Relative luminance and
// contrast ratio": (L1 + 0.05) / (L2 + 0.05), of the lighter and the darker.
func contrast(a, b color.RGBA) float64 {
	x, y := light(a).luminance(), light(b).luminance()
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// lab gives lightness and hue by CIE 1976 (L*a*b*), under D65 (from memory).
func (l linear) lab() [3]float64 {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124*l[0] + 0.3576*l[1] + 0.1805*l[2]) / 0.95047)
	y := f(l.luminance())
	z := f((0.0193*l[0] + 0.1192*l[1] + 0.9505*l[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// seen is a colour as an eye sees it that lacks one kind of cone.
func (l linear) seen(m [3]linear) linear {
	var out linear
	for i, row := range m {
		out[i] = max(row[0]*l[0]+row[1]*l[1]+row[2]*l[2], 0)
	}
	return out
}

// The matrices of Machado, Oliveira and Fernandes, "A Physiologically-based
// Model for Simulation of Color Vision Deficiency", IEEE Transactions on
// Visualization and Computer Graphics, 2009, at severity 1.0 (from memory).
var eyes = map[string][3]linear{
	"all cones":       {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"no green cones":  {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"no red cones":    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"cones of no use": {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}}, // grey print
}

// TestContrastByExample checks the formula by the pairs that WCAG's own texts
// give: black on white is 21 to 1, and #767676 is the lightest grey on white
// with 4.5 to 1.
func TestContrastByExample(t *testing.T) {
	white := color.RGBA{255, 255, 255, 255}
	grey := func(v uint8) color.RGBA { return color.RGBA{v, v, v, 255} }
	if got := contrast(white, grey(0)); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white is %v, want 21", got)
	}
	if contrast(white, grey(0x76)) < 4.5 || contrast(white, grey(0x77)) >= 4.5 {
		t.Errorf("#767676 has %v and #777777 %v", contrast(white, grey(0x76)), contrast(white, grey(0x77)))
	}
}

// TestInkCanBeRead holds every tint to success criterion 1.4.3 of WCAG 2.2: at
// least 4.5 to 1 for text of any size.
func TestInkCanBeRead(t *testing.T) {
	for i, c := range canvas.Plain {
		if canvas.Color(i) == canvas.Ink {
			continue
		}
		if got := contrast(canvas.Plain[canvas.Ink], c); got < 4.5 {
			t.Errorf("ink on %s has a contrast of %.2f, want 4.5", names[i], got)
		}
	}
}

// TestYarnsStayApart says that no two yarns look alike, to any eye or in grey.
// A distance of about 2.3 is one that can just be noticed (Mahy, Van Eycken and
// Oosterlinck, 1994; from memory): tints are to be several times as far apart.
func TestYarnsStayApart(t *testing.T) {
	for eye, matrix := range eyes {
		want := 12.0
		if eye == "cones of no use" {
			want = 6.5
		}
		for a := canvas.YarnA; a <= canvas.YarnF; a++ {
			for b := a + 1; b <= canvas.YarnF; b++ {
				x, y := light(canvas.Plain[a]).seen(matrix).lab(), light(canvas.Plain[b]).seen(matrix).lab()
				if got := math.Sqrt(sq(x[0]-y[0]) + sq(x[1]-y[1]) + sq(x[2]-y[2])); got < want {
					t.Errorf("with %s, %s and %s are %.1f apart, want %.1f", eye, names[a], names[b], got, want)
				}
			}
		}
	}
}

func sq(x float64) float64 { return x * x }

// TestTintsStayApart says that the row that a knitter is at, and the place of no
// stitch, look like no yarn.
func TestTintsStayApart(t *testing.T) {
	for eye, matrix := range eyes {
		if eye == "cones of no use" {
			continue // in grey they are told by more than their tint
		}
		for _, a := range []canvas.Color{canvas.Here, canvas.Blank} {
			for b := canvas.YarnA; b <= canvas.YarnF; b++ {
				x, y := light(canvas.Plain[a]).seen(matrix).lab(), light(canvas.Plain[b]).seen(matrix).lab()
				if got := math.Sqrt(sq(x[0]-y[0]) + sq(x[1]-y[1]) + sq(x[2]-y[2])); got < 10 {
					t.Errorf("with %s, %s and %s are %.1f apart, want 10", eye, names[a], names[b], got)
				}
			}
		}
	}
}
