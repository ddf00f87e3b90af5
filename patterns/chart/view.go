// Package chart draws rows of a plan: as a chart of symbols, or as the fabric
// should look. Both are seen from the right side, with the first row at the
// bottom and the first stitch of a right-side row at the right.
package chart

import (
	"errors"

	"clew/patterns"
	"clew/patterns/chart/canvas"
)

// A View is what is to be drawn.
type View struct {
	Plan     *patterns.Plan
	From, To int  // indexes of its rows, From <= To
	Here     int  // index of the row to be marked as the current one; -1 for none
	Fabric   bool // the fabric as it should look, in place of symbols
}

// ErrNoRows says that a view has no rows in its plan.
var ErrNoRows = errors.New("there are no rows here to draw")

// A Picture is a view, drawn.
type Picture struct {
	canvas *canvas.Canvas
	facts  Facts
}

// Draw draws a view. It fails with ErrNoRows alone.
func Draw(v View) (*Picture, error) {
	if v.Plan == nil || v.From < 0 || v.From > v.To || v.To >= len(v.Plan.Rows) {
		return nil, ErrNoRows
	}
	if v.Fabric {
		return drawFabric(v, false)
	}
	return drawChart(v)
}

// PNG gives the picture as a file: scale 1 is for a telephone, 2 for print.
func (p *Picture) PNG(scale int) ([]byte, error) { return p.canvas.PNG(scale) }

// SVG gives the picture as a file that stays sharp at any size. The words say
// what is to be seen, for those who do not see it; none is fine.
func (p *Picture) SVG(words string) []byte { return p.canvas.SVG(words) }

// Facts gives what can be said of the picture in words.
func (p *Picture) Facts() Facts { return p.facts }
