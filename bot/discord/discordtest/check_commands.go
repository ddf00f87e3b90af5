package discordtest

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// Documentation, "Application Commands": command, option, choice; the lengths of a
// choice and of an option's text are from memory.
const (
	mostCommands       = 100
	longestDoes        = 100
	mostCommandOptions = 25
	mostChoices        = 25
	longestChoice      = 100  // name, and a value that is text
	longestCommand     = 8000 // names, descriptions and values of a command in all
	longestText        = 6000 // the greatest max_length of an option
)

// Types of an option, from memory.
const (
	optionSub         = 1
	optionGroup       = 2
	optionText        = 3
	optionWhole       = 4
	optionFlag        = 5
	optionUser        = 6
	optionChannel     = 7
	optionRole        = 8
	optionMentionable = 9
	optionNumber      = 10
	optionFile        = 11
)

// commandName: documentation, "Application Commands", naming: letters of any script,
// numbers, '-', '_' and an apostrophe, 1 to 32 of them, without upper case; the form is
// from memory.
var commandName = regexp.MustCompile(`^[-_'\p{L}\p{N}\p{Devanagari}\p{Thai}]{1,32}$`)

// command is a command that is registered, or an option of one.
type command struct {
	id, version string
	kind        int
	name        string
	may         string // default_member_permissions; "" for everybody
	contexts    []int  // nil: all
	options     []option
	body        object // as it was sent, without what is null
}

type option struct {
	kind         int
	name         string
	required     bool
	autocomplete bool
	choices      []Choice
	lo, hi       *float64 // of a number's value, or a text's length
	options      []option
}

// readCommand checks and reads a command.
func (f *form) readCommand(o object, at string) command {
	c := command{kind: int(f.whole(o, at, "type", 1, 3, 1)), body: compact(o)}
	c.name = f.must(o, at, "name", 1, 32)
	if c.kind == 1 {
		f.commandName(join(at, "name"), c.name)
		f.must(o, at, "description", 1, longestDoes)
	} else if text, _ := f.text(o, at, "description", 0, longestDoes); text != "" || len(f.list(o, at, "options", 0)) > 0 {
		f.add(join(at, "description"), "APPLICATION_COMMAND_CONTEXT_MENU_DESCRIPTION", "Context menu commands cannot have a description or options")
	}
	c.may, _ = f.text(o, at, "default_member_permissions", 1, 20)
	if strings.Trim(c.may, "0123456789") != "" {
		f.add(join(at, "default_member_permissions"), "NUMBER_TYPE_COERCE", "Value \"%s\" is not int.", c.may)
	}
	for i, v := range f.list(o, at, "contexts", 3) {
		n, _ := v.(json.Number)
		k, err := n.Int64()
		if err != nil || k < 0 || k > 2 || slices.Contains(c.contexts, int(k)) {
			f.add(fmt.Sprintf("%s.%d", join(at, "contexts"), i), "BASE_TYPE_CHOICES", "Value must be one of {0, 1, 2}, each once.")
			continue
		}
		c.contexts = append(c.contexts, int(k))
	}
	for i, v := range f.list(o, at, "integration_types", 2) {
		if n, _ := v.(json.Number); n != "0" && n != "1" {
			f.add(fmt.Sprintf("%s.%d", join(at, "integration_types"), i), "BASE_TYPE_CHOICES", "Value must be one of {0, 1}.")
		}
	}
	f.flag(o, at, "nsfw")
	if allowed := o["dm_permission"]; allowed == false && c.contexts == nil {
		c.contexts = []int{0}
	}
	c.options = f.readOptions(o, at, 0)
	if n := letters(o); n > longestCommand {
		f.add(at, "APPLICATION_COMMAND_TOO_LARGE", "Command exceeds maximum size (%d). (%d)", longestCommand, n)
	}
	return c
}

// commandName checks the form of a command's or an option's name.
func (f *form) commandName(at, name string) {
	if !commandName.MatchString(name) || name != strings.ToLower(name) {
		f.add(at, "STRING_TYPE_REGEX", "String value did not match validation regex. (%q)", name)
	}
}

// readOptions reads the options of a command (depth 0), a group (1) or a subcommand (2).
func (f *form) readOptions(o object, at string, depth int) []option {
	var all []option
	names := map[string]bool{}
	list := f.objects(o, at, "options", mostCommandOptions)
	at = join(at, "options")
	optional, nested := false, 0
	for i, one := range list {
		here := fmt.Sprintf("%s.%d", at, i)
		p := f.readOption(one, here, depth)
		if names[p.name] {
			f.add(join(here, "name"), "APPLICATION_COMMAND_OPTIONS_NAME_DUPLICATED", "Option names must be unique. (%q)", p.name)
		}
		names[p.name] = true
		if p.required && optional {
			f.add(here, "APPLICATION_COMMAND_OPTIONS_REQUIRED_INVALID", "Required options must be placed before non-required options")
		}
		if p.kind <= optionGroup {
			nested++
		} else {
			optional = optional || !p.required
		}
		all = append(all, p)
	}
	if nested != 0 && nested != len(list) {
		f.add(at, "APPLICATION_COMMAND_OPTIONS_TYPE_INVALID", "Sub-command and sub-command group option types are mutually exclusive to all other types")
	}
	return all
}

func (f *form) readOption(o object, at string, depth int) option {
	p := option{kind: int(f.whole(o, at, "type", 1, 11, 0)), name: f.must(o, at, "name", 1, 32)}
	f.commandName(join(at, "name"), p.name)
	f.must(o, at, "description", 1, longestDoes)
	p.required, p.autocomplete = f.flag(o, at, "required"), f.flag(o, at, "autocomplete")
	switch {
	case o["type"] == nil:
		f.required(join(at, "type"))
	case p.kind == optionSub && depth < 2:
		p.options = f.readOptions(o, at, 2)
	case p.kind == optionGroup && depth == 0:
		p.options = f.readOptions(o, at, 1)
	case p.kind <= optionGroup || depth == 1:
		f.add(join(at, "type"), "APPLICATION_COMMAND_OPTIONS_TYPE_INVALID", "A command holds groups or subcommands, a group subcommands, and a subcommand neither")
	case len(f.list(o, at, "options", 0)) > 0:
		f.add(join(at, "options"), "APPLICATION_COMMAND_OPTIONS_NESTED", "Only subcommands and groups have options")
	}
	for i, one := range f.objects(o, at, "choices", mostChoices) {
		here := fmt.Sprintf("%s.choices.%d", at, i)
		c := Choice{Label: f.must(one, here, "name", 1, longestChoice), Value: f.choiceValue(one, here, p.kind)}
		if slices.ContainsFunc(p.choices, func(old Choice) bool { return old.Label == c.Label }) {
			f.add(join(here, "name"), "APPLICATION_COMMAND_OPTIONS_CHOICE_NAME_DUPLICATED", "Choice names must be unique. (%q)", c.Label)
		}
		p.choices = append(p.choices, c)
	}
	typed := p.kind == optionText || p.kind == optionWhole || p.kind == optionNumber
	if (p.autocomplete || len(p.choices) > 0) && !typed || p.autocomplete && len(p.choices) > 0 {
		f.add(join(at, "autocomplete"), "APPLICATION_COMMAND_OPTIONS_AUTOCOMPLETE_INVALID", "Choices or autocomplete, not both, for an option of text or number")
	}
	f.readBounds(&p, o, at)
	return p
}

// readBounds reads the least and greatest number, or length. A greatest of 0 is what a
// library sends for none.
func (f *form) readBounds(p *option, o object, at string) {
	for _, key := range []string{"min_value", "max_value", "min_length", "max_length"} {
		if o[key] == nil {
			continue
		}
		number, _ := o[key].(json.Number)
		n, err := number.Float64()
		length := strings.HasSuffix(key, "length")
		switch {
		case err != nil:
			f.add(join(at, key), "NUMBER_TYPE_COERCE", "Value \"%v\" is not a number.", o[key])
		case length && p.kind != optionText, !length && p.kind != optionWhole && p.kind != optionNumber:
			f.add(join(at, key), "APPLICATION_COMMAND_OPTIONS_BOUND_INVALID", "%s is not for an option of type %d", key, p.kind)
		case length && (n < 0 || n > longestText || key == "max_length" && n < 1):
			f.add(join(at, key), "NUMBER_TYPE_RANGE", "int value should be between 0 (min_length) or 1 (max_length) and %d. (%v)", longestText, n)
		case strings.HasPrefix(key, "min"):
			p.lo = &n
		default:
			p.hi = &n
		}
	}
	if p.lo != nil && p.hi != nil && *p.lo > *p.hi {
		f.add(at, "APPLICATION_COMMAND_OPTIONS_BOUND_INVALID", "The least is greater than the greatest (%v, %v)", *p.lo, *p.hi)
	}
}

// choiceValue reads a choice's value, of the type of its option.
func (f *form) choiceValue(o object, at string, kind int) any {
	switch v := o["value"].(type) {
	case nil:
		f.required(join(at, "value"))
	case string:
		if kind == optionWhole || kind == optionNumber {
			f.add(join(at, "value"), "NUMBER_TYPE_COERCE", "Value \"%s\" is not a number.", v)
		} else {
			f.text(o, at, "value", 0, longestChoice)
		}
		return v
	case json.Number:
		n, err := v.Float64()
		if err != nil || kind == optionText || kind == optionWhole && strings.ContainsAny(v.String(), ".eE") {
			f.add(join(at, "value"), "STRING_TYPE_CONVERT", "Value \"%s\" is not of the option's type.", v)
		}
		return n
	default:
		f.add(join(at, "value"), "STRING_TYPE_CONVERT", "Could not interpret \"%v\" as string.", v)
	}
	return ""
}

// letters is what a command's names, descriptions and values come to, with those of its
// options and choices; of a text in several languages the longest counts.
func letters(o object) int {
	n := 0
	for _, key := range []string{"name", "description"} {
		text, _ := o[key].(string)
		longest := utf8.RuneCountInString(text)
		others, _ := o[key+"_localizations"].(object)
		for _, v := range others {
			other, _ := v.(string)
			longest = max(longest, utf8.RuneCountInString(other))
		}
		n += longest
	}
	switch v := o["value"].(type) {
	case string:
		n += utf8.RuneCountInString(v)
	case json.Number:
		n += len(v)
	}
	for _, key := range []string{"options", "choices"} {
		list, _ := o[key].([]any)
		for _, v := range list {
			if one, is := v.(object); is {
				n += letters(one)
			}
		}
	}
	return n
}

// compact is the object without what is null or an empty list, all the way down.
func compact(o object) object {
	c := object{}
	for k, v := range o {
		switch v := v.(type) {
		case nil:
			continue
		case object:
			c[k] = compact(v)
			continue
		case []any:
			if len(v) == 0 {
				continue
			}
			list := make([]any, len(v))
			for i, one := range v {
				list[i] = one
				if inner, is := one.(object); is {
					list[i] = compact(inner)
				}
			}
			c[k] = list
			continue
		}
		c[k] = v
	}
	return c
}
