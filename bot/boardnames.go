package bot

import (
	"strings"
	"unicode"

	"github.com/clipperhouse/uax29/v2/graphemes"
	"golang.org/x/text/unicode/bidi"

	"clew/reader"
)

// somebody is who has no name that can be seen.
const somebody = "somebody"

// A naming says what a member is called, in at most so many characters; 0 is any
// number of them.
type naming func(name string, most int) string

// shownName is a member's name as it stands in a post: on one line, and so that it
// does not turn the words beside it round.
func shownName(name string, most int) string {
	name = visible(name)
	if most > 0 {
		name = cutName(name, most)
	}
	switch {
	case name == "":
		return capital(somebody)
	case turns(name):
		return isolate + name + endIsolate
	}
	return name
}

// saidName is a member's name for the ear, without the marks that some adorn theirs
// with. Nobody listens to more of it than saidNameMost.
func saidName(name string, most int) string {
	if most == 0 {
		most = saidNameMost
	}
	plain := strings.Map(func(r rune) rune {
		if strings.ContainsRune("*_~`|<>#@=+^\\/", r) {
			return ' '
		}
		return r
	}, visible(name))
	said := curt(reader.Name(within(plain)), most)
	if said == "" {
		said = somebody
	}
	return capital(said)
}

const saidNameMost = 40

// The marks of a part of a line that has its own direction, by the Unicode
// Bidirectional Algorithm (UAX 9).
const (
	isolate    = "\u2068"
	endIsolate = "\u2069"
)

// turns says that a text has letters that are written from right to left.
func turns(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		p, _ := bidi.LookupRune(r)
		return p.Class() == bidi.R || p.Class() == bidi.AL
	})
}

// visible takes from a name what can't be seen, so that nothing of it can order the
// lines around it; what shows as space is one space. It is empty where nothing is to
// be seen.
func visible(name string) string {
	seen, marks := false, 0
	name = strings.Map(func(r rune) rune {
		if !unicode.In(r, unicode.Mn, unicode.Me) {
			marks = 0
		} else if marks++; marks > marksMost {
			return -1
		}
		switch {
		case blank(r):
			return ' '
		case unicode.In(r, unicode.Cf) && r != joiner && r != nonJoiner:
			return -1
		}
		seen = seen || unicode.IsGraphic(r) && !unicode.In(r, unicode.M)
		return r
	}, strings.ToValidUTF8(name, ""))
	if !seen {
		return ""
	}
	return strings.Join(strings.Fields(name), " ")
}

// marksMost is how many combining marks one letter keeps: no living script needs
// more, and hundreds cover the lines above and below.
const marksMost = 6

// They join letters of some scripts, and the parts of emoji.
const nonJoiner, joiner = '\u200c', '\u200d'

// blank says that a character shows as space: those of Unicode, control characters,
// and the letters and signs that are drawn as nothing.
func blank(r rune) bool {
	switch r {
	case '\u2800', '\u3164', '\uffa0', '\u115f', '\u1160': // a Braille cell without dots, fillers of Hangul
		return true
	}
	return unicode.IsSpace(r) || unicode.IsControl(r) || unicode.In(r, unicode.Z)
}

// cutName gives as much of a name as has at most so many characters, as measure
// counts them, and ends it in three stops where that is not all. It is cut between
// what people see as characters.
func cutName(name string, most int) string {
	if measure(name) <= most {
		return name
	}
	const more = "..."
	left := most - len(more)
	end := 0
	for all := graphemes.FromString(name); all.Next(); end = all.End() {
		if left -= measure(all.Value()); left < 0 {
			break
		}
	}
	return strings.TrimSpace(name[:end]) + more
}

// measure counts what a text takes of a platform's room: units of UTF-16.
func measure(text string) int {
	n := 0
	for _, r := range text {
		n++
		if r > 0xffff {
			n++
		}
	}
	return n
}

// curt gives as many words of a text as have at most so many characters, at least
// one; more than that of a single word it cuts.
func curt(words string, most int) string {
	runes := []rune(words)
	if len(runes) <= most {
		return words
	}
	cut := string(runes[:most])
	if i := strings.LastIndexByte(cut, ' '); i > 0 && runes[most] != ' ' {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " -'")
}
