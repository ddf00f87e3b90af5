package reader_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/reader"
)

func ExampleSay() {
	text := "k2, 2/2 RPC, *k2tog, yo; rep from * to last 2 sts, k2"
	row, _ := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
	worked := fabric.CastOn(18).Work(row.Body, fabric.Row{Rounds: true})
	said := reader.Say(reader.Row{Section: "Lanterns", Number: 3, Round: true, Body: worked.Done, Before: 18, After: worked.After.Count()}, reader.Form{})
	for _, step := range said.StepTexts() {
		fmt.Println(step)
	}
	// Output:
	// Round three, Lanterns. Knit two.
	// Two over two right purl cross: slip two to the cable needle and hold it behind; knit two; purl two from the cable needle.
	// Knit two together, yarn over, and so on to the last two: five times in all.
	// Knit two.
}

func ExampleCrosses() {
	text := "p2, C4B, sl 1 to cn, hold in front, k1, k1 from cn, [2/2 RC] 2 times"
	row, _ := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
	fmt.Println(reader.Crosses(row.Body))
	// Output:
	// [2/2 RC 1/1 LC]
}

func TestOpening(t *testing.T) {
	for _, c := range []struct {
		name string
		row  reader.Row
		want string
	}{
		{"round", reader.Row{Section: "Lanterns", Number: 41, Round: true}, "Round forty-one, Lanterns."},
		{"right side", reader.Row{Section: "Yoke", Number: 7}, "Row seven, right side."},
		{"wrong side", reader.Row{Section: "Yoke", Number: 6, WrongSide: true}, "Row six, wrong side."},
		{"round on the wrong side", reader.Row{Section: "Heel", Number: 4, Round: true, WrongSide: true}, "Round four, Heel, wrong side."},
		{"first round", reader.Row{Section: "Lanterns", Number: 1, Round: true, First: true, SectionRows: 16}, "Lanterns, sixteen rounds. Round one, Lanterns."},
		{"first and only row", reader.Row{Section: "edge (RS)", Number: 1, First: true, SectionRows: 1}, "Edge right side, one row. Row one, right side."},
		{"a name of signs", reader.Row{Section: "★", Number: 1, Round: true, First: true, SectionRows: 2}, "Two rounds. Round one."},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := reader.Say(c.row, reader.Form{}).Opening; got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestStepTexts(t *testing.T) {
	said := reader.Spoken{Opening: "Row one, right side.", Steps: []string{"Knit two.", "Purl two."}, Count: "You should now have four stitches.", Tips: []string{"Tip: rest.", "Tip: sleep."}}
	want := []string{"Row one, right side. Knit two.", "Purl two. You should now have four stitches. Tip: rest. Tip: sleep."}
	if got := said.StepTexts(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %q", got)
	}
	if got := said.Paragraph(); got != strings.Join(want, " ") {
		t.Errorf("got %q", got)
	}
	if got := (reader.Spoken{Opening: "Row one, right side."}).StepTexts(); !reflect.DeepEqual(got, []string{"Row one, right side."}) {
		t.Errorf("a row of which nothing is said has the steps %q", got)
	}
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "You should now have no stitches left.", 1: "You should now have one stitch.", 84: "You should now have eighty-four stitches."} {
		if got := reader.Count(n); got != want {
			t.Errorf("Count(%d) = %q", n, got)
		}
	}
}

// TestCrossEqualsName finds the name of longhand crosses, and finds none where
// anything differs.
func TestCrossEqualsName(t *testing.T) {
	for row, want := range map[string]string{
		"sl 2 to cn, hold in back, k2, p2 from cn":                                                 "2/2 RPC",
		"sl 2 to cn, hold in front, p1, k2 from cn":                                                "2/1 LPC",
		"sl 1 to cn, hold in back, k3, k1 from cn":                                                 "3/1 RC",
		"sl 2 to cn, hold in back, sl 1 to 2nd cn, hold in back, k2, p1 from 2nd cn, k2 from cn":   "2/1/2 RPC",
		"sl 3 to cn, hold in front, sl 1 to 2nd cn, hold in back, k2, k1 from 2nd cn, k3 from cn":  "3/1/2 LC",
		"sl 2 to cn, hold in front, sl 1 to 2nd cn, hold in front, k2, k1 from 2nd cn, k2 from cn": "",
		"sl 2 to cn, k2, k2 from cn":                                                               "",
		"sl 2 to cn, hold in back, p2, k2 from cn":                                                 "",
		"sl 2 to cn, hold in front, p2, p2 from cn":                                                "",
		"sl 2 to cn, hold in back, k2, k2 tbl from cn":                                             "",
		"sl 2 to cn, hold in back, k2, (k1, p1) from cn":                                           "",
		"sl 3 to cn, hold in back, k1, sl 1 from cn back to left needle, k1, k2 from cn":           "",
	} {
		got := strings.Join(reader.Crosses(readRow(t, row)), " ")
		if got != want {
			t.Errorf("%s is %q, and %q was expected", row, got, want)
		}
	}
}

// TestSpokenRules holds every row of the table, in every form of its crosses,
// to what is promised of all rows.
func TestSpokenRules(t *testing.T) {
	for _, w := range writtenRows {
		row := w.work(t)
		heard := map[string]bool{"2/2 RPC": true}
		for _, form := range []reader.Form{w.form, {}, {Crosses: reader.AlwaysFull}, {Crosses: reader.AlwaysShort}, {Heard: heard}} {
			said := reader.Say(row, form)
			checkSpoken(t, said)
			if again := reader.Say(row, form); !reflect.DeepEqual(said, again) {
				t.Errorf("%s: said twice it came out as %q and as %q", w.name, said, again)
			}
		}
		if len(heard) != 1 {
			t.Fatal("Say changed what was heard before")
		}
	}
}

// checkSpoken holds a row to its characters, its sentences and its steps.
func checkSpoken(t failing, said reader.Spoken) {
	checkAllowed(t, said.Paragraph())
	if joined := strings.Join(said.StepTexts(), " "); joined != said.Paragraph() {
		t.Fatalf("the steps joined are %q, and the paragraph is %q", joined, said.Paragraph())
	}
	for _, step := range said.Steps {
		if n := actionsIn(step); n > 8 {
			t.Fatalf("this step has %d actions: %s", n, step)
		}
		for _, s := range strings.SplitAfter(step, ". ") {
			if s[0] < 'A' || s[0] > 'Z' || !strings.HasSuffix(strings.TrimSpace(s), ".") {
				t.Fatalf("%q is no sentence in: %s", s, step)
			}
		}
	}
}

// actionsIn counts what a step asks for by its marks alone: everything that
// commas and semicolons part, but openings, closings and how far something
// goes.
func actionsIn(step string) int {
	n := 0
	for _, s := range strings.Split(strings.TrimSuffix(step, "."), ". ") {
		if strings.HasPrefix(s, "That is ") || strings.HasPrefix(s, "The stitch left ") || strings.HasPrefix(s, "Leave the other ") || strings.HasSuffix(s, "look") || strings.HasSuffix(s, "looks") {
			continue
		}
		if flow := strings.Index(s, ", and so on "); flow >= 0 {
			s = s[:flow]
		}
		s = s[strings.LastIndex(s, ": ")+1:]
		for _, part := range strings.Split(s, "; ") {
			if strings.Contains(part, ", all into the next stitch") {
				n++
				continue
			}
			for _, item := range strings.Split(part, ", ") {
				if !strings.HasPrefix(item, "to ") && !strings.HasSuffix(item, " times in all") {
					n++
				}
			}
		}
	}
	return n
}

// BenchmarkSay says a row of 300 stitches with many panels, each with a cross
// in full, one after the other without a group around them.
func BenchmarkSay(b *testing.B) {
	w := written{on: 300, row: strings.Repeat("Seed edge, k1, Lantern, k1, ", 20), panels: lanterns}
	row := w.work(b)
	for _, bench := range []struct {
		name string
		form reader.Form
	}{{"new", reader.Form{}}, {"full", reader.Form{Crosses: reader.AlwaysFull}}, {"short", reader.Form{Crosses: reader.AlwaysShort}}} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				reader.Say(row, bench.form)
			}
		})
	}
}
