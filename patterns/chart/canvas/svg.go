package canvas

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// SVG renders the picture as a text that stands alone: letters are outlines,
// each drawn once, and what they say stands in the aria-label of their group.
// The words say what can be seen, for those who do not see it; where there are
// none, the title has to do.
func (c *Canvas) SVG(words string) []byte {
	w := &writer{look: &c.look, glyphs: map[string]bool{}, stamps: map[stampKey]string{}}
	for _, i := range c.items {
		i.write(w)
	}
	for range c.depth {
		w.add("</g>\n")
	}
	var out bytes.Buffer
	width, height := number(c.width), number(c.height)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" role="img"`, width, height, width, height)
	var named []string
	for _, part := range [2]struct{ name, text string }{{"title", c.title}, {"desc", words}} {
		if part.text != "" {
			named = append(named, part.name)
		}
	}
	if len(named) > 0 {
		fmt.Fprintf(&out, ` aria-labelledby="%s"`, strings.Join(named, " "))
	}
	out.WriteString(">\n")
	if c.title != "" {
		fmt.Fprintf(&out, "<title id=\"title\">%s</title>\n", escaped(c.title))
	}
	if words != "" {
		fmt.Fprintf(&out, "<desc id=\"desc\">%s</desc>\n", escaped(words))
	}
	if w.defs.Len() > 0 {
		fmt.Fprintf(&out, "<defs>\n%s</defs>\n", w.defs.Bytes())
	}
	fmt.Fprintf(&out, "<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", width, height, w.color(Paper))
	out.Write(w.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

// A writer writes what was drawn as SVG.
type writer struct {
	look       *Look
	defs, body bytes.Buffer
	glyphs     map[string]bool     // those in defs
	stamps     map[stampKey]string // the ids of those in defs
}

func (w *writer) add(format string, values ...any) { fmt.Fprintf(&w.body, format, values...) }

func (w *writer) color(c Color) string {
	at := w.look[c]
	return fmt.Sprintf("#%02x%02x%02x", at.R, at.G, at.B)
}

// number writes a length to a hundredth of a unit.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(x*100)/100+0, 'f', -1, 64)
}

// escaped makes any text into one that may stand in XML, in an attribute too:
// what XML cannot hold is the sign for an unreadable character.
func escaped(text string) string {
	var out strings.Builder
	if err := xml.EscapeText(&out, []byte(text)); err != nil {
		return ""
	}
	return out.String()
}

func (i rect) write(w *writer) {
	if i.w > 0 && i.h > 0 {
		w.add("<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"%s\" shape-rendering=\"crispEdges\"/>\n",
			number(i.x), number(i.y), number(i.w), number(i.h), w.color(i.fill))
	}
}

func (i line) write(w *writer) {
	if !(i.width > 0) {
		return
	}
	more := ` stroke-linecap="square"`
	if i.dash {
		more = fmt.Sprintf(` stroke-dasharray="%s %s"`, number(dashOn*i.width), number(dashOff*i.width))
	}
	if i.x1 == i.x2 || i.y1 == i.y2 {
		more += ` shape-rendering="crispEdges"`
	}
	w.add("<path d=\"M%s %sL%s %s\" stroke=\"%s\" stroke-width=\"%s\"%s/>\n",
		number(i.x1), number(i.y1), number(i.x2), number(i.y2), w.color(i.ink), number(i.width), more)
}

func (i path) write(w *writer) {
	for _, s := range i.strokes {
		w.stroke(&w.body, s, s.Color, s.Width, placing{sx: 1, sy: 1})
	}
}

// stroke writes a stroke in a colour, its width in units of the picture.
func (w *writer) stroke(out *bytes.Buffer, s Stroke, c Color, width float64, m placing) {
	d := outline(s.Path, m, number)
	if s.Width > 0 {
		fmt.Fprintf(out, "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%s\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n",
			d, w.color(c), number(width))
		return
	}
	fmt.Fprintf(out, "<path d=\"%s\" fill=\"%s\"/>\n", d, w.color(c))
}

// outline writes a path as the d of an SVG path.
func outline(path []Segment, m placing, number func(float64) string) string {
	var d strings.Builder
	for _, s := range path {
		d.WriteByte("MLQCZ"[s.op])
		var points []point
		switch s.op {
		case quad:
			points = []point{s.c1, s.to}
		case cubic:
			points = []point{s.c1, s.c2, s.to}
		case move, lineTo:
			points = []point{s.to}
		}
		for n, p := range points {
			if n > 0 {
				d.WriteByte(' ')
			}
			p = m.at(p)
			d.WriteString(number(p.x))
			d.WriteByte(' ')
			d.WriteString(number(p.y))
		}
	}
	return d.String()
}

func (i stamp) write(w *writer) {
	if !(i.w > 0 && i.h > 0) {
		return
	}
	k := stampKey{symbol: i.symbol, w: i.w, h: i.h, ground: i.ground}
	id, made := w.stamps[k]
	if !made {
		id = fmt.Sprintf("s%d", len(w.stamps)+1)
		w.stamps[k] = id
		fmt.Fprintf(&w.defs, "<g id=\"%s\" data-symbol=\"%s\">\n", id, escaped(i.symbol.name))
		m := placing{sx: i.w / i.symbol.w, sy: i.h / i.symbol.h}
		for _, s := range i.symbol.strokes {
			w.stroke(&w.defs, s, s.on(i.ground), s.Width*min(m.sx, m.sy), m)
		}
		w.defs.WriteString("</g>\n")
	}
	w.add("<use href=\"#%s\" x=\"%s\" y=\"%s\"/>\n", id, number(i.x), number(i.y))
}

// fontUnits is how many units to its size a glyph is written in: those of the
// font, so that its outline is whole numbers.
const fontUnits = 2048

func fontUnit(x float64) string { return strconv.Itoa(int(math.Round(x * fontUnits))) }

func (i writing) write(w *writer) {
	letters, width := i.face.layOut(i.text)
	if !(i.size > 0) {
		return
	}
	scale := strconv.FormatFloat(i.size/fontUnits, 'g', 6, 64)
	w.add("<g role=\"img\" aria-label=\"%s\" fill=\"%s\" transform=\"translate(%s %s) scale(%s)\">",
		escaped(i.text), w.color(i.color), number(i.x-i.anchor.before(width*i.size)), number(i.y), scale)
	for _, l := range letters {
		if len(l.glyph.path) == 0 {
			continue
		}
		id := i.face.name + strconv.Itoa(l.glyph.id)
		if !w.glyphs[id] {
			w.glyphs[id] = true
			whole := placing{sx: 1, sy: 1}
			fmt.Fprintf(&w.defs, "<path id=\"%s\" d=\"%s\"/>\n", id, outline(l.glyph.path, whole, fontUnit))
		}
		w.add("<use href=\"#%s\" x=\"%s\"/>", id, fontUnit(l.x))
	}
	w.add("</g>\n")
}

// key is what the part of an attribute's name after data- may be.
var key = regexp.MustCompile(`^[a-z0-9][a-z0-9-]*$`)

func (i begin) write(w *writer) {
	w.add("<g class=\"%s\"", escaped(i.class))
	for n := 0; n+1 < len(i.data); n += 2 {
		if key.MatchString(i.data[n]) {
			w.add(" data-%s=\"%s\"", i.data[n], escaped(i.data[n+1]))
		}
	}
	w.add(">\n")
}

func (end) write(w *writer) { w.add("</g>\n") }
