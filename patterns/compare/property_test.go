package compare_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/compare"
)

// An item is something that is worked in a row, in two spellings.
type item struct {
	uses       int
	text, also string
}

var items = []item{
	{2, "k2", "k1, k1"},
	{3, "p3", "p1, p2"},
	{4, "[k1, p1] twice", "k1, p1, k1, p1"},
	{2, "yo, k2tog", "yarn over, knit 2 together"},
	{4, "2/2 RC", "sl 2 to cn, hold in back, k2, k2 from cn"},
	{3, "2/1 LPC", "sl 2 to cn, hold in front, p1, k2 from cn"},
	{1, "sl 1", "sl 1 pwise"},
	{1, "NUB", "(k1, yo, k1) in next st, pass previous st over, pass previous st over"},
	{2, "with Red, k1, with Red, k1", "with red, k2"},
}

// width is how many stitches a row of the random patterns has.
const width = 12

var single = item{1, "k1", "knit 1"}

// A text is rows in their first spellings and in other ones. Each row has a single
// stitch somewhere.
type text struct {
	rows, also [][]string
	single     []int // where it is, by row
}

func draw(t *rapid.T) text {
	var x text
	for range rapid.IntRange(2, 8).Draw(t, "rows") {
		var row []item
		for left := width - single.uses; left > 0; {
			i := rapid.SampledFrom(items).Draw(t, "item")
			if i.uses > left {
				i = single
			}
			left -= i.uses
			row = append(row, i)
		}
		at := rapid.IntRange(0, len(row)).Draw(t, "single")
		row = slices.Insert(row, at, single)
		var text, also []string
		for _, i := range row {
			text, also = append(text, i.text), append(also, i.also)
		}
		x.rows, x.also, x.single = append(x.rows, text), append(x.also, also), append(x.single, at)
	}
	return x
}

// plan lays rows out, each with a row after it that is worked as it looks; a row that
// is as an earlier one may say so.
func plan(t *rapid.T, rows [][]string, refer bool) *patterns.Plan {
	var b strings.Builder
	fmt.Fprintf(&b, "Pattern: Of chance\nWorked: in rounds\nCast on: %d\nAbbreviation: NUB = (k1, yo, k1) in next st, pass previous st over, pass previous st over\nSection: All\n", width)
	before := map[string]int{}
	for i, row := range rows {
		said := strings.Join(row, ", ")
		if first, twice := before[said]; twice && refer {
			said = "as row " + strconv.Itoa(first)
		} else if !twice {
			before[said] = 2*i + 1
		}
		fmt.Fprintf(&b, "Round %d: %s.\nRound %d: work sts as they present.\n", 2*i+1, said, 2*i+2)
	}
	p, problems := patterns.Read([]byte(b.String()))
	laid, err := p.LayOut(patterns.Choice{})
	if err != nil {
		t.Fatalf("%v: %v\n%s", err, problems, b.String())
	}
	return laid
}

// TestSpellingIsNoChange says that a pattern is itself, and that another spelling of
// its rows changes nothing.
func TestSpellingIsNoChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := draw(t)
		if rapid.Bool().Draw(t, "one row twice") {
			x.rows, x.also = append(x.rows, x.rows[0]), append(x.also, x.also[0])
		}
		old := plan(t, x.rows, false)
		for name, rows := range map[string][][]string{"itself": x.rows, "another spelling": x.also} {
			for _, refer := range []bool{false, true} {
				if changes := compare.Rows(old, plan(t, rows, refer)); changes != nil {
					t.Fatalf("%s (referring: %v) is %+v:\n%q\n%q", name, refer, changes, x.rows, rows)
				}
			}
		}
	})
}

// TestOneStitchIsOneChange says that a row with one other stitch is one change, whatever
// the rows after it make of it.
func TestOneStitchIsOneChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := draw(t)
		at := rapid.IntRange(0, len(x.rows)-1).Draw(t, "row")
		old := plan(t, x.rows, false)
		rows := slices.Clone(x.rows)
		rows[at] = slices.Clone(rows[at])
		rows[at][x.single[at]] = rapid.SampledFrom([]string{"p1", "k1 tbl", "sl 1", "k1, pm", "with Blue, k1"}).Draw(t, "in its place")
		changes := compare.Rows(old, plan(t, rows, false))
		if len(changes) != 1 || changes[0].Kind != compare.Changed || changes[0].Number != 2*at+1 || changes[0].CountDiffers() {
			t.Fatalf("round %d with one other stitch is %+v:\n%q\n%q", 2*at+1, changes, x.rows, rows)
		}
	})
}

// A bookPattern is a pattern of the handbook data: out of copyright, and put into
// today's abbreviations.
type bookPattern struct {
	ID       string `json:"id"`
	Rounds   bool   `json:"in_the_round"`
	CastOn   int    `json:"cast_on"`
	Connects bool   `json:"connects"`
	Rows     []struct {
		Label any    `json:"n"`
		Text  string `json:"text_modern"`
	} `json:"rows"`
}

// handbook gives the patterns of the handbook data whose rows connect.
func handbook(t testing.TB) []bookPattern {
	t.Helper()
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []bookPattern `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(book.Examples, func(p bookPattern) bool { return !p.Connects || p.ID == "W-LEGSHORT" }) // whose short rows leave out their turns
}

// text writes the pattern with one line otherwise, and gives the numbers of the rows
// that each line stands for.
func (p bookPattern) text(line int, otherwise string) (string, [][2]int) {
	var b strings.Builder
	fmt.Fprintf(&b, "Pattern: Of a book\nWorked: in %s\nCast on: %d\n", map[bool]string{false: "rows", true: "rounds"}[p.Rounds], p.CastOn)
	var rows [][2]int
	number := 1
	for i, r := range p.Rows {
		count := 1
		if from, to, ok := strings.Cut(fmt.Sprint(r.Label), "-"); ok {
			first, wrong := strconv.Atoi(from)
			last, alsoWrong := strconv.Atoi(to)
			if wrong == nil && alsoWrong == nil {
				count = last - first + 1
			}
		}
		text := r.Text
		if i == line {
			text = otherwise
		}
		fmt.Fprintf(&b, "Rows %d-%d: %s.\n", number, number+count-1, text)
		rows = append(rows, [2]int{number, number + count - 1})
		number += count
	}
	return b.String(), rows
}

// misprints are what a printer may set in place of something else. None changes the
// count.
var misprints = [][2]string{{"k2tog", "ssk"}, {"p2tog", "k2tog"}, {"k1,", "p1,"}, {"p1,", "k1,"}, {"k2,", "p2,"}, {"p2,", "k2,"}, {"k to end", "p to end"}, {"p to end", "k to end"}, {"k3", "p3"}, {"sl 1,", "sl 1 kwise,"}}

// TestMisprints puts each misprint that fits into each line of the handbook patterns, and
// corrects it again: that is exactly the rows of the line.
func TestMisprints(t *testing.T) {
	corrected := 0
	for _, p := range handbook(t) {
		right, rows := p.text(-1, "")
		now := layOut(t, right, "")
		for line, r := range p.Rows {
			for _, m := range misprints {
				if !strings.Contains(r.Text, m[0]) {
					continue
				}
				wrong, _ := p.text(line, strings.Replace(r.Text, m[0], m[1], 1))
				corrected++
				var found []int
				for _, c := range compare.Rows(layOut(t, wrong, ""), now) {
					found = append(found, c.Number)
				}
				var want []int
				for n := rows[line][0]; n <= rows[line][1]; n++ {
					want = append(want, n)
				}
				if !slices.Equal(want, found) {
					t.Errorf("%s, %q for %q: rows %v were expected, and %v are changed", p.ID, m[1], m[0], want, found)
				}
			}
		}
	}
	t.Logf("%d misprints corrected", corrected)
	if corrected < 300 {
		t.Errorf("%d misprints were corrected, and some hundreds were expected", corrected)
	}
}

// TestMisprintedCount leaves one yarn over out of the last line of each handbook pattern,
// as printers do, where the line can still be worked: the line is changed, and leaves a
// count that differs.
func TestMisprintedCount(t *testing.T) {
	corrected := 0
	for _, p := range handbook(t) {
		right, rows := p.text(-1, "")
		last := len(p.Rows) - 1
		if text := p.Rows[last].Text; rows[last][0] == rows[last][1] && strings.Contains(text, "yo, ") {
			wrong, _ := p.text(last, strings.Replace(text, "yo, ", "", 1))
			if _, problems := patterns.Read([]byte(wrong)); patterns.HasErrors(problems) {
				continue
			}
			corrected++
			changes := compare.Rows(layOut(t, wrong, ""), layOut(t, right, ""))
			if len(changes) != 1 || changes[0].Number != rows[last][0] || !changes[0].CountDiffers() || changes[0].NewAfter <= changes[0].OldAfter {
				t.Errorf("%s without a yarn over is %+v", p.ID, changes)
			}
		}
	}
	t.Logf("%d counts corrected", corrected)
	if corrected == 0 {
		t.Error("no pattern was found that can be misprinted so")
	}
}
