package board

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"testing"
)

func report(b *testing.B, size int) {
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/picture")
	b.ReportMetric(float64(size), "bytes")
}

// BenchmarkForty draws a board of forty bars, from the words to the bytes.
func BenchmarkForty(b *testing.B) {
	size := 0
	for b.Loop() {
		out, err := crowd(40).PNG(1)
		if err != nil {
			b.Fatal(err)
		}
		size = len(out)
	}
	report(b, size)
}

// BenchmarkYardstick only encodes the same picture, in full colour.
func BenchmarkYardstick(b *testing.B) {
	_, decoded := drawn(b, crowd(40))
	full := image.NewRGBA(decoded.Bounds())
	draw.Draw(full, full.Bounds(), decoded, image.Point{}, draw.Src)
	size := 0
	for b.Loop() {
		var out bytes.Buffer
		if err := png.Encode(&out, full); err != nil {
			b.Fatal(err)
		}
		size = out.Len()
	}
	report(b, size)
}
