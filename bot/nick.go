package bot

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/session"
)

// keptName gives a name that a platform shows as the store keeps it: on one line
// and no longer than session.NameMost.
func keptName(nick string) string {
	name := strings.Join(strings.FieldsFunc(strings.ToValidUTF8(nick, ""), func(r rune) bool {
		return unicode.IsSpace(r) || unicode.IsControl(r)
	}), " ")
	if len(name) <= session.NameMost {
		return name
	}
	end := session.NameMost
	for !utf8.RuneStart(name[end]) {
		end--
	}
	return strings.TrimRight(name[:end], " ")
}
