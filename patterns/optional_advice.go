package patterns

import (
	"fmt"
	"strings"
)

// together says how so many rows can be left out of a group that has fewer: those
// of the lines next to it with the same mark, where they are enough, or as many up to
// its last one.
func (l *layout) together(o Optional, rows int) string {
	word := l.wordIn(o.line)
	if from, to := l.besides(o); to-from+1 >= rows {
		return fmt.Sprintf("write %s as one line", numberedRows(capitalWord(word), from, to)+" "+inSteps(rows))
	}
	from, to := o.To-rows+1, o.To
	if from < 1 {
		from, to = 1, rows
	}
	if to > l.lastRow(o) {
		return "take the mark off"
	}
	return fmt.Sprintf("mark %d %ss together, such as %s", rows, word, numberedRows(capitalWord(word), from, to)+" "+inSteps(rows))
}

// besides gives the first and the last row of the groups with the same mark whose
// lines follow each other.
func (l *layout) besides(o Optional) (from, to int) {
	from, to = o.From, o.To
	groups := l.p.Optionals(l.size)
	for grown := true; grown; {
		grown = false
		for _, g := range groups {
			if g.Owner != o.Owner || g.Panel != o.Panel || g.Step != o.Step || g.To != from-1 && g.From != to+1 {
				continue
			}
			from, to, grown = min(from, g.From), max(to, g.To), true
		}
	}
	return from, to
}

// lastRow is the last row of the section or panel that a group stands in.
func (l *layout) lastRow(o Optional) int {
	var lines []*Line
	for _, p := range l.p.Panels {
		if o.Panel && p.Name == o.Owner {
			lines = p.Lines
		}
	}
	for _, s := range l.p.Sections {
		if !o.Panel && s.Name == o.Owner {
			lines = s.Lines
		}
	}
	last := 0
	for _, line := range lines {
		for _, r := range line.Ranges {
			last = max(last, r.To.At(l.size))
		}
	}
	return last
}

// wordIn is what a line calls its rows: "row" or "round".
func (l *layout) wordIn(line *Line) string {
	head := line.at()
	return wordOf(!strings.HasPrefix(strings.ToLower(string(l.p.text[head.Start:head.End])), "row"))
}

func capitalWord(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// numberedRows is "row 5", "rows 5-8".
func numberedRows(word string, from, to int) string {
	if from == to {
		return word + " " + itoa(from)
	}
	return word + "s " + itoa(from) + "-" + itoa(to)
}

// stepWords are how many rows may be left out at a time, from one on.
var stepWords = [...]string{"ones", "twos", "threes", "fours", "fives", "sixes", "sevens", "eights", "nines", "tens", "elevens", "twelves"}

// inSteps is the mark for rows that may be left out so many at a time: "(optional in fours)".
func inSteps(rows int) string {
	if rows <= len(stepWords) {
		return "(optional in " + stepWords[rows-1] + ")"
	}
	return "(optional in " + itoa(rows) + ")"
}

// commonMultiple is the least number that both go into.
func commonMultiple(a, b int) int {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}
