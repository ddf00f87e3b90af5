package instruction

import (
	"fmt"
	"strings"
	"testing"
	texttemplate "text/template/parse"
)

// The rows are those of the handbooks in testdata (their books are named
// there), over and over until there are a thousand, and joined to one long row.
func benchmarkRows(b *testing.B) []string {
	b.Helper()
	examples := handbook(b)
	var rows []string
	for len(rows) < 1000 {
		for _, e := range examples {
			for _, r := range e.Rows {
				rows = append(rows, r.Text)
			}
		}
	}
	return rows[:1000]
}

func total(rows []string) (n int64) {
	for _, r := range rows {
		n += int64(len(r))
	}
	return n
}

func BenchmarkParse(b *testing.B) {
	rows := benchmarkRows(b)
	long := strings.TrimSuffix(strings.Repeat("k2, p2, 2/2 RC, yo, k2tog, [k1, p1] 3 times, ", 100), ", ")
	for _, c := range []struct {
		name string
		rows []string
	}{{"rows=1000", rows}, {"one-long-row", []string{long}}} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(total(c.rows))
			b.ReportAllocs()
			for b.Loop() {
				for _, r := range c.rows {
					if _, problems := Parse(r, whole(r), Options{}); len(problems) > 0 {
						b.Fatal(problems)
					}
				}
			}
		})
	}
}

// BenchmarkTemplateParse parses a template of about the same length, for
// comparison on the same machine: a thousand lines of text with actions in it.
func BenchmarkTemplateParse(b *testing.B) {
	var lines []string
	for i := range 1000 {
		lines = append(lines, fmt.Sprintf("{{if gt .Row %d}}{{.Knit %d}}, {{range .Purls}}{{.}}{{end}}{{end}}", i, i))
	}
	funcs := map[string]any{"gt": func(a, b int) bool { return a > b }}
	for _, c := range []struct {
		name  string
		texts []string
	}{{"rows=1000", lines}, {"one-long-text", []string{strings.Join(lines, "\n")}}} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(total(c.texts))
			b.ReportAllocs()
			for b.Loop() {
				for _, text := range c.texts {
					if _, err := texttemplate.Parse("row", text, "", "", funcs); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}

// BenchmarkHostile shows that the time grows with the text and no faster: the
// rate is about the same for both lengths.
func BenchmarkHostile(b *testing.B) {
	for _, c := range hostile {
		for _, part := range []int{4, 1} {
			text := c.text[:len(c.text)/part]
			b.Run(fmt.Sprintf("%s/%dKB", strings.ReplaceAll(c.name, " ", "-"), len(text)>>10), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					Parse(text, whole(text), Options{})
				}
			})
		}
	}
}
