package bot

import (
	"context"
	"strconv"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// Settings about what she measures. A gauge is her stitches and rows to ten
// centimetres: "21 29"; rows are 0 where she gave none. Without one the pattern's
// own counts.
const (
	settingGauge = "gauge"
	settingUnits = "units"
	unitsInches  = "in" // anything else is centimetres
)

// ownGauge is the member's own gauge; nil where she knits at the pattern's.
func (t *talk) ownGauge() *fit.Gauge {
	stitches, rows, _ := strings.Cut(t.state.Settings[settingGauge], " ")
	s, err := strconv.ParseFloat(stitches, 64)
	r, err2 := strconv.ParseFloat(rows, 64)
	if err != nil || err2 != nil || !(s >= fit.MinGauge && s <= fit.MaxGauge) || r != 0 && !(r >= fit.MinGauge && r <= fit.MaxRowsIn) {
		return nil // no gauge that was ever kept
	}
	return &fit.Gauge{Stitches: s, Rows: r}
}

func gaugeText(g fit.Gauge) string {
	return strconv.FormatFloat(g.Stitches, 'f', 2, 64) + " " + strconv.FormatFloat(g.Rows, 'f', 2, 64)
}

// unit is the unit in which the member measures.
func (t *talk) unit() fit.Unit {
	if w := t.heard.Fit; w != nil {
		for _, said := range []string{w.Unit, w.OverUnit} {
			switch said {
			case listen.Inches:
				return fit.Inches
			case listen.Centimetres:
				return fit.Centimetres
			}
		}
	}
	if t.state.Settings[settingUnits] == unitsInches {
		return fit.Inches
	}
	return fit.Centimetres
}

// length says a length in the member's unit.
func (t *talk) length(cm float64) string { return reader.Length(cm, t.unit()) }

// setGauge keeps her own gauge.
func (t *talk) setGauge(ctx context.Context, w listen.FitWish) (Reply, error) {
	units := map[string]string{listen.Inches: unitsInches, listen.Centimetres: ""}
	unit, known := units[w.OverUnit]
	switch {
	case w.Stitches == 0 && w.Rows == 0 && w.Over == 0 && !w.HasNumber:
		return t.sayFit(t.gaugeWords() + " To change it, say how many stitches and rows you get, such as twenty-two stitches and thirty rows to ten centimetres."), nil
	case w.OverUnit == listen.MixedUnits:
		return t.sayFit("Is that to centimetres or to inches? Nothing was changed. Say one of them, such as twenty-two stitches to ten centimetres."), nil
	case !known, w.Over == 0:
		return t.sayFit("Over what length is that? Nothing was changed. Say it too, such as twenty-two stitches to ten centimetres, or five and a half to the inch."), nil
	}
	gauge, err := fit.ParseGauge(gaugeWritten(w))
	if err != nil {
		return t.refuseFit(err)
	}
	said := "From now on I reckon with " + reader.Gauge(gauge, t.plan.Pattern.Rounds, t.unit()) + ". "
	return t.change(ctx, map[string]string{settingGauge: gaugeText(gauge), settingUnits: unit}, func() string { return said + t.wholeWords() })
}

// gaugeWritten writes a gauge as the pattern would.
func gaugeWritten(w listen.FitWish) string {
	text := number(w.Stitches) + " sts"
	if w.Rows != 0 {
		text += " and " + number(w.Rows) + " rows"
	}
	return text + " = " + number(w.Over) + " " + w.OverUnit
}

// numbersMost is larger than any length or amount.
const numbersMost = 1e6

// number writes a number that was asked with. One that is too large is as much so
// when it is numbersMost.
func number(f float64) string {
	return strconv.FormatFloat(max(-numbersMost, min(f, numbersMost)), 'f', -1, 64)
}

// patternsGauge forgets her own gauge.
func (t *talk) patternsGauge(ctx context.Context) (Reply, error) {
	return t.change(ctx, map[string]string{settingGauge: ""}, t.gaugeWords)
}

// gaugeWords says which gauge lengths are reckoned with.
func (t *talk) gaugeWords() string {
	if own := t.ownGauge(); own != nil {
		return "I reckon with your own gauge, " + reader.Gauge(*own, t.plan.Pattern.Rounds, t.unit()) + "; say the pattern's gauge to go back to that."
	}
	for _, s := range t.plan.Pattern.Sections {
		if g, ok := fit.GaugeOf(t.plan.Pattern, s, nil); ok {
			return "I reckon with the pattern's gauge, " + reader.Gauge(g, t.plan.Pattern.Rounds, t.unit()) + "."
		}
	}
	return "The pattern gives no gauge."
}

// change changes settings, and answers with words alone.
func (t *talk) change(ctx context.Context, settings map[string]string, words func() string) (Reply, error) {
	hold, err := t.keepSettings(ctx, settings)
	switch {
	case err != nil:
		return Reply{}, err
	case !hold:
		return t.where(), nil
	}
	return t.sayFit(words()), nil
}

// unitWords set the unit in which lengths are said. Every word counts.
var unitWords = map[string]string{
	"inches": unitsInches, "in inches": unitsInches, "use inches": unitsInches, "inches please": unitsInches, "say inches": unitsInches,
	"centimetres": "", "in centimetres": "", "use centimetres": "", "centimetres please": "", "say centimetres": "",
	"centimeters": "", "in centimeters": "", "use centimeters": "", "centimeters please": "", "say centimeters": "",
}

// gaugeForgot are the words that go back to the pattern's gauge.
var gaugeForgot = map[string]bool{"the patterns gauge": true, "patterns gauge": true, "the pattern s gauge": true, "pattern s gauge": true, "pattern gauge": true,
	"use the patterns gauge": true, "use the pattern s gauge": true, "forget my gauge": true, "forget the gauge": true, "no gauge of my own": true}

// setUnits keeps the unit in which lengths are said.
func (t *talk) setUnits(ctx context.Context, value string) (Reply, error) {
	name := map[string]string{unitsInches: "inches", "": "centimetres"}[value]
	return t.change(ctx, map[string]string{settingUnits: value}, func() string { return "From now on lengths are in " + name + "." })
}
