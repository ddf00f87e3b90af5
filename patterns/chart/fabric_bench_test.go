package chart_test

import (
	"testing"

	"clew/patterns/chart"
	"clew/patterns/fabric"
)

// BenchmarkFabric60x60 draws the fabric of 60 by 60 stitches to a PNG, beside
// BenchmarkFabric60x60Yardstick in the same run.
func BenchmarkFabric60x60(b *testing.B) {
	v := square(b)
	v.Fabric = true
	bytes := 0
	for b.Loop() {
		picture, err := chart.Draw(v)
		if err != nil {
			b.Fatal(err)
		}
		file, err := picture.PNG(1)
		if err != nil {
			b.Fatal(err)
		}
		bytes = len(file)
	}
	b.ReportMetric(float64(bytes), "bytes/picture")
}

// BenchmarkFabric60x60Yardstick works the same rows, which is what a picture
// can't do without.
func BenchmarkFabric60x60Yardstick(b *testing.B) {
	v := square(b)
	for b.Loop() {
		for _, r := range v.Plan.Rows {
			r.Before.Work(r.Body, fabric.Row{Rounds: r.Rounds, Size: v.Plan.Size})
		}
	}
}
