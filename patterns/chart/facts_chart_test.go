package chart_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/samples"
	"clew/patterns/stitch"
)

// laidOut reads a pattern and lays it out in one of its sizes.
func laidOut(t tester, text string, size int) *patterns.Plan {
	t.Helper()
	p, problems := patterns.Read([]byte(text))
	choice := patterns.Choice{}
	if size < len(p.Sizes) {
		choice.Size = p.Sizes[size]
	}
	plan, err := p.LayOut(choice)
	if err != nil {
		t.Fatalf("%v %v", err, problems)
	}
	return plan
}

// sections gives the first and the last row of each section of a plan.
func sections(plan *patterns.Plan) [][2]int {
	var out [][2]int
	from := 0
	for i := range plan.Rows {
		if i == len(plan.Rows)-1 || plan.Rows[i+1].Section != plan.Rows[i].Section {
			out = append(out, [2]int{from, i})
			from = i + 1
		}
	}
	return out
}

// TestSamplesAsCharts draws every section and every panel of the samples, in all
// sizes, and compares what the SVG shows with what the fabric says of the rows.
func TestSamplesAsCharts(t *testing.T) {
	for _, s := range samples.All() {
		p, _ := patterns.Read([]byte(s.Text))
		for size := range p.SizeCount() {
			plan := laidOut(t, s.Text, size)
			for _, rows := range sections(plan) {
				name := fmt.Sprintf("%s/%d/%s", s.Name, size, plan.Rows[rows[0]].Section.Name)
				t.Run(name, func(t *testing.T) {
					compare(t, chart.View{Plan: plan, From: rows[0], To: rows[1], Here: rows[0]})
				})
			}
			for _, panel := range p.Panels {
				t.Run(fmt.Sprintf("%s/%d/panel %s", s.Name, size, panel.Name), func(t *testing.T) {
					plan, err := p.PanelPlan(size, panel.Name)
					if err != nil {
						t.Fatal(err)
					}
					compare(t, chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1})
				})
			}
		}
	}
}

// TestHandbookAsCharts does the same for patterns from handbooks that are out of
// copyright; their sources stand in the data.
func TestHandbookAsCharts(t *testing.T) {
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []struct {
			ID       string
			Name     string
			Rounds   bool `json:"in_the_round"`
			CastOn   int  `json:"cast_on"`
			Connects bool
			Rows     []struct {
				Label any    `json:"n"`
				Text  string `json:"text_modern"`
			}
		}
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, e := range book.Examples {
		if !e.Connects {
			continue
		}
		word, worked := "Row", "in rows"
		if e.Rounds {
			word, worked = "Round", "in rounds"
		}
		var b strings.Builder
		fmt.Fprintf(&b, "Pattern: %s\nWorked: %s\nCast on: %d\n\nSection: Whole\n", e.Name, worked, e.CastOn)
		for i, r := range e.Rows {
			fmt.Fprintf(&b, "%s %d: %s.\n", word, i+1, r.Text)
		}
		p, _ := patterns.Read([]byte(b.String()))
		plan, err := p.LayOut(patterns.Choice{})
		if err != nil { // a label that stands for several rows
			continue
		}
		drawn++
		t.Run(e.ID, func(t *testing.T) {
			compare(t, chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1})
		})
	}
	if drawn < 40 {
		t.Errorf("only %d patterns of the handbooks were drawn", drawn)
	}
}

// A tester is a test, or one case of a random one.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// compare draws rows and compares the SVG with the fabric: how many rows, which
// number and side, how many stitches the cells of each make, the crosses with the
// strand in front, the numbers of the stitches, and the repeat.
func compare(t tester, v chart.View) {
	t.Helper()
	p, err := chart.Draw(v)
	if err != nil {
		t.Fatalf("%v", err)
	}
	f := p.Facts()
	if f.Cut == chart.CutRows {
		t.Fatalf("%d rows are cut", v.To-v.From+1)
	}
	svg := groupsOf(t, p.SVG(""))
	rows := svg.all("row")
	if len(rows) != v.To-v.From+1 {
		t.Fatalf("%d rows are drawn of %d", len(rows), v.To-v.From+1)
	}
	times := 1
	if boxes := svg.all("repeat"); len(boxes) > 0 {
		times = boxes[0].number(t, "times")
	}
	if times != max(1, f.Times) {
		t.Errorf("the box says %d times, the facts %d", times, f.Times)
	}
	for i, g := range rows {
		r := v.Plan.Rows[v.From+i]
		if g.number(t, "row") != r.Number || g.data["side"] != r.Side.String() {
			t.Errorf("row %d is drawn as %s %s", r.Number, g.data["row"], g.data["side"])
		}
		if f.WholeFrom > 0 && r.Number >= f.WholeFrom {
			compareRow(t, g, v, v.From+i, 1)
		} else if f.Cut == "" {
			compareRow(t, g, v, v.From+i, times)
		}
	}
	if here := svg.all("here"); (len(here) > 0) != (v.Here >= 0) {
		t.Errorf("%d rows are marked", len(here))
	}
	for i, n := range svg.all("stitch-number") {
		if got := n.number(t, "number"); i == 0 && got != 1 && f.Cut == "" {
			t.Errorf("the stitches are numbered from %d", got)
		}
	}
	if len(svg.all("key")) != 1 {
		t.Errorf("there is no key")
	}
}

// compareRow compares one row. Times is how often the cells stand side by side
// that belong to a repeat drawn once.
func compareRow(t tester, g *group, v chart.View, i, times int) {
	t.Helper()
	r := v.Plan.Rows[i]
	var once []*group
	if times > 1 {
		once = g.all("once")
		if len(once) != 1 {
			t.Fatalf("row %d has %d repeats", r.Number, len(once))
		}
	}
	count := func(of func(g *group) int) int {
		n := of(g)
		for _, o := range once {
			n += (times - 1) * of(o)
		}
		return n
	}
	if n := count(func(g *group) int { return len(g.all("cross")) }); n != len(r.Crossings) {
		t.Errorf("row %d shows %d crosses, and the fabric has %d", r.Number, n, len(r.Crossings))
	}
	for _, c := range g.all("cross") {
		frontOf(t, c, r)
	}
	if n, want := count(func(g *group) int { return len(g.all("cell", "cross")) }), acting(v.Plan.Acts(i)); n != want {
		t.Errorf("row %d shows %d cells, and has %d acts that make or use stitches", r.Number, n, want)
	}
	made := count(func(g *group) int {
		n := 0
		for _, c := range g.all("cell", "cross") {
			if c.data["makes"] == "" {
				n++
			} else {
				n += c.number(t, "makes")
			}
		}
		return n
	})
	left := r.Before.Count() - r.Before.Ahead() + r.Unworked() // behind the needles' tips, and ahead where it turns
	if want := r.After.Count() - left; made != want {
		t.Errorf("row %d makes %d stitches in its cells, and %d in the fabric", r.Number, made, want)
	}
}

// frontOf compares the strand that a cross draws in front with the fabric's.
func frontOf(t tester, c *group, r *patterns.Row) {
	t.Helper()
	at := c.number(t, "at") - 1 // a repeat that is drawn once is the first of its kind
	column := r.After.Loops()[at].Column
	where := map[int32]int{}
	for i, l := range r.Before.Loops() {
		where[l.Column] = i
	}
	for _, x := range r.Crossings {
		if !has(x.Front, column) && !has(x.Behind, column) {
			continue
		}
		front, behind := x.Front, x.Behind
		if x.Side == instruction.WS {
			front, behind = behind, front
		}
		if len(front) == 0 || len(behind) == 0 {
			return
		}
		want := "left" // it passes the other one, on whose right it was
		if where[front[0].Column] > where[behind[0].Column] {
			want = "right"
		}
		if hold := x.Cross.Slipped[0].Hold; hold == instruction.HoldUnsaid {
			want = ""
		}
		if c.data["front"] != want {
			t.Errorf("row %d, stitch %d: %s is drawn with the strand to the %q in front, and in the fabric it is %q", r.Number, at+1, c.data["name"], c.data["front"], want)
		}
		return
	}
	t.Errorf("row %d: no cross of the fabric has stitch %d", r.Number, at+1)
}

func has(loops []fabric.Loop, column int32) bool {
	for _, l := range loops {
		if l.Column == column {
			return true
		}
	}
	return false
}

// acting counts what a row has cells for: acts that make or use stitches, where a
// stitch that is passed over another goes with it.
func acting(acts []fabric.Act) int {
	n := 0
	for i, a := range acts {
		switch {
		case len(a.Passed) > 0: // from the slipped stitch to the last one is a single cell
			for j := i - 1; j >= 0; j-- {
				if len(acts[j].Uses)+len(acts[j].Makes) == 0 {
					continue
				}
				if len(acts[j].Makes) > 0 && acts[j].Makes[0] == a.Passed[0] {
					break
				}
				n--
			}
		case a.Stitch != nil && a.Stitch.Kind == stitch.Worked && a.Stitch.Uses > 0 && len(a.Stitch.Makes) == 0:
		case len(a.Uses)+len(a.Makes) > 0:
			n++
		}
	}
	return n
}
