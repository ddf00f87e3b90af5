package fit

import (
	"math"

	"clew/patterns"
)

// A SizeWidth is what a size comes to around.
type SizeWidth struct {
	Size  int     // index of the pattern's sizes
	Width float64 // cm
	Ease  float64 // cm: Width minus the body, or minus the width that is wanted
}

// A Sizing is how the sizes of a pattern suit a measure.
type Sizing struct {
	Body     Body        // of ChooseSize alone
	Around   float64     // cm: the body, or the width that is wanted
	Wanted   Ease        // the ease that suits; the zero Ease where a width is wanted
	Sizes    []SizeWidth // one a size, in the order of the pattern's sizes
	Best     int         // index into Sizes; the first of two that are as near
	Suits    bool        // the ease of Best lies in Wanted; for a width, within half a centimetre of it
	Section  *patterns.Section
	Sideways bool // the piece is knitted sideways: the length of Section goes around, not its width
}

// ChooseSize tells which size suits a part of the body that measures so much
// around, in cm: the one whose ease is nearest to the middle of the range that
// EaseOf gives. What goes around is the width of the section with the most
// stitches in straight rows. Where that section is worked in rows, no
// size is wide enough to suit, and its length comes nearer, the piece is taken to be
// knitted sideways, and its length goes around.
//
// It fails with an *Error for a measure that no body has, and where nothing in the
// pattern goes around such a body: its best size is less than 0.6 of it or more than
// 1.6 times as wide; with ErrNoGauge, and with patterns.ErrUnsound.
func ChooseSize(p *patterns.Pattern, b Body, around float64, own *Gauge) (Sizing, error) {
	return ChooseSizeIn(p, b, around, Centimetres, own)
}

// ChooseSizeIn is ChooseSize that gives lengths in its errors in a unit.
func ChooseSizeIn(p *patterns.Pattern, b Body, around float64, unit Unit, own *Gauge) (Sizing, error) {
	if err := likelyBody(b, around, unit); err != nil {
		return Sizing{}, err
	}
	s, err := choose(p, around, EaseOf(b, around), own)
	if err != nil {
		return Sizing{}, err
	}
	s.Body = b
	if width := s.Sizes[s.Best].Width; width < leastAround*around || width > mostAround*around {
		way := "wide"
		if s.Section.Rounds || s.Sideways {
			way = "around"
		}
		return Sizing{}, failed(CodeAround, "nothing in this pattern goes around a %s of %s: its main part, %s, is %s %s",
			b, FormatLength(around, unit), s.Section.Name, toWhole(width, unit), way)
	}
	return s, nil
}

// How wide a piece is that goes around a body, in parts of the body: no cap, sock or
// glove is drawn out to nearly twice its width, or is as loose as a bag.
const (
	leastAround = 0.6
	mostAround  = 1.6
)

// mostWider is how many times as wide as the pattern's a piece may be asked for:
// what is wider is another piece.
const mostWider = 4

// toWhole gives a length to a whole centimetre, or inch: enough to see that it is far
// from what was asked.
func toWhole(cm float64, unit Unit) string {
	if unit == Inches {
		return FormatLength(math.Round(cm/CentimetresPerInch)*CentimetresPerInch, unit)
	}
	return FormatLength(math.Round(cm), unit)
}

// ChooseWidth tells which size comes nearest to a finished width around, in cm,
// from MinLength to MaxLength. It fails as ChooseSize does, and for a width of more
// than four times that of the nearest size.
func ChooseWidth(p *patterns.Pattern, width float64, own *Gauge) (Sizing, error) {
	if err := likelyWidth(width); err != nil {
		return Sizing{}, err
	}
	s, err := choose(p, width, Ease{}, own)
	if err != nil {
		return Sizing{}, err
	}
	if best := s.Sizes[s.Best].Width; width > mostWider*best {
		return Sizing{}, tooWide(width, best)
	}
	s.Suits = math.Abs(s.Sizes[s.Best].Ease) <= 0.5
	return s, nil
}

func tooWide(width, is float64) error {
	return failed(CodeLarge, "a width of %s is more than four times that of the piece, which is %s: choose one nearer to it", FormatLength(width, Centimetres), toWhole(is, Centimetres))
}

func likelyWidth(width float64) error {
	if math.IsNaN(width) {
		return failed(CodeZero, "no width is given: %s", lengthHelp)
	}
	return likelyLength(width, FormatLength(width, Centimetres))
}

func choose(p *patterns.Pattern, around float64, wanted Ease, own *Gauge) (Sizing, error) {
	sizes, err := measureAll(p, own)
	if err != nil {
		return Sizing{}, err
	}
	main, err := mainSection(sizes)
	if err != nil {
		return Sizing{}, err
	}
	across := sizing(sizes, main, around, wanted, func(s SectionSize) float64 { return s.Width })
	across.Section = main
	if main.Rounds || across.Suits {
		return across, nil
	}
	along := sizing(sizes, main, around, wanted, func(s SectionSize) float64 { return s.Long })
	along.Section, along.Sideways = main, true
	if along.off() < across.off() {
		return along, nil
	}
	return across, nil
}

// measureAll measures every size of a pattern.
func measureAll(p *patterns.Pattern, own *Gauge) ([][]SectionSize, error) {
	sizes := make([][]SectionSize, p.SizeCount())
	for i := range sizes {
		plan, err := planOf(p, i)
		if err != nil {
			return nil, err
		}
		if sizes[i], err = Measure(plan, own); err != nil {
			return nil, err
		}
	}
	return sizes, nil
}

// planOf is the whole plan of a size, counted from 0.
func planOf(p *patterns.Pattern, size int) (*patterns.Plan, error) {
	choice := patterns.Choice{}
	if size < len(p.Sizes) {
		choice.Size = p.Sizes[size]
	}
	return p.LayOut(choice)
}

// mainSection is the section whose width is that of the piece: of those that every
// size has and whose gauge is known, the one with the most stitches in straight
// rows, all sizes taken together. Rows that widen or narrow it, such as a
// gusset, say nothing of how wide the piece is.
func mainSection(sizes [][]SectionSize) (*patterns.Section, error) {
	type share struct{ sizes, rows, straight, stitches int }
	shares := map[*patterns.Section]share{}
	for _, sections := range sizes {
		for _, s := range sections {
			if s.Width > 0 {
				had := shares[s.Section]
				shares[s.Section] = share{had.sizes + 1, had.rows + s.Rows, had.straight + s.Straight, had.stitches + s.Stitches*s.Straight}
			}
		}
	}
	var main *patterns.Section
	for _, s := range sizes[0] {
		if shares[s.Section].sizes == len(sizes) && (main == nil || shares[s.Section].stitches > shares[main].stitches) {
			main = s.Section
		}
	}
	if main == nil {
		return nil, failed(CodeNoStitches, "no section of the pattern has stitches in every size, so its sizes can't be compared: look at the measures of one size")
	}
	if 2*shares[main].straight < shares[main].rows {
		return nil, failed(CodeShaped, "the piece is shaped all over, and no large part of it goes straight up, so that no size can be told by what it measures around: look at the widths of its sections")
	}
	return main, nil
}

// sizing measures each size around, by what measure gives of the main section.
func sizing(sizes [][]SectionSize, main *patterns.Section, around float64, wanted Ease, measure func(SectionSize) float64) Sizing {
	s := Sizing{Around: around, Wanted: wanted}
	for i, sections := range sizes {
		for _, section := range sections {
			if section.Section == main {
				width := measure(section)
				s.Sizes = append(s.Sizes, SizeWidth{Size: i, Width: width, Ease: width - around})
			}
		}
	}
	for i := range s.Sizes {
		if s.offOf(i) < s.off() {
			s.Best = i
		}
	}
	s.Suits = wanted.holds(s.Sizes[s.Best].Ease)
	return s
}

// off is how far the ease of the best size is from what is aimed at, in cm.
func (s Sizing) off() float64 { return s.offOf(s.Best) }

func (s Sizing) offOf(i int) float64 { return math.Abs(s.Sizes[i].Ease - s.Wanted.middle()) }
