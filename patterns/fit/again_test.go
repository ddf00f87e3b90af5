package fit_test

import (
	"fmt"
	"math"
	"strings"
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
		{"less than half of that: one round of the ribs, of 0.3125 cm", sample(t, "float-hat"), 0, 0.3, "Brim 14 to 14, 1 times: 1 rows, 0.31 cm to 20.00", "none", "Brim 14 to 14, 2 times: 2 rows, 0.62 cm to 20.31"},
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

// The most rows that a pattern may have, all alike.
func BenchmarkLongerOfTheMostRows(b *testing.B) {
	p := read(b, "Pattern: Long\nWorked: in rounds\nCast on: 12\nGauge: 20 sts and 30 rounds = 10 cm\nSection: Scarf\nRounds 1-5000: knit.\n")
	for b.Loop() {
		if _, err := fit.Longer(p, patterns.Choice{}, 10, 700, nil); err != nil {
			b.Fatal(err)
		}
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
	isError(t, err, fit.CodeNothingStraight, "no rows that are still to come can be worked again without changing the stitches or the look")
	hat := sample(t, "float-hat")
	l, err := fit.Longer(hat, patterns.Choice{}, 45, 1, nil) // in the last of Slack water
	if err != nil || l.Best == nil || l.Best.Section.Name != "Slack water" {
		t.Errorf("%s, %v", toldAgain(l.Best), err)
	}
	_, err = fit.Longer(hat, patterns.Choice{}, 46, 1, nil) // in the crown: its plain rounds stand between decreases
	isError(t, err, fit.CodeNothingStraight, "no rounds that are still to come can be worked again without changing the stitches or the look")
}

// ropeHat has ropes of eight rounds beside ladders of four, of 1/3 cm a round, and
// ends with a crown. Its rope has five rounds alike, and its ladder three.
const ropeHat = `Pattern: Capstan hat
Worked: in rounds
Cast on: 24
Gauge: 22 sts and 30 rounds = 10 cm
Panel: Capstan rope, 8 sts
Rows 1-2: p1, k6, p1.
Row 3: p1, 3/3 LC, p1.
Row 4: p1, k6, p1.
Rows 5-8%s: p1, k6, p1.
Panel: Ladder, 4 sts
Rows 1-3: k4.
Row 4: p4.
Section: Brim
Rounds 1-10: [k2, p2] to end.
Section: Body
Across: [Capstan rope, Ladder] twice.
Rounds 1-32: work the panels.
Section: Crown
Round 1: [p1, k6, p1, k2tog twice] to end.
Round 2: work sts as they present.
`

// slipway is a scarf with ropes of eight rows between edges of garter stitch, of
// 10/26 cm a row.
const slipway = `Pattern: Slipway scarf
Worked: in rows
Cast on: 16
Gauge: 20 sts and 26 rows = 10 cm
Panel: Rope, 12 sts
Row 1 (RS): p2, k8, p2.
Row 2 (WS): k2, p8, k2.
Row 3 (RS): p2, 4/4 RC, p2.
Rows 4-8: work sts as they present.
Section: Border
Rows 1-6: knit.
Section: Scarf
Across: k2, Rope, k2.
Rows 1-%d%s: work the panels.
Section: End
Rows 1-5: knit.
Row 6: BO all sts.
`

// Rows are worked again where they change the look least: no stretch of plain
// rounds under a cabled crown, and no length of garter stitch at one end of a cabled scarf.
func TestLongerKeepsTheLook(t *testing.T) {
	hat := fmt.Sprintf(ropeHat, "")
	for _, c := range []struct {
		name, text string
		worked     int
		by         float64
		best       string
	}{
		{"whole repeats of the panels", hat, 0, 3, "Body 25 to 32, 1 times: 8 rows, 2.67 cm to 17.33"},
		{"so too where the panel has rows that may be left out", fmt.Sprintf(ropeHat, " (optional in fours)"), 0, 6, "Body 25 to 32, 2 times: 16 rows, 5.33 cm to 20.00"},
		{"less than half a repeat: plain rounds, as the brim has", hat, 0, 1, "Brim 10 to 10, 3 times: 3 rows, 1.00 cm to 15.67"},
		{"past the brim, and nothing comes nearer than nothing", hat, 11, 1, "none"},
		{"rows that may be left out, of the section", fmt.Sprintf(slipway, 80, " (optional in eights)"), 0, 25, "Scarf 73 to 80, 8 times: 64 rows, 24.62 cm to 60.00"},
		{"whole repeats, however many", fmt.Sprintf(slipway, 80, ""), 0, 30, "Scarf 73 to 80, 10 times: 80 rows, 30.77 cm to 66.15"},
		{"a border, for what is less than a repeat", fmt.Sprintf(slipway, 80, ""), 0, 1, "Border 5 to 6, 1 times: 2 rows, 0.77 cm to 36.15"},
		{"no more of plain rows than twice their number", inRows + "Gauge: 20 sts and 20 rows = 10 cm\nSection: Toe\nRows 1-6: knit.\nSection: Point\nRow 1 (RS): k1, k2tog, k to end.\nRow 2: knit.\nRow 3: k1, k2tog, k to end.\nRow 4: knit.\nRow 5: k1, k2tog, k to end.\nRow 6: knit.\nRow 7: k1, k2tog, k to end.\nRow 8: knit.", 0, 7,
			"Toe 5 to 6, 6 times: 12 rows, 6.00 cm to 13.00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := fit.Longer(read(t, c.text), patterns.Choice{}, c.worked, c.by, nil)
			if err != nil || toldAgain(l.Best) != c.best {
				t.Errorf("%s, %v", toldAgain(l.Best), err)
			}
		})
	}
	// Of eight rows that may be left out, 24 may be added at most; for more, rows are taken that are not among them.
	some := read(t, fmt.Sprintf(strings.Replace(slipway, "Rows 1-%d%s", "Rows 1-40: work the panels.\nRows %d-48%s", 1), 41, " (optional in eights)"))
	l, err := fit.Longer(some, patterns.Choice{}, 0, 10, nil)
	if err != nil || toldAgain(l.Best) != "Scarf 41 to 48, 3 times: 24 rows, 9.23 cm to 32.31" || l.More != nil {
		t.Errorf("%s, %s, %v", toldAgain(l.Best), toldAgain(l.More), err)
	}
	l, err = fit.Longer(some, patterns.Choice{}, 0, 13, nil)
	if err != nil || toldAgain(l.Best) != "Scarf 33 to 40, 4 times: 32 rows, 12.31 cm to 35.38" {
		t.Errorf("%s, %v", toldAgain(l.Best), err)
	}
	if l, err = fit.Longer(read(t, hat), patterns.Choice{}, 11, 1, nil); err != nil || toldAgain(l.More) != "Body 25 to 32, 1 times: 8 rows, 2.67 cm to 17.33" {
		t.Errorf("%s, %v", toldAgain(l.More), err)
	}
}

// A number of rows of a panel is a number of its own rows, each time it stands:
// four of the rope's, four times, are sixteen rounds.
func TestLeaveOutOfAPanel(t *testing.T) {
	p := read(t, fmt.Sprintf(ropeHat, " (optional in fours)"))
	o, err := fit.LeaveOut(p, patterns.Choice{}, 0, "capstan rope", 4, nil)
	if err != nil || o.Rows != 16 || patterns.FormatLeftOut(o.LeftOut) != "Capstan rope 5: 4" {
		t.Errorf("%+v, %v", o, err)
	}
	if o, err = fit.LeaveOut(p, patterns.Choice{}, 0, "", 16, nil); err != nil || o.Rows != 16 { // of the plan
		t.Errorf("%+v, %v", o, err)
	}
	_, err = fit.LeaveOut(p, patterns.Choice{}, 0, "Capstan rope", 16, nil)
	isError(t, err, fit.CodeRows, "16 rounds of Capstan rope can't be left out; 4 at most can")
	_, err = fit.LeaveOut(p, patterns.Choice{}, 0, "Capstan rope", 2, nil)
	isError(t, err, fit.CodeRows, "2 rounds of Capstan rope can't be left out; 4 at least can")
}

// Of names that are alike but for their case, the one in the very letters is meant.
func TestLeaveOutGoesByTheExactName(t *testing.T) {
	p := read(t, inRounds+"Panel: leaf, 4 sts\nRows 1-4: k4.\nRows 5-8 (optional in fours): k4.\nSection: Leaf\nAcross: [leaf] 3 times\nRounds 1-16: work the panels.\nRounds 17-24 (optional in twos): knit.\n")
	for name, want := range map[string]string{"leaf": "leaf 5: 4", "Leaf": "Leaf 17: 4"} {
		if o, err := fit.LeaveOut(p, patterns.Choice{}, 0, name, 4, nil); err != nil || patterns.FormatLeftOut(o.LeftOut) != want {
			t.Errorf("%s: %+v, %v", name, o.LeftOut, err)
		}
	}
}

// A length that can't be had is told with what the piece comes to, and why.
func TestToLengthTellsWhatIsAgainst(t *testing.T) {
	p := read(t, strings.Replace(fmt.Sprintf(ropeHat, ""), "Rows 5-8: p1, k6, p1.", "Rows 5-6: p1, k6, p1.\nRows 7-8 (optional in twos): p1, k6, p1.", 1))
	f, err := fit.ToLength(p, patterns.Choice{}, 0, 13, nil)
	if err != nil || f.Shorter != nil || f.Longer != nil || f.Against == nil || f.Against.Barrier == nil || f.Piece.Rows != 44 {
		t.Fatalf("%+v, %v", f, err)
	}
	if got := f.Against.Error(); got != "leaving out 2 rounds of the panel Capstan rope: the Ladder would skip 2 rounds" {
		t.Error(got)
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
	const none = "no rows that are still to come can be worked again without changing the stitches or the look"
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
