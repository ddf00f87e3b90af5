package discordtest

import (
	"fmt"
	"slices"
	"unicode/utf8"
)

// refuses says why the platform does not let a person give this value to the option; ""
// where it does.
func (o option) refuses(value any) string {
	var size float64 // of a number, or a text's length
	var plain any    // as a choice has it
	is := -1
	switch v := value.(type) {
	case string:
		is, size, plain = optionText, float64(utf8.RuneCountInString(v)), v
		if size > longestText {
			return fmt.Sprintf("a text of %v characters: at most %d", size, longestText)
		}
	case int:
		is, size, plain = optionWhole, float64(v), float64(v)
		if o.kind == optionNumber {
			is = optionNumber
		}
	case float64:
		is, size, plain = optionNumber, v, v
	case bool:
		is = optionFlag
	case *Person:
		is = optionUser
	case *Channel:
		is = optionChannel
	case *Attachment:
		is = optionFile
	}
	switch {
	case is == optionUser && o.kind == optionMentionable:
	case is != o.kind:
		return fmt.Sprintf("it is of type %d, not %T", o.kind, value)
	case len(o.choices) > 0 && !slices.ContainsFunc(o.choices, func(c Choice) bool { return c.Value == plain }):
		return fmt.Sprintf("%v is none of its choices", value)
	case o.lo != nil && size < *o.lo, o.hi != nil && *o.hi > 0 && size > *o.hi:
		return fmt.Sprintf("%v is out of its range", value)
	}
	return ""
}
