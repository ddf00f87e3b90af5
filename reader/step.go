package reader

import (
	"unicode"
	"unicode/utf8"

	"clew/patterns/instruction"
	"clew/patterns/stitch"
)

// maxActions is the most that one step asks for.
const maxActions = 8

// steps words a row's body and cuts it into steps.
func steps(r Row, f Form) []string {
	s := &speaker{form: f, size: r.Size, last: lastTaking(r.Body)}
	if w := alone(r.Body); w != nil && isWholeRow(w, r.Before) {
		s.action()
		s.put(w.Stitch.Words + " all " + stitches(timesOf(w, r.Size)))
		s.loop(w)
	} else {
		s.list(r.Body)
	}
	s.close()
	switch {
	case r.Unworked == 1:
		s.note("Leave the other stitch unworked.")
	case r.Unworked > 1:
		s.note("Leave the other " + stitches(r.Unworked) + " unworked.")
	}
	s.finish()
	return s.said
}

func isWholeRow(w *instruction.Work, stitches int) bool {
	return (w.Stitch == knit || w.Stitch == purl) && w.Count > 1 && w.Count == stitches
}

var knit, purl = stitch.Find("k"), stitch.Find("p")

// state is where the speaker stands in a sentence.
type state uint8

const (
	between state = iota // between two sentences
	opened               // after the colon of an opening
	listing              // after an item of a list
)

// A speaker builds up the sentences of a row. Sentences go into a step until a
// cut; the cut is made only when the next thing is done, so that what merely
// closes a group stays with the group.
type speaker struct {
	form Form
	size int
	last instruction.Node // the last that takes stitches from the left needle

	said    []string // the steps that are finished
	step    []byte   // the step being said
	actions int      // in it
	toCut   bool     // the next action begins a new step
	fresh   bool     // the next word begins a sentence
	state   state
	mark    string // what stands between the items of this list
	more    string // how the list is opened again after a cut; empty: as a new sentence
	from    string // said after each item: the cable needle that its stitches come from

	heard      []stitch.Cross    // crosses said in full in this row
	panels     map[string]string // what panels are called, by their names as written
	groups     int               // how many groups are open
	flowing    bool              // inside an "and so on" sentence, which nothing may break
	inPanel    bool
	afterPanel bool // a panel was the last thing said, and nothing tells yet that it is over
	panelAhead bool // a panel follows the node being said, the last time that it is worked too
}

// action begins one item of a list, which asks for one thing.
func (s *speaker) action() { s.phrases(1) }

// phrases begins one item of a list, which asks for n things.
func (s *speaker) phrases(n int) {
	if s.actions+n > maxActions && s.state != opened && !s.flowing {
		mark, more := s.mark, s.more
		s.close()
		s.cut()
		if more != "" {
			s.open(more)
			s.mark, s.more = mark, more
		}
	}
	switch {
	case s.state == between:
		s.begin()
	case s.state == listing && s.mark != "":
		s.step = append(s.step, s.mark...)
	case s.state == listing:
		s.step = append(s.step, ", "...)
	default:
		s.step = append(s.step, ' ')
	}
	s.state = listing
	s.actions += n
}

// begin begins a sentence, in a new step where a cut is due.
func (s *speaker) begin() {
	if s.toCut {
		s.finish()
	}
	s.space()
}

// space goes on behind a sentence.
func (s *speaker) space() {
	if len(s.step) > 0 {
		s.step = append(s.step, ' ')
	}
	s.fresh = true
}

// put says words, with a capital where they begin a sentence.
func (s *speaker) put(words string) {
	first := len(s.step)
	s.step = append(s.step, words...)
	if s.fresh && words != "" {
		if c := s.step[first]; c >= 'a' && c <= 'z' {
			s.step[first] = c - 'a' + 'A'
		}
		s.fresh = false
	}
}

// open says what stands before a colon: "six times", "panel Lantern".
func (s *speaker) open(words string) {
	s.close()
	if s.state == between {
		s.begin()
	} else {
		s.step = append(s.step, ' ')
	}
	s.put(words)
	s.step = append(s.step, ':')
	s.state = opened
}

// parts opens a sentence whose parts are separated by semicolons.
func (s *speaker) parts(opening, again string) {
	s.open(opening)
	s.mark, s.more = "; ", again
}

// close ends the sentence, if a list is being said.
func (s *speaker) close() {
	if s.state == listing {
		s.step = append(s.step, '.')
		s.state = between
	}
	s.mark, s.more = "", ""
}

// cut ends the step, once something more is to be done.
func (s *speaker) cut() {
	if s.state == between && s.actions > 0 {
		s.toCut = true
	}
}

// breathe ends the sentence and the step after an item, unless the sentence
// must go on.
func (s *speaker) breathe() {
	if !s.flowing && s.mark == "" {
		s.close()
		s.cut()
	}
}

// note says a sentence that asks for nothing; it stays in the step before it.
func (s *speaker) note(sentence string) {
	s.close()
	s.space()
	s.put(sentence)
}

// finish takes the step as it is.
func (s *speaker) finish() {
	if len(s.step) > 0 {
		s.said = append(s.said, string(s.step))
	}
	s.step, s.actions, s.toCut = s.step[:0], 0, false
}

// capital gives text with its first letter a capital.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	upper := unicode.ToUpper(first)
	if upper == first || first == utf8.RuneError {
		return text
	}
	return string(upper) + text[size:]
}
