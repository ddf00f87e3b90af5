package reader_test

import (
	"fmt"
	"strings"
	"unicode"
)

// What a listener knows before anyone has said a word: English numbers, and
// what knitters call their stitches. All of it is typed in here, none of it is
// taken from the program.

// A phrase is something that is said of one stitch, and what hands then do.
type phrase struct {
	said  string
	acts  []act
	comma bool // said with commas inside it
	words []string
}

func does(what string, uses, makes int) []act { return []act{{what: what, uses: uses, makes: makes}} }

// passing is a decrease that passes slipped stitches over what is worked next.
func passing(slip string, slipped int, work string, uses int, pass string) []act {
	return []act{{what: slip, uses: slipped, makes: slipped}, {what: work, uses: uses, makes: 1}, {what: pass, makes: -slipped}}
}

var phrases = func() []phrase {
	list := []phrase{
		{said: "yarn over", acts: does("yarn over", 0, 1)},
		{said: "backward yarn over", acts: does("backward yarn over", 0, 1)},
		{said: "make one", acts: does("make one", 0, 1)},
		{said: "make one left", acts: does("make one left", 0, 1)},
		{said: "make one right", acts: does("make one right", 0, 1)},
		{said: "make one purlwise", acts: does("make one purlwise", 0, 1)},
		{said: "make one left purlwise", acts: does("make one left purlwise", 0, 1)},
		{said: "make one right purlwise", acts: does("make one right purlwise", 0, 1)},
		{said: "left lifted increase", acts: does("left lifted increase", 0, 1)},
		{said: "right lifted increase", acts: does("right lifted increase", 0, 1)},
		{said: "knit into the front and back of the next stitch", acts: does("knit front and back", 1, 2)},
		{said: "purl into the front and back of the next stitch", acts: does("purl front and back", 1, 2)},
		{said: "knit into the front, the back and the front again of the next stitch", acts: does("knit front, back and front", 1, 3)},
		{said: "knit one below", acts: does("knit below", 1, 1)},
		{said: "slip, slip, knit", acts: does("slip slip knit", 2, 1)},
		{said: "slip, slip, purl", acts: does("slip slip purl", 2, 1)},
		{said: "slip, slip, slip, knit", acts: does("slip slip slip knit", 3, 1)},
		{said: "slip, slip, slip, purl", acts: does("slip slip slip purl", 3, 1)},
		{said: "slip two together knitwise", acts: does("slip two as one knitwise", 2, 2)},
		{said: "slip one knitwise, knit one, pass the slipped stitch over", acts: passing("slip knitwise", 1, "knit", 1, "pass one over")},
		{said: "slip one knitwise, knit two together, pass the slipped stitch over", acts: passing("slip knitwise", 1, "knit 2 together", 2, "pass one over")},
		{said: "slip two together knitwise, knit one, pass the two slipped stitches over", acts: passing("slip two as one knitwise", 2, "knit", 1, "pass two over")},
		{said: "knit one, put it back, pass the next stitch over it", acts: does("knit, put back, pass the next over", 2, 1)},
		{said: "pass the next stitch over", acts: does("pass the next over", 1, 0)},
		{said: "pass the slipped stitch over", acts: does("pass one over", 0, -1)},
		{said: "pass the two slipped stitches over", acts: does("pass two over", 0, -2)},
		{said: "pass the stitch before the last one over it", acts: does("pass the one before over", 0, -1)},
		{said: "make a bobble", acts: does("bobble", 1, 1)},
		{said: "make a popcorn", acts: does("popcorn", 1, 1)},
		{said: "place a bead", acts: does("bead", 0, 0)},
		{said: "place a marker", acts: does("place marker", 0, 0)},
		{said: "slip the marker", acts: does("slip marker", 0, 0)},
		{said: "remove the marker", acts: does("remove marker", 0, 0)},
		{said: "turn", acts: does("turn", 0, 0)},
		{said: "wrap the next stitch and turn", acts: does("wrap and turn", 0, 0)},
	}
	for i, p := range list {
		list[i].words = wordsOf(p.said)
		list[i].comma = strings.Contains(p.said, ",")
	}
	return list
}()

var (
	ones = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9}
	teen = map[string]int{"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15,
		"sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19}
	tens = map[string]int{"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
)

// belowHundred hears one word: "four", "eleven", "sixty", "sixty-two".
func belowHundred(word string) (int, bool) {
	for _, list := range []map[string]int{ones, teen, tens} {
		if n, ok := list[word]; ok {
			return n, true
		}
	}
	ten, one, found := strings.Cut(word, "-")
	return tens[ten] + ones[one], found && tens[ten] > 0 && ones[one] > 0
}

// countOff hears a number at the start of words, up to 9,999, and says how
// many words it took; none when no number stands there.
func countOff(words []token) (n, took int) {
	at := func(i int) string {
		if i < len(words) {
			return words[i].text
		}
		return ""
	}
	if thousands, ok := ones[at(0)]; ok && at(1) == "thousand" {
		n, took = thousands*1000, 2
	}
	if hundreds, ok := ones[at(took)]; ok && at(took+1) == "hundred" {
		n, took = n+hundreds*100, took+2
	}
	last := took
	if took > 0 {
		if at(took) != "and" {
			return n, took
		}
		last++
	}
	if rest, ok := belowHundred(at(last)); ok {
		return n + rest, last + 1
	}
	return n, took
}

// A token is a word or a mark of a paragraph.
type token struct {
	text    string // in lower case
	capital bool
}

func (t token) mark() bool { return len(t.text) == 1 && strings.Contains(".,;:", t.text) }

// split gives the words and marks of a paragraph, and refuses whatever a voice
// could not say: digits, signs, empty places.
func split(said string) ([]token, error) {
	var out []token
	for i, part := range strings.Split(said, " ") {
		word := strings.TrimRight(part, ".,;:")
		if word == "" || len(part)-len(word) > 1 {
			return nil, fmt.Errorf("%q stands where one word was expected, the %dth of %q", part, i+1, said)
		}
		for _, r := range word {
			if !unicode.IsLetter(r) && !unicode.IsMark(r) && r != '\'' && r != '-' {
				return nil, fmt.Errorf("%q can't be said", part)
			}
		}
		if strings.HasPrefix(word, "-") || strings.HasSuffix(word, "-") || strings.Contains(word, "--") {
			return nil, fmt.Errorf("%q has a loose hyphen", part)
		}
		lower := strings.ToLower(word)
		out = append(out, token{lower, lower != word})
		if len(part) > len(word) {
			out = append(out, token{text: part[len(word):]})
		}
	}
	return out, nil
}

// partWords are the words and marks of what the listener waits for.
var partWords = map[string][]string{}

// wordsOf gives the words and marks of a part of a sentence, as split would.
func wordsOf(part string) []string {
	if words, ok := partWords[part]; ok {
		return words
	}
	spaced := strings.NewReplacer(",", " , ", ".", " . ", ";", " ; ", ":", " : ").Replace(part)
	partWords[part] = strings.Fields(spaced)
	return partWords[part]
}
