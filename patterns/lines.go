package patterns

import (
	"regexp"
	"strings"

	"clew/patterns/problem"
)

// A text line of the file: a key, its value, and what goes on with it. Values
// are spans of the source, so that every position is the writer's own.
type textLine struct {
	key     string // lower case; "row" for every kind of row line
	name    string // the key as written
	keyAt   problem.Span
	valueAt problem.Span
	broken  bool // a row line whose head is no row's
}

var (
	keyed    = regexp.MustCompile(`^\s*([\pL][\pL' -]{0,40}?)\s*(\d[^:]{0,60}?)?:`)
	rowHead  = regexp.MustCompile(`(?i)^\s*((?:(?:rows?|rounds?|rnds?)(?:\b|\d)[^:]*?|(?:all|every)\s[^:,.;]*?(?:rows?|rounds?|rnds?)))\s*:`)
	nextRow  = regexp.MustCompile(`(?i)\.\s+((?:(?:rows?|rounds?|rnds?)\s*\d[^:.;]*|(?:all|every)\s[^:,.;]*(?:rows?|rounds?|rnds?))\s*:)`)
	notKeys  = regexp.MustCompile(`(?i)^\s*(with|using|change to|switch to|join)\b`)
	looseRow = regexp.MustCompile(`^((?:Row|ROW|Round|ROUND|Rnd|RND)[sS]?\s*\d+(?:\s*[-–,&]\s*\d+)*(?:\s*\((?i:rs|ws)\))?)[\s.–-]+\S`)
	looseKey = regexp.MustCompile(`^(Panel|Section|Across)\s+\S`)
)

// splitting is a source being cut into lines with keys.
type splitting struct {
	src      string
	lines    []textLine
	problems []problem.Problem
}

// split cuts the source into lines with keys. A line that is indented, or that
// has no key, goes on with the one before it.
func split(src string) ([]textLine, []problem.Problem) {
	s := splitting{src: src}
	start := 0
	if strings.HasPrefix(src, byteOrderMark) {
		start = len(byteOrderMark)
	}
	for start < len(src) {
		end := len(src)
		if i := strings.IndexByte(src[start:], '\n'); i >= 0 {
			end = start + i + 1
		}
		s.line(start, end)
		start = end
	}
	return s.lines, s.problems
}

const byteOrderMark = "\ufeff"

// plainSpaces makes the spaces that word processors put in plain, byte for
// byte, so that offsets stay.
var plainSpaces = strings.NewReplacer("\u00a0", "  ", "\u2007", "   ", "\u202f", "   ", "\ufeff", "   ", "\u200b", "   ")

func (s *splitting) line(start, end int) {
	text := plainSpaces.Replace(withoutComment(s.src[start:end]))
	if strings.TrimSpace(text) == "" {
		return
	}
	l := physical{text, start}
	indented := text[0] == ' ' || text[0] == '\t'
	if m := rowHead.FindStringSubmatchIndex(text); m != nil {
		s.rows(l, 0)
		return
	}
	m := keyed.FindStringSubmatchIndex(text)
	switch {
	case m == nil, notKeys.MatchString(text):
	case m[4] >= 0 && (indented || nearestKey(text[m[2]:m[3]], rowWords) == ""):
	case m[4] >= 0: // "Rwo 3:"
		s.lines = append(s.lines, textLine{key: "misspelt row", name: text[m[2]:m[3]], keyAt: l.at(m[2], m[3]), valueAt: l.value(m[1])})
		return
	case !indented || known(text[m[2]:m[3]]):
		name := text[m[2]:m[3]]
		s.lines = append(s.lines, textLine{key: keyOf(name), name: name, keyAt: l.at(m[2], m[3]), valueAt: l.value(m[1])})
		return
	}
	if len(s.lines) == 0 {
		s.problems = append(s.problems, *problem.Errorf(l.value(0), "no-key", "this line has no key, and no row before it to go on with").
			Suggest("begin the file with a line such as: Pattern: the title"))
		return
	}
	switch {
	case s.loose(l):
	case !indented && s.headed():
		s.problems = append(s.problems, *problem.Errorf(l.value(0), "no-key", "this line has no key, and would go on with the heading above it").
			Suggest("write it as a Tip below a row or as a Note in the header, make it a comment with //, or indent it if it is part of the heading"))
	default:
		s.goOn(l)
	}
}

// loose takes a line that begins like one with a key and lacks the colon.
func (s *splitting) loose(l physical) bool {
	switch s.lines[len(s.lines)-1].key {
	case "note", "tip", "by", "yarn", "needles": // prose may go on with such words
		return false
	}
	key := "row"
	m := looseRow.FindStringSubmatchIndex(l.text)
	if m == nil {
		if m = looseKey.FindStringSubmatchIndex(l.text); m == nil {
			return false
		}
		key = keyOf(l.text[m[2]:m[3]])
	}
	name := l.text[m[2]:m[3]]
	s.problems = append(s.problems, *problem.Errorf(l.at(m[2], m[3]), "colon-missing", "a colon was expected after %s", name).Suggest("write: %s: ...", name))
	s.lines = append(s.lines, textLine{key: key, name: name, keyAt: l.at(m[2], m[3]), valueAt: l.value(m[1] - 1)})
	return true
}

// headed says that the line above is a heading that has come to its end.
func (s *splitting) headed() bool {
	last := s.lines[len(s.lines)-1]
	switch last.key {
	case "panel", "section", "across":
		value := last.value(s.src)
		return value == "" || !strings.ContainsAny(value[len(value)-1:], ",;[(")
	}
	return false
}

// goOn adds a line to the one before it.
func (s *splitting) goOn(l physical) {
	last := &s.lines[len(s.lines)-1]
	if cut := nextRow.FindStringSubmatchIndex(l.text); cut != nil && last.key == "row" {
		last.valueAt.End = l.start + cut[2]
		s.rows(l, cut[2])
		return
	}
	last.valueAt.End = l.value(0).End
}

// rows adds the row line that begins at a place of a line, and any that follow
// after its full stop.
func (s *splitting) rows(l physical, from int) {
	for {
		head := rowHead.FindStringSubmatchIndex(l.text[from:])
		value := from + head[1]
		row := textLine{key: "row", name: l.text[from+head[2] : from+head[3]], keyAt: l.at(from+head[2], from+head[3]), valueAt: l.value(value)}
		cut := nextRow.FindStringSubmatchIndex(l.text[value:])
		if cut != nil {
			from = value + cut[2]
			row.valueAt = physical{l.text[:from], l.start}.value(value)
		}
		s.lines = append(s.lines, row)
		if cut == nil {
			return
		}
	}
}

// A physical line of the file, without its comment, and where it starts.
type physical struct {
	text  string
	start int
}

func (l physical) at(from, to int) problem.Span {
	return problem.Span{Start: l.start + from, End: l.start + to}
}

// value is the stretch of a line from a place on, without the space around.
func (l physical) value(from int) problem.Span {
	value := l.text[from:]
	end := from + len(strings.TrimRight(value, " \t\r\n"))
	start := from + len(value) - len(strings.TrimLeft(value, " \t\r\n"))
	return l.at(min(start, end), end)
}

// withoutComment cuts a line before its comment.
func withoutComment(line string) string {
	if i := strings.Index(line, "//"); i >= 0 {
		return line[:i]
	}
	return line
}

// value gives the text of a line's value: its stretches joined by one space,
// comments left out.
func (l textLine) value(src string) string {
	var parts []string
	for line := range strings.SplitSeq(src[l.valueAt.Start:l.valueAt.End], "\n") {
		if text := strings.TrimSpace(withoutComment(line)); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " ")
}
