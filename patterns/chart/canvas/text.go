package canvas

import (
	"math"
	"strings"
)

// An Anchor says which point of a text is at its x.
type Anchor uint8

// Start is the left end of a text, End its right end.
const (
	Start Anchor = iota
	Middle
	End
)

// before is how much of a width lies left of the anchor.
func (a Anchor) before(width float64) float64 {
	switch a {
	case Middle:
		return width / 2
	case End:
		return width
	default:
		return 0
	}
}

// TextWidth is how far a text of a size runs, in units. Where the font has no
// letter, a hollow box is drawn in its place; marks that join or turn letters,
// and accents that stand alone, are left out; control characters are spaces.
// Letters stand in the order that they are written in, from the left.
func TextWidth(size float64, text string) float64 { return size * regular().width(text) }

// BoldWidth is TextWidth of what Bold writes.
func BoldWidth(size float64, text string) float64 { return size * bold().width(text) }

func (f *face) width(text string) float64 {
	_, width := f.layOut(text)
	return width
}

// Drawn gives a text without the characters for which the font has no letter.
func Drawn(text string) string {
	f := regular()
	f.mu.Lock()
	defer f.mu.Unlock()
	return strings.Map(func(r rune) rune {
		if f.glyph(r) == f.box {
			return -1
		}
		return r
	}, text)
}

// Cut gives a text if Text writes it in at most width units, and else as much
// of its beginning as there is room for, with an ellipsis; at least that.
func Cut(size, width float64, text string) string { return regular().cut(size, width, text) }

// CutBold is Cut for what Bold writes.
func CutBold(size, width float64, text string) string { return bold().cut(size, width, text) }

func (f *face) cut(size, width float64, text string) string {
	const ellipsis = "…"
	if size*f.width(text) <= width {
		return text
	}
	room := width/size - f.width(ellipsis)
	kept := ""
	f.mu.Lock()
	defer f.mu.Unlock()
	for i, r := range text {
		if g := f.glyph(r); g != nil {
			if room -= g.advance; room < 0 {
				kept = text[:i]
				break
			}
		}
	}
	return strings.TrimRight(kept, " ") + ellipsis
}

func (c *Canvas) write(f *face, x, y, size float64, anchor Anchor, color Color, text string) {
	c.items = append(c.items, writing{face: f, x: x, y: y, size: size, anchor: anchor, color: color, text: text})
}

// A glyphKey says what a glyph's mask was made for.
type glyphKey struct {
	glyph *glyph
	size  float64 // in pixels
	shift int     // to the right, in quarters of a pixel
}

// quarters is how many places within a pixel a letter can start at: with fewer,
// letters stand unevenly, and with more, too many masks are made.
const quarters = 4

func (i writing) paint(r *renderer) {
	letters, width := i.face.layOut(i.text)
	size := i.size * r.scale
	if !(size > 0 && size < widest) || math.IsNaN(i.x) || math.IsInf(i.x, 0) {
		return
	}
	left, base := i.x*r.scale-i.anchor.before(width*size), round(i.y*r.scale)
	for _, l := range letters {
		if len(l.glyph.path) == 0 {
			continue
		}
		at := round((left + l.x*size) * quarters)
		whole := at >> 2
		m := r.glyph(glyphKey{glyph: l.glyph, size: size, shift: at - whole*quarters})
		m.x += whole
		m.y += base
		r.sheet.cover(m, i.color)
	}
}

// glyph gives the mask of a glyph that stands at (0, 0).
func (r *renderer) glyph(k glyphKey) mask {
	m, made := r.glyphs[k]
	if made {
		return m
	}
	// The shader cuts shapes to the sheet: the glyph is drawn well inside a
	// sheet of its own, and put back.
	away := math.Ceil(k.size * 2)
	own := shader{w: int(away) * 2, h: int(away) * 2}
	m = own.stroke(k.glyph.path, 0, placing{sx: k.size, sy: k.size, dx: away + float64(k.shift)/quarters, dy: away})
	m.x -= int(away)
	m.y -= int(away)
	r.glyphs[k] = m
	return m
}
