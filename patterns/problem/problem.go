// Package problem is the one typed error of the pattern packages: a place in
// the text, what stands there, what was expected, and what to write instead.
// The one-line form, the caret form and the JSON form are separate renderings
// of the same value.
package problem

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// A Span is a stretch of the source, in bytes from its start; End is the byte
// after the last. Line and column are computed only when a problem is shown.
type Span struct{ Start, End int }

// Pos returns the span itself, so that a type that embeds it can be asked
// where it stands.
func (s Span) Pos() Span { return s }

// To returns the span from the start of s to the end of t.
func (s Span) To(t Span) Span { return Span{s.Start, t.End} }

// Severity says whether a problem refuses the pattern.
type Severity uint8

// An Error refuses the pattern; a Warning is told, and the pattern is taken.
const (
	Error Severity = iota
	Warning
)

// String gives "error" or "warning", the words of the JSON form.
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// A Problem is one thing to mend in a pattern.
type Problem struct {
	Span
	Severity   Severity
	Code       string   // a name for machines: lower case, words joined by '-'
	Message    string   // what was found and what was expected, one sentence without a full stop
	Suggestion string   // what to write instead; empty where nothing is likely
	Meant      string   // what was likely meant to stand at the span; empty where nothing is likely
	Sizes      []string // the sizes it concerns; empty means all
}

// Text is the message with the sizes that it concerns.
func (p Problem) Text() string {
	if len(p.Sizes) == 0 {
		return p.Message
	}
	return p.Message + " (in size " + strings.Join(p.Sizes, ", ") + ")"
}

// Errorf makes an Error at a span.
func Errorf(at Span, code, format string, args ...any) *Problem {
	return &Problem{Span: at, Code: code, Message: fmt.Sprintf(format, args...)}
}

// Suggest adds a suggestion, and returns the same problem.
func (p *Problem) Suggest(format string, args ...any) *Problem {
	p.Suggestion = fmt.Sprintf(format, args...)
	return p
}

// A Position is a line and a column for people: both from 1, the column in
// runes. A byte-order mark takes no column.
type Position struct{ Line, Col int }

var byteOrderMark = []byte("\uFEFF")

// Locate gives the position of a byte offset in src. An offset past the end is
// taken as the end.
func Locate(src []byte, offset int) Position {
	src = PlainLines(src)
	offset = min(max(offset, 0), len(src))
	line := 1 + bytes.Count(src[:offset], []byte{'\n'})
	text := src[lineStart(src, offset):offset]
	if line == 1 {
		text = bytes.TrimPrefix(text, byteOrderMark)
	}
	return Position{line, 1 + utf8.RuneCount(text)}
}

func lineStart(src []byte, offset int) int {
	return 1 + bytes.LastIndexByte(src[:offset], '\n')
}

// Line gives the one-line form, "file:line:col: error: text".
func Line(file string, src []byte, p Problem) string {
	at := Locate(src, p.Start)
	return fmt.Sprintf("%s:%d:%d: %s: %s", file, at.Line, at.Col, p.Severity, p.Text())
}

// Caret gives the one-line form, then the source line with a caret under each
// column of the span (up to the end of its first line), then the suggestion.
// Tabs are copied, so that the caret stands right whatever their width. Of a
// line that no terminal holds, the part around the span is shown.
func Caret(file string, src []byte, p Problem) string {
	src = PlainLines(src)
	start := min(max(p.Start, 0), len(src))
	from := lineStart(src, start)
	if from == 0 && bytes.HasPrefix(src, byteOrderMark) {
		from, start = len(byteOrderMark), max(start, len(byteOrderMark))
	}
	end := len(src)
	if i := bytes.IndexByte(src[from:], '\n'); i >= 0 {
		end = from + i
	}
	end = max(start, from+len(bytes.TrimRight(src[from:end], "\r")))
	stop := min(max(p.End, start), end)
	before, after := "", ""
	if utf8.RuneCount(src[from:end]) > longestLine {
		if cut := back(src, start, longestLine/4); cut > from {
			from, before = cut, "..."
		}
		if cut := forward(src[:end], start, longestLine/2); cut < end {
			end, after = cut, "..."
		}
		stop = min(stop, end)
	}
	var b strings.Builder
	b.WriteString(Line(file, src, p))
	b.WriteString("\n    " + before + shown(src[from:end]) + after + "\n    ")
	b.WriteString(strings.Repeat(" ", len(before)))
	for _, r := range string(src[from:start]) {
		if r == '\t' {
			b.WriteByte('\t')
		} else {
			b.WriteString(strings.Repeat(" ", cells(safe(r))))
		}
	}
	width := 0
	for _, r := range string(src[start:stop]) {
		width += cells(safe(r))
	}
	b.WriteString(strings.Repeat("^", max(1, width)))
	if p.Suggestion != "" {
		b.WriteString("\n    " + p.Suggestion)
	}
	return b.String()
}

// longestLine is the longest source line, in characters, that is shown whole.
const longestLine = 160

// back and forward give the offset so many characters before and after another.
func back(src []byte, offset, n int) int {
	for ; n > 0 && offset > 0; n-- {
		_, size := utf8.DecodeLastRune(src[:offset])
		offset -= size
	}
	return offset
}

func forward(src []byte, offset, n int) int {
	for ; n > 0 && offset < len(src); n-- {
		_, size := utf8.DecodeRune(src[offset:])
		offset += size
	}
	return offset
}

// Quote gives a piece of the source as it is shown inside a message, in
// quotation marks.
func Quote(text string) string { return `"` + Show(text) + `"` }

// Show gives a piece of the source as it can stand in a message: on one line,
// safe for a terminal, and cut off after 40 characters.
func Show(text string) string {
	const most = 40
	n := 0
	for i := range text {
		if n++; n > most {
			text = text[:i] + "..."
			break
		}
	}
	oneLine := strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ").Replace(text)
	return shown([]byte(oneLine))
}

// shown is text from the source made safe for a terminal.
func shown(text []byte) string {
	var b strings.Builder
	for _, r := range string(text) { // a byte that is no UTF-8 comes as a replacement mark
		b.WriteRune(safe(r))
	}
	return b.String()
}

// safe turns control characters, which could move a terminal's cursor, change
// its colors or turn the line round, into a replacement mark.
func safe(r rune) rune {
	switch {
	case r == '\t':
		return r
	case r < ' ', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return utf8.RuneError
	}
	return r
}
