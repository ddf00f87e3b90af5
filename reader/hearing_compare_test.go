package reader_test

import (
	"fmt"
	"strings"

	"github.com/google/go-cmp/cmp"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/reader"
)

// A pupil hears the rows of a section in one form, as a knitter would who has
// set the reader so, and says where a row as heard is not the row as worked.
type pupil struct {
	form reader.Form
	ears listener
	rows int
}

// pupils gives one for each form in which rows are said.
func pupils() []*pupil {
	return []*pupil{
		{form: reader.Form{Crosses: reader.FullWhenNew, Heard: map[string]bool{}}},
		{form: reader.Form{Crosses: reader.AlwaysFull}},
		{form: reader.Form{Crosses: reader.AlwaysShort}},
	}
}

// newSection begins a section, where crosses are explained anew.
func (p *pupil) newSection() {
	if p.form.Heard != nil {
		p.form.Heard = map[string]bool{}
	}
	p.ears.newSection()
}

// learns has one row said, hears it, and gives what is wrong with that, or
// nothing.
func (p *pupil) learns(row reader.Row, before fabric.Fabric) string {
	spoken := reader.Say(row, p.form)
	paragraph, steps := spoken.Paragraph(), spoken.StepTexts()
	for _, name := range reader.Crosses(row.Body) {
		if p.form.Heard != nil {
			p.form.Heard[name] = true
		}
	}
	p.rows++
	told := func(format string, args ...any) string {
		return fmt.Sprintf(format, args...) + "\nin the tree " + instruction.Print(row.Body, row.Size) +
			"\nwhich was said as:\n  " + strings.Join(steps, "\n  ")
	}
	if joined := strings.Join(steps, " "); joined != paragraph {
		return told("the steps are not the paragraph:\n%s", cmp.Diff(paragraph, joined))
	}
	heard, err := p.ears.hear(paragraph, seen(before, row.Round))
	if err != nil {
		return told("the listener gives up: %v", err)
	}
	if difference := compare(worked(row.Body), names(heard)); difference != "" {
		return told("%s", difference)
	}
	for i, n := range p.ears.itemsIn(steps) {
		if n > 8 {
			return told("step %d has %d actions; eight was expected as the most", i+1, n)
		}
	}
	return ""
}

// seen is what the knitter sees of a needle. The marker at the beginning of a
// round stands at its end too.
func seen(f fabric.Fabric, rounds bool) needle {
	at := needle{all: f.Count(), ahead: f.Ahead()}
	for _, m := range f.Markers() {
		if f.Side() == instruction.RS {
			m = f.Count() - m
		}
		at.markers = append(at.markers, m-(f.Count()-f.Ahead()))
		if rounds && m == f.Count() {
			at.markers = append(at.markers, 0)
		}
	}
	return at
}

// compare tells the first difference between what was to be worked and what
// was heard, with what stands around it; nothing when there is none.
func compare(want, heard []string) string {
	first := 0
	for first < len(want) && first < len(heard) && want[first] == heard[first] {
		first++
	}
	if first == len(want) && first == len(heard) {
		return ""
	}
	around := func(acts []string) []string {
		return acts[min(len(acts), max(0, first-4)):min(len(acts), first+8)]
	}
	return fmt.Sprintf("the first difference is at act %d (-worked +heard):\n%s", first+1, cmp.Diff(around(want), around(heard)))
}

// rowOf gives what the reader is told of a row worked on a needle. Its place
// in the pattern is made up.
func rowOf(before fabric.Fabric, rounds bool, size int, worked fabric.Result, number int) reader.Row {
	after := worked.After
	row := reader.Row{Section: "Lanterns", Number: number, SectionRows: 40, First: number == 1, Round: rounds,
		WrongSide: before.Side() == instruction.WS, Size: size, Body: worked.Done, Before: before.Count(), After: after.Count()}
	if last := len(worked.Done) - 1; last >= 0 {
		if _, turned := worked.Done[last].(*instruction.Turn); turned {
			row.Unworked = after.Count() - after.Ahead()
		}
	}
	return row
}
