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
// Tabs are copied, so that the caret stands right whatever their width.
func Caret(file string, src []byte, p Problem) string {
	start := min(max(p.Start, 0), len(src))
	from := lineStart(src, start)
	end := len(src)
	if i := bytes.IndexByte(src[from:], '\n'); i >= 0 {
		end = from + i
	}
	line := bytes.TrimRight(src[from:end], "\r")
	lead := src[from:start]
	if from == 0 {
		line, lead = bytes.TrimPrefix(line, byteOrderMark), bytes.TrimPrefix(lead, byteOrderMark)
	}
	var b strings.Builder
	b.WriteString(Line(file, src, p))
	fmt.Fprintf(&b, "\n    %s\n    ", shown(line))
	for _, r := range string(lead) {
		if r == '\t' {
			b.WriteRune('\t')
		} else {
			b.WriteRune(' ')
		}
	}
	stop := min(max(p.End, start), from+len(line))
	width := 1
	if stop > start {
		width = max(1, utf8.RuneCount(src[start:stop]))
	}
	b.WriteString(strings.Repeat("^", width))
	if p.Suggestion != "" {
		b.WriteString("\n    " + p.Suggestion)
	}
	return b.String()
}

// shown is a source line made safe for a terminal: control characters, which
// could move its cursor or change its colors, become a replacement mark.
func shown(line []byte) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && (r < ' ' || r == 0x7f || (r >= 0x80 && r < 0xa0)) {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(string(line), string(utf8.RuneError)))
}
