package fit_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fabric"
	"clew/patterns/fit"
)

// toldAgain is rows worked again in short: "Slack water 5 to 6, 2 times: 4 rows, 1.25 cm to 20.94".
func toldAgain(a *fit.Again) string {
	if a == nil {
		return "none"
	}
	return fmt.Sprintf("%s %d to %d, %d times: %d rows, %.2f cm to %.2f", a.Section.Name, a.From, a.To, a.Times, a.Rows, a.Change, a.Length)
}

func TestLonger(t *testing.T) {
	for _, c := range []struct {
		name             string
		p                *patterns.Pattern
		worked           int
		by               float64
		best, less, more string
	}{
		// The edge beside the plain rounds repeats every two; two rounds are 0.625 cm, and twice that is 1.25.
		{"the hat", sample(t, "float-hat"), 0, 1, "Slack water 5 to 6, 2 times: 4 rows, 1.25 cm to 20.94", "Slack water 5 to 6, 1 times: 2 rows, 0.62 cm to 20.31", "Slack water 5 to 6, 3 times: 6 rows, 1.88 cm to 21.56"},
		{"less than half of that", sample(t, "float-hat"), 0, 0.3, "none", "none", "Slack water 5 to 6, 1 times: 2 rows, 0.62 cm to 20.31"},
		// Stockinette in rounds: a round of 0.3125 cm, five are 1.5625, and six 1.875.
		{"the mittens", sample(t, "mender-mittens"), 0, 1.6, "Hand 26 to 26, 5 times: 5 rows, 1.56 cm to 27.81", "Hand 26 to 26, 4 times: 4 rows, 1.25 cm to 27.50", "Hand 26 to 26, 6 times: 6 rows, 1.88 cm to 28.12"},
		// Garter stitch in rounds goes in twos, of 0.25 cm a round.
		{"the cowl", sample(t, "cobble-cowl"), 0, 1, "Upper edge 5 to 6, 2 times: 4 rows, 1.00 cm to 19.00", "Upper edge 5 to 6, 1 times: 2 rows, 0.50 cm to 18.50", "Upper edge 5 to 6, 3 times: 6 rows, 1.50 cm to 19.50"},
		// A texture of four flat rows, of 0.25 cm each, may only be worked whole.
		{"a texture", read(t, inRows+`Gauge: 20 sts and 40 rows = 10 cm
Section: Nets
Row 1 (RS): knit.
Row 2: purl.
Row 3: [k2, p2] to end.
Row 4: [k2, p2] to end.
Rows 5-12: repeat rows 1-4.
Section: Top
Row 1 (RS): BO all sts.`), 0, 1.8, "Nets 9 to 12, 2 times: 8 rows, 2.00 cm to 5.25", "Nets 9 to 12, 1 times: 4 rows, 1.00 cm to 4.25", "Nets 9 to 12, 3 times: 12 rows, 3.00 cm to 6.25"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := fit.Longer(c.p, patterns.Choice{}, c.worked, c.by, nil)
			if err != nil || l.Restored != nil {
				t.Fatal(l.Restored, err)
			}
			if toldAgain(l.Best) != c.best || toldAgain(l.Less) != c.less || toldAgain(l.More) != c.more {
				t.Errorf("%s; %s; %s", toldAgain(l.Best), toldAgain(l.Less), toldAgain(l.More))
			}
		})
	}
}

// What she left out comes first. Four of the six rounds of Slack water are left
// out: 1.25 cm. To become 2 cm longer all of them are worked, and of the 0.75 cm
// that are missing two more rounds give 0.625.
func TestLongerWorksWhatIsLeftOut(t *testing.T) {
	c := patterns.Choice{LeftOut: []patterns.LeftOut{{Owner: "Slack water", From: 1, Rows: 4}}}
	l, err := fit.Longer(sample(t, "float-hat"), c, 10, 2, nil)
	if err != nil || told(l.Restored) != "; -4 rows, 1.25 cm to 19.69" || toldAgain(l.Best) != "Slack water 5 to 6, 1 times: 2 rows, 0.62 cm to 20.31" {
		t.Errorf("%s, %s, %v", told(l.Restored), toldAgain(l.Best), err)
	}
	l, err = fit.Longer(sample(t, "float-hat"), c, 10, 0.6, nil)
	if err != nil || told(l.Restored) != "Slack water 1: 2; -2 rows, 0.62 cm to 19.06" || l.Best != nil {
		t.Errorf("%s, %s, %v", told(l.Restored), toldAgain(l.Best), err)
	}
}

// Past the last plain round, none is left to be worked again.
func TestLongerTooLate(t *testing.T) {
	_, err := fit.Longer(sample(t, "gull-kerchief"), patterns.Choice{}, 10, 2, nil)
	isError(t, err, fit.CodeNothingStraight, "no rows that are still to come can be worked again without changing the stitches")
	hat := sample(t, "float-hat")
	l, err := fit.Longer(hat, patterns.Choice{}, 45, 1, nil) // in the last of Slack water
	if err != nil || l.Best == nil || l.Best.Section.Name != "Slack water" {
		t.Errorf("%s, %v", toldAgain(l.Best), err)
	}
	l, err = fit.Longer(hat, patterns.Choice{}, 46, 1, nil) // in the crown: its plain rounds stand between decreases
	if err != nil || l.Best == nil || l.Best.Section.Name != "Crown" {
		t.Errorf("%s, %v", toldAgain(l.Best), err)
	}
}

func TestToLength(t *testing.T) {
	hat := sample(t, "float-hat") // 19.6875 cm
	f, err := fit.ToLength(hat, patterns.Choice{}, 0, 19.6, nil)
	if err != nil || f.Shorter != nil || f.Longer != nil || math.Abs(f.Piece.Length-19.6875) > 1e-9 || f.Piece.Rows != 63 {
		t.Errorf("%+v, %v", f, err)
	}
	if f, err = fit.ToLength(hat, patterns.Choice{}, 0, 18.5, nil); err != nil || f.Shorter == nil || f.Shorter.Best.Rows != 4 || f.Longer != nil {
		t.Errorf("%+v, %v", f, err)
	}
	if f, err = fit.ToLength(hat, patterns.Choice{}, 0, 21, nil); err != nil || f.Longer == nil || f.Longer.Best.Rows != 4 || f.Shorter != nil {
		t.Errorf("%+v, %v", f, err)
	}
}

// A piece may be made twice as long as it is, and shorter as long as something
// is left of it: what is beyond is told as out of reach, and nothing is offered.
func TestOutOfReach(t *testing.T) {
	hat := sample(t, "float-hat") // 19.6875 cm
	for _, c := range []struct {
		by  float64
		far bool
	}{{19.6875, false}, {19.7, true}, {900, true}} {
		l, err := fit.Longer(hat, patterns.Choice{}, 0, c.by, nil)
		if err != nil || l.Far != c.far || (l.Best == nil) != c.far || (l.More == nil) != c.far {
			t.Errorf("%g cm longer: %+v, %v", c.by, l, err)
		}
	}
	for _, c := range []struct {
		by  float64
		far bool
	}{{19.6, false}, {19.6875, true}, {900, true}} {
		s, err := fit.Shorter(hat, patterns.Choice{}, 0, c.by, nil)
		if err != nil || s.Far != c.far || (s.Best == nil) != c.far || (s.Most == nil) != c.far {
			t.Errorf("%g cm shorter: %+v, %v", c.by, s, err)
		}
	}
	f, err := fit.ToLength(hat, patterns.Choice{}, 0, 900, nil)
	if err != nil || f.Longer == nil || !f.Longer.Far {
		t.Errorf("%+v, %v", f, err)
	}
	endless := read(t, "Pattern: Net\nWorked: in rounds\nCast on: 10\nGauge: 20 sts and 20 rounds = 10 cm\nSection: Net\nRounds 1-4990: knit.\nRounds 4991-5000 (optional in ones): knit.")
	if f, err = fit.ToLength(endless, patterns.Choice{}, 0, 50, nil); err != nil || f.Shorter == nil || f.Shorter.Most.Rows != 10 || f.Shorter.Reach { // 25 m, of which 5 cm may go
		t.Errorf("%+v, %v", f, err)
	}
}

// Stitches are picked up along the side of a strip or of a heel flap, one for so
// many rows (common practice), so more rows would leave some of the side bare. Rounds have
// no side, and rows after the last that picks up may be worked again.
func TestNotBesideWhatIsPickedUp(t *testing.T) {
	const none = "no rows that are still to come can be worked again without changing the stitches"
	_, err := fit.Longer(sample(t, "gull-kerchief"), patterns.Choice{}, 0, 3, nil) // the neck tab; all that follows is shaped
	isError(t, err, fit.CodeNothingStraight, none)
	text := inRows + `Gauge: 20 sts and 20 rows = 10 cm
Section: Strip
Rows 1-8: knit.
Row 9: k to end, pick up and knit 4 sts.
Section: Edge
Row 1 (WS): knit.
`
	_, err = fit.Longer(read(t, text), patterns.Choice{}, 0, 1, nil)
	isError(t, err, fit.CodeNothingStraight, none)
	l, err := fit.Longer(read(t, text+"Rows 2-7: knit.\n"), patterns.Choice{}, 0, 1, nil)
	if err != nil || toldAgain(l.Best) != "Edge 6 to 7, 1 times: 2 rows, 1.00 cm to 9.00" {
		t.Errorf("%s, %v", toldAgain(l.Best), err)
	}
}

// The mitten's thumb and its loop are pieces of their own. Cuff 21, gusset 24,
// hand 26 and top 13 rounds are 84, at 32 to 10 cm 26.25 cm; the thumb's 16 are 5.
func TestPieces(t *testing.T) {
	p := sample(t, "mender-mittens")
	for _, c := range []struct {
		worked      int
		first, last string
		length      float64
	}{{0, "Cuff", "Top", 26.25}, {84, "Cuff", "Top", 26.25}, {85, "Thumb", "Thumb", 5}, {101, "Drying loop", "Drying loop", 25.0 / 32 * 10}} {
		f, err := fit.ToLength(p, patterns.Choice{}, c.worked, c.length, nil)
		if err != nil || f.Piece.First.Name != c.first || f.Piece.Last.Name != c.last || math.Abs(f.Piece.Length-c.length) > 1e-9 {
			t.Errorf("%d: %+v, %v", c.worked, f.Piece, err)
		}
	}
	_, err := fit.Shorter(p, patterns.Choice{}, 90, 1, nil)
	isError(t, err, fit.CodeNothingOptional, "no rounds of Thumb may be left out")
}

// Whatever rows are offered can be worked as often as is said: each time they
// leave the needle as it was, and all that follows works on it.
func TestWorkedAgainFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, full, text := aReadPattern(t)
		worked := rapid.IntRange(0, len(full.Rows)).Draw(t, "worked")
		l, err := fit.Longer(p, patterns.Choice{}, worked, rapid.Float64Range(0.1, 10).Draw(t, "by"), nil)
		if err != nil || l.Best == nil {
			return
		}
		a := l.Best
		from, _ := full.Find(a.Section.Name, a.From)
		to, _ := full.Find(a.Section.Name, a.To)
		if to < worked-1 {
			t.Fatalf("%s is past\n%s", toldAgain(a), text)
		}
		var rows []*patterns.Row
		rows = append(rows, full.Rows[:to+1]...)
		for range a.Times {
			rows = append(rows, full.Rows[from:to+1]...)
		}
		rows = append(rows, full.Rows[to+1:]...)
		if len(rows) != len(full.Rows)+a.Rows {
			t.Fatalf("%d rows more, want %d", len(rows)-len(full.Rows), a.Rows)
		}
		needle := rows[0].Before
		for _, r := range rows {
			if written(needle, false) != written(r.Before, false) {
				t.Fatalf("%s: row %d of %s finds %s, and expects %s\n%s", toldAgain(a), r.Number, r.Section.Name, written(needle, false), written(r.Before, false), text)
			}
			did := needle.Work(r.Written, fabric.Row{Rounds: r.Rounds})
			if did.Problem != nil {
				t.Fatalf("%s: %s\n%s", toldAgain(a), did.Problem.Message, text)
			}
			needle = did.After
		}
		for _, panel := range p.Panels {
			inTurn(t, rows, panel.Name, panelTexts(full, panel.Name))
		}
	})
}

// inTurn checks that a panel's rows follow each other as in the panel, or that
// one says the same again.
func inTurn(t *rapid.T, rows []*patterns.Row, panel string, says []string) {
	last, section := 0, ""
	for _, r := range rows {
		row := rowOf(r, panel)
		if row == 0 {
			continue
		}
		if r.Section.Name == section && says[row-1] != says[last%len(says)] && says[row-1] != says[last-1] {
			t.Fatalf("row %d of %s follows row %d", row, panel, last)
		}
		last, section = row, r.Section.Name
	}
}
