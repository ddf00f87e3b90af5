package reader

import (
	"strings"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
	"clew/patterns/survey"
)

// NewName names something that is new, without a comma, so that it can stand in a
// list: "two over one right purl cross", "slip slip knit", "knit through the back loop".
func NewName(n survey.New) string {
	switch n := n.Node.(type) {
	case *instruction.Work:
		words := stitchName(n.Stitch)
		if n.TBL {
			words += " through the back loop"
		}
		return words
	case *instruction.Cross:
		if name := nameOf(n); !name.Zero() {
			return name.Words()
		}
		return "a cross without a name"
	case *instruction.Into:
		return "increase into one stitch"
	case *instruction.Macro:
		return "a group of the pattern's own"
	case *instruction.Turn:
		if n.Wrap {
			return "wrap and turn"
		}
		return "turning before the end"
	case *instruction.Held:
		if n.Return {
			return "taking up held stitches"
		}
		return "putting stitches on hold"
	case *instruction.Bead:
		return "placing a bead"
	}
	return ""
}

// passed are short names of the decreases that pass stitches over, whose words are too
// long to be heard as one thing in a list. Sources: the Craft Yarn Council's list has
// the first as "slip, knit, pass" and the third as a centered double decrease; the
// second is named after the first.
var passed = map[string]string{
	"skp":  "slip knit pass",
	"sk2p": "slip knit two together pass",
	"s2kp": "centered double decrease",
}

// stitchName gives the words of a stitch without commas, or a short name.
func stitchName(s *stitch.Stitch) string {
	if name := passed[s.Abbr]; name != "" {
		return name
	}
	switch s.Kind {
	case stitch.Slip:
		return "slipped stitch"
	case stitch.BindOff:
		return "binding off"
	}
	parts := strings.Split(s.Words, ", ")
	for _, part := range parts {
		if strings.Contains(part, " ") {
			return strings.Join(parts, " then ")
		}
	}
	return strings.Join(parts, " ")
}

// NewHowTo tells how something that is new is worked, in whole sentences.
func NewHowTo(n survey.New) string {
	switch n := n.Node.(type) {
	case *instruction.Work:
		said := HowTo(n.Stitch)
		if n.TBL {
			if _, meaning, ok := strings.Cut(termOf("tbl"), ": "); ok {
				said = capital(n.Stitch.Words) + " through the back loop. " + capital(meaning) + "." + countChange(n.Stitch)
			}
		}
		return said
	case *instruction.Cross:
		return ExplainCross(n)
	case *instruction.Macro:
		return strings.Join(Say(Row{Body: n.Body}, Form{Crosses: AlwaysFull}).Steps, " ")
	case *instruction.Into:
		return strings.Join(Say(Row{Body: []instruction.Node{n}}, Form{}).Steps, " ")
	case *instruction.Turn:
		name := "turn"
		if n.Wrap {
			name = "w&t"
		}
		return capital(termOf(name)) + "."
	case *instruction.Held:
		if n.Return {
			return "Put the held stitches back on the left needle, to be worked next."
		}
		return "Slip the stitches to a holder or a length of yarn, where they wait until they are needed."
	case *instruction.Bead:
		return "Bring a bead up against the stitch just worked."
	}
	return ""
}

// termOf gives what a word of the trade means.
func termOf(abbr string) string {
	term, _ := stitch.FindTerm(abbr)
	return term.Meaning
}
