package fit_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

// Every number of rows that a sample lets out is one that its designer tried.
func TestSamplesAreProven(t *testing.T) {
	for _, s := range samples.All() {
		p := read(t, s.Text)
		for size := range p.SizeCount() {
			for _, o := range p.Optionals(size) {
				for rows := o.Step; rows <= o.Count(); rows += o.Step {
					b, err := fit.Proven(p, size, o, rows)
					if err != nil || b != nil {
						t.Errorf("%s, size %d: %v, %v", s.Name, size, b, err)
					}
				}
			}
		}
	}
}

// read reads a pattern that has no error. Warnings may be meant.
func read(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) *patterns.Pattern {
	t.Helper()
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("%v\n%s", problems, text)
	}
	return p
}

const (
	inRounds = "Pattern: Tide cap\nWorked: in rounds\nCast on: 12\n"
	inRows   = "Pattern: Tide mat\nWorked: in rows\nCast on: 12\n"
	pebble   = "Panel: Pebble edge, 3 sts\nRow 1: p1, k1, p1.\nRow 2: p3.\n"
	rope     = "Panel: Rope, 4 sts\nRow 1: 2/2 RC.\nRows 2-4: k4.\n"
)

// What stands in the way of each number of rows, from the smallest on, as it is
// found by writing the rows out and striking the last ones; empty where nothing
// does.
var barrierCases = []struct {
	name, text string
	want       []string
}{
	{"a texture of two rounds ends with the section", inRounds + pebble + `
Section: Floats
Across: [Pebble edge, k3] twice
Rounds 1-4: work the panels.
Rounds 5-8 (optional in ones): work the panels.
Section: Top
Round 1: BO all sts.`, []string{
		"leaving out 1 round of Floats: the Pebble edge would end 1 round early", "",
		"leaving out 3 rounds of Floats: the Pebble edge would end 1 round early", ""}},
	{"a texture of two rounds goes on", inRounds + pebble + `
Section: Floats
Across: [Pebble edge, k3] twice
Rounds 1-3: work the panels.
Rounds 4-5 (optional in ones): work the panels.
Rounds 6-8: work the panels.`, []string{"leaving out 1 round of Floats: the Pebble edge would repeat a round", ""}}, // 1 2 1 2 (1) 2 1 2
	{"the same into the next section", inRounds + pebble + `
Section: Floats
Across: [Pebble edge, k3] twice
Rounds 1-4: work the panels.
Round 5 (optional in ones): work the panels.
Section: Slack water
Across: [Pebble edge (continued), p3] twice
Rounds 1-3: work the panels.`, []string{"leaving out 1 round of Floats: the Pebble edge would repeat a round"}}, // 1 2 1 2 (1) 2 1 2
	{"a rope of four rounds", inRounds + rope + `
Section: Quay
Across: Rope, p8
Rounds 1-8: work the panels.
Rounds 9-16 (optional in twos): work the panels.
Rounds 17-20: work the panels.`, []string{
		"leaving out 2 rounds of Quay: the Rope would skip 2 rounds", "",
		"leaving out 6 rounds of Quay: the Rope would skip 2 rounds", ""}},
	{"plain rounds of a rope", inRounds + rope + `
Section: Quay
Across: Rope, p8
Rounds 1-2: work the panels.
Rounds 3-4 (optional in twos): work the panels.
Rounds 5-8: work the panels.`, []string{""}}, // round 2 is one of them, and stays
	{"all plain rounds of a rope", inRounds + rope + `
Section: Quay
Across: Rope, p8
Round 1: work the panels.
Rounds 2-4 (optional in threes): work the panels.
Rounds 5-8: work the panels.`, []string{"leaving out 3 rounds of Quay: the Rope would repeat a round"}},
	{"a panel's own rows beside a rope of four", inRounds + rope + `
Panel: Wave, 4 sts
Row 1: p4.
Rows 2-5 (optional in twos): work sts as they present.
Row 6: p4.
Section: Quay
Across: Rope, Wave, Rope
Rounds 1-6: work the panels.
Section: Top
Round 1: BO all sts.`, []string{"leaving out 2 rounds of the panel Wave: the Rope would skip 2 rounds", ""}}, // 4 and 5 are 4 and 1 of the rope
	{"one flat row", inRows + `
Section: Top
Rows 1-4: k12.
Rows 5-7 (optional in ones): k12.
Row 8: k12.`, []string{
		"leaving out 1 row of Top: the next right-side row would fall on the wrong side", "",
		"leaving out 3 rows of Top: the next right-side row would fall on the wrong side"}},
	{"a texture of four rounds three times", inRounds + `
Section: Nets
Rounds 1-2: knit.
Rounds 3-4: [k2, p2] to end.
Rounds 5-12 (optional in twos): repeat rounds 1-4 twice.
Section: Top
Rounds 1-2: [k2, p2] to end.
Round 3: BO all sts.`, []string{
		"leaving out 2 rounds of Nets: the pattern of Nets, which repeats every 4 rounds, would be cut", "",
		"leaving out 6 rounds of Nets: the pattern of Nets, which repeats every 4 rounds, would be cut", ""}},
	{"a texture inside the panel itself", inRounds + `
Panel: Moss, 4 sts
Round 1: yo, k2tog, k2.
Rounds 2: k4.
Rounds 3-6 (optional in ones): repeat rounds 1-2.
Section: Nets
Across: [Moss] 3 times
Rounds 1-6: work the panels.
Section: Top
Round 1: BO all sts.`, []string{
		"leaving out 1 round of the panel Moss: the pattern of Moss, which repeats every 2 rounds, would be cut", "",
		"leaving out 3 rounds of the panel Moss: the pattern of Moss, which repeats every 2 rounds, would be cut", ""}},
	{"rounds that turn the stitches over", inRounds + `
Section: Brim
Round 1: knit.
Round 2 (optional in ones): purl.
Round 3: work sts as they present.`, []string{"leaving out 1 round of Brim: knits would stand where round 3 of Brim expects purls"}},
	{"the section ends otherwise", inRounds + `
Section: Brim
Round 1: knit.
Round 2 (optional in ones): purl.
Section: Top
Round 1: knit.`, []string{"leaving out 1 round of Brim: Brim would end with knits where it should end with purls"}},
	{"increases that the bind off takes in", inRows + `
Section: Shore
Row 1 (RS): k1, yo, k to end.
Row 2: knit.
Rows 3-6 (optional in twos): repeat rows 1-2 twice.
Row 7: BO all sts.`, []string{"", ""}},
	{"increases that are missed", inRows + `
Section: Shore
Row 1 (RS): k1, yo, k to end.
Row 2: knit.
Rows 3-6 (optional in twos): repeat rows 1-2 twice.
Section: Top
Row 1 (RS): knit.`, []string{
		"leaving out 2 rows of Shore: Shore would end with 1 stitch fewer",
		"leaving out 4 rows of Shore: Shore would end with 2 stitches fewer"}},
	{"a marker that is placed there", inRounds + `
Section: Top
Round 1: knit.
Round 2 (optional in ones): k6, pm, k6.
Round 3: knit.`, []string{"leaving out 1 round of Top: the markers would not be where round 3 of Top expects them"}},
	{"a yarn that is taken up there", inRounds + `
Section: Top
Round 1: with Sand, knit.
Round 2 (optional in ones): with Sky, knit.
Round 3: knit.`, []string{"leaving out 1 round of Top: round 3 of Top would not find the yarn that it expects"}},
	{"a stripe before a row that names its own yarn", inRounds + `
Section: Top
Round 1: with Sand, knit.
Round 2 (optional in ones): with Sky, knit.
Round 3: with Sand, knit.`, []string{""}},
	{"a stripe of which a slipped stitch shows later on", inRounds + `
Section: Top
Round 1: with Sand, knit.
Round 2 (optional in ones): with Sky, knit.
Round 3: with Sand, [k2, sl 1] to end.
Round 4: knit.`, []string{"leaving out 1 round of Top: round 3 of Top would not find the yarn that it expects"}},
	{"a stripe that the section ends with", inRounds + `
Section: Brim
Round 1: with Sand, knit.
Round 2 (optional in ones): with Sky, knit.
Section: Top
Round 1: with Sand, knit.`, []string{"leaving out 1 round of Brim: Brim would end with another yarn"}},
	{"the cross of a panel", inRounds + `
Panel: Cable, 4 sts
Round 1: k4.
Round 2 (optional in ones): 2/2 RC.
Rounds 3-4: k4.
Section: Quay
Across: Cable, p8
Rounds 1-8: work the panels.`, []string{"leaving out 1 round of the panel Cable: the Cable would miss its cross"}},
	{"one of its two crosses, with the plain rounds that go with it", inRounds + `
Panel: Cable, 4 sts
Round 1: k4.
Round 2: 2/2 RC.
Round 3: k4.
Rounds 4-6: work sts as they present.
Rounds 7-12 (optional in sixes): as rounds 1-6.
Section: Quay
Across: Cable, p8
Rounds 1-24: work the panels.`, []string{""}},
	{"all rounds with crosses", inRounds + `
Panel: Cable, 6 sts
Round 1: k6.
Rounds 2-3 (optional in twos): [1/1 RC] 3 times.
Round 4: k6.
Section: Quay
Across: Cable, p6
Rounds 1-8: work the panels.`, []string{"leaving out 2 rounds of the panel Cable: the Cable would miss its crosses"}},
	{"the increases of a panel", inRounds + `
Panel: Net, 4 sts
Round 1: k4.
Round 2 (optional in ones): yo, k2tog, k2.
Round 3: k4.
Section: Quay
Across: Net, p8
Rounds 1-6: work the panels.`, []string{"leaving out 1 round of the panel Net: the Net would miss its increases and decreases"}},
	{"plain rows of a panel beside rungs, of which a stretch would be shorter each time", inRounds + `
Panel: Cable, 4 sts
Round 1: 2/2 RC.
Rounds 2-5: k4.
Round 6 (optional in ones): k4.
Panel: Ladder, 4 sts
Rounds 1-3: k4.
Round 4: p4.
Section: Quay
Across: Cable, Ladder, p4
Rounds 1-12: work the panels.`, []string{"leaving out 1 round of the panel Cable: the Ladder would skip 1 round"}},
	{"whole stripes", inRounds + `
Section: Top
Round 1: with Sand, knit.
Round 2: with Sky, knit.
Rounds 3-6 (optional in twos): repeat rounds 1-2 twice.
Round 7: with Sand, BO all sts.`, []string{"", ""}},
	{"a section that is left out whole", inRounds + `
Section: Brim
Round 1: knit.
Section: Band
Rounds 1-2 (optional in twos): [k2, p2] to end.
Section: Top
Round 1: BO all sts.`, []string{"leaving out 2 rounds of Band: Band would end with knits where it should end with purls"}},
	{"rounds that only together keep the count", inRounds + `
Section: Top
Round 1: k1, yo, k to end.
Round 2: k2tog, k to end.
Round 3: knit.
Round 4: sl 1, k to end.
Rounds 5-7 (optional in ones): as rounds 1-3.
Round 8: k12.`, []string{"", "leaving out 2 rounds of Top: the rounds that follow can't be worked: 1 stitch is left unworked at the end of the row, which began with 13", ""}},
	{"stitches on hold that are worked in between", inRounds + `
Section: Top
Round 1: put 2 sts on hold, p10.
Round 2 (optional in ones): return 2 held sts, p2, put 2 sts on hold, p8.
Round 3: purl.
Round 4: return 2 held sts, p12.`, []string{"leaving out 1 round of Top: the stitches on hold would not be those that round 3 of Top expects"}},
	{"a column that seems to stop", inRounds + `
Section: Top
Rounds 1-2: [k2, p4] twice.
Round 3 (optional in ones): [1/1 RC, p4] twice.
Round 4: purl.`, []string{"leaving out 1 round of Top: a column of knits on a purl ground stops in round 4 without a cross, a decrease or an end"}},
	{"a ring between plain rounds is the designer's to leave out", inRounds + `
Section: Top
Rounds 1-3: knit.
Rounds 4-5 (optional in twos): [yo, k2tog] to end.
Rounds 6-8: knit.`, []string{""}},
}

func TestBarriers(t *testing.T) {
	for _, c := range barrierCases {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, c.text)
			full, err := p.LayOut(patterns.Choice{})
			if err != nil {
				t.Fatal(err)
			}
			o := p.Optionals(0)[0]
			var got []string
			for rows := o.Step; rows <= o.Count(); rows += o.Step {
				b, err := fit.Proven(p, 0, o, rows)
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, "")
				if b != nil {
					got[len(got)-1] = b.Error()
				}
				if wrong := slowly(p, full, 0, []patterns.LeftOut{{Owner: o.Owner, From: o.From, Rows: rows}}); (wrong == "") != (b == nil) {
					t.Errorf("%d rows: the slow check says %q", rows, wrong)
				}
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}

func TestProvenRefusesWhatThePatternDoesNotHave(t *testing.T) {
	p := read(t, samples.First().Text)
	o := p.Optionals(0)[0]
	for name, try := range map[string]func() (*fit.Barrier, error){
		"size":  func() (*fit.Barrier, error) { return fit.Proven(p, 3, o, 2) },
		"group": func() (*fit.Barrier, error) { return fit.Proven(p, 0, patterns.Optional{Owner: "Crown", From: 1}, 2) },
		"rows":  func() (*fit.Barrier, error) { return fit.Proven(p, 0, o, 3) },
	} {
		if b, err := try(); err == nil || b != nil {
			t.Errorf("%s: %v, %v", name, b, err)
		}
	}
}

// longPattern has 200 rows that may be left out one at a time.
func longPattern(t testing.TB) *patterns.Pattern {
	return read(t, "Pattern: Long\nWorked: in rounds\nCast on: 200\nGauge: 20 sts and 30 rounds = 10 cm\n"+pebble+rope+
		"Section: Scarf\nAcross: [Pebble edge, Rope, p1] 25 times\nRounds 1-20: work the panels.\nRounds 21-220 (optional in ones): work the panels.\n")
}

func TestManyNumbersOfOneGroup(t *testing.T) {
	offers, barriers, err := fit.Offers(longPattern(t), 0)
	if err != nil || len(offers) != 50 || len(barriers) != 150 { // the rope repeats every 4 rounds
		t.Errorf("%d offers and %d barriers, %v", len(offers), len(barriers), err)
	}
}

// manyPanels is a hundred panels side by side, each with rows that may be left out.
func manyPanels(tb testing.TB) *patterns.Pattern {
	var text strings.Builder
	text.WriteString("Pattern: Nets\nWorked: in rounds\nCast on: 200\nGauge: 20 sts and 30 rounds = 10 cm\n")
	across := make([]string, 100)
	for i := range across {
		across[i] = fmt.Sprintf("Net %d", i)
		fmt.Fprintf(&text, "Panel: %s, 2 sts\nRounds 1-2: k1, p1.\nRounds 3-4 (optional in ones): k1, p1.\n", across[i])
	}
	text.WriteString("Section: Nets\nAcross: " + strings.Join(across, ", ") + "\nRounds 1-600: work the panels.\n")
	return read(tb, text.String())
}

// Where there are so many panels that not all numbers can be looked at, those
// that could not be are in neither list, and those that are hold when each is
// asked about alone.
func TestMoreThanCanBeLookedAt(t *testing.T) {
	p := manyPanels(t)
	offers, barriers, err := fit.Offers(p, 0)
	if told := len(offers) + len(barriers); err != nil || told == 0 || told >= 200 {
		t.Fatalf("%d of 200 numbers told, %v", told, err)
	}
	for i, o := range p.Optionals(0)[:2] {
		if b, err := fit.Proven(p, 0, o, 2); err != nil || b != nil || offers[2*i+1].LeftOut[0].Owner != o.Owner {
			t.Errorf("%v: %v, %v", o, b, err)
		}
	}
	if len(offers) > 0 {
		if _, err := fit.Choose(p, patterns.Choice{}, 0, offers[0].LeftOut, nil); err != nil {
			t.Error(err)
		}
	}
}

func BenchmarkOffersOfManyPanels(b *testing.B) {
	p := manyPanels(b)
	for b.Loop() {
		if _, _, err := fit.Offers(p, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOffers(b *testing.B) {
	p := longPattern(b)
	for b.Loop() {
		if _, _, err := fit.Offers(p, 0); err != nil {
			b.Fatal(err)
		}
	}
}

// The most rows that a pattern may have, each of which may be left out.
func BenchmarkShorterOfTheMostRows(b *testing.B) {
	p := read(b, "Pattern: Long\nWorked: in rounds\nCast on: 12\nGauge: 20 sts and 30 rounds = 10 cm\nSection: Scarf\nRounds 1-5000 (optional in ones): knit.\n")
	for b.Loop() {
		if _, err := fit.Shorter(p, patterns.Choice{}, 10, 700, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLayOut(b *testing.B) {
	p := longPattern(b)
	for b.Loop() {
		if _, err := p.LayOut(patterns.Choice{}); err != nil {
			b.Fatal(err)
		}
	}
}
