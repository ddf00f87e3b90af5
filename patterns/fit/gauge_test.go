package fit_test

import (
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

func TestParseGauge(t *testing.T) {
	tests := []struct {
		text string
		want fit.Gauge
	}{
		{"22 sts and 30 rows = 10 cm", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 sts and 30 rounds = 10 cm.", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 stitches, 30 rnds over 10 centimetres", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 sts by 30 rows in 10 cm", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22x30", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 x 30", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22×30", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 by 30", fit.Gauge{Stitches: 22, Rows: 30}},
		{"21 29", fit.Gauge{Stitches: 21, Rows: 29}},
		{"21,5 x 29,5", fit.Gauge{Stitches: 21.5, Rows: 29.5}},
		{"22, 30", fit.Gauge{Stitches: 22, Rows: 30}},
		{"22 to 10cm", fit.Gauge{Stitches: 22}},
		{"22 stitches to 10 centimetres", fit.Gauge{Stitches: 22}},
		{"21 stitches and 29 rows to 10 centimetres", fit.Gauge{Stitches: 21, Rows: 29}},
		{"11 sts and 15 rows = 5 cm", fit.Gauge{Stitches: 22, Rows: 30}},
		{"2.2 stitches to the centimetre", fit.Gauge{Stitches: 22}},
		{"5 to the inch", fit.Gauge{Stitches: 19.685}},
		{"5.5 to the inch", fit.Gauge{Stitches: 21.654}},
		{"5½ to the inch", fit.Gauge{Stitches: 21.654}},
		{"5 1/2 sts = 1 in", fit.Gauge{Stitches: 21.654}},
		{"5.5 sts an inch", fit.Gauge{Stitches: 21.654}},
		{"5.5 sts/in", fit.Gauge{Stitches: 21.654}},
		{"5.5 per inch", fit.Gauge{Stitches: 21.654}},
		{`20 sts and 28 rows = 4"`, fit.Gauge{Stitches: 19.685, Rows: 27.559}},
		{"20 sts and 28 rows = 4″", fit.Gauge{Stitches: 19.685, Rows: 27.559}},
		{"20 sts over 4 in", fit.Gauge{Stitches: 19.685}},
		{"5 x 7 to the inch", fit.Gauge{Stitches: 19.685, Rows: 27.559}},
	}
	for _, want := range tests {
		if got, err := fit.ParseGauge(want.text); err != nil || got != want.want {
			t.Errorf("%q gives %+v, %v; want %+v", want.text, got, err, want.want)
		}
	}
}

func TestRefusedGauges(t *testing.T) {
	tests := []struct{ text, code, says string }{
		{"", fit.CodeEmpty, "no gauge is given"},
		{"22", fit.CodeUnitMissing, "over which length"},
		{"22 stitches", fit.CodeUnitMissing, "over which length"},
		{"22 to 10", fit.CodeUnitMissing, "over which length"},
		{"22 sts and 30 rows = 10", fit.CodeUnitMissing, "over which length"},
		{"22 sts = 10 cm = 4 in", fit.CodeUnitMixed, "give one of them"},
		{"20 sts and 28 rows = 4 in (10 cm)", fit.CodeUnitMixed, "give one of them"},
		{"0x30", fit.CodeZero, "zero"},
		{"22x0", fit.CodeZero, "zero"},
		{"22 to 0 cm", fit.CodeZero, "zero"},
		{"-22x30", fit.CodeNegative, "leave out the minus"},
		{"22x-30", fit.CodeNegative, "leave out the minus"},
		{"200 stitches to the centimetre", fit.CodeLarge, "comes to 2000 stitches to 10 cm, and hand knitting has 4 to 80"},
		{"22x400", fit.CodeLarge, "comes to 400 rows to 10 cm"},
		{"1 to the inch", fit.CodeSmall, "comes to 3.937 stitches to 10 cm"},
		{"22x1", fit.CodeSmall, "comes to 1 row to 10 cm"},
		{"22 to 100 inches", fit.CodeSmall, "check the number and the unit"},
		{"99999999999999999999x30", fit.CodeLarge, "more than a million"},
		{"22x30 in", fit.CodeUnitMissing, "does not say over how many inches: give it like 22 sts and 30 rows = 4 in"},
		{"24 sts to 10 cm and 32 rows to 4 in", fit.CodeUnitMixed, "is in centimetres and in inches"},
		{"NaNxNaN", fit.CodeUnreadable, "give it like"},
		{"1,000 x 30", fit.CodeUnreadable, "give it like"},
		{"tight", fit.CodeUnreadable, "give it like"},
		{"22 sts and 30 rows = 10 mm", fit.CodeUnreadable, "give it like"},
	}
	for _, want := range tests {
		_, err := fit.ParseGauge(want.text)
		checkRefused(t, want.text, err, want.code, want.says)
	}
}

func TestGaugesPrintBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := fit.Gauge{Stitches: float64(rapid.IntRange(4000, 80_000).Draw(t, "stitches")) / 1000}
		if rapid.Bool().Draw(t, "with rows") {
			g.Rows = float64(rapid.IntRange(4000, 120_000).Draw(t, "rows")) / 1000
		}
		if back, err := fit.ParseGauge(g.String()); err != nil || back != g {
			t.Fatalf("%+v prints as %q, which reads as %+v, %v", g, g, back, err)
		}
	})
}

func FuzzParseGauge(f *testing.F) {
	for _, text := range []string{"22x30", "22 sts and 30 rows = 10 cm", "5.5 to the inch", "5½ sts = 1″", "22", "0x0", "200 stitches to the centimetre", "1/0 x 2", "21 29", "22,30", "- x -", "22 sts in 4 in"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		g, err := fit.ParseGauge(text)
		if err != nil {
			if g != (fit.Gauge{}) || err.Error() == "" {
				t.Fatalf("%q is refused with %+v: %q", text, g, err)
			}
			return
		}
		if back, err := fit.ParseGauge(g.String()); err != nil || back != g {
			t.Fatalf("%q is %+v, printed %q and read again %+v, %v", text, g, g, back, err)
		}
	})
}

// The form that a pattern's own Gauge line has is read to the same numbers.
func TestGaugeLinesOfPatterns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stitches, rows := rapid.IntRange(5, 79).Draw(t, "stitches"), rapid.IntRange(5, 110).Draw(t, "rows")
		over := rapid.SampledFrom([]string{"10 cm", "10cm", "4 in", "4 inches", "4″"}).Draw(t, "over")
		line := itoa(stitches) + " sts and " + itoa(rows) + " rows = " + over
		p, problems := patterns.Read([]byte("Pattern: Swatch\nWorked: in rows\nCast on: 20\nGauge: " + line + "\n\nSection: All\nRow 1: k to end.\n"))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		got, err := fit.ParseGauge(line)
		own, found := fit.GaugeOf(p, p.Sections[0], nil)
		if err != nil || !found || !near(got.Stitches, own.Stitches) || !near(got.Rows, own.Rows) {
			t.Fatalf("%q reads as %+v, %v, and in the pattern as %+v", line, got, err, own)
		}
	})
}

const withTakeUp = `Pattern: Rope scarf
Worked: in rows
Cast on: 30
%s
Section: Plain
Row 1 (RS): k to end.

Section: Ropes
Gauge: 30 sts and 36 rows = 10 cm
Row 1 (WS): p to end.
`

func TestGaugeOf(t *testing.T) {
	with := func(header string) *patterns.Pattern {
		p, problems := patterns.Read([]byte(sprintf(withTakeUp, header)))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		return p
	}
	p, bare := with("Gauge: 20 sts and 30 rows = 10 cm\n"), with("")
	swatch, stitchesAlone := fit.Gauge{Stitches: 22, Rows: 33}, fit.Gauge{Stitches: 22}
	tests := []struct {
		name         string
		p            *patterns.Pattern
		own          *fit.Gauge
		plain, ropes fit.Gauge
	}{
		{"the pattern's", p, nil, fit.Gauge{Stitches: 20, Rows: 30}, fit.Gauge{Stitches: 30, Rows: 36}},
		{"a swatch a tenth tighter", p, &swatch, fit.Gauge{Stitches: 22, Rows: 33}, fit.Gauge{Stitches: 33, Rows: 39.6}},
		{"a swatch without rows", p, &stitchesAlone, fit.Gauge{Stitches: 22, Rows: 30}, fit.Gauge{Stitches: 33, Rows: 36}},
		{"no header", bare, nil, fit.Gauge{}, fit.Gauge{Stitches: 30, Rows: 36}},
		{"no header to compare a swatch with", bare, &swatch, swatch, swatch},
		{"neither header nor rows", bare, &stitchesAlone, fit.Gauge{Stitches: 22}, fit.Gauge{Stitches: 22, Rows: 36}},
	}
	for _, want := range tests {
		for i, gauge := range []fit.Gauge{want.plain, want.ropes} {
			got, found := fit.GaugeOf(want.p, want.p.Sections[i], want.own)
			if found != (gauge.Stitches > 0) || !near(got.Stitches, gauge.Stitches) || !near(got.Rows, gauge.Rows) {
				t.Errorf("%s: %s is worked at %+v, %t; want %+v", want.name, want.p.Sections[i].Name, got, found, gauge)
			}
		}
	}
}

// Gauge arithmetic as handbooks work it out (common practice, from memory).
func TestGaugeArithmetic(t *testing.T) {
	if got := (fit.Gauge{Stitches: 24}).Width(96); !near(got, 40) {
		t.Errorf("96 stitches at 24 to 10 cm are %v cm; want 40", got)
	}
	if got := (fit.Gauge{Stitches: 22, Rows: 30}).Length(75); !near(got, 25) {
		t.Errorf("75 rows at 30 to 10 cm are %v cm; want 25", got)
	}
	if got := (fit.Gauge{Stitches: 22}).Length(75); got != 0 {
		t.Errorf("75 rows at no gauge are %v cm; want 0", got)
	}
	inch, _ := fit.ParseGauge("5 to the inch")
	if got := inch.Width(180) / fit.CentimetresPerInch; got < 35.95 || got > 36.05 {
		t.Errorf("180 stitches at 5 to the inch are %v inches; want 36", got)
	}
}

// What the samples state of themselves.
func TestSamplesHaveAGauge(t *testing.T) {
	for _, s := range samples.All() {
		p := sample(t, s.Name)
		for _, section := range p.Sections {
			if _, found := fit.GaugeOf(p, section, nil); !found {
				t.Errorf("%s: no gauge is known of %s", s.Name, section.Name)
			}
		}
	}
}
