package reader_test

import (
	"fmt"
	"strings"
)

// list takes a sentence of items with commas between them.
func (l *listener) list() {
	var acts []act
	items, unclear := 0, false
	for {
		unclear = unclear || l.sees("slip", ",")
		acts = append(acts, l.item()...)
		if items++; unclear && items > 1 {
			l.fail("where do the slips that are one stitch begin and end?")
		}
		if l.says(".") {
			l.add(acts...)
			return
		}
		l.want(",")
		if n, ok := l.numberThen("times in all"); ok {
			if items > 1 {
				l.fail("is the last of these worked so many times, or all of them?")
			}
			l.want(".")
			l.many(acts, n, nil)
			return
		}
		if l.says("and so on") {
			ends, ok := l.reach()
			if !ok {
				l.fail("and so on, how far?")
			}
			l.want(":")
			n, ok := l.numberThen("times in all.")
			if !ok {
				l.fail("how many times in all?")
			}
			l.many(acts, n, ends)
			return
		}
	}
}

// many adds the acts of a sentence that is worked more than once.
func (l *listener) many(acts []act, n int, ends []act) {
	if n < 2 {
		l.fail("a sentence %d times in all", n)
	}
	l.add(times(n, acts...)...)
	l.add(ends...)
}

// reach takes "to the end", "to the last two", "to the marker" or "to one
// before the marker", and gives what that says of the place where it ends.
func (l *listener) reach() ([]act, bool) {
	start, n := l.i, 0
	switch {
	case l.says("to the end"):
	case l.says("to the last"):
		n = l.number()
	case l.says("to the marker"):
		return []act{{note: markerReaches}}, true
	case l.says("to"):
		if n, ok := l.numberThen("before the marker"); ok {
			return []act{{note: markerReaches, n: n}}, true
		}
		l.i = start
		return nil, false
	default:
		return nil, false
	}
	if l.says("of the panel") {
		if !l.inPanel() {
			l.fail("no panel is being worked")
		}
		return []act{{note: panelReaches, n: n}}, true
	}
	if l.inPanel() && !l.sees(":", "panel") { // a group that begins with a panel is in none
		l.fail("the end of the row, or of the panel?")
	}
	return []act{{note: reaches, n: n}}, true
}

// item takes one item of a list: what is worked, how often, how far.
func (l *listener) item() []act {
	l.items = append(l.items, l.i)
	acts, comma := l.base()
	if !comma {
		if n := l.often(); n > 1 {
			acts = times(n, acts...)
		}
	}
	start := l.i
	if l.says(",") {
		if ends, ok := l.reach(); ok {
			return append(acts, ends...)
		}
		l.i = start
	}
	return acts
}

// often takes "twice" and "three times"; once is not said.
func (l *listener) often() int {
	if l.says("twice") {
		return 2
	}
	n, ok := l.numberThen("times")
	if ok && n < 3 {
		l.fail("%d times is said otherwise", n)
	}
	if !ok {
		return 1
	}
	return n
}

// base takes one stitch, or a number of plain ones. The longest thing that she
// knows wins: make one left is not make one.
func (l *listener) base() (acts []act, comma bool) {
	var best *phrase
	for i := range phrases {
		p := &phrases[i]
		if l.sees(p.words...) && (best == nil || len(p.words) > len(best.words)) {
			best = p
		}
	}
	if best != nil {
		for range strings.Count(best.said, ",") { // each phrase is a thing to do
			l.items = append(l.items, l.i)
		}
		l.i += len(best.words)
		acts, comma = append([]act(nil), best.acts...), best.comma
	} else if acts = l.numbered(); acts == nil {
		acts = l.namedCross()
	}
	if acts == nil {
		l.fail("nothing that she knows to do")
	}
	if l.says("through the back loop") {
		if acts[0].uses == 0 {
			l.fail("that has no back loop to go through")
		}
		for i := range acts {
			acts[i].what += " through the back loop"
		}
	}
	return acts, comma
}

// numbered takes the verbs that a number belongs to.
func (l *listener) numbered() []act {
	verb := l.peek()
	switch {
	case l.says("take"):
		return does("yarn: "+l.name(), 0, 0)
	case l.says("knit"), l.says("purl"):
		n := l.number()
		if l.says("together") {
			if n < 2 {
				l.fail("one stitch together")
			}
			return does(fmt.Sprintf("%s %d together", verb, n), n, 1)
		}
		return times(n, act{what: verb, uses: 1, makes: 1})
	case l.says("slip"):
		n := l.number()
		return times(n, act{what: "slip" + l.manner(), uses: 1, makes: 1})
	case l.says("bind off"):
		return times(l.counted(), act{what: "bind off", uses: 1})
	case l.says("cast on"):
		return times(l.counted(), act{what: "cast on", makes: 1})
	case l.says("pick up and knit"):
		return times(l.counted(), act{what: "pick up and knit", makes: 1})
	case l.says("pick up and purl"):
		return times(l.counted(), act{what: "pick up and purl", makes: 1})
	case l.says("put"):
		n := l.counted()
		l.want("on hold")
		return does(fmt.Sprintf("hold %d", n), n, 0)
	case l.says("return"):
		n := l.number()
		if !l.says("held stitch to the left needle") || n > 1 {
			l.want("held stitches to the left needle")
		}
		return []act{{what: "return", n: n}}
	}
	return nil
}

// manner takes how stitches are slipped.
func (l *listener) manner() string {
	how := ""
	for _, said := range []string{"purlwise", "knitwise", "with the yarn in front", "with the yarn in back"} {
		if l.says(said) {
			how += " " + said
		}
	}
	return how
}
