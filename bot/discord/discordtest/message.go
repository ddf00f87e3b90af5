package discordtest

import "time"

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
	Value              any // a string; a suggestion for a number may be a float64
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
}

// Form is a form (modal) that was opened.
type Form struct {
	CustomID, Title string
	Inputs          []Component
}

// Said is what a reader hears first: the content up to the first line of small
// text ("-# ") or block of fixed width, without escapes.
func (m Message) Said() string { panic("TODO") }

// Small is the rest of the content, behind what Said gives.
func (m Message) Small() string { panic("TODO") }

// Buttons are the labels of the buttons that can be pressed, in order.
func (m Message) Buttons() []string { panic("TODO") }

// Options are the labels of the options of all menus, in order.
func (m Message) Options() []string { panic("TODO") }

// Button is the button with that label.
func (m Message) Button(label string) (Component, bool) { panic("TODO") }
