package fit_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
)

func plan(t testing.TB, p *patterns.Pattern) *patterns.Plan {
	t.Helper()
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// tube is 9 rounds of 10 stitches. With the cast-on they are 100 stitches.
const tube = "Pattern: Tube\nWorked: in rounds\nCast on: 10\nYarn: wool, 40 g\nSection: Tube\nRounds 1-9: knit.\n"

func nearly(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// After four rounds 10 + 40 = 50 of 100 stitches are done, and 50 are to go. They
// took 40 grams, so that a stitch takes 0.8, and the rest needs 40. The two
// weighings may be off by a gram together, and the stitches by a tenth: at least
// 39/50 x 0.9 x 50 = 35.1 grams, at most 41/50 x 1.1 x 50 = 45.1.
func TestYarnByHand(t *testing.T) {
	tubePlan := plan(t, read(t, tube))
	for _, c := range []struct {
		left              float64
		answer            fit.Answer
		runsOut, earliest int
	}{
		{60, fit.Enough, -1, -1},
		{45.1, fit.Enough, -1, -1},
		{45, fit.Close, -1, 8}, // at 0.902 grams each the fifth round needs what is past 36.08
		{40, fit.Close, -1, 8}, // 40 is just what it needs
		{39, fit.Close, 8, 8},  // 39 / 0.8 = 48.75: in the fifth round
		{35, fit.NotEnough, 8, 7},
		{20, fit.NotEnough, 6, 6}, // 20 / 0.8 = 25 stitches: in the third; 20 / 0.902 = 22.2
		{0, fit.NotEnough, 4, 4},
	} {
		e, err := fit.EstimateYarn(tubePlan, 4, fit.Weighed{Had: c.left + 40, Left: c.left})
		if err != nil {
			t.Fatal(err)
		}
		if !nearly(e.Needs, 40) || !nearly(e.Low, 35.1) || !nearly(e.High, 45.1) || !nearly(e.Share, 0.5) || !nearly(e.Used, 40) || e.Guess {
			t.Errorf("%g left: %+v", c.left, e)
		}
		if e.Answer != c.answer || e.RunsOut != c.runsOut || e.Earliest != c.earliest {
			t.Errorf("%g left: answer %d, runs out in %d, at the earliest in %d; want %d, %d, %d", c.left, e.Answer, e.RunsOut, e.Earliest, c.answer, c.runsOut, c.earliest)
		}
	}
}

// The same in other units. 100 metres, 50 left: two in a hundred of what there
// was are two metres, so that the rest needs 48 x 0.9 = 43.2 to 52 x 1.1 = 57.2.
// 4 ounces, 2 left: a tenth of an ounce: 1.9 x 0.9 = 1.71 to 2.1 x 1.1 = 2.31.
func TestYarnInOtherUnits(t *testing.T) {
	tubePlan := plan(t, read(t, tube))
	for _, c := range []struct {
		w                fit.Weighed
		needs, low, high float64
	}{
		{fit.Weighed{Had: 100, Left: 50, Unit: fit.Metres}, 50, 43.2, 57.2},
		{fit.Weighed{Had: 100, Left: 50, Unit: fit.Yards}, 50, 43.2, 57.2},
		{fit.Weighed{Had: 4, Left: 2, Unit: fit.Ounces}, 2, 1.71, 2.31},
	} {
		e, err := fit.EstimateYarn(tubePlan, 4, c.w)
		if err != nil || !nearly(e.Needs, c.needs) || !nearly(e.Low, c.low) || !nearly(e.High, c.high) || e.Unit != c.w.Unit || e.Answer != fit.Close {
			t.Errorf("%+v: %+v, %v", c.w, e, err)
		}
	}
}

// The crown of a hat takes less, a row for a row: of the sample hat's 63 rounds,
// 45 are done before it, and 18 to go. 108 stitches are cast on and worked in 15
// rounds and the 30 of floats and plain rounds. Two rounds of each float are
// worked on 2 stitches more, 12 in all, after the glint: 24. So 108 x 46 + 24 =
// 4992 are done. The crown works 108, 3 x 96, 96, 3 x 84, 84, 72, 72, 60, 60,
// 48, 48, 36, 36 and 18: 1278. Each round is counted as it is on the needle
// before it.
func TestYarnOfTheHat(t *testing.T) {
	p := sample(t, "float-hat")
	hat := plan(t, p)
	e, err := fit.EstimateYarn(hat, 45, fit.Weighed{Had: 55, Left: 15})
	if err != nil {
		t.Fatal(err)
	}
	if want := 40.0 / 4992 * 1278; !nearly(e.Needs, want) || e.Answer != fit.Enough || !nearly(e.Share, 4992.0/(4992+1278)) {
		t.Errorf("%+v, want %g", e, want)
	}
}

func TestYarnErrors(t *testing.T) {
	tubePlan := plan(t, read(t, tube))
	for _, c := range []struct {
		row  int
		w    fit.Weighed
		code string
		said string
	}{
		{4, fit.Weighed{Had: 30, Left: 38}, fit.CodeYarnMore, "38 grams can't be left of 30 grams: check which number is which"},
		{4, fit.Weighed{Had: 30, Left: 30}, fit.CodeYarnNothing, "all of the yarn is left, so what a stitch takes can't be told"},
		{4, fit.Weighed{Had: 30, Left: 29.5}, fit.CodeYarnNothing, "what has been used, 0.5 grams, is too little to be told from the measurement: ask again some rows on"},
		{0, fit.Weighed{Had: 30, Left: 20}, fit.CodeYarnNothing, "nothing has been worked yet, so what a stitch takes can't be told"},
		{4, fit.Weighed{Had: 0, Left: 0}, fit.CodeZero, "there has to have been some yarn: say how many grams there were before casting on"},
		{4, fit.Weighed{Had: -5, Left: 0}, fit.CodeNegative, "an amount of yarn can't be below 0 grams"},
		{4, fit.Weighed{Had: 5, Left: -1, Unit: fit.Yards}, fit.CodeNegative, "an amount of yarn can't be below 0 yards"},
		{4, fit.Weighed{Had: 1e6, Left: 2, Unit: fit.Metres}, fit.CodeLarge, "1000000 metres is more than a piece of knitting takes: check the number and the unit"},
		{4, fit.Weighed{Had: math.NaN(), Left: 2}, fit.CodeUnreadable, "an amount of yarn has to be a number of grams"},
		{4, fit.Weighed{Had: 3, Left: 2, Unit: 9}, fit.CodeUnitUnknown, "yarn is measured in grams, ounces, metres or yards"},
	} {
		_, err := fit.EstimateYarn(tubePlan, c.row, c.w)
		isError(t, err, c.code, c.said)
	}
}

func TestYarnGuess(t *testing.T) {
	long := plan(t, read(t, "Pattern: Tube\nWorked: in rounds\nCast on: 10\nSection: Tube\nRounds 1-99: knit.\n"))
	for _, c := range []struct {
		row   int
		used  float64
		guess bool
	}{{3, 40, true}, {4, 40, false}, {50, 4, true}, {50, 5, false}} { // the cast-on and four rounds are 50 of 1,000
		if e, err := fit.EstimateYarn(long, c.row, fit.Weighed{Had: 100, Left: 100 - c.used}); err != nil || e.Guess != c.guess {
			t.Errorf("row %d, %g used: %+v, %v", c.row, c.used, e, err)
		}
	}
}

// When all is done nothing is needed.
func TestYarnAtTheEnd(t *testing.T) {
	tubePlan := plan(t, read(t, tube))
	for _, row := range []int{9, 10, 1000} {
		e, err := fit.EstimateYarn(tubePlan, row, fit.Weighed{Had: 50, Left: 0})
		if err != nil || e.Needs != 0 || e.Answer != fit.Enough || e.RunsOut != -1 || e.Share != 1 {
			t.Errorf("%+v, %v", e, err)
		}
	}
}

// Eight stitches. In Sand: the cast-on, round 1 (8), and in rounds 3 and 4 the
// four that are not slipped: 8 + 8 + 4 + 4 = 24. In Sky: round 2 and round 5,
// 16; round 6 binds off 8 in Sky as well: 24.
const stripes = `Pattern: Stripes
Worked: in rounds
Cast on: 8
Yarn: Sand (the stones), wool of DK weight, 45 g
Yarn: Sky, the same wool, 30 g
Section: Stripes
Round 1: with Sand, knit.
Round 2: with Sky, knit.
Rounds 3-4: with Sand, *k1, sl 1; rep from * to end.
Round 5: with Sky, knit.
Round 6: BO all sts.
`

func TestSeveralYarns(t *testing.T) {
	p := read(t, stripes)
	striped := plan(t, p)
	e, err := fit.EstimateYarn(striped, 2, fit.Weighed{Had: 50, Left: 34, Yarn: "sand"}) // 16 grams for 16 stitches
	if err != nil || e.Yarn != "Sand" || !nearly(e.Needs, 8) || !nearly(e.Share, 16.0/24) {
		t.Errorf("%+v, %v", e, err)
	}
	e, err = fit.EstimateYarn(striped, 2, fit.Weighed{Had: 50, Left: 34, Yarn: "Sky"}) // 16 grams for 8 stitches, and 16 to go; 32 of 34
	if err != nil || !nearly(e.Needs, 32) || e.Answer != fit.Close || e.RunsOut != -1 || e.Earliest != 5 {
		t.Errorf("%+v, %v", e, err)
	}
	_, err = fit.EstimateYarn(striped, 2, fit.Weighed{Had: 50, Left: 34})
	isError(t, err, fit.CodeYarnName, "the pattern is worked in several yarns: say which one, Sand or Sky")
	_, err = fit.EstimateYarn(striped, 2, fit.Weighed{Had: 50, Left: 34, Yarn: "red"})
	isError(t, err, fit.CodeYarnName, `no yarn of the pattern is called "red"; there is Sand and Sky`)
	_, err = fit.EstimateYarn(striped, 1, fit.Weighed{Had: 50, Left: 34, Yarn: "Sky"})
	isError(t, err, fit.CodeYarnNothing, "nothing has been worked in Sky yet, so what a stitch takes can't be told")
}

// A yarn that is worked before another is taken up has the name that its Yarn
// line gives it.
func TestYarnWithoutAName(t *testing.T) {
	p := read(t, "Pattern: Tube\nWorked: in rounds\nCast on: 10\nYarn: Sand, 40 g\nYarn: Sky, 20 g\nSection: Tube\nRounds 1-4: knit.\nRounds 5-9: with sky, knit.\n")
	e, err := fit.EstimateYarn(plan(t, p), 3, fit.Weighed{Had: 50, Left: 10, Yarn: "Sand"}) // 40 of 50 stitches took 40 grams
	if err != nil || !nearly(e.Needs, 10) {
		t.Errorf("%+v, %v", e, err)
	}
}

// A thumb's or a loop's cast-on is counted with its first row.
func TestYarnOfANewPiece(t *testing.T) {
	p := read(t, tube+"Round 10: BO all sts.\nSection: Loop\nCast on: 5\nRounds 1-2: knit.\n")
	e, err := fit.EstimateYarn(plan(t, p), 10, fit.Weighed{Had: 50, Left: 28}) // 110 stitches took 22 grams; 5 + 10 are to go
	if err != nil || !nearly(e.Needs, 3) {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestPatternNeeds(t *testing.T) {
	hat, cowl := sample(t, "float-hat"), sample(t, "cobble-cowl")
	for _, c := range []struct {
		p           *patterns.Pattern
		size        int
		name        string
		had         float64
		unit        fit.YarnUnit
		grams, gave float64
		answer      fit.Answer
	}{
		{hat, 0, "", 55, fit.Grams, 55, 55, fit.Enough},
		{hat, 2, "", 65, fit.Grams, 70, 65, fit.Close},
		{hat, 2, "wool", 62, fit.Grams, 70, 62, fit.NotEnough},        // a tenth below 70 is 63
		{hat, 0, "", 2, fit.Ounces, 55, 2 * 28.349523125, fit.Enough}, // 56.7 grams
		{cowl, 1, "CC", 60, fit.Grams, 55, 60, fit.Enough},
		{cowl, 1, "stones", 60, fit.Grams, 80, 60, fit.NotEnough},
	} {
		n, err := fit.PatternNeeds(c.p, c.size, c.name, c.had, c.unit)
		if err != nil || n.Grams != c.grams || !nearly(n.Had, c.gave) || n.Answer != c.answer {
			t.Errorf("%g %s of %q: %+v, %v", c.had, c.unit, c.name, n, err)
		}
	}
	_, err := fit.PatternNeeds(cowl, 0, "", 60, fit.Grams)
	isError(t, err, fit.CodeYarnName, "the pattern is worked in several yarns: say which one, MC or CC")
	_, err = fit.PatternNeeds(cowl, 0, "red", 60, fit.Grams)
	isError(t, err, fit.CodeYarnName, `no yarn of the pattern is called "red"; there is MC and CC`)
	_, err = fit.PatternNeeds(cowl, 0, "MC", 60, fit.Metres)
	isError(t, err, fit.CodeUnitUnknown, "the pattern gives the yarn by weight: say how many grams or ounces there are")
	_, err = fit.PatternNeeds(hat, 0, "", 0, fit.Grams)
	isError(t, err, fit.CodeZero, "there has to have been some yarn: say how many grams there were before casting on")
	_, err = fit.PatternNeeds(read(t, inRounds+"Section: A\nRound 1: k12."), 0, "", 60, fit.Grams)
	isError(t, err, fit.CodeYarnUnknown, "the pattern does not say how much yarn it needs")
	if _, err = fit.PatternNeeds(hat, 5, "", 60, fit.Grams); err == nil {
		t.Error("a size that there is not")
	}
}

// The spread holds the middle, what is worked and what is to go are all, and
// more yarn is never worse.
func TestYarnHolds(t *testing.T) {
	hat := plan(t, sample(t, "float-hat"))
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.IntRange(1, len(hat.Rows)).Draw(t, "row")
		used := rapid.Float64Range(2, 60).Draw(t, "used")
		less := rapid.Float64Range(0, 60).Draw(t, "left")
		more := less + rapid.Float64Range(0, 60).Draw(t, "more")
		a, err := fit.EstimateYarn(hat, row, fit.Weighed{Had: less + used, Left: less})
		b, err2 := fit.EstimateYarn(hat, row, fit.Weighed{Had: more + used, Left: more})
		if err := errors.Join(err, err2); err != nil {
			t.Fatal(err)
		}
		after := func(row int) int { // never is later than any row
			if row < 0 {
				return len(hat.Rows)
			}
			return row
		}
		switch {
		case a.Low > a.Needs || a.Needs > a.High || a.Share <= 0 || a.Share > 1:
			t.Fatalf("%+v", a)
		case b.Answer > a.Answer || after(b.RunsOut) < after(a.RunsOut) || after(a.Earliest) > after(a.RunsOut):
			t.Fatalf("%+v, and with more %+v", a, b)
		case (a.Answer == fit.Enough) != (a.Earliest < 0):
			t.Fatalf("%+v", a)
		}
	})
}
