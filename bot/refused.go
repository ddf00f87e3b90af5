package bot

import (
	"regexp"
	"strings"
)

// Refused gives the sentence in which a member hears an error of package fit, as
// Reply.Said has them, and that nothing has moved: for adapters that read what
// she typed into a field. It is "" for any other error.
func Refused(err error) string {
	said, err := refusal(err)
	if err != nil {
		return ""
	}
	return said
}

// quoted is what somebody typed, as an error repeats it; it may end in a mark for
// inches.
var quoted = regexp.MustCompile(`"([^"]*"?)"`)

// unquoted gives an error's text for the ear, in which what was typed stands as a
// name does: it ends no sentence, and its quotation marks are not heard as inches.
func unquoted(text string) string {
	return quoted.ReplaceAllStringFunc(text, func(typed string) string {
		amount, negative := strings.CutPrefix(typed[1:len(typed)-1], "-")
		said := nameOf(amount)
		if negative {
			said = "minus " + said
		}
		return said
	})
}
