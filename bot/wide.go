package bot

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// ofWidth says which size comes nearest to a width, and what to cast on for it. A
// piece that is begun keeps the width that it was cast on for.
func (t *talk) ofWidth(w listen.FitWish) (Reply, error) {
	example := map[listen.FitKind]string{listen.Wider: "two centimetres wider", listen.Narrower: "two centimetres narrower"}[w.Kind]
	ask := "By how much?"
	if w.Kind == listen.ToWidth {
		ask, example = "How wide is it to be?", "make it fifty centimetres wide"
	}
	switch {
	case !(w.Number > 0):
		return t.sayFit(ask + " Nothing has moved. Say it too, such as " + example + "."), nil
	case w.Unit == "" || w.Unit == listen.MixedUnits:
		return t.sayFit("Is that centimetres or inches? Nothing has moved. Say it too, such as " + example + "."), nil
	}
	width, _, err := fit.ParseLength(number(w.Number) + " " + w.Unit)
	if w.Kind != listen.ToWidth { // by less than the least width, too
		width, err = w.Number, nil
		if w.Unit == listen.Inches {
			width *= fit.CentimetresPerInch
		}
	}
	if err != nil {
		return t.refuseFit(err)
	}
	is, err := t.mainWidth()
	if err != nil {
		return t.refuseFit(err)
	}
	if w.Kind == listen.ToWidth {
		is.wanted = width
	} else if is.wanted = is.Width + width; w.Kind == listen.Narrower {
		is.wanted = is.Width - width
	}
	if is.wanted < fit.MinLength {
		return t.sayFit("It is " + is.words(t) + " as it is, and can't become that much narrower. Nothing has moved."), nil
	}
	return t.toWidth(is, cmp.Or(w.Section, t.heard.Section))
}

// A breadth is the section whose width is that of her piece, and the width that is
// wanted in its place, in cm.
type breadth struct {
	fit.SectionSize
	wanted float64
}

// words says how wide the piece is.
func (b breadth) words(t *talk) string {
	way := " wide"
	if b.Section.Rounds {
		way = " around"
	}
	return t.length(b.Width) + way
}

// mainWidth measures the section whose width is that of her piece.
func (t *talk) mainWidth() (breadth, error) {
	any, err := fit.ChooseWidth(t.plan.Whole().Pattern, fit.MinLength, t.ownGauge())
	if err != nil {
		return breadth{}, err
	}
	sizes, err := fit.Measure(t.plan.Whole(), t.ownGauge())
	if err != nil {
		return breadth{}, err
	}
	i := slices.IndexFunc(sizes, func(s fit.SectionSize) bool { return s.Section == any.Section })
	if i < 0 {
		return breadth{}, errors.New("the main section of every size is not in this one: " + any.Section.Name)
	}
	return breadth{SectionSize: sizes[i]}, nil
}

// toWidth says how her piece comes to a width. Widths are reckoned for the whole,
// whatever section was named.
func (t *talk) toWidth(is breadth, section string) (Reply, error) {
	said := ""
	if section != "" && !slices.Contains(t.plan.sectionsLike(section), is.Section.Name) {
		if like := t.plan.sectionsLike(section); len(like) == 0 {
			return t.sayFit(t.plan.noSection(section)), nil
		}
		said = "The width is reckoned for the whole piece, and not for that alone. "
	}
	p, own := t.plan.Whole().Pattern, t.ownGauge()
	sizing, err := fit.ChooseWidth(p, is.wanted, own)
	if err != nil {
		return t.refuseFit(err)
	}
	begun := t.here() >= 0
	if begun {
		said += "Your piece is " + is.words(t) + " as it is. The stitches that were cast on settle that, so it takes "
		if len(p.Sizes) > 1 {
			said += "another size or other stitches, and "
		}
		said += "a new beginning. "
	}
	reply, err := t.sized(sizing, nil, "")
	if err != nil {
		return Reply{}, err
	}
	reply.Said = said + reply.Said
	nearer, err := t.nearerCastOns(sizing)
	if err != nil {
		return Reply{}, err
	}
	nearer, _ = t.plan.openCastOns(nearer)
	if len(nearer) > 0 {
		reply.Said += " Or c" + strings.TrimPrefix(reader.CastOn(nearer, t.unit()), "C")
	}
	return reply, nil
}

// nearerCastOns gives what to cast on to come nearer to a width than any size does.
func (t *talk) nearerCastOns(sizing fit.Sizing) ([]fit.CastOn, error) {
	if sizing.Suits {
		return nil, nil
	}
	found, err := fit.CastOns(t.plan.Whole().Pattern, t.plan.Size, sizing.Around, t.ownGauge())
	var wrong *fit.Error
	if errors.As(err, &wrong) { // no other number of stitches can be told
		return nil, nil
	}
	off := math.Abs(sizing.Sizes[sizing.Best].Ease)
	nearer, _ := apart(found, func(c fit.CastOn) bool { return off-math.Abs(c.Width-sizing.Around) >= lengthAlike })
	return nearer, err
}
