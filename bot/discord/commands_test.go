package discord

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"clew/patterns/samples"
	"clew/reader/listen"
)

// Limits on commands: Discord's developer documentation, "Application
// Commands", as noted in shared/DISCORD.md; the form of a name, that required
// options come first, and what goes with which type are from memory.
const (
	nameLimit        = 32
	descriptionLimit = 100
	optionsLimit     = 25
	choicesLimit     = 25
	choiceLimit      = 100
	charactersLimit  = 8000
	commandsLimit    = 100
)

var commandName = regexp.MustCompile(`^[-_'\p{L}\p{N}]{1,32}$`)

// TestCommandsAreWithinTheLimits looks at what is sent, as the platform would.
func TestCommandsAreWithinTheLimits(t *testing.T) {
	all := asSent(t)
	if len(all) == 0 || len(all) > commandsLimit {
		t.Fatalf("there are %d commands", len(all))
	}
	names := map[string]bool{}
	for _, c := range all {
		name := c["name"].(string)
		if names[name] {
			t.Errorf("there are two commands %s", name)
		}
		names[name] = true
		if c["type"] != float64(1) {
			t.Errorf("%s is of type %v", name, c["type"])
		}
		if permissions, there := c["default_member_permissions"]; !there || permissions != nil {
			t.Errorf("%s is kept from some members: %v", name, permissions)
		}
		checkNamed(t, name, c)
		if n := characters(c); n > charactersLimit {
			t.Errorf("%s has %d characters in all", name, n)
		}
		checkOptions(t, name, c["options"], 0)
	}
}

func units(s string) int { return len(utf16.Encode([]rune(s))) }

func checkNamed(t *testing.T, where string, c map[string]any) {
	t.Helper()
	name, _ := c["name"].(string)
	if !commandName.MatchString(name) || strings.ToLower(name) != name || units(name) > nameLimit {
		t.Errorf("%s can't be called %q", where, name)
	}
	description, _ := c["description"].(string)
	if n := units(description); n < 1 || n > descriptionLimit {
		t.Errorf("%s has a description of %d characters: %q", where, n, description)
	}
	if !spokenLine.MatchString(description) {
		t.Errorf("%s has a description that can't be read aloud: %q", where, description)
	}
}

// spokenLine is what Clew says: letters, spaces and a few stops.
var spokenLine = regexp.MustCompile(`^\p{Lu}[\p{L} ,.;:'?!-]*[.?!]$`)

// Types of options.
const (
	subcommand = 1
	textOption = 3
	wholeNumer = 4
)

func checkOptions(t *testing.T, where string, options any, depth int) {
	t.Helper()
	list, _ := options.([]any)
	if len(list) > optionsLimit {
		t.Errorf("%s has %d options", where, len(list))
	}
	names := map[string]bool{}
	optional, below := false, 0
	for _, o := range list {
		o := o.(map[string]any)
		name, _ := o["name"].(string)
		here := where + " " + name
		checkNamed(t, here, o)
		if names[name] {
			t.Errorf("%s is there twice", here)
		}
		names[name] = true
		required, _ := o["required"].(bool)
		if required && optional {
			t.Errorf("%s is required, and stands behind one that is not", here)
		}
		optional = optional || !required
		kind, _ := o["type"].(float64)
		if kind == subcommand {
			if below++; depth > 0 {
				t.Errorf("%s is a command below one that is below another", here)
			}
			checkOptions(t, here, o["options"], depth+1)
			continue
		}
		checkValue(t, here, kind, o)
	}
	if below > 0 && below != len(list) {
		t.Errorf("%s has options beside commands", where)
	}
}

// checkValue checks what an option takes.
func checkValue(t *testing.T, where string, kind float64, o map[string]any) {
	t.Helper()
	choices, _ := o["choices"].([]any)
	if len(choices) > choicesLimit {
		t.Errorf("%s has %d choices", where, len(choices))
	}
	values := map[any]bool{}
	for _, c := range choices {
		c := c.(map[string]any)
		name, value := c["name"].(string), c["value"].(string)
		if units(name) < 1 || units(name) > choiceLimit || units(value) < 1 || units(value) > choiceLimit || values[value] {
			t.Errorf("%s can't have the choice %q for %q", where, name, value)
		}
		values[value] = true
	}
	completes, _ := o["autocomplete"].(bool)
	if completes && len(choices) > 0 {
		t.Errorf("%s has choices, and completes itself", where)
	}
	if (completes || len(choices) > 0 || o["max_length"] != nil) && kind != textOption {
		t.Errorf("%s is no text", where)
	}
	if length, ok := o["max_length"].(float64); ok && (length < 1 || length > 6000) {
		t.Errorf("%s takes %v characters", where, length)
	}
	least, hasLeast := o["min_value"].(float64)
	largest, hasLargest := o["max_value"].(float64)
	if (hasLeast || hasLargest) && (kind != wholeNumer || least > largest) {
		t.Errorf("%s takes a number from %v to %v", where, least, largest)
	}
	if o["options"] != nil {
		t.Errorf("%s has options", where)
	}
}

// characters is the length of all names, descriptions and values of a command.
func characters(o any) int {
	n := 0
	switch o := o.(type) {
	case map[string]any:
		for _, key := range []string{"name", "description", "value"} {
			text, _ := o[key].(string)
			n += units(text)
		}
		n += characters(o["options"]) + characters(o["choices"])
	case []any:
		for _, one := range o {
			n += characters(one)
		}
	}
	return n
}

// TestCommandsComeFromTheTable says that each request has its command, which is
// described as it is in help, and that only the host's are kept out of private
// messages.
func TestCommandsComeFromTheTable(t *testing.T) {
	requests := listen.Requests()
	all := commands()
	if len(all) != len(requests) {
		t.Fatalf("there are %d commands for %d requests", len(all), len(requests))
	}
	hosts := 0
	for i, r := range requests {
		contexts := []int{0, 1}
		if r.Host {
			hosts++
			contexts = []int{0}
			if r.Name != hostCommand {
				t.Errorf("the host's command is called %s", r.Name)
			}
		}
		if c := all[i]; c.Name != r.Name || c.Description != r.Does || !slices.Equal(c.Contexts, contexts) || !slices.Equal(c.Installations, []int{0}) {
			t.Errorf("%s: %+v", r.Name, c)
		}
	}
	if hosts != 1 {
		t.Errorf("there are %d commands of the host's", hosts)
	}
	for intent := range knitterOptions {
		if !slices.ContainsFunc(requests, func(r listen.Request) bool { return r.Intent == intent && !r.Host }) {
			t.Errorf("options for %s lead nowhere", intent)
		}
	}
}

// TestSamplesCanBeChosen says that all of them are on the list, by their titles.
func TestSamplesCanBeChosen(t *testing.T) {
	start := hostOptions()[0]
	i := slices.IndexFunc(start.Options, func(o option) bool { return o.Name == optSample })
	choices := start.Options[i].Choices
	if len(choices) != len(samples.All()) {
		t.Errorf("%d of %d samples can be chosen", len(choices), len(samples.All()))
	}
	for i, s := range samples.All() {
		title, _, _ := strings.Cut(strings.SplitN(s.Text, "Pattern: ", 2)[1], "\n")
		if choices[i].Value != s.Name || choices[i].Name != title {
			t.Errorf("%s is offered as %+v", s.Name, choices[i])
		}
	}
}
