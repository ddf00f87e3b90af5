package stitch

import (
	"fmt"
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

// widths reads the strands of a name such as 2/1rpc or 2/1/2lc, in the form of
// Key; rest is what follows them.
func widths(key string) (strands [3]int, n int, rest string) {
	for n < len(strands) {
		digits := 0
		for digits < len(key) && key[digits] >= '0' && key[digits] <= '9' {
			digits++
		}
		if digits == 0 {
			return strands, 0, ""
		}
		strands[n] = width(key[:digits])
		n++
		key = key[digits:]
		if key == "" || key[0] != '/' {
			break
		}
		key = key[1:]
	}
	return strands, n, key
}

// older reads a name such as c4b or t3f, in the form of Key.
func older(key string) (total int, purl, left, ok bool) {
	if len(key) < 3 || (key[0] != 'c' && key[0] != 't') {
		return 0, false, false, false
	}
	last := len(key) - 1
	for _, c := range []byte(key[1:last]) {
		if c < '0' || c > '9' {
			return 0, false, false, false
		}
	}
	return width(key[1:last]), key[0] == 't', key[last] == 'f', key[last] == 'b' || key[last] == 'f'
}

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
	if strands, n, rest := widths(key); n >= 2 {
		c = Cross{Front: strands[0], Back: strands[n-1], Left: rest == "lc" || rest == "lpc", Purl: rest == "rpc" || rest == "lpc"}
		if n == 3 {
			c.Middle = strands[1]
		}
		switch {
		case rest != "rc" && rest != "rpc" && !c.Left:
			return Cross{}, "", false
		case !inRange(c.Front) || !inRange(c.Back) || (n == 3 && !inRange(c.Middle)):
			return Cross{}, tooWide, false
		}
		return c, "", true
	}
	if total, purl, left, ok := older(key); ok {
		c = Cross{Front: total / 2, Back: total / 2, Left: left}
		if purl {
			c.Front, c.Back, c.Purl = 2, total-2, true
		}
		if !inRange(c.Front) || !inRange(c.Back) || c.Uses() != total {
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
	total, purl, left, ok := older(key)
	if !ok {
		return nil
	}
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
