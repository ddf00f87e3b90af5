package chart_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
)

// diamond is 13 stitches of two ropes that part and meet, 16 rounds.
var diamond = []string{
	"p4, 2/1/2 RC, p4", "p4, k5, p4",
	"p3, 2/1 RPC, k1, 2/1 LPC, p3", "p3, k2, p1, k1, p1, k2, p3",
	"p2, 2/1 RPC, p1, k1, p1, 2/1 LPC, p2", "p2, k2, p2, k1, p2, k2, p2",
	"p1, 2/1 RPC, p2, k1, p2, 2/1 LPC, p1", "p1, k2, p3, k1, p3, k2, p1",
	"p1, k2, p3, k1, p3, k2, p1", "p1, k2, p3, k1, p3, k2, p1",
	"p1, 2/1 LPC, p2, k1, p2, 2/1 RPC, p1", "p2, k2, p2, k1, p2, k2, p2",
	"p2, 2/1 LPC, p1, k1, p1, 2/1 RPC, p2", "p3, k2, p1, k1, p1, k2, p3",
	"p3, 2/1 LPC, k1, 2/1 RPC, p3", "p4, k5, p4",
}

// square is 60 stitches and 60 rounds in which no stretch repeats from side to
// side: ropes of several widths that cross at several heights, a diamond, lace,
// seed stitch, twisted rib, and purls strewn by a fixed rule.
func square(t testing.TB) chart.View {
	t.Helper()
	var b strings.Builder
	b.WriteString("Pattern: Square\nWorked: in rounds\nCast on: 60\n\nSection: Square\n")
	every := func(row, rounds int, cross, plain string) string {
		if row%rounds == 0 {
			return cross
		}
		return plain
	}
	seed := uint32(1)
	for row := range 60 {
		strewn := make([]string, 8)
		for i := range strewn {
			seed = seed*1664525 + 1013904223
			strewn[i] = []string{"k1", "k1", "p1"}[seed>>16%3]
		}
		fmt.Fprintf(&b, "Round %d: %s.\n", row+1, strings.Join([]string{
			"p2", every(row, 4, "2/2 RC", "k4"), "p2",
			every(row, 2, "[k1, p1] 3 times", "[p1, k1] 3 times"),
			every(row, 8, "3/3 LC", "k6"), "p2",
			every(row, 2, "k1, yo, ssk, k2tog, yo, k1", "k6"),
			diamond[row%len(diamond)],
			"p1, k1 tbl, p1, k1 tbl, p1",
			every(row, 6, "2/2 LC", "k4"), "p2",
			strings.Join(strewn, ", "),
		}, ", "))
	}
	p, problems := patterns.Read([]byte(b.String()))
	plan, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err, problems)
	}
	return chart.View{Plan: plan, From: 0, To: 59, Here: 30}
}

// TestSquareIsSmall: a chart of 60 by 60 stays below 40,000 bytes, so that it is
// quickly there on a telephone.
func TestSquareIsSmall(t *testing.T) {
	p, err := chart.Draw(square(t))
	if err != nil {
		t.Fatal(err)
	}
	data, err := p.PNG(1)
	if err != nil {
		t.Fatal(err)
	}
	if len(data) > 40_000 {
		t.Errorf("the chart has %d bytes, more than 40,000", len(data))
	}
	if p.Facts().Times > 1 {
		t.Error("the chart that is meant to be drawn whole has a repeat")
	}
}

func BenchmarkChart60x60(b *testing.B) {
	v := square(b)
	var data []byte
	for b.Loop() {
		p, err := chart.Draw(v)
		if err != nil {
			b.Fatal(err)
		}
		if data, err = p.PNG(1); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(data)), "bytes")
}

// BenchmarkChart60x60Yardstick encodes the same picture in full colour.
func BenchmarkChart60x60Yardstick(b *testing.B) {
	p, err := chart.Draw(square(b))
	if err != nil {
		b.Fatal(err)
	}
	data, err := p.PNG(1)
	if err != nil {
		b.Fatal(err)
	}
	small, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		b.Fatal(err)
	}
	full := image.NewRGBA(small.Bounds())
	draw.Draw(full, full.Bounds(), small, image.Point{}, draw.Src)
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := png.Encode(&out, full); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Len()), "bytes")
}
