package main

import (
	"encoding/json"
	"fmt"

	"clew/patterns"
	"clew/patterns/instruction"
	"clew/patterns/problem"
)

// checkCommand proves patterns.
type checkCommand struct {
	Size  string   `help:"The size whose rows --json lists; the first when none is given." placeholder:"S"`
	JSON  bool     `name:"json" help:"Print the problems and the rows as JSON."`
	Files []string `arg:"" name:"file" help:"Pattern files; - reads standard input."`
}

// The JSON form of a check: one object a file.
type (
	checkedFile struct {
		File     string           `json:"file"`
		Title    string           `json:"title"`
		Sizes    []string         `json:"sizes"`
		Problems []checkedProblem `json:"problems"`
		Rows     []checkedRow     `json:"rows"`
	}
	checkedProblem struct {
		Line       int    `json:"line"`
		Col        int    `json:"col"`
		Severity   string `json:"severity"`
		Code       string `json:"code"`
		Message    string `json:"message"`
		Suggestion string `json:"suggestion"`
	}
	checkedRow struct {
		Section     string `json:"section"`
		Row         int    `json:"row"`
		Side        string `json:"side"`
		Before      int    `json:"before"`
		After       int    `json:"after"`
		Instruction string `json:"instruction"`
	}
)

// Run ends with exitWrong when a pattern has errors, and with exitUsage when a
// file can't be read or has no such size; the other files are checked all the
// same.
func (c *checkCommand) Run(p *program) error {
	files := []checkedFile{}
	var failed, wrong error
	for _, name := range c.Files {
		src, err := p.readFile(name)
		if err != nil {
			fmt.Fprintln(p.errors, "clew:", err)
			failed = failure{exitUsage, errSilent}
			continue
		}
		pattern, problems := patterns.Read(src)
		size, err := pattern.SizeIndex(c.Size)
		if err != nil {
			fmt.Fprintf(p.errors, "clew: %s: %v\n", name, err)
			failed = failure{exitUsage, errSilent}
			continue
		}
		if patterns.HasErrors(problems) {
			wrong = errSilent
		}
		if c.JSON {
			files = append(files, checked(name, src, pattern, problems, size))
			continue
		}
		p.report(name, src, pattern, problems, size)
	}
	if c.JSON {
		encoder := json.NewEncoder(p.out)
		encoder.SetIndent("", "  ")
		encoder.SetEscapeHTML(false)
		if err := encoder.Encode(files); err != nil {
			return fmt.Errorf("write the JSON: %w", err)
		}
	}
	if failed != nil {
		return failed
	}
	return wrong
}

// report prints every problem with its caret, and a summary.
func (p *program) report(name string, src []byte, pattern *patterns.Pattern, problems []problem.Problem, size int) {
	count := map[problem.Severity]int{}
	for _, found := range problems {
		count[found.Severity]++
		fmt.Fprintln(p.out, problem.Caret(name, src, found))
	}
	rows := ""
	if count[problem.Error] == 0 {
		rows = fmt.Sprintf(", %s", number(len(pattern.Workable(size)), "row"))
	}
	fmt.Fprintf(p.out, "%s: %s, %s%s\n", name, number(count[problem.Error], "error"), number(count[problem.Warning], "warning"), rows)
}

func number(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func checked(name string, src []byte, pattern *patterns.Pattern, problems []problem.Problem, size int) checkedFile {
	f := checkedFile{File: name, Title: pattern.Title, Sizes: append([]string{}, pattern.Sizes...), Problems: []checkedProblem{}, Rows: []checkedRow{}}
	for _, found := range problems {
		at := problem.Locate(src, found.Start)
		f.Problems = append(f.Problems, checkedProblem{at.Line, at.Col, found.Severity.String(), found.Code, found.Text(), found.Suggestion})
	}
	for _, r := range pattern.Workable(size) {
		f.Rows = append(f.Rows, checkedRow{r.Section.Name, r.Number, r.Side.String(), r.Before.Count(), r.After.Count(), instruction.Print(r.Written, size)})
	}
	return f
}
