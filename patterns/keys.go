package patterns

import (
	"slices"
	"strings"

	"clew/patterns/problem"
)

// keys are the words that begin a line, as they are written.
var keys = []string{"Pattern", "By", "Worked", "Sizes", "Cast on", "Gauge", "Needles", "Yarn", "Abbreviation", "Note",
	"Panel", "Section", "Across", "Row", "Round", "Tip"}

// rowWords are the words that begin a row line.
var rowWords = []string{"Row", "Rows", "Round", "Rounds", "Rnd", "Rnds"}

// otherWords are words that designers use for what a key here says.
var otherWords = map[string]string{"title": "Pattern", "name": "Pattern", "author": "By", "designer": "By", "tension": "Gauge",
	"materials": "Yarn", "abbreviations": "Abbreviation", "notes": "Note", "chart": "Panel", "part": "Section", "co": "Cast on"}

// keyOf is a key in the form in which keys are compared.
func keyOf(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "-", " ")), " "))
}

func known(name string) bool {
	return slices.ContainsFunc(keys, func(k string) bool { return strings.EqualFold(k, keyOf(name)) })
}

// nearestKey gives the one of some keys that was likely meant; empty for none.
func nearestKey(name string, among []string) string {
	lower := make([]string, len(among))
	for i, k := range among {
		lower[i] = strings.ToLower(k)
	}
	if near := problem.Nearest(keyOf(name), lower); near != "" {
		return among[slices.Index(lower, near)]
	}
	return ""
}

// unknownKey tells of a key that nothing knows, and reads its line as the
// nearest one that is known, so that what hangs on it is not told as well.
func (r *reading) unknownKey(l textLine) {
	fail := r.fail(l.keyAt, "unknown-key", "%s is no key that Clew knows", problem.Quote(l.name))
	meant := otherWords[l.key]
	if meant == "" && l.key == "misspelt row" {
		meant = nearestKey(l.name, rowWords)
	} else if meant == "" {
		meant = nearestKey(l.name, keys)
	}
	switch {
	case meant == "":
		fail.Suggest("the keys are: %s", strings.Join(keys, ", "))
		r.unsure() // it may have been a row
		return
	case slices.Contains(rowWords, meant):
		l.key, l.broken = "row", true
	default:
		l.key = keyOf(meant)
	}
	fail.Suggest("did you mean %s?", meant)
	r.line(l)
}

// unsure notes that a line of the open panel or section could not be read.
func (r *reading) unsure() {
	if r.panel != nil {
		r.panel.unsure = true
	}
	if r.section != nil {
		r.section.unsure = true
	}
}
