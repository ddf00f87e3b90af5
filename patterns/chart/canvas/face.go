package canvas

import (
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// The letters are the Go fonts by Bigelow and Holmes, which may be embedded and
// passed on under the licence of Go itself.
var (
	regular = sync.OnceValue(func() *face { return newFace("r", goregular.TTF) })
	bold    = sync.OnceValue(func() *face { return newFace("b", gobold.TTF) })
)

// A face is one font: the outlines of its glyphs, each read when it is first
// needed. It keeps no more than the font has.
type face struct {
	name string // tells its glyphs from another's
	em   float64
	font *sfnt.Font

	mu     sync.Mutex
	buffer sfnt.Buffer
	glyphs map[rune]*glyph
	box    *glyph
}

// A glyph is a shape that stands on the baseline, in units of the font's size.
type glyph struct {
	id      int // in the font; the box is 0
	path    []Segment
	advance float64 // to where the next one starts
}

func newFace(name string, file []byte) *face {
	f, err := sfnt.Parse(file)
	if err != nil {
		panic(err) // the file is part of the program
	}
	return &face{name: name, em: float64(f.UnitsPerEm()), font: f, glyphs: map[rune]*glyph{}, box: box()}
}

// box is drawn for what the font lacks: hollow, about as wide as a letter.
func box() *glyph {
	const left, right, top, bottom, line = 0.09, 0.61, -0.7, 0.0, 0.06
	return &glyph{advance: 0.7, path: []Segment{
		MoveTo(left, top), LineTo(right, top), LineTo(right, bottom), LineTo(left, bottom), ClosePath(),
		MoveTo(left+line, top+line), LineTo(left+line, bottom-line), LineTo(right-line, bottom-line), LineTo(right-line, top+line), ClosePath(),
	}}
}

// glyph gives what is drawn for a letter; nil for nothing at all.
func (f *face) glyph(r rune) *glyph {
	if unicode.IsControl(r) || unicode.In(r, unicode.Zs, unicode.Zl, unicode.Zp) {
		r = ' '
	}
	if unicode.In(r, unicode.Cf, unicode.Mn, unicode.Me) {
		return nil
	}
	if g, known := f.glyphs[r]; known {
		return g
	}
	id, err := f.font.GlyphIndex(&f.buffer, r)
	if err != nil || id == 0 {
		return f.box
	}
	g := f.load(id)
	f.glyphs[r] = g
	return g
}

// load reads a glyph's outline.
func (f *face) load(id sfnt.GlyphIndex) *glyph {
	ppem := fixed.Int26_6(f.em * 64)
	advance, err := f.font.GlyphAdvance(&f.buffer, id, ppem, font.HintingNone)
	if err != nil {
		return f.box
	}
	outline, err := f.font.LoadGlyph(&f.buffer, id, ppem, nil)
	if err != nil {
		return f.box
	}
	g := &glyph{id: int(id), advance: float64(advance) / 64 / f.em}
	at := func(p fixed.Point26_6) point {
		return point{float64(p.X) / 64 / f.em, float64(p.Y) / 64 / f.em}
	}
	for _, s := range outline {
		a, b, c := at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if len(g.path) > 0 {
				g.path = append(g.path, ClosePath())
			}
			g.path = append(g.path, MoveTo(a.x, a.y))
		case sfnt.SegmentOpLineTo:
			g.path = append(g.path, LineTo(a.x, a.y))
		case sfnt.SegmentOpQuadTo:
			g.path = append(g.path, QuadTo(a.x, a.y, b.x, b.y))
		case sfnt.SegmentOpCubeTo:
			g.path = append(g.path, CubicTo(a.x, a.y, b.x, b.y, c.x, c.y))
		}
	}
	if len(g.path) > 0 {
		g.path = append(g.path, ClosePath())
	}
	return g
}

// A letter is a glyph and where it starts, in units of the font's size.
type letter struct {
	glyph *glyph
	x     float64
}

// layOut sets the letters of a text side by side, and gives their width.
func (f *face) layOut(text string) ([]letter, float64) {
	f.mu.Lock()
	defer f.mu.Unlock()
	letters := make([]letter, 0, len(text))
	x := 0.0
	for _, r := range text {
		if g := f.glyph(r); g != nil {
			letters = append(letters, letter{glyph: g, x: x})
			x += g.advance
		}
	}
	return letters, x
}
