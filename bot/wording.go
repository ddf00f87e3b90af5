package bot

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"clew/reader"
)

// stitches words a number of stitches.
func stitches(n int) string { return reader.Number(n) + " " + plural("stitch", n) }

func plural(noun string, n int) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "ch"):
		return noun + "es"
	}
	return noun + "s"
}

// listMost bounds the names in a list that is listened to.
const listMost = 8

// list words some names: "one, two and three". Of more than can be listened
// to it gives the first few.
func list(names []string, and string) string {
	if more := len(names) - listMost; more > 1 {
		names = append(names[:listMost:listMost], reader.Number(more)+" more")
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " " + and + " " + names[last]
}

// capital gives text with its first letter a capital.
func capital(text string) string {
	return first(text, unicode.ToUpper)
}

// small gives a sentence as it stands inside another: with a small first letter
// and no full stop.
func small(sentence string) string {
	return strings.TrimSuffix(first(sentence, unicode.ToLower), ".")
}

func first(text string, to func(rune) rune) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(to(r)) + text[size:]
}

// sentence gives a text its full stop.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "!") || strings.HasSuffix(text, "?") {
		return text
	}
	return strings.TrimRight(text, ",;:") + "."
}

// bare gives words in lower case, without punctuation and with single spaces.
func bare(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(",.;:!?'\"-", r)
	}), " ")
}

// nameMost is how much of what somebody else wrote is said, in characters.
const nameMost = 100

// within gives as much of a text as is said or looked for.
func within(text string) string {
	if n := []rune(strings.ToValidUTF8(text, "")); len(n) > nameMost {
		return string(n[:nameMost])
	}
	return strings.ToValidUTF8(text, "")
}

// nameOf says what somebody called something.
func nameOf(text string) string {
	if name := reader.Name(within(text)); name != "" {
		return name
	}
	return "that"
}

// ago words a stretch of time, in its largest unit.
func ago(d time.Duration) string {
	const day = 24 * time.Hour
	units := []struct {
		of   time.Duration
		name string
	}{{7 * day, "week"}, {day, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}}
	for _, u := range units {
		if n := int(d / u.of); n > 0 {
			return reader.Number(n) + " " + plural(u.name, n) + " ago"
		}
	}
	return "just now"
}
