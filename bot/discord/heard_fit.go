package discord

import (
	"math"
	"strings"
	"unicode"

	"clew/bot"
	"clew/patterns/fit"
	"clew/reader/listen"
)

const (
	oneWish    refusal = "I can answer one wish about the fit at a time. Nothing has moved. Please give the command once more with one of them."
	allOfWhole refusal = "With zero all rows are worked again, in every section, so no section goes with it. Nothing has moved. Please give the command once more without one."
)

// fitWish asks for what a command wishes about the fit.
func fitWish(h listen.Heard, given values) (bot.Ask, error) {
	_, leaves := given.number(optLeave)
	goesWith := map[string]bool{optBody: given.text(optAround) != "", optSection: leaves}
	wishes := 0
	for name := range given {
		if !goesWith[name] {
			wishes++
		}
	}
	switch {
	case wishes == 0:
		return bot.Ask{Heard: &h}, nil
	case wishes > 1:
		return bot.Ask{}, oneWish
	case given.text(optSize) != "":
		return bot.Ask{Heard: &h, Name: given.text(optSize)}, nil
	}
	var err error
	w := listen.FitWish{Body: given.text(optBody), Section: strings.ToLower(given.text(optSection))}
	switch {
	case given.text(optAround) != "":
		err = around(&w, given.text(optAround))
	case w.Body != "":
		w.Kind = listen.Sizes
	case given.text(optWidth) != "":
		w.Kind, err = listen.CastOn, length(&w, given.text(optWidth))
	case given.text(optLength) != "":
		w.Kind, err = listen.ToLength, length(&w, given.text(optLength))
	case given.text(optGauge) != "":
		w.Kind, err = listen.Gauge, gauge(&w, given.text(optGauge))
	case leaves:
		err = leave(&w, given)
	default:
		w.Kind = listen.Offers
	}
	if err != nil {
		return bot.Ask{}, err
	}
	h.Fit = &w
	return bot.Ask{Heard: &h}, nil
}

// around reads a measure, or who it is for: what has no digit and is no length
// is somebody.
func around(w *listen.FitWish, text string) error {
	w.Kind = listen.Sizes
	_, somebody := fit.PersonNamed(text)
	if !somebody && strings.ContainsFunc(text, unicode.IsDigit) {
		return length(w, text)
	}
	w.Person = strings.ToLower(text)
	return nil
}

// length reads a length in the unit in which it was given.
func length(w *listen.FitWish, text string) error {
	cm, unit, err := fit.ParseLength(text)
	if err != nil {
		return spoken(err)
	}
	w.Number, w.Unit, w.HasNumber = cm, listen.Centimetres, true
	if unit == fit.Inches {
		w.Number, w.Unit = inches(cm), listen.Inches
	}
	return nil
}

// gauge reads a gauge, and gives it to ten centimetres, or to the inch where it was
// given in inches.
func gauge(w *listen.FitWish, text string) error {
	g, unit, err := fit.ParseGaugeUnit(text)
	if err != nil {
		return spoken(err)
	}
	w.Stitches, w.Rows, w.Over, w.OverUnit, w.HasNumber = g.Stitches, g.Rows, 10, listen.Centimetres, true
	if unit == fit.Inches {
		const inchesIn10 = 10 / fit.CentimetresPerInch
		w.Stitches, w.Rows, w.Over, w.OverUnit = thousandth(g.Stitches/inchesIn10), thousandth(g.Rows/inchesIn10), 1, listen.Inches
	}
	return nil
}

func inches(cm float64) float64 { return thousandth(cm / fit.CentimetresPerInch) }

// thousandth takes a number to the thousandth that measures are read to.
func thousandth(n float64) float64 { return math.Round(n*1000) / 1000 }

// leave reads how many rows are to be left out.
func leave(w *listen.FitWish, given values) error {
	w.Kind = listen.LeaveOut
	if w.Leave, _ = given.number(optLeave); w.Leave > 0 {
		return nil
	}
	w.Kind = listen.WorkAll
	if w.Section != "" {
		return allOfWhole
	}
	return nil
}

var yarnUnits = map[fit.YarnUnit]string{fit.Grams: "g", fit.Ounces: "oz", fit.Metres: "m", fit.Yards: "yd"}

// yarnWish asks whether the yarn will do.
func yarnWish(h listen.Heard, given values) (bot.Ask, error) {
	if len(given) == 0 {
		return bot.Ask{Heard: &h}, nil
	}
	w := listen.YarnWish{Yarn: strings.ToLower(given.text(optYarn))}
	hadUnit := ""
	var err error
	if text := given.text(optHad); text != "" {
		w.HasHad = true
		if w.Had, hadUnit, err = amount(text); err != nil {
			return bot.Ask{}, err
		}
	}
	if text := given.text(optLeft); text != "" {
		w.HasLeft = true
		if w.Left, w.Unit, err = amount(text); err != nil {
			return bot.Ask{}, err
		}
	}
	w.Mixed = w.Unit != "" && hadUnit != "" && w.Unit != hadUnit
	if w.Unit == "" {
		w.Unit = hadUnit
	}
	h.Yarn = &w
	return bot.Ask{Heard: &h}, nil
}

// amount reads an amount of yarn, with its unit or without: that may have been told
// before.
func amount(text string) (n float64, unit string, err error) {
	a, err := fit.ParseAmount(text)
	if err != nil {
		return 0, "", spoken(err)
	}
	if !a.Bare {
		unit = yarnUnits[a.Unit]
	}
	return a.Number, unit, nil
}

// spoken makes a refusal of an error of package fit.
func spoken(err error) error { return refusal(bot.Refused(err)) }
