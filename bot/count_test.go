package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
	"clew/patterns"
)

// slipped are rows as they should be worked and as a knitter worked them by
// mistake, on the same stitches. The fabric works out what she then counts, and
// the answer has to name the mistake. The mistakes are common practice.
var slipped = []struct {
	name        string
	stitches    int
	right, made string
	says        string
}{
	{"a missed yarn over", 12, "k2, yo, k2tog, k8", "k2, k2tog, k8", "a yarn over was missed, after stitch two"},
	{"a yarn over at the beginning", 12, "yo, k2tog, k10", "k2tog, k10", "a yarn over was missed, at the beginning"},
	{"two yarn overs of three", 12, "[k4, yo] 3 times", "[k4, yo] once, k8", "two yarn overs were missed, after stitch four, nine or fourteen"},
	{"a decrease worked twice", 12, "k2, yo, k2tog, k8", "k2, yo, k2tog, k2tog, k6", "a decrease was worked twice, after stitch three: knit two together"},
	{"a decrease missed", 12, "k4, ssk, k6", "k12", "a decrease was missed, after stitch four: slip, slip, knit"},
	{"a double decrease worked as a single one", 12, "k4, s2kp, k5", "k4, k2tog, k6",
		"a decrease was worked only in part, after stitch four: slip two together knitwise, knit one, pass the two slipped stitches over"},
	{"a slipped stitch not passed over", 12, "k4, sl 1, k1, psso, k6", "k4, sl 1, k7", "a decrease was missed, after stitch six: pass the slipped stitch over"},
	{"an increase missed", 12, "[k3, kfb] 3 times", "[k3, kfb] twice, k4", "an increase was missed, after stitch three, eight or thirteen: knit into the front and back of the next stitch"},
	{"a repeat left out", 12, "*k2, m1, k2, m1; rep from * to end", "[k2, m1, k2, m1] twice, k4", "one of the three repeats of six stitches was left out"},
	{"one stitch worked three times, but once", 12, "k5, (k1, yo, k1) in next st, k6", "k12", "an increase was missed, after stitch five: into the next stitch, knit one, yarn over, knit one"},
	{"one stitch worked three times, but twice", 12, "k5, (k1, yo, k1) in next st, k6", "k5, kfb, k6", "an increase was worked only in part, after stitch five"},
	{"too few bound off", 12, "BO 4 sts, k to end", "BO 3 sts, k to end", "one stitch too few was bound off, at the beginning"},
	{"too many bound off", 12, "BO 4 sts, k to end", "BO 6 sts, k to end", "two stitches too many were bound off, at the beginning"},
	{"too few cast on", 12, "k6, CO 5 sts, k6", "k6, CO 3 sts, k6", "two stitches too few were cast on, after stitch six"},
	{"too few picked up", 12, "k12, pick up and knit 8 sts", "k12, pick up and knit 7 sts", "one stitch too few was picked up, after stitch twelve"},
	{"too few put on hold", 12, "k4, put 4 sts on hold, k4", "k4, put 3 sts on hold, k5", "one stitch too few was put on hold, after stitch four"},
	{"a crown's decrease, on all sides", 24, "*k1, k2tog; rep from * to end", "[k1, k2tog] 7 times, k3", "a decrease was missed, out of eight, after stitch one and from there every two stitches: knit two together"},
	{"a yarn over of the pattern's own", 12, "k4, gap, k6", "k4, k2tog, k6", "a yarn over was missed, after stitch four"},
	{"a decrease of the pattern's own", 12, "k4, dip, k5", "k12", "a decrease was missed, after stitch four: slip one, knit two together, pass the slipped stitch over"},
}

func oneRow(stitches int, row string) string {
	return fmt.Sprintf("Pattern: One Row\nWorked: in rows\nCast on: %d\nAbbreviation: dip = sl 1, k2tog, psso\nAbbreviation: gap = yo, k2tog\nSection: All\nRow 1: %s.\nRow 2: purl.\n", stitches, row)
}

// after works a row and gives the stitches that are then on the needle.
func after(t *testing.T, stitches int, row string) int {
	t.Helper()
	p, problems := patterns.Read([]byte(oneRow(stitches, row)))
	if patterns.HasErrors(problems) {
		t.Fatalf("the row %q can't be worked: %v", row, problems)
	}
	return p.Workable(0)[0].After.Count()
}

func TestSlips(t *testing.T) {
	house := newHouse(t)
	for i, c := range slipped {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(oneRow(c.stitches, c.right), "One Row", fmt.Sprint("Row ", i), 1)
			id := house.knit(t, wren, text)
			should, counted := after(t, c.stitches, c.right), after(t, c.stitches, c.made)
			ask := func(words string) string {
				r := house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: words})
				checkSaid(t, words, r)
				return r.Said
			}
			ask("put me at row 1")
			if said := ask(fmt.Sprintf("I count %d", should)); !strings.Contains(said, " is right") {
				t.Errorf("the right number, %d, is answered %q", should, said)
			}
			// She may have asked for the next row already, and counted then.
			for _, where := range []string{"again", "next row"} {
				ask(where)
				said := ask(fmt.Sprintf("I count %d", counted))
				if counted == c.stitches && where == "again" && should != c.stitches {
					continue // as many as before the row: she may not have begun it
				}
				if !strings.Contains(lower(said), c.says) {
					t.Errorf("after %q, %d of %d stitches are answered %q, which does not say %q", where, counted, should, said, c.says)
				}
			}
		})
	}
}

// One thing is not worked wrong time and again without being seen.
func TestTooManySlips(t *testing.T) {
	house := newHouse(t)
	id := house.knit(t, wren, oneRow(24, "k10, k2tog, k12"))
	for counted, told := range map[int]bool{22: true, 21: true, 20: true, 19: false} {
		house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at row 1"})
		said := house.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: fmt.Sprintf("I count %d", counted)}).Said
		if strings.Contains(said, "knit two together") != told {
			t.Errorf("%d of 23 stitches are answered %q", counted, said)
		}
	}
}

// lower puts the words after "Perhaps" as they stand in a list.
func lower(said string) string { return strings.ReplaceAll(said, "Perhaps ", "perhaps ") }
