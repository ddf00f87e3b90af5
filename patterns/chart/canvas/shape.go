package canvas

// A Segment is a step of the pen. Make it with MoveTo and its likes.
type Segment struct {
	op         op
	to, c1, c2 point
}

type op uint8

const (
	move op = iota
	lineTo
	quad
	cubic
	closing
)

type point struct{ x, y float64 }

// MoveTo lifts the pen and puts it down at (x, y).
func MoveTo(x, y float64) Segment { return Segment{op: move, to: point{x, y}} }

// LineTo draws a straight line.
func LineTo(x, y float64) Segment { return Segment{op: lineTo, to: point{x, y}} }

// QuadTo draws a quadratic curve with the control point (cx, cy).
func QuadTo(cx, cy, x, y float64) Segment {
	return Segment{op: quad, c1: point{cx, cy}, to: point{x, y}}
}

// CubicTo draws a cubic curve with the control points (ax, ay) and (bx, by).
func CubicTo(ax, ay, bx, by, x, y float64) Segment {
	return Segment{op: cubic, c1: point{ax, ay}, c2: point{bx, by}, to: point{x, y}}
}

// ClosePath draws a line back to where the pen was last put down.
func ClosePath() Segment { return Segment{op: closing} }

// A Stroke is a line that the pen draws, with round ends and corners, or an
// area that it goes around. A wide stroke of the ground below a narrower one of
// ink interrupts what passes behind. Let it end inside its Symbol: its ends are
// round, and would cover what is drawn beside it.
type Stroke struct {
	Path  []Segment
	Width float64 // of the line; 0 fills the area (where lines run around it, whichever way)
	Color Color   // in a Symbol, Paper is the ground it is stamped on
}

// A Symbol is drawn once and stamped often. It does not change, and may be
// shared.
type Symbol struct {
	name    string
	w, h    float64
	strokes []Stroke
}

// NewSymbol gives a symbol of w by h cells, such as 4 by 1 for a cross of four
// stitches. A cell is one unit wide and high, from (0, 0) at the top left of
// the symbol to (w, h); the width of strokes is in these units too. The name
// stands in the SVG.
func NewSymbol(name string, w, h float64, strokes ...Stroke) *Symbol {
	return &Symbol{name: name, w: side(w), h: side(h), strokes: strokes}
}

// Letters gives a text as a stroke that fills its letters, for a letter in a
// Symbol: placed as Canvas.Text places it, in the units of the symbol.
func Letters(x, y, size float64, anchor Anchor, color Color, text string) Stroke {
	s := Stroke{Color: color}
	f := regular()
	letters, width := f.layOut(text)
	m := placing{sx: size, sy: size, dx: x - anchor.before(width*size), dy: y}
	for _, l := range letters {
		m := placing{sx: size, sy: size, dx: m.dx + l.x*size, dy: y}
		for _, p := range l.glyph.path {
			s.Path = append(s.Path, Segment{op: p.op, to: m.at(p.to), c1: m.at(p.c1), c2: m.at(p.c2)})
		}
	}
	return s
}
