package reader

import (
	"strings"
	"unicode/utf8"
)

// seriesMost bounds what is named one by one in a series that is listened to.
const seriesMost = 6

// series words some things: "one, two and three". Of more than can be listened
// to, the first few and how many more there are.
func series(words []string) string {
	if more := len(words) - seriesMost + 1; more > 1 {
		words = append(words[:seriesMost-1:seriesMost-1], Number(more)+" more")
	}
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// nameMost is how much is said of a name that the pattern gives, in characters.
const nameMost = 60

// shortName is Name, cut to what a listener can hold in mind; other stands for
// a name that can't be said.
func shortName(text, other string) string {
	name := Name(text)
	if utf8.RuneCountInString(name) > nameMost {
		name = string([]rune(name)[:nameMost])
		if space := strings.LastIndexByte(name, ' '); space > 0 {
			name = name[:space]
		}
	}
	if name == "" {
		return other
	}
	return name
}
