package stitch

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
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

// FindCross gives the cross of a name. A name that print gives two meanings
// comes back with ok false and both meanings as a sentence; a name that is no
// cross comes back with ok false and no sentence.
func FindCross(name string) (c Cross, meanings string, ok bool) {
	key := Key(name)
	switch key {
	case "rt":
		return Cross{Front: 1, Back: 1, Twist: true}, "", true
	case "lt":
		return Cross{Front: 1, Back: 1, Left: true, Twist: true}, "", true
	case "rc", "lc", "fc", "bc":
		return Cross{}, "how many stitches cross how many? It may mean 1/1 " + strings.ToUpper(key) + " or 2/2 " + strings.ToUpper(key), false
	}
	if m := slashName.FindStringSubmatch(key); m != nil {
		c = Cross{Front: width(m[1]), Back: width(m[2]), Left: m[4] == "l", Purl: m[5] == "p"}
		if m[3] != "" {
			c.Middle, c.Back = c.Back, width(m[3])
		}
		if c.Front == 0 || c.Back == 0 || (m[3] != "" && c.Middle == 0) {
			return Cross{}, "each strand of a cross has from 1 to " + strconv.Itoa(MaxStrand) + " stitches", false
		}
		return c, "", true
	}
	if m := olderName.FindStringSubmatch(key); m != nil {
		return older(m[1] == "t", width(m[2]), m[3] == "f")
	}
	return Cross{}, "", false
}

func width(digits string) int {
	n, err := strconv.Atoi(digits)
	if err != nil || n > MaxStrand {
		return 0
	}
	return n
}

// older reads the names that count all stitches of the cross, where print
// agrees on them: an even C of four or more is half and half and all knit; T3
// is two knits over one purl and T4 two over two. B puts the cable needle in
// back, which leans to the right.
func older(purl bool, total int, left bool) (Cross, string, bool) {
	direction := "RC"
	if left {
		direction = "LC"
	}
	switch {
	case purl && (total == 3 || total == 4):
		return Cross{Front: 2, Back: total - 2, Left: left, Purl: true}, "", true
	case !purl && total >= 4 && total%2 == 0:
		return Cross{Front: total / 2, Back: total / 2, Left: left}, "", true
	case total == 0:
		return Cross{}, "each strand of a cross has from 1 to " + strconv.Itoa(MaxStrand) + " stitches", false
	case purl:
		direction = strings.Replace(direction, "C", "PC", 1)
	}
	if total <= 2 {
		return Cross{}, fmt.Sprintf("it may mean two stitches in all (1/1 %s) or two on the cable needle (2/2 %s)", direction, direction), false
	}
	wide := (total + 1) / 2
	if total%2 == 0 {
		wide++
	}
	return Cross{}, fmt.Sprintf("it may mean %d/%d %s or %d/%d %s", wide, total-wide, direction, total-wide, wide, direction), false
}

// LooksLikeCross says whether a name, in the form of Key, could be a cross.
// It is cheap, and sorts out what FindCross need not look at.
func LooksLikeCross(key []byte) bool {
	if len(key) < 2 {
		return false
	}
	switch last := key[len(key)-1]; last {
	case 'c', 't':
		return len(key) == 2 || (key[0] >= '0' && key[0] <= '9')
	case 'b', 'f':
		return (key[0] == 'c' || key[0] == 't') && key[1] >= '0' && key[1] <= '9'
	}
	return false
}
