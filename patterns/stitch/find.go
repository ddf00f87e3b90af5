package stitch

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// MaxTogether is the most stitches that one decrease takes together.
const MaxTogether = 12

var (
	stitchIndex = map[string]*Stitch{}
	termIndex   = map[string]Term{}
	all         []*Stitch
)

func init() {
	all = append(all, table...)
	for n := 2; n <= MaxTogether; n++ {
		all = append(all, together(n, "k", "knit", Knit), together(n, "p", "purl", Purl))
	}
	for _, s := range all {
		for _, name := range append([]string{s.Abbr}, s.Spellings...) {
			stitchIndex[Key(name)] = s
		}
	}
	for _, t := range terms {
		termIndex[Key(t.Abbr)] = t
		for _, name := range t.Spellings {
			if _, taken := termIndex[Key(name)]; !taken {
				termIndex[Key(name)] = t
			}
		}
	}
}

// together is the decrease that works n stitches as one.
func together(n int, letter, verb string, face Face) *Stitch {
	number := smallNumber(n)
	symbol := strings.Repeat("/", n-1)
	howTo := "Put the right needle knitwise through the next " + number + " stitches at once, and knit them as one. It leans to the right."
	if face == Purl {
		symbol += "–"
		howTo = "Put the right needle purlwise through the next " + number + " stitches at once, and purl them as one. On the knit side it leans to the right."
	}
	return &Stitch{
		Abbr:      fmt.Sprintf("%s%dtog", letter, n),
		Spellings: []string{fmt.Sprintf("%s %d together", verb, n), fmt.Sprintf("%s %d tog", verb, n), fmt.Sprintf("%s%d together", letter, n), fmt.Sprintf("%s %s together", verb, number)},
		Uses:      n, Makes: []Face{face},
		Words:  verb + " " + number + " together",
		HowTo:  howTo,
		Symbol: symbol, Source: councilList,
	}
}

// Key is how a name is looked up: without spaces or full stops, in lower case.
func Key(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '.' {
			return -1
		}
		return unicode.ToLower(r)
	}, name)
}

// Find gives the stitch of a name in any of its spellings, or nil. A leading
// count such as "k4" is not part of a name.
func Find(name string) *Stitch { return stitchIndex[Key(name)] }

// FindTerm gives the word of a name in any of its spellings.
func FindTerm(name string) (Term, bool) {
	t, ok := termIndex[Key(name)]
	return t, ok
}

// All gives every stitch of the table, the generated decreases included, in
// the order of the table.
func All() []*Stitch { return append([]*Stitch(nil), all...) }

// Terms gives the words that are not stitches.
func Terms() []Term { return append([]Term(nil), terms...) }

// Names gives every abbreviation that can stand in a row, for suggestions.
func Names() []string {
	var names []string
	for _, s := range all {
		names = append(names, s.Abbr)
	}
	return append(names, "pm", "sm", "rm", "turn", "w&t", "RT", "LT")
}

var small = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
	"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"}

// smallNumber words the widths that stand inside a stitch's name. Counts are
// worded by the reader.
func smallNumber(n int) string {
	if n >= 0 && n < len(small) {
		return small[n]
	}
	return strconv.Itoa(n)
}

// FindKey is Find for a name that is in the form of Key already. It makes no
// copy.
func FindKey(key []byte) *Stitch { return stitchIndex[string(key)] }
