// Package canvas is a drawing surface: what is drawn is kept in a list, and the
// list is rendered as a PNG of at most sixteen colours or as an SVG. It knows
// shapes, colours and letters, and nothing of knitting.
//
// Lengths are in units of the picture: a unit is one pixel of the PNG at scale
// one. x grows to the right and y downwards, from the top left corner. The same
// drawing renders to the same bytes each time. A Canvas is drawn on by one
// goroutine; once it is drawn, any number of them may render it.
package canvas

// A Canvas is a list of what was drawn, in order: what is drawn later covers
// what was drawn before.
type Canvas struct {
	width, height float64
	look          Look
	title         string
	items         []item
	depth         int // of the groups that are open
}

// New gives a canvas of a size in units, all paper. A side of less than one
// unit, or one that is no number, is taken as one unit.
func New(width, height float64, look Look) *Canvas {
	return &Canvas{width: side(width), height: side(height), look: look}
}

// Size gives the width and the height in units.
func (c *Canvas) Size() (width, height float64) { return c.width, c.height }

func side(length float64) float64 {
	if !(length >= 1) {
		return 1
	}
	return length
}

// Rect fills a rectangle. Its edges are put on whole pixels.
func (c *Canvas) Rect(x, y, w, h float64, fill Color) {
	c.items = append(c.items, rect{x: x, y: y, w: w, h: h, fill: fill})
}

// Line draws a straight line. It ends half its width past its ends, so that
// lines that meet make a whole corner; upright and level ones are put on whole
// pixels, and are at least one pixel wide. A dashed line is drawn for four
// widths and left out for three.
func (c *Canvas) Line(x1, y1, x2, y2, width float64, ink Color, dash bool) {
	c.items = append(c.items, line{x1: x1, y1: y1, x2: x2, y2: y2, width: width, ink: ink, dash: dash})
}

// Path draws strokes that come once in a picture, such as a strand of yarn, in
// units of the picture. What is drawn often is faster as a Symbol. The strokes
// are kept: leave them alone afterwards.
func (c *Canvas) Path(strokes ...Stroke) {
	c.items = append(c.items, path{strokes: strokes})
}

// Stamp draws a symbol into a rectangle, whose left and upper edges are put on
// whole pixels. The ground is the colour that lies under it: it is not painted,
// but the edges of the symbol run into it, and strokes of Paper show it.
func (c *Canvas) Stamp(s *Symbol, x, y, w, h float64, ground Color) {
	c.items = append(c.items, stamp{symbol: s, x: x, y: y, w: w, h: h, ground: ground})
}

// Text writes a line of text, size units from one baseline to the next, with
// the baseline at y. The text may be anything: see TextWidth.
func (c *Canvas) Text(x, y, size float64, anchor Anchor, color Color, text string) {
	c.write(regular(), x, y, size, anchor, color, text)
}

// Bold is Text in heavier letters.
func (c *Canvas) Bold(x, y, size float64, anchor Anchor, color Color, text string) {
	c.write(bold(), x, y, size, anchor, color, text)
}

// Begin opens a group: a <g> of that class in SVG, with an attribute data-key
// for each key and value, from which facts can be read back. It is nothing in
// PNG. Keys are lower-case letters, digits and hyphens: others are
// left out. Values may be anything.
func (c *Canvas) Begin(class string, data ...string) {
	c.depth++
	c.items = append(c.items, begin{class: class, data: data})
}

// End closes the group that was opened last. Without one it does nothing;
// groups that are left open end with the picture.
func (c *Canvas) End() {
	if c.depth > 0 {
		c.depth--
		c.items = append(c.items, end{})
	}
}

// Title says in a few words what the picture is, for those who do not see it.
// SVG carries it; an empty one is left out.
func (c *Canvas) Title(title string) { c.title = title }
