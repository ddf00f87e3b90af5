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
	Fit          *fitHeard       `json:"fit,omitempty"`
	Yarn         *yarnHeard      `json:"yarn,omitempty"`
	Look         string          `json:"look,omitempty"`
	Last         int             `json:"last,omitempty"`
	Unit         string          `json:"unit,omitempty"`
	Section      string          `json:"section,omitempty"`
	More         bool            `json:"more,omitempty"`
	Part         string          `json:"part,omitempty"`
	Until        *dayHeard       `json:"until,omitempty"`
	Setting      listen.Setting  `json:"setting,omitempty"`
}

// dayHeard is a day that was named; what was not said is left out.
type dayHeard struct {
	In      *int   `json:"in,omitempty"` // days from today
	Weekday string `json:"weekday,omitempty"`
	Week    int    `json:"week,omitempty"` // weeks after the next such weekday
	Date    int    `json:"date,omitempty"`
	Month   int    `json:"month,omitempty"`
	Year    int    `json:"year,omitempty"`
}

func dayOf(d *listen.Day) *dayHeard {
	if d == nil {
		return nil
	}
	out := &dayHeard{Week: d.Week, Date: d.Date, Month: int(d.Month), Year: d.Year}
	if d.HasIn {
		out.In = &d.In
	}
	if d.HasWeekday {
		out.Weekday = d.Weekday.String()
	}
	return out
}

// fitHeard is what was asked about the fit in particular; what was not said is left out.
type fitHeard struct {
	Kind     listen.FitKind `json:"kind"`
	Body     string         `json:"body,omitempty"`
	Person   string         `json:"person,omitempty"`
	Number   *float64       `json:"number,omitempty"`
	Unit     string         `json:"unit,omitempty"`
	Stitches *float64       `json:"stitches,omitempty"`
	Rows     *float64       `json:"rows,omitempty"`
	Over     float64        `json:"over,omitempty"`
	OverUnit string         `json:"over_unit,omitempty"`
	Leave    int            `json:"leave,omitempty"`
	More     bool           `json:"more,omitempty"`
	From     int            `json:"from,omitempty"`
	To       int            `json:"to,omitempty"`
}

func fitOf(w *listen.FitWish) *fitHeard {
	if w == nil {
		return nil
	}
	out := &fitHeard{Kind: w.Kind, Body: w.Body, Person: w.Person, Unit: w.Unit, Over: w.Over, OverUnit: w.OverUnit, Leave: w.Leave, More: w.More, From: w.From, To: w.To}
	switch {
	case w.HasNumber && w.Kind == listen.Gauge:
		out.Stitches, out.Rows = &w.Stitches, &w.Rows
	case w.HasNumber && w.Kind == listen.Longer && w.Rows != 0:
		out.Rows = &w.Rows
	case w.HasNumber:
		out.Number = &w.Number
	}
	return out
}

// yarnHeard is what was said of the yarn in particular; what was not said is left out.
type yarnHeard struct {
	Had   *float64 `json:"had,omitempty"`
	Left  *float64 `json:"left,omitempty"`
	Used  *float64 `json:"used,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	Mixed bool     `json:"mixed,omitempty"`
	Yarn  string   `json:"yarn,omitempty"`
}

func yarnOf(w *listen.YarnWish) *yarnHeard {
	if w == nil {
		return nil
	}
	out := &yarnHeard{Unit: w.Unit, Mixed: w.Mixed, Yarn: w.Yarn}
	if w.HasHad {
		out.Had = &w.Had
	}
	if w.HasLeft {
		out.Left = &w.Left
	}
	if w.HasUsed {
		out.Used = &w.Used
	}
	return out
}

// Run prints one object a request.
func (c *hearCommand) Run(p *program) error {
	var pattern *patterns.Pattern
	if c.Pattern != "" {
		var err error
		if pattern, _, err = p.readPattern(c.Pattern); err != nil {
			return err
		}
	}
	ear, encoder := bot.NewListener(pattern), json.NewEncoder(p.out)
	encoder.SetEscapeHTML(false)
	tell := func(words string) error {
		h := ear.Hear(words)
		out := heard{Intent: h.Intent, Stitch: h.Stitch, Sure: h.Sure, Alternatives: append([]listen.Intent{}, h.Alternatives...),
			Fit: fitOf(h.Fit), Yarn: yarnOf(h.Yarn), Look: h.Look, Last: h.Last, Unit: h.Unit, Section: h.Section,
			More: h.More, Part: h.Part, Until: dayOf(h.Until), Setting: h.Setting}
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
