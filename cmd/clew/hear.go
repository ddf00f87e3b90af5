package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"clew/bot"
	"clew/bot/terminal"
	"clew/patterns"
	"clew/reader/listen"
)

// hearCommand shows what Clew understands.
type hearCommand struct {
	Pattern string   `help:"A pattern whose stitches and sections are known by name." placeholder:"FILE"`
	Words   []string `arg:"" optional:"" help:"The words; without any, each line of standard input."`
}

// heard is the JSON form of what was understood.
type heard struct {
	Intent       listen.Intent   `json:"intent"`
	Number       *int            `json:"number"`
	Stitch       string          `json:"stitch"`
	Sure         bool            `json:"sure"`
	Alternatives []listen.Intent `json:"alternatives"`
}

// Run prints one object a request.
func (c *hearCommand) Run(p *program) error {
	var pattern *patterns.Pattern
	if c.Pattern != "" {
		src, err := p.readFile(c.Pattern)
		if err != nil {
			return err
		}
		if pattern, err = p.sound(c.Pattern, src); err != nil {
			return err
		}
	}
	ear, encoder := bot.NewListener(pattern), json.NewEncoder(p.out)
	encoder.SetEscapeHTML(false)
	tell := func(words string) error {
		h := ear.Hear(words)
		out := heard{Intent: h.Intent, Stitch: h.Stitch, Sure: h.Sure, Alternatives: append([]listen.Intent{}, h.Alternatives...)}
		if h.HasNumber {
			out.Number = &h.Number
		}
		if err := encoder.Encode(out); err != nil {
			return fmt.Errorf("write the JSON: %w", err)
		}
		return nil
	}
	if len(c.Words) > 0 {
		return tell(strings.Join(c.Words, " "))
	}
	return terminal.EachLine(p.in, tell)
}
