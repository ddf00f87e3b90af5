package patterns_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
)

// A builder writes random patterns that are sound by the way they are made:
// every panel row uses and leaves the panel's stitches, every group that
// repeats fits as often as it is told.
type builder struct {
	*rapid.T
	strings.Builder
	rounds bool
	sizes  []int // how often the group stands, by size
	panels []int // widths
}

func (b *builder) line(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }

func (b *builder) upTo(least, most int, label string) int {
	return rapid.IntRange(least, most).Draw(b.T, label)
}

// bySize gives a number for each size: that of times, multiplied.
func (b *builder) bySize(per int) string {
	first, rest := fmt.Sprint(b.sizes[0]*per), []string{}
	for _, times := range b.sizes[1:] {
		rest = append(rest, fmt.Sprint(times*per))
	}
	if len(rest) == 0 {
		return first
	}
	return first + " (" + strings.Join(rest, ", ") + ")"
}

// even gives items that use and leave so many stitches; crosses only where
// they may stand.
func (b *builder) even(width int, crosses bool) string {
	var items []string
	for width > 0 {
		choices := []string{"k1", "p1", "sl 1 wyib", "k1 tbl"}
		if width >= 2 {
			choices = append(choices, "yo, k2tog", "ssk, yo", "k2", "p2")
			if crosses {
				choices = append(choices, "1/1 RC", "1/1 LPC", "LT")
			}
		}
		if width >= 4 {
			choices = append(choices, "[k1, p1] twice", "k1, yo, sk2p, yo")
			if crosses {
				choices = append(choices, "2/2 LC", "3/1 RPC", "sl 2 to cn, hold in front, k2, k2 from cn")
			}
		}
		item := rapid.SampledFrom(choices).Draw(b.T, "item")
		width -= stitchesOf[item]
		items = append(items, item)
	}
	return strings.Join(items, ", ")
}

var stitchesOf = map[string]int{"k1": 1, "p1": 1, "sl 1 wyib": 1, "k1 tbl": 1, "yo, k2tog": 2, "ssk, yo": 2, "k2": 2, "p2": 2,
	"1/1 RC": 2, "1/1 LPC": 2, "LT": 2, "[k1, p1] twice": 4, "k1, yo, sk2p, yo": 4, "2/2 LC": 4, "3/1 RPC": 4, "sl 2 to cn, hold in front, k2, k2 from cn": 4}

// pattern writes one pattern. Its sections work panels, rows written out, and
// rows that may be left out.
func (b *builder) pattern() string {
	b.rounds = rapid.Bool().Draw(b.T, "rounds")
	for range b.upTo(1, 3, "sizes") {
		b.sizes = append(b.sizes, b.upTo(1, 5, "times"))
	}
	worked, word := "in rows", "Row"
	if b.rounds {
		worked, word = "in rounds", "Round"
	}
	for range b.upTo(1, 3, "panels") {
		b.panels = append(b.panels, b.upTo(1, 9, "width"))
	}
	group := 2
	for _, w := range b.panels {
		group += w
	}
	b.line("Pattern: Of chance\nWorked: %s", worked)
	if len(b.sizes) > 1 {
		names := []string{"small", "medium", "large"}[:len(b.sizes)]
		b.line("Sizes: %s (%s)", names[0], strings.Join(names[1:], ", "))
	}
	b.line("Cast on: %s", b.bySize(group))
	var across []string
	for i, width := range b.panels {
		across = append(across, fmt.Sprintf("Strip %c", 'A'+i))
		b.line("Panel: Strip %c, %d sts", 'A'+i, width)
		for row := range 2 * b.upTo(1, 3, "panel rows") {
			b.line("Row %d: %s.", row+1, b.even(width, b.rounds || row%2 == 0))
		}
	}
	for section := range b.upTo(1, 3, "sections") {
		b.section(fmt.Sprintf("Part %d", section+1), word, group, strings.Join(across, ", "))
	}
	return b.String()
}

func (b *builder) section(name, word string, group int, across string) {
	b.line("Section: %s\nAcross: [%s, k1, p1] %s times", name, across, b.bySize(1))
	row := 1
	next := func(rows int) string {
		head := fmt.Sprintf("%s %d", word, row)
		if rows > 1 {
			head = fmt.Sprintf("%ss %d-%d", word, row, row+rows-1)
		}
		row += rows
		return head
	}
	for range b.upTo(1, 5, "lines") {
		switch b.upTo(0, 4, "kind") {
		case 0:
			b.line("%s: work the panels.", next(2*b.upTo(1, 4, "rows")))
		case 1:
			b.line("%s: [%s] to end. (%s sts)", next(1), b.even(group, b.rounds || row%2 == 0), b.bySize(group))
			b.line("%s: *%s; rep from * around.", next(1), b.even(group, b.rounds || row%2 == 0))
		case 2:
			b.line("%s (optional in twos): work sts as they present.", next(2*b.upTo(1, 3, "rows")))
		case 3:
			b.line("%s: k to end.", next(1))
			b.line("%s: as %s %d.", next(1), strings.ToLower(word), row-2)
		case 4:
			b.line("%s: knit.\n%s and every even %s: purl.", next(1), next(1), strings.ToLower(word))
			return // the last line fills up all that follows
		}
	}
}

func TestSoundPatterns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := (&builder{T: t}).pattern()
		p, problems := patterns.Read([]byte(src))
		checkProblems(t, []byte(src), problems)
		if patterns.HasErrors(problems) {
			t.Fatalf("%s\n%s", caretForm([]byte(src), problems), src)
		}
		checkSound(t, p, true)
		for size := range p.SizeCount() {
			leaveOut(t, p, size)
		}
	})
}

// leaveOut leaves rows out of some groups: all others keep their names, and
// come in the same order.
func leaveOut(t *rapid.T, p *patterns.Pattern, size int) {
	choice := patterns.Choice{}
	if len(p.Sizes) > 0 {
		choice.Size = p.Sizes[size]
	}
	all, err := p.LayOut(choice)
	if err != nil {
		t.Fatal(err)
	}
	gone := map[rowName]bool{}
	for _, o := range p.Optionals(size) {
		rows := o.Step * rapid.IntRange(0, (o.To-o.From+1)/o.Step).Draw(t, "left out")
		choice.LeftOut = append(choice.LeftOut, patterns.LeftOut{Owner: o.Owner, From: o.From, Rows: rows})
		for n := o.To - rows + 1; n <= o.To; n++ {
			gone[rowName{o.Owner, n}] = true
		}
	}
	some, err := p.LayOut(choice)
	if err != nil {
		t.Fatal(err)
	}
	var want, got []rowName
	for _, r := range all.Rows {
		if !gone[name(r)] {
			want = append(want, name(r))
		}
	}
	for _, r := range some.Rows {
		got = append(got, name(r))
	}
	if !slices.Equal(want, got) {
		t.Fatalf("with %v left out the rows are %v, want %v", choice.LeftOut, got, want)
	}
}
