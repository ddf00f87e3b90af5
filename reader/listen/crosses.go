package listen

import (
	"strconv"

	"clew/patterns/stitch"
)

// crossNamed gives the abbreviation of a cross that the words name by its widths, whatever they are: "two over one right purl
// cross", "two one RPC", "21 rpc", "cable four back". The table of stitches knows no list of crosses, so neither does the ear.
func crossNamed(ws []word) (string, bool) {
	if name, ok := olderCross(ws); ok {
		return name, true
	}
	strands, rest := strandsOf(ws)
	if len(strands) < 2 || len(rest) == 0 {
		return "", false
	}
	seen := map[crossPart]bool{}
	for _, w := range rest {
		parts, ok := crossParts[w.text]
		if !ok {
			return "", false
		}
		for _, p := range parts {
			if seen[p] {
				return "", false
			}
			seen[p] = true
		}
	}
	if !seen[crossing] || seen[rightward] == seen[leftward] {
		return "", false
	}
	c := stitch.Cross{Front: strands[0], Back: strands[len(strands)-1], Left: seen[leftward], Purl: seen[purled]}
	if len(strands) == 3 {
		c.Middle = strands[1]
	}
	return c.Name(), true
}

// strandsOf reads the two or three widths that the words begin with, and gives the words behind them.
func strandsOf(ws []word) (widths []int, rest []word) {
	for rest = ws; len(rest) > 0 && len(widths) < 3; rest = rest[1:] {
		n := rest[0].num
		switch {
		case between[rest[0].text] && len(widths) > 0 && len(rest) > 1 && isWidth(rest[1].num):
		case isWidth(n):
			widths = append(widths, n.value)
		case len(widths) == 0 && n.scale == figures:
			return figureByFigure(n.value), rest[1:] // 2/1 heard as 21
		default:
			return widths, rest
		}
	}
	return widths, rest
}

func isWidth(n numeral) bool { return isCount(n) && n.value <= stitch.MaxStrand }

// isCount reports whether a word by itself is a number from one on.
func isCount(n numeral) bool {
	return (n.scale == digit || n.scale == teen || n.scale == tens || n.scale == figures) && !n.ordinal && n.value >= 1
}

// figureByFigure gives the figures of a number of two or three; none where one of them is a nought.
func figureByFigure(n int) (all []int) {
	if n > 999 {
		return nil
	}
	for ; n > 0; n /= 10 {
		if n%10 == 0 {
			return nil
		}
		all = append([]int{n % 10}, all...)
	}
	return all
}

// olderCross reads the names that count all stitches of a cross: "C4B", "see for bee", "cable six front", "T3F".
func olderCross(ws []word) (string, bool) {
	if len(ws) < 3 {
		return "", false
	}
	kind, last := olderKinds[ws[0].text], olderEnds[ws[len(ws)-1].text]
	ws = ws[1 : len(ws)-1]
	for len(ws) > 1 && inBetween[ws[len(ws)-1].text] {
		ws = ws[:len(ws)-1]
	}
	if kind == "" || last == "" || len(ws) != 1 || !isCount(ws[0].num) {
		return "", false
	}
	name := kind + strconv.Itoa(ws[0].num.value) + last
	_, meanings, ok := stitch.FindCross(name)
	return name, ok || meanings != ""
}

// inBetween are the words that may stand before the last: "cable four stitches at the back".
var inBetween = wordSet("the to in at st sts stitch stitches")

// between are the words that may stand between two widths.
var between = wordSet("over ova by slash dash point cross across above and")

type crossPart int

const (
	rightward crossPart = iota
	leftward
	purled
	crossing
	leaning // says nothing that the direction doesn't
)

var crossParts = func() map[string][]crossPart {
	m := map[string][]crossPart{
		"rpc": {rightward, purled, crossing}, "lpc": {leftward, purled, crossing}, "rc": {rightward, crossing}, "lc": {leftward, crossing},
		"pc": {purled, crossing}, "rp": {rightward, purled}, "lp": {leftward, purled},
	}
	for part, words := range map[crossPart]string{
		rightward: "right write rite wright rights r are ar", leftward: "left lift l el ell", purled: "purl pearl perl purrl pearls purls p pee pea",
		crossing: "cross crossed kross crosses crossing c see sea cee cable cables", leaning: "leaning lean slanting hand going",
	} {
		for w := range wordSet(words) {
			m[w] = []crossPart{part}
		}
	}
	return m
}()

var (
	olderKinds = oneMeaning("C: c see sea cee cable cables\nT: t tee tea twist twists")
	olderEnds  = oneMeaning("B: b be bee back behind\nF: f ef eff front forward forwards")
)
