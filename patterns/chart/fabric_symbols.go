package chart

import (
	"fmt"
	"math"
	"slices"

	"clew/patterns/chart/canvas"
)

// A shape is what a stitch looks like.
type shape uint8

const (
	vee     shape = iota // a knit: two legs that lean apart
	crossed              // the same, twisted: the legs cross at the foot
	bump                 // a purl
	hole                 // a yarn over
	bobble
	bar      // the yarn in front of a slipped stitch
	chain    // a link of an edge that is bound off
	leg      // one leg alone: of a decrease
	caston   // a link of a cast-on edge
	openLoop // a stitch on hold
)

// leanStep is how finely the lean of a stitch is drawn, in stitches, and
// widthStep how finely its width.
const (
	leanStep  = 1.0 / 8
	widthStep = 1.0 / 8
)

// A symbolKey says which symbol is meant.
type symbolKey struct {
	shape shape
	lean  int8 // of its top to the right of its foot, in steps
	tall  uint8
	tint  canvas.Color
	along bool // it is turned into the direction in which it leans
}

// symbols are those of a picture, made as they are needed.
type symbols struct {
	aspect float64 // height of a row, in stitches
	fine   bool    // without outlines
	made   map[symbolKey]*canvas.Symbol
}

// footing is how far a leg reaches into the stitch below, in rows.
const footing = 0.3

// outline is how wide the line around a leg is, in stitches. Stitches narrower
// than fineStitch units have none, since it would darken them: they are told by
// their ground alone, which is darker then.
const (
	outline    = 0.075
	fineStitch = 8.0
)

func (s symbols) get(k symbolKey) *canvas.Symbol {
	if known := s.made[k]; known != nil {
		return known
	}
	drawn := k.draw(s.aspect, s.fine)
	s.made[k] = drawn
	return drawn
}

// width is that of the symbol, in stitches.
func (k symbolKey) width() float64 { return 1 + math.Abs(float64(k.lean))*leanStep }

func (k symbolKey) draw(aspect float64, fine bool) *canvas.Symbol {
	lean := float64(k.lean) * leanStep
	tall := float64(k.tall)
	top, foot := 0.5+max(lean, 0), 0.5+max(-lean, 0)
	high := tall + footing
	var strokes []canvas.Stroke
	name := ""
	switch k.shape {
	case vee:
		name = "knit"
		across := point{1, 0}
		if k.along { // at right angles to the way that it goes, and as much narrower as that is longer
			square := lean*lean + aspect*aspect*tall*tall
			across = point{aspect * aspect * tall * tall / square, lean * tall / square}
		}
		strokes = append(leaf(top, foot, -1, tall, across, k.tint), leaf(top, foot, 1, tall, across, k.tint)...)
	case crossed:
		name = "twisted"
		strokes = twistedLegs(top, foot, tall, k.tint)
	case bump:
		name = "purl"
		strokes = arch(top, foot, k.tint)
	case hole:
		name = "hole"
		strokes = openHole(top, k.tint)
	case bobble:
		name = "bobble"
		strokes = blob(k.tint)
	case bar:
		name = "bar"
		strokes = bead(0.5, 0.55, 0.52, 0.24, k.tint)
	case chain:
		name = "bind-off"
		strokes = link(k.tint)
	case leg:
		name = "decrease"
		strokes = slant(top, foot, tall, k.tint)
	case caston:
		name = "cast-on"
		strokes = bead(0.5, 0.5, 0.46, 0.3, k.tint)
	case openLoop:
		name = "held"
		strokes = []canvas.Stroke{{Path: []canvas.Segment{canvas.MoveTo(0.2, 1), canvas.CubicTo(0.1, 0, 0.9, 0, 0.8, 1)}, Width: 0.1, Color: canvas.Ink}}
	}
	for i := range strokes {
		if strokes[i].Width == outline {
			strokes[i].Width = outline / (1 + math.Abs(lean)/3) // what leans far lies close, and would turn black
		}
	}
	if fine && k.shape != hole && k.shape != bobble {
		strokes = slices.DeleteFunc(strokes, func(s canvas.Stroke) bool { return s.Width == outline/(1+math.Abs(lean)/3) })
	}
	return canvas.NewSymbol(fmt.Sprintf("%s%d.%d.%d", name, k.lean, k.tall, k.tint), k.width(), high, strokes...)
}

// filled gives an area with its outline.
func filled(path []canvas.Segment, fill canvas.Color) []canvas.Stroke {
	return []canvas.Stroke{{Path: path, Color: fill}, {Path: path, Width: outline, Color: canvas.Ink}}
}

type point struct{ x, y float64 }

// leaf is one leg of a knit: from the foot to the top, on one side.
func leaf(top, foot, side, tall float64, across point, tint canvas.Color) []canvas.Stroke {
	low := tall + footing - outline
	at := func(x, y float64) (float64, float64) { // x from the middle, which leans
		mid := top + (foot-top)*min(y/tall, 1)
		return mid + side*x*across.x, y + side*x*across.y
	}
	fx, fy := at(0.02, low)
	ax, ay := at(0.40, tall*0.92)
	bx, by := at(0.50, tall*0.40)
	tx, ty := at(0.42, outline)
	cx, cy := at(0.20, 0.02)
	dx, dy := at(0.02, tall*0.45)
	return filled([]canvas.Segment{canvas.MoveTo(fx, fy), canvas.CubicTo(ax, ay, bx, by, tx, ty), canvas.CubicTo(cx, cy, dx, dy, fx, fy), canvas.ClosePath()}, tint)
}

// slant is a leg that goes all the way from its foot to the top.
func slant(top, foot, tall float64, tint canvas.Color) []canvas.Stroke {
	low := tall + footing*0.6
	const half = 0.2
	path := []canvas.Segment{
		canvas.MoveTo(foot, low),
		canvas.CubicTo(foot-half*1.4, tall*0.8, top-half*1.4, tall*0.3, top-0.05, outline),
		canvas.CubicTo(top+half*1.6, tall*0.2, foot+half*1.4, tall*0.7, foot, low),
		canvas.ClosePath(),
	}
	return filled(path, tint)
}

// twistedLegs cross at the foot.
func twistedLegs(top, foot, tall float64, tint canvas.Color) []canvas.Stroke {
	low := tall + footing - outline
	one := func(side float64) []canvas.Stroke {
		return filled([]canvas.Segment{
			canvas.MoveTo(foot-side*0.22, low),
			canvas.CubicTo(foot+side*0.25, tall*0.85, top+side*0.52, tall*0.5, top+side*0.34, outline),
			canvas.CubicTo(top+side*0.12, 0.02, foot+side*0.0, tall*0.7, foot-side*0.22, low),
			canvas.ClosePath(),
		}, tint)
	}
	return append(one(-1), one(1)...)
}

// arch is the bump of a purl.
func arch(top, foot float64, tint canvas.Color) []canvas.Stroke {
	mid := (top + foot) / 2
	return filled([]canvas.Segment{
		canvas.MoveTo(mid-0.47, 0.86),
		canvas.CubicTo(mid-0.40, 0.12, mid+0.40, 0.12, mid+0.47, 0.86),
		canvas.CubicTo(mid+0.25, 0.58, mid-0.25, 0.58, mid-0.47, 0.86),
		canvas.ClosePath(),
	}, tint)
}

// openHole is what a yarn over leaves, with the yarn above it.
func openHole(top float64, tint canvas.Color) []canvas.Stroke {
	ring := ellipse(top, 0.72, 0.38, 0.46)
	return append(arch(top, top, tint),
		canvas.Stroke{Path: ring, Color: canvas.Paper},
		canvas.Stroke{Path: ring, Width: 2 * outline, Color: canvas.Ink})
}

func blob(tint canvas.Color) []canvas.Stroke {
	return append(bead(0.5, 0.66, 0.46, 0.6, tint),
		canvas.Stroke{Path: []canvas.Segment{canvas.MoveTo(0.25, 0.6), canvas.CubicTo(0.3, 0.4, 0.42, 0.3, 0.58, 0.28)}, Width: outline, Color: canvas.Ink})
}

func bead(x, y, rx, ry float64, fill canvas.Color) []canvas.Stroke {
	return filled(ellipse(x, y, rx, ry), fill)
}

// link is a link of the chain along an edge.
func link(tint canvas.Color) []canvas.Stroke {
	return bead(0.5, 0.5, 0.47, 0.36, tint)
}

// ellipse goes round a point; by the usual four cubic curves.
func ellipse(x, y, rx, ry float64) []canvas.Segment {
	const k = round
	return []canvas.Segment{
		canvas.MoveTo(x+rx, y),
		canvas.CubicTo(x+rx, y+ry*k, x+rx*k, y+ry, x, y+ry),
		canvas.CubicTo(x-rx*k, y+ry, x-rx, y+ry*k, x-rx, y),
		canvas.CubicTo(x-rx, y-ry*k, x-rx*k, y-ry, x, y-ry),
		canvas.CubicTo(x+rx*k, y-ry, x+rx, y-ry*k, x+rx, y),
		canvas.ClosePath(),
	}
}
