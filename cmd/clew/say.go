package main

import (
	"fmt"
	"strings"

	"clew/bot"
	"clew/patterns"
	"clew/reader"
)

// sayCommand reads rows out.
type sayCommand struct {
	Size    string `help:"The size to read; the first when none is given." placeholder:"S"`
	Section string `help:"Only this section." placeholder:"NAME"`
	Row     *int   `help:"Only the row of this number." placeholder:"N" xor:"rows"`
	Rows    string `help:"Only the rows from A to B." placeholder:"A-B" xor:"rows"`
	Short   bool   `help:"Say crosses by their names alone."`
	Steps   bool   `help:"One line a step, and an empty line after each row."`
	File    string `arg:"" help:"The pattern file; - reads standard input."`
}

// Run prints one paragraph a row.
func (c *sayCommand) Run(p *program) error {
	from, to, err := c.span()
	if err != nil {
		return err
	}
	pattern, _, err := p.readPattern(c.File)
	if err != nil {
		return err
	}
	plan, err := pattern.LayOut(patterns.Choice{Size: c.Size})
	if err != nil {
		return usage("%s: %w", c.File, err)
	}
	section, err := c.section(pattern)
	if err != nil {
		return err
	}
	said, named := 0, "" // the section that was named last
	for i, form := range c.forms(plan) {
		r := plan.Rows[i]
		if (section != "" && r.Section.Name != section) || r.Number < from || r.Number > to {
			continue
		}
		said++
		words := bot.RowWords(plan, i, form)
		if r.Section.Name != named {
			words.Opening = bot.SectionUnsaid(plan, i) + words.Opening
			named = r.Section.Name
		}
		if c.Steps {
			fmt.Fprintf(p.out, "%s\n\n", strings.Join(words.StepTexts(), "\n"))
		} else {
			fmt.Fprintln(p.out, words.Paragraph())
		}
	}
	if said == 0 {
		return usage("%s has no such row%s", c.File, inSection(section))
	}
	return nil
}

// forms gives the form in which each row is said: crosses in full where they
// are new to their section, unless --short asks for names.
func (c *sayCommand) forms(plan *patterns.Plan) []reader.Form {
	forms := make([]reader.Form, len(plan.Rows))
	for i, heard := range bot.CrossesHeard(plan) {
		forms[i] = reader.Form{Heard: heard}
		if c.Short {
			forms[i].Crosses = reader.AlwaysShort
		}
	}
	return forms
}

// section gives the name of the section to read, as the pattern writes it; ""
// for all.
func (c *sayCommand) section(pattern *patterns.Pattern) (string, error) {
	if c.Section == "" {
		return "", nil
	}
	s, err := pattern.SectionNamed(c.Section)
	if err != nil {
		return "", usage("%s: %w", c.File, err)
	}
	return s.Name, nil
}

// span gives the first and the last row to be read.
func (c *sayCommand) span() (from, to int, err error) {
	switch {
	case c.Row != nil && *c.Row < 1:
		return 0, 0, usage("--row %d: rows are numbered from 1", *c.Row)
	case c.Row != nil:
		return *c.Row, *c.Row, nil
	}
	return rowSpan(c.Rows)
}
