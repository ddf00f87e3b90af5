package patterns_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"clew/patterns"
)

var (
	rowLine   = regexp.MustCompile(`^(?:Row|Round|Rnd)s? `)
	shaping   = regexp.MustCompile(`\b(?:k2tog|ssk|k3tog|p2tog|yo|m1l|m1r|kfb)\b`)
	plainKnit = regexp.MustCompile(`\b[kp]\d\b`)
)

// TestOneMistake puts one mistake into a row of a sound pattern, of the samples
// and of the books: a shaping stitch with a letter too many, or a plain one in
// its place, or one plain stitch more. Most of them are told once: a row may be
// worked again later, and all that follows be wrong in earnest.
func TestOneMistake(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	told, once := 0, 0
	for _, glob := range []string{"samples/*.txt", "testdata/books/*.txt", "testdata/common/*.txt"} {
		names, err := filepath.Glob(glob)
		if err != nil || len(names) == 0 {
			t.Fatal("no files", glob, err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(string(src), "\n")
			for i, line := range lines {
				if !rowLine.MatchString(line) || random.IntN(4) == 0 {
					continue
				}
				for _, wrong := range mistaken(line) {
					lines[i] = wrong
					_, problems := patterns.Read([]byte(strings.Join(lines, "\n")))
					if !patterns.HasErrors(problems) {
						continue // "k5 to last 2 sts" and the like may still come out
					}
					if told++; len(problems) == 1 {
						once++
					}
				}
				lines[i] = line
			}
		}
	}
	if told < 100 || once*100 < told*85 {
		t.Errorf("of %d patterns with one mistake %d are told of one, want 85 of 100", told, once)
	}
}

// mistaken gives a row line with a mistake in its first shaping stitch, and in
// its first number of plain ones.
func mistaken(line string) []string {
	var out []string
	if at := shaping.FindStringIndex(line); at != nil {
		out = append(out, line[:at[1]]+"g"+line[at[1]:], line[:at[0]]+"k1"+line[at[1]:])
	}
	if at := plainKnit.FindStringIndex(line); at != nil && line[at[1]-1] < '9' {
		out = append(out, line[:at[1]-1]+string(line[at[1]-1]+1)+line[at[1]:])
	}
	return out
}
