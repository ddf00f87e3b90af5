package reader_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
)

func TestAmount(t *testing.T) {
	for _, c := range []struct {
		n    float64
		unit fit.YarnUnit
		want string
	}{
		{38, fit.Grams, "thirty-eight grams"},
		{37.6, fit.Grams, "thirty-seven and a half grams"},
		{1, fit.Grams, "one gram"},
		{0.5, fit.Grams, "half a gram"},
		{0.1, fit.Grams, "less than half a gram"},
		{212.4, fit.Metres, "two hundred and twelve metres"},
		{1.75, fit.Ounces, "one and three quarter ounces"},
		{0.5, fit.Ounces, "half an ounce"},
		{0.12, fit.Ounces, "less than a quarter of an ounce"},
		{90, fit.Yards, "ninety yards"},
	} {
		if got := reader.Amount(c.n, c.unit); got != c.want {
			t.Errorf("Amount(%v) = %q, want %q", c.n, got, c.want)
		}
	}
}

func TestYarnSaid(t *testing.T) {
	plan, err := sample(t, "float-hat").LayOut(patterns.Choice{Size: "medium"})
	if err != nil {
		t.Fatal(err)
	}
	crown, _ := plan.Find("Crown", 9)
	later, _ := plan.Find("Crown", 13)
	base := fit.Estimate{Used: 62, Left: 38, Share: 0.66, Needs: 31, Low: 28, High: 34, RunsOut: -1, Earliest: -1}
	var h heard
	h.add("enough", reader.Yarn(base, plan))
	e := base
	e.Answer, e.Needs, e.Low, e.High, e.Earliest = fit.Close, 36, 32.4, 39.6, later
	h.add("close, and it may do", reader.Yarn(e, plan))
	e.Needs, e.Low, e.High, e.RunsOut, e.Earliest = 40, 36, 44, later, crown
	h.add("close, and it may not", reader.Yarn(e, plan))
	e.Answer, e.Needs, e.Low, e.High, e.RunsOut, e.Yarn = fit.NotEnough, 55, 50, 60, crown, "MC"
	h.add("too little of one colour", reader.Yarn(e, plan))
	e.Guess = true
	h.add("a guess", reader.Yarn(e, plan))
	e = base
	e.Unit, e.Left, e.Needs = fit.Metres, 212.4, 143.7
	h.add("by length", reader.Yarn(e, plan))
	e.Left, e.Answer, e.RunsOut = 0, fit.NotEnough, crown
	h.add("none left", reader.Yarn(e, plan))
	e.Share, e.Needs = 1, 0
	h.add("all done", reader.Yarn(e, plan))
	for _, answer := range []fit.Answer{fit.Enough, fit.Close, fit.NotEnough} {
		h.add("before casting on", reader.PatternNeeds(fit.Need{Yarn: "wool", Grams: 60, Had: 50 + 25*float64(fit.NotEnough-answer), Answer: answer}))
	}
	golden(t, "testdata/fit_yarn.txt", h.String())
}

// TestYarnKeepsToItsCharacters holds what is said of any yarn to letters and
// the few marks, and amounts to be within rounding.
func TestYarnKeepsToItsCharacters(t *testing.T) {
	plan, err := sample(t, "float-hat").LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	amount := rapid.OneOf(rapid.Float64Range(0, 900), rapid.Float64Range(0, 2))
	rapid.Check(t, func(t *rapid.T) {
		e := fit.Estimate{
			Unit: fit.YarnUnit(rapid.IntRange(0, 3).Draw(t, "unit")), Left: amount.Draw(t, "left"), Share: rapid.Float64Range(0, 1).Draw(t, "share"), Needs: amount.Draw(t, "needs"),
			Low: amount.Draw(t, "low"), High: amount.Draw(t, "high"), Answer: fit.Answer(rapid.IntRange(0, 2).Draw(t, "answer")),
			RunsOut: rapid.IntRange(-1, len(plan.Rows)-1).Draw(t, "runs out"), Earliest: rapid.IntRange(-1, len(plan.Rows)-1).Draw(t, "earliest"), Guess: rapid.Bool().Draw(t, "guess"),
			Yarn: rapid.SampledFrom([]string{"", "MC", "Old Rose 3", "2/2"}).Draw(t, "yarn"),
		}
		checkAllowed(t, reader.Yarn(e, plan))
		n := amount.Draw(t, "amount")
		said := reader.Amount(n, fit.Grams)
		checkSaid(t, said)
		heard, ok := strings.CutPrefix(said, "less than half a gram")
		if ok && n > 0.25 || !ok && math.Abs(heardAmount(t, heard)-n) > 0.5 {
			t.Fatalf("%v g is said as %q", n, said)
		}
	})
}

// heardAmount reads grams back.
func heardAmount(t failing, said string) float64 {
	return heardLength(t, strings.NewReplacer("grams", "centimetres", "gram", "centimetre").Replace(said), "centimetre", "centimetres")
}
