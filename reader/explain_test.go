package reader_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/reader"
)

func TestExplainCross(t *testing.T) {
	for _, c := range []struct{ name, row, want string }{
		{"right purl", "2/2 RPC", "Two over two right purl cross. Slip two to the cable needle and hold it behind; knit two; purl two from the cable needle. " +
			"The two stitches from the left needle pass in front, to the right; the two stitches from the cable needle pass behind, to the left. " +
			"It takes four stitches and leaves four, in the order you work them: two knit, then two purl."},
		{"left purl", "2/1 LPC", "Two over one left purl cross. Slip two to the cable needle and hold it in front; purl one; knit two from the cable needle. " +
			"The two stitches from the cable needle pass in front, to the left; the one stitch from the left needle passes behind, to the right. " +
			"It takes three stitches and leaves three, in the order you work them: one purl, then two knit."},
		{"three strands", "2/1/2 RPC", "Two over one over two right purl cross. Slip two to the cable needle and hold it behind; slip one to a second cable needle and hold it behind; knit two; " +
			"purl one from the second cable needle; knit two from the cable needle. " +
			"The two stitches from the left needle pass in front, to the right; the two stitches from the cable needle pass behind, to the left; " +
			"what is on the second cable needle stays in the middle, behind both. " +
			"It takes five stitches and leaves five, in the order you work them: two knit, then one purl, then two knit."},
		{"twist", "LT", "Left twist. Slip one to the cable needle and hold it in front; knit one; knit one from the cable needle. " +
			"The one stitch from the cable needle passes in front, to the left; the one stitch from the left needle passes behind, to the right. " +
			"It takes two stitches and leaves two, in the order you work them: two knit."},
		{"longhand, with a decrease", "sl 2 to cn, hold in back, k2, k2tog from cn", "This cross has no name of its own. Slip two to the cable needle and hold it behind; knit two; knit two together from the cable needle. " +
			"The two stitches from the left needle pass in front, to the right; the two stitches from the cable needle pass behind, to the left. " +
			"It takes four stitches and leaves three, in the order you work them: three knit."},
		{"longhand, side unsaid", "sl 1 to cn, k1, k1 from cn", "This cross has no name of its own. Slip one to the cable needle; knit one; knit one from the cable needle. " +
			"The pattern leaves open which strand passes in front. " +
			"It takes two stitches and leaves two, in the order you work them: two knit."},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := reader.ExplainCross(readRow(t, c.row)[0].(*instruction.Cross)); got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestExplainNamed explains crosses of any width; each takes and leaves its
// width, and says the strand that its name puts first as the one in front.
func TestExplainNamed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(1, stitch.MaxStrand)
		c := stitch.Cross{Front: width.Draw(t, "front"), Back: width.Draw(t, "back"), Left: rapid.Bool().Draw(t, "left"), Purl: rapid.Bool().Draw(t, "purl")}
		if rapid.Bool().Draw(t, "three strands") {
			c.Middle = width.Draw(t, "middle")
		}
		text := reader.ExplainNamed(c)
		checkAllowed(t, text)
		all := reader.Number(c.Uses())
		if !strings.Contains(text, "It takes "+all+" stitches and leaves "+all+", ") {
			t.Fatalf("%s: %s", c.Name(), text)
		}
		direction := "right"
		if c.Left {
			direction = "left"
		}
		clause, _, _ := strings.Cut(text[strings.Index(text, ". The ")+6:], ";")
		if !strings.HasPrefix(strings.TrimPrefix(clause, "The "), reader.Number(c.Front)+" stitch") && c.Front > 1 || !strings.HasSuffix(clause, "in front, to the "+direction) {
			t.Fatalf("%s: %s", c.Name(), text)
		}
	})
}

func TestHowTo(t *testing.T) {
	for abbr, want := range map[string]string{
		"yo":   "It adds one stitch to the count.",
		"ssk":  "Slip, slip, knit.",
		"k":    "Knit.",
		"s2kp": "It takes two stitches off the count.",
	} {
		if got := reader.HowTo(stitch.Find(abbr)); !strings.HasPrefix(got, want) && !strings.HasSuffix(got, want) {
			t.Errorf("%s: %s", abbr, got)
		}
	}
	for _, s := range stitch.All() {
		checkAllowed(t, reader.HowTo(s))
	}
}

func TestExplainTerm(t *testing.T) {
	for abbr, want := range map[string]string{
		"RS":    "Right side.",
		"St st": "Stockinette stitch: knit on the right side, purl on the wrong side.",
		"w&t":   "Wrap the next stitch and turn: slip it, bring the yarn to the other side, slip it back, and turn the work.",
	} {
		term, _ := stitch.FindTerm(abbr)
		if got := reader.ExplainTerm(term); got != want {
			t.Errorf("%s: %s", abbr, got)
		}
	}
	for _, term := range stitch.Terms() {
		checkAllowed(t, reader.ExplainTerm(term))
	}
}

func ExampleHowTo() {
	fmt.Println(reader.HowTo(stitch.Find("k2tog")))
	// Output:
	// Knit two together. Put the right needle knitwise through the next two stitches at once, and knit them as one. It leans to the right. It takes one stitch off the count.
}

// A slip moves a stitch and changes no count.
func TestHowToSlip(t *testing.T) {
	if text := reader.HowTo(stitch.Find("sl")); strings.Contains(text, "the count") {
		t.Errorf("a slip is said to change the count: %s", text)
	}
}
