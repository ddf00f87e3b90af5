package instruction

import (
	"encoding/json"
	"os"
	"testing"
)

// handbookRow is a row of ../testdata/handbook.json: patterns from
// out-of-copyright handbooks (Dillmont's Encyclopedia of Needlework, 1886, and
// others; each example names its book), put into modern abbreviations term by
// term, their stitches counted by a script that shares nothing with this
// package.
type handbookRow struct {
	N        any
	Text     string `json:"text_modern"`
	Consumes int
	Produces int
}

type handbookExample struct {
	ID, Name, Source string
	Rows             []handbookRow
}

func handbook(t testing.TB) []handbookExample {
	t.Helper()
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct{ Examples []handbookExample }
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	return book.Examples
}

// Every row of the handbooks reads without a problem, prints as itself, and,
// where its counts are fixed, takes and leaves what was counted.
func TestHandbooks(t *testing.T) {
	rows, counted := 0, 0
	for _, e := range handbook(t) {
		for _, r := range e.Rows {
			rows++
			in, problems := Parse(r.Text, whole(r.Text), Options{})
			if len(problems) > 0 {
				t.Errorf("%s (%s), row %v: %q: %v", e.ID, e.Source, r.N, r.Text, problems)
				continue
			}
			if err := checkPositions(r.Text, in.Body, around(r.Text), Options{}, false); err != nil {
				t.Errorf("%s, row %v: %v", e.ID, r.N, err)
			}
			printed := Print(in.Body, AllSizes)
			again, problems := Parse(printed, whole(printed), Options{})
			if len(problems) > 0 || sameTree(in.Body, again.Body) != "" {
				t.Errorf("%s, row %v: %q prints %q, which is another row: %v", e.ID, r.N, r.Text, printed, problems)
			}
			if !countable(in.Body) {
				continue
			}
			counted++
			var got tally
			if got.work(in.Body, t); got.uses != r.Consumes || got.made != r.Produces {
				t.Errorf("%s, row %v: %q takes %d and leaves %d; %d and %d were counted", e.ID, r.N, r.Text, got.uses, got.made, r.Consumes, r.Produces)
			}
		}
	}
	if rows < 700 || counted < 150 {
		t.Errorf("only %d rows were read, and %d counted", rows, counted)
	}
}

// countable says that a row takes the same stitches on any fabric.
func countable(nodes []Node) bool {
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			if n.Extent.Reach != Times || n.Stitch.Abbr == "BO" { // the last bound off counts with what follows
				return false
			}
		case *Repeat:
			if n.Extent.Reach != Times || !countable(n.Body) {
				return false
			}
		case *Cross, *Into, *Marker:
		default:
			return false
		}
	}
	return true
}
