package fabric_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A failer is a test, or one draw of a property test.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// parse reads a row that must be right.
func parse(t failer, text string) []instruction.Node {
	t.Helper()
	return parseSizes(t, text, 1)
}

func parseSizes(t failer, text string, sizes int) []instruction.Node {
	t.Helper()
	in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{Sizes: sizes})
	if len(problems) > 0 {
		t.Fatalf("%q does not parse: %s", text, problems[0].Message)
	}
	return in.Body
}

// both is the fabric and the slow one, worked side by side.
type both struct {
	fast fabric.Fabric
	slow *slow
	ring bool
}

func castOn(n int, ring bool) *both {
	return &both{fabric.CastOn(n).Begin(ring, instruction.SideUnsaid), slowCastOn(n, ring), ring}
}

func (b *both) copy() *both { return &both{b.fast, b.slow.copy(), b.ring} }

// work works a row on both. It gives what differs, and whether the row could
// be worked.
func (b *both) work(nodes []instruction.Node) (difference string, worked bool) {
	did := b.fast.Work(nodes, fabric.Row{Rounds: b.ring})
	err := b.slow.row(nodes, 0)
	switch {
	case did.Problem == nil && err != nil:
		return "worked, where it should not come out: " + err.Error(), false
	case did.Problem != nil && err == nil:
		return "refused, where it comes out: " + did.Problem.Message, false
	case err != nil:
		return "", false
	}
	b.fast = did.After
	return b.slow.differs(did.After), true
}

// shortItems are what short rows are made of, in every order.
var shortItems = []string{
	"k1", "p1", "sl 1", "k2tog", "yo", "kfb", "psso", "RT", "1/1 LPC", "BO 1", "pm", "sm", "rm", "turn", "w&t",
	"k to m", "k to end", "p to last 1 st", "[k1, yo] to end", "work 1 st as it looks", "(k1, yo, k1) in next st",
}

// starts are needles that a short row is tried on: some stitches, and the rows
// that led there.
var starts = []struct {
	stitches int
	rows     string
}{
	{0, ""}, {1, ""}, {2, ""}, {3, ""}, {4, "p1, k2, p1"}, {3, "k1, pm, k1, p1"}, {3, "pm, k3"}, {4, "k3, w&t"}, {4, "k3, turn | p2, turn"},
	{4, "k2, pm, k2 | p1, turn"}, {4, "pm, p2, pm, k2 | k3, turn | p1, turn"},
}

func TestEveryShortRow(t *testing.T) {
	var items [][]instruction.Node
	for _, text := range shortItems {
		items = append(items, parse(t, text))
	}
	longest := 3
	if testing.Short() {
		longest = 2
	}
	tried, worked := 0, 0
	for _, ring := range []bool{false, true} {
		for _, from := range starts {
			if ring && from.stitches == 0 {
				continue // no stitches make no ring
			}
			start := castOn(from.stitches, ring)
			for row := range strings.SplitSeq(from.rows, " | ") {
				if row == "" {
					continue
				}
				if diff, ok := start.work(parse(t, row)); diff != "" || !ok {
					t.Fatalf("%d stitches, %q: %s", from.stitches, row, diff)
				}
			}
			var try func(at *both, nodes []instruction.Node, text string)
			try = func(at *both, nodes []instruction.Node, text string) {
				if len(nodes) > 0 {
					tried++
					diff, ok := at.copy().work(nodes)
					if diff != "" {
						t.Fatalf("ring %v, %d stitches, %q, then %q: %s", ring, from.stitches, from.rows, text, diff)
					}
					if ok {
						worked++
					}
				}
				if len(nodes) < longest {
					for i, item := range items {
						try(at, append(nodes[:len(nodes):len(nodes)], item...), text+shortItems[i]+", ")
					}
				}
			}
			try(start, nil, "")
		}
	}
	t.Logf("%d rows, of which %d could be worked", tried, worked)
	if worked*20 < tried {
		t.Errorf("only %d of %d rows could be worked, too few to tell much", worked, tried)
	}
}

// Rows that the others come across too seldom.
func TestHardRows(t *testing.T) {
	for _, c := range []struct {
		name string
		n    int
		ring bool
		rows string // apart by "/"
	}{
		{"passed over behind the beginning of the round", 6, true, "p1, k2, turn / p1, sl 1, p2, psso, turn / k to end / work as they look"},
		{"passed over across the beginning of the round", 6, true, "k3, turn / p2, sl 1, p2, psso, turn / k to end"},
		{"passed over between two markers", 4, false, "pm, sl 1, pm, k1, psso, turn, k1, rm, turn, k to end"},
		{"slipped, held and returned", 3, false, "k1, sl 2, turn, put 2 sts on hold, p1 / k1, return 2 held sts, turn, p1"},
		{"held from a round that went back", 5, true, "p1, k2, turn / put 4 sts on hold, p1, turn / return 4 held sts, k to end"},
		{"a cross over the beginning of the round", 6, true, "pm, p1, k2, turn / k1, 2/1 RPC, turn / k to end / k to m"},
		{"a marker in a cross", 4, true, "k1, pm, p3 / 2/2 LPC / k to m, sm, k to end"},
		{"markers round a turn at the beginning of the round", 4, true, "pm, p4, sm, turn / k to m, sm, turn / pm, k to m"},
	} {
		t.Run(c.name, func(t *testing.T) {
			at := castOn(c.n, c.ring)
			for row := range strings.SplitSeq(c.rows, " / ") {
				if diff, ok := at.work(parse(t, row)); diff != "" || !ok {
					t.Fatalf("%q: worked %v, %s", row, ok, diff)
				}
			}
		})
	}
}

// anItem draws one thing that a row may say.
func anItem(t *rapid.T, depth int) string {
	plain := []string{
		"k1", "k2", "k3", "p1", "p2", "p4", "sl 1", "sl 2", "k1 tbl", "p1 tbl", "sl 1 tbl", "k2tog", "ssk", "p2tog", "sk2p", "s2kp", "yo", "yo 2", "m1", "m1p", "kfb", "pfb",
		"sl 1, k1, psso", "sl 1, k2tog, psso", "sl 2 kwise, k1, p2sso", "psso",
		"RT", "LT", "1/1 RC", "2/1 RPC", "2/1 LPC", "2/2 RC", "2/2 LPC", "3/1 RC", "2/1/2 RPC", "1/2/1 LC",
		"sl 2 to cn, hold in back, k1, (p1, k1) from cn", "sl 1 to cn, hold in front, p2, k1 from cn",
		"sl 3 to cn, hold in front, k2, sl 1 from cn back to left needle, p1, k2 from cn",
		"sl 1 to cn, hold in back, sl 1 to 2nd cn, hold in front, k1, k1 from 2nd cn, p1 from cn",
		"work 2 sts as they present", "work as they present to last 1 st", "knit the purls and purl the knits",
		"(k1, yo, k1) in next st", "(k1, p1) in next st", "BO 1", "BO 2", "CO 2",
		"pm", "sm", "rm", "k to m", "p to 1 st before m", "k to m, sm", "k to end", "p to last 2 sts", "work as they look",
		"turn", "w&t", "(k1, yo, k1) in next st, turn, p3, turn, sl 1, k2tog, psso",
		"with MC, k1", "with CC", "place bead", "put 2 sts on hold", "return 2 held sts", "k2tog to end",
	}
	if depth > 2 || rapid.IntRange(0, 4).Draw(t, "plain") > 0 {
		return rapid.SampledFrom(plain).Draw(t, "item")
	}
	body := aRow(t, depth+1, 3)
	how := rapid.SampledFrom([]string{"to end", "to last 1 st", "to last 3 sts", "to m", "2 times", "3 times", "once"}).Draw(t, "extent")
	return "[" + body + "] " + how
}

func aRow(t *rapid.T, depth, most int) string {
	items := make([]string, rapid.IntRange(1, most).Draw(t, "items"))
	for i := range items {
		items[i] = anItem(t, depth)
	}
	return strings.Join(items, ", ")
}

// endings make it likely that a row comes out.
var endings = []string{", k to end", ", p to end", ", work as they present", ", turn", ", [k1, p1] to end", ""}

// beginnings give a row markers to find, or leave it half done.
var beginnings = []string{"", "k1, pm, k to end", "k2, pm, p2, pm, k1, pm, k to end", "pm, k1, pm, k to end", "k3, turn", "p5, turn, k2, turn", "[k1, p1] to end"}

func TestRandomRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := castOn(rapid.IntRange(1, 24).Draw(t, "stitches"), rapid.Bool().Draw(t, "ring"))
		var rows []string
		for i := range rapid.IntRange(2, 7).Draw(t, "rows") {
			text := rapid.SampledFrom(beginnings).Draw(t, "beginning")
			if i > 0 || text == "" {
				text = aRow(t, 0, 5) + rapid.SampledFrom(endings).Draw(t, "ending")
			}
			in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
			if len(problems) > 0 {
				t.Fatalf("%q does not parse: %s", text, problems[0].Message)
			}
			next := at.copy()
			diff, ok := next.work(in.Body)
			if diff != "" {
				t.Fatalf("after %q: %q: %s", rows, text, diff)
			}
			if ok && next.fast.Count() > 0 { // else the needle stays as it was
				at, rows = next, append(rows, text)
			}
		}
	})
}

// Panels side by side keep to their own stitches.
func TestRandomPanels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := castOn(rapid.IntRange(1, 30).Draw(t, "stitches"), rapid.Bool().Draw(t, "ring"))
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			var nodes []instruction.Node
			var texts []string
			for range rapid.IntRange(1, 4).Draw(t, "panels") {
				text := aRow(t, 1, 3) + rapid.SampledFrom(endings).Draw(t, "ending")
				if strings.Contains(text, "turn") || strings.Contains(text, "w&t") || strings.Contains(text, "held") {
					text = "sl 1, k to end" // those are for whole rows
				}
				in, problems := instruction.Parse(text, problem.Span{End: len(text)}, instruction.Options{})
				if len(problems) > 0 {
					t.Fatalf("%q does not parse: %s", text, problems[0].Message)
				}
				strip := &instruction.Strip{Panel: "Plait", Row: 1, Width: rapid.IntRange(1, 6).Draw(t, "width"), Body: in.Body}
				nodes, texts = append(nodes, strip), append(texts, text)
			}
			nodes = append(nodes, parse(t, rapid.SampledFrom([]string{"k to end", "p to end", "psso, k to end"}).Draw(t, "rest"))...)
			next := at.copy()
			diff, ok := next.work(nodes)
			if diff != "" {
				t.Fatalf("%q: %s", texts, diff)
			}
			if ok && next.fast.Count() > 0 {
				at = next
			}
		}
	})
}
