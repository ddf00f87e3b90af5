package fit

import (
	"math"

	"clew/patterns"
	"clew/patterns/instruction"
)

// A CastOn is a number of stitches to cast on for a width of one's own: Times
// repeats of Unit stitches, and Plus stitches beside them.
type CastOn struct {
	Section  *patterns.Section // whose width it is
	Unit     int               // stitches of one repeat; 1 where nothing repeats, and any number does
	Plus     int               // stitches beside the repeats: edges
	Times    int               // repeats, at least 1
	Stitches int               // to be cast on
	Width    float64           // cm, of Section
	Rest     *patterns.Section // the first section that does not go on with it as it is written, and has to be worked out anew; nil: the whole piece does
}

// CastOns gives the cast-ons of a size's rows that come nearest to a width, in cm,
// from MinLength to MaxLength: the nearest one below and the nearest above, the
// nearer first, or one alone where it is exact. The width is that of the section
// with the most straight rows among those that begin with the stitches cast on.
//
// Each is proved: the rows are worked with it, "[...] N times" as often as it
// needs. Rows that shape can't all be worked on other numbers: Rest says
// where the pattern stops going on as it is written.
//
// It fails with an *Error for a width that can't be, for a pattern whose
// rows don't repeat or whose width comes from its shaping, and where no number near
// it comes out; with ErrNoGauge; and with patterns.ErrUnsound.
func CastOns(p *patterns.Pattern, size int, width float64, own *Gauge) ([]CastOn, error) {
	if err := likelyWidth(width); err != nil {
		return nil, err
	}
	if size < 0 || size >= p.SizeCount() {
		return nil, failed(CodeSize, "the pattern has %d sizes, and none of them is number %d", p.SizeCount(), size+1)
	}
	plan, err := planOf(p, size)
	if err != nil {
		return nil, err
	}
	sections, err := Measure(plan, own)
	if err != nil {
		return nil, err
	}
	b, err := beginningOf(plan)
	if err != nil {
		return nil, err
	}
	main, err := b.mainOf(sections)
	if err != nil {
		return nil, err
	}
	if width > mostWider*main.Width {
		return nil, tooWide(width, main.Width)
	}
	if err := b.findRepeat(); err != nil {
		return nil, err
	}
	return b.near(main, width)
}

// mainOf is the section whose width the cast-on gives.
func (b *beginning) mainOf(sections []SectionSize) (SectionSize, error) {
	var main, widest SectionSize
	for _, s := range sections {
		if b.straight[s.Section] && s.Width > 0 && s.Stitches*s.Straight > main.Stitches*main.Straight {
			main = s
		}
		if s.Stitches*s.Straight > widest.Stitches*widest.Straight {
			widest = s
		}
	}
	switch {
	case main.Section == nil:
		return main, ErrNoGauge
	case 4*max(widest.Stitches-b.castOn, b.castOn-widest.Stitches) > b.castOn:
		return main, failed(CodeNoRepeat, "the width comes from the shaping, which leads from %d stitches to %d, and not from the cast-on: %s",
			b.castOn, widest.Stitches, b.otherWays)
	}
	return main, nil
}

// tries is how many numbers of repeats are tried on either side of a width.
const tries = 12

// near gives the proved cast-ons on either side of a width.
func (b *beginning) near(main SectionSize, width float64) ([]CastOn, error) {
	perStitch := main.Width / float64(b.castOn) // of those cast on; the section may have some more or fewer
	exact := (width/perStitch - float64(b.plus)) / float64(b.unit)
	var found []CastOn
	try := func(times int) bool {
		stitches := b.unit*times + b.plus
		if times < 1 || stitches > instruction.MaxStitches || !b.spend(stitches) {
			return false
		}
		worked := b.work(stitches)
		if worked < b.through {
			return false
		}
		found = append(found, CastOn{Section: main.Section, Unit: b.unit, Plus: b.plus, Times: times, Stitches: stitches,
			Width: perStitch * float64(stitches), Rest: b.rest(worked)})
		return true
	}
	below := int(math.Floor(exact + 1e-9))
	for i := 0; i < tries && !try(below-i); i++ {
	}
	if math.Abs(exact-float64(below)) > 1e-9 || len(found) == 0 {
		for i := 1; i <= tries && !try(below+i); i++ {
		}
	}
	if len(found) == 0 {
		return nil, failed(CodeNoCastOn, "no cast-on near %s comes out in every row: rows need %s, so try a width near %s",
			FormatLength(math.Round(width*10)/10, Centimetres), b.multiple(), FormatLength(math.Round(main.Width*10)/10, Centimetres))
	}
	if len(found) == 2 && math.Abs(found[1].Width-width) < math.Abs(found[0].Width-width) {
		found[0], found[1] = found[1], found[0]
	}
	return found, nil
}
