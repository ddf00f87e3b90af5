package canvas_test

import (
	"fmt"
	"math"

	"clew/patterns/chart/canvas"
)

// names of the colours, in their order.
var names = []string{"Paper", "Ink", "Faint", "Blank", "Here", "YarnA", "YarnB", "YarnC", "YarnD", "YarnE", "YarnF"}

var (
	// over is a cross of four cells whose right strand passes in front.
	over = canvas.NewSymbol("over", 4, 1,
		canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(0.4, 0.1), canvas.CubicTo(0.4, 0.6, 2.4, 0.4, 2.4, 0.9)}, Width: 0.08, Color: canvas.Ink},
		canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(1.6, 0.1), canvas.CubicTo(1.6, 0.6, 3.6, 0.4, 3.6, 0.9)}, Width: 0.08, Color: canvas.Ink},
		canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(3.1, 0.38), canvas.CubicTo(2.7, 0.46, 1.9, 0.54, 1.5, 0.62)}, Width: 0.3, Color: canvas.Paper},
		canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(3.6, 0.1), canvas.CubicTo(3.6, 0.6, 1, 0.4, 1, 0.9)}, Width: 0.08, Color: canvas.Ink},
	)
	ring = canvas.NewSymbol("ring", 1, 1, canvas.Stroke{Path: circle(0.5, 0.5, 0.28), Width: 0.1, Color: canvas.Ink})
	dot  = canvas.NewSymbol("dot", 1, 1, canvas.Stroke{Path: circle(0.5, 0.5, 0.17), Color: canvas.Ink})
	lean = canvas.NewSymbol("lean", 1, 1, canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(0.2, 0.8), canvas.LineTo(0.8, 0.2)}, Width: 0.1, Color: canvas.Ink})
	tent = canvas.NewSymbol("tent", 1, 1, canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(0.2, 0.8), canvas.LineTo(0.5, 0.2), canvas.LineTo(0.8, 0.8)}, Width: 0.1, Color: canvas.Ink})
	hash = canvas.NewSymbol("letter", 1, 1, canvas.Letters(0.5, 0.75, 0.7, canvas.Middle, canvas.Ink, "B"))
)

func circle(x, y, r float64) []canvas.Segment {
	const k = 0.5522847498 // control points of a quarter circle
	return []canvas.Segment{
		canvas.MoveTo(x+r, y),
		canvas.CubicTo(x+r, y+k*r, x+k*r, y+r, x, y+r),
		canvas.CubicTo(x-k*r, y+r, x-r, y+k*r, x-r, y),
		canvas.CubicTo(x-r, y-k*r, x-k*r, y-r, x, y-r),
		canvas.CubicTo(x+k*r, y-r, x+r, y-k*r, x+r, y),
		canvas.ClosePath(),
	}
}

// specimen shows all that a canvas can draw.
func specimen() *canvas.Canvas {
	c := canvas.New(600, 420, canvas.Plain)
	c.Title("A specimen")
	c.Bold(20, 30, 18, canvas.Start, canvas.Ink, "Specimen of the canvas")
	for i, name := range names {
		x := 20 + 51*float64(i)
		c.Rect(x, 45, 48, 40, canvas.Color(i))
		color := canvas.Ink
		if i == int(canvas.Ink) {
			color = canvas.Paper
		}
		c.Text(x+24, 70, 12, canvas.Middle, color, name)
	}
	c.Begin("grid", "rows", "3")
	grounds := []canvas.Color{canvas.Paper, canvas.Here, canvas.YarnB}
	for row, ground := range grounds {
		c.Rect(20, 100+24*float64(row), 24*12, 24, ground)
	}
	for i := range 13 {
		c.Line(20+24*float64(i), 100, 20+24*float64(i), 172, 1, canvas.Faint, false)
	}
	for i := range 4 {
		c.Line(20, 100+24*float64(i), 20+24*12, 100+24*float64(i), 1, canvas.Faint, false)
	}
	for row, ground := range grounds {
		y := 100 + 24*float64(row)
		for i, s := range []*canvas.Symbol{ring, dot, lean, tent, hash} {
			c.Stamp(s, 20+24*float64(i), y, 24, 24, ground)
		}
		c.Stamp(over, 20+24*6, y, 96, 24, ground)
		c.Text(20+24*12+6, y+17, 14, canvas.Start, canvas.Ink, fmt.Sprint(row+1))
	}
	c.End()
	frame(c, 20+24*5, 100, 24*5, 72)
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 16)
		c.Line(400, 110, 400+150*cos, 110+60*sin, 1+float64(i)/4, canvas.Ink, i%2 == 1)
	}
	strands(c)
	writings(c)
	return c
}

// frame draws a box of wide lines, as a repeat has.
func frame(c *canvas.Canvas, x, y, w, h float64) {
	c.Line(x, y, x+w, y, 3, canvas.Ink, false)
	c.Line(x, y+h, x+w, y+h, 3, canvas.Ink, false)
	c.Line(x, y, x, y+h, 3, canvas.Ink, false)
	c.Line(x+w, y, x+w, y+h, 3, canvas.Ink, true)
}

// strands draws strokes of many widths and bends.
func strands(c *canvas.Canvas) {
	for i := range 6 {
		x := 30 + 40*float64(i)
		bend := []canvas.Segment{canvas.MoveTo(x, 190), canvas.CubicTo(x, 220, x+60, 220, x+60, 250)}
		c.Path(
			canvas.Stroke{Path: bend, Width: 14, Color: canvas.Ink},
			canvas.Stroke{Path: bend, Width: 11, Color: canvas.YarnA + canvas.Color(i)},
		)
	}
	corners := []canvas.Segment{canvas.MoveTo(320, 200), canvas.LineTo(345, 245), canvas.LineTo(350, 200), canvas.LineTo(380, 240), canvas.LineTo(380, 200)}
	c.Path(canvas.Stroke{Path: corners, Width: 10, Color: canvas.YarnB}, canvas.Stroke{Path: corners, Width: 1, Color: canvas.Ink})
	shut := []canvas.Segment{canvas.MoveTo(410, 200), canvas.QuadTo(430, 260, 450, 200), canvas.LineTo(430, 215), canvas.ClosePath()}
	c.Path(canvas.Stroke{Path: shut, Color: canvas.YarnC}, canvas.Stroke{Path: shut, Width: 4, Color: canvas.Ink})
	for i := range 5 {
		x := 480 + 22*float64(i)
		c.Path(canvas.Stroke{Path: circle(x, 220, 3+2*float64(i)), Width: 1 + float64(i)*2, Color: canvas.Ink})
	}
	c.Path(canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(480, 250), canvas.LineTo(480, 250)}, Width: 8, Color: canvas.Ink})
	c.Path(canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(560, 240), canvas.QuadTo(640, 300, 580, 440)}, Width: 12, Color: canvas.YarnD})
}

func writings(c *canvas.Canvas) {
	y := 285.0
	for _, size := range []float64{10, 12, 14, 20} {
		c.Text(20, y, size, canvas.Start, canvas.Ink, fmt.Sprintf("Round 12 of Lanterns, %g units: knit, purl, ſ, Ægir, Ωmega, Жук", size))
		y += size + 6
	}
	c.Text(20, y, 14, canvas.Start, canvas.Ink, "Lacking: \U0001F9F6 שלום 編み物 <&\"'> e\u0301 a\u200db\tc")
	c.Rect(300, 350, 1, 60, canvas.Faint)
	c.Text(300, 370, 14, canvas.Start, canvas.Ink, "Start")
	c.Text(300, 388, 14, canvas.Middle, canvas.Ink, "Middle")
	c.Text(300, 406, 14, canvas.End, canvas.Ink, "End")
	c.Bold(420, 370, 14, canvas.Start, canvas.Ink, canvas.CutBold(14, 100, "Cut to a hundred units wide"))
	c.Rect(420, 375, 100, 2, canvas.YarnC)
	c.Text(420, 400, 14, canvas.Start, canvas.Ink, canvas.Cut(14, 100, "Fits in there"))
}
