package fit_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fit"
)

// near compares measures: a hundredth of a millimetre is nothing.
func near(a, b float64) bool { return math.Abs(a-b) < 0.001 }

func TestParseLength(t *testing.T) {
	tests := []struct {
		text string
		cm   float64
		unit fit.Unit
	}{
		{"57cm", 57, fit.Centimetres},
		{" 57 CM ", 57, fit.Centimetres},
		{"57 centimetres", 57, fit.Centimetres},
		{"57 centimeters.", 57, fit.Centimetres},
		{"1 centimetre", 1, fit.Centimetres},
		{"5.5 cm", 5.5, fit.Centimetres},
		{"5,5 cm", 5.5, fit.Centimetres},
		{"57\u00a0cm", 57, fit.Centimetres},
		{"1000 cm", 1000, fit.Centimetres},
		{"22 in", 55.88, fit.Inches},
		{"22in.", 55.88, fit.Inches},
		{"22.5 inches", 57.15, fit.Inches},
		{"1 inch", 2.54, fit.Inches},
		{`22"`, 55.88, fit.Inches},
		{"22″", 55.88, fit.Inches},
		{"22”", 55.88, fit.Inches},
		{"22 “", 55.88, fit.Inches},
		{"22''", 55.88, fit.Inches},
		{"22 1/2 in", 57.15, fit.Inches},
		{"22-1/2 in", 57.15, fit.Inches},
		{"22½ inches", 57.15, fit.Inches},
		{"22 ½ in", 57.15, fit.Inches},
		{`7 ¾"`, 7.75 * 2.54, fit.Inches},
		{"7¾”", 7.75 * 2.54, fit.Inches},
		{"7 3⁄4 in", 7.75 * 2.54, fit.Inches},
		{"1/2 in", 1.27, fit.Inches},
		{"½ in", 1.27, fit.Inches},
		{"45 1/2 cm", 45.5, fit.Centimetres},
	}
	for _, want := range tests {
		cm, unit, err := fit.ParseLength(want.text)
		if err != nil || !near(cm, want.cm) || unit != want.unit {
			t.Errorf("%q gives %v cm, in %v, %v; want %v cm, in %v", want.text, cm, unit, err, want.cm, want.unit)
		}
	}
}

func TestRefusedLengths(t *testing.T) {
	tests := []struct{ text, code, says string }{
		{"", fit.CodeEmpty, "no length is given"},
		{" \t ", fit.CodeEmpty, "no length is given"},
		{"57", fit.CodeUnitMissing, "centimetres or inches"},
		{"22 1/2", fit.CodeUnitMissing, "centimetres or inches"},
		{"22 cm in inches", fit.CodeUnitMixed, "give one of them"},
		{"22 cm 3 in", fit.CodeUnitMixed, "give one of them"},
		{`57 cm (22")`, fit.CodeUnitMixed, "give one of them"},
		{"22 inches or 56 cm", fit.CodeUnitMixed, "give one of them"},
		{"570 mm", fit.CodeUnitUnknown, "neither in centimetres nor in inches"},
		{"5 feet", fit.CodeUnitUnknown, "neither in centimetres nor in inches"},
		{"1.2 metres", fit.CodeUnitUnknown, "neither in centimetres nor in inches"},
		{"0 cm", fit.CodeZero, "give a number"},
		{"0/4 in", fit.CodeZero, "give a number"},
		{"-5 cm", fit.CodeNegative, "leave out the minus"},
		{"−5 cm", fit.CodeNegative, "leave out the minus"},
		{"0.5 cm", fit.CodeSmall, "from 1 to 1000 cm"},
		{"1/4 in", fit.CodeSmall, "from 1 to 1000 cm"},
		{"1000.1 cm", fit.CodeLarge, "from 1 to 1000 cm"},
		{"394 in", fit.CodeLarge, "from 1 to 1000 cm"},
		{"9" + strings.Repeat("0", 150) + " cm", fit.CodeLarge, "from 1 to 1000 cm"},
		{"9" + strings.Repeat("0", 400) + " cm", fit.CodeUnreadable, "give a number"},
		{"NaN cm", fit.CodeUnreadable, "give a number"},
		{"Inf cm", fit.CodeUnreadable, "give a number"},
		{"1e2 cm", fit.CodeUnreadable, "give a number"},
		{"1/0 in", fit.CodeUnreadable, "decimal point"},
		{"1,000 cm", fit.CodeUnreadable, "decimal point"}, // one, or a thousand
		{"wide", fit.CodeUnreadable, "give a number"},
		{"57 cm around", fit.CodeUnreadable, "give a number"},
		{`5'6"`, fit.CodeUnreadable, "give a number"},
	}
	for _, want := range tests {
		_, _, err := fit.ParseLength(want.text)
		checkRefused(t, want.text, err, want.code, want.says)
	}
}

// checkRefused says that something was refused by a typed error of one sentence
// that can be shown: it is short, on one line, and ends without a full stop.
func checkRefused(t *testing.T, what string, err error, code, says string) {
	t.Helper()
	var told *fit.Error
	switch {
	case !errors.As(err, &told):
		t.Errorf("%.40q is not refused by an error of fit: %v", what, err)
	case told.Code != code || !strings.Contains(told.Said, says):
		t.Errorf("%.40q is refused with %q: %s; want %q, saying %q", what, told.Code, told.Said, code, says)
	case len(told.Said) > 260 || strings.ContainsAny(told.Said, "\n\r\t") || strings.HasSuffix(told.Said, "."):
		t.Errorf("%.40q is refused by what is not one plain sentence: %s", what, told.Said)
	}
}

// A quarter of an inch, a half, three quarters: as people measure.
func TestLengthsPrintBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := fit.Unit(rapid.IntRange(0, 1).Draw(t, "unit"))
		value := float64(rapid.IntRange(1001, 390_000).Draw(t, "thousandths")) / 1000
		cm := value
		if unit == fit.Inches {
			cm *= fit.CentimetresPerInch
		}
		text := fit.FormatLength(cm, unit)
		back, as, err := fit.ParseLength(text)
		if err != nil || as != unit || back != cm || fit.FormatLength(back, as) != text {
			t.Fatalf("%v in %v prints as %q, which reads as %v in %v, %v", cm, unit, text, back, as, err)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, text := range []string{"57cm", "22 1/2 in", `7 ¾"`, "22″", "5,5 cm", "1/0 in", "-3 cm", "57", "22 cm in inches", "1,000 cm", "0.0004 in", "9e9 cm", "½"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cm, unit, err := fit.ParseLength(text)
		if err != nil {
			if cm != 0 || err.Error() == "" {
				t.Fatalf("%q is refused with %v cm: %q", text, cm, err)
			}
			return
		}
		if cm < fit.MinLength || cm > fit.MaxLength {
			t.Fatalf("%q is taken as %v cm", text, cm)
		}
		back, as, err := fit.ParseLength(fit.FormatLength(cm, unit))
		if err != nil || back != cm || as != unit {
			t.Fatalf("%q is %v in %v; printed and read again it is %v in %v, %v", text, cm, unit, back, as, err)
		}
	})
}
