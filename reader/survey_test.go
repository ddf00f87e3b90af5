package reader_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clew/patterns"
	compared "clew/patterns/compare" // compare is a function of these tests
	"clew/patterns/survey"
	"clew/reader"
)

func layOut(t testing.TB, text, size string) *patterns.Plan {
	t.Helper()
	p, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("the pattern can't be read: %s\n%s", problems[0].Message, text)
	}
	plan, err := p.LayOut(patterns.Choice{Size: size})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// samplePlans gives the plans of all samples in all sizes, by file and size.
func samplePlans(t testing.TB) map[string]*patterns.Plan {
	t.Helper()
	files, err := filepath.Glob("../patterns/samples/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples were found: %v", err)
	}
	plans := map[string]*patterns.Plan{}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := patterns.Read(src)
		for _, size := range append([]string{""}, p.Sizes...) {
			plans[strings.TrimSuffix(filepath.Base(file), ".txt")+" "+size] = layOut(t, string(src), size)
		}
	}
	return plans
}

// bookPlans gives the plans of the handbook patterns whose rows connect, by their ids.
func bookPlans(t testing.TB) map[string]*patterns.Plan {
	t.Helper()
	data, err := os.ReadFile("../patterns/testdata/handbook.json")
	if err != nil {
		t.Fatal(err)
	}
	var book struct {
		Examples []struct {
			ID       string `json:"id"`
			Name     string `json:"name"`
			Rounds   bool   `json:"in_the_round"`
			CastOn   int    `json:"cast_on"`
			Connects bool   `json:"connects"`
			Rows     []struct {
				Label any    `json:"n"`
				Text  string `json:"text_modern"`
			} `json:"rows"`
		} `json:"examples"`
	}
	if err := json.Unmarshal(data, &book); err != nil {
		t.Fatal(err)
	}
	plans := map[string]*patterns.Plan{}
	for _, e := range book.Examples {
		if !e.Connects || e.ID == "W-LEGSHORT" { // whose short rows leave out their turns
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "Pattern: %s\nWorked: in %s\nCast on: %d\n", e.Name, map[bool]string{false: "rows", true: "rounds"}[e.Rounds], e.CastOn)
		number := 1
		for _, r := range e.Rows {
			last := number
			if from, to, ok := strings.Cut(fmt.Sprint(r.Label), "-"); ok {
				a, wrong := strconv.Atoi(from)
				if z, alsoWrong := strconv.Atoi(to); wrong == nil && alsoWrong == nil {
					last = number + z - a
				}
			}
			fmt.Fprintf(&b, "Rows %d-%d: %s.\n", number, last, r.Text)
			number = last + 1
		}
		plans[e.ID] = layOut(t, b.String(), "")
	}
	return plans
}

// partTold tells a part.
func partTold(plan *patterns.Plan, p survey.Part) string {
	if p.Routine() {
		return reader.Stretch(plan, p)
	}
	return reader.Unusual(plan, p.From)
}

// aSentence is one sentence as Clew says it.
var aSentence = regexp.MustCompile(`^[A-Z][A-Za-z]*(?:(?:[,;:]? |-|')[A-Za-z]+)*\.$`)

// TestSurveyCanBeSaid says that each part of every plan is told in one sentence of
// letters, that its numbers are those of the needles, and that what is new is told.
func TestSurveyCanBeSaid(t *testing.T) {
	plans := samplePlans(t)
	maps.Copy(plans, bookPlans(t))
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			s := survey.Of(plan, 0, len(plan.Rows))
			for _, p := range s.Parts {
				words := partTold(plan, p)
				if !aSentence.MatchString(words) || strings.Count(words, " ") > 80 {
					t.Errorf("it says %q", words)
				}
				rightNumbers(t, plan, p, words)
			}
			for _, n := range s.New {
				if name := reader.NewName(n); !aSentence.MatchString("A "+name+".") || strings.ContainsAny(name, ",;:") {
					t.Errorf("what is new is called %q", name)
				}
				for _, sentence := range strings.SplitAfter(reader.NewHowTo(n), ". ") {
					if !aSentence.MatchString(strings.TrimSpace(sentence)) {
						t.Errorf("to work it is %q", sentence)
					}
				}
			}
		})
	}
}

var (
	byWords = regexp.MustCompile(`^[^:]*: (increase|decrease) by ([a-z -]+?)(?:,? to ([a-z -]+?) stitch.*)?\.$`)
	haveNow = regexp.MustCompile(`; you then have ([a-z -]+) stitch(?:es)?\.$`)
)

// rightNumbers checks the numbers that are told of a part.
func rightNumbers(t *testing.T, plan *patterns.Plan, p survey.Part, words string) {
	t.Helper()
	before, after := plan.Rows[p.From].Before.Count(), plan.Rows[p.To-1].After.Count()
	if found := haveNow.FindStringSubmatch(words); found != nil && found[1] != reader.Number(after) {
		t.Errorf("there are %d stitches after it, and it says %q", after, words)
	}
	if found := byWords.FindStringSubmatch(words); found != nil && !p.Routine() {
		change := after - before
		if found[1] == "decrease" {
			change = -change
		}
		if found[2] != reader.Number(change) || found[3] != reader.Number(after) {
			t.Errorf("from %d stitches there are %d after it, and it says %q", before, after, words)
		}
	}
	told := strings.Contains(words, reader.Number(after)+" stitch") || p.Kind == survey.Every || after == 0
	if before != after && !told {
		t.Errorf("from %d stitches there are %d after it, and it says %q", before, after, words)
	}
}

// told writes all that is told of a plan.
func told(plan *patterns.Plan) string {
	var b strings.Builder
	s := survey.Of(plan, 0, len(plan.Rows))
	section := ""
	for _, p := range s.Parts {
		if name := plan.Rows[p.From].Section.Name; name != section {
			section = name
			fmt.Fprintf(&b, "%s\n", reader.Name(name))
		}
		fmt.Fprintf(&b, "    %s\n", partTold(plan, p))
	}
	if len(s.New) > 0 {
		b.WriteString("What is new\n")
	}
	for _, n := range s.New {
		fmt.Fprintf(&b, "    %s, %s: %s\n", reader.RowName(plan, n.Row), reader.NewName(n), reader.NewHowTo(n))
	}
	return b.String()
}

// TestSurveySaid tells the samples in their first size, and some handbook patterns of
// each kind: stockings, gloves, edgings, a jacket.
func TestSurveySaid(t *testing.T) {
	books := []string{"B326", "B337", "B340", "D395", "L-SHELLCUFF", "M-SHIELD", "M-SHOE", "W-GLOVE", "W-LEFTFRONT", "W-MITTEN"}
	var b strings.Builder
	samples, handbook := samplePlans(t), bookPlans(t)
	for _, name := range slices.Sorted(maps.Keys(samples)) {
		if file, ok := strings.CutSuffix(name, " "); ok {
			fmt.Fprintf(&b, "== %s ==\n%s\n", file, told(samples[name]))
		}
	}
	for _, id := range books {
		fmt.Fprintf(&b, "== handbook %s ==\n%s\n", id, told(handbook[id]))
	}
	golden(t, "testdata/survey.txt", b.String())
}

// corrected is a pattern that is corrected in several ways.
const corrected = `Pattern: Pier Lanterns (invented)
Worked: in rounds
Cast on: 40

Section: Lanterns
Round 1: k to end.
Round 2: *k2, p2; rep from * to end.
Round 3: *k2, 1/1 RC; rep from * to end.
Round 4: k8, [k2tog, k2] 4 times, k to end.
Rounds 5-8: k to end.
Round 9: with Sea Green, p to end.
Round 10: *k2tog, k2; rep from * to end.

Section: Handle
Cast on: 6
Worked: in rows
Rows 1-10: sl 1 wyif, k to end.
Row 11: BO to end.
`

// TestChangeSaid tells corrections to one who has worked the row, and to one who has not.
func TestChangeSaid(t *testing.T) {
	old := layOut(t, corrected, "")
	var b strings.Builder
	for _, c := range []struct{ name, from, to string }{
		{"another count", "[k2tog, k2] 4 times", "[k2tog, ssk] 4 times"},
		{"other stitches", "*k2, p2;", "*p2, k2;"},
		{"another cross", "1/1 RC", "1/1 LC"},
		{"another yarn", "Sea Green", "MC"},
		{"a row more", "Round 10: *k2tog, k2; rep from * to end.", "Round 10: *k2tog, k2; rep from * to end.\nRound 11: *k2tog, k1; rep from * to end."},
		{"all bound off", "Round 10: *k2tog, k2; rep from * to end.", "Round 10: *k2tog, k2; rep from * to end.\nRound 11: BO to end."},
		{"a row less", "Round 10: *k2tog, k2; rep from * to end.\n", ""},
		{"another name", "Section: Lanterns", "Section: The 4 Beacons"},
		{"another piece", "Cast on: 6", "Cast on: 7"},
		{"a long row", "*k2, 1/1 RC; rep from * to end", "k1, p2, k1, 2/2 RC, [k1 tbl, p1] 4 times, yo, k2tog, 2/1 LPC, sl 1 wyif, k2, 3/3 LC, p1, k1, p1, ssk, yo, k1 tbl, p4"},
	} {
		if strings.Count(corrected, c.from) != 1 {
			t.Fatalf("the pattern has %q %d times", c.from, strings.Count(corrected, c.from))
		}
		now := layOut(t, strings.Replace(corrected, c.from, c.to, 1), "")
		fmt.Fprintf(&b, "== %s ==\n", c.name)
		changes := compared.Rows(old, now)
		if len(changes) == 0 {
			t.Errorf("with %q nothing is changed", c.to)
		}
		for _, change := range changes {
			for _, worked := range []bool{true, false} {
				words := reader.Change(old, now, change, worked)
				fmt.Fprintln(&b, words)
				for _, sentence := range strings.SplitAfter(words, ". ") {
					if !aSentence.MatchString(strings.TrimSpace(sentence)) {
						t.Errorf("it says %q", words)
					}
				}
			}
		}
	}
	golden(t, "testdata/changes.txt", b.String())
}
