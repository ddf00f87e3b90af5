package canvas_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/chart/canvas"
	"clew/patterns/chart/picturetest"
)

func picture(t testing.TB, c *canvas.Canvas, scale int) []byte {
	t.Helper()
	out, err := c.PNG(scale)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestSpecimen(t *testing.T) {
	picturetest.Compare(t, picture(t, specimen(), 1), "testdata/specimen.png")
	picturetest.Compare(t, picture(t, specimen(), 2), "testdata/specimen-2x.png")
}

// TestSixteenColours says that a pixel takes four bits, whatever is drawn, and
// that what was drawn in plain colours keeps them.
func TestSixteenColours(t *testing.T) {
	decoded, err := png.Decode(bytes.NewReader(picture(t, specimen(), 1)))
	if err != nil {
		t.Fatal(err)
	}
	paletted, ok := decoded.(*image.Paletted)
	if !ok || len(paletted.Palette) > 16 {
		t.Fatalf("the picture is a %T of %v", decoded, paletted.Palette)
	}
	for i, name := range names {
		if got, want := decoded.At(22+51*i, 48), canvas.Plain[i]; got != want {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
}

// TestSameBytes says that a drawing renders to the same bytes, again, anew, and
// by many at once.
func TestSameBytes(t *testing.T) {
	c := specimen()
	first, drawn := picture(t, c, 1), c.SVG("")
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if out, err := c.PNG(1); err != nil || !bytes.Equal(out, first) {
				t.Errorf("the same canvas renders to other bytes: %v", err)
			}
			if out, err := specimen().PNG(1); err != nil || !bytes.Equal(out, first) {
				t.Errorf("the same drawing renders to other bytes: %v", err)
			}
			if !bytes.Equal(specimen().SVG(""), drawn) {
				t.Error("the same drawing has another SVG")
			}
		})
	}
	wait.Wait()
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		w, h  float64
		scale int
		want  string
	}{
		{10, 10, 0, "a picture is drawn at a scale of 1 to 4, not 0"},
		{10, 10, 5, "a picture is drawn at a scale of 1 to 4, not 5"},
		{10, 20000, 1, "a picture of 10 by 20000 pixels is too large to draw; draw fewer rows, or at a smaller scale"},
		{10000, 10000, 1, "a picture of 10000 by 10000 pixels is too large to draw; draw fewer rows, or at a smaller scale"},
		{math.Inf(1), 10, 1, "a picture of +Inf by 10 pixels is too large to draw; draw fewer rows, or at a smaller scale"},
	} {
		if _, err := canvas.New(c.w, c.h, canvas.Plain).PNG(c.scale); err == nil || err.Error() != c.want {
			t.Errorf("%g by %g at scale %d: %v, want %q", c.w, c.h, c.scale, err, c.want)
		}
	}
	out := picture(t, canvas.New(math.NaN(), -3, canvas.Plain), 1)
	if config, err := png.DecodeConfig(bytes.NewReader(out)); err != nil || config.Width != 1 || config.Height != 1 {
		t.Errorf("a canvas of no size is %d by %d: %v, want 1 by 1", config.Width, config.Height, err)
	}
}

// TestEdgesOnPixels says that cells lie side by side with neither a gap nor an
// edge between them, whatever their width, at every scale.
func TestEdgesOnPixels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.Float64Range(0.7, 30).Draw(t, "cell")
		scale := rapid.IntRange(1, 3).Draw(t, "scale")
		c := canvas.New(cell*10, 4, canvas.Plain)
		for i := range 10 {
			c.Rect(cell*float64(i), 0, cell, 4, canvas.YarnA+canvas.Color(i%2))
		}
		out, err := c.PNG(scale)
		if err != nil {
			t.Fatal(err)
		}
		decoded, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		for x := range decoded.Bounds().Dx() - 1 {
			if got := decoded.At(x, 1); got != canvas.Plain[canvas.YarnA] && got != canvas.Plain[canvas.YarnB] {
				t.Fatalf("pixel %d is %v, of neither cell", x, got)
			}
		}
	})
}

// ink is how much of a picture is covered with ink, in units of area.
func ink(t testing.TB, c *canvas.Canvas, scale int) float64 {
	t.Helper()
	decoded, err := png.Decode(bytes.NewReader(picture(t, c, scale)))
	if err != nil {
		t.Fatal(err)
	}
	paper, dark := float64(canvas.Plain[canvas.Paper].G), float64(canvas.Plain[canvas.Ink].G)
	sum := 0.0
	for y := range decoded.Bounds().Dy() {
		for x := range decoded.Bounds().Dx() {
			_, g, _, _ := decoded.At(x, y).RGBA()
			sum += (paper - float64(g>>8)) / (paper - dark)
		}
	}
	return sum / float64(scale*scale)
}

// TestAreas compares what shapes cover with their areas by the formulas of
// geometry.
func TestAreas(t *testing.T) {
	for _, c := range []struct {
		name   string
		stroke canvas.Stroke
		want   float64
	}{
		{"a disc", canvas.Stroke{Path: circle(100, 100, 50)}, math.Pi * 50 * 50},
		{"a ring", canvas.Stroke{Path: circle(100, 100, 50), Width: 10}, 2 * math.Pi * 50 * 10},
		{"a line with round ends", canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(40, 40), canvas.LineTo(100, 120)}, Width: 20}, 100*20 + math.Pi*10*10},
		{"a dot", canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(60, 60), canvas.LineTo(60, 60)}, Width: 40}, math.Pi * 20 * 20},
		{"the area below a parabola", canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(20, 120), canvas.QuadTo(70, 0, 120, 120), canvas.ClosePath()}}, 2.0 / 3 * 100 * 60},
		{"a right angle with a round corner", canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(40, 40), canvas.LineTo(120, 40), canvas.LineTo(120, 120)}, Width: 16}, 2*80*16 - 8*8 + math.Pi*8*8 + math.Pi*8*8/4},
		{"half a disc, the rest being off the picture", canvas.Stroke{Path: circle(0, 100, 50)}, math.Pi * 50 * 50 / 2},
		{"a line that runs far out of the picture", canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(-1e7, 100), canvas.LineTo(1e7, 100)}, Width: 10}, 200 * 10},
		{"a shape that is all off the picture", canvas.Stroke{Path: circle(400, 100, 50)}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.stroke.Color = canvas.Ink
			drawing := canvas.New(200, 200, canvas.Plain)
			drawing.Path(c.stroke)
			if got := ink(t, drawing, 2); math.Abs(got-c.want) > 0.01*c.want+0.5 {
				t.Errorf("it covers %.1f, want %.1f", got, c.want)
			}
		})
	}
}

// TestKnockOut says that a stroke of Paper in a symbol shows the ground.
func TestKnockOut(t *testing.T) {
	c := canvas.New(40, 40, canvas.Plain)
	c.Rect(0, 0, 40, 40, canvas.YarnB)
	wide := []canvas.Segment{canvas.MoveTo(0.5, 0), canvas.LineTo(0.5, 1)}
	across := []canvas.Segment{canvas.MoveTo(0, 0.5), canvas.LineTo(1, 0.5)}
	c.Stamp(canvas.NewSymbol("gap", 1, 1, canvas.Stroke{Path: across, Width: 0.2, Color: canvas.Ink}, canvas.Stroke{Path: wide, Width: 0.4}), 0, 0, 40, 40, canvas.YarnB)
	decoded, err := png.Decode(bytes.NewReader(picture(t, c, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if got := decoded.At(20, 20); got != canvas.Plain[canvas.YarnB] {
		t.Errorf("the gap is %v, want the ground", got)
	}
	if got := decoded.At(4, 20); got != canvas.Plain[canvas.Ink] {
		t.Errorf("beside the gap is %v, want ink", got)
	}
	if svg := string(c.SVG("")); strings.Count(svg, `stroke="#ffffff"`) != 0 {
		t.Errorf("the gap is white in\n%s", svg)
	}
}

// TestWhateverIsDrawn says that no number makes a drawing fail.
func TestWhateverIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64Range(-100, 300), rapid.Float64(), rapid.Just(math.NaN()), rapid.Just(math.Inf(-1)))
		n := func() float64 { return number.Draw(t, "number") }
		c := canvas.New(120, 90, canvas.Plain)
		for range rapid.IntRange(1, 8).Draw(t, "items") {
			bend := []canvas.Segment{canvas.MoveTo(n(), n()), canvas.LineTo(n(), n()), canvas.QuadTo(n(), n(), n(), n()), canvas.CubicTo(n(), n(), n(), n(), n(), n())}
			if rapid.Bool().Draw(t, "closed") {
				bend = append(bend, canvas.ClosePath(), canvas.LineTo(n(), n()))
			}
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0:
				c.Rect(n(), n(), n(), n(), canvas.Here)
			case 1:
				c.Line(n(), n(), n(), n(), n(), canvas.Ink, rapid.Bool().Draw(t, "dash"))
			case 2:
				c.Path(canvas.Stroke{Path: bend, Width: n(), Color: canvas.YarnC})
			case 3:
				side := rapid.OneOf(rapid.Float64Range(-5, 90), rapid.Just(math.NaN()), rapid.Just(math.Inf(1)))
				c.Stamp(over, n(), n(), side.Draw(t, "w"), side.Draw(t, "h"), canvas.Here)
			case 4:
				size := rapid.OneOf(rapid.Float64Range(-5, 60), rapid.Just(math.NaN()), rapid.Just(math.Inf(1)))
				c.Text(n(), n(), size.Draw(t, "size"), canvas.Middle, canvas.Ink, rapid.String().Draw(t, "text"))
			}
		}
		if _, err := c.PNG(1); err != nil {
			t.Fatal(err)
		}
		if err := wellFormed(c.SVG("")); err != nil {
			t.Fatal(err)
		}
	})
}
