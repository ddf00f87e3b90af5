package reader_test

import (
	"fmt"
	"strings"
	"unicode"

	"clew/patterns/instruction"
)

// What a worked row asks for, by the slow and obvious way: every node as many
// times as it counts, one act after the other. The acts bear the names that
// the listener gives them; which stitch is which act is typed in here.
var actsOf = map[string][]string{
	"k": {"knit"}, "p": {"purl"},
	"yo": {"yarn over"}, "byo": {"backward yarn over"},
	"m1": {"make one"}, "m1l": {"make one left"}, "m1r": {"make one right"}, "m1p": {"make one purlwise"},
	"m1lp": {"make one left purlwise"}, "m1rp": {"make one right purlwise"},
	"kll": {"left lifted increase"}, "krl": {"right lifted increase"},
	"kfb": {"knit front and back"}, "pfb": {"purl front and back"}, "kfbf": {"knit front, back and front"},
	"k1b": {"knit below"},
	"ssk": {"slip slip knit"}, "ssp": {"slip slip purl"}, "sssk": {"slip slip slip knit"}, "sssp": {"slip slip slip purl"},
	"skp":  {"slip knitwise", "knit", "pass one over"},
	"sk2p": {"slip knitwise", "knit 2 together", "pass one over"},
	"s2kp": {"slip two as one knitwise", "knit", "pass two over"},
	"ksp":  {"knit, put back, pass the next over"},
	"pnso": {"pass the next over"}, "psso": {"pass one over"}, "p2sso": {"pass two over"},
	"pass previous st over": {"pass the one before over"},
	"mb":                    {"bobble"}, "pop": {"popcorn"},
	"BO": {"bind off"}, "CO": {"cast on"}, "pu": {"pick up and knit"}, "pup": {"pick up and purl"},
}

// worked flattens a worked row.
func worked(nodes []instruction.Node) []string {
	var out []string
	for _, n := range nodes {
		out = append(out, workedNode(n)...)
	}
	return out
}

func workedNode(n instruction.Node) []string {
	switch n := n.(type) {
	case *instruction.Work:
		return repeat(n.Count, workedStitch(n)...)
	case *instruction.Repeat:
		return repeat(n.Count, worked(n.Body)...)
	case *instruction.Into:
		return append(append([]string{"into one stitch"}, worked(n.Body)...), "that stitch is done")
	case *instruction.Cross:
		return workedCross(n)
	case *instruction.Macro:
		return worked(n.Body)
	case *instruction.AsLooks:
		return worked(n.Body)
	case *instruction.Strip:
		return worked(n.Body)
	case *instruction.Marker:
		return []string{[]string{"place marker", "slip marker", "remove marker"}[n.Act]}
	case *instruction.Turn:
		if n.Wrap {
			return []string{"wrap and turn"}
		}
		return []string{"turn"}
	case *instruction.Yarn:
		return []string{"yarn: " + yarnName(n.Name)}
	case *instruction.Bead:
		return []string{"bead"}
	case *instruction.Held:
		if n.Return {
			return []string{"return"}
		}
		return []string{fmt.Sprintf("hold %d", n.Count)}
	}
	return []string{fmt.Sprintf("%T can't be worked", n)}
}

func repeat(n int, acts ...string) []string {
	var out []string
	for range n {
		out = append(out, acts...)
	}
	return out
}

func workedStitch(w *instruction.Work) []string {
	how := ""
	for _, m := range []struct {
		bit instruction.Manner
		how string
	}{
		{instruction.Purlwise, " purlwise"}, {instruction.Knitwise, " knitwise"},
		{instruction.YarnFront, " with the yarn in front"}, {instruction.YarnBack, " with the yarn in back"},
	} {
		if w.Manner&m.bit != 0 {
			how += m.how
		}
	}
	if w.TBL {
		how += " through the back loop"
	}
	acts, known := actsOf[w.Stitch.Abbr]
	var together int
	var verb string
	switch {
	case w.Stitch.Abbr == "sl":
		return []string{"slip" + how}
	case known:
		acts = append([]string(nil), acts...)
		acts[len(acts)-1] += how
		return acts
	case strings.HasSuffix(w.Stitch.Abbr, "tog"):
		if _, err := fmt.Sscanf(w.Stitch.Abbr[1:], "%dtog", &together); err == nil {
			verb = map[byte]string{'k': "knit", 'p': "purl"}[w.Stitch.Abbr[0]]
			return []string{fmt.Sprintf("%s %d together%s", verb, together, how)}
		}
	}
	return []string{"no act is written down for " + w.Stitch.Abbr}
}

// workedCross gives the moves of the needles, from the strands and the parts.
func workedCross(c *instruction.Cross) []string {
	needles := []string{instruction.FromFirst: "cable needle", instruction.FromSecond: "second cable needle"}
	var out []string
	for i, s := range c.Slipped {
		hold := []string{instruction.HoldUnsaid: "anywhere", instruction.HoldBack: "behind", instruction.HoldFront: "in front"}[s.Hold]
		out = append(out, fmt.Sprintf("slip %d to the %s, hold it %s", s.N, needles[i+1], hold))
	}
	for _, part := range c.Parts {
		switch {
		case part.Returned > 0:
			out = append(out, fmt.Sprintf("put back %d", part.Returned))
		case part.From == instruction.FromLeft:
			out = append(out, worked(part.Body)...)
		default:
			out = append(out, fromCable(part.Body, needles[part.From])...)
		}
	}
	return out
}

// fromCable marks what takes a stitch from a cable needle. What is made out of
// nothing, or lifted over, is the same wherever it stands.
func fromCable(nodes []instruction.Node, needle string) []string {
	var out []string
	for _, n := range nodes {
		switch n := n.(type) {
		case *instruction.Work:
			for range n.Count {
				for _, a := range workedStitch(n) {
					if n.Stitch.Uses > 0 && !strings.HasPrefix(a, "pass ") || a == "pass the next over" {
						a += " from the " + needle
					}
					out = append(out, a)
				}
			}
		case *instruction.Repeat:
			out = append(out, repeat(n.Count, fromCable(n.Body, needle)...)...)
		case *instruction.Macro:
			out = append(out, fromCable(n.Body, needle)...)
		case *instruction.Into:
			out = append(append(append(out, "into one stitch from the "+needle), worked(n.Body)...), "that stitch is done")
		default:
			out = append(out, workedNode(n)...)
		}
	}
	return out
}

// yarnName is what is left of a yarn's name when it is said.
func yarnName(name string) string {
	switch strings.ToLower(name) {
	case "mc":
		return "the main color"
	case "cc":
		return "the contrast color"
	}
	if n, ok := strings.CutPrefix(strings.ToLower(name), "cc"); ok && len(n) == 1 && n[0] >= '1' && n[0] <= '9' {
		return "contrast color " + digits[n[0]-'0']
	}
	var b strings.Builder
	for _, r := range name {
		switch {
		case unicode.IsLetter(r), unicode.IsMark(r):
			b.WriteRune(unicode.ToLower(r))
		case r >= '0' && r <= '9':
			b.WriteString(" " + digits[r-'0'] + " ")
		default:
			b.WriteRune(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// digits are the numbers that a yarn's name may have, one digit each.
var digits = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
