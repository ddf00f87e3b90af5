package bot

import (
	"context"
	"strconv"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// Settings about what she measures. A gauge is her stitches and rows to ten
// centimetres: "21 29"; rows are 0 where she gave none. Without one the pattern's
// own counts.
const (
	settingGauge = "gauge"
	settingUnits = "units"
	unitsInches  = "in"       // anything else is centimetres
	settingSince = "measured" // the place where she was when she last set one of these
)

// unitSettings gives the setting for a unit that was said.
var unitSettings = map[string]string{listen.Inches: unitsInches, listen.Centimetres: ""}

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
	unit, known := unitSettings[w.OverUnit]
	switch {
	case w.Stitches == 0 && w.Rows == 0 && w.Over == 0 && !w.HasNumber:
		return t.sayFit(t.gaugeWords() + " To change it, say how many stitches and rows you get, such as twenty-two stitches and thirty rows to ten centimetres."), nil
	case w.Stitches < 0 || w.Rows < 0:
		return t.sayFit("A gauge can't be below zero, so nothing was changed: say it like twenty-two stitches and thirty rows to ten centimetres."), nil
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
	return t.changeMeasure(ctx, map[string]string{settingGauge: gaugeText(gauge), settingUnits: unit}, func() string {
		return strings.TrimSpace(said+t.wholeWords()) + t.wayBack()
	})
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
	return t.changeMeasure(ctx, map[string]string{settingGauge: ""}, t.gaugeWords)
}

// gaugeWords says which gauge lengths are reckoned with.
func (t *talk) gaugeWords() string {
	own := t.ownGauge()
	of, given := t.plan.givenGauge()
	switch {
	case own != nil:
		return "I reckon with your own gauge, " + reader.Gauge(*own, t.plan.Pattern.Rounds, t.unit()) + "." + t.wayBack()
	case given:
		return "I reckon with the pattern's gauge, " + reader.Gauge(of, t.plan.Pattern.Rounds, t.unit()) + "."
	}
	return "The pattern gives no gauge."
}

// givenGauge is the first gauge that the pattern gives; false for none.
func (p *plan) givenGauge() (fit.Gauge, bool) {
	for _, s := range p.Whole().Pattern.Sections {
		if g, ok := fit.GaugeOf(p.Pattern, s, nil); ok {
			return g, true
		}
	}
	return fit.Gauge{}, false
}

// wayBack says how to go back from a gauge of her own.
func (t *talk) wayBack() string {
	if _, given := t.plan.givenGauge(); given {
		return " Say the pattern's gauge to go back to that."
	}
	return " Say forget my gauge to go back to none."
}

// changeMeasure changes her gauge or the units, and notes where.
func (t *talk) changeMeasure(ctx context.Context, settings map[string]string, words func() string) (Reply, error) {
	settings[settingSince] = sinceOf(t.state.Place)
	return t.change(ctx, settings, words)
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

// sinceOf stands for a place in a setting.
func sinceOf(at session.Place) string {
	return keyOf(at.Section + "\x00" + strconv.Itoa(at.Row) + "." + strconv.Itoa(at.Step) + "\x00" + at.Size + "\x00" + at.LeftOut)
}

// notTakenBack says that what she set about her measures stays, where she set it
// since her last move: undo takes back moves alone.
func (t *talk) notTakenBack() string {
	switch {
	case t.state.Settings[settingSince] != sinceOf(t.state.Place):
		return ""
	case t.ownGauge() != nil:
		return "Your gauge stays. "
	case t.state.Settings[settingUnits] == unitsInches:
		return "Lengths stay in inches. "
	}
	return "Your settings stay. "
}

// setUnits keeps the unit in which lengths are said, and says how to go back.
func (t *talk) setUnits(ctx context.Context, unit string) (Reply, error) {
	said := "From now on lengths are in centimetres. Say inches to have them in those."
	if unit == listen.Inches {
		said = "From now on lengths are in inches. Say centimetres to go back to those."
	}
	return t.changeMeasure(ctx, map[string]string{settingUnits: unitSettings[unit]}, func() string { return said })
}
