package chart_test

import (
	"bytes"
	"fmt"
	"image/png"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/chart/picturetest"
	"clew/patterns/samples"
)

// odd has much of what is rare: macros that turn, crosses written out, on the
// wrong side and with a decrease, beads, short rows, a buttonhole.
const odd = `Pattern: Odd things
Worked: in rows
Cast on: 24
Abbreviation: MB = (k1, yo, k1) in next st, turn, p3, turn, k3tog

Section: Odd
Row 1: k2, MB, k3, 3/3 RC, k2 tbl, sl 1, k2tog, psso, k2, p4tog, k1.
Row 2: p3, sl 1 to cn, hold in back, k2, p1 from cn, p2tog, k to end.
Row 3: k4, sl 2 to cn, hold in front, p2, k2 from cn, kfb, k1b, pfb, k1, place bead, k to end.
Row 4: p4, w&t.
Row 5: k to end.
Row 6: p2, p2tog, ssp, m1p, p1, yo, p to end.
Row 7: k2, BO 3, k to end.
Row 8: p to last 2 sts, CO 3, p2.
Row 9: k2, 4/4 LPC, 1/1 RC, RT, k to end.
Row 10: p5, sl 1, k2, psso, p to end.
Row 11: BO 5, k to end.
`

// sectionOf gives a section of a sample, with its third row marked.
func sectionOf(t testing.TB, sample, section string) chart.View {
	t.Helper()
	s, ok := samples.Find(sample)
	if !ok {
		t.Fatalf("there is no sample %s", sample)
	}
	plan := laidOut(t, s.Text, 0)
	from, ok := plan.Find(section, 1)
	if !ok {
		t.Fatalf("%s has no section %s", sample, section)
	}
	return chart.View{Plan: plan, From: from, To: from + plan.SectionRows(section) - 1, Here: from + 2}
}

// TestLooks compares charts with those that someone has looked at.
func TestLooks(t *testing.T) {
	strange := laidOut(t, odd, 0)
	views := map[string]chart.View{
		"floats":    sectionOf(t, "float-hat", "Floats"),
		"crown":     sectionOf(t, "float-hat", "Crown"),
		"gulls":     sectionOf(t, "gull-kerchief", "Gulls"),
		"cobbles":   sectionOf(t, "cobble-cowl", "Cobbles"),
		"heel-turn": sectionOf(t, "boathouse-socks", "Heel turn"),
		"odd":       {Plan: strange, From: 0, To: len(strange.Rows) - 1, Here: 3},
	}
	for name, v := range views {
		t.Run(name, func(t *testing.T) {
			p, err := chart.Draw(v)
			if err != nil {
				t.Fatal(err)
			}
			data, err := p.PNG(1)
			if err != nil {
				t.Fatal(err)
			}
			picturetest.Compare(t, data, "testdata/chart-"+name+".png")
		})
	}
}

// TestOddFacts reads the odd pattern back.
func TestOddFacts(t *testing.T) {
	plan := laidOut(t, odd, 0)
	v := chart.View{Plan: plan, From: 0, To: len(plan.Rows) - 1, Here: -1}
	compare(t, v)
	p, err := chart.Draw(v)
	if err != nil {
		t.Fatal(err)
	}
	svg := groupsOf(t, p.SVG(""))
	if n := len(svg.all("wrap")); n != 1 {
		t.Errorf("%d wrapped stitches are drawn, and row 4 wraps one", n)
	}
	texts := map[string]bool{}
	for _, k := range svg.all("key-entry") {
		if texts[k.data["text"]] {
			t.Errorf("the key says %q twice", k.data["text"])
		}
		texts[k.data["text"]] = true
	}
	for _, want := range []string{
		"knit on the right side, purl on the wrong side",
		"k  knit, on the wrong side",
		"3/3 RC  three over three right cross",
		"2/2 LPC  two over two left purl cross", // row 3 writes it out
		"sk2p  slip one knitwise, knit two together, pass the slipped stitch over",
		"p2tog  purl two together, on the wrong side",
		"sl 1, k2, psso, on the wrong side",
		"MB  (k1, yo, k1) in next st, turn, p3, turn, k3tog",
		"bead  put a bead on the stitch",
		"w&t  wrap this stitch and turn",
		"no stitch",
	} {
		if !texts[want] {
			t.Errorf("the key does not say %q", want)
		}
	}
}

// TestKeyHasOnlyWhatIsUsed: the key of a rib is two lines.
func TestKeyHasOnlyWhatIsUsed(t *testing.T) {
	v := sectionOf(t, "boathouse-socks", "Cuff")
	p, err := chart.Draw(v)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(groupsOf(t, p.SVG("")).all("key-entry")); n != 2 {
		t.Errorf("the key has %d entries, and there are knits and purls alone", n)
	}
}

// TestLimits: no picture is wider or higher than it may be, and one that leaves
// something out says so and has the marked row.
func TestLimits(t *testing.T) {
	long := func(stitches, rows int) *patterns.Plan {
		return laidOut(t, fmt.Sprintf("Pattern: Long\nWorked: in rows\nCast on: %d\n\nSection: Long\nRow 1: k1, p to end.\nRow 2: k to end.\nRows 3-%d: repeat rows 1-2.\n", stitches, rows), 0)
	}
	strewn := func(purls int) *patterns.Plan {
		var row strings.Builder
		for i := range purls { // purls further and further apart: nothing repeats
			fmt.Fprintf(&row, "p1, k%d, ", i+1)
		}
		return laidOut(t, fmt.Sprintf("Pattern: Wide\nWorked: in rows\nCast on: 2000\n\nSection: Wide\nRow 1: %sk to end.\nRow 2: p to end.\n", row.String()), 0)
	}
	tests := []struct {
		name string
		plan *patterns.Plan
		cut  string
	}{
		{"two hundred rows", long(10, 200), ""},
		{"a thousand rows", long(10, 1000), chart.CutRows},
		{"more than forty thousand stitches", long(500, 200), chart.CutRows},
		{"a wide row", strewn(50), chart.CutStitches},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			rows := len(test.plan.Rows)
			for _, here := range []int{-1, 0, rows / 2, rows - 1} {
				p, err := chart.Draw(chart.View{Plan: test.plan, From: 0, To: rows - 1, Here: here})
				if err != nil {
					t.Fatal(err)
				}
				f := p.Facts()
				if f.Cut != test.cut {
					t.Errorf("with row %d marked: cut to %q, want %q", here+1, f.Cut, test.cut)
				}
				if f.Cut != "" && f.Whole != [2]int{1, rows} {
					t.Errorf("cut from rows %v, want 1 to %d", f.Whole, rows)
				}
				if here >= 0 && (f.Here != here+1 || len(groupsOf(t, p.SVG("")).all("here")) != 1) {
					t.Errorf("row %d is not marked", here+1)
				}
				if here < 0 && f.First != 1 {
					t.Errorf("begins with row %d", f.First)
				}
				data, err := p.PNG(1)
				if err != nil {
					t.Fatal(err)
				}
				size, err := png.DecodeConfig(bytes.NewReader(data))
				if err != nil {
					t.Fatal(err)
				}
				if size.Width != chart.Width || size.Height > chart.MaxHeight {
					t.Errorf("%d by %d pixels", size.Width, size.Height)
				}
			}
		})
	}
}

func TestNothingToDraw(t *testing.T) {
	plan := laidOut(t, odd, 0)
	for _, v := range []chart.View{{}, {Plan: plan, From: 3, To: 2}, {Plan: plan, From: 0, To: len(plan.Rows)}, {Plan: plan, From: -1, To: 2}} {
		if _, err := chart.Draw(v); err != chart.ErrNoRows {
			t.Errorf("rows %d to %d: %v", v.From, v.To, err)
		}
	}
}

func ExampleDraw() {
	sample, _ := samples.Find("float-hat")
	pattern, _ := patterns.Read([]byte(sample.Text))
	plan, err := pattern.PanelPlan(0, "Float")
	if err != nil {
		fmt.Println(err)
		return
	}
	picture, err := chart.Draw(chart.View{Plan: plan, From: 0, To: 11, Here: -1})
	if err != nil {
		fmt.Println(err)
		return
	}
	facts := picture.Facts()
	fmt.Println(facts.Name, facts.First, facts.Last, facts.Most)
	fmt.Println(bytes.Count(picture.SVG(""), []byte(`class="cross"`)), "crosses")
	// Output:
	// Float 1 12 15
	// 7 crosses
}

// TestKeySaysTheSide: what was worked on the wrong side, and has words of its own,
// says so, since its words are those of that side.
func TestKeySaysTheSide(t *testing.T) {
	plan := laidOut(t, "Pattern: Sides\nWorked: in rows\nCast on: 12\n\nSection: Sides\nRow 1: 2/2 RC, k to end.\nRow 2: 2/2 RC, sl 3 to cn, hold in back, k1, p1, k3 from cn, p to end.\n", 0)
	p, err := chart.Draw(chart.View{Plan: plan, To: 1, Here: -1})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, k := range groupsOf(t, p.SVG("")).all("key-entry") {
		said[k.data["text"]] = true
	}
	for _, want := range []string{
		"2/2 RC  two over two right cross",
		"2/2 RC  two over two right cross, on the wrong side",
		"sl 3 to cn, hold in back, k1, p1, k3 from cn, on the wrong side",
	} {
		if !said[want] {
			t.Errorf("the key does not say %q, but %v", want, said)
		}
	}
}
