package discord

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// shown is what a person sees of a message: its characters, and what the
// platform made of the rest.
type shown struct {
	text   string   // as read, line by line, fences and the signs of small lines left out
	markup []string // what was found, in order: "mention", "link", "list" ...
}

// readMarkdown reads a message as the platform does. It shares nothing with
// what escapes. Where one mark alone would not do yet (a star without its
// partner) it counts as markup all the same, since the partner may stand in
// the text beside.
//
// Sources: Discord's developer documentation, "Message Formatting", for what
// stands between < and >; the marks of emphasis, spoilers, code, headings,
// lists, quotes, small lines and masked links are those of Discord's help
// article "Markdown Text 101", from memory, as is that a backslash shows the
// mark behind it.
func readMarkdown(message string) shown {
	var s shown
	fenced := false
	var lines []string
	for line := range strings.SplitSeq(message, "\n") {
		if line == "```" {
			if fenced = !fenced; fenced {
				s.markup = append(s.markup, "fence")
			}
			continue
		}
		if fenced {
			if strings.Contains(line, "```") {
				s.markup = append(s.markup, "fence inside a fence")
			}
			lines = append(lines, line)
			continue
		}
		rest := line
		for _, b := range blockMarks {
			if found := b.pattern.FindString(line); found != "" {
				s.markup = append(s.markup, b.name)
				rest = line[len(found):]
				break
			}
		}
		lines = append(lines, s.inline(rest))
	}
	s.text = strings.Join(lines, "\n")
	return s
}

type mark struct {
	name    string
	pattern *regexp.Regexp
}

var blockMarks = []mark{
	{"small", regexp.MustCompile(`^ *-# +`)},
	{"heading", regexp.MustCompile(`^ *#{1,3} +`)},
	{"list", regexp.MustCompile(`^ *(?:[-*+]|\d+\.) +`)},
	{"quote", regexp.MustCompile(`^ *(?:>>>|>) +`)},
}

var inlineMarks = []mark{
	{"mention", regexp.MustCompile(`^<(?:@[!&]?|#)\d+>`)},
	{"mention", regexp.MustCompile(`^@(?:everyone|here)`)},
	{"command", regexp.MustCompile(`^</[^>]*:\d+>`)},
	{"emoji", regexp.MustCompile(`^<a?:\w+:\d+>`)},
	{"emoji", regexp.MustCompile(`^:[\w+-]+:`)},
	{"time", regexp.MustCompile(`^<t:-?\d+(?::[a-zA-Z])?>`)},
	{"channel", regexp.MustCompile(`^<id:\w+>`)},
	{"link", regexp.MustCompile(`^<[^>\s]+[@:][^>\s]+>`)},
	{"link", regexp.MustCompile(`^\[[^\]]*\]\([^)]*\)`)},
	{"link", regexp.MustCompile(`^[a-zA-Z][a-zA-Z0-9+.]*://?\S`)},
	{"invite", regexp.MustCompile(`^discord(?:app)?\.(?:gg|com/invite)/\S`)},
	{"emphasis", regexp.MustCompile(`^(?:\*+|_+)`)},
	{"struck", regexp.MustCompile(`^~~`)},
	{"spoiler", regexp.MustCompile(`^\|\|`)},
	{"code", regexp.MustCompile("^`+")},
}

var escaped = regexp.MustCompile(`^\\[^0-9A-Za-z\s]`)

// linkish is what a line with an address has somewhere.
var linkish = regexp.MustCompile(`\w:|discord`)

func (s *shown) inline(text string) string {
	var b strings.Builder
	links := linkish.MatchString(text)
next:
	for i := 0; i < len(text); {
		rest := text[i:]
		if c := text[i] | 0x20; c >= 'a' && c <= 'z' && !links || c == ' ' {
			b.WriteByte(text[i])
			i++
			continue
		}
		if escaped.MatchString(rest) {
			i++
			b.WriteByte(text[i])
			i++
			continue
		}
		for _, m := range inlineMarks {
			if found := m.pattern.FindString(rest); found != "" {
				s.markup = append(s.markup, m.name)
				i += len(found)
				continue next
			}
		}
		b.WriteByte(text[i])
		i++
	}
	return b.String()
}

// TestReadMarkdown says that the reader of the tests sees what it is there for.
func TestReadMarkdown(t *testing.T) {
	for _, c := range []struct {
		raw, text string
		markup    []string
	}{
		{"Knit two, purl two.", "Knit two, purl two.", nil},
		{"Row twelve: two-by-two rib; don't cut it!", "Row twelve: two-by-two rib; don't cut it!", nil},
		{`\*k2\*`, "*k2*", nil},
		{`\\\*`, `\*`, nil},
		{`¯\_(ツ)_/¯`, `¯_(ツ)/¯`, []string{"emphasis"}},
		{"*k2*", "k2", []string{"emphasis", "emphasis"}},
		{"a __b__", "a b", []string{"emphasis", "emphasis"}},
		{"~~a~~", "a", []string{"struck", "struck"}},
		{"||a||", "a", []string{"spoiler", "spoiler"}},
		{"`a`", "a", []string{"code", "code"}},
		{"- a", "a", []string{"list"}},
		{"  12. a", "a", []string{"list"}},
		{`12\. a`, "12. a", nil},
		{"1.5 a", "1.5 a", nil},
		{"## a", "a", []string{"heading"}},
		{"-# a", "a", []string{"small"}},
		{"> a", "a", []string{"quote"}},
		{"a > b", "a > b", nil},
		{"<@123> <@!1> <@&1> <#1>", "   ", []string{"mention", "mention", "mention", "mention"}},
		{"@everyone @here", " ", []string{"mention", "mention"}},
		{"</next:12>", "", []string{"command"}},
		{"<:yarn:1> :yarn: <a:y:1>", "  ", []string{"emoji", "emoji", "emoji"}},
		{"<t:1700000000:R> <id:home>", " ", []string{"time", "channel"}},
		{"[a](https://example.org)", "", []string{"link"}},
		{"see https://example.org/x", "see xample.org/x", []string{"link"}},
		{`see https\://example.org`, "see https://example.org", nil},
		{"discord.gg/abc", "bc", []string{"invite"}},
		{"a\n```\n*k2*\n```", "a\n*k2*", []string{"fence"}},
		{"```\na ``` b\n```", "a ``` b", []string{"fence", "fence inside a fence"}},
	} {
		found := readMarkdown(c.raw)
		if found.text != c.text || !slices.Equal(found.markup, c.markup) {
			t.Errorf("%q: read %q with %q, expected %q with %q", c.raw, found.text, found.markup, c.text, c.markup)
		}
	}
}
