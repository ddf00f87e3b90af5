package fit_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
)

func TestChooseSize(t *testing.T) {
	tests := []struct {
		sample   string
		body     fit.Body
		around   float64
		best     int
		suits    bool
		sideways bool
		section  string
		widths   []float64
	}{
		// A hat is 2 to 5 cm smaller than the head (common practice).
		{"float-hat", fit.Head, 58.5, 2, true, false, "Floats", []float64{45, 50, 55}},
		{"float-hat", fit.Head, 53.5, 1, true, false, "Floats", []float64{45, 50, 55}},
		{"float-hat", fit.Head, 47, 0, true, false, "Floats", []float64{45, 50, 55}},
		{"float-hat", fit.Head, 65, 2, false, false, "Floats", []float64{45, 50, 55}},
		{"float-hat", fit.Head, 40, 0, false, false, "Floats", []float64{45, 50, 55}},
		// The cap is knitted sideways: its length goes around.
		{"lee-cap", fit.Head, 57, 2, true, true, "Wedges", []float64{45, 49.5, 54}},
		{"lee-cap", fit.Head, 48.5, 0, true, true, "Wedges", []float64{45, 49.5, 54}},
		// A sock is a tenth smaller than the foot (common practice).
		{"boathouse-socks", fit.Foot, 22.2, 0, true, false, "Foot", []float64{20, 22, 24}},
		{"boathouse-socks", fit.Foot, 24.4, 1, true, false, "Foot", []float64{20, 22, 24}},
		{"boathouse-socks", fit.Foot, 31, 2, false, false, "Foot", []float64{20, 22, 24}},
		// A mitten is up to 2 cm larger than the hand (common practice).
		{"mender-mittens", fit.Hand, 17.5, 0, true, false, "Hand", []float64{44 / 2.4, 52 / 2.4}},
		{"mender-mittens", fit.Hand, 20.5, 1, true, false, "Hand", []float64{44 / 2.4, 52 / 2.4}},
	}
	for _, want := range tests {
		s, err := fit.ChooseSize(sample(t, want.sample), want.body, want.around, nil)
		if err != nil {
			t.Errorf("%s for a %s of %v cm: %v", want.sample, want.body, want.around, err)
			continue
		}
		if s.Best != want.best || s.Suits != want.suits || s.Sideways != want.sideways || s.Section.Name != want.section || s.Body != want.body || s.Around != want.around {
			t.Errorf("%s for a %s of %v cm: %+v; want %+v", want.sample, want.body, want.around, s, want)
		}
		for i, width := range want.widths {
			if !near(s.Sizes[i].Width, width) || !near(s.Sizes[i].Ease, width-want.around) || s.Sizes[i].Size != i {
				t.Errorf("%s: size %d comes to %+v; want %v cm", want.sample, i, s.Sizes[i], width)
			}
		}
	}
}

// A size that is bought by the person: the Council's toddler and man, from the
// table.
func TestChooseSizeForAPerson(t *testing.T) {
	man, _ := fit.PersonNamed("my husband")
	s, err := fit.ChooseSize(sample(t, "lee-cap"), fit.Head, man.Around(fit.Head), nil)
	if err != nil || s.Best != 2 || !s.Suits {
		t.Errorf("a man's cap: %+v, %v; want the large one, 2 cm smaller than 56", s, err)
	}
	toddler, _ := fit.PersonNamed("toddler")
	s, err = fit.ChooseSize(sample(t, "float-hat"), fit.Head, toddler.Around(fit.Head), nil)
	if err != nil || s.Best != 0 || s.Suits {
		t.Errorf("a toddler's hat: %+v, %v; want the small one, which is too large", s, err)
	}
}

func TestOwnSwatchChangesTheSize(t *testing.T) {
	s, err := fit.ChooseSize(sample(t, "float-hat"), fit.Head, 53.5, &fit.Gauge{Stitches: 26.4, Rows: 32}) // a tenth tighter
	if err != nil || s.Best != 2 || !near(s.Sizes[2].Width, 50) {
		t.Errorf("at 26.4 stitches: %+v, %v; want the large one at 50 cm", s, err)
	}
}

func TestChooseWidth(t *testing.T) {
	s, err := fit.ChooseWidth(sample(t, "cobble-cowl"), 110, nil)
	if err != nil || s.Best != 1 || s.Suits || !near(s.Sizes[1].Ease, 252/2.2-110) {
		t.Errorf("a cowl of 110 cm: %+v, %v; want the long one, 4.5 cm more", s, err)
	}
	s, err = fit.ChooseWidth(sample(t, "float-hat"), 50.4, nil)
	if err != nil || s.Best != 1 || !s.Suits || s.Sideways {
		t.Errorf("a hat of 50.4 cm: %+v, %v; want the medium one", s, err)
	}
	s, err = fit.ChooseWidth(sample(t, "lee-cap"), 49, nil)
	if err != nil || s.Best != 1 || !s.Suits || !s.Sideways {
		t.Errorf("a cap of 49 cm: %+v, %v; want the medium one, sideways", s, err)
	}
}

func TestRefusedSizes(t *testing.T) {
	hat := sample(t, "float-hat")
	tests := []struct {
		body   fit.Body
		around float64
		code   string
		says   string
	}{
		{fit.Head, 5, fit.CodeSmall, "a head of 5 cm is not likely, since it measures 25 to 70 cm around"},
		{fit.Head, 22, fit.CodeSmall, "did you mean 22 inches?"},
		{fit.Head, 57 * 2.54, fit.CodeLarge, "did you mean 57 centimetres?"},
		{fit.Head, 0, fit.CodeZero, "measure around it"},
		{fit.Head, -57, fit.CodeZero, "measure around it"},
		{fit.Head, math.NaN(), fit.CodeZero, "measure around it"},
		{fit.Head, math.Inf(1), fit.CodeLarge, "25 to 70 cm"},
		{fit.Hand, 7.5, fit.CodeSmall, "did you mean 7.5 inches?"},
		{fit.Hand, 40, fit.CodeLarge, "8 to 35 cm"},
		{fit.Foot, 41, fit.CodeLarge, "8 to 40 cm"},
		{fit.Body(9), 41, fit.CodeBody, "head, the hand or the foot"},
	}
	for _, want := range tests {
		_, err := fit.ChooseSize(hat, want.body, want.around, nil)
		checkRefused(t, sprintf("%v of %v", want.body, want.around), err, want.code, want.says)
	}
	for _, width := range []float64{0, -1, 0.5, 2000, math.NaN(), math.Inf(1)} {
		if _, err := fit.ChooseWidth(hat, width, nil); err == nil {
			t.Errorf("a width of %v is taken", width)
		}
	}
	_, err := fit.ChooseSize(sample(t, "gull-kerchief"), fit.Head, 57, nil)
	checkRefused(t, "a kerchief", err, fit.CodeShaped, "shaped all over")
	if _, err := fit.ChooseSize(read(t, sprintf(noGauge, "")), fit.Head, 57, nil); !errors.Is(err, fit.ErrNoGauge) {
		t.Errorf("without a gauge: %v", err)
	}
	broken, _ := patterns.Read([]byte("Pattern: P\nWorked: in rows\nCast on: 3\n\nSection: S\nRow 1: k4.\n"))
	if _, err := fit.ChooseSize(broken, fit.Head, 57, &fit.Gauge{Stitches: 20, Rows: 30}); !errors.Is(err, patterns.ErrUnsound) {
		t.Errorf("a pattern with an error: %v", err)
	}
}

// checkNoneGoesAround checks that what comes nearest to a body and its ease is less
// than 0.6 of the body or more than 1.6 times as wide.
func checkNoneGoesAround(t *rapid.T, p *patterns.Pattern, body fit.Body, around float64, own *fit.Gauge) {
	ease := fit.EaseOf(body, around)
	s, err := fit.ChooseWidth(p, around+(ease.Low+ease.High)/2, own)
	if err != nil {
		return // a fourth of it, and less
	}
	if width := s.Sizes[s.Best].Width; width > 0.6*around && width < 1.6*around {
		t.Fatalf("%g cm of %g: %+v", width, around, s)
	}
}

// A hat is no mitten, and a scarf no hat: that is said in place of the nearest size.
func TestNothingGoesAround(t *testing.T) {
	scarf := read(t, sprintf(strip, 23, "Row 1: k to end."))
	for _, c := range []struct {
		p      *patterns.Pattern
		body   fit.Body
		around float64
		unit   fit.Unit
		says   string
	}{
		{sample(t, "float-hat"), fit.Hand, 20, fit.Centimetres, "nothing in this pattern goes around a hand of 20 cm: its main part, Floats, is 45 cm around"},
		{sample(t, "float-hat"), fit.Hand, 8 * 2.54, fit.Inches, "nothing in this pattern goes around a hand of 8 in: its main part, Floats, is 18 in around"},
		{scarf, fit.Head, 57, fit.Centimetres, "nothing in this pattern goes around a head of 57 cm: its main part, "},
		{scarf, fit.Head, 5.08, fit.Inches, "a head of 2 in is not likely, since it measures 10 to 27.5 in around: check the number and its unit, such as 22 in"},
		{scarf, fit.Head, 57 * 2.54, fit.Inches, "did you mean 57 centimetres?"},
	} {
		_, err := fit.ChooseSizeIn(c.p, c.body, c.around, c.unit, nil)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s of %g: %v", c.body, c.around, err)
		}
	}
	_, err := fit.ChooseWidth(sample(t, "float-hat"), 900, nil)
	checkRefused(t, "a width of 9 m", err, fit.CodeLarge, "a width of 900 cm is more than four times that of the piece, which is 55 cm: choose one nearer to it")
	_, err = fit.CastOns(sample(t, "cobble-cowl"), 0, 900, nil)
	checkRefused(t, "a cast-on for 9 m", err, fit.CodeLarge, "more than four times that of the piece")
}

// The size chosen is never worse than another, and suits when any does.
func TestNoOtherSizeIsBetter(t *testing.T) {
	all := map[string]*patterns.Pattern{}
	names := []string{"float-hat", "cobble-cowl", "lee-cap", "boathouse-socks", "mender-mittens"}
	for _, name := range names {
		all[name] = sample(t, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		p := all[rapid.SampledFrom(names).Draw(t, "sample")]
		body := rapid.SampledFrom([]fit.Body{fit.Head, fit.Hand, fit.Foot}).Draw(t, "body")
		around := rapid.Float64Range(25, 35).Draw(t, "around") // what all three may measure
		own := &fit.Gauge{Stitches: rapid.Float64Range(8, 60).Draw(t, "stitches"), Rows: rapid.Float64Range(8, 90).Draw(t, "rows")}
		s, err := fit.ChooseSize(p, body, around, own)
		var refused *fit.Error
		if errors.As(err, &refused) && refused.Code == fit.CodeAround {
			checkNoneGoesAround(t, p, body, around, own)
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		low, high := s.Wanted.Low, s.Wanted.High
		for _, other := range s.Sizes {
			if math.Abs(other.Ease-(low+high)/2) < math.Abs(s.Sizes[s.Best].Ease-(low+high)/2) {
				t.Fatalf("size %d is chosen, and %d is nearer: %+v", s.Best, other.Size, s)
			}
			if other.Ease >= low && other.Ease <= high && !s.Suits {
				t.Fatalf("size %d suits, and it is said that none does: %+v", other.Size, s)
			}
		}
		if len(s.Sizes) != p.SizeCount() {
			t.Fatalf("%d sizes are told of %d", len(s.Sizes), p.SizeCount())
		}
	})
}

func TestEase(t *testing.T) {
	tests := []struct {
		body      fit.Body
		around    float64
		low, high float64
	}{
		{fit.Head, 57, -5, -2},
		{fit.Hand, 19, 0, 2},
		{fit.Foot, 20, -3, -1}, // a tenth, give or take half of it
	}
	for _, want := range tests {
		if e := fit.EaseOf(want.body, want.around); !near(e.Low, want.low) || !near(e.High, want.high) || e.Source != "common practice" {
			t.Errorf("a %s of %v cm wants %+v; want %v to %v", want.body, want.around, e, want.low, want.high)
		}
	}
}
