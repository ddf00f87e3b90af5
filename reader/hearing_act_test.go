package reader_test

import "fmt"

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
	noNote       note = iota
	allOf             // n stitches are ahead: "knit all ninety-six stitches"
	reaches           // n stitches are left ahead: "to the end", "to the last two"
	panelReaches      // n stitches of the panel are left
	leaves            // n stitches stay unworked after the turn
	boundOff          // the stitch left by a bind-off counts as the first of the next
	panelIn           // a panel begins
	panelOut          // and ends
	nowHave           // n stitches are on the needle
)

// A needle is what the knitter sees before she begins the row: how many
// stitches there are, and how many of them lie ahead of her.
type needle struct{ all, ahead int }

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

// check walks over what was heard with the stitches of the needle, and finds
// what was said wrongly of them.
func check(acts []act, at needle) error {
	all, ahead := at.all, at.ahead
	panels, turned, told := 0, false, -1
	for i, a := range acts {
		switch a.note {
		case noNote:
			all += a.makes - a.uses
			ahead -= a.uses
			if a.what == "return" {
				all, ahead = all+a.n, ahead+a.n
			}
			turned = turned || a.what == "turn" || a.what == "wrap and turn"
		case allOf:
			if a.n != ahead {
				return fmt.Errorf("%d were said to be all of them, and %d are ahead", a.n, ahead)
			}
		case reaches:
			if panels == 0 && !turned && a.n != ahead {
				return fmt.Errorf("%d stitches should be left where the reach ends, and %d are", a.n, ahead)
			}
		case panelReaches:
			if rest := used(toPanelEnd(acts[i:])); a.n != rest {
				return fmt.Errorf("%d stitches of the panel should be left where the reach ends, and %d are", a.n, rest)
			}
		case leaves:
			if rest := at.ahead - used(acts[:i]); !turnsTwice(acts) && a.n != rest {
				return fmt.Errorf("%d stitches are said to stay unworked, and %d do", a.n, rest)
			}
		case boundOff:
			if i == 0 || acts[i-1].what != "bind off" {
				return fmt.Errorf("no bind-off stands before the word on the stitch that it leaves")
			}
		case panelIn:
			panels++
		case panelOut:
			panels--
		case nowHave:
			if told = a.n; told != all {
				return fmt.Errorf("%d stitches should be there, and after what was heard there are %d", told, all)
			}
			if told == at.all {
				return fmt.Errorf("%d stitches are told, though there were as many before", told)
			}
		}
	}
	if told < 0 && all != at.all {
		return fmt.Errorf("from %d stitches it comes to %d, and nothing is said of it", at.all, all)
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

// turnsTwice says that the work is turned again before the row ends, so that
// what lies ahead is no longer known from the words.
func turnsTwice(acts []act) bool {
	n := 0
	for _, a := range acts {
		if a.what == "turn" || a.what == "wrap and turn" {
			n++
		}
	}
	return n > 1
}
