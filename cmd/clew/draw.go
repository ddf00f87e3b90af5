package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/reader"
)

// drawCommand draws rows of a pattern.
type drawCommand struct {
	Size    string `help:"The size to draw; the first when none is given." placeholder:"S"`
	Section string `help:"Only this section." placeholder:"NAME" xor:"part"`
	Panel   string `help:"One panel by itself." placeholder:"NAME" xor:"part"`
	Rows    string `help:"Only the rows from A to B." placeholder:"A-B"`
	Fabric  bool   `help:"The fabric as it should look, in place of symbols."`
	Print   bool   `help:"A PNG twice as large, for paper."`
	Out     string `short:"o" required:"" help:"The file to write; its name ends in .png or .svg." placeholder:"FILE"`
	File    string `arg:"" help:"The pattern file; - reads standard input."`
}

// Run writes the picture, and says in words what it shows.
func (c *drawCommand) Run(p *program) error {
	kind := strings.ToLower(filepath.Ext(c.Out))
	if kind != ".png" && kind != ".svg" || len(filepath.Base(c.Out)) == len(kind) {
		return usage("%s is no name for a picture; let it end in .png or .svg", c.Out)
	}
	from, to, err := rowSpan(c.Rows)
	if err != nil {
		return err
	}
	pattern, _, err := p.readPattern(c.File)
	if err != nil {
		return err
	}
	view, err := c.view(pattern, from, to)
	if err != nil {
		return usage("%s: %w", c.File, err)
	}
	picture, err := chart.Draw(view)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	words := reader.Picture(picture.Facts())
	data := picture.SVG(words)
	if kind == ".png" {
		scale := 1
		if c.Print {
			scale = 2
		}
		if data, err = picture.PNG(scale); err != nil {
			return fmt.Errorf("%s: %w", c.Out, err)
		}
	}
	if err := os.WriteFile(c.Out, data, 0o644); err != nil {
		return usage("%s can't be written: %w", c.Out, bare(err))
	}
	fmt.Fprintln(p.out, words)
	return nil
}

// view finds the rows from one number to another in the part that is asked for.
func (c *drawCommand) view(pattern *patterns.Pattern, from, to int) (chart.View, error) {
	plan, section, err := c.plan(pattern)
	if err != nil {
		return chart.View{}, err
	}
	view := chart.View{Plan: plan, From: -1, Here: -1, Fabric: c.Fabric}
	var sections []string
	for i, r := range plan.Rows {
		if section != "" && r.Section.Name != section || r.Number < from || r.Number > to {
			continue
		}
		if view.From < 0 {
			view.From = i
		}
		view.To = i
		if n := len(sections); n == 0 || sections[n-1] != r.Section.Name {
			sections = append(sections, r.Section.Name)
		}
	}
	switch {
	case view.From < 0:
		return view, fmt.Errorf("there is no such row%s; %s", inSection(section), lastRow(plan, section))
	case c.Rows != "" && len(sections) > 1:
		return view, fmt.Errorf("rows %s stand in several sections; say which with --section: %s", c.Rows, strings.Join(sections, ", "))
	}
	return view, nil
}

// plan gives the rows of the panel, or of the pattern with the section that is
// asked for; "" for all.
func (c *drawCommand) plan(pattern *patterns.Pattern) (plan *patterns.Plan, section string, err error) {
	if c.Panel != "" {
		size, err := pattern.SizeIndex(c.Size)
		if err != nil {
			return nil, "", err
		}
		plan, err = pattern.PanelPlan(size, c.Panel)
		return plan, "", err
	}
	if c.Section != "" {
		s, err := pattern.SectionNamed(c.Section)
		if err != nil {
			return nil, "", err
		}
		section = s.Name
	}
	plan, err = pattern.LayOut(patterns.Choice{Size: c.Size})
	return plan, section, err
}

// lastRow says which row is the last that could have been asked for.
func lastRow(plan *patterns.Plan, section string) string {
	last := 0
	for _, r := range plan.Rows {
		if section == "" || r.Section.Name == section {
			last = max(last, r.Number)
		}
	}
	return fmt.Sprintf("the last is %d", last)
}
