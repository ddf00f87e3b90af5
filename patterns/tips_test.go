package patterns

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns/instruction"
)

const tipped = `Pattern: Tips (invented)
Worked: in rows
Sizes: one (two)
Cast on: 8 (10)
Panel: Edge, 2 sts
Row 1: k2.
Tip: The edge is garter.
Row 2: k2.
Section: Body
Across: Edge, k4 (6), Edge
Rows 1-4: work the panels.
Tip: Measure after 3 (4) cm.
Section: Short
Row 1: k6, turn.
Row 2: k to end.
Row 3: k.
Tip: Look back.
Row 4: as row 3.
`

func TestTipsAndStitches(t *testing.T) {
	p, problems := Read([]byte(tipped))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	plan, err := p.LayOut(Choice{Size: "two"})
	if err != nil {
		t.Fatal(err)
	}
	var tips [][]string
	var unworked []int
	for _, r := range plan.Rows {
		tips, unworked = append(tips, r.Tips), append(unworked, r.Unworked())
	}
	want := [][]string{{"Measure after 4 cm.", "The edge is garter."}, nil, nil, nil, nil, nil, {"Look back."}, nil}
	if d := cmp.Diff(want, tips); d != "" {
		t.Errorf("tips (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]int{0, 0, 0, 0, 4, 0, 0, 0}, unworked); d != "" {
		t.Errorf("unworked (-want +got):\n%s", d)
	}
	// Four rows of ten, six there and six back, then twice ten.
	if got := plan.Stitches(); got != 40+6+6+20 {
		t.Errorf("%d stitches in all, want 72", got)
	}
}

func TestForSize(t *testing.T) {
	p := &Pattern{Sizes: []string{"a", "b", "c"}}
	for text, want := range map[string]string{
		"45 (50, 55) cm around":    "50 cm around",
		"2.5 (3, 3.5) cm":          "3 cm",
		"with 4 (5) left":          "with 4 (5) left",
		"no list (of numbers) 3":   "no list (of numbers) 3",
		"1 (2, 3) and 4 ( 5 , 6 )": "2 and 5",
	} {
		if got := p.ForSize(text, 1); got != want {
			t.Errorf("%q reads %q, want %q", text, got, want)
		}
	}
}

// A turn that is turned back leaves nothing: a bobble, or a short row inside a row.
func TestTurnedBack(t *testing.T) {
	for name, text := range map[string]string{
		"a bobble":          "k10, (k1, yo, k1) in next st, turn, p3, turn, k3tog, k to end",
		"a short row in it": "k10, w&t, p5, w&t, k to end",
	} {
		for _, worked := range []string{"in rows", "in rounds"} {
			p, problems := Read([]byte("Pattern: T\nWorked: " + worked + "\nCast on: 24\nSection: A\nRow 1: " + text + "\nRow 2: k\n"))
			if len(problems) > 0 {
				t.Fatalf("%s, %s: %v", name, worked, problems)
			}
			plan, err := p.LayOut(Choice{})
			if err != nil {
				t.Fatal(err)
			}
			if n := plan.Rows[0].Unworked(); n != 0 {
				t.Errorf("%s, %s: %d stitches are unworked, want none", name, worked, n)
			}
		}
	}
}

// A panel may stand beside itself, once from its beginning and once continued.
func TestContinuedBesideItself(t *testing.T) {
	const head = "Pattern: T\nWorked: in rounds\nCast on: 8\nPanel: E, 4 sts\nRound 1: k4\nRound 2: p4\nRound 3: k1, p3\n" +
		"Section: A\nAcross: E, E\nRound 1: work the panels\nSection: B\nAcross: "
	for across, want := range map[string][]string{
		"E (continued), E": {"k4, k4", "p4, k4", "k1, p3, p4"},
		"E, E (continued)": {"k4, k4", "k4, p4", "p4, k1, p3"},
		"E, E":             {"k4, k4", "k4, k4", "p4, p4"},
	} {
		p, problems := Read([]byte(head + across + "\nRounds 2-3: work the panels\n"))
		if HasErrors(problems) {
			t.Fatal(problems)
		}
		plan, err := p.LayOut(Choice{})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, r := range plan.Rows {
			got = append(got, instruction.Print(r.Written, 0))
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", across, d)
		}
	}
}

// What can be doubted of a cross without knowing its stitches is told below a
// wrong row, too.
func TestDoubtsBelowAMistake(t *testing.T) {
	_, problems := Read([]byte("Pattern: T\nWorked: in rows\nCast on: 24\nSection: A\nRow 1: k25\nRow 2: C4F, k\nRow 3: sl 2 to cn, k2, k2 from cn, k\n"))
	var codes []string
	for _, p := range problems {
		codes = append(codes, p.Code)
	}
	if d := cmp.Diff([]string{"short", "cross-wrong-side", "cross-hold"}, codes); d != "" {
		t.Errorf("told (-want +got):\n%s", d)
	}
}
