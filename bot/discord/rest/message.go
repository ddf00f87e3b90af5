package rest

import "github.com/bwmarrin/discordgo"

// What a message may hold.
const (
	MaxContent    = 2000     // characters of Content, as Characters counts them
	MaxRows       = 5        // rows of components
	MaxButtons    = 5        // buttons in a row
	MaxLabel      = 80       // characters on a button
	MaxCustomID   = 100      // characters of a custom id, 1 at least
	MaxOptions    = 25       // options of a menu
	MaxOption     = 100      // characters of an option's label, value and description, and of a suggestion's name and value
	MaxHint       = 150      // characters of a menu's placeholder
	MaxFiles      = 10       // files
	MaxFile       = 10 << 20 // bytes of one file
	MaxNonce      = 25       // characters of a nonce
	MaxSuggestion = 25       // suggestions
)

// Message is what stands in a channel, a direct message or an answer.
type Message struct {
	Content    string                       // up to MaxContent characters
	Components []discordgo.MessageComponent // rows of buttons or of one menu; an edit without any takes them away
	Ephemeral  bool                         // seen by the member who asked alone: Answer and FollowUp only
	Files      []File                       // up to MaxFiles; an edit replaces those that were there
	Nonce      string                       // Send only: the same one again within minutes sends nothing new; up to MaxNonce characters, "" for one made up
	ReplyTo    string                       // Send only: the message that this one replies to; "" for none. One that is gone is no error
}

// File is a file under a message.
type File struct {
	Name        string // with its extension
	ContentType string // "text/plain; charset=utf-8"; "" is application/octet-stream
	Data        []byte // up to MaxFile bytes
}

// Suggestion is one line of an autocomplete's list.
type Suggestion struct {
	Name  string // what is shown: 1-100 characters
	Value string // what comes back with the command: 1-100 characters
}
