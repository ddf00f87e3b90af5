package reader

import (
	"strings"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// HowTo explains how a stitch is worked, and what it does to the count.
func HowTo(s *stitch.Stitch) string {
	return capital(s.Words) + ". " + s.HowTo + countChange(s)
}

// countChange says what a stitch does to the count, where it does anything.
func countChange(s *stitch.Stitch) string {
	switch net := s.Net(); {
	case s.Kind == stitch.BindOff || s.Kind == stitch.CastOn:
	case net > 0:
		return " It adds " + stitches(net) + " to the count."
	case net < 0:
		return " It takes " + stitches(-net) + " off the count."
	}
	return ""
}

// ExplainTerm explains a word of the trade that is no stitch.
func ExplainTerm(t stitch.Term) string {
	short := inShort(t)
	if rest := strings.TrimLeft(t.Meaning[len(short):], ",: "); rest != "" {
		return capital(short) + ": " + rest + "."
	}
	return capital(short) + "."
}

// ExplainNamed explains a cross of the table.
func ExplainNamed(c stitch.Cross) string {
	name := c.Name()
	in, _ := instruction.Parse(name, problem.Span{End: len(name)}, instruction.Options{})
	for cross := range crossesIn(in.Body) {
		return ExplainCross(cross)
	}
	return capital(c.Words()) + "."
}

// ExplainCross explains a cross, worked or as written: what is done, which
// strand passes in front and which way, and what it leaves.
func ExplainCross(c *instruction.Cross) string {
	s := &speaker{form: Form{Crosses: AlwaysFull}}
	if name := nameOf(c); !name.Zero() {
		s.note(name.Words() + ".")
	} else {
		s.note("this cross has no name of its own.")
	}
	s.begin()
	s.state, s.mark, s.flowing = opened, "; ", true
	s.step = s.step[:len(s.step)-1] // an item after an opening brings its own space
	s.crossParts(c)
	s.close()
	result := workedAlone(c)
	if len(result.Crossings) == 1 {
		s.note(passing(c, result.Crossings[0]))
	}
	s.note(leaving(result.After.Loops(), result.Crossings))
	s.finish()
	return strings.Join(s.said, " ")
}

// room is more stitches than any cross takes.
const room = 8 * stitch.MaxStrand

func workedAlone(c *instruction.Cross) fabric.Result {
	return fabric.CastOn(room).Work([]instruction.Node{c}, fabric.Row{})
}

// passing says which strand passes in front.
func passing(c *instruction.Cross, x fabric.Crossing) string {
	cable, needle := "from the cable needle", "from the left needle"
	front, behind := cable, needle
	to, back := "left", "right"
	switch {
	case c.Slipped[0].Hold == instruction.HoldUnsaid:
		return "The pattern leaves open which strand passes in front."
	case c.Slipped[0].Hold == instruction.HoldBack:
		front, behind, to, back = needle, cable, "right", "left"
	}
	text := strand(len(x.Front), front) + " in front, to the " + to + "; " + strand(len(x.Behind), behind) + " behind, to the " + back
	if len(c.Slipped) > 1 {
		text += "; what is on the second cable needle stays in the middle, behind both"
	}
	return text + "."
}

// strand begins a clause: "the two stitches from the left needle pass".
func strand(n int, from string) string {
	if n == 1 {
		return "the one stitch " + from + " passes"
	}
	return "the " + stitches(n) + " " + from + " pass"
}

// leaving says how many stitches a cross takes and leaves, and their faces in
// the order in which they were worked.
func leaving(after []fabric.Loop, crossings []fabric.Crossing) string {
	var runs []string
	left, run := 0, 0
	for i, l := range after {
		if l.Marks&fabric.Crossed == 0 {
			break
		}
		left++
		run++
		if i+1 == len(after) || after[i+1].Marks&fabric.Crossed == 0 || after[i+1].Face != l.Face {
			runs = append(runs, Number(run)+" "+faceWords[l.Face])
			run = 0
		}
	}
	took := room - (len(after) - left)
	return "It takes " + stitches(took) + " and leaves " + Number(left) + ", in the order you work them: " + strings.Join(runs, ", then ") + "."
}

var faceWords = [...]string{stitch.Knit: "knit", stitch.Purl: "purl"}
