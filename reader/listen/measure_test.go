package listen

import (
	"math"
	"testing"
)

// Numbers with a fraction, as they are typed and dictated; what isn't one number must not be read as one.
func TestNumberWithFraction(t *testing.T) {
	for words, want := range map[string]float64{
		"5": 5, "five": 5, "5.5": 5.5, "5.05": 5.05, "5.25": 5.25, ".5": .5, "five point five": 5.5, "five point oh five": 5.05, "five point two five": 5.25, "five point twenty five": 5.25,
		"point five": .5, "five and a half": 5.5, "five and half": 5.5, "5½": 5.5, "5 ½": 5.5, "½": .5, "22 1/2": 22.5, "22 and 1/2": 22.5, "1/2": .5, "3/4": .75, "22¾": 22.75,
		"half": .5, "a half": .5, "half a": .5, "half an": .5, "one half": .5, "a quarter": .25, "a quarter of an": .25, "quarter of an": .25, "three quarters": .75, "three quarter": .75, "three quarters of an": .75,
		"seven and three quarters": 7.75, "seven and three quarter": 7.75, "five eighths": .625, "one third": 1. / 3, "for and a half": 4.5, "ate and a half": 8.5, "to and a half": 2.5,
		"a hundred and a half": 100.5, "nine thousand nine hundred and ninety nine and three quarters": 9999.75, "9999.9999": 9999.9999, "twenty two point ate": 22.8, "one oh four point five": 104.5,

		"": -1, "and a half": -1, "five half": -1, "five and": -1, "point": -1, "five point": -1, "five point five point five": -1, "half five": -1, "five and a half and a half": -1, "10000": -1, "10000.5": -1,
		"five point hundred": -1, "5.12345": -1, "4/3": -1, "0/4": -1, "1/0": -1, "1/17": -1, "five and four quarters": -1, "fifth and a half": -1, "third": -1.0 / 3, "cat": -1, "a": -1, "a quarter of": -1, "five minus two": -1,
	} {
		ws, _ := split(words)
		q, ok := readNumberWithFraction(ws)
		if want == -1.0/3 { // a part alone is a part
			want = 1. / 3
		}
		if !ok {
			q.value = -1
		}
		if math.Abs(q.value-want) > 1e-12 {
			t.Errorf("%q is read as %v, expected %v", words, q.value, want)
		}
	}
}

// Lengths and amounts of yarn with their units. A foot is twelve inches, a metre a hundred centimetres.
func TestMeasures(t *testing.T) {
	for _, c := range []struct {
		units map[string]unit
		words string
		want  float64 // -1 for none
		unit  string
	}{
		{lengthUnits, "57cm", 57, "cm"}, {lengthUnits, "57 cm", 57, "cm"}, {lengthUnits, "fifty seven centimetres", 57, "cm"}, {lengthUnits, "57 centimeters", 57, "cm"}, {lengthUnits, "5 mm", .5, "cm"},
		{lengthUnits, "one and a half metres", 150, "cm"}, {lengthUnits, "two feet", 24, "in"}, {lengthUnits, "two feet three inches", 27, "in"}, {lengthUnits, "one metre and twenty centimetres", 120, "cm"},
		{lengthUnits, `22"`, 22, "in"}, {lengthUnits, "22½″", 22.5, "in"}, {lengthUnits, "22.5in", 22.5, "in"}, {lengthUnits, "an inch", 1, "in"}, {lengthUnits, "a centimetre", 1, "cm"}, {lengthUnits, "half an inch", .5, "in"},
		{lengthUnits, "three quarters of an inch", .75, "in"}, {lengthUnits, "an inch and a half", 1.5, "in"}, {lengthUnits, "two inches and three quarters", 2.75, "in"}, {lengthUnits, "a couple of inches", 2, "in"},
		{lengthUnits, "to inches", 2, "in"}, {lengthUnits, "for inches", 4, "in"}, {lengthUnits, "57 cm 22 inches", 57, MixedUnits}, {lengthUnits, "57 cm or 22 inches", 57, MixedUnits},
		{yarnUnits, "100 g", 100, "g"}, {yarnUnits, "38grams", 38, "g"}, {yarnUnits, "a hundred and twenty yards", 120, "yd"}, {yarnUnits, "3.5 oz", 3.5, "oz"}, {yarnUnits, "an ounce and three quarters", 1.75, "oz"}, {yarnUnits, "forty metres", 40, "m"},

		{lengthUnits, "57", -1, ""}, {lengthUnits, "inches", -1, ""}, {lengthUnits, "57 grams", -1, ""}, {lengthUnits, "57 cm cm", -1, ""}, {lengthUnits, "cm 57", -1, ""}, {lengthUnits, "57 centimetres and", -1, ""},
		{lengthUnits, "two inches three feet", -1, ""}, {lengthUnits, "", -1, ""}, {yarnUnits, "57 cm", -1, ""}, {yarnUnits, "100", -1, ""},
	} {
		ws, _ := split(c.words)
		q, ok := readMeasure(ws, c.units)
		if !ok {
			q = quantity{value: -1}
		}
		if math.Abs(q.value-c.want) > 1e-12 || q.unit != c.unit {
			t.Errorf("%q is read as %v %q, expected %v %q", c.words, q.value, q.unit, c.want, c.unit)
		}
	}
}

// A quotation mark behind a number means inches only where none is open.
func TestQuotes(t *testing.T) {
	for words, want := range map[string]string{
		`22"`: "22 inches", `22" and 4"`: "22 inches and 4 inches", `"row 12"`: "row 12", "“row 12”": "row 12", `say "12"`: "say 12", "22”": "22 inches", `22½"`: "22 ½ inches", "22 × 30": "22 x 30", "22×30": "22 x 30", "22x30": "22 x 30",
		"10 cm = 22": "10 cm equals 22", ".5": "point 5", "wait ...5": "wait 5", "row 5. 6": "row 5 6",
	} {
		ws, _ := split(words)
		if got := spell(ws); got != want {
			t.Errorf("%q is split into %q, expected %q", words, got, want)
		}
	}
}
