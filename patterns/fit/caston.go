package fit

import "clew/patterns"

// A CastOn is a number of stitches to cast on for a width of one's own: Unit
// times Times, and Plus.
type CastOn struct {
	Section  *patterns.Section // whose width it is
	Unit     int               // stitches of one repeat
	Plus     int               // stitches beside the repeats
	Times    int
	Stitches int               // to be cast on
	Width    float64           // cm
	Rest     *patterns.Section // the first section that does not go on with it as it is written; nil: the whole piece does
}

// CastOns gives the cast-ons that come nearest to a width, the nearest first.
func CastOns(p *patterns.Pattern, size int, width float64, own *Gauge) ([]CastOn, error) {
	return nil, ErrNoGauge
}
