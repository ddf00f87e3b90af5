package bot

import "regexp"

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

var (
	quoted      = regexp.MustCompile(`"([^"]*"?)"`)
	quotedMinus = regexp.MustCompile(`"-(\d)`)
	quotedInch  = regexp.MustCompile(`(\d) ?in"`)
)

// unquoted gives an error's text for the ear. Behind a number a quotation mark
// would be heard as inches, and without one the short form of inches as a word; a
// minus is not heard at all.
func unquoted(text string) string {
	text = quotedMinus.ReplaceAllString(quotedInch.ReplaceAllString(text, `$1 inches"`), `"minus $1`)
	return quoted.ReplaceAllString(text, "$1")
}
