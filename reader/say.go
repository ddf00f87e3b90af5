// Package reader says a row in plain English, for the ear: letters, spaces and
// , . ; : ' - alone, no digit, no abbreviation. A listener who knows English
// and no code can work exactly the row's stitches from the words.
package reader

import (
	"strings"

	"clew/patterns/instruction"
)

// A Row is what is said of one row.
type Row struct {
	Section     string // its name as the pattern writes it
	Number      int    // within the section
	Round       bool   // worked in rounds; the side is then said only where it is the wrong one
	WrongSide   bool
	First       bool // the first row of its section: the section's name and length are said
	SectionRows int  // how many rows the section has
	Size        int  // which of the sizes, from 0

	Body          []instruction.Node // as the fabric worked it, with every count filled in
	Before, After int                // stitches on the needle
	Unworked      int                // stitches that a turn at the row's end leaves unworked
	Tips          []string           // said after the row, in the host's own words
}

// CrossForm says how crosses are said.
type CrossForm uint8

// The forms. A longhand cross that equals no named one is always said in full.
const (
	FullWhenNew CrossForm = iota // in full where it first comes up in the section, then by its name
	AlwaysFull
	AlwaysShort
)

// A Form is how a knitter wants rows said. The zero Form is the usual one.
type Form struct {
	Crosses CrossForm
	// Heard holds the crosses that came up earlier in the section, by the
	// names that Crosses gives. FullWhenNew looks at it; Say never changes it.
	Heard map[string]bool
}

// Spoken is a row in words.
type Spoken struct {
	Opening string   // "Round forty-one, Lanterns."
	Steps   []string // the row, cut where a knitter breathes; at most eight actions each
	Count   string   // "You should now have eighty-four stitches."; empty where the row left the number as it was
	Tips    []string // "Tip: keep the cable needle close."
}

// Say words a row. The same row and form give the same words.
func Say(r Row, f Form) Spoken {
	said := Spoken{Opening: opening(r), Steps: steps(r, f)}
	if r.Before != r.After {
		said.Count = Count(r.After)
	}
	for _, tip := range r.Tips {
		if words := sentence(Plain(tip)); words != "" {
			said.Tips = append(said.Tips, "Tip: "+words)
		}
	}
	return said
}

// Paragraph is the whole row in one paragraph.
func (s Spoken) Paragraph() string { return strings.Join(s.StepTexts(), " ") }

// StepTexts gives the row step by step, as each is said when it is heard
// alone: the opening belongs to the first step, the count and the tips to the
// last. There is always at least one.
func (s Spoken) StepTexts() []string {
	texts := make([]string, max(1, len(s.Steps)))
	copy(texts, s.Steps)
	last := len(texts) - 1
	texts[0] = joined(s.Opening, texts[0])
	texts[last] = joined(texts[last], s.Count)
	for _, tip := range s.Tips {
		texts[last] = joined(texts[last], tip)
	}
	return texts
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}

// opening says which row it is.
func opening(r Row) string {
	section := Name(r.Section)
	var b strings.Builder
	if r.First {
		if section != "" {
			b.WriteString(capital(section) + ", ")
		}
		b.WriteString(Number(r.SectionRows) + " " + kindOf(r, r.SectionRows) + ". ")
	}
	b.WriteString(capital(kindOf(r, 1)) + " " + Number(r.Number))
	if r.Round && section != "" {
		b.WriteString(", " + section)
	}
	switch {
	case r.WrongSide:
		b.WriteString(", wrong side")
	case !r.Round:
		b.WriteString(", right side")
	}
	b.WriteByte('.')
	return capital(b.String())
}

func kindOf(r Row, n int) string {
	kind := "row"
	if r.Round {
		kind = "round"
	}
	return plural(kind, n)
}

// plural gives a word for n of its things.
func plural(word string, n int) string {
	switch {
	case n == 1:
		return word
	case strings.HasSuffix(word, "ch"):
		return word + "es"
	}
	return word + "s"
}

// Count says how many stitches are on the needle.
func Count(n int) string {
	if n == 0 {
		return "You should now have no stitches left."
	}
	return "You should now have " + stitches(n) + "."
}

// stitches counts stitches: "one stitch", "ninety-six stitches".
func stitches(n int) string { return Number(n) + " " + plural("stitch", n) }
