package fit_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"clew/patterns"
	"clew/patterns/fit"
)

// told is an offer in short: "Slack water 1: 4; 4 rows, -1.25 cm to 18.44".
func told(o *fit.Offer) string {
	if o == nil {
		return "none"
	}
	return fmt.Sprintf("%s; %d rows, %.2f cm to %.2f", patterns.FormatLeftOut(o.LeftOut), o.Rows, o.Change, o.Length)
}

// The hat has 32 rounds to 10 cm, so that a round is 0.3125 cm: two are 0.625,
// four 1.25, six 1.875, eight 2.5, ten 3.125. It has 14 + 1 + 24 + 6 rounds and
// 18 of the crown in the small size: 63, which are 19.69 cm. The stretch of
// plain rounds, Slack water, is to be taken before the float's own.
func TestShorterHat(t *testing.T) {
	p := sample(t, "float-hat")
	const most = "Float 9: 2; Float 15: 2; Slack water 1: 6; 10 rows, -3.12 cm to 16.56"
	for _, c := range []struct {
		by                     float64
		best, less, more, most string
		reach                  bool
	}{
		{0.2, "none", "none", "Slack water 1: 2; 2 rows, -0.62 cm to 19.06", most, true}, // 0.425 off, and 0.2 with nothing
		{1, "Slack water 1: 4; 4 rows, -1.25 cm to 18.44", "Slack water 1: 2; 2 rows, -0.62 cm to 19.06", "Slack water 1: 6; 6 rows, -1.88 cm to 17.81", most, true},
		{2, "Slack water 1: 6; 6 rows, -1.88 cm to 17.81", "Slack water 1: 4; 4 rows, -1.25 cm to 18.44", "Float 15: 2; Slack water 1: 6; 8 rows, -2.50 cm to 17.19", most, true},
		{3.4, most, "Float 15: 2; Slack water 1: 6; 8 rows, -2.50 cm to 17.19", "none", most, true}, // 0.275 off, less than half of 0.625
		{4, most, "Float 15: 2; Slack water 1: 6; 8 rows, -2.50 cm to 17.19", "none", most, false},
	} {
		s, err := fit.Shorter(p, patterns.Choice{}, 0, c.by, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range []struct {
			what, want string
			got        *fit.Offer
		}{{"best", c.best, s.Best}, {"less", c.less, s.Less}, {"more", c.more, s.More}, {"most", c.most, s.Most}} {
			if told(o.got) != o.want {
				t.Errorf("%g cm, %s: %s, want %s", c.by, o.what, told(o.got), o.want)
			}
		}
		if s.Reach != c.reach {
			t.Errorf("%g cm: reach %v", c.by, s.Reach)
		}
	}
}

// What she has worked stays: in round 12 of the floats, the panel's rounds 9 and
// 10 are past, and 15 and 16 are not. Row index: 14 of the brim, 1 of the
// set-up, 12: the 27th.
func TestShorterFromAPlace(t *testing.T) {
	p := sample(t, "float-hat")
	s, err := fit.Shorter(p, patterns.Choice{}, 27, 5, nil)
	if want := "Float 15: 2; Slack water 1: 6; 8 rows, -2.50 cm to 17.19"; err != nil || told(s.Most) != want {
		t.Errorf("%s, %v, want %s", told(s.Most), err, want)
	}
	// In round 3 of Slack water, the 42nd, the last two can go, or three: but they go in twos.
	s, err = fit.Shorter(p, patterns.Choice{}, 42, 5, nil)
	if want := "Slack water 1: 2; 2 rows, -0.62 cm to 19.06"; err != nil || told(s.Most) != want {
		t.Errorf("%s, %v, want %s", told(s.Most), err, want)
	}
	// With four left out before, two more can go, as long as round 1 is not reached.
	c := patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Slack water", From: 1, Rows: 4}}}
	s, err = fit.Shorter(p, c, 39, 5, nil)
	if want := "Slack water 1: 6; 2 rows, -0.62 cm to 17.81"; err != nil || told(s.Most) != want {
		t.Errorf("%s, %v, want %s", told(s.Most), err, want)
	}
	_, err = fit.Shorter(p, c, 40, 5, nil)
	isError(t, err, fit.CodeReached, "the rounds that may be left out are worked already, or being worked")
}

// Her own gauge counts, in the rows of the section: at 40 rounds to 10 cm a round
// is 0.25 cm. The sock's leg is left out in fours, its foot in twos.
func TestShorterAtHerGauge(t *testing.T) {
	s, err := fit.Shorter(sample(t, "boathouse-socks"), patterns.Choice{}, 0, 1.5, &fit.Gauge{Stitches: 20, Rows: 40})
	if err != nil || math.Abs(s.Best.Change+1.5) > 1e-9 || s.Best.Rows != 6 {
		t.Errorf("%s, %v, want the six rounds of the foot, 1.5 cm", told(s.Best), err)
	}
}

func isError(t *testing.T, err error, code, said string) {
	t.Helper()
	var e *fit.Error
	if !errors.As(err, &e) || e.Code != code || e.Said != said {
		t.Errorf("%v, want %s: %s", err, code, said)
	}
}

func TestLeaveOut(t *testing.T) {
	hat := sample(t, "float-hat")
	for _, c := range []struct {
		owner      string
		rows       int
		want, code string
	}{
		{"", 4, "Slack water 1: 4; 4 rows, -1.25 cm to 18.44", ""},
		{"", 8, "Float 15: 2; Slack water 1: 6; 8 rows, -2.50 cm to 17.19", ""},
		{"", fit.EveryRow, "Float 9: 2; Float 15: 2; Slack water 1: 6; 10 rows, -3.12 cm to 16.56", ""},
		{"float", 4, "Float 9: 2; Float 15: 2; 4 rows, -1.25 cm to 18.44", ""},
		{"Floats", fit.EveryRow, "Float 9: 2; Float 15: 2; 4 rows, -1.25 cm to 18.44", ""}, // the section has none of its own, and works the panel
		{"", 3, "3 rounds can't be left out; 2 or 4 can", fit.CodeRows},
		{"", 12, "12 rounds can't be left out; 10 at most can", fit.CodeRows},
		{"Slack water", 1, "1 round of Slack water can't be left out; 2 at least can", fit.CodeRows},
		{"Crown", 2, "no rounds of Crown may be left out", fit.CodeNothingOptional},
		{"Rope", 2, "no rounds of Rope may be left out", fit.CodeNothingOptional},
		{"", 0, "a number of rows to leave out has to be 1 or more", fit.CodeZero},
	} {
		o, err := fit.LeaveOut(hat, patterns.Choice{}, 0, c.owner, c.rows, nil)
		if c.code != "" {
			isError(t, err, c.code, c.want)
		} else if err != nil || told(&o) != c.want {
			t.Errorf("%d of %s: %s, %v, want %s", c.rows, c.owner, told(&o), err, c.want)
		}
	}
	if _, err := fit.LeaveOut(hat, patterns.Choice{}, 0, "Crwn", 2, nil); err == nil || err.Error() != `there is no section "Crwn"; did you mean Crown? the sections are Brim, Set-up, Floats, Slack water, Crown` {
		t.Error(err)
	}
}

// A barrier is the answer where nothing else can be left out.
func TestLeaveOutTellsWhatBreaks(t *testing.T) {
	p := read(t, inRounds+"Section: Brim\nRound 1: knit.\nRound 2 (optional in ones): purl.\nRound 3: work sts as they present.")
	_, err := fit.LeaveOut(p, patterns.Choice{}, 0, "", 1, nil)
	isError(t, err, fit.CodeBreaks, "leaving out 1 round of Brim: knits would stand where round 3 of Brim expects purls")
}

func TestWorkAll(t *testing.T) {
	hat := sample(t, "float-hat")
	c := patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Float", From: 9, Rows: 2}, {Owner: "Slack water", From: 1, Rows: 4}}}
	o, err := fit.WorkAll(hat, c, 5, nil)
	if want := "; -6 rows, 1.88 cm to 19.69"; err != nil || told(&o) != want {
		t.Errorf("%s, %v, want %s", told(&o), err, want)
	}
	// In round 12 of the floats, her 25th, the float's rounds 9 and 10 are past.
	o, err = fit.WorkAll(hat, c, 25, nil)
	if want := "Float 9: 2; -4 rows, 1.25 cm to 19.06"; err != nil || told(&o) != want {
		t.Errorf("%s, %v, want %s", told(&o), err, want)
	}
	_, err = fit.WorkAll(hat, c, 50, nil)
	isError(t, err, fit.CodeReached, "the rounds that are left out stand before the one that you are on")
	_, err = fit.WorkAll(hat, patterns.Choice{}, 5, nil)
	isError(t, err, fit.CodeNothingLeft, "nothing is left out")
}

// Two groups that share rows: those of the panel, and the section's, which works
// it. What both leave out is counted once.
func TestSharedRows(t *testing.T) {
	p := read(t, inRounds+`Gauge: 20 sts and 40 rounds = 10 cm
Panel: Plain, 4 sts
Rounds 1-4 (optional in ones): k4.
Section: Top
Across: [Plain] 3 times
Rounds 1-2: work the panels.
Rounds 3-6 (optional in ones): work the panels.
Section: End
Round 1: BO all sts.`)
	s, err := fit.Shorter(p, patterns.Choice{}, 0, 1.3, nil) // five rounds of 0.25 cm are 1.25, six 1.5
	if err != nil || math.Abs(s.Best.Change+1.25) > 1e-9 || s.Best.Rows != 5 || len(s.Best.Plan.Rows) != 2 {
		t.Errorf("%s, %v", told(s.Best), err)
	}
}

func TestNoGauge(t *testing.T) {
	p := read(t, inRounds+"Section: Top\nRounds 1-4 (optional in ones): knit.\nRound 5: BO all sts.")
	if _, err := fit.Shorter(p, patterns.Choice{}, 0, 1, nil); !errors.Is(err, fit.ErrNoGauge) {
		t.Error(err)
	}
	if _, err := fit.Longer(p, patterns.Choice{}, 0, 1, &fit.Gauge{Stitches: 20}); !errors.Is(err, fit.ErrNoGauge) {
		t.Error(err)
	}
	if o, err := fit.LeaveOut(p, patterns.Choice{}, 0, "", 3, nil); err != nil || o.Rows != 3 || o.Change != 0 || o.Length != 0 {
		t.Errorf("%+v, %v", o, err)
	}
}

func TestLengthsThatCantBe(t *testing.T) {
	hat := sample(t, "float-hat")
	for _, c := range []struct {
		cm   float64
		code string
	}{{0, fit.CodeZero}, {-2, fit.CodeZero}, {0.01, fit.CodeSmall}, {5000, fit.CodeLarge}, {math.NaN(), fit.CodeUnreadable}, {math.Inf(1), fit.CodeUnreadable}} {
		for name, ask := range map[string]func() error{
			"shorter": func() error { _, err := fit.Shorter(hat, patterns.Choice{}, 0, c.cm, nil); return err },
			"longer":  func() error { _, err := fit.Longer(hat, patterns.Choice{}, 0, c.cm, nil); return err },
			"to":      func() error { _, err := fit.ToLength(hat, patterns.Choice{}, 0, c.cm, nil); return err },
		} {
			var e *fit.Error
			if err := ask(); !errors.As(err, &e) || e.Code != c.code {
				t.Errorf("%s, %g cm: %v, want %s", name, c.cm, err, c.code)
			}
		}
	}
}

// A stripe that is missed is told of: two of Sand then meet.
func TestStripesThatAreMissed(t *testing.T) {
	text := inRounds + `Gauge: 20 sts and 20 rounds = 10 cm
Section: Cowl
Rounds 1-4: with Sand, knit.
Rounds 5-6 (optional in twos): with Sky, knit.
Rounds 7-10: with Sand, knit.
Rounds 11-14 (optional in twos): knit.
Round 15: BO all sts.
`
	for rows, want := range map[int]string{2: "[]", 4: "[]", 6: "[Sky]"} {
		o, err := fit.LeaveOut(read(t, text), patterns.Choice{}, 0, "", rows, nil)
		if err != nil || fmt.Sprint(o.Stripes) != want {
			t.Errorf("%d rows: %v, %v", rows, o.Stripes, err)
		}
	}
	offers, barriers, err := fit.Offers(read(t, text), 0)
	if err != nil || len(barriers) > 0 || len(offers) != 3 || fmt.Sprint(offers[0].Stripes, offers[1].Stripes) != "[Sky] []" {
		t.Errorf("%+v, %v, %v", offers, barriers, err)
	}
}
