package canvas_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"testing"

	"clew/patterns/chart/canvas"
)

// grid is a chart of 60 by 60 cells, 1,200 units wide.
func grid() *canvas.Canvas {
	c := canvas.New(1200, 1260, canvas.Plain)
	c.Bold(20, 28, 20, canvas.Start, canvas.Ink, "Sixty by sixty")
	const cell = 19
	c.Rect(30, 40+cell*30, cell*60, cell, canvas.Here)
	for i := range 61 {
		c.Line(30+cell*float64(i), 40, 30+cell*float64(i), 40+cell*60, 1, canvas.Faint, false)
		c.Line(30, 40+cell*float64(i), 30+cell*60, 40+cell*float64(i), 1, canvas.Faint, false)
	}
	for y := range 60 {
		ground := canvas.Paper
		if y == 30 {
			ground = canvas.Here
		}
		top := 40 + cell*float64(y)
		for x := 0; x < 60; x++ {
			left := 30 + cell*float64(x)
			switch n := (x*x + 3*y*x + y) % 11; {
			case n == 0 && x < 57:
				c.Stamp(over, left, top, cell*4, cell, ground)
				x += 3
			case n == 1:
				c.Stamp(ring, left, top, cell, cell, ground)
			case n == 2:
				c.Stamp(lean, left, top, cell, cell, ground)
			case n < 6:
				c.Stamp(dot, left, top, cell, cell, ground)
			}
		}
		c.Text(30+cell*60+6, top+15, 12, canvas.Start, canvas.Ink, fmt.Sprint(60-y))
	}
	return c
}

// fabric has 40,000 strands.
func fabric() *canvas.Canvas {
	c := canvas.New(1200, 1200, canvas.Plain)
	for y := range 200 {
		for x := range 100 {
			left, top := 12*float64(x), 6*float64(y)
			v := []canvas.Segment{canvas.MoveTo(left+1, top), canvas.QuadTo(left+2, top+5, left+6, top+8), canvas.QuadTo(left+10, top+5, left+11, top)}
			c.Path(canvas.Stroke{Path: v, Width: 4, Color: canvas.Ink}, canvas.Stroke{Path: v, Width: 3, Color: canvas.YarnA + canvas.Color(y/20%2)})
		}
	}
	return c
}

func benchmarkPNG(b *testing.B, draw func() *canvas.Canvas) {
	size := 0
	for b.Loop() {
		size = len(picture(b, draw(), 1))
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/picture")
	b.ReportMetric(float64(size), "bytes")
}

func BenchmarkGrid(b *testing.B)   { benchmarkPNG(b, grid) }
func BenchmarkFabric(b *testing.B) { benchmarkPNG(b, fabric) }

func BenchmarkSVG(b *testing.B) {
	size := 0
	for b.Loop() {
		size = len(grid().SVG(""))
	}
	b.ReportMetric(float64(size), "bytes")
}

// BenchmarkYardstick encodes the picture of BenchmarkGrid in full colour: what
// any way of drawing takes at least that does not choose sixteen colours.
func BenchmarkYardstick(b *testing.B) {
	decoded, err := png.Decode(bytes.NewReader(picture(b, grid(), 1)))
	if err != nil {
		b.Fatal(err)
	}
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
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/picture")
	b.ReportMetric(float64(size), "bytes")
}

// TestSizeOfGrid holds a large chart to what a phone should have to load.
func TestSizeOfGrid(t *testing.T) {
	if size := len(picture(t, grid(), 1)); size > 40<<10 {
		t.Errorf("a chart of 60 by 60 is %d bytes, want 40 KB at most", size)
	}
}
