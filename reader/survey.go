package reader

import (
	"clew/patterns"
	"clew/patterns/survey"
)

// Stretch tells rows that are routine in one sentence: "Rounds thirty-three to
// forty are alike: work each stitch as it looks." Their section is not named.
func Stretch(plan *patterns.Plan, p survey.Part) string {
	return capital(rowsOf(plan, p)) + castOnFirst(plan, p.From) + whatIs(plan, p) + reached(plan, p) + "."
}

// Unusual tells in short what row i of a plan does that is not routine: "Round five:
// increase by eight, to one hundred and four stitches." Its section is not named.
func Unusual(plan *patterns.Plan, i int) string {
	r := plan.Rows[i]
	return capital(numbered(r.Number, r.Number, r.Rounds)) + castOnFirst(plan, i) + ": " + brief(plan, i) + "."
}

// RowName names row i of a plan with its section: "round five of Lanterns".
func RowName(plan *patterns.Plan, i int) string {
	r := plan.Rows[i]
	return numbered(r.Number, r.Number, r.Rounds) + " of " + Name(r.Section.Name)
}

// rowsOf names the rows of a part: "round five", "rounds five to eight", "every second
// round from two to twenty-four".
func rowsOf(plan *patterns.Plan, p survey.Part) string {
	first, last := plan.Rows[p.From], plan.Rows[p.To-1]
	if p.Kind == survey.Every {
		return "every second " + kindOf(Row{Round: first.Rounds}, 1) + " from " + Number(first.Number) + " to " + Number(last.Number)
	}
	return numbered(first.Number, last.Number, first.Rounds)
}

// castOnFirst says that a row begins a new piece.
func castOnFirst(plan *patterns.Plan, i int) string {
	r := plan.Rows[i]
	if !r.First || r.Section.CastOn == nil || i == 0 {
		return ""
	}
	if n := r.Section.CastOn.At(plan.Size); n > 0 {
		return ", on " + stitches(n) + " cast on anew,"
	}
	return ", of a new piece,"
}

// whatIs says what the rows of a part have in common, and what is done in them.
func whatIs(plan *patterns.Plan, p survey.Part) string {
	kind, alike, plain := p.Kind, " are alike: ", " are plain: "
	switch {
	case kind == survey.Every:
		kind, alike, plain = p.Each, " is the same: ", " is plain: "
	case p.Rows() == 1:
		alike, plain = ": ", ": "
	}
	switch kind {
	case survey.Knit:
		return plain + "knit every stitch"
	case survey.Purl:
		return plain + "purl every stitch"
	case survey.Stocking:
		return plain + "knit on the right side and purl on the wrong side"
	case survey.AsLooks:
		return alike + "work each stitch as it looks"
	case survey.InTurn:
		return inTurn(plan, p)
	case survey.Again:
		return asBefore(plan, p)
	}
	return alike + eachOf(plan, p, 0)
}

// inTurn says what two rows in turn do.
func inTurn(plan *patterns.Plan, p survey.Part) string {
	words := " are two " + kindOf(Row{Round: plan.Rows[p.From].Rounds}, 2) + " in turn"
	first, second := eachOf(plan, p, 0), eachOf(plan, p, 1)
	if first == second {
		return words + ", each of " + first
	}
	return words + ": first " + first + "; then " + second
}

// asBefore says that rows go as those before them.
func asBefore(plan *patterns.Plan, p survey.Part) string {
	period := p.From - p.As
	first, last := plan.Rows[p.As], plan.Rows[p.From-1]
	words := " go as " + numbered(first.Number, last.Number, first.Rounds) + " do"
	if times := p.Rows() / period; times > 1 {
		words += ", " + Times(times) + " over"
	}
	return words
}

// reached says how many stitches there are after the rows of a part, where they change
// the number.
func reached(plan *patterns.Plan, p survey.Part) string {
	before, after := plan.Rows[p.From].Before.Count(), plan.Rows[p.To-1].After.Count()
	switch {
	case before == after || p.Kind == survey.Every:
		return ""
	case after == 0:
		return "; you then have no stitches"
	}
	return "; you then have " + stitches(after)
}
