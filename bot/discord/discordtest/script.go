package discordtest

import "net/http"

// Opt is an option of a slash command.
type Opt struct {
	Name  string
	Value any // string, int, float64, bool, *Person, *Channel or *Attachment
}

// With is an option: With("row", 12).
func With(name string, value any) Opt { return Opt{name, value} }

// Attachment is a file that a person sent. Its fields may be forged before it is used.
type Attachment struct {
	ID, Name, URL, ContentType string
	Size                       int64
}

// Says delivers a direct message.
func (s *Server) Says(p *Person, text string, files ...*Attachment) *Event { panic("TODO") }

// SaysIn delivers a message in a channel. "@" and the bot's name mention it.
func (s *Server) SaysIn(ch *Channel, p *Person, text string, files ...*Attachment) *Event {
	panic("TODO")
}

// Replies delivers a reply to a message of the bot's, which pings it.
func (s *Server) Replies(p *Person, to Message, text string) *Event { panic("TODO") }

// Uses waits until the slash command is registered and uses it: "next", or
// "knitalong start" for a subcommand. The test fails where the platform would not let
// her: an option that is missing, unknown or of the wrong type, a context, a
// permission.
func (s *Server) Uses(ch *Channel, p *Person, command string, options ...Opt) *Event {
	panic("TODO")
}

// Forges delivers a slash command without checking it against what is registered.
func (s *Server) Forges(ch *Channel, p *Person, command string, options ...Opt) *Event {
	panic("TODO")
}

// Press waits for a message that she sees and that has a button with this label, and
// presses it under the newest.
func (s *Server) Press(p *Person, label string) *Event { panic("TODO") }

// PressOn presses the button under this message as it was when it was fetched, even
// if it has changed since or is gone.
func (s *Server) PressOn(p *Person, m Message, label string) *Event { panic("TODO") }

// Choose waits for a message that she sees with a menu that has this option, and
// chooses it in the newest.
func (s *Server) Choose(p *Person, option string) *Event { panic("TODO") }

// ChooseOn chooses the option in the menu under this message.
func (s *Server) ChooseOn(p *Person, m Message, option string) *Event { panic("TODO") }

// ForgesPress delivers a press of a button with any custom id, under any message.
func (s *Server) ForgesPress(p *Person, m Message, customID string) *Event { panic("TODO") }

// Types delivers an autocomplete in her direct messages: what she typed so far into
// the option of the command. Other options may be filled in already.
func (s *Server) Types(p *Person, command, option, text string, others ...Opt) *Event {
	panic("TODO")
}

// TypesIn is Types in a channel.
func (s *Server) TypesIn(ch *Channel, p *Person, command, option, text string, others ...Opt) *Event {
	panic("TODO")
}

// Submits sends the form that was opened in answer to the event: values by custom id.
func (s *Server) Submits(p *Person, opened *Event, values map[string]string) *Event {
	panic("TODO")
}

// Replay delivers the same event again, same ids and token, as may happen after a resume.
func (s *Server) Replay(e *Event) { panic("TODO") }

// Dispatch delivers any event to a shard, d being its data. Nothing is checked.
func (s *Server) Dispatch(shard int, kind string, d any) { panic("TODO") }

// Attach makes a file that can be sent with a message or a command.
func (s *Server) Attach(name string, data []byte) *Attachment { panic("TODO") }

// AttachServed is Attach with a handler that serves the file, and the size that is
// claimed for it.
func (s *Server) AttachServed(name, contentType string, size int64, h http.HandlerFunc) *Attachment {
	panic("TODO")
}

// Register registers commands as a PUT of them would.
func (s *Server) Register(commands []byte) error { panic("TODO") }
