package fit_test

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/samples"
)

// An offer in short: "126 = 7 x 18 + 0, 52.5 cm, then Crown".
func offerOf(c fit.CastOn) string {
	rest := "all"
	if c.Rest != nil {
		rest = "but " + c.Rest.Name
	}
	return fmt.Sprintf("%s: %d = %d x %d + %d, %.1f cm, %s", c.Section.Name, c.Stitches, c.Times, c.Unit, c.Plus, c.Width, rest)
}

// Worked out by hand from the designs.
func TestCastOns(t *testing.T) {
	tests := []struct {
		sample string
		size   int
		width  float64
		want   []string
	}{
		// Six floats of 18 (20, 22). Seven or five come out until the crown has an
		// odd number of stitches to knit two together; four and eight come out to the end.
		{"float-hat", 0, 52, []string{"Floats: 126 = 7 x 18 + 0, 52.5 cm, but Crown", "Floats: 108 = 6 x 18 + 0, 45.0 cm, all"}},
		{"float-hat", 0, 60, []string{"Floats: 144 = 8 x 18 + 0, 60.0 cm, all"}},
		{"float-hat", 1, 36, []string{"Floats: 80 = 4 x 20 + 0, 33.3 cm, all", "Floats: 100 = 5 x 20 + 0, 41.7 cm, but Crown"}},
		// The rope needs twos and the cobbles sixes.
		{"cobble-cowl", 0, 70, []string{"Cobbles: 156 = 26 x 6 + 0, 70.9 cm, all", "Cobbles: 150 = 25 x 6 + 0, 68.2 cm, all"}},
		// Ribs of four; the heel is written for each size.
		{"boathouse-socks", 1, 26, []string{"Leg: 52 = 13 x 4 + 0, 26.0 cm, but Heel flap"}},
		{"boathouse-socks", 1, 22, []string{"Leg: 44 = 11 x 4 + 0, 22.0 cm, all"}}, // the size itself
		// Ribs of four, and an increase every ten (twelve).
		{"mender-mittens", 1, 20, []string{"Cuff: 48 = 4 x 12 + 0, 20.0 cm, all"}},
		{"mender-mittens", 0, 24, []string{"Cuff: 60 = 3 x 20 + 0, 25.0 cm, but Thumb gusset", "Cuff: 40 = 2 x 20 + 0, 16.7 cm, all"}},
		// Plain knitting comes out on any number; across is how deep the cap is.
		{"lee-cap", 0, 20, []string{"Wedges: 40 = 40 x 1 + 0, 20.0 cm, all"}},
	}
	for _, want := range tests {
		found, err := fit.CastOns(sample(t, want.sample), want.size, want.width, nil)
		var got []string
		for _, c := range found {
			got = append(got, offerOf(c))
		}
		if err != nil || strings.Join(got, "; ") != strings.Join(want.want, "; ") {
			t.Errorf("%s, size %d, %v cm: %q, %v; want %q", want.sample, want.size, want.width, got, err, want.want)
		}
	}
}

// 36 inches at 5 stitches to the inch are 180 stitches (common practice, from
// memory).
func TestCastOnInInches(t *testing.T) {
	p := read(t, "Pattern: Scarf\nWorked: in rows\nCast on: 60\n\nSection: Scarf\nRows 1-9: *k1, p1; rep from * to end.\n")
	own, err := fit.ParseGauge("5 to the inch")
	if err != nil {
		t.Fatal(err)
	}
	found, err := fit.CastOns(p, 0, 36*fit.CentimetresPerInch, &own)
	if err != nil || found[0].Stitches != 180 {
		t.Errorf("got %+v, %v; want 180 stitches", found, err)
	}
}

const strip = "Pattern: Strip\nWorked: in rows\nCast on: %d\nGauge: 10 sts and 10 rows = 10 cm\n\nSection: Strip\n%s\n"

func TestCastOnsOfOneSection(t *testing.T) {
	tests := []struct {
		name   string
		castOn int
		rows   string
		width  float64
		want   string
	}{
		{"a group that is counted", 20, "Row 1: [k2, p2] 5 times.", 24, "24 = 6 x 4 + 0"},
		{"edges beside it", 26, "Row 1: k3, [k2, p2] 5 times, k3.", 34, "34 = 7 x 4 + 6"},
		{"to the last stitches", 26, "Row 1: k3, [k2, p2] to last 3 sts, k3.", 34, "34 = 7 x 4 + 6"},
		{"two repeats that have to meet", 24, "Row 1: [k2, p2] to end.\nRow 2: [k3, p3] 4 times.", 36, "36 = 3 x 12 + 0"},
		{"whole rows that are counted", 20, "Row 1: [k2, p2] to end.\nRow 2: p20.", 24, "24 = 6 x 4 + 0"},
		{"a group within a group", 36, "Row 1: [[k1, p1] 3 times, k6] 3 times.", 48, "48 = 4 x 12 + 0"},
		{"stitches that come and go", 24, "Row 1: [k2, yo, k2] to end.\nRow 2: [p2, p2tog, p1] to end.\nRow 3: k.", 28, "28 = 7 x 4 + 0"},
		{"counted while they come and go", 24, "Row 1: [k2, yo, k2] 6 times.\nRow 2: [p2, p2tog, p1] 6 times.\nRow 3: k24.", 28, "28 = 7 x 4 + 0"},
		{"as it looks", 20, "Row 1: [k2, p2] to end.\nRow 2: work sts as they present.", 24, "24 = 6 x 4 + 0"},
		{"other edges in other rows", 22, "Row 1: k1, [k2, p2] to last st, k1.\nRow 2: k3, [p2, k2] to last 3 sts, k3.", 26, "26 = 6 x 4 + 2"},
		{"a panel that repeats", 20, "Across: [Rib] 5 times.\nRow 1: work the panels.", 24, "24 = 6 x 4 + 0"},
	}
	for _, want := range tests {
		text := sprintf(strip, want.castOn, want.rows)
		if strings.Contains(text, "[Rib]") {
			text = strings.Replace(text, "Section:", "Panel: Rib, 4 sts\nRow 1: k2, p2.\nRow 2: k2, p2.\n\nSection:", 1)
		}
		found, err := fit.CastOns(read(t, text), 0, want.width, nil)
		if err != nil || len(found) != 1 || fmt.Sprintf("%d = %d x %d + %d", found[0].Stitches, found[0].Times, found[0].Unit, found[0].Plus) != want.want {
			t.Errorf("%s: %+v, %v; want %s", want.name, found, err, want.want)
		}
	}
}

func TestRefusedCastOns(t *testing.T) {
	refuse := func(name, text string, width float64, code, says string) {
		t.Helper()
		_, err := fit.CastOns(read(t, text), 0, width, nil)
		checkRefused(t, name, err, code, says)
	}
	refuse("a row for its own stitches", sprintf(strip, 10, "Row 1: [k1, p1] to end.\nRow 2: k2, p3, k5."), 20, fit.CodeNoRepeat, "row 2 of Strip is written for 10 stitches alone")
	refuse("a decrease that stands in one place", sprintf(strip, 20, "Row 1: k17, k2tog, k1.\nRow 2: k2, yo, k17."), 20, fit.CodeNoRepeat, "row 1 of Strip is written for 20 stitches alone")
	refuse("two repeats that share", sprintf(strip, 10, "Row 1: k5, pm, k5.\nRow 2: [p1] to m, sm, [k1] to end."), 20, fit.CodeNoRepeat, "row 1 of Strip")
	refuse("a width of nothing", sprintf(strip, 10, "Row 1: k to end."), 0, fit.CodeZero, "give a number")
	refuse("wider than anything", sprintf(strip, 10, "Row 1: k to end."), 2000, fit.CodeLarge, "from 1 to 1000 cm")
	refuse("no gauge", sprintf(noGauge, ""), 20, fit.CodeNoGauge, "no gauge")
	kerchief := sample(t, "gull-kerchief")
	_, err := fit.CastOns(kerchief, 0, 100, nil)
	checkRefused(t, "a kerchief", err, fit.CodeNoRepeat, "from 3 stitches to 197")
	_, err = fit.CastOns(kerchief, 2, 100, nil)
	checkRefused(t, "a size that is not there", err, fit.CodeSize, "2 sizes")
	if _, err := fit.CastOns(kerchief, 0, math.NaN(), nil); err == nil {
		t.Error("no width is taken")
	}
	broken, _ := patterns.Read([]byte("Pattern: P\nWorked: in rows\nCast on: 3\n\nSection: S\nRow 1: k4.\n"))
	if _, err := fit.CastOns(broken, 0, 10, &fit.Gauge{Stitches: 20}); !errors.Is(err, patterns.ErrUnsound) {
		t.Errorf("a pattern with an error: %v", err)
	}
}

// Where no number comes out, it is said so: stitches that an even number of
// repeats alone brings back.
func TestNoCastOn(t *testing.T) {
	p := read(t, sprintf(strip, 12, "Row 1: [k1, yo, k11] to end.\nRow 2: [p13] to end.")+"\nSection: Edge\nRow 1: BO all sts.\n")
	if found, err := fit.CastOns(p, 0, 24, nil); err != nil || found[0].Stitches != 24 {
		t.Errorf("got %+v, %v; want 24 stitches", found, err)
	}
	large := read(t, sprintf(strip, 4000, "Row 1: [k2000, p2000] to end."))
	_, err := fit.CastOns(large, 0, 1000, nil) // 1,000 stitches: less than one repeat, and two are too many
	if err != nil {
		t.Errorf("the size's own cast-on is refused: %v", err)
	}
	_, err = fit.CastOns(large, 0, 1000, &fit.Gauge{Stitches: 4000})
	checkRefused(t, "more than a needle holds", err, fit.CodeLarge, "more than four times that of the piece")
}

// A random strip, edges and two repeats: what is offered is worked by the text
// written out anew, and is the nearest number that is.
func TestCastOnsAreProven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(1, 6).Draw(t, "a"), rapid.IntRange(1, 6).Draw(t, "b")
		times := rapid.IntRange(1, 5).Draw(t, "times")
		edge := rapid.IntRange(0, 4).Draw(t, "edge")
		counted := rapid.Bool().Draw(t, "counted")
		text := func(stitches int) string {
			over := stitches - 2*edge
			group := func(per int) string {
				if counted {
					return itoa(over/per) + " times"
				}
				if edge == 0 {
					return "to end"
				}
				return "to last " + itoa(edge) + " sts"
			}
			side := ""
			if edge > 0 {
				side = "k" + itoa(edge) + ", "
			}
			last := ""
			if edge > 0 {
				last = ", k" + itoa(edge)
			}
			return sprintf(strip, stitches, sprintf("Row 1: %s[k%d, p1] %s%s.\nRow 2: %s[p%d] %s%s.", side, a, group(a+1), last, side, b, group(b), last))
		}
		unit := (a + 1) * b
		for n := 1; n <= unit; n++ {
			if n%(a+1) == 0 && n%b == 0 {
				unit = n
				break
			}
		}
		castOn := unit*times + 2*edge
		width := rapid.Float64Range(1, min(120, 4*float64(castOn))).Draw(t, "width") // a stitch is 1 cm; wider is another piece
		if counted && unit*times <= 2*edge {                                         // the group is less than half of the row, and not what repeats
			t.Skip()
		}
		found, err := fit.CastOns(read(t, text(castOn)), 0, width, nil)
		if err != nil {
			t.Fatalf("%v\n%s", err, text(castOn))
		}
		fits := func(n int) bool { return n > 2*edge && (n-2*edge)%unit == 0 }
		nearest := math.Inf(1)
		for n := 1; n < 400; n++ {
			if fits(n) {
				nearest = min(nearest, math.Abs(float64(n)-width))
			}
		}
		if got := math.Abs(found[0].Width - width); !near(got, nearest) {
			t.Fatalf("for %v cm %+v is offered, %v off; the nearest is %v off\n%s", width, found[0], got, nearest, text(castOn))
		}
		for _, c := range found {
			if !fits(c.Stitches) || c.Times*c.Unit+c.Plus != c.Stitches {
				t.Fatalf("%+v does not fit a multiple of %d and %d", c, unit, 2*edge)
			}
			read(t, text(c.Stitches))
		}
	})
}

func BenchmarkCastOns(b *testing.B) {
	for _, name := range []string{"float-hat", "cobble-cowl"} {
		p := sample(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := fit.CastOns(p, 0, 52, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

var statedCount = regexp.MustCompile(` ?\(\d+(?: \(\d+, \d+\))? sts\)`)

// The hat written out anew with the floats that are offered: eight are sound, and
// seven are wrong in the crown and nowhere before it.
func TestHatWrittenOutAnew(t *testing.T) {
	hat, _ := samples.Find("float-hat")
	for _, floats := range []int{7, 8} {
		found, err := fit.CastOns(sample(t, "float-hat"), 0, float64(18*floats)/2.4, nil)
		if err != nil || found[0].Times != floats {
			t.Fatalf("%d floats: %+v, %v", floats, found, err)
		}
		text := strings.Replace(statedCount.ReplaceAllString(hat.Text, ""), "Cast on: 108 ", "Cast on: "+itoa(found[0].Stitches)+" ", 1)
		text = strings.ReplaceAll(text, "] 6 times", "] "+itoa(floats)+" (6, 6) times")
		p, problems := patterns.Read([]byte(text))
		if sound := !patterns.HasErrors(problems); sound != (found[0].Rest == nil) {
			t.Errorf("%d floats: it is said that %s is the first to be worked out anew, and there is told: %v", floats, offerOf(found[0]), problems)
		}
		if found[0].Rest == nil {
			continue
		}
		rows := p.Workable(0)
		if last := rows[len(rows)-1]; last.Section.Name != found[0].Rest.Name {
			t.Errorf("%d floats: the rows can be worked up to %s; it is said up to %s", floats, last.Section.Name, found[0].Rest.Name)
		}
	}
}
