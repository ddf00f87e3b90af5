package fit_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/patterns/problem"
)

// An example of the handbook data that says on which numbers of stitches its rows
// come out, as counted by a script that shares nothing with Clew. Its rows are
// of handbooks that are out of copyright; each names its book.
type bookExample struct {
	ID       string `json:"id"`
	Rounds   bool   `json:"in_the_round"`
	CastOn   int    `json:"cast_on"`
	Multiple int    `json:"multiple"`
	Plus     int    `json:"plus"`
	Connects bool   `json:"connects"`
	Rows     []struct {
		Label any    `json:"n"`
		Text  string `json:"text_modern"`
	} `json:"rows"`
}

// pattern puts the example into a whole pattern, its rows numbered from 1; those
// of a label such as "3-6" are as many as it says.
func (e bookExample) pattern(castOn int) string {
	worked, word := "in rows", "Row"
	if e.Rounds {
		worked, word = "in rounds", "Round"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Pattern: %s\nWorked: %s\nCast on: %d\nGauge: 20 sts and 30 rows = 10 cm\n\nSection: Whole\n", e.ID, worked, castOn)
	number := 0
	for _, r := range e.Rows {
		rows := 1
		if from, to, ranged := strings.Cut(fmt.Sprint(r.Label), "-"); ranged {
			first, err := strconv.Atoi(from)
			last, err2 := strconv.Atoi(to)
			if err == nil && err2 == nil {
				rows = last - first + 1
			}
		}
		fmt.Fprintf(&b, "%ss %d-%d: %s.\n", word, number+1, number+rows, r.Text)
		number += rows
	}
	return b.String()
}

// What the data gives another way than the rows alone say.
var bookOther = map[string]fit.CastOn{
	"W-BACK":   {Unit: 1, Plus: 0},  // the multiple is that of a rib, and the rows given are the shoulders'
	"W-MITTEN": {Unit: 15, Plus: 0}, // the multiple is that of the hand; the top narrows in fives
}

// Edgings and shapes that have nothing that repeats across, or whose width does
// not come from their cast-on.
var bookAlone = map[string]bool{
	"D395": true, "D396": true, "D362": true, "B318": true, "B326": true, "B337": true, "B340": true, "W-LEFTFRONT": true, "W-SOCKLEG": true,
	"L-LACE": true, "L-VBORDER": true, "M-VEDGE": true, "M-VBORDER": true, "M-COLLEDGE": true,
}

// Rows that count their repeats or stitches, so that they read another way on
// other numbers.
var bookCounted = map[string]bool{"B298n": true, "B338": true, "M-COLLAR": true}

// The repeat that is found is the one that the books' rows were counted to have,
// and a pattern written out with the cast-on that is offered has no error.
func TestCastOnsOfHandbooks(t *testing.T) {
	checked := 0
	for _, e := range bookExamples(t) {
		p, problems := patterns.Read([]byte(e.pattern(e.CastOn)))
		if !e.Connects || e.Multiple == 0 || patterns.HasErrors(problems) {
			continue
		}
		checked++
		found, err := fit.CastOns(p, 0, float64(e.CastOn+3*e.Multiple)/2, nil)
		if bookAlone[e.ID] {
			checkRefused(t, e.ID, err, fit.CodeNoRepeat, "change the gauge")
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", e.ID, err)
			continue
		}
		want, other := bookOther[e.ID]
		if !other {
			want = fit.CastOn{Unit: e.Multiple, Plus: e.Plus}
		}
		for _, c := range found {
			if c.Unit != want.Unit || (c.Plus-want.Plus)%c.Unit != 0 || c.Unit*c.Times+c.Plus != c.Stitches || c.Rest != nil {
				t.Errorf("%s: %+v; want a multiple of %d plus %d", e.ID, c, want.Unit, want.Plus)
			}
			if bookCounted[e.ID] {
				continue
			}
			text := []byte(e.pattern(c.Stitches))
			_, problems := patterns.Read(text)
			for _, told := range problems {
				if told.Severity == problem.Error {
					t.Errorf("%s on %d stitches: %s", e.ID, c.Stitches, problem.Line(e.ID, text, told))
				}
			}
		}
	}
	if checked < 45 {
		t.Errorf("%d examples were checked; there are more in the book", checked)
	}
}

func bookExamples(t *testing.T) []bookExample {
	t.Helper()
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []bookExample `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	return book.Examples
}
