package fit_test

import (
	"errors"
	"strings"
	"testing"

	"clew/patterns/fit"
)

func TestParseAmount(t *testing.T) {
	for _, c := range []struct {
		text string
		want fit.Amount
		code string // of the error; "" for none
	}{
		{text: "100 g", want: fit.Amount{Number: 100, Unit: fit.Grams}},
		{text: "100g", want: fit.Amount{Number: 100, Unit: fit.Grams}},
		{text: " 37,5 Grams. ", want: fit.Amount{Number: 37.5, Unit: fit.Grams}},
		{text: "3½ oz", want: fit.Amount{Number: 3.5, Unit: fit.Ounces}},
		{text: "180 metres", want: fit.Amount{Number: 180, Unit: fit.Metres}},
		{text: "180 m", want: fit.Amount{Number: 180, Unit: fit.Metres}},
		{text: "200 yd.", want: fit.Amount{Number: 200, Unit: fit.Yards}},
		{text: "38", want: fit.Amount{Number: 38, Bare: true}},
		{text: "0 g", want: fit.Amount{Unit: fit.Grams}},
		{text: "0", want: fit.Amount{Bare: true}},
		{text: "", code: fit.CodeEmpty},
		{text: "a ball", code: fit.CodeUnreadable},
		{text: "g 100", code: fit.CodeUnreadable},
		{text: "1,500 yd", code: fit.CodeUnreadable}, // a decimal comma, or one between thousands
		{text: "1/0 g", code: fit.CodeUnreadable},
		{text: strings.Repeat("1", 300) + " g", code: fit.CodeUnreadable},
		{text: "2 balls", code: fit.CodeUnitUnknown},
		{text: "1 kg", code: fit.CodeUnitUnknown},
		{text: "100 g left", code: fit.CodeUnitUnknown},
		{text: "100 g and 20 yd", code: fit.CodeUnitMixed},
		{text: "-5 g", code: fit.CodeNegative},
		{text: "10001 g", code: fit.CodeLarge},
		{text: "351 oz", code: fit.CodeLarge},
		{text: "99999", code: fit.CodeLarge},
	} {
		found, err := fit.ParseAmount(c.text)
		var wrong *fit.Error
		code := ""
		if errors.As(err, &wrong) {
			code = wrong.Code
		}
		if found != c.want || code != c.code || (err != nil) != (c.code != "") {
			t.Errorf("%.40q: found %+v, %v", c.text, found, err)
		}
	}
}

func TestParseGaugeUnit(t *testing.T) {
	for text, want := range map[string]fit.Unit{
		"22x30": fit.Centimetres, "22 sts and 30 rows = 10 cm": fit.Centimetres, "5.5 to the inch": fit.Inches, `22 sts = 4"`: fit.Inches, "2 to the centimetre": fit.Centimetres,
	} {
		g, unit, err := fit.ParseGaugeUnit(text)
		alone, err2 := fit.ParseGauge(text)
		if err != nil || err2 != nil || unit != want || g != alone {
			t.Errorf("%q: found %v in %v, %v", text, g, unit, err)
		}
	}
	if _, _, err := fit.ParseGaugeUnit("0 to the inch"); err == nil {
		t.Error("a gauge of zero is taken")
	}
}
