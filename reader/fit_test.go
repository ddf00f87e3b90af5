package reader_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
	"clew/reader"
)

// sample reads one of the patterns that ship with Clew.
func sample(t testing.TB, name string) *patterns.Pattern {
	t.Helper()
	s, ok := samples.Find(name)
	if !ok {
		t.Fatalf("no sample %s", name)
	}
	p, problems := patterns.Read([]byte(s.Text))
	if len(problems) > 0 {
		t.Fatal(problems[0].Text())
	}
	return p
}

func section(t testing.TB, p *patterns.Pattern, name string) *patterns.Section {
	t.Helper()
	for _, s := range p.Sections {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("no section %s", name)
	return nil
}

// A heard is a golden text of what is said in each of many cases.
type heard struct{ strings.Builder }

func (h *heard) add(name, said string) { fmt.Fprintf(h, "== %s\n%s\n\n", name, said) }

func TestGauges(t *testing.T) {
	for _, c := range []struct {
		gauge  fit.Gauge
		rounds bool
		unit   fit.Unit
		want   string
	}{
		{fit.Gauge{Stitches: 22, Rows: 30}, true, fit.Centimetres, "twenty-two stitches and thirty rounds to ten centimetres"},
		{fit.Gauge{Stitches: 21.5, Rows: 29}, false, fit.Centimetres, "twenty-one and a half stitches and twenty-nine rows to ten centimetres"},
		{fit.Gauge{Stitches: 21}, false, fit.Centimetres, "twenty-one stitches to ten centimetres"},
		{fit.Gauge{Stitches: 5.5 / 2.54 * 10, Rows: 7 / 2.54 * 10}, false, fit.Inches, "five and a half stitches and seven rows to the inch"},
		{fit.Gauge{Stitches: 4.75 / 2.54 * 10, Rows: 1 / 2.54 * 10}, false, fit.Inches, "four and three quarter stitches and one row to the inch"},
	} {
		if got := reader.Gauge(c.gauge, c.rounds, c.unit); got != c.want {
			t.Errorf("%v: %q, want %q", c.gauge, got, c.want)
		}
	}
}

// The measures of an invented hat; what fit makes of real ones is its own matter.
func hatSizes(t testing.TB) []fit.SectionSize {
	p := sample(t, "float-hat")
	size := func(name string, rows int, narrow, wide, long float64) fit.SectionSize {
		return fit.SectionSize{Section: section(t, p, name), Rows: rows, Narrow: narrow, Wide: wide, Width: wide, Short: long, Long: long}
	}
	return []fit.SectionSize{size("Brim", 14, 45, 45, 4.4), size("Set-up", 1, 45, 45, 0.3), size("Floats", 24, 45, 45, 7.5), size("Slack water", 6, 45, 45, 1.9), size("Crown", 18, 3.75, 40, 5.6)}
}

func TestSizesSaid(t *testing.T) {
	var h heard
	hat := hatSizes(t)
	h.add("a hat", reader.Sizes(hat, fit.Centimetres))
	h.add("in inches", reader.Sizes(hat, fit.Inches))
	h.add("one section", reader.Sizes(hat[:1], fit.Centimetres))
	h.add("one that narrows", reader.Sizes(hat[4:], fit.Inches))
	swatch := append([]fit.SectionSize(nil), hat[:2]...)
	swatch[0].PatternRows = true
	h.add("a swatch without rows", reader.Sizes(swatch, fit.Centimetres))
	for i := range swatch {
		swatch[i].Short, swatch[i].Long = 0, 0
	}
	h.add("no rows at all", reader.Sizes(swatch, fit.Centimetres))
	heel := fit.SectionSize{Section: section(t, sample(t, "boathouse-socks"), "Heel turn"), Rows: 8, Narrow: 6, Wide: 10, Width: 8, Short: 1, Long: 2.2}
	h.add("short rows, in rows", reader.Sizes([]fit.SectionSize{heel}, fit.Centimetres))
	heel.Straight, heel.Width = 6, 6
	h.add("mostly straight", reader.Sizes([]fit.SectionSize{heel}, fit.Centimetres))
	h.add("no gauge for one of two", reader.Sizes([]fit.SectionSize{hat[0], {Section: hat[1].Section, Rows: 3}}, fit.Centimetres))
	golden(t, "testdata/fit_sizes.txt", h.String())
}

func TestSizingSaid(t *testing.T) {
	p := sample(t, "float-hat")
	usual := fit.Ease{Low: -5, High: -2}
	head := func(around float64, best int) fit.Sizing {
		s := fit.Sizing{Around: around, Wanted: usual, Best: best, Section: section(t, p, "Brim")}
		for i, width := range []float64{45, 50, 55} {
			s.Sizes = append(s.Sizes, fit.SizeWidth{Size: i, Width: width, Ease: width - around})
		}
		return s
	}
	var h heard
	h.add("between two neighbours", reader.Sizing(head(54, 1), p, "", fit.Centimetres))
	h.add("the smallest, in inches", reader.Sizing(head(49, 0), p, "", fit.Inches))
	h.add("the largest is too tight", reader.Sizing(head(63, 2), p, "", fit.Centimetres))
	h.add("the smallest is too loose", reader.Sizing(head(42, 0), p, "", fit.Centimetres))
	h.add("another size is asked about", reader.SizingBeside(head(54, 1), p, 0, "", fit.Centimetres))
	h.add("the same size is asked about", reader.SizingBeside(head(54, 1), p, 1, "", fit.Centimetres))
	h.add("for a toddler", reader.Sizing(head(48, 0), p, "toddler", fit.Centimetres))
	one := head(57, 1)
	one.Sizes, one.Best = one.Sizes[1:2], 0
	h.add("one size", reader.Sizing(one, p, "", fit.Centimetres))
	hand := head(19, 0)
	hand.Body, hand.Wanted = fit.Hand, fit.Ease{Low: 0, High: 2}
	hand.Sizes = []fit.SizeWidth{{Size: 0, Width: 19}, {Size: 1, Width: 21.5}}
	h.add("a hand, the same", reader.Sizing(hand, p, "", fit.Centimetres))
	width := head(51, 1)
	width.Wanted, width.Section = fit.Ease{}, section(t, sample(t, "boathouse-socks"), "Heel flap")
	h.add("a finished width", reader.Sizing(width, p, "", fit.Centimetres))
	width.Around = 50
	h.add("a finished width that is met", reader.Sizing(width, p, "", fit.Centimetres))
	golden(t, "testdata/fit_sizing.txt", h.String())
}

func TestCastOnSaid(t *testing.T) {
	p := sample(t, "float-hat")
	floats := section(t, p, "Floats")
	found := []fit.CastOn{{Section: floats, Unit: 18, Times: 6, Stitches: 108, Width: 45}, {Section: floats, Unit: 18, Times: 7, Stitches: 126, Width: 52.5}, {Section: floats, Unit: 18, Times: 5, Stitches: 90, Width: 37.5}}
	var h heard
	h.add("three numbers", reader.CastOn(found, fit.Centimetres))
	found[0].Plus, found[0].Stitches, found[0].Rest = 2, 110, section(t, p, "Crown")
	h.add("with stitches beside the repeats, up to the crown", reader.CastOn(found[:1], fit.Inches))
	found[0].Unit, found[0].Plus, found[0].Times, found[0].Rest = 1, 0, 110, nil
	h.add("any number", reader.CastOn(found[:1], fit.Centimetres))
	golden(t, "testdata/fit_caston.txt", h.String())
}

// TestFitKeepsToItsCharacters holds what is said of any measures to letters
// and the few marks.
func TestFitKeepsToItsCharacters(t *testing.T) {
	p := sample(t, "float-hat")
	cm := rapid.Float64Range(0, 1000)
	rapid.Check(t, func(rt *rapid.T) {
		unit := fit.Unit(rapid.IntRange(0, 1).Draw(rt, "unit"))
		sections := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) fit.SectionSize {
			return fit.SectionSize{
				Section: rapid.SampledFrom(p.Sections).Draw(t, "section"), Rows: rapid.IntRange(1, 500).Draw(t, "rows"),
				Narrow: cm.Draw(t, "narrow"), Wide: cm.Draw(t, "wide"), Short: cm.Draw(t, "short"), Long: cm.Draw(t, "long"), PatternRows: rapid.Bool().Draw(t, "theirs"),
			}
		}), 1, 6).Draw(rt, "sections")
		checkSaid(rt, reader.Sizes(sections, unit))
		checkSaid(rt, reader.Gauge(fit.Gauge{Stitches: rapid.Float64Range(0.1, 80).Draw(rt, "stitches"), Rows: cm.Draw(rt, "rows")}, false, unit))
		s := fit.Sizing{
			Body: fit.Body(rapid.IntRange(0, 2).Draw(rt, "body")), Around: cm.Draw(rt, "around"), Best: rapid.IntRange(0, 2).Draw(rt, "best"), Section: p.Sections[0],
		}
		s.Wanted.Low = rapid.Float64Range(-9, 9).Draw(rt, "low")
		s.Wanted.High = s.Wanted.Low + rapid.Float64Range(0, 9).Draw(rt, "range")
		for i := range 3 {
			s.Sizes = append(s.Sizes, fit.SizeWidth{Size: i, Width: cm.Draw(rt, "width")})
		}
		checkSaid(rt, reader.SizingBeside(s, p, rapid.IntRange(0, 2).Draw(rt, "asked"), "", unit))
		checkSaid(rt, reader.Sizing(s, p, rapid.SampledFrom([]string{"", "toddler", "adult"}).Draw(rt, "who"), unit))
	})
}

// checkSaid holds sentences to what can be said, and to say no zero.
func checkSaid(t failing, text string) {
	checkAllowed(t, text)
	if strings.Contains(text, "zero") || strings.Contains(text, "..") || strings.Contains(text, " .") || strings.Contains(text, " ,") {
		t.Fatalf("%q can't be said so", text)
	}
}
