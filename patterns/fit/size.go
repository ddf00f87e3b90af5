package fit

import "clew/patterns"

// An Ease is how much larger the finished piece is than the body, in cm;
// negative is smaller.
type Ease struct {
	Low, High float64
	Source    string // where the rule is from
}

// EaseOf gives the ease that suits a part of the body that measures so much around.
func EaseOf(b Body, around float64) Ease { return Ease{} }

// A SizeWidth is what a size comes to around.
type SizeWidth struct {
	Size  int     // index of the pattern's sizes
	Width float64 // cm
	Ease  float64 // cm: Width minus the body
}

// A Sizing is how the sizes of a pattern suit a measure.
type Sizing struct {
	Body     Body
	Around   float64     // cm: what was measured, or the width that is wanted
	Wanted   Ease        // the ease that suits; zero where a width is wanted
	Sizes    []SizeWidth // one a size, in the order of the pattern's sizes
	Best     int         // index into Sizes
	Suits    bool        // the ease of Best lies in Wanted
	Section  *patterns.Section
	Sideways bool // it is knitted sideways: the length of Section goes around
}

// ChooseSize tells which size suits a part of the body.
func ChooseSize(p *patterns.Pattern, b Body, around float64, own *Gauge) (Sizing, error) {
	return Sizing{}, ErrNoGauge
}

// ChooseWidth tells which size comes nearest to a finished width.
func ChooseWidth(p *patterns.Pattern, width float64, own *Gauge) (Sizing, error) {
	return Sizing{}, ErrNoGauge
}
