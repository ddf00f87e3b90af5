package reader_test

import (
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/fit"
	"clew/patterns/samples"
	"clew/reader"
)

// plans lays out every sample in every size.
func plans(t *testing.T, each func(t *testing.T, plan *patterns.Plan, c patterns.Choice)) {
	for _, s := range samples.All() {
		p := sample(t, s.Name)
		sizes := p.Sizes
		if len(sizes) == 0 {
			sizes = []string{""}
		}
		for _, size := range sizes {
			t.Run(s.Name+" "+size, func(t *testing.T) {
				c := patterns.Choice{Size: size}
				plan, err := p.LayOut(c)
				if err != nil {
					t.Fatal(err)
				}
				each(t, plan, c)
			})
		}
	}
}

// TestSamplesFitIsSaid holds all that is said of the samples' fit to letters
// and the few marks.
func TestSamplesFitIsSaid(t *testing.T) {
	plans(t, func(t *testing.T, plan *patterns.Plan, c patterns.Choice) {
		for _, unit := range []fit.Unit{fit.Centimetres, fit.Inches} {
			k := reader.Knitting{Pattern: plan.Pattern, Choice: c, Unit: unit}
			sizes, err := fit.Measure(plan, nil)
			if err != nil {
				t.Fatal(err)
			}
			checkSaid(t, reader.Sizes(sizes, unit))
			offers, barriers, err := fit.Offers(plan.Pattern, plan.Size)
			if err != nil {
				t.Fatal(err)
			}
			checkSaid(t, k.Offers(offers, barriers))
			for _, by := range []float64{0.5, 2, 8} {
				if s, err := fit.Shorter(plan.Pattern, c, 0, by, nil); err == nil {
					checkSaid(t, k.Shorter(s))
				}
				if l, err := fit.Longer(plan.Pattern, c, 0, by, nil); err == nil {
					checkSaid(t, k.Longer(l))
				}
			}
		}
	})
}

// TestSamplesPicturesAreSaid holds the description of every section's picture
// to letters and the few marks, and to the platform's size.
func TestSamplesPicturesAreSaid(t *testing.T) {
	plans(t, func(t *testing.T, plan *patterns.Plan, _ patterns.Choice) {
		for from := 0; from < len(plan.Rows); {
			to := from
			for to+1 < len(plan.Rows) && plan.Rows[to+1].Section == plan.Rows[from].Section {
				to++
			}
			for _, isFabric := range []bool{false, true} {
				picture, err := chart.Draw(chart.View{Plan: plan, From: from, To: to, Here: to, Fabric: isFabric})
				if err != nil {
					t.Fatal(err)
				}
				said := reader.Picture(picture.Facts())
				checkAllowed(t, said)
				if len(said) > 1024 || !strings.Contains(said, reader.Name(plan.Rows[from].Section.Name)) {
					t.Errorf("%d characters: %s", len(said), said)
				}
			}
			from = to + 1
		}
	})
}

// TestSamplesMeasureWhatTheySay compares what is said with the measures that the
// patterns' own notes give their knitters.
func TestSamplesMeasureWhatTheySay(t *testing.T) {
	for _, c := range []struct{ sample, size, want string }{
		{"float-hat", "small", "forty-five centimetres around"},
		{"float-hat", "medium", "fifty centimetres around"},
		{"float-hat", "large", "fifty-five centimetres around"},
		{"boathouse-socks", "small", "twenty centimetres around"},
		{"boathouse-socks", "large", "twenty-four centimetres around"},
		{"cobble-cowl", "short", "sixty centimetres around"},
	} {
		plan, err := sample(t, c.sample).LayOut(patterns.Choice{Size: c.size})
		if err != nil {
			t.Fatal(err)
		}
		sizes, err := fit.Measure(plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		if said := reader.Sizes(sizes, fit.Centimetres); !strings.HasPrefix(said, "It is "+c.want+".") {
			t.Errorf("%s %s: %s", c.sample, c.size, said)
		}
	}
}
