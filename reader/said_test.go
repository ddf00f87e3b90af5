package reader_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/reader"
)

var update = flag.Bool("update", false, "write the golden files anew")

// A written row, with what it is worked on. The kinds of rows are those of
// FORMAT.md §6 and of the public-domain handbooks; the sections and names are
// invented.
type written struct {
	name     string
	on       int      // stitches cast on
	after    []string // rows worked before it
	row      string
	panels   map[string]string // the row is an Across line; each panel's width and row: "3: k1, p1, k1"
	unworked int               // stitches left by a turn
	reader.Row
	form reader.Form
}

var writtenRows = []written{
	{name: "all knit", on: 96, row: "knit"},
	{name: "all purl, wrong side", on: 30, row: "purl", Row: reader.Row{Section: "Yoke", Number: 6, WrongSide: true}},
	{name: "all knit through the back loop", on: 12, row: "k12 tbl"},
	{name: "one stitch alone", on: 1, row: "k1"},
	{name: "first of a section", on: 96, row: "*k1, p1; rep from * to end", Row: reader.Row{Section: "Brim", Number: 1, Round: true, First: true, SectionRows: 8}},
	{name: "first of a flat section of one row", on: 4, row: "k4", Row: reader.Row{Section: "Edge", Number: 1, First: true, SectionRows: 1}},
	{name: "a tip", on: 4, row: "k4", Row: reader.Row{Section: "Edge", Number: 2, Tips: []string{"keep the cn close.", "check: 10 sts = 4 in"}}},

	{name: "slips and edges", on: 12, row: "sl 1 pwise wyif, k4, sl 2 kwise wyib, p3 tbl, sl 1, k1"},
	{name: "to a place", on: 40, after: []string{"k20, pm, k20"}, row: "k3, p to 1 st before m, k1, sm, k to last 3 sts, p3"},
	{name: "raglan row", on: 40, after: []string{"k20, pm, k20"}, row: "k to 1 st before m, m1l, k1, sm, k1, m1r, k to end"},
	{name: "markers placed and removed", on: 20, after: []string{"k4, pm, k16"}, row: "k to m, rm, k6, pm 2 times, k to end"},

	{name: "longhand decreases", on: 20, row: "sl 1 kwise, k1, psso, k4, sl 1, k2tog, psso, k4, sl 2 kwise, k1, p2sso, k4"},
	{name: "decreases several times", on: 30, row: "k2tog 4 times, ssk 3 times, skp, k2tog tbl 2 times, k to end"},
	{name: "slip slip knit to the end", on: 30, row: "k2, ssk to last 4 sts, k4"},
	{name: "increases", on: 12, row: "k1, m1l, k2, yo 2, k2, kfb, m1p, pfb twice, kfbf, k to end"},
	{name: "feather and fan", on: 36, row: "*k2tog 3 times, [yo, k1] 6 times, k2tog 3 times; rep from * to end"},
	{name: "crown round", on: 96, row: "*k6, k2tog; rep from * to end"},
	{name: "to the last none", on: 24, row: "*k2tog; rep from * to last 0 sts"},
	{name: "a group to the last none", on: 12, row: "[k1, p1] to last 0 sts"},
	{name: "nested repeat", on: 60, row: "[[k1, yo, k2tog] 3 times, p1] to end"},
	{name: "three levels", on: 48, row: "[p1, [k1, [p2tog, yo] twice, k1] twice, p3] to end"},
	{name: "long group", on: 40, row: "*k1, p1, k1, p1, k1, p1, k1, p1, k2, p2, k2, p2, k4; rep from * to end"},
	{name: "a long plain list", on: 22, row: "k1, p1, k2, p2, k1, p1, k2, p2, k1, p1, k2, p2, k1, p1, k2"},
	{name: "folded group", on: 20, row: "[k2tog] 4 times, [k2] 3 times, [p1] to end"},

	{name: "right purl cross, first time", on: 12, row: "p4, 2/2 RPC, p4"},
	{name: "the same cross, heard before", on: 12, row: "p4, 2/2 RPC, p4", form: reader.Form{Heard: map[string]bool{"2/2 RPC": true}}},
	{name: "crosses always by name", on: 24, row: "p2, 2/2 RPC, 2/2 LPC, p2, C4B 3 times", form: reader.Form{Crosses: reader.AlwaysShort}},
	{name: "crosses always in full", on: 8, row: "RT, p4, RT", form: reader.Form{Crosses: reader.AlwaysFull}},
	{name: "three strands", on: 9, row: "k2, 2/1/2 LPC, k2"},
	{name: "a cross several times", on: 14, row: "k1, C4F 3 times, k1"},
	{name: "a cable round, by name", on: 48, row: "*p2, C4B; rep from * to end", form: reader.Form{Crosses: reader.AlwaysShort}},
	{name: "a cable round, in full", on: 48, row: "*p2, C4B; rep from * to end"},
	{name: "longhand cross that has a name", on: 8, row: "k2, sl 2 to cn, hold in back, k2, p2 from cn, k2"},
	{name: "longhand cross of its own", on: 9, row: "k2, sl 3 to cn, hold in front, p2, (p1, k2) from cn, k2"},
	{name: "longhand cross, side unsaid", on: 6, row: "sl 3 to cn, k3, k3 from cn"},
	{name: "long cross", on: 14, row: "sl 9 to cn, hold in back, k3, (p1, k1, p1, k1, p1, k1, p1, k2) from cn, k2"},
	{name: "cross with a stitch worked into", on: 6, row: "sl 2 to cn, hold in front, (k1, yo, k1) in next st, k2 from cn, k3"},

	{name: "into one stitch", on: 7, row: "k3, (k1, yo, k1) in next st, k3"},
	{name: "into each of several", on: 10, row: "k3, (k1, p1, k1) in each of next 4 sts, k3"},
	{name: "bobble of nine", on: 7, row: "k3, ([k1, yo] 4 times, k1) in next st, k3"},

	{name: "bind off at the start", on: 20, row: "BO 5 sts, k to end"},
	{name: "buttonhole", on: 20, row: "k4, BO 3 sts, CO 3 sts, k to end"},
	{name: "bind off all", on: 20, row: "BO all sts"},
	{name: "pick up", on: 20, row: "k20, pick up and knit 15 sts along the edge"},
	{name: "hold and return", on: 60, after: []string{"put 1 st on hold, k to end"}, row: "k29, put 30 sts on hold, return 1 held st, k1"},
	{name: "short row", on: 30, row: "k20, w&t", unworked: 10},
	{name: "short row there and back", on: 30, row: "k20, turn, p10, turn, k8, w&t", unworked: 12},
	{name: "two colours", on: 36, row: "*with MC, k4, with CC, k2; rep from * to end"},
	{name: "more colours", on: 12, row: "with CC2, k4; with Old Rose 3, k4; with MC, k4"},
	{name: "beads", on: 10, row: "k4, place bead, k3, pb twice, k3"},

	{name: "as it looks, short", on: 12, after: []string{"p3, k2, p4, k3"}, row: "work sts as they present"},
	{name: "as it looks, ribbing", on: 96, after: []string{"*k2, p2; rep from * to end"}, row: "knit the knits and purl the purls"},
	{name: "against the look, part of it", on: 22, after: []string{"k2, [k2, p2] 4 times, k4"}, row: "k2, opposite to last 4 sts, k4"},
	{name: "as it looks, long and uneven", on: 28, after: []string{"k1, p2, k3, p1, k2, p4, k2, p1, k3, p2, k1, p6"}, row: "work sts as they present"},

	{name: "one panel", on: 8, row: "Seed edge", panels: map[string]string{"Seed edge": "8: [k1, p1] to last 2 sts, k to end"}},
	{name: "panels side by side", on: 120, row: "[Seed edge, k1, Lantern, k1] 8 times", panels: lanterns},
	{name: "panels, heard before", on: 120, row: "[Seed edge, k1, Lantern, k1] 8 times", panels: lanterns, form: reader.Form{Crosses: reader.AlwaysShort}},
	{name: "columns at both ends", on: 46, row: "p2, Seed edge, [p1, k1] 2 times, Lantern, [k1, Lantern, Seed edge] 2 times, k2", form: reader.Form{Crosses: reader.AlwaysShort},
		panels: map[string]string{"Seed edge": "3: work sts as they present", "Lantern": "9: p2, 3/2 LC, p2"}},
}

var lanterns = map[string]string{"Seed edge": "3: k1, p1, k1", "Lantern": "10: p1, 2/2 RPC, 2/2 LPC, p1"}

// work works a row of the table after those before it.
func (w written) work(t testing.TB) reader.Row {
	t.Helper()
	row := w.Row
	if row.Section == "" {
		row.Section, row.Number, row.Round = "Lanterns", 41, true
	}
	f := fabric.CastOn(w.on)
	for _, before := range w.after {
		f = workedRow(t, f, before, row.Round).After
	}
	row.Before = f.Count()
	body := w.body(t)
	result := f.Work(body, fabric.Row{Rounds: row.Round})
	if result.Problem != nil {
		t.Fatalf("%s: %s", w.row, result.Problem.Text())
	}
	row.Body, row.After = result.Done, result.After.Count()
	row.Unworked = w.unworked
	return row
}

func (w written) body(t testing.TB) []instruction.Node {
	if w.panels == nil {
		return readRow(t, w.row)
	}
	body, problems := instruction.ParseAcross(w.row, problem.Span{End: len(w.row)}, instruction.Options{Panels: slices.Sorted(maps.Keys(w.panels))})
	if len(problems) > 0 {
		t.Fatalf("%s: %s", w.row, problems[0].Text())
	}
	w.fill(t, body)
	return body
}

// fill gives the panels of an Across line their rows.
func (w written) fill(t testing.TB, body []instruction.Node) {
	for _, n := range body {
		switch n := n.(type) {
		case *instruction.Repeat:
			w.fill(t, n.Body)
		case *instruction.Strip:
			width, row, _ := strings.Cut(w.panels[n.Panel], ": ")
			fmt.Sscan(width, &n.Width)
			n.Body = readRow(t, row)
		}
	}
}

func readRow(t testing.TB, text string) []instruction.Node {
	t.Helper()
	in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
	if len(problems) > 0 {
		t.Fatalf("%s: %s", text, problems[0].Text())
	}
	return in.Body
}

func workedRow(t testing.TB, f fabric.Fabric, text string, round bool) fabric.Result {
	t.Helper()
	result := f.Work(readRow(t, text), fabric.Row{Rounds: round})
	if result.Problem != nil {
		t.Fatalf("%s: %s", text, result.Problem.Text())
	}
	return result
}

// TestSaid compares every row of the table, as it is said step by step, with
// what was read aloud and found good.
func TestSaid(t *testing.T) {
	var b strings.Builder
	for _, w := range writtenRows {
		said := reader.Say(w.work(t), w.form)
		fmt.Fprintf(&b, "== %s\n%d: %s\n", w.name, w.on, w.row)
		for _, step := range said.StepTexts() {
			fmt.Fprintf(&b, "   %s\n", step)
		}
		b.WriteByte('\n')
	}
	golden(t, "testdata/said.txt", b.String())
}

// golden compares text with a golden file, or writes the file under -update.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs; go test ./reader -update writes it anew, to be read aloud:\n%s", path, diff)
	}
}
