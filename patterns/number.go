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
	first  int  // the number of the line's first row
	nth    int  // which of the line's rows it is, from 0
	of     int  // how many rows the line stands for
	extra  bool // no line names it: one "and all WS rows" goes on with it past the last that one names

	guessed  bool // its number is a guess
	followed bool // its references have been followed
	body     []instruction.Node
	wrong    *problem.Problem
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
	nextSide instruction.Side // the side of its first row, where it says so and goes on with the same piece
	rows     map[int]*numbered
	named    map[int]bool // the numbers that lines name
	lowest   int          // the lowest of them
	doubled  map[int]bool // the numbers that stand twice
	problems []problem.Problem
	text     []byte // of the pattern, to tell where a line stands
	unsure   bool   // a line could not be read, so that gaps may be its rows
	end      int    // the last number of the line before
	ended    bool   // what follows is not numbered: past a limit, or where numbers begin anew
}

func (n *numbering) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	n.problems = append(n.problems, *problem.Errorf(at, code, format, args...))
	return &n.problems[len(n.problems)-1]
}

// number gives the rows in order. A row line that means no row in this size is
// passed over.
func (n *numbering) number(lines []*Line) []*numbered {
	n.rows, n.named, n.doubled = map[int]*numbered{}, map[int]bool{}, map[int]bool{}
	for _, l := range lines {
		for _, r := range l.Ranges {
			n.named[r.From.At(n.size)] = true
		}
	}
	last := 0
	for i, l := range lines {
		n.unsure = n.unsure || l.unsure
		if last = n.explicit(l, last, lines[i+1:]); n.ended {
			n.unsure = true
			break
		}
	}
	highest := 0
	for number := range n.rows {
		highest = max(highest, number)
		if n.lowest == 0 || number < n.lowest {
			n.lowest = number
		}
	}
	filled := map[bool]bool{}
	for _, l := range lines {
		if l.Every == instruction.NoOthers {
			continue
		}
		if from := n.firstNamed(l); from > 0 || !filled[n.odd(l, from)] {
			n.others(l, from, highest)
			filled[n.odd(l, from)] = true
		}
	}
	return n.inOrder()
}

// explicit enters the rows that a line names. It gives the number the line
// begins with, against which the next one is checked.
func (n *numbering) explicit(l *Line, last int, following []*Line) int {
	if l.unsure && len(l.Ranges) == 0 && l.Every == instruction.NoOthers && !n.named[n.end+1] && n.end < MaxRows {
		n.end++ // the best guess of which row it is
		n.enter(l, n.end, n.end, true)
		return n.end
	}
	begins, told := 0, false
	for _, r := range l.Ranges {
		from, to := r.From.At(n.size), r.To.At(n.size)
		switch {
		case r.From.Max() == 0:
			n.fail(l.at(), "row-number", "rows are numbered from 1").Suggest("number the first row 1")
			n.unsure = true
			return last
		case from == 0 || to == 0, to == from-1 && max(len(r.From.Values), len(r.To.Values)) > 1:
			continue // not in this size
		case to < from:
			n.fail(l.at(), "rows-backwards", "the numbers run backwards, from %d to %d", from, to).Suggest("write the lower number first: %d-%d", to, from)
			from, to, told = to, from, true
		}
		if max(from, to) > MaxRows {
			n.fail(l.at(), "too-many-rows", "%s %d is past the limit; a pattern has at most %d", n.word, max(from, to), MaxRows).Suggest("check the number")
			n.ended = true
			return last
		}
		if begins == 0 {
			begins = from
		}
		if simple(l) && !told {
			from, to = n.inPlace(l, from, to, last, following)
			begins = from
		}
		n.enter(l, from, to, told || n.ended)
		if row := n.rows[from]; row.line == l && from != r.From.At(n.size) {
			row.guessed = true
		}
		n.end = to
	}
	if begins == 0 || l.Every != instruction.NoOthers { // "Row 2 and all WS rows" may stand above row 1
		return last
	}
	return begins
}

// simple says that a line names one row, or one stretch of rows, and no more.
func simple(l *Line) bool { return len(l.Ranges) == 1 && l.Every == instruction.NoOthers }

// inPlace compares the number of a line with those around it. Where a number
// stands out, it gives the one that was likely meant.
func (n *numbering) inPlace(l *Line, from, to, last int, following []*Line) (int, int) {
	next := 0
	for _, f := range following {
		if len(f.Ranges) > 0 {
			next = f.Ranges[0].From.At(n.size)
			break
		}
	}
	expected := n.end + 1
	single := from == to && n.end > 0 && !n.named[expected] && n.rows[expected] == nil
	again := n.rows[from] != nil
	switch {
	case again && single && (next == 0 || next == expected+1):
		n.twice(l, from, to).Suggest("did you mean %s %d?", n.word, expected)
		return expected, expected
	case single && from > expected && next == expected+1:
		n.fail(l.at(), "row-number", "%s %d stands between %s %d and %s %d, where %d was expected", n.word, from, n.word, n.end, n.word, next, expected).
			Suggest("did you mean %s %d?", n.word, expected)
		return expected, expected
	case again && from == 1 && n.end > 1:
		n.twice(l, from, to).Suggest("if a new part begins here, write above it: Section: its name")
		n.ended = true
	case !again && from < last:
		n.fail(l.at(), "rows-backwards", "%s %d stands below %s %d; the numbers run backwards", n.word, from, n.word, last).
			Suggest("move it up, or number it %d", expected)
		n.unsure = true
	}
	return from, to
}

// twice tells that rows stand in an earlier line already.
func (n *numbering) twice(l *Line, from, to int) *problem.Problem {
	first, last := 0, 0
	for number := from; number <= to; number++ {
		if n.rows[number] != nil {
			if last = number; first == 0 {
				first = number
			}
		}
	}
	other := n.rows[first].line
	rows := n.word + " " + itoa(first) + " stands"
	if last > first {
		rows = n.word + "s " + itoa(first) + " to " + itoa(last) + " stand"
	}
	if other == l {
		return n.fail(l.at(), "row-twice", "%s twice in this line", rows)
	}
	return n.fail(l.at(), "row-twice", "%s in line %d already", rows, problem.Locate(n.text, other.at().Start).Line)
}

// enter adds rows that are not there yet. It tells of one that is, unless
// something has been told of the line's numbers.
func (n *numbering) enter(l *Line, from, to int, told bool) {
	for number := from; number <= to; number++ {
		if n.rows[number] == nil {
			n.rows[number] = &numbered{number: number, line: l}
			continue
		}
		if n.doubled[number] = true; !told {
			n.twice(l, from, to).Suggest("keep one of the two, or mend the number")
			told = true
		}
	}
}

// others fills in "and all WS rows": up to the highest number that a line
// names, and one more where that is an odd one, so that a lace of right-side
// rows 1 to 7 has its row 8.
func (n *numbering) others(l *Line, from, highest int) {
	if n.rounds && (l.Every == instruction.EveryWS || l.Every == instruction.EveryRS) {
		n.fail(l.at(), "side", "worked in rounds, every round is a right-side one").Suggest("say which rounds, such as: Round 2 and every even round")
		n.unsure = true
		return
	}
	if from == 0 && highest == 0 {
		n.fail(l.at(), "row-number", "no line says how many rows there are").Suggest("number them, such as: Rows 1-20")
		n.unsure = true
		return
	}
	odd := n.odd(l, from)
	for number := max(from, 1); number <= min(highest+1, MaxRows); number++ {
		if (number%2 == 1) != odd || n.rows[number] != nil {
			continue
		}
		if extra := number == highest+1; extra && (odd || number == n.next || n.begun(number)) {
			continue // rows come in pairs, or the next section begins with it
		}
		if from == 0 && n.after > 0 && number <= n.after && n.lowest > n.after {
			continue
		}
		n.rows[number] = &numbered{number: number, line: l, extra: number == highest+1}
	}
}

// begun says that the section that follows begins on the side of a row.
func (n *numbering) begun(number int) bool {
	side := n.first
	if (number-n.lowest)%2 != 0 {
		side = side.Other()
	}
	return n.nextSide != instruction.SideUnsaid && n.nextSide == side
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
			firstIsOdd := n.lowest%2 == 1
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

// inOrder sorts the rows, counts those of each line, and reports gaps.
func (n *numbering) inOrder() []*numbered {
	rows := make([]*numbered, 0, len(n.rows))
	for _, r := range n.rows {
		rows = append(rows, r)
	}
	slices.SortFunc(rows, func(a, b *numbered) int { return a.number - b.number })
	of, first := map[*Line]int{}, map[*Line]int{}
	for i, r := range rows {
		if r.nth = of[r.line]; r.nth == 0 {
			first[r.line] = r.number
		}
		r.first = first[r.line]
		of[r.line]++
		switch {
		case n.unsure:
		case i > 0 && (n.doubled[r.number] || n.doubled[rows[i-1].number]): // beside a gap, a number that stands twice is what is missing
		case i == 0 && r.number != 1 && n.after > 0 && r.number != n.after+1:
			n.fail(r.line.at(), "rows-missing", "the section begins with %s %d; 1 was expected, or %d to go on from the section before", n.word, r.number, n.after+1).
				Suggest("number its rows from 1")
		case i == 0 && r.number != 1 && n.after == 0:
			n.fail(r.line.at(), "rows-missing", "the first %s is number %d; 1 was expected", n.word, r.number).Suggest("write the rows before it, or number from 1")
		case i > 0 && r.number == rows[i-1].number+2:
			n.fail(r.line.at(), "rows-missing", "%s %d is missing: %d follows %d", n.word, r.number-1, r.number, rows[i-1].number).Suggest("write it, or mend the numbers")
		case i > 0 && r.number > rows[i-1].number+2:
			n.fail(r.line.at(), "rows-missing", "%ss %d to %d are missing: %d follows %d", n.word, rows[i-1].number+1, r.number-1, r.number, rows[i-1].number).
				Suggest("write them, or mend the numbers")
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

// firstSide is the side that the line of the first row gives.
func firstSide(lines []*Line, size int) instruction.Side {
	low := lowestNamed(lines, size)
	for _, l := range lines {
		if slices.ContainsFunc(l.Ranges, func(r instruction.RowRange) bool { return r.From.At(size) == low }) {
			return l.Side
		}
	}
	return instruction.SideUnsaid
}

// rowOf is a row that a line stands for; nil for none.
func (n *numbering) rowOf(l *Line) *numbered {
	for _, r := range n.rows {
		if r.line == l {
			return r
		}
	}
	return nil
}
