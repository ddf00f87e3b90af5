package fit_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

func itoa(n int) string { return strconv.Itoa(n) }

func sprintf(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// sample reads one of the samples.
func sample(t testing.TB, name string) *patterns.Pattern {
	t.Helper()
	s, found := samples.Find(name)
	if !found {
		t.Fatalf("there is no sample %s", name)
	}
	return read(t, s.Text)
}

func layOut(t testing.TB, p *patterns.Pattern, size int) *patterns.Plan {
	t.Helper()
	choice := patterns.Choice{}
	if size < len(p.Sizes) {
		choice.Size = p.Sizes[size]
	}
	plan, err := p.LayOut(choice)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func sectionOf(t testing.TB, sizes []fit.SectionSize, name string) fit.SectionSize {
	t.Helper()
	for _, s := range sizes {
		if s.Section.Name == name {
			return s
		}
	}
	t.Fatalf("no section %s is measured", name)
	return fit.SectionSize{}
}

// What the notes of the samples say they measure, and what follows from their
// design: by size, in cm.
var measures = []struct {
	sample, section string
	of              string // width, narrow, wide, short, long
	want            []float64
}{
	// "The hat measures 45 (50, 55) cm around", at 24 stitches to 10 cm.
	{"float-hat", "Brim", "width", []float64{45, 50, 55}},
	{"float-hat", "Floats", "width", []float64{45, 50, 55}},
	{"float-hat", "Floats", "narrow", []float64{45, 50, 55}},
	{"float-hat", "Floats", "wide", []float64{50, 55, 60}}, // for two rounds each glint has two stitches more
	{"float-hat", "Floats", "long", []float64{7.5, 7.5, 7.5}},
	{"float-hat", "Crown", "narrow", []float64{3.75, 3.75, 3.75}}, // the nine stitches that the thread goes through
	{"float-hat", "Crown", "wide", []float64{40, 45, 50}},

	// "They measure 20 (22, 24) cm around the foot", at 20 stitches to 10 cm.
	{"boathouse-socks", "Leg", "width", []float64{20, 22, 24}},
	{"boathouse-socks", "Foot", "width", []float64{20, 22, 24}},
	{"boathouse-socks", "Heel flap", "wide", []float64{10, 11, 12}}, // half of the stitches; the others wait
	{"boathouse-socks", "Heel flap", "narrow", []float64{10, 11, 12}},
	{"boathouse-socks", "Heel flap", "long", []float64{20 / 3.6, 22 / 3.6, 24 / 3.6}}, // at its own gauge: slipped stitches draw it together
	{"boathouse-socks", "Heel turn", "long", []float64{8 / 2.8, 8 / 2.8, 8 / 2.8}},    // up the middle
	{"boathouse-socks", "Heel turn", "short", []float64{2 / 2.8, 2 / 2.8, 2 / 2.8}},   // at the edge, whose stitches were left until the last two rows
	{"boathouse-socks", "Gusset", "wide", []float64{27, 30, 33}},
	{"boathouse-socks", "Gusset", "narrow", []float64{20, 22, 24}},
	{"boathouse-socks", "Gusset", "short", []float64{15 / 2.8, 17 / 2.8, 19 / 2.8}},
	{"boathouse-socks", "Gusset", "long", []float64{15 / 2.8, 17 / 2.8, 19 / 2.8}},

	// "It measures 60 (114) cm around and 18 cm up", at 22 by 40.
	{"cobble-cowl", "Cobbles", "width", []float64{60, 252 / 2.2}},
	{"cobble-cowl", "Upper edge", "narrow", []float64{60, 252 / 2.2}}, // and then it is bound off
	{"cobble-cowl", "Upper edge", "long", []float64{1.75, 1.75}},

	// "Measures 45 (49, 54) cm around and is 19 (21, 23) cm deep", sideways, at
	// 20 by 40: 10 (11, 12) wedges of 18 rows, of which the crown has two.
	{"lee-cap", "Wedges", "width", []float64{19, 21, 23}},
	{"lee-cap", "Wedges", "long", []float64{45, 49.5, 54}},
	{"lee-cap", "Wedges", "short", []float64{5, 5.5, 6}},
	{"lee-cap", "Closing", "wide", []float64{19, 21, 23}},
	{"lee-cap", "Closing", "long", []float64{0.25, 0.25, 0.25}},

	// "Measured around the hand, they fit 18 (21) cm", at 24 stitches to 10 cm:
	// 44 (52) of them.
	{"mender-mittens", "Hand", "width", []float64{44 / 2.4, 52 / 2.4}},
	{"mender-mittens", "Cuff", "narrow", []float64{40 / 2.4, 20}},
	{"mender-mittens", "Thumb gusset", "wide", []float64{59 / 2.4, 69 / 2.4}},
	{"mender-mittens", "Thumb", "width", []float64{7.5, 8.75}},
	{"mender-mittens", "Thumb", "long", []float64{5, 19 / 3.2}},
	{"mender-mittens", "Drying loop", "width", []float64{4 / 2.4, 4 / 2.4}},
	{"mender-mittens", "Drying loop", "long", []float64{25 / 3.2, 25 / 3.2}},

	// Pinned out it has 18 stitches to 10 cm, and grows from 3 to 189 (269) and more.
	{"gull-kerchief", "Neck tab", "narrow", []float64{3 / 1.8, 3 / 1.8}},
	{"gull-kerchief", "Sky", "wide", []float64{153 / 1.8, 217 / 1.8}},
	{"gull-kerchief", "Sky", "long", []float64{25, 102 / 2.8}},
	{"gull-kerchief", "Shore", "wide", []float64{197 / 1.8, 277 / 1.8}},
}

func TestMeasure(t *testing.T) {
	for _, want := range measures {
		p := sample(t, want.sample)
		for size, cm := range want.want {
			sizes, err := fit.Measure(layOut(t, p, size), nil)
			if err != nil {
				t.Fatal(err)
			}
			s := sectionOf(t, sizes, want.section)
			got := map[string]float64{"width": s.Width, "narrow": s.Narrow, "wide": s.Wide, "short": s.Short, "long": s.Long}[want.of]
			if !near(got, cm) {
				t.Errorf("%s, %s, size %d: %s is %v cm; want %v", want.sample, want.section, size, want.of, got, cm)
			}
		}
	}
}

// The cowl is 18 cm up, as its note says: the sum of its sections.
func TestLengthOfTheCowl(t *testing.T) {
	sizes, err := fit.Measure(layOut(t, sample(t, "cobble-cowl"), 0), nil)
	if err != nil {
		t.Fatal(err)
	}
	up := 0.0
	for _, s := range sizes {
		up += s.Long
	}
	if !near(up, 18) {
		t.Errorf("it is %v cm up; want 18", up)
	}
}

func TestOwnSwatch(t *testing.T) {
	plan := layOut(t, sample(t, "boathouse-socks"), 0)
	sizes, err := fit.Measure(plan, &fit.Gauge{Stitches: 25, Rows: 35}) // both a quarter tighter
	if err != nil {
		t.Fatal(err)
	}
	if leg, flap := sectionOf(t, sizes, "Leg"), sectionOf(t, sizes, "Heel flap"); !near(leg.Width, 16) || !near(flap.Width, 8) || !near(flap.Long, 20/4.5) || leg.PatternRows {
		t.Errorf("the leg is %v cm and the flap %v by %v; want 16, 8 by %v", leg.Width, flap.Width, flap.Long, 20/4.5)
	}
	sizes, err = fit.Measure(plan, &fit.Gauge{Stitches: 25})
	if err != nil {
		t.Fatal(err)
	}
	if leg := sectionOf(t, sizes, "Leg"); !near(leg.Width, 16) || !near(leg.Long, 16/2.8) || !leg.PatternRows {
		t.Errorf("without rows the leg is %v by %v, the pattern's rows: %t; want 16 by %v, true", leg.Width, leg.Long, leg.PatternRows, 16/2.8)
	}
}

const noGauge = "Pattern: Strip\nWorked: in rows\nCast on: 10\n\nSection: Strip\nRows 1-4: k to end.\n\nSection: Edge\n%sRow 1: BO all sts.\n"

func TestMeasureWithoutAGauge(t *testing.T) {
	plan := layOut(t, read(t, sprintf(noGauge, "")), 0)
	if _, err := fit.Measure(plan, nil); !errors.Is(err, fit.ErrNoGauge) {
		t.Errorf("got %v; want ErrNoGauge", err)
	}
	sizes, err := fit.Measure(plan, &fit.Gauge{Stitches: 20})
	if err != nil || !near(sizes[0].Width, 5) || sizes[0].Long != 0 || sizes[0].PatternRows {
		t.Errorf("at 20 stitches, and no rows known, it is %+v, %v; want 5 cm wide, its length 0", sizes, err)
	}
	sizes, err = fit.Measure(layOut(t, read(t, sprintf(noGauge, "Gauge: 20 sts and 40 rows = 10 cm\n")), 0), nil)
	if err != nil || sizes[0].Width != 0 || !near(sizes[1].Width, 5) || !near(sizes[1].Long, 0.25) {
		t.Errorf("where the edge alone has a gauge: %+v, %v", sizes, err)
	}
}

// Short rows of other kinds: rows long at either place.
func TestShortRows(t *testing.T) {
	tests := []struct {
		name, worked, rows string
		short, long        int // rows
	}{
		{"none", "in rows", "Rows 1-6: k to end.", 6, 6},
		{"one wedge", "in rows", "Row 1: k6, turn.\nRow 2: k to end.\nRow 3: k to end.\nRow 4: k to end.", 2, 4},
		{"two turns in one row", "in rows", "Row 1: k7, turn, p4, turn, k to end.", 1, 3},
		{"in rounds", "in rounds", "Round 1: k7, turn, p4, turn, k to end.\nRound 2: knit.", 2, 4},
		{"plain rows first", "in rows", "Rows 1-2: k to end.\nRow 3: k6, w&t.\nRow 4: k to end.", 2, 4},
		{"a cross on the long side", "in rows", "Row 1: 2/2 RC, k2, turn.\nRow 2: p to end.", 0, 2},
		{"a decrease over the gap", "in rows", "Row 1: k6, turn.\nRow 2: p6.\nRow 3: k5, ssk, k3.", 1, 3},
		{"made beside the gap", "in rows", "Row 1: k6, turn.\nRow 2: p6.\nRow 3: k6, m1, yo, k4.", 1, 3},
		{"bound off", "in rows", "Row 1: k6, turn.\nRow 2: p6.\nRow 3: BO all sts.", 1, 3},
	}
	for _, want := range tests {
		p := read(t, "Pattern: P\nWorked: "+want.worked+"\nCast on: 10\nGauge: 10 sts and 10 rows = 10 cm\n\nSection: All\n"+want.rows+"\n")
		sizes, err := fit.Measure(layOut(t, p, 0), nil)
		if err != nil || !near(sizes[0].Short, float64(want.short)) || !near(sizes[0].Long, float64(want.long)) {
			t.Errorf("%s: %v to %v rows, %v; want %d to %d", want.name, sizes[0].Short, sizes[0].Long, err, want.short, want.long)
		}
	}
}

// Width times gauge gives the stitches again, whatever the swatch.
func TestWidthTimesGauge(t *testing.T) {
	plans := map[string]*patterns.Plan{}
	for _, s := range samples.All() {
		plans[s.Name] = layOut(t, sample(t, s.Name), 0)
	}
	rapid.Check(t, func(t *rapid.T) {
		sample := rapid.SampledFrom(samples.All()).Draw(t, "sample").Name
		own := fit.Gauge{Stitches: rapid.Float64Range(fit.MinGauge, fit.MaxGauge).Draw(t, "stitches"), Rows: rapid.Float64Range(fit.MinGauge, fit.MaxRowsIn).Draw(t, "rows")}
		sizes, err := fit.Measure(plans[sample], &own)
		if err != nil {
			t.Fatal(err)
		}
		rows := 0
		for _, s := range sizes {
			rows += s.Rows
			if got := s.Width * s.Gauge.Stitches / 10; !near(got, float64(s.Stitches)) {
				t.Fatalf("%s of %s is %v cm wide, which are %v stitches; want %d", s.Section.Name, sample, s.Width, got, s.Stitches)
			}
			if got := s.Long * s.Gauge.Rows / 10; !near(got, float64(s.Rows)) {
				t.Fatalf("%s of %s is %v cm long, which are %v rows; want %d", s.Section.Name, sample, s.Long, got, s.Rows)
			}
			if s.Narrow > s.Width || s.Width > s.Wide || s.Short > s.Long || s.Least > s.Most || s.Straight > s.Rows {
				t.Fatalf("%s of %s measures %+v", s.Section.Name, sample, s)
			}
		}
		if rows != len(plans[sample].Rows) {
			t.Fatalf("%d rows of %s are measured; want %d", rows, sample, len(plans[sample].Rows))
		}
	})
}

// Any pattern of the tests that can be laid out can be measured.
func TestMeasureEveryPattern(t *testing.T) {
	names, err := filepath.Glob("../testdata/books/*.txt")
	more, err2 := filepath.Glob("../testdata/common/*.txt")
	if err != nil || err2 != nil || len(names)+len(more) == 0 {
		t.Fatal("no patterns", err, err2)
	}
	measured := 0
	for _, name := range append(names, more...) {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		p, problems := patterns.Read(src)
		if patterns.HasErrors(problems) {
			continue
		}
		for size := range p.SizeCount() {
			sizes, err := fit.Measure(layOut(t, p, size), &fit.Gauge{Stitches: 20, Rows: 30})
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			for _, s := range sizes {
				if s.Most < 1 || s.Long <= 0 || s.Long > float64(3*s.Rows) {
					t.Errorf("%s: %s measures %+v", name, s.Section.Name, s)
				}
			}
			measured++
		}
	}
	if measured == 0 {
		t.Error("no pattern was measured")
	}
}

func BenchmarkMeasure(b *testing.B) {
	for _, name := range []string{"float-hat", "lee-cap"} {
		plan := layOut(b, sample(b, name), 0)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := fit.Measure(plan, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
