package reader_test

import (
	"errors"
	"fmt"
	"strings"
)

// A listener hears rows one after the other and knows what to do, as a knitter
// would who knows English and no code. She is strict: what she does not
// understand is an error, never passed over. Between rows she remembers how a
// cross was explained to her.
type listener struct {
	explained map[string][]act // by the name of the cross
	tokens    []token
	i         int
	open      []opened
	items     []int // where in the tokens each thing to do begins
}

// An opened is a group that has begun.
type opened struct {
	times int
	ends  []act // what is said of the place where it ends
	acts  []act // what one time of it is, as far as it has been heard
	panel bool  // a panel is being worked in it
}

// misheard is how the listener gives up, from however deep.
type misheard string

func (l *listener) fail(format string, args ...any) {
	var around []string
	for i := max(0, l.i-8); i < min(len(l.tokens), l.i+6); i++ {
		if i == l.i {
			around = append(around, ">>>")
		}
		around = append(around, l.tokens[i].text)
	}
	panic(misheard(fmt.Sprintf(format, args...) + ", at: " + strings.Join(around, " ")))
}

// newSection makes her forget the crosses, as the reader will explain them anew.
func (l *listener) newSection() { l.explained = map[string][]act{} }

// hear gives what to do for one row, stitch by stitch, from its paragraph.
func (l *listener) hear(paragraph string, at needle) (acts []act, err error) {
	defer func() {
		switch failed := recover().(type) {
		case nil:
		case misheard:
			acts, err = nil, errors.New(string(failed))
		default:
			panic(failed)
		}
	}()
	if l.tokens, err = split(paragraph); err != nil {
		return nil, err
	}
	if l.explained == nil {
		l.newSection()
	}
	l.i, l.open, l.items = 0, []opened{{times: 1}}, nil
	l.openings()
	for !l.done() && !l.sees("tip", ":") {
		l.sentence()
	}
	if len(l.open) > 1 {
		l.fail("a group is never closed")
	}
	l.leavePanel(len(l.open) - 1)
	acts = l.open[0].acts
	if err := check(acts, at); err != nil {
		return nil, err
	}
	return acts, nil
}

func (l *listener) done() bool { return l.i >= len(l.tokens) }

func (l *listener) peek() string {
	if l.done() {
		return ""
	}
	return l.tokens[l.i].text
}

// sees says that these words and marks stand next.
func (l *listener) sees(words ...string) bool {
	for n, w := range words {
		if l.i+n >= len(l.tokens) || l.tokens[l.i+n].text != w {
			return false
		}
	}
	return true
}

// says takes the words and marks of a part of a sentence if they stand next.
func (l *listener) says(part string) bool {
	words := wordsOf(part)
	if !l.sees(words...) {
		return false
	}
	l.i += len(words)
	return true
}

func (l *listener) want(part string) {
	if !l.says(part) {
		l.fail("%q was expected", part)
	}
}

// number takes a number of at least one.
func (l *listener) number() int {
	n, took := countOff(l.tokens[l.i:])
	if took == 0 || n == 0 {
		l.fail("a number was expected")
	}
	l.i += took
	return n
}

// numberThen says that a number and then these words stand next, and takes
// them.
func (l *listener) numberThen(part string) (int, bool) {
	start := l.i
	n, took := countOff(l.tokens[l.i:])
	l.i += took
	if took > 0 && n > 0 && l.says(part) {
		return n, true
	}
	l.i = start
	return 0, false
}

// counted takes "one stitch" or "five stitches".
func (l *listener) counted() int {
	n := l.number()
	if n == 1 {
		l.want("stitch")
	} else {
		l.want("stitches")
	}
	return n
}

func (l *listener) add(acts ...act) {
	top := &l.open[len(l.open)-1]
	top.acts = append(top.acts, acts...)
}

// openings takes "Lanterns, sixteen rounds." and "Round forty-one, Lanterns.".
func (l *listener) openings() {
	for !l.done() {
		end := l.i
		for end < len(l.tokens) && l.tokens[end].text != "." {
			end++
		}
		words := l.tokens[l.i:end]
		if !opensSection(words) && !opensRow(words) {
			return
		}
		l.i = end + 1
	}
}

func opensSection(words []token) bool {
	for i := len(words) - 3; i > 0; i-- {
		n, took := countOff(words[i+1:])
		if words[i].text != "," || took == 0 || i+took+2 != len(words) {
			continue
		}
		last := words[len(words)-1].text
		return n == 1 && (last == "row" || last == "round") || n > 1 && (last == "rows" || last == "rounds")
	}
	return false
}

func opensRow(words []token) bool {
	if len(words) < 4 || (words[0].text != "row" && words[0].text != "round") {
		return false
	}
	_, took := countOff(words[1:])
	return took > 0 && words[1+took].text == ","
}

// itemsIn says how many things to do each step of the row last heard has.
func (l *listener) itemsIn(steps []string) []int {
	counts, from, next := make([]int, len(steps)), 0, 0
	for i, step := range steps {
		words, err := split(step)
		if err != nil {
			panic(err)
		}
		from += len(words)
		for next < len(l.items) && l.items[next] < from {
			counts[i]++
			next++
		}
	}
	return counts
}

// sentence takes one whole sentence, with all that opens in front of it.
func (l *listener) sentence() {
	if !l.tokens[l.i].capital {
		l.fail("a sentence begins without a capital")
	}
	l.says("then")
	for l.opener() {
	}
	switch {
	case l.closer(), l.remark(), l.wholeRow(), l.into(), l.cross(), l.asItLooks():
	default:
		l.list()
	}
}

// opener takes what stands in front of a sentence and ends with a colon: the
// beginning of a group or of a panel, or the end of the panels.
func (l *listener) opener() bool {
	switch {
	case l.sees("panel"):
		l.i++
		l.name()
		l.want(":")
		for level := range l.open { // a panel begins in no other one, so that is over
			l.leavePanel(level)
		}
		l.enterPanel()
		return true
	case l.says("between the panels:"):
		l.leavePanel(len(l.open) - 1)
		l.add(act{note: panelsAround})
		return true
	case l.says("after the panel:"):
		l.leavePanel(len(l.open) - 1)
		l.add(act{note: panelBefore, n: l.i})
		return true
	}
	start := l.i
	n, ok := l.numberThen("times")
	if !ok {
		return false
	}
	if n < 2 {
		l.fail("a group of %d times", n)
	}
	var ends []act
	if l.says(",") {
		if ends, ok = l.reach(); !ok {
			l.fail("how far does the group go?")
		}
	}
	if !l.says(":") {
		l.i = start
		return false
	}
	l.open = append(l.open, opened{times: n, ends: ends})
	return true
}

// name takes a name up to the mark that ends it.
func (l *listener) name() string {
	var words []string
	for !l.done() && !l.tokens[l.i].mark() {
		words = append(words, l.peek())
		l.i++
	}
	if len(words) == 0 {
		l.fail("a name was expected")
	}
	return strings.Join(words, " ")
}

func (l *listener) enterPanel() {
	l.open[len(l.open)-1].panel = true
	l.add(act{note: panelIn})
}

// leavePanel ends the panel that was begun in the group at a level, if there
// is one.
func (l *listener) leavePanel(level int) {
	if o := &l.open[level]; o.panel {
		o.panel = false
		o.acts = append(o.acts, act{note: panelOut})
	}
}

// inPanel says that a panel is being worked, in this group or around it.
func (l *listener) inPanel() bool {
	for _, o := range l.open {
		if o.panel {
			return true
		}
	}
	return false
}

// closer takes the end of a group, which says how deep it was.
func (l *listener) closer() bool {
	start, depth := l.i, 0
	switch {
	case l.says("that is the group."):
		depth = 1
	case l.says("that is the inner group."):
		depth = 2
	case l.says("that is the group at level"):
		depth = l.number()
		l.want(".")
		if depth < 3 {
			l.fail("level %d has other words", depth)
		}
	default:
		return false
	}
	if depth != len(l.open)-1 {
		l.i = start
		l.fail("a group at level %d closes, and %d are open", depth, len(l.open)-1)
	}
	l.leavePanel(len(l.open) - 1)
	group := l.open[depth]
	if len(names(group.acts)) == 0 {
		l.fail("the group holds nothing")
	}
	l.open = l.open[:depth]
	l.add(times(group.times, group.acts...)...)
	l.add(group.ends...)
	return true
}

// remark takes a sentence that tells something and asks for nothing to be done.
func (l *listener) remark() bool {
	switch {
	case l.says("the stitch left on the right needle counts as the first of what follows."):
		l.add(act{note: boundOff})
	case l.says("leave the other stitch unworked."):
		l.add(act{note: leaves, n: 1})
	case l.says("leave the other"):
		n := l.counted()
		l.want("unworked.")
		if n == 1 {
			l.fail("one stitch is the other stitch")
		}
		l.add(act{note: leaves, n: n})
	case l.says("you should now have no stitches left."):
		l.add(act{note: nowHave})
	case l.says("you should now have"):
		n := l.counted()
		l.want(".")
		l.add(act{note: nowHave, n: n})
	default:
		return false
	}
	return true
}

// wholeRow takes "Knit all ninety-six stitches."
func (l *listener) wholeRow() bool {
	verb := l.peek()
	if !l.says("knit all") && !l.says("purl all") {
		return false
	}
	l.items = append(l.items, l.i)
	n := l.counted()
	if n == 1 {
		l.fail("all of one stitch")
	}
	if l.says("through the back loop") {
		verb += " through the back loop"
	}
	l.want(".")
	l.add(act{note: allOf, n: n})
	l.add(times(n, act{what: verb, uses: 1, makes: 1})...)
	return true
}

// asItLooks takes the introduction of what a row comes to that is worked as it
// looks. What follows it is said in full, as any other part of a row.
func (l *listener) asItLooks() bool {
	if !l.says("work each stitch as it looks") && !l.says("work each stitch against its look") {
		return false
	}
	if l.says(":") {
		l.list()
	} else {
		l.want(".")
	}
	return true
}
