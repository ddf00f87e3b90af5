package discordtest

import (
	"fmt"
	"regexp"
	"slices"
)

// mostAllowed: documentation, "Message", allowed mentions object; from memory.
const mostAllowed = 100

// live is text that pings: documentation, "API Reference", message formatting: users,
// roles; and the two words for everybody. A backslash before it escapes it.
var live = regexp.MustCompile(`(\\*)(<@[!&]?\d+>|@everyone|@here)`)

// mentionsIn are the live mentions of a text.
func mentionsIn(text string) []string {
	var all []string
	for _, found := range live.FindAllStringSubmatch(text, -1) {
		if len(found[1])%2 == 0 {
			all = append(all, found[2])
		}
	}
	return all
}

// checkMentions looks at allowed_mentions: what the platform refuses, and what it would
// take but would let a text ping people. Left out, null, or without a list, it parses
// everything: documentation, "Message", allowed mentions object; on edits too.
func (c *call) checkMentions(f *form, o object, content *string) {
	const at = "allowed_mentions"
	var open string // what lets mentions through
	allowed, is := o[at].(object)
	switch list, listed := allowed["parse"].([]any); {
	case !is && o[at] != nil:
		f.add(at, "DICT_TYPE_CONVERT", "Only dictionaries may be used in a DictType")
		return
	case !is:
		open = "allowed_mentions is left out, or null"
	case !listed:
		open = "allowed_mentions.parse is left out, or null"
	case len(list) > 0:
		open = fmt.Sprintf("allowed_mentions.parse is %v", list)
	}
	parsed := map[string]bool{}
	for i, v := range f.list(allowed, at, "parse", 3) {
		kind, _ := v.(string)
		if !slices.Contains([]string{"roles", "users", "everyone"}, kind) {
			f.add(fmt.Sprintf("%s.parse.%d", at, i), "BASE_TYPE_CHOICES", "Value must be one of {'users', 'roles', 'everyone'}.")
		}
		parsed[kind] = true
	}
	for _, kind := range []string{"roles", "users"} {
		list := f.list(allowed, at, kind, mostAllowed)
		if len(list) > 0 && parsed[kind] {
			f.add(at, "MESSAGE_ALLOWED_MENTIONS_PARSE_EXCLUSIVE", "parse:[%q] and %s: [ids...] are mutually exclusive.", kind, kind)
		}
		if len(list) > 0 && open == "" {
			open = fmt.Sprintf("allowed_mentions.%s is %v", kind, list)
		}
	}
	if f.flag(allowed, at, "replied_user") && open == "" {
		open = "allowed_mentions.replied_user is true"
	}
	if open == "" {
		return
	}
	c.wrong("%s: it would let a text ping people: expected {\"parse\":[]}", open)
	if content != nil {
		if all := mentionsIn(*content); len(all) > 0 {
			c.wrong("the content pings %v, since %s", all, open)
		}
	}
}
