package patterns_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/problem"
)

// mistakes are rows on 24 stitches, each wrong in a way of its own, and the
// column in the row's text where that is told; 0 for the line's beginning, -1
// for any.
var mistakes = []struct {
	name, text string
	col        int
}{
	{"letters swapped", "k10, kt2og, k12.", 6},
	{"abbreviation of nobody's", "k10, bobbl, k13.", 6},
	{"a stitch too many", "k12, p13.", 6},
	{"a stitch too few", "k12, p11.", -1},
	{"repeat that does not come out", "*k3, p2; rep from * to end.", 1},
	{"another count stated", "k24. (26 sts)", 6},
	{"cross that never ends", "sl 2 to cn, hold in back, k2, k20.", 1},
	{"missing row", "k24.", 0},
	{"number that stands twice", "p24.", 0},
	{"no marker ahead", "k to m, p to end.", 1},
	{"no marker here", "k4, sm, k20.", 5},
	{"sizes that there are not", "k4 (6, 8), k20.", 2},
	{"past the limit", "[[k1] 99 times] 99 times.", -1},
	{"two meanings", "C2B, k22.", 1},
	{"bracket never closed", "[k2, p2 6 times.", 1},
	{"nothing on hold", "return 4 held sts, k24.", 1},
	{"panel too wide", "", -1}, // told of the panel's own row
}

// tenWrong writes a pattern with ten of the mistakes, so many good rows after
// each, and where they are to be told; -1 for any column.
func tenWrong(random *rand.Rand, gap int) (src string, want []problem.Position, names []string) {
	order := random.Perm(len(mistakes))[:10]
	lines := []string{"Pattern: Tide cap", "Worked: in rounds", "Cast on: 24", "Panel: Edge, 4 sts", "Round 1: k4."}
	number := 0
	row := func(text string, col int) {
		number++
		head := fmt.Sprintf("Round %d: ", number)
		lines = append(lines, head+text)
		switch {
		case col > 0:
			want = append(want, problem.Position{Line: len(lines), Col: len(head) + col})
		case col == 0:
			want = append(want, problem.Position{Line: len(lines), Col: 1})
		default:
			want = append(want, problem.Position{Line: len(lines), Col: -1})
		}
	}
	good := func(text string) {
		row(text, -1)
		want = want[:len(want)-1]
	}
	if slices.ContainsFunc(order, func(i int) bool { return mistakes[i].text == "" }) {
		lines = append(lines, "Round 2: k5.", "Round 3: p4.")
		want = append(want, problem.Position{Line: len(lines) - 1, Col: -1})
	}
	lines = append(lines, "Section: Cap")
	good("knit.")
	for _, i := range order {
		m := mistakes[i]
		names = append(names, m.name)
		switch m.name {
		case "panel too wide":
			continue
		case "missing row":
			number++
		case "number that stands twice":
			number--
		}
		row(m.text, m.col)
		for range gap {
			good([]string{"", "knit.", "k24."}[gap])
		}
	}
	good("k24.")
	return strings.Join(lines, "\n") + "\n", want, names
}

// TestTenOfAny says that ten different mistakes in one file are told as ten,
// each where it stands, however close they are. A number that stands twice next
// to a missing row is one mistake, so that the two are kept apart.
func TestTenOfAny(t *testing.T) {
	for gap := range 3 {
		random := rand.New(rand.NewPCG(1, uint64(gap)))
		for range 150 {
			src, want, names := tenWrong(random, gap)
			a, b := slices.Index(names, "missing row"), slices.Index(names, "number that stands twice")
			if a >= 0 && b >= 0 && gap == 0 && max(a-b, b-a) <= 2 {
				continue
			}
			_, problems := patterns.Read([]byte(src))
			slices.SortFunc(want, func(a, b problem.Position) int { return a.Line - b.Line })
			right := len(problems) == len(want)
			for i := 0; right && i < len(want); i++ {
				at := problem.Locate([]byte(src), problems[i].Start)
				right = at.Line == want[i].Line && (want[i].Col < 0 || at.Col == want[i].Col)
			}
			if !right {
				t.Fatalf("%d rows between the mistakes: told %d, want %v\n%s\n%s", gap, len(problems), want, src, caretForm([]byte(src), problems))
			}
		}
	}
}

// TestNextToEachOther says of mistakes that stand close together, or after rows
// that can't be read, in which lines they are told. Each pattern begins with
// four lines of header; a row stands on the line of its number and four more.
func TestNextToEachOther(t *testing.T) {
	for _, c := range []struct {
		name   string
		castOn int
		rounds []string
		want   []int // the rounds
	}{
		{"five on end", 20, []string{"k", "kk", "k21", "k19", "*k3; rep from * to end", "k20 (21 sts)", "k"}, []int{2, 3, 4, 5, 6}},
		{"unknown, then too few", 24, []string{"knit.", "k10, bobbl, k13.", "knit.", "k12, p11.", "knit.", "knit."}, []int{2, 4}},
		{"two meanings, too few, count", 20, []string{"C2B, k18", "k19", "k20 (18 sts)"}, []int{1, 2, 3}},
		{"cross, too few, count", 20, []string{"sl 2 to cn, hold in back, k2, k16", "k19", "k20 (18 sts)"}, []int{1, 2, 3}},
		{"bracket, too few, count", 20, []string{"[k2, p2", "k19", "k20 (18 sts)"}, []int{1, 2, 3}},
		{"bracket, count, repeat", 24, []string{"[k2, p2 6 times.", "*k2, p2; rep from * to end.", "*k2, p2; rep from * to end. (25 sts)", "*k5, p2; rep from * to end.", "*k2, p2; rep from * to end."}, []int{1, 3, 4}},
		{"unknown ones, too few, count", 20, []string{"C2B, k18", "k5, C2B, k12", "k20", "k2, foo, k16", "k19", "k20 (21 sts)"}, []int{1, 2, 4, 5, 6}},
		{"count, and all after it", 24, []string{"k24 (27 sts)", "k24", "k24 (25 sts)", "k23", "k24"}, []int{1, 3, 4}},
		{"decreases that can't be read, and a stated count", 96, []string{"[k6, k2togg] to end.", "k to end.", "[k5, k2tog] to end.", "[k4, k2tog] to end. (60 sts)"}, []int{1}},
		{"decreases of nobody's, and stated counts", 96, []string{"[k6, fnarl] to end.", "k to end.", "[k5, k2tog] to end. (72 sts)", "[k4, k2tog] to end. (60 sts)"}, []int{1}},
		{"a decrease forgotten", 96, []string{"[k6, k2tog] to end.", "[k6, k2tog] to end.", "[k4, k2tog] to end.", "[k3, k2tog] to end.", "[k2, k2tog] to end. (36 sts)"}, []int{2}},
		{"cast on wrong", 97, []string{"[k2, p2] to end", "[k2, p2] to end", "[k2, p2] to end", "[k6, k2tog] to end", "[k5, k2tog] to end"}, []int{1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := fmt.Sprintf("Pattern: Tide cap\nWorked: in rounds\nCast on: %d\nSection: Cap\n", c.castOn)
			for i, text := range c.rounds {
				src += fmt.Sprintf("Round %d: %s\n", i+1, text)
			}
			_, problems := patterns.Read([]byte(src))
			var got []int
			for _, p := range problems {
				got = append(got, problem.Locate([]byte(src), p.Start).Line-4)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("told in rounds %v, want %v:\n%s", got, c.want, caretForm([]byte(src), problems))
			}
		})
	}
}
