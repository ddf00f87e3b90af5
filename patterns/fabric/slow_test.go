package fabric_test

import (
	"fmt"
	"slices"

	"clew/patterns/fabric"
	"clew/patterns/instruction"
)

// The slow fabric is a plain list of things in the order in which a right-side
// row meets them: stitches, markers, the beginning of the round, and the tip,
// where the needles part. Every operation walks the list. It knows its own
// stitches and shares nothing with the fabric it is compared with.
type slow struct {
	things  []thing
	ring    bool
	back    bool
	columns int
	yarn    string
	held    [][]thing
	turned  bool
	passed  bool     // the beginning of the round lies behind, in this stretch
	ended   bool     // the beginning of the round was slipped past, and nothing worked since
	supply  *[]thing // stands in for what is ahead: a cable needle, or one stitch worked into
	room    int      // stitches left to a panel; below 0 outside one
	size    int
}

type kindOf int

const (
	aStitch kindOf = iota
	aMarker
	theBeginning
	theTip
	theWall // where the panel that is being worked began
)

type thing struct {
	kind                           kindOf
	column                         int
	purl, twisted, wrapped, beaded bool
	slipped                        bool
	yarn                           string
	done                           bool // worked since the last turn
}

// misfit is thrown when a row can't be worked.
type misfit string

// slowStitches is the slow fabric's own table: stitches used, and the faces
// made; capital letters are twisted.
var slowStitches = map[string]struct {
	uses  int
	makes string
}{
	"k": {1, "k"}, "p": {1, "p"}, "yo": {0, "k"}, "m1": {0, "K"}, "m1p": {0, "P"}, "kfb": {1, "kp"}, "pfb": {1, "pp"},
	"k2tog": {2, "k"}, "p2tog": {2, "p"}, "k3tog": {3, "k"}, "ssk": {2, "k"}, "ssp": {2, "p"}, "sk2p": {3, "k"}, "s2kp": {3, "k"}, "skp": {2, "k"},
	"BO": {1, ""}, "CO": {0, "k"},
}

func slowCastOn(n int, ring bool) *slow {
	s := &slow{ring: ring, room: -1}
	if ring {
		s.things = append(s.things, thing{kind: theBeginning})
	}
	s.things = append(s.things, thing{kind: theTip})
	for range n {
		s.things = append(s.things, thing{kind: aStitch, column: s.columns})
		s.columns++
	}
	return s
}

func (s *slow) copy() *slow {
	c := *s
	c.things, c.held = slices.Clone(s.things), slices.Clone(s.held)
	return &c
}

func (s *slow) tip() int {
	return slices.IndexFunc(s.things, func(t thing) bool { return t.kind == theTip })
}

// walk visits what lies ahead of the tip, or behind it, nearest first, by its
// index, until visit says false. A ring is walked once round.
func (s *slow) walk(ahead bool, visit func(i int) bool) {
	step := 1
	if ahead == s.back {
		step = -1
	}
	n := len(s.things)
	for i, k := s.tip()+step, 1; k < n; i, k = i+step, k+1 {
		if s.ring {
			i = (i + n) % n
		} else if i < 0 || i >= n {
			return
		}
		if !visit(i) {
			return
		}
	}
}

// next is the index of the next stitch ahead; -1 for none.
func (s *slow) next() int {
	found := -1
	s.walk(true, func(i int) bool {
		if s.things[i].kind != aStitch {
			return true
		}
		if !s.things[i].done {
			found = i
		}
		return false
	})
	return found
}

// goTo moves the tip to just before the thing at i, as it is walked.
func (s *slow) goTo(i int) {
	at := s.tip()
	t := s.things[at]
	s.things = slices.Delete(s.things, at, at+1)
	if at < i {
		i--
	}
	if s.back {
		i++
	}
	s.things = slices.Insert(s.things, i, t)
}

func (s *slow) take() thing {
	if s.supply != nil {
		if len(*s.supply) == 0 {
			panic(misfit("nothing left to take"))
		}
		t := (*s.supply)[0]
		*s.supply = (*s.supply)[1:]
		return t
	}
	i := s.next()
	if i < 0 || s.room == 0 {
		panic(misfit("short"))
	}
	s.room--
	s.turned, s.ended = false, false
	s.walk(true, func(i int) bool {
		s.passed = s.passed || s.things[i].kind == theBeginning
		return s.things[i].kind != aStitch
	})
	s.goTo(i)
	i = s.next()
	t := s.things[i]
	s.things = slices.Delete(s.things, i, i+1)
	return t
}

// put puts a thing behind the tip.
func (s *slow) put(t thing) {
	t.done = true
	s.turned, s.ended = false, false
	i := s.tip()
	if s.back {
		i++
	}
	s.things = slices.Insert(s.things, i, t)
}

// giveBack puts a stitch right ahead of the tip.
func (s *slow) giveBack(t thing) {
	t.done = false
	i := s.tip()
	if !s.back {
		i++
	}
	s.things = slices.Insert(s.things, i, t)
}

// ahead counts the stitches up to the end of the row, round or panel.
func (s *slow) ahead() int {
	if s.supply != nil {
		return len(*s.supply)
	}
	if s.ended {
		return 0
	}
	n := 0
	s.walk(true, func(i int) bool {
		if s.things[i].kind == aStitch && !s.things[i].done {
			n++
		}
		return s.things[i].kind != theBeginning && !s.things[i].done
	})
	if s.room >= 0 {
		n = min(n, s.room)
	}
	return n
}

// beside gives the indexes of things of a kind with no stitch between them and
// the tip.
func (s *slow) beside(kind kindOf) []int {
	var found []int
	for _, ahead := range []bool{true, false} {
		s.walk(ahead, func(i int) bool {
			if s.things[i].kind == kind && !slices.Contains(found, i) {
				found = append(found, i)
			}
			return s.things[i].kind != aStitch
		})
	}
	return found
}

// begin clears what lasts one stretch. A marker beside the tip is ahead then,
// and at the beginning of the round the whole of it is.
func (s *slow) begin() {
	for i := range s.things {
		s.things[i].done = false
	}
	var around []thing // in the order in which they are to be walked
	beginning, markers := s.beside(theBeginning), s.beside(aMarker)
	for _, i := range beginning {
		around = append(around, s.things[i])
	}
	around = append(around, s.things[s.tip()])
	for _, i := range markers {
		around = append(around, s.things[i])
	}
	if s.back {
		slices.Reverse(around)
	}
	out := append(append(slices.Clone(beginning), markers...), s.tip())
	at := s.tip()
	var rest []thing
	for i, t := range s.things {
		if i == at {
			rest = append(rest, around...)
		}
		if !slices.Contains(out, i) {
			rest = append(rest, t)
		}
	}
	s.things = rest
}

func (s *slow) turn() {
	s.back = !s.back
	s.begin()
	s.turned, s.ended, s.passed = true, false, false
}

// differs says how a fabric differs from the slow one; empty when it does not.
// Columns that are new since the start are compared by which are the same.
func (s *slow) differs(f fabric.Fabric) string {
	var stitches []thing
	var markers []int
	tip, begin := 0, 0
	for i, t := range s.things {
		if t.kind == theBeginning {
			begin = i
		}
	}
	for i := range s.things {
		switch t := s.things[(begin+i)%len(s.things)]; t.kind {
		case aStitch:
			stitches = append(stitches, t)
		case aMarker:
			markers = append(markers, len(stitches))
		case theTip:
			tip = len(stitches)
		}
	}
	n := len(stitches)
	ahead := n - tip
	if s.back {
		ahead = tip
	}
	if s.ring && n > 0 {
		for i := range markers {
			markers[i] %= n
		}
		if ahead == 0 {
			ahead = n
		}
	}
	slices.Sort(markers)
	markers = slices.Compact(markers)
	switch {
	case f.Count() != n:
		return fmt.Sprintf("count %d, want %d", f.Count(), n)
	case f.Ahead() != ahead:
		return fmt.Sprintf("ahead %d, want %d", f.Ahead(), ahead)
	case (f.Side() == instruction.WS) != s.back:
		return fmt.Sprintf("side %v, want back %v", f.Side(), s.back)
	case !slices.Equal(f.Markers(), markers):
		return fmt.Sprintf("markers %v, want %v", f.Markers(), markers)
	}
	return differentStitches(f, stitches)
}

func differentStitches(f fabric.Fabric, want []thing) string {
	there, back := map[int32]int{}, map[int]int32{}
	for i, l := range f.Loops() {
		w := want[i]
		got := thing{purl: l.Face == 1, twisted: l.Marks&fabric.Twisted != 0, wrapped: l.Marks&fabric.Wrapped != 0, beaded: l.Marks&fabric.Beaded != 0,
			slipped: l.Marks&fabric.Slipped != 0, yarn: f.YarnName(l.Yarn), column: w.column, done: w.done}
		if got != w {
			return fmt.Sprintf("stitch %d is %+v, want %+v", i, got, w)
		}
		column, seen := there[l.Column]
		mirror, seenBack := back[w.column]
		if seen && column != w.column || seenBack && mirror != l.Column {
			return fmt.Sprintf("stitch %d grew from column %d, which is not the slow fabric's %d", i, l.Column, w.column)
		}
		there[l.Column], back[w.column] = w.column, l.Column
	}
	return ""
}
