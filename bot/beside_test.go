package bot_test

import (
	"fmt"
	"strings"
	"testing"

	"clew/bot"
)

// headed is a piece with all that stands beside the stitches (invented).
var headed = strings.NewReplacer("Cast on: 20\n", `Cast on: 20
Gauge: 22 sts and 30 rows = 10 cm
Needles: 4 mm straight
Yarn: harbour wool, 80 g
Note: Wash by hand.
`, "Rows 1-4: knit.\nSection: Middle", "Rows 1-4: knit.\nTip: Mark the right side.\nSection: Middle").Replace(panels)

// A corrected gauge, yarn, needle, note or tip is a change: the host is told of it, and
// each member once, who can hear it again.
func TestCorrectionBesideTheStitches(t *testing.T) {
	const none = "No row is worked otherwise than before"
	for _, c := range []struct{ name, old, now, host, member string }{
		{"typing", "Rows 3-6: knit.", "Rows 3-6: k to end.", ": words alone have changed.", ""},
		{"gauge", "22 sts and 30 rows", "20 sts and 28 rows", ". The gauge is different. Each knitter hears of it once, or comes to it in its place.",
			"The gauge is different now: twenty stitches and twenty-eight rows to ten centimetres."},
		{"yarn", "80 g", "110 g", ". The yarn is different. ", "The yarn is different now: harbour wool, one hundred and ten grams."},
		{"needles", "4 mm", "5 mm", ". The needles are different. ", "The needles are different now: five millimetres straight."},
		{"note", "Wash by hand.", "Wash by hand.\nNote: Dry it flat.", ". A note is different. ", "A note is new: Dry it flat."},
		{"note gone", "Note: Wash by hand.\n", "", ". A note is different. ", "A note is no longer in it."},
		{"tip", "Mark the right side.", "Mark the wrong side.", ". A tip is different. ", "There is another tip to row one of Border: Mark the wrong side."},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHouse(t)
			h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(headed), Event: "start"})
			n := 0
			ask := func(words string) string {
				n++
				r := h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: fmt.Sprint("e", n)})
				checkSaid(t, words, r)
				return r.Said
			}
			ask("join")
			ask("put me at row 3")
			now := strings.Replace(headed, c.old, c.now, 1)
			if now == headed {
				t.Fatal("nothing is corrected")
			}
			r := h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
			if !strings.Contains(r.Said, none+c.host) {
				t.Errorf("the host is told %q", r.Said)
			}
			told := ""
			if c.member != "" {
				told = "The pattern has been corrected. " + c.member + " "
			}
			if said := ask("where am I"); !strings.HasPrefix(said, told+"You are at row three") {
				t.Errorf("she is told %q", said)
			}
			if said := ask("next"); strings.Contains(said, "corrected") {
				t.Errorf("she is told again: %q", said)
			}
			if said := ask("what has changed"); !strings.HasSuffix(said, strings.TrimSpace("worked otherwise than at first. "+c.member)) {
				t.Errorf("what has changed is %q", said)
			}
		})
	}
}

// What is changed in many places is told in short, and all of it to who asks.
func TestMuchChangedBeside(t *testing.T) {
	h := newHouse(t)
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(headed), Event: "start"})
	ask := func(words string) string {
		return h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: words}).Said
	}
	ask("join")
	ask("put me at row 3")
	long := strings.Repeat("wash it by hand in the harbour, ", 10)
	now := strings.NewReplacer("22 sts", "20 sts", "80 g", "90 g", "Wash by hand.", "Always "+long+"and dry it.\nNote: Never "+long+"and dry it.").Replace(headed)
	h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
	if said := ask("where am I"); !strings.HasPrefix(said, "The pattern has been corrected. The gauge, the yarn and two notes are different now. Say what has changed to hear it. You are at") {
		t.Errorf("she is told %q", said)
	}
	said := ask("what has changed")
	for _, want := range []string{"The gauge is different now: twenty", "ninety grams", "A note is different now: Always wash", "A note is new: Never wash"} {
		if !strings.Contains(said, want) {
			t.Errorf("what has changed is %q, expected %q in it", said, want)
		}
	}
}

// What is held back stays so: a note that names it, and the needles.
func TestBesideHeldBack(t *testing.T) {
	h := newHouse(t)
	yes := true
	h.order(t, bot.Order{Deed: bot.Start, Member: tamsin, Manages: true, Pattern: []byte(headed), Hold: &yes, Event: "start"})
	ask := func(words string) string {
		return h.Answer(t.Context(), bot.Ask{Member: wren, Server: "tibberhythe", Channel: "wednesday", Words: words, Event: words}).Said
	}
	ask("join")
	ask("put me at row 3")
	now := strings.NewReplacer("4 mm straight", "4 mm straight, 5 mm for the Middle", "Wash by hand.", "Wash by hand.\nNote: The Middle is wide.").Replace(headed)
	h.order(t, bot.Order{Deed: bot.Correct, Member: tamsin, Manages: true, Pattern: []byte(now), Event: "correct"})
	said := ask("where am I")
	if !strings.HasPrefix(said, "The pattern has been corrected. The needles are different now; ask your host which. You are at row three") || strings.Contains(said+ask("what has changed"), "Middle") {
		t.Errorf("she is told %q", said)
	}
}
