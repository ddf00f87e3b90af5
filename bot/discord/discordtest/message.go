package discordtest

import (
	"encoding/json"
	"regexp"
	"strings"
	"time"
)

// Message is a message of the bot's as it stands now, edits included.
type Message struct {
	ID, Channel, Guild string // Guild is "" in direct messages
	Content            string
	Ephemeral          bool // only the one who asked sees it
	Loading            bool // a deferral that has not been filled in yet
	Flags              int
	Rows               [][]Component
	Embeds             []Embed
	Files              []File
	ReplyTo, Nonce     string // "" for none
	Event              string // the id of the event that it answers; "" where that can't be told
	Edits              int    // how often it was edited
	Deleted            bool
	At                 time.Time // when it came

	components, embeds json.RawMessage // as they were sent
	owned              bool            // made through an interaction's token
	edited             time.Time
}

// Component is a button, a menu, or an input of a form.
type Component struct {
	Type        int // 2 button, 3 menu, 4 input, 5 to 8 menus of users, roles, both, channels
	Style       int
	Label       string
	CustomID    string
	URL         string
	Placeholder string
	Disabled    bool
	Options     []Choice
	Min, Max    int // of a menu: how many may be chosen
}

// Choice is an option of a menu, or a suggestion of an autocomplete.
type Choice struct {
	Label, Description string
	Value              any // a string; a suggestion for a number is a float64
}

// Embed is what this package reads of an embed.
type Embed struct {
	Title, Description, Footer, Author, URL string
	Fields                                  []EmbedField
}

// EmbedField is a field of an embed.
type EmbedField struct{ Name, Value string }

// File is a file that the bot sent.
type File struct {
	Name, ContentType, Description string
	Data                           []byte
	id, url                        string
}

// Form is a form (modal) that was opened.
type Form struct {
	CustomID, Title string
	Inputs          []Component
}

const (
	typeRow    = 1
	typeButton = 2
	typeMenu   = 3
	typeInput  = 4
)

// escaped is a character of markup behind a backslash, which shows the character alone.
var escaped = regexp.MustCompile("\\\\([!-/:-@\\[-`{-~])")

// split is where the first line of small text or block of fixed width begins.
func (m Message) split() int {
	at := 0
	for line := range strings.SplitAfterSeq(m.Content, "\n") {
		if strings.HasPrefix(line, "-# ") || strings.HasPrefix(line, "```") {
			return at
		}
		at += len(line)
	}
	return at
}

// Said is what a reader hears first: the content up to the first line of small
// text ("-# ") or block of fixed width, without escapes.
func (m Message) Said() string {
	return strings.TrimSpace(escaped.ReplaceAllString(m.Content[:m.split()], "$1"))
}

// Small is the rest of the content, behind what Said gives.
func (m Message) Small() string { return strings.TrimSpace(m.Content[m.split():]) }

// Buttons are the labels of the buttons that can be pressed, in order.
func (m Message) Buttons() []string {
	var labels []string
	for _, row := range m.Rows {
		for _, c := range row {
			if c.Type == typeButton && !c.Disabled && c.CustomID != "" {
				labels = append(labels, c.Label)
			}
		}
	}
	return labels
}

// Options are the labels of the options of all menus that can be opened, in order.
func (m Message) Options() []string {
	var labels []string
	for _, row := range m.Rows {
		for _, c := range row {
			if c.Disabled {
				continue
			}
			for _, o := range c.Options {
				labels = append(labels, o.Label)
			}
		}
	}
	return labels
}

// Button is the first button with that label, whether it can be pressed or not.
func (m Message) Button(label string) (Component, bool) {
	for _, row := range m.Rows {
		for _, c := range row {
			if c.Type == typeButton && c.Label == label {
				return c, true
			}
		}
	}
	return Component{}, false
}

// menu is the first menu that can be opened and has that option, and the option's value.
func (m Message) menu(option string) (Component, string, bool) {
	for _, row := range m.Rows {
		for _, c := range row {
			for _, o := range c.Options {
				if v, text := o.Value.(string); text && o.Label == option && !c.Disabled {
					return c, v, true
				}
			}
		}
	}
	return Component{}, "", false
}
