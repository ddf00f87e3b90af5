// Package picturetest compares pictures with those that someone has looked at.
package picturetest

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// How far two pictures may be apart, of 255 in each of red, green and blue:
// what another choice of colours for the edges of shapes comes to. A letter
// that moved by a pixel is far beyond it.
const (
	meanApart = 0.5
	mostApart = 64
)

// Compare compares a PNG with the one in a file, such as "testdata/x.png". They
// may differ by what a change of rounding does to the edges of shapes, and no
// more. With CLEW_UPDATE=1 in the environment the file is written anew: look at
// it before it is kept. A picture that differs is kept in the test's folder of
// artifacts, for which go test has the flag -artifacts.
func Compare(t testing.TB, got []byte, file string) {
	t.Helper()
	if os.Getenv("CLEW_UPDATE") == "1" {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; CLEW_UPDATE=1 writes it: look at it before it is kept", err)
	}
	if err := differ(got, want); err != nil {
		kept := filepath.Join(t.ArtifactDir(), filepath.Base(file))
		if err := os.WriteFile(kept, got, 0o644); err != nil {
			t.Error(err)
		}
		t.Errorf("the picture is not that of %s: %v; it is in %s", file, err, kept)
	}
}

// differ tells how two pictures differ by more than they may.
func differ(got, want []byte) error {
	a, err := png.Decode(bytes.NewReader(got))
	if err != nil {
		return fmt.Errorf("what was drawn: %w", err)
	}
	b, err := png.Decode(bytes.NewReader(want))
	if err != nil {
		return fmt.Errorf("what was kept: %w", err)
	}
	if a.Bounds() != b.Bounds() {
		return fmt.Errorf("it is %v and not %v pixels", a.Bounds().Size(), b.Bounds().Size())
	}
	mean, most, at := apart(a, b)
	switch {
	case most > mostApart:
		return fmt.Errorf("at %v a colour is off by %d of 255, and %d is the most", at, most, mostApart)
	case mean > meanApart:
		return fmt.Errorf("the colours are off by %.2f of 255 in the mean, and %.1f is the most", mean, meanApart)
	}
	return nil
}

// apart measures how far two pictures of one size are apart, in the mean and at
// the point where it is most.
func apart(a, b image.Image) (mean float64, most int, at image.Point) {
	sum := 0
	box := a.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r1, g1, b1, a1 := a.At(x, y).RGBA()
			r2, g2, b2, a2 := b.At(x, y).RGBA()
			for _, pair := range [4][2]uint32{{r1, r2}, {g1, g2}, {b1, b2}, {a1, a2}} {
				off := max(int(pair[0]>>8)-int(pair[1]>>8), int(pair[1]>>8)-int(pair[0]>>8))
				sum += off
				if off > most {
					most, at = off, image.Pt(x, y)
				}
			}
		}
	}
	return float64(sum) / float64(4*max(box.Dx()*box.Dy(), 1)), most, at
}
