package bot

import (
	"strings"

	"clew/patterns/instruction"
	"clew/reader"
)

// count compares the stitches that the member counted with those that should
// be on the needle. She may have finished the row that she heard last, or have
// asked for the next one already: the nearer of the two counts is taken, and
// said.
func (t *talk) count() Reply {
	i := t.here()
	if i < 0 {
		return t.countCastOn()
	}
	r := t.plan.Rows[i]
	before, after := r.Before.Count(), r.After.Count()
	if !t.heard.HasNumber {
		said := "There should be " + stitches(before) + " before " + t.rowName(i)
		if after != before {
			said += ", and " + reader.Number(after) + " after it"
		}
		return t.say(said + ".")
	}
	counted := t.heard.Number
	done, expected := i-1, before // the row just finished is the one before
	if i == 0 || far(counted, after) < far(counted, before) || t.finished(t.plan, t.state.Place) {
		done, expected = i, after
	}
	if counted == expected && before == after {
		return t.say(capitalNumber(counted) + " is right, before and after " + t.rowName(i) + ".")
	}
	where := "after " + t.rowName(done)
	if counted == expected {
		return t.say(capitalNumber(counted) + " is right " + where + ".")
	}
	return t.say(difference(counted, expected, where) + " " + causes(t.plan.Rows[done].Body, counted-expected, t.word()))
}

func (t *talk) countCastOn() Reply {
	cast := t.plan.Pattern.CastOn.At(t.plan.Size)
	switch {
	case !t.heard.HasNumber:
		return t.say("There should be " + stitches(cast) + " after casting on.")
	case t.heard.Number == cast:
		return t.say(capitalNumber(cast) + " is right after casting on.")
	}
	return t.say(difference(t.heard.Number, cast, "after casting on"))
}

func far(a, b int) int { return max(a-b, b-a) }

func capitalNumber(n int) string {
	words := reader.Number(n)
	return strings.ToUpper(words[:1]) + words[1:]
}

func difference(counted, expected int, where string) string {
	off := far(counted, expected)
	which := "too few"
	if counted > expected {
		which = "too many"
	}
	return "There should be " + stitches(expected) + " " + where + ". You have " + reader.Number(off) + " " + which + "."
}

// An effect is a place in a row that changes the count: a stitch, or a whole
// repeat.
type effect struct {
	words string // "yarn over"
	net   int    // how the count changes each time
	group bool
	after []int // for each time, how many stitches of the row are made before it
}

// causes names the places of a row that could have lost or gained so many
// stitches.
func causes(body []instruction.Node, off int, word string) string {
	var said []string
	w := &walker{}
	w.walk(body)
	for _, e := range w.effects {
		if words := e.explains(off); words != "" {
			said = append(said, words)
		}
	}
	if len(said) == 0 {
		if off < 0 {
			return "Nothing in that " + word + " alone would lose so many. Look for a dropped stitch below, and count the parts of the " + word + " one by one."
		}
		return "Nothing in that " + word + " alone would gain so many. Look for a yarn over made by accident or a stitch split in two, and count the parts of the " + word + " one by one."
	}
	tail := " Or a stitch was dropped: look below the needle."
	if off > 0 {
		tail = " Or the yarn was brought over the needle by accident."
	}
	return "It may be " + strings.Join(said, "; or ") + "." + tail
}

// explains words how an effect would come to a difference, or nothing.
func (e *effect) explains(off int) string {
	if e.net == 0 || off%e.net != 0 {
		return ""
	}
	n := off / e.net // times too many, or below nought too few
	missed := n < 0
	if missed {
		n = -n
	}
	if missed && n > len(e.after) || !missed && n > 3 {
		return ""
	}
	switch {
	case e.group && missed:
		return times(n, "a repeat was", "repeats were") + " left out, " + e.words
	case e.group:
		return times(n, "a repeat was", "repeats were") + " worked too often, " + e.words
	case missed:
		return times(n, "a "+e.words+" was", "times "+e.words+" was") + " missed, " + e.places()
	}
	return times(n, "a "+e.words+" was", "times "+e.words+" was") + " worked once too often, " + e.places()
}

func times(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return reader.Number(n) + " " + many
}

// places words where in the row an effect stands, counted in stitches made.
func (e *effect) places() string {
	words := make([]string, len(e.after))
	for i, n := range e.after {
		words[i] = reader.Number(n)
	}
	switch n := len(e.after); {
	case n == 1 && e.after[0] == 0:
		return "at the beginning"
	case n == 1:
		return "after stitch " + words[0]
	case n <= 4:
		return "after stitches " + strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	case evenly(e.after):
		return "first after " + stitches(e.after[0]) + " and then every " + reader.Number(e.after[1]-e.after[0]) + ", " + reader.Number(n) + " times in all"
	default:
		return "at one of " + reader.Number(n) + " places, the first after " + stitches(e.after[0]) + " and the last after " + reader.Number(e.after[n-1])
	}
}

func evenly(after []int) bool {
	for i := 2; i < len(after); i++ {
		if after[i]-after[i-1] != after[1]-after[0] {
			return false
		}
	}
	return true
}

// walker goes through a worked row and collects what changes the count.
type walker struct {
	effects []*effect
	made    int
}

func (w *walker) note(words string, net int, group bool) {
	for _, e := range w.effects {
		if e.words == words && e.net == net && e.group == group {
			e.after = append(e.after, w.made)
			return
		}
	}
	w.effects = append(w.effects, &effect{words: words, net: net, group: group, after: []int{w.made}})
}

// walk gives the change that nodes make to the count.
func (w *walker) walk(nodes []instruction.Node) int {
	net := 0
	for _, n := range nodes {
		net += w.node(n)
	}
	return net
}

func (w *walker) node(n instruction.Node) int {
	switch n := n.(type) {
	case *instruction.Work:
		return w.work(n)
	case *instruction.Repeat:
		return w.repeat(n)
	case *instruction.Into:
		outer := w.effects
		w.effects = nil
		net := w.made
		w.walk(n.Body)
		net = w.made - net - 1
		w.effects = outer
		w.made -= net + 1
		if net != 0 {
			w.note("group of stitches worked into one", net, false)
		}
		w.made += net + 1
		return net
	case *instruction.Macro:
		return w.walk(n.Body)
	case *instruction.Strip:
		return w.walk(n.Body)
	case *instruction.AsLooks:
		return w.walk(n.Body)
	case *instruction.Cross:
		net := 0
		for _, p := range n.Parts {
			net += w.walk(p.Body)
		}
		return net
	case *instruction.Held:
		if n.Return {
			return n.Count
		}
		return -n.Count
	}
	return 0
}

func (w *walker) work(n *instruction.Work) int {
	net := n.Stitch.Net()
	makes := net + n.Stitch.Uses
	if n.Stitch.Abbr == "sl" {
		net, makes = 0, 1
	}
	for range n.Count {
		if net != 0 {
			w.note(n.Stitch.Words, net, false)
		}
		w.made += makes
	}
	return net * n.Count
}

func (w *walker) repeat(n *instruction.Repeat) int {
	net := 0
	for range n.Count {
		begin := w.made
		each := w.walk(n.Body)
		net += each
		if each != 0 && n.Count > 1 {
			end := w.made
			w.made = begin
			w.note("which stands "+reader.Number(n.Count)+" times", each, true)
			w.made = end
		}
	}
	return net
}
