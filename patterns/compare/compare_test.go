package compare_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/patterns"
	"clew/patterns/compare"
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

// lanterns is a small pattern of two sizes; all counts below are of its first.
const lanterns = `Pattern: Pier Lanterns (invented)
Worked: in rounds
Sizes: small (large)
Cast on: 24 (48)

Section: Brim
Rounds 1-4: *k2, p2; rep from * to end.

Section: Lanterns
Round 1: *k2, 1/1 RC; rep from * to end.
Round 2: work sts as they present.
Round 3: *k2tog, k2; rep from * to end.
Round 4: k to end.
Round 5: with Red, k to end.
Round 6: p to end.

Section: Crown
Rounds 1-2: k to end.
Round 3: *k2tog; rep from * to end.
`

func TestRows(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to string
		want     []compare.Change
	}{
		{"nothing", "Pier", "Harbour", nil},
		{"a row in the middle, which later rows follow", "Round 3: *k2tog, k2; rep from * to end.\nRound 4", "Round 3: *k2tog, k4; rep from * to end.\nRound 4", []compare.Change{
			{Kind: compare.Changed, Section: "Lanterns", Number: 3, Old: 6, New: 6, OldBefore: 24, OldAfter: 18, NewBefore: 24, NewAfter: 20, Followers: 6}}},
		{"a row that leaves the count", "Round 6: p", "Round 6: k", []compare.Change{
			{Kind: compare.Changed, Section: "Lanterns", Number: 6, Old: 9, New: 9, OldBefore: 18, OldAfter: 18, NewBefore: 18, NewAfter: 18}}},
		{"all rows of a line, and the one that follows them in its looks", "Rounds 1-4: *k2, p2;", "Rounds 1-4: *p2, k2;", []compare.Change{
			{Kind: compare.Changed, Section: "Brim", Number: 1, Old: 0, New: 0, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24},
			{Kind: compare.Changed, Section: "Brim", Number: 2, Old: 1, New: 1, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24},
			{Kind: compare.Changed, Section: "Brim", Number: 3, Old: 2, New: 2, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24},
			{Kind: compare.Changed, Section: "Brim", Number: 4, Old: 3, New: 3, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24}}},
		{"a cross that leaves other faces", "1/1 RC", "1/1 RPC", []compare.Change{
			{Kind: compare.Changed, Section: "Lanterns", Number: 1, Old: 4, New: 4, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24, Followers: 1}}},
		{"a yarn, which later rows follow", "Round 5: with Red,", "Round 5: with Blue,", []compare.Change{
			{Kind: compare.Changed, Section: "Lanterns", Number: 5, Old: 8, New: 8, OldBefore: 18, OldAfter: 18, NewBefore: 18, NewAfter: 18, Followers: 4}}},
		{"a row more", "Round 6: p to end.\n", "Round 6: p to end.\nRound 7: k to end.\n", []compare.Change{
			{Kind: compare.Added, Section: "Lanterns", Number: 7, Old: -1, New: 10, OldBefore: 18, OldAfter: 18, NewBefore: 18, NewAfter: 18}}},
		{"a row less", "Round 6: p to end.\n", "", []compare.Change{
			{Kind: compare.Removed, Section: "Lanterns", Number: 6, Old: 9, New: -1, OldBefore: 18, OldAfter: 18, NewBefore: 18, NewAfter: 18}}},
		{"a row more that decreases", "Round 6: p to end.\n", "Round 6: p to end.\nRound 7: *k1, k2tog; rep from * to end.\n", []compare.Change{
			{Kind: compare.Added, Section: "Lanterns", Number: 7, Old: -1, New: 10, OldBefore: 18, OldAfter: 18, NewBefore: 18, NewAfter: 12, Followers: 3}}},
		{"a section with another name", "Section: Lanterns", "Section: Lamps", []compare.Change{
			{Kind: compare.Renamed, Section: "Lamps", Was: "Lanterns", Number: 1, Old: 4, New: 4, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24}}},
		{"a section with another name and one other row", "Section: Lanterns\nRound 1: *k2,", "Section: Lamps\nRound 1: *p2,", []compare.Change{
			{Kind: compare.Renamed, Section: "Lamps", Was: "Lanterns", Number: 1, Old: 4, New: 4, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24},
			{Kind: compare.Changed, Section: "Lamps", Number: 1, Old: 4, New: 4, OldBefore: 24, OldAfter: 24, NewBefore: 24, NewAfter: 24, Followers: 1}}},
		{"another cast-on", "Cast on: 24", "Cast on: 40", []compare.Change{
			{Kind: compare.Changed, Section: "Brim", Number: 1, Old: 0, New: 0, OldBefore: 24, OldAfter: 24, NewBefore: 40, NewAfter: 40, Followers: 12}}},
		{"the other size alone", "Cast on: 24 (48)", "Cast on: 24 (64)", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(lanterns, c.from) != 1 {
				t.Fatalf("the pattern has %q %d times", c.from, strings.Count(lanterns, c.from))
			}
			old, now := layOut(t, lanterns, ""), layOut(t, strings.Replace(lanterns, c.from, c.to, 1), "")
			if diff := cmp.Diff(c.want, compare.Rows(old, now)); diff != "" {
				t.Errorf("(- expected, + found)\n%s", diff)
			}
		})
	}
}

func TestCountDiffers(t *testing.T) {
	old := layOut(t, lanterns, "")
	for to, want := range map[string]bool{"Round 3: *k2tog, k4;": true, "Round 3: *ssk, k2;": false} {
		changes := compare.Rows(old, layOut(t, strings.Replace(lanterns, "Round 3: *k2tog, k2;", to, 1), ""))
		if len(changes) != 1 || changes[0].CountDiffers() != want {
			t.Errorf("with %q there is %+v; one change was expected, and that the count differs is %v", to, changes, want)
		}
	}
}

// TestRetyped says that a pattern in which the same work is typed otherwise is no other
// one. Source: FORMAT.md, 6.
func TestRetyped(t *testing.T) {
	const head = "Pattern: Retyped (invented)\nWorked: in rounds\nCast on: 24\nAbbreviation: MG = (k1, yo, k1) in next st\n\nSection: All\nRound 1: "
	for name, c := range map[string][2]string{
		"decreases":        {"*skp, k1, sk2p, s2kp, k3; rep from * to end", "*sl 1, k1, psso, k1, sl 1, k2tog, psso, sl 2 kwise, k1, p2sso, k3; rep from * around"},
		"decreases, said":  {"*sl 1, k1, psso, k10; rep from * to end", "[sl 1 kwise, k1, psso, k10] twice"},
		"increases":        {"kfb, pfb, k to end", "(k1, k1 tbl) in next st, (p1, p1 tbl) in next st, k to end"},
		"loops":            {"ktbl, k1 tbl, k to end", "k2 tbl, k22"},
		"crosses":          {"C4B, T3F, RT, k to end", "2/2 RC, sl 2 to cn, hold in front, p1, k2 from cn, 1/1 RC, k15"},
		"plain words":      {"purl 1 round", "*p1; rep from * to end"},
		"own abbreviation": {"MG, knit", "(k1, yo, k1) in next st, k to end"},
	} {
		t.Run(name, func(t *testing.T) {
			const next = ".\nRound 2: knit.\n"
			if changes := compare.Rows(layOut(t, head+c[0]+next, ""), layOut(t, head+c[1]+next, "")); changes != nil {
				t.Errorf("%q and %q are told apart: %+v", c[0], c[1], changes)
			}
		})
	}
}

// TestMoved says that a section that stands elsewhere is removed and added.
func TestMoved(t *testing.T) {
	head, brim, body, edge := "Pattern: Moved (invented)\nWorked: in rounds\nCast on: 12\n", "Section: Brim\nRounds 1-2: k to end.\n", "Section: Body\nRounds 1-3: p to end.\n", "Section: Edge\nRound 1: [k1, p1] to end.\n"
	kinds := map[compare.Kind]int{}
	for _, c := range compare.Rows(layOut(t, head+brim+body+edge, ""), layOut(t, head+body+edge+brim, "")) {
		if c.Section != "Brim" {
			t.Errorf("row %d of %s is changed", c.Number, c.Section)
		}
		kinds[c.Kind]++
	}
	if diff := cmp.Diff(map[compare.Kind]int{compare.Added: 2, compare.Removed: 2}, kinds); diff != "" {
		t.Errorf("(- expected, + found)\n%s", diff)
	}
}

func TestCarry(t *testing.T) {
	old := layOut(t, lanterns, "")
	for _, c := range []struct {
		name     string
		from, to string
		section  string
		number   int
		wantName string // of the section in the new plan
		want     int
		kept     bool
	}{
		{"a row that is as it was", "Pier", "Harbour", "Lanterns", 3, "Lanterns", 3, true},
		{"a row that is changed", "Round 6: p", "Round 6: k", "Lanterns", 6, "Lanterns", 6, true},
		{"a row of a section with another name", "Section: Lanterns", "Section: Lamps", "Lanterns", 6, "Lamps", 6, true},
		{"a row that is gone", "Round 6: p to end.\n", "", "Lanterns", 6, "Lanterns", 5, false},
		{"a row that is gone, after one that is changed", "Round 5: with Red, k to end.\nRound 6: p to end.\n", "Round 5: p to end.\n", "Lanterns", 6, "Lanterns", 4, false},
		{"the first row after those that are gone", "Round 6: p to end.\n", "", "Crown", 1, "Crown", 1, true},
		{"a section that is gone", "Section: Crown\nRounds 1-2: k to end.\nRound 3: *k2tog; rep from * to end.\n", "", "Crown", 2, "Lanterns", 6, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			now := layOut(t, strings.Replace(lanterns, c.from, c.to, 1), "")
			i, ok := old.Find(c.section, c.number)
			if !ok {
				t.Fatal("the old plan has no such row")
			}
			j, kept := compare.Of(old, now).Carry(i)
			if r := now.Rows[j]; r.Section.Name != c.wantName || r.Number != c.want || kept != c.kept {
				t.Errorf("it is row %d of %s, kept %v; expected row %d of %s, kept %v", r.Number, r.Section.Name, kept, c.want, c.wantName, c.kept)
			}
		})
	}
	for _, i := range []int{-1, len(old.Rows)} {
		if j, kept := compare.Of(old, old).Carry(i); j != 0 || kept {
			t.Errorf("row %d, which there is not, is row %d, kept %v", i, j, kept)
		}
	}
}

func TestSectionNow(t *testing.T) {
	c := compare.Of(layOut(t, lanterns, ""), layOut(t, strings.NewReplacer("Section: Lanterns", "Section: Lamps", "Section: Crown\nRounds 1-2: k to end.\nRound 3: *k2tog; rep from * to end.\n", "").Replace(lanterns), ""))
	for section, want := range map[string]string{"Brim": "Brim", "Lanterns": "Lamps", "Crown": "", "Sleeve": ""} {
		if now := c.SectionNow(section); now != want {
			t.Errorf("%s is now %q, expected %q", section, now, want)
		}
	}
}

// TestSamplesAreThemselves compares every sample in every size with itself, read once
// more.
func TestSamplesAreThemselves(t *testing.T) {
	files, err := filepath.Glob("../samples/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples were found: %v", err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := patterns.Read(src)
		for _, size := range append([]string{""}, p.Sizes...) {
			if changes := compare.Rows(layOut(t, string(src), size), layOut(t, string(src), size)); changes != nil {
				t.Errorf("%s in size %q is not itself: %+v", file, size, changes)
			}
		}
	}
}
