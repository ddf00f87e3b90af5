package fabric_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// The handbook data: rows of books that are out of copyright, put into today's
// abbreviations and counted by hand and by a script that shares nothing with
// Clew. Each example names its book, year and lines.
type example struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Source  string `json:"source"`
	Rounds  bool   `json:"in_the_round"`
	CastOn  int    `json:"cast_on"`
	Connect bool   `json:"connects"`
	Problem string `json:"problem"`
	Rows    []struct {
		N        any    `json:"n"`
		Side     string `json:"side"`
		Text     string `json:"text_modern"`
		Consumes int    `json:"consumes"`
		Produces int    `json:"produces"`
		After    int    `json:"on_needle_after"`
	} `json:"rows"`
}

func handbook(t *testing.T) []example {
	t.Helper()
	data, err := os.ReadFile("../testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []example `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	return book.Examples
}

// rowsIn is how many rows a label such as "3-6" stands for.
func rowsIn(label string) int {
	from, to, ok := strings.Cut(label, "-")
	a, errA := strconv.Atoi(from)
	b, errB := strconv.Atoi(to)
	if !ok || errA != nil || errB != nil {
		return 1
	}
	return b - a + 1
}

func sideOf(text string) instruction.Side {
	switch text {
	case "RS":
		return instruction.RS
	case "WS":
		return instruction.WS
	}
	return instruction.SideUnsaid
}

var rowNeeds = regexp.MustCompile(`row (\S+) needs (\d+), has (\d+)`)

func TestHandbookPatterns(t *testing.T) {
	connected, broken := 0, 0
	for _, e := range handbook(t) {
		if e.Connect {
			connected++
		} else {
			broken++
		}
		t.Run(e.ID, func(t *testing.T) { workExample(t, e) })
	}
	if connected != 57 || broken != 17 {
		t.Errorf("%d connected patterns and %d that do not connect, want 57 and 17", connected, broken)
	}
}

// workExample works every row of an example: one that fits must come out with
// the stitches that the data counts, and one that the data says does not must
// be refused. After the first of those the needle has no one count that the
// rows agree on; each is then tried on as many stitches as the data says that
// it met, or, where it fits, that it uses.
func workExample(t *testing.T, e example) {
	met := map[string]int{} // row that does not fit: stitches it meets
	for _, m := range rowNeeds.FindAllStringSubmatch(e.Problem, -1) {
		met[m[1]], _ = strconv.Atoi(m[3])
	}
	f, broken := fabric.CastOn(e.CastOn), false
	for _, row := range e.Rows {
		label, text := fmt.Sprint(row.N), row.Text
		if e.ID == "W-LEGSHORT" && shortRow.MatchString(label) {
			text += ", turn" // which the data leaves out
		}
		has, misfits := met[label]
		delete(met, label)
		for range rowsIn(label) {
			f = f.Begin(e.Rounds, sideOf(row.Side))
			want := row.After
			switch {
			case misfits && broken:
				f = f.Resized(has)
			case broken:
				f, want = f.Resized(row.Consumes), row.Produces
			}
			before := f.Count()
			did := f.Work(parse(t, text), fabric.Row{Rounds: e.Rounds})
			where := fmt.Sprintf("%s, %s: row %s, %q on %d", e.Name, e.Source, label, text, before)
			switch f = did.After; {
			case misfits && before != has:
				t.Fatalf("%s: the data says that it meets %d", where, has)
			case misfits && did.Problem == nil:
				t.Fatalf("%s: it was worked, and needs %d", where, row.Consumes)
			case misfits:
				broken = true
			case did.Problem != nil:
				t.Fatalf("%s: %s", where, did.Problem.Message)
			case f.Count() != want:
				t.Fatalf("%s: %d stitches after it, want %d", where, f.Count(), want)
			}
		}
	}
	if e.Connect == broken || len(met) > 0 {
		t.Errorf("connects: %v, found broken: %v; named by the data and not met: %v", e.Connect, broken, met)
	}
}

var shortRow = regexp.MustCompile(`^\d[ab]$`)
