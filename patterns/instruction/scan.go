package instruction

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns/problem"
)

// A kind of token.
type kind uint8

const (
	end    kind = iota
	number      // digits
	word        // letters, with & and ' inside
	mark        // one mark of punctuation
	bad         // a character that has no place in an instruction
)

// A token is a piece of the source. Text is in lower case, with typographic
// forms plain; Glued says that no space stands before it.
type token struct {
	problem.Span
	kind  kind
	text  string
	value int // of a number; maxNumber+1 when larger
	glued bool
}

// maxNumber is the largest number that means anything in a pattern; larger
// ones are read as one past it, which every limit refuses.
const maxNumber = 99_999

// plain gives the plain form of typographic characters, which hosts paste
// from word processors.
func plain(r rune) rune {
	if r < utf8.RuneSelf {
		switch {
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r >= '\t' && r <= '\r':
			return ' '
		case r == '`':
			return '\''
		}
		return r
	}
	switch r {
	case '‐', '‑', '‒', '–', '—', '―', '−':
		return '-'
	case '“', '”', '„', '″':
		return '"'
	case '‘', '’', '′':
		return '\''
	case '×', '✕', '✖':
		return 'x'
	case '∗', '＊', '✱':
		return '*'
	case '⁄', '∕':
		return '/'
	}
	if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) { // Cf: joiners, soft hyphens, marks of direction
		return ' '
	}
	return unicode.ToLower(r)
}

// scan cuts src[at.Start:at.End] into tokens. A comment runs from // to the
// end of its line. It never fails: what has no place becomes a bad token. The
// tokens are put into the given slice, from its start.
func scan(src string, at problem.Span, tokens []token) []token {
	tokens = tokens[:0]
	glued := false
	for i := at.Start; i < at.End; {
		if src[i] == '/' && i+1 < at.End && src[i+1] == '/' {
			for i < at.End && src[i] != '\n' {
				i++
			}
			glued = false
			continue
		}
		raw, size := rune(src[i]), 1
		if raw >= utf8.RuneSelf {
			raw, size = utf8.DecodeRuneInString(src[i:at.End])
		}
		r := plain(raw)
		if r == ' ' {
			i += size
			glued = false
			continue
		}
		t := token{Span: problem.Span{Start: i, End: i + size}, glued: glued}
		switch {
		case r >= '0' && r <= '9':
			t.scanNumber(src, at.End)
		case r == 'x' && isTimes(raw):
			t.kind, t.text = word, "x"
		case r >= 'a' && r <= 'z', r >= utf8.RuneSelf && unicode.IsLetter(r):
			t.scanWord(src, at.End)
		case r < utf8.RuneSelf && markTexts[r] != "":
			t.kind, t.text = mark, markTexts[r]
		default:
			t.kind, t.text = bad, string(r)
		}
		i, glued = t.End, true
		tokens = append(tokens, t)
		if t.kind == word && len(t.text) > len(throughBack) && strings.HasSuffix(t.text, throughBack) {
			tokens = splitLoop(tokens)
		}
	}
	return append(tokens, token{Span: problem.Span{Start: at.End, End: at.End}, kind: end})
}

// isTimes says that a character is a sign of multiplication, which is a word
// of its own however close it stands: k2tog×3.
func isTimes(r rune) bool { return r > unicode.MaxASCII && !unicode.IsLetter(r) && plain(r) == 'x' }

const marks = ",;.:()[]{}*/-=&'\"+"

// throughBack is glued to the stitch in ktbl and k2togtbl, and is a word of
// its own all the same.
const throughBack = "tbl"

func splitLoop(tokens []token) []token {
	t := &tokens[len(tokens)-1]
	loop := *t
	loop.Start, loop.text, loop.glued = t.End-len(throughBack), throughBack, true
	t.End, t.text = loop.Start, t.text[:len(t.text)-len(throughBack)]
	return append(tokens, loop)
}

// markTexts gives each mark as a string, without a copy.
var markTexts = func() (texts [utf8.RuneSelf]string) {
	for i, r := range marks {
		texts[r] = marks[i : i+1]
	}
	return texts
}()

func (t *token) scanNumber(src string, stop int) {
	t.kind, t.End = number, t.Start
	for t.End < stop && src[t.End] >= '0' && src[t.End] <= '9' {
		t.value = min(t.value*10+int(src[t.End]-'0'), maxNumber+1)
		t.End++
	}
	t.text = src[t.Start:t.End]
}

func (t *token) scanWord(src string, stop int) {
	t.kind, t.End = word, t.Start
	asWritten := true // most words are plain lower case already, and need no copy
	for t.End < stop {
		c := src[t.End]
		if c >= 'a' && c <= 'z' {
			t.End++
			continue
		}
		if c < utf8.RuneSelf && (c < 'A' || c > 'Z') && c != '&' {
			break // a digit, a space or a mark
		}
		r, size := utf8.DecodeRuneInString(src[t.End:stop])
		p := plain(r)
		if isTimes(r) || !unicode.IsLetter(p) && !(p == '&' && joins(src, t.End+size, stop)) && !unicode.Is(unicode.Mn, p) {
			break
		}
		asWritten = asWritten && p == r
		t.End += size
	}
	t.text = src[t.Start:t.End]
	if !asWritten {
		t.text = strings.Map(plain, t.text)
	}
}

// joins says that a letter follows at once, as in w&t: the & is part of the
// word.
func joins(src string, i, stop int) bool {
	if i >= stop {
		return false
	}
	r, _ := utf8.DecodeRuneInString(src[i:stop])
	return unicode.IsLetter(r)
}
