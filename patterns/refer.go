package patterns

import (
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// referring follows "as row 3" and "repeat rows 1-6 twice" to what is worked.
type referring struct {
	size  int
	rows  map[int]*numbered // of the section or panel itself
	older map[int]*numbered // of the sections before, where the numbers go on
}

// written gives what a row works as it is written, with references followed.
// A reference points back, so that following it always ends.
func (r referring) written(row *numbered) ([]instruction.Node, *problem.Problem) {
	at := row.line.Instruction.Span
	for {
		if len(row.line.Body) != 1 {
			return row.line.Body, nil
		}
		var target int
		var fail *problem.Problem
		switch n := row.line.Body[0].(type) {
		case *instruction.AsRows:
			target, fail = r.as(row, n)
		case *instruction.RepeatRows:
			target, fail = r.repeat(row, n)
		default:
			return row.line.Body, nil
		}
		if fail != nil {
			fail.Span = at
			return nil, fail
		}
		next := r.rows[target]
		if next == nil {
			next = r.older[target]
		}
		switch {
		case target >= row.number:
			return nil, problem.Errorf(at, "reference", "row %d is worked as row %d, which does not stand before it", row.number, target)
		case next == nil:
			return nil, problem.Errorf(at, "reference", "there is no row %d to be worked again", target)
		}
		row = next
	}
}

// as finds the row that a row is worked as.
func (r referring) as(row *numbered, n *instruction.AsRows) (int, *problem.Problem) {
	from, count := n.From.At(r.size), n.To.At(r.size)-n.From.At(r.size)+1
	if count != row.of && count != 1 {
		return 0, problem.Errorf(n.Span, "reference", "%d rows are to be worked as %d rows", row.of, count).
			Suggest("name as many rows, or write: repeat rows %d-%d", from, from+count-1)
	}
	return from + row.nth%max(count, 1), nil
}

// repeat finds the row that a repeat of rows comes to.
func (r referring) repeat(row *numbered, n *instruction.RepeatRows) (int, *problem.Problem) {
	first := row.number - row.nth
	from, to := n.From.At(r.size), n.To.At(r.size)
	if last := n.Last.At(r.size); last > 0 {
		from, to = first-last, first-1
	}
	count := to - from + 1
	if count < 1 {
		return 0, problem.Errorf(n.Span, "reference", "the rows to be repeated run backwards")
	}
	times := row.of / count
	if len(n.Times.Values) > 0 {
		times = n.Times.At(r.size)
	}
	if times*count != row.of {
		return 0, problem.Errorf(n.Span, "reference", "this line stands for %d rows, and %d rows %d times are %d", row.of, count, times, count*times).
			Suggest("number the line so that it has %d rows", count*max(times, 1))
	}
	return from + row.nth%count, nil
}
