package reader_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fit"
	"clew/reader"
)

func TestLength(t *testing.T) {
	for _, c := range []struct {
		cm   float64
		unit fit.Unit
		want string
	}{
		{45.5, fit.Centimetres, "forty-five and a half centimetres"},
		{45.3, fit.Centimetres, "forty-five and a half centimetres"},
		{45.2, fit.Centimetres, "forty-five centimetres"},
		{1, fit.Centimetres, "one centimetre"},
		{1.5, fit.Centimetres, "one and a half centimetres"},
		{0.5, fit.Centimetres, "half a centimetre"},
		{0.3, fit.Centimetres, "half a centimetre"},
		{0.2, fit.Centimetres, "less than half a centimetre"},
		{-2, fit.Centimetres, "two centimetres"},
		{104, fit.Centimetres, "one hundred and four centimetres"},
		{17.75 * 2.54, fit.Inches, "seventeen and three quarter inches"},
		{2.25 * 2.54, fit.Inches, "two and a quarter inches"},
		{2.5 * 2.54, fit.Inches, "two and a half inches"},
		{2.54, fit.Inches, "one inch"},
		{0.25 * 2.54, fit.Inches, "a quarter of an inch"},
		{0.5 * 2.54, fit.Inches, "half an inch"},
		{0.75 * 2.54, fit.Inches, "three quarters of an inch"},
		{0.1, fit.Inches, "less than a quarter of an inch"},
	} {
		if got := reader.Length(c.cm, c.unit); got != c.want {
			t.Errorf("Length(%v, %v) = %q, want %q", c.cm, c.unit, got, c.want)
		}
	}
}

// TestHandbookLengths: 96 stitches at 24 to 10 cm are 40 cm, and 22 stitches
// to 10 cm are 5.6 to the inch, which a ruler tells as five and a half (common
// practice). An inch is 2.54 cm exactly (international inch, 1959): 20 inches are
// 50.8 cm.
func TestHandbookLengths(t *testing.T) {
	gauge := fit.Gauge{Stitches: 24}
	if got := reader.Length(gauge.Width(96), fit.Centimetres); got != "forty centimetres" {
		t.Error(got)
	}
	if got := reader.Gauge(fit.Gauge{Stitches: 22}, true, fit.Inches); got != "five and a half stitches to the inch" {
		t.Error(got)
	}
	if got := reader.Length(50.8, fit.Inches); got != "twenty inches" {
		t.Error(got)
	}
}

// heardNumber reads a number under a thousand back from words, by a table of
// its own.
func heardNumber(t failing, words string) float64 {
	names := strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	values := map[string]int{}
	for i, name := range names {
		values[name] = i
	}
	for i, name := range strings.Fields("twenty thirty forty fifty sixty seventy eighty ninety") {
		values[name] = 20 + 10*i
	}
	n := 0
	for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '-' }) {
		switch v, known := values[word]; {
		case word == "hundred":
			n *= 100
		case known:
			n += v
		case word != "and":
			t.Fatalf("%q in %q is no number", word, words)
		}
	}
	return float64(n)
}

// heardLength reads a length back, in its own unit.
func heardLength(t failing, said, unit, units string) float64 {
	for words, n := range map[string]float64{
		"half a centimetre": 0.5, "a quarter of an inch": 0.25, "half an inch": 0.5, "three quarters of an inch": 0.75,
		"less than half a centimetre": 0, "less than a quarter of an inch": 0,
	} {
		if said == words {
			return n
		}
	}
	rest, plural := strings.CutSuffix(said, " "+units)
	if !plural {
		rest, _ = strings.CutSuffix(said, " "+unit)
	}
	part := 0.0
	for words, n := range map[string]float64{" and a quarter": 0.25, " and a half": 0.5, " and three quarter": 0.75} {
		if cut, ok := strings.CutSuffix(rest, words); ok {
			rest, part = cut, n
			break
		}
	}
	n := heardNumber(t, rest) + part
	if one := n == 1; one == plural {
		t.Fatalf("%q does not agree in number", said)
	}
	return n
}

// TestLengthsAreHeardAsTheyAre reads lengths back: within half a mark of the
// tape, and never zero.
func TestLengthsAreHeardAsTheyAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cm := rapid.OneOf(rapid.Float64Range(0, 999), rapid.Float64Range(0, 3)).Draw(t, "cm")
		inCm, inInches := reader.Length(cm, fit.Centimetres), reader.Length(cm, fit.Inches)
		for _, said := range []string{inCm, inInches} {
			checkAllowed(t, said)
			if strings.Contains(said, "zero") || strings.HasPrefix(said, "no ") {
				t.Fatalf("%v cm is said as %q", cm, said)
			}
		}
		const rounding = 1e-9
		if heard := heardLength(t, inCm, "centimetre", "centimetres"); math.Abs(heard-cm) > 0.25+rounding {
			t.Fatalf("%v cm is said as %q", cm, inCm)
		}
		if heard := heardLength(t, inInches, "inch", "inches"); math.Abs(heard-cm/2.54) > 0.125+rounding {
			t.Fatalf("%v in is said as %q", cm/2.54, inInches)
		}
	})
}
