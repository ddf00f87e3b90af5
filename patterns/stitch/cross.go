package stitch

import (
	"fmt"
	"regexp"
	"strconv"
)

// MaxStrand is the widest strand of a cross, in stitches.
const MaxStrand = 20

// A Cross is two or three strands that change places. Front is the strand that
// passes in front, always knitted. With two strands Back passes behind it and
// is knitted, or purled where Purl is set. With three, Middle stays where it
// is, behind both, and is the one that Purl purls; Back is knitted.
//
// Source: Craft Yarn Council, knit cable abbreviations (from memory): 2/1 RPC
// is sl 1 to cn, hold in back, k2, p1 from cn; 2/1 LPC is sl 2 to cn, hold in
// front, p1, k2 from cn; three strands: the outer ones change places.
type Cross struct {
	Front, Middle, Back int // widths in stitches; Middle 0 means two strands
	Left                bool
	Purl                bool
	Twist               bool // RT, LT: the one-over-one cross under its own name
}

// Uses is the width of the cross, which it also makes.
func (c Cross) Uses() int { return c.Front + c.Middle + c.Back }

// Zero says that this is no cross.
func (c Cross) Zero() bool { return c.Front == 0 }

// Name is the canonical abbreviation: "2/1 RPC", "2/1/2 LC", "RT".
func (c Cross) Name() string {
	direction := "R"
	if c.Left {
		direction = "L"
	}
	if c.Twist {
		return direction + "T"
	}
	kind := "C"
	if c.Purl {
		kind = "PC"
	}
	if c.Middle > 0 {
		return fmt.Sprintf("%d/%d/%d %s%s", c.Front, c.Middle, c.Back, direction, kind)
	}
	return fmt.Sprintf("%d/%d %s%s", c.Front, c.Back, direction, kind)
}

// Words is the name as it is said: "two over one right purl cross".
func (c Cross) Words() string {
	direction := "right"
	if c.Left {
		direction = "left"
	}
	if c.Twist {
		return direction + " twist"
	}
	kind := " cross"
	if c.Purl {
		kind = " purl cross"
	}
	widths := smallNumber(c.Front) + " over "
	if c.Middle > 0 {
		widths += smallNumber(c.Middle) + " over "
	}
	return widths + smallNumber(c.Back) + " " + direction + kind
}

// Mirror is the same cross the other way.
func (c Cross) Mirror() Cross {
	c.Left = !c.Left
	return c
}

var (
	slashName = regexp.MustCompile(`^(\d+)/(\d+)(?:/(\d+))?([rl])(p?)c$`)
	olderName = regexp.MustCompile(`^([ct])(\d+)([bf])$`)
)

// tooWide is what FindCross says of widths outside its range.
var tooWide = "each strand of a cross has from 1 to " + strconv.Itoa(MaxStrand) + " stitches"

// FindCross gives the cross of a name. A name that print gives two meanings
// (see Ambiguous) comes back with ok false and both meanings as a sentence, and
// so does one whose strands are out of range; a name that is no cross comes
// back with ok false and no sentence.
func FindCross(name string) (c Cross, meanings string, ok bool) {
	key := Key(name)
	switch key {
	case "rt":
		return Cross{Front: 1, Back: 1, Twist: true}, "", true
	case "lt":
		return Cross{Front: 1, Back: 1, Left: true, Twist: true}, "", true
	}
	if a := Ambiguous(name); a != nil && a.cross {
		return Cross{}, a.Meanings, false
	}
	if m := slashName.FindStringSubmatch(key); m != nil {
		c = Cross{Front: width(m[1]), Back: width(m[2]), Left: m[4] == "l", Purl: m[5] == "p"}
		if m[3] != "" {
			c.Middle, c.Back = c.Back, width(m[3])
		}
		if !inRange(c.Front) || !inRange(c.Back) || (m[3] != "" && !inRange(c.Middle)) {
			return Cross{}, tooWide, false
		}
		return c, "", true
	}
	if m := olderName.FindStringSubmatch(key); m != nil {
		total := width(m[2])
		c = Cross{Front: total / 2, Back: total / 2, Left: m[3] == "f"}
		if m[1] == "t" {
			c.Front, c.Back, c.Purl = 2, total-2, true
		}
		if !inRange(c.Front) || !inRange(c.Back) {
			return Cross{}, tooWide, false
		}
		return c, "", true
	}
	return Cross{}, "", false
}

func inRange(strand int) bool { return strand >= 1 && strand <= MaxStrand }

// width reads digits; past three of them it is out of every range.
func width(digits string) int {
	n, err := strconv.Atoi(digits)
	if err != nil || n > 999 {
		return 999
	}
	return n
}

// An Ambiguity is a name that print gives two meanings.
type Ambiguity struct {
	Meanings string // both, in words and as clear abbreviations
	Instead  string // what to write
	cross    bool
}

// Ambiguous gives the two meanings of a name that has two in print, or nil.
//
// The older names of crosses count all their stitches. Print agrees on an even
// C of four or more (half and half, all knit) and on T3 and T4 (two knits over
// one purl, or over two); the others it uses both ways.
func Ambiguous(name string) *Ambiguity {
	key := Key(name)
	switch key {
	case "yf":
		return &Ambiguity{Meanings: "yarn over (a new stitch), or yarn to the front (no new stitch)",
			Instead: "write yo for the new stitch; before a slip write where the yarn is held: sl 1 wyif"}
	case "rc", "bc":
		return twoCrosses(name, "one stitch over one", "1/1 RC", "two over two", "2/2 RC")
	case "lc", "fc":
		return twoCrosses(name, "one stitch over one", "1/1 LC", "two over two", "2/2 LC")
	}
	m := olderName.FindStringSubmatch(key)
	if m == nil {
		return nil
	}
	total, purl, left := width(m[2]), m[1] == "t", m[3] == "f"
	if total < 2 || total > 2*MaxStrand || (purl && (total == 3 || total == 4)) || (!purl && total >= 4 && total%2 == 0) {
		return nil
	}
	cross := func(front, back int) (string, string) {
		c := Cross{Front: front, Back: back, Left: left, Purl: purl}
		return smallNumber(front) + " over " + smallNumber(back), c.Name()
	}
	if total == 2 {
		_, narrow := cross(1, 1)
		_, wide := cross(2, 2)
		return twoCrosses(name, "two stitches in all", narrow, "two on the cable needle", wide)
	}
	wide := total/2 + 1
	words, abbr := cross(wide, total-wide)
	otherWords, other := cross(total-wide, wide)
	if total%2 == 0 {
		otherWords, other = cross(total/2, total/2)
	}
	return twoCrosses(name, words, abbr, otherWords, other)
}

func twoCrosses(name, words, abbr, otherWords, other string) *Ambiguity {
	return &Ambiguity{
		Meanings: fmt.Sprintf("%s (%s), or %s (%s)", words, abbr, otherWords, other),
		Instead:  fmt.Sprintf("write %s or %s, or say once which it is: Abbreviation: %s = %s", abbr, other, name, abbr),
		cross:    true,
	}
}

// LooksLikeCross says whether a name, in the form of Key, could be a cross.
// It is cheap, and sorts out what FindCross need not look at.
func LooksLikeCross(key []byte) bool {
	if len(key) < 2 {
		return false
	}
	switch last := key[len(key)-1]; last {
	case 'c', 't':
		return len(key) == 2 || (key[0] >= '0' && key[0] <= '9') // RT, LC; 2/1 RPC
	case 'b', 'f':
		return (key[0] == 'c' || key[0] == 't') && key[1] >= '0' && key[1] <= '9'
	}
	return false
}
