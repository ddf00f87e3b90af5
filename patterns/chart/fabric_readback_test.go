package chart_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/samples"
	"clew/patterns/stitch"
)

// drawnFabric is a fabric picture as its SVG tells of it.
type drawnFabric struct {
	rows    []int // indexes of the rows, in the order drawn
	here    []string
	needle  int // stitches on it; -1 for none drawn
	strands []drawnStrand
	// stitches of each row by column, and how many of them were drawn twice.
	stitches map[int]map[int32]drawnStitch
	twice    int
	held     int
	bars     map[int]int
	holes    map[int]int
	bobbles  map[int]int
	beads    int
}

type drawnStitch struct {
	face, state, lean string
	x                 float64
}

type drawnStrand struct {
	index    int
	over     bool
	to       string
	stitches int
	columns  []int32 // of those drawn with it in its own row
}

// readFabric reads the facts of an SVG back.
func readFabric(t rapid.TB, svg []byte) drawnFabric {
	t.Helper()
	d := drawnFabric{needle: -1, stitches: map[int]map[int32]drawnStitch{}, bars: map[int]int{}, holes: map[int]int{}, bobbles: map[int]int{}}
	var open []string
	for decoder := xml.NewDecoder(strings.NewReader(string(svg))); ; {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return d
		} else if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.StartElement:
			data := map[string]string{}
			for _, a := range e.Attr {
				data[a.Name.Local] = a.Value
			}
			open = append(open, data["class"])
			d.element(t, data, open)
		}
	}
}

func (d *drawnFabric) element(t rapid.TB, data map[string]string, open []string) {
	number := func(key string) int {
		n, err := strconv.Atoi(data[key])
		if err != nil {
			t.Fatalf("%s: %v", key, err)
		}
		return n
	}
	switch data["class"] {
	case "row":
		d.rows = append(d.rows, number("data-index"))
	case "here":
		d.here = append(d.here, data["data-row"])
	case "needle":
		d.needle = number("data-stitches")
	case "held":
		d.held++
	case "bar":
		d.bars[number("data-index")]++
	case "hole":
		d.holes[number("data-index")]++
	case "bobble":
		d.bobbles[number("data-index")]++
	case "bead":
		d.beads++
	case "strand":
		d.strands = append(d.strands, drawnStrand{index: number("data-index"), over: data["data-over"] == "true", to: data["data-to"], stitches: number("data-stitches")})
	case "stitch":
		i, column := number("data-index"), int32(number("data-column"))
		x, err := strconv.ParseFloat(data["data-at"], 64)
		if err != nil {
			t.Fatal(err)
		}
		if d.stitches[i] == nil {
			d.stitches[i] = map[int32]drawnStitch{}
		}
		if _, drawn := d.stitches[i][column]; drawn {
			d.twice++
		}
		d.stitches[i][column] = drawnStitch{data["data-face"], data["data-state"], data["data-lean"], x}
		if len(open) > 1 && open[len(open)-2] == "strand" {
			if s := &d.strands[len(d.strands)-1]; s.index == i {
				s.columns = append(s.columns, column)
			}
		}
	}
}

// fabricPatterns are the patterns of which pictures are looked at.
func fabricPatterns(t rapid.TB) map[string]string {
	t.Helper()
	sampler, err := os.ReadFile("testdata/sampler.txt")
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{"sampler": string(sampler)}
	for _, s := range samples.All() {
		texts[s.Name] = s.Text
	}
	return texts
}

// TestFabricShowsTheFabric compares what is drawn of every row of every sample
// with the stitches that the fabric engine has: the whole of it, and each section
// of every size.
func TestFabricShowsTheFabric(t *testing.T) {
	for name, text := range fabricPatterns(t) {
		p, _ := patterns.Read([]byte(text))
		for size := range p.SizeCount() {
			t.Run(fmt.Sprintf("%s/%d", name, size), func(t *testing.T) {
				t.Parallel()
				plan := laidOut(t, text, size)
				if size == 0 {
					checkFabric(t, name, chart.View{Plan: plan, To: len(plan.Rows) - 1, Here: len(plan.Rows) / 2, Fabric: true})
				}
				for _, rows := range sections(plan) {
					checkFabric(t, name, chart.View{Plan: plan, From: rows[0], To: rows[1], Here: -1, Fabric: true})
				}
			})
		}
	}
}

// checkFabric draws a view that needs no cutting and compares it with the plan.
func checkFabric(t rapid.TB, name string, v chart.View) {
	t.Helper()
	picture, err := chart.DrawWhole(v)
	if err != nil {
		t.Fatal(name, err)
	}
	d := readFabric(t, picture.SVG(""))
	if len(d.rows) != v.To-v.From+1 || d.twice > 0 {
		t.Errorf("%s: %d rows are drawn, and %d stitches twice", name, len(d.rows), d.twice)
	}
	if hereWanted := min(1, max(0, v.Here+1)); len(d.here) != hereWanted {
		t.Errorf("%s: %d rows are marked", name, len(d.here))
	}
	last := v.Plan.Rows[v.To].After.Count()
	if last == 0 {
		last = -1
	}
	if d.needle != last && len(v.Plan.Rows[v.To].After.Loops()) > 0 {
		t.Errorf("%s: %d stitches are on the needle, and %d were expected", name, d.needle, last)
	}
	moves, width := movesOf(v), d.width()
	for i := v.From; i <= v.To; i++ {
		checkStitches(t, name, v.Plan, i, d)
		checkStrands(t, name, v.Plan.Rows[i], i, d)
		if i > v.From {
			checkColumns(t, name, v, i, moves, width, d)
		}
	}
}

// checkStitches compares the stitches of one row: each that is on the needle
// after it stands there once with its face, and what was bound off besides.
func checkStitches(t rapid.TB, name string, plan *patterns.Plan, i int, d drawnFabric) {
	t.Helper()
	r := plan.Rows[i]
	at := name + " " + r.Section.Name + " " + strconv.Itoa(r.Number)
	boundOff := 0
	for _, a := range plan.Acts(i) {
		if a.Stitch != nil && a.Stitch.Kind == stitch.BindOff {
			boundOff++
		}
	}
	if n := len(d.stitches[i]); n != r.After.Count()+boundOff {
		t.Errorf("%s: %d stitches are drawn; on the needle are %d, and %d were bound off", at, n, r.After.Count(), boundOff)
	}
	for _, l := range r.After.Loops() {
		s, drawn := d.stitches[i][l.Column]
		if face := []string{"knit", "purl"}[l.Face]; !drawn || s.face != face || s.state == "bound" {
			t.Errorf("%s: column %d is %+v, and should show a %s", at, l.Column, s, face)
		}
	}
	for _, s := range d.stitches[i] {
		if s.state == "bound" {
			boundOff--
		}
	}
	if boundOff != 0 {
		t.Errorf("%s: %d of the stitches bound off are not drawn so", at, boundOff)
	}
}

// checkStrands compares the crosses of a row with those that the engine noted:
// which strand is on top, and which way it goes.
func checkStrands(t rapid.TB, name string, r *patterns.Row, i int, d drawnFabric) {
	t.Helper()
	at := name + " " + r.Section.Name + " " + strconv.Itoa(r.Number)
	want := map[int32]string{} // direction of each column in a front strand, seen from the right side
	for _, c := range r.Crossings {
		front, behind := c.Front, c.Behind
		if c.Side == instruction.WS {
			front, behind = behind, front
		}
		for _, l := range front {
			want[l.Column] = "right"
			if place(r.Before, l.Column) < place(r.Before, behind[0].Column) { // it was at the right of it
				want[l.Column] = "left"
			}
		}
	}
	fronts, under := 0, false
	for _, s := range d.strands {
		if s.index != i {
			continue
		}
		if !s.over {
			under = true
			continue
		}
		fronts++
		if !under {
			t.Errorf("%s: a strand in front is drawn before those behind it", at)
		}
		under = false
		if len(s.columns) > s.stitches {
			t.Errorf("%s: a strand of %d has %d stitches", at, s.stitches, len(s.columns))
		}
		for _, column := range s.columns {
			if want[column] != s.to {
				t.Errorf("%s: the strand of column %d passes in front to the %s; %q was expected", at, column, s.to, want[column])
			}
		}
	}
	if fronts != len(r.Crossings) {
		t.Errorf("%s: %d strands are drawn in front, and there are %d crosses", at, fronts, len(r.Crossings))
	}
}

func place(f fabric.Fabric, column int32) int {
	for i, l := range f.Loops() {
		if l.Column == column {
			return i
		}
	}
	return -1
}

// A rowMove is what may move the columns of a row.
type rowMove struct {
	bulk  bool
	made  int // stitches that it makes, takes together or lifts over others, in all
	cross int // the width of its widest cross
}

func movesOf(v chart.View) []rowMove {
	moves := make([]rowMove, v.To+1)
	for i := v.From; i <= v.To; i++ {
		acts := v.Plan.Acts(i)
		m := rowMove{bulk: i > v.From && bulk(v.Plan, i, acts)}
		for _, a := range acts {
			m.made += abs(len(a.Makes)-len(a.Uses)) + len(a.Passed)
		}
		for _, c := range v.Plan.Rows[i].Crossings {
			m.cross = max(m.cross, c.Cross.Named.Uses(), len(c.Front)+len(c.Behind))
		}
		moves[i] = m
	}
	return moves
}

// checkColumns follows the columns of a row from the one below. A column that no
// cross moves leans by no more than half of what the rows near it, over which a
// change of width is shared out, make or take together: where the width changes,
// each end of a row moves by half the change, and all between them by less. One
// that is crossed moves by the width of the cross besides. (Not where stitches
// leave the needle or join it at once: then a whole half of a row moves.)
func checkColumns(t rapid.TB, name string, v chart.View, i int, moves []rowMove, width float64, d drawnFabric) {
	t.Helper()
	r := v.Plan.Rows[i]
	const shared = 14
	made, wide := 0, 0
	for k := max(v.From, i-shared); k <= min(v.To, i+shared); k++ {
		if moves[k].bulk {
			return
		}
		made = max(made, moves[k].made)
		if abs(k-i) <= 3 {
			wide = max(wide, moves[k].cross)
		}
	}
	bound := width*(float64(made)/2+float64(wide)+0.5) + 1
	for column, s := range d.stitches[i] {
		below, stood := d.stitches[i-1][column]
		if stood && (s.x-below.x > bound || below.x-s.x > bound) {
			t.Errorf("%s %s %d: column %d moves from %.1f to %.1f; %.1f is explained", name, r.Section.Name, r.Number, column, below.x, s.x, bound)
		}
	}
	checkOrder(t, name, v, i, wide, d)
}

// checkOrder says that stitches side by side on the needle stand side by side in
// the picture, from right to left, where no cross bends them.
func checkOrder(t rapid.TB, name string, v chart.View, i, wide int, d drawnFabric) {
	t.Helper()
	r := v.Plan.Rows[i]
	loops := r.After.Loops()
	for k := 1; k < len(loops) && wide == 0; k++ {
		right, left := d.stitches[i][loops[k-1].Column], d.stitches[i][loops[k].Column]
		if right.x <= left.x {
			t.Errorf("%s %s %d: stitch %d stands at %.1f, and the next one to its left at %.1f", name, r.Section.Name, r.Number, k, right.x, left.x)
		}
	}
}

// bulk says that a row binds off, casts on, picks up, or puts stitches on hold
// or takes them back, or that it begins a piece.
func bulk(plan *patterns.Plan, i int, acts []fabric.Act) bool {
	for _, a := range acts {
		if _, held := a.Node.(*instruction.Held); held {
			return true
		}
		if a.Stitch != nil && (a.Stitch.Kind == stitch.BindOff || a.Stitch.Kind == stitch.CastOn) {
			return true
		}
	}
	return plan.Rows[i].Before.Count() != plan.Rows[i-1].After.Count()
}

// width is how wide a stitch is drawn, about: the mean of the row where that is
// most.
func (d drawnFabric) width() float64 {
	widest := 0.0
	for _, row := range d.stitches {
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range row {
			low, high = min(low, s.x), max(high, s.x)
		}
		if len(row) > 1 {
			widest = max(widest, (high-low)/float64(len(row)-1))
		}
	}
	return widest
}

func abs(n int) int { return max(n, -n) }
