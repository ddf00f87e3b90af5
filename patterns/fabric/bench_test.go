package fabric_test

import (
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// benchmarked rows are each worked on 300 stitches.
var benchmarked = []struct{ name, text string }{
	{"plain", "k to end"},
	{"rib", "*k2, p2; rep from * to end"},
	{"lace", "*k1, yo, ssk, k1, k2tog, yo; rep from * to end"},
	{"crosses", "*p2, 2/2 RC, p1, 2/1 LPC, 2/1 RPC, p1, 2/2 LC, p2, k3; rep from * to last 1 st, k1"},
	{"as they present", "work sts as they present"},
}

func BenchmarkWork(b *testing.B) {
	for _, c := range benchmarked {
		b.Run(c.name, func(b *testing.B) {
			benchmarkRow(b, parse(b, c.text))
		})
	}
	b.Run("panels", func(b *testing.B) {
		edge := &instruction.Strip{Panel: "Seed edge", Row: 1, Width: 3, Body: parse(b, "k1, p1, k1")}
		plait := &instruction.Strip{Panel: "Plait", Row: 1, Width: 15, Body: parse(b, "p2, 2/2 RC, p1, 2/1 LPC, k3, p2")}
		group := append([]instruction.Node{edge}, parse(b, "k1")...)
		group = append(group, plait)
		group = append(group, parse(b, "p1")...)
		all := &instruction.Repeat{Body: group, Extent: instruction.Extent{N: instruction.N(15)}}
		benchmarkRow(b, []instruction.Node{all})
	})
}

func benchmarkRow(b *testing.B, nodes []instruction.Node) {
	f := fabric.CastOn(300).Begin(true, instruction.SideUnsaid)
	b.ReportAllocs()
	for b.Loop() {
		did := f.Work(nodes, fabric.Row{Rounds: true})
		if did.Problem != nil {
			b.Fatal(did.Problem.Message)
		}
	}
	b.ReportMetric(300*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mst/s")
}
