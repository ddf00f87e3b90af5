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
}

var (
	keyed   = regexp.MustCompile(`^\s*([\pL][\pL' -]{0,40}?)\s*:`)
	rowHead = regexp.MustCompile(`(?i)^\s*((?:(?:rows?|rounds?|rnds?)\b[^:]*?|(?:all|every)\s[^:,.;]*?(?:rows?|rounds?|rnds?)))\s*:`)
	nextRow = regexp.MustCompile(`(?i)\.\s+((?:rows?|rounds?|rnds?)\s+\d[^:.;]*:)`)
	notKeys = regexp.MustCompile(`(?i)^\s*(with|using|change to|switch to|join)\b`)
)

// split cuts the source into lines with keys. A line that is indented, or that
// has no key, goes on with the one before it.
func split(src string) (lines []textLine, problems []problem.Problem) {
	for start := 0; start < len(src); {
		end := len(src)
		if i := strings.IndexByte(src[start:], '\n'); i >= 0 {
			end = start + i + 1
		}
		lines, problems = addLine(src, start, end, lines, problems)
		start = end
	}
	return lines, problems
}

// plainSpaces makes the spaces that word processors put in plain, byte for
// byte, so that offsets stay.
var plainSpaces = strings.NewReplacer("\u00a0", "  ", "\u2007", "   ", "\u202f", "   ", "\ufeff", "   ", "\u200b", "   ")

func addLine(src string, start, end int, lines []textLine, problems []problem.Problem) ([]textLine, []problem.Problem) {
	text := plainSpaces.Replace(withoutComment(src[start:end]))
	if strings.TrimSpace(text) == "" {
		return lines, problems
	}
	at := func(from, to int) problem.Span { return problem.Span{Start: start + from, End: start + to} }
	if m := rowHead.FindStringSubmatchIndex(text); m != nil {
		return append(lines, rowsOf(text, m, at)...), problems
	}
	m := keyed.FindStringSubmatchIndex(text)
	indented := text[0] == ' ' || text[0] == '\t'
	if m != nil && !notKeys.MatchString(text) && (!indented || known(strings.ToLower(text[m[2]:m[3]]))) {
		name := text[m[2]:m[3]]
		return append(lines, textLine{key: strings.ToLower(strings.Join(strings.Fields(name), " ")), name: name,
			keyAt: at(m[2], m[3]), valueAt: at(valueOf(text, m[1]))}), problems
	}
	if len(lines) == 0 {
		from, to := valueOf(text, 0)
		p := problem.Errorf(at(from, to), "no-key", "this line has no key, and no row before it to go on with").
			Suggest("begin the file with a line such as: Pattern: the title")
		return lines, append(problems, *p)
	}
	last := &lines[len(lines)-1]
	from, _ := valueOf(text, 0)
	if cut := nextRow.FindStringSubmatchIndex(text); cut != nil && last.key == "row" {
		last.valueAt.End = start + cut[2]
		m := rowHead.FindStringSubmatchIndex(text[cut[2]:])
		return append(lines, rowsOf(text[cut[2]:], m, func(f, t int) problem.Span { return at(f+cut[2], t+cut[2]) })...), problems
	}
	_, to := valueOf(text, from)
	last.valueAt.End = start + to
	return lines, problems
}

// rowsOf gives the row line that begins a text, and any that follow on the
// same line after its full stop.
func rowsOf(text string, head []int, at func(from, to int) problem.Span) []textLine {
	l := textLine{key: "row", name: text[head[2]:head[3]], keyAt: at(head[2], head[3])}
	if cut := nextRow.FindStringSubmatchIndex(text[head[1]:]); cut != nil {
		from, to := valueOf(text[:head[1]+cut[2]], head[1])
		l.valueAt = at(from, to)
		offset := head[1] + cut[2]
		rest := text[offset:]
		return append([]textLine{l}, rowsOf(rest, rowHead.FindStringSubmatchIndex(rest), func(f, t int) problem.Span { return at(f+offset, t+offset) })...)
	}
	l.valueAt = at(valueOf(text, head[1]))
	return []textLine{l}
}

// valueOf is the stretch of a line from a place on, without the space around.
func valueOf(text string, from int) (int, int) {
	value := text[from:]
	start := from + len(value) - len(strings.TrimLeft(value, " \t\r\n"))
	end := from + len(strings.TrimRight(value, " \t\r\n"))
	return min(start, max(end, from)), max(end, from)
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
	for _, line := range strings.Split(src[l.valueAt.Start:l.valueAt.End], "\n") {
		if text := strings.TrimSpace(withoutComment(line)); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " ")
}
