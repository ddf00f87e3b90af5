package chart_test

import (
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/chart"
)

// TestRandomFabrics compares fabrics of random patterns with the engine, and
// draws them to the end.
func TestRandomFabrics(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := randomPattern(r)
		p, problems := patterns.Read([]byte(text))
		plan, err := p.LayOut(patterns.Choice{})
		if err != nil {
			r.Fatalf("%v %v\n%s", err, problems, text)
		}
		from := rapid.IntRange(0, len(plan.Rows)-1).Draw(r, "from")
		v := chart.View{Plan: plan, From: from, To: rapid.IntRange(from, len(plan.Rows)-1).Draw(r, "to"), Here: -1, Fabric: true}
		checkFabric(r, "random", v)
		picture, err := chart.Draw(v)
		if err != nil {
			r.Fatal(err)
		}
		if _, err := picture.PNG(1); err != nil {
			r.Error(err)
		}
		if r.Failed() {
			r.Log(text)
		}
	})
}
