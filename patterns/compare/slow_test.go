package compare_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"clew/patterns"
	"clew/patterns/compare"
	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// A slow list of what a row does, act by act, which shares nothing with the package: the
// stitch, how it is worked, and in which yarn.
func slowActs(p *patterns.Plan, i int) string {
	var b strings.Builder
	r := p.Rows[i]
	for _, a := range p.Acts(i) {
		yarn := stitch.Key(r.After.YarnName(a.Yarn))
		switch n := a.Node.(type) {
		case *instruction.Yarn:
			continue // told by the stitches worked with it
		case *instruction.Marker:
			if n.Act == instruction.SlipMarker {
				continue
			}
		}
		if a.Stitch == nil {
			fmt.Fprintf(&b, "%s in %s; ", instruction.Print([]instruction.Node{a.Node}, p.Size), yarn)
			continue
		}
		manner := instruction.Manner(0)
		if w, ok := a.Node.(*instruction.Work); ok {
			manner = w.Manner
		}
		fmt.Fprintf(&b, "%s %v %d %d %d in %s; ", a.Stitch.Abbr, a.TBL, manner, len(a.Uses), len(a.Makes), yarn)
	}
	return b.String()
}

// edits are what is put in place of something else in a pattern's text.
var edits = [][2]string{{"k2tog", "ssk"}, {"k1, ", "p1, "}, {"p2", "k2"}, {"RPC", "RC"}, {"LC", "RC"}, {"yo, k1, yo", "k3"}, {"with CC", "with MC"}, {"pm, ", ""}, {"sm, ", ""},
	{"wyif", "wyib"}, {"Section: ", "Section: New "}, {"p to end", "k to end"}, {"k to end", "p to end"}, {"sl 1 wyif, ", "k1, "}, {"m1l", "m1r"}, {"kfb", "k1, yo"}, {"k3", "k2, p1"}}

// TestAgainstActs compares samples that are edited in the first and the last place of each
// kind, where that leaves them sound, with what the acts of their rows tell.
func TestAgainstActs(t *testing.T) {
	files, err := filepath.Glob("../samples/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples were found: %v", err)
	}
	done := 0
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		old := layOut(t, string(src), "")
		was := make([]string, len(old.Rows))
		for i := range old.Rows {
			was[i] = slowActs(old, i)
		}
		for _, edit := range edits {
			first, last := strings.Index(string(src), edit[0]), strings.LastIndex(string(src), edit[0])
			for _, at := range slices.Compact([]int{first, last}) {
				if at < 0 {
					continue
				}
				text := string(src[:at]) + edit[1] + string(src[at+len(edit[0]):])
				p, problems := patterns.Read([]byte(text))
				if patterns.HasErrors(problems) {
					continue
				}
				now, err := p.LayOut(patterns.Choice{})
				if err != nil {
					t.Fatal(err)
				}
				done++
				againstActs(t, fmt.Sprintf("%s, %q at %d is %q", filepath.Base(file), edit[0], at, edit[1]), old, now, was)
			}
		}
	}
	t.Logf("%d edits", done)
	if done < 30 {
		t.Errorf("%d edits left a pattern sound, and more were expected", done)
	}
}

// againstActs checks a comparison of two plans of as many rows.
func againstActs(t *testing.T, name string, old, now *patterns.Plan, was []string) {
	t.Helper()
	if len(old.Rows) != len(now.Rows) {
		t.Fatalf("%s: there are %d rows, and there were %d", name, len(now.Rows), len(old.Rows))
	}
	c := compare.Of(old, now)
	changed, followers := map[int]bool{}, 0
	for _, one := range c.Changes {
		followers += one.Followers
		switch one.Kind {
		case compare.Changed:
			changed[one.Old] = true
		case compare.Added, compare.Removed:
			t.Errorf("%s: %+v", name, one)
		}
	}
	for i := range old.Rows {
		if j, kept := c.Carry(i); j != i || !kept {
			t.Errorf("%s: row %d is row %d now, kept %v", name, i, j, kept)
		}
		if alike := was[i] == slowActs(now, i); alike && changed[i] {
			t.Errorf("%s: row %d of %s counts as changed and is worked as it was", name, old.Rows[i].Number, old.Rows[i].Section.Name)
		} else if !alike && !changed[i] {
			followers--
		}
	}
	if followers != 0 {
		t.Errorf("%s: %d more rows follow than are worked otherwise", name, followers)
	}
}
