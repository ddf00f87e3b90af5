package bot

import (
	"strings"

	"clew/patterns/instruction"
	"clew/reader"
)

// An effect is what changes the count in a row: a stitch, something with a
// name, or a whole repeat. One worked several times is one effect.
type effect struct {
	words string // as an instruction: "yarn over"; of a repeat, its length
	verb  string // set for what is done to a number of stitches: "bound off"
	most  int    // with a verb: the number of stitches at each place, the largest
	net   int    // how the count changes each time
	of    int    // set for a repeat: how often it stands
	after []int  // for each time, how many stitches of the row stand before it on the right needle
}

// slipsMost bounds the times that one is believed to have been worked too often.
const slipsMost = 3

// slips says which single slips in a worked row would put the count off by so
// many: something missed, worked in part, or worked too often.
func slips(body []instruction.Node, size, off int) []string {
	var said []string
	for _, e := range effects(body, size) {
		if words := e.slip(off); words != "" {
			said = append(said, words)
		}
	}
	return said
}

// effects gives what changes the count in a worked row.
func effects(body []instruction.Node, size int) []*effect {
	w := &walker{size: size}
	w.walk(body)
	return w.effects
}

// slip words how the effect would come to a difference, or nothing.
func (e *effect) slip(off int) string {
	if e.verb != "" {
		return e.number(off)
	}
	times := 0 // too many; below nought too few
	if off%e.net == 0 {
		times = off / e.net
	}
	switch {
	case e.of > 0:
		return e.leftOut(-times)
	case times < 0 && -times <= len(e.after):
		return e.missed(-times)
	case times > 0 && times <= slipsMost:
		return e.tooOften(times)
	case off*e.net < 0 && abs(off) < abs(e.net):
		return "a" + e.kind(1) + " was worked only in part, " + e.placed()
	}
	return ""
}

// number is the slip of an effect that has a number of stitches of its own:
// bound off, cast on, put on hold.
func (e *effect) number(off int) string {
	n, too := abs(off), "too many"
	if off*e.net < 0 {
		too = "too few"
	}
	if n > e.most {
		return ""
	}
	was := "were"
	if n == 1 {
		was = "was"
	}
	return stitches(n) + " " + too + " " + was + " " + e.verb + ", " + e.places()
}

// leftOut words n repeats that were left out. One too many is no slip to think
// of: there would be no stitches left to work it on.
func (e *effect) leftOut(n int) string {
	if n < 1 || n > len(e.after) {
		return ""
	}
	was := "were"
	if n == 1 {
		was = "was"
	}
	return reader.Number(n) + " of the " + reader.Number(e.of) + " repeats" + e.words + " " + was + " left out"
}

func (e *effect) missed(n int) string {
	if n == 1 {
		return "a" + e.kind(1) + " was missed, " + e.placed()
	}
	return reader.Number(n) + e.kind(n) + " were missed, " + e.placed()
}

func (e *effect) tooOften(n int) string {
	how := "twice"
	if n > 1 {
		how = reader.Number(n) + " times too often"
	}
	return "a" + e.kind(1) + " was worked " + how + ", " + e.placed()
}

// kind is what n of the effect are called, with what parts it from a number, or
// from the a of one.
func (e *effect) kind(n int) string {
	switch {
	case strings.HasSuffix(e.words, "yarn over"):
		return " " + plural(e.words, n)
	case e.net < 0:
		return " " + plural("decrease", n)
	case n == 1:
		return "n increase"
	}
	return " increases"
}

// placed says where the effect stands, and which it is.
func (e *effect) placed() string {
	if strings.HasSuffix(e.words, "yarn over") {
		return e.places()
	}
	return e.places() + ": " + e.words
}

// places words where in the row an effect stands, counted in the stitches on
// the right needle.
func (e *effect) places() string {
	n := len(e.after)
	first, last := e.after[0], e.after[n-1]
	switch {
	case n == 1 && first == 0:
		return "at the beginning"
	case n == 1:
		return "after stitch " + reader.Number(first)
	case n <= 4:
		words := make([]string, n)
		for i, after := range e.after {
			words[i] = reader.Number(after)
		}
		if first == 0 {
			return "at the beginning or after stitch " + list(words[1:], "or")
		}
		return "after stitch " + list(words, "or")
	case evenly(e.after):
		return "out of " + reader.Number(n) + ", " + from(first) + " and from there every " + stitches(e.after[1]-first)
	}
	return "out of " + reader.Number(n) + ", the first " + from(first) + " and the last " + from(last)
}

func from(stitch int) string {
	if stitch == 0 {
		return "at the beginning"
	}
	return "after stitch " + reader.Number(stitch)
}

func evenly(after []int) bool {
	for i := 2; i < len(after); i++ {
		if after[i]-after[i-1] != after[1]-after[0] {
			return false
		}
	}
	return true
}

// A walker goes through a worked row and collects what changes the count.
type walker struct {
	size    int
	effects []*effect
	made    int // stitches on the right needle
}

// note adds one time of an effect, where it changes the count.
func (w *walker) note(e effect) {
	if e.net == 0 {
		return
	}
	for _, known := range w.effects {
		if known.words == e.words && known.verb == e.verb && known.of == e.of && (known.net == e.net || e.verb != "") {
			known.after, known.most = append(known.after, w.made), max(known.most, e.most)
			return
		}
	}
	e.after = []int{w.made}
	w.effects = append(w.effects, &e)
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
		return w.whole(n, n.Body, 1)
	case *instruction.Macro:
		if inside := (&walker{size: w.size}); inside.walk(n.Body) != 0 {
			return w.whole(n, n.Body, 0)
		}
		return w.walk(n.Body) // what it adds it takes away again, and either can be missed
	case *instruction.Strip:
		return w.walk(n.Body)
	case *instruction.AsLooks:
		return w.walk(n.Body)
	case *instruction.Cross:
		net := 0
		for _, p := range n.Parts {
			net += w.walk(p.Body)
			w.made += p.Returned
		}
		return net
	case *instruction.Held:
		net := -n.Count
		if n.Return {
			net = n.Count
		}
		w.note(effect{verb: heldVerb[n.Return], net: net, most: n.Count})
		return net
	}
	return 0
}

var heldVerb = map[bool]string{false: "put on hold", true: "returned to the needle"}

// countVerbs are what is done to a number of stitches, by the stitch.
var countVerbs = map[string]string{"BO": "bound off", "CO": "cast on", "pu": "picked up", "pup": "picked up"}

func (w *walker) work(n *instruction.Work) int {
	net, makes := n.Stitch.Net(), n.Stitch.Net()+n.Stitch.Uses
	if verb := countVerbs[n.Stitch.Abbr]; verb != "" {
		w.note(effect{verb: verb, net: net, most: n.Count})
		w.made += makes * n.Count
		return net * n.Count
	}
	for range n.Count {
		w.note(effect{words: n.Stitch.Words, net: net})
		w.made += makes
	}
	return net * n.Count
}

// whole walks something that a knitter knows as one thing, such as several
// stitches worked into one: it is one effect, whatever it is made of.
func (w *walker) whole(n instruction.Node, body []instruction.Node, into int) int {
	inside := &walker{size: w.size, made: w.made}
	net := inside.walk(body)
	if into > 0 {
		net = inside.made - w.made - into
	}
	if net != 0 {
		w.note(effect{words: spoken(n, w.size), net: net})
	}
	w.made = inside.made
	return net
}

// spoken words a node as it stands in a sentence.
func spoken(n instruction.Node, size int) string {
	said := strings.Join(reader.Say(reader.Row{Body: []instruction.Node{n}, Size: size}, reader.Form{}).Steps, " ")
	return strings.NewReplacer(";", ",", ":", ",").Replace(small(said))
}

func (w *walker) repeat(n *instruction.Repeat) int {
	net := 0
	for range n.Count {
		begin := w.made
		each := w.walk(n.Body)
		net += each
		if n.Count > 1 && each != 0 {
			end := w.made
			w.made = begin
			w.note(effect{words: " of " + stitches(end-begin), net: each, of: n.Count})
			w.made = end
		}
	}
	return net
}
