package chart

import (
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/stitch"
)

// The symbols are drawn after those that the Craft Yarn Council publishes for
// knitting charts (from memory: its page could not be fetched): an empty square
// is a knit, a dash a purl, a ring a yarn over, a stroke a decrease that leans as
// the stroke does. Where it has none, they are of our own making, from the same
// few strokes. All are drawn in a square of one unit, y downwards.

const (
	pen  = 0.09 // of drawings
	bold = 0.13 // of what is a single dash
)

func strokes(points ...float64) canvas.Stroke { return widened(pen, points...) }

// widened draws straight lines through points, given as x, y, x, y.
func widened(width float64, points ...float64) canvas.Stroke {
	path := []canvas.Segment{canvas.MoveTo(points[0], points[1])}
	for i := 2; i+1 < len(points); i += 2 {
		path = append(path, canvas.LineTo(points[i], points[i+1]))
	}
	return canvas.Stroke{Path: path, Width: width, Color: canvas.Ink}
}

// round is the control distance that makes four curves a circle.
const round = 0.5523

func circle(x, y, r float64) []canvas.Segment {
	k := r * round
	return []canvas.Segment{
		canvas.MoveTo(x+r, y),
		canvas.CubicTo(x+r, y+k, x+k, y+r, x, y+r),
		canvas.CubicTo(x-k, y+r, x-r, y+k, x-r, y),
		canvas.CubicTo(x-r, y-k, x-k, y-r, x, y-r),
		canvas.CubicTo(x+k, y-r, x+r, y-k, x+r, y),
		canvas.ClosePath(),
	}
}

func ring(x, y, r float64) canvas.Stroke {
	return canvas.Stroke{Path: circle(x, y, r), Width: pen, Color: canvas.Ink}
}

func disc(x, y, r float64) canvas.Stroke {
	return canvas.Stroke{Path: circle(x, y, r), Color: canvas.Ink}
}

func dash(x, y, half float64) canvas.Stroke { return widened(bold, x-half, y, x+half, y) }

// pictograms are what is drawn for each stitch of the table but the generated
// decreases, which are drawn from their numbers.
var pictograms = map[string][]canvas.Stroke{
	"k":  {},
	"p":  {dash(0.5, 0.5, 0.24)},
	"sl": {strokes(0.24, 0.2, 0.5, 0.82, 0.76, 0.2)},

	"yo":   {ring(0.5, 0.5, 0.29)},
	"byo":  {ring(0.5, 0.47, 0.27), strokes(0.55, 0.6, 0.82, 0.86)},
	"m1":   {letterM(0.22, 0.78)},
	"m1l":  {letterM(0.12, 0.52), arrow(0.76, -1)},
	"m1r":  {letterM(0.12, 0.52), arrow(0.76, 1)},
	"m1p":  {letterM(0.12, 0.56), dash(0.5, 0.8, 0.22)},
	"m1lp": {letterM(0.08, 0.4), arrow(0.6, -1), dash(0.5, 0.87, 0.22)},
	"m1rp": {letterM(0.08, 0.4), arrow(0.6, 1), dash(0.5, 0.87, 0.22)},
	"kll":  {strokes(0.64, 0.86, 0.64, 0.14), strokes(0.64, 0.6, 0.3, 0.2)},
	"krl":  {strokes(0.36, 0.86, 0.36, 0.14), strokes(0.36, 0.6, 0.7, 0.2)},
	"kfb":  append(fan(2, 0.86), dash(0.5, 0.14, 0.14)),
	"pfb":  append(fan(2, 0.86), dash(0.5, 0.14, 0.14), dash(1.5, 0.14, 0.14)),
	"kfbf": append(fan(3, 0.86), dash(1.5, 0.14, 0.14)),
	"k1b":  {strokes(0.5, 0.12, 0.5, 0.84), strokes(0.28, 0.6, 0.5, 0.86, 0.72, 0.6), strokes(0.28, 0.12, 0.72, 0.12)},

	"ssk":  {leftward(0.5)},
	"ssp":  {leftward(0.5), dash(0.24, 0.82, 0.12)},
	"sssk": {leftward(0.37), leftward(0.63)},
	"sssp": {leftward(0.37), leftward(0.63), dash(0.2, 0.86, 0.1)},
	"skp":  {leftward(0.5), disc(0.72, 0.28, 0.09)},
	"sk2p": {strokes(0.26, 0.16, 0.78, 0.86), strokes(0.5, 0.48, 0.22, 0.86)},
	"s2kp": {strokes(0.16, 0.84, 0.5, 0.2, 0.84, 0.84), strokes(0.5, 0.2, 0.5, 0.84)},
	"ksp":  {rightward(0.5), disc(0.28, 0.28, 0.09)},
	"pnso": {strokes(0.24, 0.82, 0.24, 0.18, 0.76, 0.82, 0.76, 0.18)},

	"psso":                  {strokes(0.7, 0.2, 0.3, 0.5, 0.7, 0.8)},
	"p2sso":                 {strokes(0.56, 0.2, 0.18, 0.5, 0.56, 0.8), strokes(0.82, 0.2, 0.44, 0.5, 0.82, 0.8)},
	"pass previous st over": {strokes(0.7, 0.2, 0.3, 0.5, 0.7, 0.8), disc(0.66, 0.5, 0.09)},

	"mb":  {disc(0.5, 0.5, 0.3)},
	"pop": {ring(0.5, 0.5, 0.31), disc(0.5, 0.5, 0.14)},

	"BO":  {bow(0.66, -0.5)},
	"CO":  {strokes(0.5, 0.2, 0.5, 0.8), strokes(0.2, 0.5, 0.8, 0.5)},
	"pu":  {bow(0.34, 0.5)},
	"pup": {bow(0.24, 0.5), dash(0.5, 0.84, 0.22)},
}

func leftward(x float64) canvas.Stroke  { return strokes(x-0.25, 0.18, x+0.25, 0.82) }
func rightward(x float64) canvas.Stroke { return strokes(x+0.25, 0.18, x-0.25, 0.82) }

func letterM(top, bottom float64) canvas.Stroke {
	return strokes(0.2, bottom, 0.2, top, 0.5, top+(bottom-top)*0.7, 0.8, top, 0.8, bottom)
}

// arrow points to the left (-1) or to the right (1), at a height.
func arrow(y, way float64) canvas.Stroke {
	tip := 0.5 + 0.3*way
	return strokes(0.5-0.3*way, y, tip, y, tip-0.16*way, y-0.11, tip, y, tip-0.16*way, y+0.11)
}

// bow is half a ring that stands on a height, bulging by so much.
func bow(y, bulge float64) canvas.Stroke {
	return canvas.Stroke{Width: pen, Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(0.2, y), canvas.CubicTo(0.24, y+bulge, 0.76, y+bulge, 0.8, y)}}
}

// fan is what several stitches out of one place are drawn as: a line to each.
func fan(n int, foot float64) []canvas.Stroke {
	var out []canvas.Stroke
	for i := range n {
		out = append(out, strokes(float64(n)/2, foot, float64(i)+0.5, 0.2))
	}
	return out
}

// gathered is what a decrease of n stitches to one is drawn as: strokes that lean
// to the right, or, through the back loop, to the left; past three stitches, one
// stroke and the number.
func gathered(n int, face stitch.Face, right bool) []canvas.Stroke {
	var out []canvas.Stroke
	corner, lean, side := 0.76, rightward, 1.0
	if !right {
		lean, side = leftward, -1
	}
	switch n {
	case 2:
		out = append(out, lean(0.5))
	case 3:
		out, corner = append(out, lean(0.37), lean(0.63)), 0.8
	default:
		out = append(out, lean(0.5+0.1*side), canvas.Letters(0.5-0.22*side, 0.46, 0.5, canvas.Middle, canvas.Ink, strconv.Itoa(n)))
	}
	if !right {
		corner = 1 - corner
	}
	if face == stitch.Purl {
		out = append(out, dash(corner, 0.84, 0.12))
	}
	return out
}

// through is what is added to a stitch worked through the back loop: a small ring
// on the stroke, or a dot where that is taken. A knit and a purl become a loop whose legs cross.
func through(abbr string, base []canvas.Stroke) []canvas.Stroke {
	switch abbr {
	case "k":
		return []canvas.Stroke{twisted(0.86)}
	case "p":
		return []canvas.Stroke{twisted(0.66), dash(0.5, 0.86, 0.22)}
	}
	if abbr == "ssk" || abbr == "sssk" { // else it would be drawn as k2tog tbl, which leans so as well
		return append(append([]canvas.Stroke{}, base...), disc(0.5, 0.5, 0.16))
	}
	return append(append([]canvas.Stroke{}, base...),
		canvas.Stroke{Path: circle(0.5, 0.5, 0.16), Color: canvas.Paper}, ring(0.5, 0.5, 0.12))
}

func twisted(foot float64) canvas.Stroke {
	return canvas.Stroke{Width: pen, Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(0.22, foot), canvas.CubicTo(0.98, foot*0.56, 0.82, 0.12, 0.5, 0.12),
		canvas.CubicTo(0.18, 0.12, 0.02, foot*0.56, 0.78, foot)}}
}

// A form tells the drawings of one stitch apart.
type form struct {
	stitch        *stitch.Stitch
	tbl           bool
	bar, knitwise bool // of slips: the yarn lies in front of it as the right side shows; it is slipped knitwise
}

// drawings holds the drawing of every stitch of the table.
var drawings = func() map[form]*canvas.Symbol {
	all := map[form]*canvas.Symbol{}
	for _, s := range stitch.All() {
		all[form{stitch: s}] = symbolOf(form{stitch: s})
		all[form{stitch: s, tbl: true}] = symbolOf(form{stitch: s, tbl: true})
	}
	return all
}()

// symbolFor gives the drawing of a stitch.
func symbolFor(s form) *canvas.Symbol {
	if known := drawings[s]; known != nil {
		return known
	}
	return symbolOf(s)
}

func symbolOf(s form) *canvas.Symbol {
	return canvas.NewSymbol(s.name(), float64(max(1, len(s.stitch.Makes))), 1, strokesOf(s)...)
}

// name is the abbreviation of the stitch with how it is worked: "sl wyif".
func (s form) name() string {
	name := s.stitch.Abbr
	if s.knitwise {
		name += " kwise"
	}
	if s.bar {
		name += " wyif"
	}
	if s.tbl {
		name += " tbl"
	}
	return name
}

// strokesOf draws a stitch of the table.
func strokesOf(s form) []canvas.Stroke {
	out, known := pictograms[s.stitch.Abbr]
	if !known {
		out = gathered(s.stitch.Uses, s.stitch.Makes[0], !s.tbl)
	}
	if s.bar {
		out = append(append([]canvas.Stroke{}, out...), strokes(0.16, 0.5, 0.84, 0.5))
	}
	if s.knitwise {
		out = append(append([]canvas.Stroke{}, out...), disc(0.5, 0.24, 0.09))
	}
	if s.tbl {
		out = through(s.stitch.Abbr, out)
	}
	return out
}
