package canvas

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"testing"

	"pgregory.net/rapid"
)

// TestPNGReadsBack: the decoder of image/png reads every sheet back pixel for
// pixel, of odd widths too, and of one colour alone.
func TestPNGReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 20).Draw(t, "h")
		n := rapid.IntRange(1, most).Draw(t, "colours")
		var palette []color.RGBA
		var to [256]uint8
		for i := range n {
			palette = append(palette, color.RGBA{uint8(i), uint8(200 - i), 7, 0xff})
		}
		for i := range to {
			to[i] = uint8(i % n)
		}
		s := newSheet(w, h, nil)
		copy(s.shade, rapid.SliceOfN(rapid.Byte(), w*h, w*h).Draw(t, "shades"))
		data, err := writePNG(&s, palette, &to)
		if err != nil {
			t.Fatal(err)
		}
		decoded, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if got := decoded.Bounds(); got != image.Rect(0, 0, w, h) {
			t.Fatalf("the picture is %v, want %d by %d", got, w, h)
		}
		for i, shade := range s.shade {
			if got, want := decoded.At(i%w, i/w), palette[to[shade]]; got != want {
				t.Fatalf("pixel %d, %d is %v, want %v", i%w, i/w, got, want)
			}
		}
	})
}

// TestChunks walks through a file by the lengths of its chunks, and finds the
// four that a picture in indexed colour has (W3C, Portable Network Graphics,
// second edition, sections 5.6 and 11.2), each with the checksum of its type and
// its data.
func TestChunks(t *testing.T) {
	s := newSheet(3, 2, nil)
	data, err := writePNG(&s, []color.RGBA{{A: 0xff}}, new([256]uint8))
	if err != nil {
		t.Fatal(err)
	}
	kinds := ""
	for rest := data[8:]; len(rest) > 0; {
		n := int(binary.BigEndian.Uint32(rest))
		kinds += string(rest[4:8]) + " "
		if got, want := binary.BigEndian.Uint32(rest[8+n:]), crc32.ChecksumIEEE(rest[4:8+n]); got != want {
			t.Errorf("%s has the checksum %08x, want %08x", rest[4:8], got, want)
		}
		rest = rest[12+n:]
	}
	if kinds != "IHDR PLTE IDAT IEND " {
		t.Errorf("the chunks are %s", kinds)
	}
}

// TestSheetsAreClean: a sheet that takes over the memory of another one begins
// as paper.
func TestSheetsAreClean(t *testing.T) {
	for range 4 {
		s := newSheet(30, 30, nil)
		for i, shade := range s.shade {
			if shade != uint8(Paper) {
				t.Fatalf("pixel %d of a new sheet has the shade %d", i, shade)
			}
		}
		s.rect(0, 0, 30, 30, Ink)
		s.free()
	}
}
