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

	unsure bool // a row may be missing because it could not be read
}

// written gives what a row works as it is written, with references followed.
// It gives nothing where that can't be read, or refers to what can't be.
// A reference points back, so that following it always ends.
func (r referring) written(row *numbered) ([]instruction.Node, *problem.Problem) {
	if !row.followed {
		row.followed = true
		row.body, row.wrong = r.follow(row)
	}
	return row.body, row.wrong
}

func (r referring) follow(row *numbered) ([]instruction.Node, *problem.Problem) {
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
		return nil, fail
	}
	next, at := r.rows[target], row.line.Instruction.Span
	if next == nil {
		next = r.older[target]
	}
	switch {
	case target >= row.number:
		return nil, problem.Errorf(at, "reference", "row %d is worked as row %d, which does not stand before it", row.number, target).
			Suggest("name a row that stands above")
	case next == nil && r.unsure:
		return nil, nil // it may be the one that could not be read
	case next == nil:
		return nil, problem.Errorf(at, "reference", "there is no row %d to be worked again", target).Suggest("name a row that stands above")
	}
	body, _ := r.written(next) // its problem is told in its own place
	return body, nil
}

// as finds the row that a row is worked as.
func (r referring) as(row *numbered, n *instruction.AsRows) (int, *problem.Problem) {
	from, count := n.From.At(r.size), n.To.At(r.size)-n.From.At(r.size)+1
	switch {
	case count < 1:
		return 0, problem.Errorf(n.Span, "reference", "the rows run backwards, from %d to %d", from, from+count-1).Suggest("write the lower number first")
	case count != row.of && count != 1:
		return 0, problem.Errorf(n.Span, "reference", "this line stands for %s, and is to be worked as %s", rowsOf(row.of), rowsOf(count)).
			Suggest("name as many rows, or write: repeat rows %d-%d", from, from+count-1)
	}
	return from + row.nth%max(count, 1), nil
}

// repeat finds the row that a repeat of rows comes to.
func (r referring) repeat(row *numbered, n *instruction.RepeatRows) (int, *problem.Problem) {
	first := row.first
	from, to := n.From.At(r.size), n.To.At(r.size)
	if last := n.Last.At(r.size); last > 0 {
		from, to = first-last, first-1
	}
	count := to - from + 1
	if count < 1 {
		return 0, problem.Errorf(n.Span, "reference", "the rows to be repeated run backwards").Suggest("write the lower number first")
	}
	times := row.of / count
	if len(n.Times.Values) > 0 {
		times = n.Times.At(r.size)
	}
	if times*count != row.of {
		return 0, problem.Errorf(n.Span, "reference", "this line stands for %s, and %s worked %d times are %d", rowsOf(row.of), rowsOf(count), times, count*times).
			Suggest("number the line so that it stands for %s", rowsOf(count*max(times, 1)))
	}
	return from + row.nth%count, nil
}

// rowsOf is "1 row", "2 rows".
func rowsOf(n int) string {
	if n == 1 {
		return "1 row"
	}
	return itoa(n) + " rows"
}
