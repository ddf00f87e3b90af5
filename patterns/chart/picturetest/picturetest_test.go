package picturetest

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"
)

// dot draws a grey square of 20 pixels with a dot of another grey at a place.
func dot(t *testing.T, side, x, y int, ground, ink uint8) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, side, side))
	for i := range m.Pix {
		m.Pix[i] = ground
	}
	m.SetGray(x, y, color.Gray{Y: ink})
	var out bytes.Buffer
	if err := png.Encode(&out, m); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestDiffer(t *testing.T) {
	kept := dot(t, 20, 5, 5, 255, 0)
	for _, c := range []struct {
		name string
		got  []byte
		want string // part of what is told; nothing: they are the same
	}{
		{"the same", kept, ""},
		{"an edge that is rounded otherwise", dot(t, 20, 5, 5, 255, 40), ""},
		{"a dot that moved by a pixel", dot(t, 20, 6, 5, 255, 0), "at (5,5) a colour is off by 255"},
		{"another ground", dot(t, 20, 5, 5, 253, 0), "off by 1.50 of 255 in the mean"},
		{"another size", dot(t, 21, 5, 5, 255, 0), "it is (21,21) and not (20,20) pixels"},
		{"no picture", []byte("no picture"), "what was drawn: png: invalid format"},
	} {
		t.Run(c.name, func(t *testing.T) {
			switch err := differ(c.got, kept); {
			case err == nil && c.want != "":
				t.Errorf("they are the same, and should differ: %s", c.want)
			case err != nil && (c.want == "" || !strings.Contains(err.Error(), c.want)):
				t.Errorf("they differ: %v, want %q", err, c.want)
			}
		})
	}
}

// TestCompareTellsTheFile says that a difference fails the test that asked, and
// that a missing picture does.
func TestCompareTellsTheFile(t *testing.T) {
	t.Setenv("CLEW_UPDATE", "1")
	file := t.TempDir() + "/folder/x.png"
	Compare(t, dot(t, 20, 5, 5, 255, 0), file)
	t.Setenv("CLEW_UPDATE", "")
	Compare(t, dot(t, 20, 5, 5, 255, 0), file)
	asked := &asking{TB: t}
	Compare(asked, dot(t, 20, 9, 5, 255, 0), file)
	if asked.failures != 1 {
		t.Errorf("a picture that differs failed %d times, want once", asked.failures)
	}
}

// asking counts the failures of a test that compares.
type asking struct {
	testing.TB
	failures int
}

func (a *asking) Errorf(string, ...any) { a.failures++ }
