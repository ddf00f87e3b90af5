package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"unicode"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
)

// fitCommand measures a pattern, and tells how to make it fit.
type fitCommand struct {
	Size   string  `help:"The size; without one all are measured, and the one that suits is taken, or the first." placeholder:"S"`
	Gauge  *string `help:"Your own gauge, to 10 cm, in place of the pattern's." placeholder:"22x30"`
	Head   *string `help:"Which size suits a head of 57cm, or of a toddler." placeholder:"57cm" xor:"around"`
	Hand   *string `help:"Which size suits a hand of 20cm, or of a woman." placeholder:"20cm" xor:"around"`
	Foot   *string `help:"Which size suits a foot of 23cm around, or of a child." placeholder:"23cm" xor:"around"`
	Width  *string `help:"Which size comes to a width, and how many stitches to cast on for it." placeholder:"50cm" xor:"around"`
	Length *string `help:"Which rows to leave out, or to work again, to come to a length." placeholder:"21cm"`
	File   string  `arg:"" help:"The pattern file; - reads standard input."`
}

// Run prints what was asked for, or the finished measurements where nothing was.
func (c *fitCommand) Run(p *program) error {
	pattern, _, err := p.readPattern(c.File)
	if err != nil {
		return err
	}
	f := fitting{pattern: pattern, size: c.Size, out: p.out}
	if err := f.answer(c); err != nil {
		return usage("%s: %w", c.File, err)
	}
	return nil
}

// A fitting is one pattern being made to fit.
type fitting struct {
	pattern *patterns.Pattern
	size    string // "" for one that is still to be chosen
	own     *fit.Gauge
	out     io.Writer
}

func (f *fitting) answer(c *fitCommand) error {
	if _, err := f.pattern.SizeIndex(c.Size); err != nil {
		return err
	}
	if c.Gauge != nil {
		own, err := fit.ParseGauge(*c.Gauge)
		if err != nil {
			return err
		}
		f.own = &own
	}
	measured := true
	for _, asked := range []struct {
		text   *string
		answer func(string) error
	}{
		{c.Head, func(text string) error { return f.suits(fit.Head, text) }},
		{c.Hand, func(text string) error { return f.suits(fit.Hand, text) }},
		{c.Foot, func(text string) error { return f.suits(fit.Foot, text) }},
		{c.Width, f.width},
		{c.Length, f.length},
	} {
		if asked.text == nil {
			continue
		}
		measured = false
		if err := asked.answer(*asked.text); err != nil {
			return err
		}
	}
	if !measured {
		return nil
	}
	return f.measures()
}

// suits says which size suits a body, given as a measure or as a person. What is
// asked next is asked of that size.
func (f *fitting) suits(body fit.Body, text string) error {
	who := ""
	around, unit, err := fit.ParseLength(text)
	if err != nil && !strings.ContainsFunc(text, unicode.IsDigit) && strings.TrimSpace(text) != "" {
		who, around, err = measureOf(body, text)
	}
	if err != nil {
		return err
	}
	sizing, err := fit.ChooseSizeIn(f.pattern, body, around, unit, f.own)
	if err != nil {
		return err
	}
	return f.sized(sizing, who, unit)
}

// measureOf gives what a person of the table measures around. The error lists whom
// the table has.
func measureOf(body fit.Body, text string) (who string, around float64, err error) {
	person, found := fit.PersonNamed(text)
	if found && person.Around(body) > 0 {
		return person.Name, person.Around(body), nil
	}
	var names []string
	for _, p := range fit.People() {
		if p.Around(body) > 0 {
			names = append(names, p.Name)
		}
	}
	return "", 0, fmt.Errorf("the table of measures has no %s of %q: give a number and its unit, or one of %s", body, text, strings.Join(names, ", "))
}

// sized says which size suits best, and how the one that was named compares; what is
// asked next is asked of the named one, or else of the best.
func (f *fitting) sized(s fit.Sizing, who string, unit fit.Unit) error {
	f.choose(s)
	size, err := f.pattern.SizeIndex(f.size)
	if err != nil {
		return err
	}
	f.say(reader.SizingBeside(s, f.pattern, size, who, unit))
	return nil
}

// width says which size comes nearest to a width, and what to cast on for it.
func (f *fitting) width(text string) error {
	width, unit, err := fit.ParseLength(text)
	if err != nil {
		return err
	}
	sizing, err := fit.ChooseWidth(f.pattern, width, f.own)
	if err != nil {
		return err
	}
	if err := f.sized(sizing, "", unit); err != nil {
		return err
	}
	size, err := f.pattern.SizeIndex(f.size)
	if err != nil {
		return err
	}
	if found, err := fit.CastOns(f.pattern, size, width, f.own); err == nil {
		f.say(reader.CastOn(found, unit))
	} else {
		f.say(fmt.Sprintf("No other number of stitches can be told: %v.", err))
	}
	return nil
}

func (f *fitting) choose(s fit.Sizing) {
	if f.size == "" && len(f.pattern.Sizes) > 0 {
		f.size = f.pattern.Sizes[s.Sizes[s.Best].Size]
	}
}

// length says how to come to a length.
func (f *fitting) length(text string) error {
	length, unit, err := fit.ParseLength(text)
	if err != nil {
		return err
	}
	choice := patterns.Choice{Size: f.size}
	found, err := fit.ToLength(f.pattern, choice, 0, length, f.own)
	if err != nil {
		return err
	}
	if sizes := f.pattern.Sizes; f.size == "" && len(sizes) > 1 { // nothing has said which
		f.say("This is size " + sizes[0] + ".")
	}
	f.say(reader.Knitting{Pattern: f.pattern, Choice: choice, Unit: unit}.ToLength(found))
	return nil
}

func (f *fitting) say(words string) { fmt.Fprintln(f.out, words) }

// measures prints what every section comes to.
func (f *fitting) measures() error {
	sizes := f.pattern.Sizes
	if f.size != "" || len(sizes) == 0 {
		sizes = []string{f.size}
	}
	for i, size := range sizes {
		if i > 0 {
			fmt.Fprintln(f.out)
		}
		plan, err := f.pattern.LayOut(patterns.Choice{Size: size})
		if err != nil {
			return err
		}
		measured, err := fit.Measure(plan, f.own)
		if err != nil {
			return err
		}
		if size != "" {
			fmt.Fprintf(f.out, "Size %s\n", f.pattern.Sizes[plan.Size])
		}
		pieces, err := fit.Pieces(plan, f.own)
		if err != nil && !errors.Is(err, fit.ErrNoGauge) { // one without rows tells widths alone
			return err
		}
		if err := table(f.out, measured, pieces); err != nil {
			return err
		}
	}
	return nil
}

// table prints sections in columns: rows, stitches, and both measures in
// centimetres and inches; below them how long each piece of several sections is.
func table(out io.Writer, measured []fit.SectionSize, pieces []fit.Piece) error {
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, m := range measured {
		rows, way := "row", "wide"
		if m.Section.Rounds {
			rows, way = "round", "around"
		}
		if m.Rows != 1 {
			rows += "s"
		}
		fmt.Fprintf(t, "  %s\t%d %s\t%s sts\t%s\t%s\t%s\n", m.Section.Name, m.Rows, rows, span(float64(m.Least), float64(m.Most), 0),
			measure(m.Narrow, m.Wide, way), measure(m.Short, m.Long, "long"), gaugeOf(m))
	}
	for _, piece := range pieces {
		if piece.First == piece.Last {
			continue
		}
		name := "In all"
		if len(pieces) > 1 {
			name = piece.First.Name + " to " + piece.Last.Name
		}
		rows := "rows"
		if piece.First.Rounds && piece.Last.Rounds {
			rows = "rounds"
		}
		fmt.Fprintf(t, "  %s\t%d %s\t\t\t%s\n", name, piece.Rows, rows, measure(piece.Length, piece.Length, "long"))
	}
	return t.Flush()
}

// measure gives a length, or the least and the most of it: "45.0 cm (17.7 in) around".
func measure(least, most float64, way string) string {
	if most == 0 {
		return "-"
	}
	return fmt.Sprintf("%s cm (%s in) %s", span(least, most, 1), span(least/fit.CentimetresPerInch, most/fit.CentimetresPerInch, 1), way)
}

// span gives a number with so many decimals, or two where they differ.
func span(least, most float64, decimals int) string {
	low, high := fmt.Sprintf("%.*f", decimals, least), fmt.Sprintf("%.*f", decimals, most)
	if low == high {
		return high
	}
	return low + "-" + high
}

func gaugeOf(m fit.SectionSize) string {
	if m.Gauge.Stitches == 0 {
		return "no gauge"
	}
	tenth := func(n float64) float64 { return math.Round(n*10) / 10 }
	return "at " + fit.Gauge{Stitches: tenth(m.Gauge.Stitches), Rows: tenth(m.Gauge.Rows)}.String()
}
