package reader_test

import "fmt"

// A crossName is what the name of a cross says: the first strand passes in
// front, and in which direction.
type crossName struct {
	strands     []int
	left, purls bool
}

// crossing takes the name of a cross: "two over two right purl cross".
func (l *listener) crossing() (name string, c crossName, ok bool) {
	start := l.i
	defer func() {
		if !ok {
			l.i = start
			return
		}
		for _, t := range l.tokens[start:l.i] {
			name += " " + t.text
		}
	}()
	if l.says("right twist") {
		return "", crossName{strands: []int{1, 1}}, true
	}
	if l.says("left twist") {
		return "", crossName{strands: []int{1, 1}, left: true}, true
	}
	for {
		n, took := countOff(l.tokens[l.i:])
		if took == 0 || n == 0 {
			return "", c, false
		}
		l.i += took
		if c.strands = append(c.strands, n); !l.says("over") {
			break
		}
	}
	c.left = l.says("left")
	if len(c.strands) < 2 || len(c.strands) > 3 || !c.left && !l.says("right") {
		return "", c, false
	}
	c.purls = l.says("purl")
	return "", c, l.says("cross")
}

// moves is what the name alone tells a knitter: to the right, the strand that
// lies first waits behind; to the left, it waits in front and the other one
// passes behind it. Of three, the outer ones change places, and the middle one
// stays behind both.
//
// Source: Craft Yarn Council, cable abbreviations (from memory): 2/1 RPC is sl
// 1 to cn, hold in back, k2, p1 from cn; 2/1 LPC is sl 2 to cn, hold in front,
// p1, k2 from cn.
func (c crossName) moves() []act {
	under, hold := "knit", "behind"
	if c.purls {
		under = "purl"
	}
	first, last := c.strands[len(c.strands)-1], c.strands[0]
	if c.left {
		first, last, hold = last, first, "in front"
	}
	left := func(what string, n int) []act { return times(n, act{what: what, uses: 1, makes: 1}) }
	from := func(cable, what string, n int) []act {
		return times(n, act{what: what + " from the " + cable, makes: 1})
	}
	out := []act{toCable("cable needle", first, hold)}
	switch {
	case len(c.strands) == 3:
		out = append(out, toCable("second cable needle", c.strands[1], "behind"))
		out = append(out, left("knit", last)...)
		out = append(out, from("second cable needle", under, c.strands[1])...)
		out = append(out, from("cable needle", "knit", first)...)
	case c.left:
		out = append(out, left(under, last)...)
		out = append(out, from("cable needle", "knit", first)...)
	default:
		out = append(out, left("knit", last)...)
		out = append(out, from("cable needle", under, first)...)
	}
	return out
}

// toCable slips stitches to a cable needle, from where they are worked or put
// back later: until then they are on no needle that counts.
func toCable(cable string, n int, hold string) act {
	return act{what: fmt.Sprintf("slip %d to the %s, hold it %s", n, cable, hold), uses: n}
}

// namedCross takes a cross by its name alone, and works it as it was explained
// to her, or else as the name says.
func (l *listener) namedCross() []act {
	name, c, ok := l.crossing()
	if !ok {
		return nil
	}
	if acts, ok := l.explained[name]; ok {
		return acts
	}
	return c.moves()
}

// cross takes a cross that is told in full, in a sentence of its own.
func (l *listener) cross() bool {
	start := l.i
	name, c, named := l.crossing()
	if named && !l.sees(":") || !named && !l.sees("cross", ":") {
		l.i = start
		return false
	}
	if !named {
		l.i++
	}
	l.i++
	acts := l.cable()
	if named {
		if before := c.moves(); fmt.Sprint(names(before)) != fmt.Sprint(names(acts)) {
			l.fail("the cross is not what its name says")
		}
		l.explained[name] = acts
	}
	l.add(acts...)
	return true
}

// cable takes the parts of a cross, until every stitch is off the cable
// needles.
func (l *listener) cable() []act {
	waiting := map[string]int{}
	l.want("slip")
	out := []act{l.toCableNeedle("cable needle", waiting)}
	l.want(";")
	if start := l.i; l.says("slip") {
		if n, took := countOff(l.tokens[l.i:]); n > 0 && took > 0 {
			l.i += took
		}
		second := l.sees("to")
		l.i = start
		if second {
			l.want("slip")
			out = append(out, l.toCableNeedle("second cable needle", waiting))
			l.want(";")
		}
	}
	for {
		out = append(out, l.part(waiting)...)
		if l.says(";") {
			continue
		}
		l.want(".")
		if !l.says("still in the cross:") {
			break
		}
	}
	for needle, n := range waiting {
		if n != 0 {
			l.fail("%d stitches stay on the %s", n, needle)
		}
	}
	return out
}

// toCableNeedle takes "two to the cable needle and hold it behind".
func (l *listener) toCableNeedle(which string, waiting map[string]int) act {
	l.items = append(l.items, l.i)
	n := l.number()
	if which == "cable needle" {
		l.want("to the cable needle")
	} else {
		l.want("to a second cable needle")
	}
	waiting[which] = n
	hold := "anywhere"
	if l.says("and hold it behind") {
		hold = "behind"
	} else if l.says("and hold it in front") {
		hold = "in front"
	}
	return toCable(which, n, hold)
}

// part takes one part of a cross.
func (l *listener) part(waiting map[string]int) []act {
	l.items = append(l.items, l.i)
	if l.says("put") {
		n := l.number()
		l.want("from the cable needle back on the left needle")
		waiting["cable needle"] -= n
		return []act{{what: fmt.Sprintf("put back %d", n), uses: -n}}
	}
	acts := l.workedPart()
	which := ""
	switch {
	case l.says("from the cable needle"):
		which = "cable needle"
	case l.says("from the second cable needle"):
		which = "second cable needle"
	default:
		return acts
	}
	out := append([]act(nil), acts...)
	for i, a := range out {
		if a.uses > 0 {
			waiting[which] -= a.uses
			out[i].what, out[i].uses = a.what+" from the "+which, 0
		}
	}
	if waiting[which] < 0 {
		l.fail("so many are not on the %s", which)
	}
	return out
}

// workedPart takes what is worked in one part of a cross or of a group that
// goes into one stitch: one thing, or several that all go into one stitch.
func (l *listener) workedPart() []act {
	acts, comma := l.base()
	if !comma {
		acts = times(l.often(), acts...)
	}
	if !l.says(",") {
		return acts
	}
	if n, ok := l.numberThen("times in all"); ok {
		return times(n, acts...)
	}
	for !l.says("all into the next stitch") {
		more, _ := l.base()
		acts = append(acts, times(l.often(), more...)...)
		l.want(",")
	}
	return l.oneStitch(acts)
}

// oneStitch makes acts that all go into one stitch, each of which would take
// one of its own elsewhere.
func (l *listener) oneStitch(acts []act) []act {
	out, reach := []act{{what: "into one stitch", uses: 1}}, 0
	for _, a := range acts {
		reach += a.uses
		a.uses = 0
		out = append(out, a)
	}
	if reach == 0 {
		l.fail("nothing goes into the stitch")
	}
	return append(out, act{what: "that stitch is done"})
}

// into takes a sentence of several things that go into one stitch, or into
// each of several.
func (l *listener) into() bool {
	n, start := 1, l.i
	var ends []act
	switch {
	case l.says("into the next stitch"):
	case l.says("into each of the next"):
		if n = l.counted(); n == 1 {
			l.i = start
			l.fail("each of one stitch")
		}
	default:
		return false
	}
	if l.says(",") {
		var ok bool
		if ends, ok = l.reach(); !ok {
			l.fail("into the next stitches, how far?")
		}
	}
	l.want(":")
	var acts []act
	for {
		l.items = append(l.items, l.i)
		acts = append(acts, l.workedPart()...)
		if l.says(";") {
			continue
		}
		l.want(".")
		if !l.says("into the same stitch:") {
			break
		}
		if n > 1 {
			l.fail("the same stitch, after several")
		}
	}
	l.add(times(n, l.oneStitch(acts)...)...)
	l.add(ends...)
	return true
}
