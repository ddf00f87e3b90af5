package bot

import (
	"context"
	"errors"
	"regexp"
	"slices"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// fit answers what is asked about size, length, gauge and rows to leave out. Of
// all this only leaving rows out and working them again, a size, a gauge and the
// units change anything.
func (t *talk) fit(ctx context.Context) (Reply, error) {
	w := t.heard.Fit
	if w == nil {
		return t.fitSummary()
	}
	switch w.Kind {
	case listen.Sizes:
		return t.whichSize(*w)
	case listen.Gauge:
		return t.setGauge(ctx, *w)
	case listen.Shorter, listen.Longer, listen.ToLength:
		return t.ofLength(ctx, *w)
	case listen.Wider, listen.Narrower, listen.ToWidth:
		return t.ofWidth(*w)
	case listen.Width:
		return t.measured(*w)
	case listen.SoFar:
		return t.soFar(*w)
	case listen.PatternGauge:
		return t.patternsGauge(ctx)
	case listen.Offers:
		if w.From > 0 {
			return t.offersNumbered(ctx, *w)
		}
		return t.spareRows(ctx, w.Section)
	case listen.LeaveOut, listen.WorkAll:
		return t.leaves(ctx, *w)
	case listen.CastOn:
		return t.castOnFor(*w)
	}
	return t.fitSummary()
}

// sayFit answers with words, and what is likely asked next about the fit.
func (t *talk) sayFit(words string, first ...Choice) Reply {
	choices := append(first, t.usual()...)
	return Reply{Said: words, Choices: distinct(choices[:min(len(choices), choicesMost)])}
}

// refuseFit says why something can't be reckoned, or not yet. Any other error is a
// failure.
func (t *talk) refuseFit(err error) (Reply, error) {
	if errors.Is(err, errNotYet) { // it goes on being reckoned
		return t.sayFit(notReckoned), nil
	}
	said, err := t.openRefusal(err)
	if err != nil {
		return Reply{}, err
	}
	return t.sayFit(said), nil
}

const notReckoned = "That takes longer to reckon than you should have to wait. Nothing has moved. Ask again in a moment, and you will hear it."

// refusal gives the sentence of an error of package fit.
func refusal(err error) (string, error) {
	var wrong *fit.Error
	var barrier *fit.Barrier
	switch {
	case errors.As(err, &barrier):
		return reader.Barrier(*barrier) + " Nothing has moved.", nil
	case errors.As(err, &wrong) && wrong.Code == fit.CodeNoGauge:
		return "The pattern gives no gauge, so nothing can be reckoned. Say your own, such as I get twenty-two stitches and thirty rows to ten centimetres.", nil
	case errors.As(err, &wrong):
		said := strings.ReplaceAll(reader.Plain(inchesSpelled(unquoted(wrong.Said))), " equals ", " to ") // as a gauge is said
		return sentence(capital(said)) + " Nothing has moved.", nil
	}
	return "", err
}

var (
	halfInches = regexp.MustCompile(`(\d+)\.5 in\b`)
	oneInch    = regexp.MustCompile(`\b1 in\b`)
	someInches = regexp.MustCompile(`(\d) in\b`)
)

// inchesSpelled writes inches in full in a sentence with digits: "in" is a word, too.
func inchesSpelled(said string) string {
	said = halfInches.ReplaceAllString(said, "$1 and a half inches")
	return someInches.ReplaceAllString(oneInch.ReplaceAllString(said, "1 inch"), "$1 inches")
}

// fitSummary says what her size comes to, and what can be asked.
func (t *talk) fitSummary() (Reply, error) {
	said := t.sizes() + " "
	if measures := t.wholeWords(); measures != "" {
		said += measures + " "
	}
	if own := t.ownGauge(); own != nil {
		said += t.gaugeWords() + " "
	}
	out, err := t.leftOutWords(t.at)
	if err != nil {
		return Reply{}, err
	}
	groups := t.plan.Pattern.Optionals(t.plan.Size)
	if len(groups) > 0 {
		said += capital(out) + " "
	}
	return t.sayFit(said+t.fitHints(len(groups) > 0), t.fitFirst(groups)...), nil
}

// fitHints says what else can be asked about the fit.
func (t *talk) fitHints(optional bool) string {
	length, way := "two centimetres", "longer"
	if t.unit() == fit.Inches {
		length = "an inch"
	}
	if optional {
		way = "shorter"
	}
	said := "You can also say measurements, my gauge, or " + length + " " + way + "."
	if _, worn := t.bodyOfPattern(); worn && len(t.plan.Pattern.Sizes) > 1 {
		said += " To hear which size suits, say what you measure, such as " + t.measureExample("") + "."
	}
	return said
}

// fitFirst are the choices that stand first under what is said of the fit.
func (t *talk) fitFirst(groups []patterns.Optional) []Choice {
	first := []Choice{{Label: "Measurements", Intent: listen.Fit, Value: fitMeasures}}
	if len(groups) > 0 {
		first = append(first, Choice{Label: "What to leave out", Intent: listen.Fit, Value: fitSpare})
	}
	if t.at.LeftOut != "" {
		if all, ok := t.plan.outValue(nil); ok {
			first = append(first, Choice{Label: "Leave out nothing", Intent: listen.Fit, Value: all})
		}
	}
	return append(first, t.fitChoices()...)
}

// Values of choices that ask about the fit.
const (
	fitMeasures = "measures"
	fitSpare    = "spare"
)

// pressedFit gives what a pressed choice asks about the fit.
func pressedFit(value string) *listen.FitWish {
	switch value {
	case fitMeasures:
		return &listen.FitWish{Kind: listen.Width}
	case fitSpare:
		return &listen.FitWish{Kind: listen.Offers}
	}
	return nil
}

// wholeWords says what the section with the most plain fabric, in stitches, and
// the whole come to, or nothing.
func (t *talk) wholeWords() string {
	sizes, all, err := t.plan.sizesOpen(t.ownGauge())
	if err != nil || len(sizes) == 0 {
		return ""
	}
	most := sizes[0]
	for _, s := range sizes {
		if s.Straight*s.Stitches > most.Straight*most.Stitches {
			most = s
		}
	}
	return reader.Sizes([]fit.SectionSize{most}, t.unit()) + t.inAll(all)
}

// inAll says how long the piece is, where it is one: with a space before it.
func (t *talk) inAll(sizes []fit.SectionSize) string {
	long := 0.0
	for _, s := range sizes {
		if s.Section.CastOn != nil || s.Long == 0 || s.Short < s.Long {
			return ""
		}
		long += s.Long
	}
	if len(sizes) < 2 {
		return ""
	}
	return " In all it is " + t.length(long) + " long."
}

// measured says the finished measurements, of the whole or of one section.
func (t *talk) measured(w listen.FitWish) (Reply, error) {
	sizes, all, err := t.plan.sizesOpen(t.ownGauge())
	if err != nil {
		return t.refuseFit(err)
	}
	if w.Section != "" {
		if sizes = t.plan.sizesOf(sizes, w.Section); len(sizes) == 0 {
			return t.sayFit(t.plan.noSection(w.Section)), nil
		}
	}
	said := strings.TrimSpace(t.sizeLead() + reader.Sizes(sizes, t.unit()))
	if w.Section == "" {
		said += t.inAll(all)
	}
	return t.sayFit(said, t.fitChoices()...), nil
}

// sizesOf gives the measures of the sections of a name.
func (p *plan) sizesOf(sizes []fit.SectionSize, section string) []fit.SectionSize {
	like := p.sectionsLike(section)
	of, _ := apart(sizes, func(s fit.SectionSize) bool { return slices.Contains(like, s.Section.Name) })
	return of
}

// sizeLead names her size in front of what it comes to.
func (t *talk) sizeLead() string {
	if len(t.plan.Pattern.Sizes) < 2 {
		return ""
	}
	return "This is size " + nameOf(t.plan.Pattern.Sizes[t.plan.Size]) + ". "
}

// castOnFor says how many stitches to cast on for a width.
func (t *talk) castOnFor(w listen.FitWish) (Reply, error) {
	switch {
	case w.Number == 0:
		return t.sayFit("How wide is it to be? Say it too, such as how many stitches for fifty centimetres."), nil
	case w.Unit == "" || w.Unit == listen.MixedUnits:
		return t.sayFit("Is that centimetres or inches? Say it too, such as how many stitches for fifty centimetres."), nil
	}
	width, _, err := fit.ParseLength(number(w.Number) + " " + w.Unit)
	if err != nil {
		return t.refuseFit(err)
	}
	found, err := fit.CastOns(t.plan.Whole().Pattern, t.plan.Size, width, t.ownGauge())
	if err != nil {
		return t.refuseFit(err)
	}
	found, later := t.plan.openCastOns(found)
	said := reader.CastOn(found, t.unit())
	if later {
		said += " Further on, in what is still to open, the pattern's own numbers no longer fit."
	}
	return t.sayFit(said), nil
}
