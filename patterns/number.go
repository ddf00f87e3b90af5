package patterns

import (
	"slices"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// A numbered row is one row of a section or panel in one size, before it is
// known what it works on.
type numbered struct {
	number int
	line   *Line
	nth    int // which of the line's rows it is, from 0
	of     int // how many rows the line stands for
}

// numbering works out which rows the lines of a section or panel stand for, in
// one size.
type numbering struct {
	size     int
	rounds   bool
	word     string           // "row" or "round"
	first    instruction.Side // the side of the first row
	after    int              // the last number of the section before, from which numbers may go on
	next     int              // the first number of the section that follows; 0 for none
	rows     map[int]*numbered
	problems []problem.Problem
	src      string
	unsure   bool // a line could not be read, so that gaps may be its rows
}

func (n *numbering) fail(at problem.Span, code, format string, args ...any) {
	n.problems = append(n.problems, *problem.Errorf(at, code, format, args...))
}

// number gives the rows in order. A row line that means no row in this size is
// passed over.
func (n *numbering) number(lines []*Line) []*numbered {
	n.rows = map[int]*numbered{}
	last := 0
	for _, l := range lines {
		n.unsure = n.unsure || l.broken
		last = n.explicit(l, last)
		if len(n.rows) > MaxRows {
			n.fail(l.at(), "too-many-rows", "the rows go past %d here; a pattern has at most that many", MaxRows)
			break
		}
	}
	highest := 0
	for number := range n.rows {
		highest = max(highest, number)
	}
	for _, l := range lines {
		if l.Every != instruction.NoOthers {
			n.others(l, highest)
		}
	}
	return n.inOrder()
}

// explicit enters the rows that a line names. It gives the number the line
// begins with, against which the next one is checked.
func (n *numbering) explicit(l *Line, last int) int {
	for _, r := range l.Ranges {
		from, to := r.From.At(n.size), r.To.At(n.size)
		switch {
		case r.From.Max() == 0:
			n.fail(l.at(), "row-number", "rows are numbered from 1")
			return last
		case from == 0 || to == 0:
			continue // not in this size
		case to < from:
			n.fail(l.at(), "rows-backwards", "the numbers run backwards, from %d to %d", from, to)
			return last
		case to > MaxRows:
			n.fail(l.at(), "too-many-rows", "%s %d is past the limit; a pattern has at most %d", n.word, to, MaxRows)
			return last
		case len(l.Ranges) == 1 && l.Every == instruction.NoOthers && from < last && n.rows[from] == nil:
			n.fail(l.at(), "rows-backwards", "%s %d stands below %s %d; the numbers run backwards", n.word, from, n.word, last)
		}
		for number := from; number <= to; number++ {
			n.enter(l, number)
		}
		last = max(last, from)
	}
	return last
}

func (n *numbering) enter(l *Line, number int) {
	if other := n.rows[number]; other != nil {
		if other.line != l {
			at := problem.Locate([]byte(n.src), other.line.at().Start)
			n.fail(l.at(), "row-twice", "%s %d stands in line %d already", n.word, number, at.Line)
		} else {
			n.fail(l.at(), "row-twice", "%s %d stands twice in this line", n.word, number)
		}
		return
	}
	n.rows[number] = &numbered{number: number, line: l}
}

// others fills in "and all WS rows": up to the highest number that a line
// names, and one more where that one ends the section, so that a lace of
// right-side rows 1 to 7 has its row 8.
func (n *numbering) others(l *Line, highest int) {
	if n.rounds && (l.Every == instruction.EveryWS || l.Every == instruction.EveryRS) {
		n.fail(l.at(), "side", "worked in rounds, every round is a right-side one; say which rounds, such as: Round 2 and every even round")
		return
	}
	from := n.firstNamed(l)
	if from == 0 && highest == 0 {
		n.fail(l.at(), "row-number", "no line says how many rows there are")
		return
	}
	odd := n.odd(l, from)
	for number := max(from, 1); number <= highest+1; number++ {
		if (number%2 == 1) != odd || n.rows[number] != nil {
			continue
		}
		if number == highest+1 && number == n.next {
			continue // the next section begins with it
		}
		if from == 0 && n.after > 0 && number <= n.after && n.lowest() > n.after {
			continue
		}
		n.rows[number] = &numbered{number: number, line: l}
	}
}

// odd says whether the further rows of a line are the odd ones.
func (n *numbering) odd(l *Line, from int) bool {
	switch l.Every {
	case instruction.EveryEven:
		return false
	case instruction.EveryOdd:
		return true
	case instruction.EveryRS, instruction.EveryWS:
		if from == 0 {
			firstIsOdd := n.lowest()%2 == 1
			return firstIsOdd == (n.first == sideOf(l.Every))
		}
	}
	return from%2 == 1
}

func sideOf(e instruction.Every) instruction.Side {
	if e == instruction.EveryWS {
		return instruction.WS
	}
	return instruction.RS
}

func (n *numbering) firstNamed(l *Line) int {
	for _, r := range l.Ranges {
		if from := r.From.At(n.size); from > 0 {
			return from
		}
	}
	return 0
}

func (n *numbering) lowest() int {
	low := 0
	for number := range n.rows {
		if low == 0 || number < low {
			low = number
		}
	}
	return low
}

// inOrder sorts the rows, counts those of each line, and reports gaps.
func (n *numbering) inOrder() []*numbered {
	rows := make([]*numbered, 0, len(n.rows))
	for _, r := range n.rows {
		rows = append(rows, r)
	}
	slices.SortFunc(rows, func(a, b *numbered) int { return a.number - b.number })
	of := map[*Line]int{}
	for i, r := range rows {
		r.nth = of[r.line]
		of[r.line]++
		switch {
		case n.unsure:
		case i == 0 && r.number != 1 && n.after > 0 && r.number != n.after+1:
			n.fail(r.line.at(), "rows-missing", "the section begins with %s %d; 1 was expected, or %d to go on from the section before", n.word, r.number, n.after+1)
		case i == 0 && r.number != 1 && n.after == 0:
			n.fail(r.line.at(), "rows-missing", "the first %s is number %d; 1 was expected", n.word, r.number)
		case i > 0 && r.number == rows[i-1].number+2:
			n.fail(r.line.at(), "rows-missing", "%s %d is missing: %d follows %d", n.word, r.number-1, r.number, rows[i-1].number)
		case i > 0 && r.number > rows[i-1].number+2:
			n.fail(r.line.at(), "rows-missing", "%ss %d to %d are missing", n.word, rows[i-1].number+1, r.number-1)
		}
	}
	for _, r := range rows {
		r.of = of[r.line]
	}
	return rows
}

// lowestNamed is the smallest row number that the lines name in a size.
func lowestNamed(lines []*Line, size int) int {
	low := 0
	for _, l := range lines {
		for _, r := range l.Ranges {
			if from := r.From.At(size); from > 0 && (low == 0 || from < low) {
				low = from
			}
		}
	}
	return low
}
