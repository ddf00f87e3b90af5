package reader_test

import (
	"fmt"
	"slices"
)

// An act is one thing that hands do, as heard: a stitch worked once, a marker,
// a turn. Acts are compared by what they are called here, in the words of this
// test alone. An act with a note is none: it is something said about the place
// where it stands, which is checked against the needle and then left out.
type act struct {
	what  string
	uses  int // stitches off the left needle
	makes int // stitches onto the right one
	note  note
	n     int // the number that a note says
}

// A note is what is said without anything being done.
type note uint8

const (
	noNote        note = iota
	allOf              // n stitches are ahead: "knit all ninety-six stitches"
	reaches            // n stitches are left ahead: "to the end", "to the last two"
	markerReaches      // n stitches are left before the next marker
	panelReaches       // n stitches of the panel are left
	leaves             // n stitches stay unworked after the turn
	boundOff           // the stitch left by a bind-off counts as the first of what follows
	panelIn            // a panel begins
	panelOut           // and ends
	panelsAround       // a panel was worked, and another one is to come
	panelBefore        // a panel was worked, and at least once no other one comes; n tells the places apart
	nowHave            // n stitches are on the needle
)

// A needle is what the knitter sees before she begins the row: how many
// stitches there are, how many of them lie ahead of her, and how many lie ahead
// when she comes to each marker.
type needle struct {
	all, ahead int
	markers    []int
}

// names gives what the acts are called, for comparing.
func names(acts []act) []string {
	var out []string
	for _, a := range acts {
		if a.note == noNote {
			out = append(out, a.what)
		}
	}
	return out
}

func times(n int, acts ...act) []act {
	var out []act
	for range n {
		out = append(out, acts...)
	}
	return out
}

// A place is where the knitter is in a row as she works what she heard.
type place struct {
	needle
	panels int
	turned bool // the work was turned, so markers lie elsewhere
	bound  bool // stitches were bound off last
}

// check works what was heard on the stitches of the needle, and finds what was
// said wrongly of them.
func check(acts []act, at needle) error {
	if err := checkPanels(acts); err != nil {
		return err
	}
	p, before, told, rest := place{needle: at}, at.all, false, false
	for i, a := range acts {
		if a.note == noNote {
			if err := p.work(a); err != nil {
				return err
			}
			continue
		}
		if err := p.remark(a, acts[i:]); err != nil {
			return err
		}
		told, rest = told || a.note == nowHave, rest || a.note == leaves
	}
	last := ""
	if all := names(acts); len(all) > 0 {
		last = all[len(all)-1]
	}
	switch {
	case told && p.all == before:
		return fmt.Errorf("%d stitches are told, though there were as many before", p.all)
	case !told && p.all != before:
		return fmt.Errorf("from %d stitches it comes to %d, and nothing is said of it", before, p.all)
	case !rest && turns(last) && p.all > p.ahead:
		return fmt.Errorf("%d stitches stay unworked, and nothing is said of it", p.all-p.ahead)
	}
	return nil
}

// checkPanels finds what was said wrongly of what stands beside panels.
func checkPanels(acts []act) error {
	before, ahead := 0, 0
	for _, a := range acts {
		if a.note == panelIn {
			ahead++
		}
	}
	isLast := map[int]bool{} // by the place in what was said
	for _, a := range acts {
		switch {
		case a.note == panelIn:
			before, ahead = before+1, ahead-1
		case a.note == panelsAround && (before == 0 || ahead == 0):
			return fmt.Errorf("%d panels come before what is said to be between panels, and %d after it", before, ahead)
		case a.note == panelBefore && before == 0:
			return fmt.Errorf("no panel comes before what is said to be after one")
		case a.note == panelBefore:
			isLast[a.n] = isLast[a.n] || ahead == 0
		}
	}
	for _, last := range isLast {
		if !last {
			return fmt.Errorf("a panel follows every time, and nothing is said of it")
		}
	}
	return nil
}

func turns(what string) bool { return what == "turn" || what == "wrap and turn" }

// work does one act.
func (p *place) work(a act) error {
	if p.bound && a.uses > 0 && a.what != "bind off" {
		return fmt.Errorf("%s follows a bind-off, and nothing is said of the stitch that it leaves", a.what)
	}
	p.bound = a.what == "bind off" || p.bound && a.uses == 0
	p.all += a.makes - a.uses
	p.ahead -= a.uses
	switch {
	case a.what == "return":
		p.all, p.ahead = p.all+a.n, p.ahead+a.n
	case turns(a.what):
		p.turned, p.ahead = true, p.all-p.ahead // what was worked is ahead
	}
	if p.ahead < 0 {
		return fmt.Errorf("no stitch is left to %s", a.what)
	}
	return nil
}

// remark compares what is said of a place with the place; rest is the row from
// there on.
func (p *place) remark(a act, rest []act) error {
	switch a.note {
	case allOf:
		if a.n != p.ahead {
			return fmt.Errorf("%d were said to be all of them, and %d are ahead", a.n, p.ahead)
		}
	case reaches:
		if p.panels == 0 && a.n != p.ahead {
			return fmt.Errorf("%d stitches should be left where the reach ends, and %d are", a.n, p.ahead)
		}
	case markerReaches:
		if !p.turned && !slices.Contains(p.markers, p.ahead-a.n) {
			return fmt.Errorf("%d stitches should be left before the marker, and no marker is there", a.n)
		}
	case panelReaches:
		if left := used(toPanelEnd(rest)); a.n != left {
			return fmt.Errorf("%d stitches of the panel should be left where the reach ends, and %d are", a.n, left)
		}
	case leaves:
		if unworked := p.all - p.ahead; !p.turned || a.n != unworked {
			return fmt.Errorf("%d stitches are said to stay unworked, and %d do", a.n, unworked)
		}
	case boundOff:
		if !p.bound {
			return fmt.Errorf("no bind-off stands before the word on the stitch that it leaves")
		}
		p.bound = false
	case panelIn:
		p.panels++
	case panelOut:
		p.panels--
	case nowHave:
		if a.n != p.all {
			return fmt.Errorf("%d stitches should be there, and after what was heard there are %d", a.n, p.all)
		}
	}
	return nil
}

// used is how many stitches the acts take off the left needle.
func used(acts []act) int {
	n := 0
	for _, a := range acts {
		if n += a.uses; a.what == "return" {
			n -= a.n
		}
	}
	return n
}

// toPanelEnd gives the acts up to where the panel ends.
func toPanelEnd(acts []act) []act {
	for i, a := range acts {
		if a.note == panelOut {
			return acts[:i]
		}
	}
	return acts
}
