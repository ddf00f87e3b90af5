package canvas

// An item is one entry of the list of what was drawn.
type item interface {
	paint(*renderer)
	write(*writer)
}

type (
	rect struct {
		x, y, w, h float64
		fill       Color
	}
	line struct {
		x1, y1, x2, y2, width float64
		ink                   Color
		dash                  bool
	}
	path  struct{ strokes []Stroke }
	stamp struct {
		symbol     *Symbol
		x, y, w, h float64
		ground     Color
	}
	writing struct {
		face       *face
		x, y, size float64
		anchor     Anchor
		color      Color
		text       string
	}
	begin struct {
		class string
		data  []string
	}
	end struct{}
)
