package discord

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/bot/discord/rest"
)

// marksMost is how many combining marks one letter keeps. No living script
// needs more; hundreds of them cover the lines above and below.
const marksMost = 6

// The marks between which a name stands that may be read in the other direction
// than the words around it (Unicode, UAX 9: first strong isolate, and its end).
const (
	isolate    = '\u2068'
	isolateEnd = '\u2069'
)

// clean gives a text as it can be shown on one line: space of any kind and
// length is one space, and what can't be seen, or would turn the line round or
// run over its neighbours, is left out. Bytes that are no UTF-8 come as
// replacement marks.
func clean(text string) string { return cleaned(text, false) }

// cleaned is clean; with isolates, the marks around what is read by itself stay,
// in pairs.
func cleaned(text string, isolates bool) string {
	if isPlain(text) {
		return text
	}
	open := 0
	var b strings.Builder
	b.Grow(len(text))
	var before rune
	marks, space := 0, false
	for i, r := range text {
		switch {
		case isBlank(r):
			space, marks, before = true, 0, ' '
			continue
		case isolates && r == isolate:
			open, marks = open+1, 0
		case isolates && r == isolateEnd && open > 0:
			open, marks = open-1, 0
		case unicode.In(r, unicode.Mn, unicode.Me):
			if marks++; marks > marksMost || isUnseen(r) {
				continue
			}
		case isJoiner(r):
			after, _ := utf8.DecodeRuneInString(text[i+utf8.RuneLen(r):])
			if !unicode.In(before, joining...) || !unicode.In(after, joining...) {
				continue
			}
		case isUnseen(r):
			continue
		default:
			marks = 0
		}
		if space && b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		before, space = r, false
	}
	for range open {
		b.WriteRune(isolateEnd)
	}
	return b.String()
}

// isPlain says that clean has nothing to do, which is nearly always so: the
// text is of visible ASCII characters with single spaces between.
func isPlain(text string) bool {
	before := byte(' ')
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c > '~' || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return before != ' ' || text == ""
}

// isBlank says that a character shows as space: those that Unicode calls so,
// control characters, and the letters and signs that are drawn as nothing.
func isBlank(r rune) bool {
	switch r {
	case '\u2800', '\u3164', '\uffa0', '\u115f', '\u1160': // a Braille cell without dots, fillers of Hangul
		return true
	}
	return unicode.IsSpace(r) || unicode.IsControl(r) || unicode.In(r, unicode.Z)
}

// isUnseen says that a character is not drawn by itself: marks of width
// nothing, those that order a line from right to left, and the selectors of a
// picture for the character before.
func isUnseen(r rune) bool {
	if unicode.In(r, unicode.Cf) {
		return !unicode.In(r, unicode.Prepended_Concatenation_Mark)
	}
	return unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector, unicode.Noncharacter_Code_Point)
}

func isJoiner(r rune) bool { return r == '\u200c' || r == '\u200d' }

// joining are the scripts in which a joiner of no width, or its opposite, is
// part of the spelling.
var joining = []*unicode.RangeTable{
	unicode.Arabic, unicode.Syriac, unicode.Mongolian, unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi, unicode.Gujarati, unicode.Oriya,
	unicode.Tamil, unicode.Telugu, unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Khmer, unicode.Myanmar,
}

// escape gives the text of members and patterns so that the platform shows it
// as it is: nothing of it becomes a mention, a link, a list, a heading or any
// other markup, wherever in a line it is put. It is cleaned first. What Clew
// says comes out unchanged, but for a hyphen in front of a space.
//
// The platform has no official rule for it; a backslash before a mark of ASCII
// shows the mark.
func escape(text string) string { return escapeClean(clean(text)) }

// escapeLines escapes a text of several lines, each by itself. Names that are read
// by themselves stay so.
func escapeLines(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = escapeClean(cleaned(line, true))
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}

// escapeClean escapes a clean text.
func escapeClean(text string) string {
	if !strings.ContainsFunc(text, isMark) {
		return text
	}
	var b strings.Builder
	b.Grow(len(text) + 8)
	for i := range len(text) {
		if isMark(rune(text[i])) && isMarkup(text, i) {
			b.WriteByte('\\')
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

// marks are the characters that may be markup.
const marks = "\\`*_~|<>#@(:/-+."

func isMark(r rune) bool { return r < utf8.RuneSelf && strings.IndexByte(marks, byte(r)) >= 0 }

// isMarkup says that the mark at i may be markup where it stands. Each is
// judged by what stands beside it alone, so that a text can be cut at any
// space.
func isMarkup(text string, i int) bool {
	ends := i+1 == len(text) || text[i+1] == ' '
	afterDigit := i > 0 && isDigit(text[i-1])
	switch text[i] {
	case '(': // a link with a text of its own, which a backslash in front of a bracket would not undo
		return i > 0 && text[i-1] == ']'
	case ':': // an address, the name of an emoji
		return !ends
	case '/': // an address; a cross such as 2/2 RC is none
		return ends || !afterDigit || !isDigit(text[i+1])
	case '-', '+': // a list
		return ends
	case '.': // a list with numbers
		return ends && afterDigit
	}
	return true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// fixed gives a text of several lines as it can stand between the fences of a
// code block. Nothing is escaped there; each character that could close the
// block, or can't be shown, gives way to one other, so that columns stay.
func fixed(text string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r == '`':
			return '\''
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || isUnseen(r):
			return utf8.RuneError
		}
		return r
	}, text)
}

// unitsOf is how much of the platform's limits a character takes up, in units
// of UTF-16, as rest.Characters counts them.
func unitsOf(r rune) int {
	if r > 0xffff {
		return 2
	}
	return 1
}

// within gives as much of a text, from its start, as has at most limit units.
func within(text string, limit int) string {
	n := 0
	for i, r := range text {
		if n += unitsOf(r); n > limit {
			return text[:i]
		}
	}
	return text
}

// short gives a clean text in at most limit units: a longer one is cut after a
// word, or in one, and ends in three stops.
func short(text string, limit int) string {
	if rest.Characters(text) <= limit {
		return text
	}
	const more = "..."
	cut := within(text, limit-len(more))
	if i := strings.LastIndexByte(cut, ' '); i > len(cut)/2 {
		cut = cut[:i]
	}
	return cut + more
}

// split cuts an escaped text with single spaces into pieces of at most limit
// units of UTF-16; the space at a cut falls away. It cuts in front of one of
// the steps, which are parts of the text in their order; where no step ends in
// time, after a sentence; else between words. A word that is longer than a
// piece is cut between characters, never inside an escape. A limit below two
// counts as two.
func split(text string, steps []string, limit int) []string {
	limit = max(limit, 2)
	starts := startsOf(text, steps)
	var pieces []string
	from := 0
	for {
		piece := within(text[from:], limit)
		to := from + len(piece)
		if to == len(text) {
			return append(pieces, piece)
		}
		to = cutAt(text, from, to, starts)
		pieces = append(pieces, text[from:to])
		from = to
		if text[from] == ' ' {
			from++
		}
	}
}

// startsOf gives where the steps begin in a text.
func startsOf(text string, steps []string) []int {
	var starts []int
	from := 0
	for _, step := range steps {
		i := strings.Index(text[from:], step)
		if i < 0 {
			continue
		}
		starts = append(starts, from+i)
		from += i + len(step)
	}
	return starts
}

// cutAt gives where to cut a text between from and furthest: at a space, if
// there is one.
func cutAt(text string, from, furthest int, starts []int) int {
	sentence, space := -1, -1
	for to := furthest; to > from; to-- {
		if text[to] != ' ' {
			continue
		}
		if _, begins := slices.BinarySearch(starts, to+1); begins {
			return to
		}
		if sentence < 0 && strings.IndexByte(".?!", text[to-1]) >= 0 {
			sentence = to
		}
		if space < 0 {
			space = to
		}
	}
	switch {
	case sentence >= 0:
		return sentence
	case space >= 0:
		return space
	}
	return inWord(text, from, furthest)
}

// inWord gives where to cut a word that is longer than a piece: between a
// character with its marks and the next, or, where marks fill the piece,
// between those.
func inWord(text string, from, furthest int) int {
	to := furthest
	for to > from {
		r, _ := utf8.DecodeRuneInString(text[to:])
		if !unicode.In(r, unicode.M) && !isJoiner(r) && !insideEscape(text[from:to]) {
			return to
		}
		_, size := utf8.DecodeLastRuneInString(text[from:to])
		to -= size
	}
	if insideEscape(text[from:furthest]) {
		return furthest - 1
	}
	return furthest
}

// insideEscape says that the piece would end between a backslash and its mark.
func insideEscape(piece string) bool {
	return (len(piece)-len(strings.TrimRight(piece, `\`)))%2 == 1
}

// wholeLines gives as many lines of a text, from its start, as have at most limit
// units; of a first line that is longer, what fits.
func wholeLines(text string, limit int) string {
	if rest.Characters(text) <= limit {
		return text
	}
	cut := within(text, limit+1) // the line feed behind the last line may be one too many
	if i := strings.LastIndexByte(cut, '\n'); i > 0 {
		return cut[:i]
	}
	return split(text, nil, limit)[0]
}
