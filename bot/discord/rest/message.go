package rest

import (
	"bytes"
	"encoding/json"

	"github.com/bwmarrin/discordgo"
)

// Message is what stands in a channel, a direct message or an answer. It
// mentions nobody, whatever its text says.
type Message struct {
	Content    string                       // up to MaxContent characters
	Components []discordgo.MessageComponent // rows (ActionsRow) of buttons or of one menu; an edit without any takes them away
	Ephemeral  bool                         // seen only by the member who asked: for Answer and FollowUp; Send and Edit refuse it
	Files      []File                       // up to MaxFiles; an edit replaces those that were there
	Nonce      string                       // Send only: the same one again within minutes sends nothing new; up to MaxNonce characters, "" for one made up
	ReplyTo    string                       // Send only: the message that this one replies to, which may be gone; "" for none
}

// File is a file under a message.
type File struct {
	Name        string // with its extension; no slash in it
	ContentType string // "text/plain; charset=utf-8"; "" is application/octet-stream
	Data        []byte // up to MaxFile bytes
	Description string // of a picture, in words for those who don't see it; up to MaxDescription characters, "" for none
}

// Suggestion is one line of an autocomplete's list.
type Suggestion struct {
	Name  string `json:"name"`  // what is shown: 1-100 characters
	Value string `json:"value"` // what comes back with the command: 1-100 characters
}

// mentions is what a message may ping. Left out, or with a null in place of the
// list, it would be all that its text names; edits too.
type mentions struct {
	Parse       []string `json:"parse"`
	RepliedUser bool     `json:"replied_user"`
}

type attachment struct {
	ID          int    `json:"id"` // the file's number in the body
	Filename    string `json:"filename"`
	Description string `json:"description,omitempty"`
}

type reference struct {
	MessageID       string `json:"message_id"`
	FailIfNotExists bool   `json:"fail_if_not_exists"`
}

// payload is a message as the platform takes it.
type payload struct {
	Content         string                       `json:"content"`
	Components      []discordgo.MessageComponent `json:"components"`
	AllowedMentions mentions                     `json:"allowed_mentions"`
	Attachments     *[]attachment                `json:"attachments,omitempty"`
	Flags           discordgo.MessageFlags       `json:"flags,omitempty"`
	Nonce           string                       `json:"nonce,omitempty"`
	EnforceNonce    bool                         `json:"enforce_nonce,omitempty"`
	Reference       *reference                   `json:"message_reference,omitempty"`
}

// payload gives what all messages have; edit is for one that replaces another.
func (m *Message) payload(edit bool) payload {
	p := payload{
		Content:         m.Content,
		Components:      m.Components,
		AllowedMentions: mentions{Parse: []string{}},
	}
	if p.Components == nil {
		p.Components = []discordgo.MessageComponent{}
	}
	if edit || len(m.Files) > 0 {
		list := make([]attachment, len(m.Files))
		for i, f := range m.Files {
			list[i] = attachment{ID: i, Filename: f.Name, Description: f.Description}
		}
		p.Attachments = &list
	}
	return p
}

func (m *Message) flags() discordgo.MessageFlags {
	if m.Ephemeral {
		return discordgo.MessageFlagsEphemeral
	}
	return 0
}

// newRequest puts a body, and the files it names, into a call.
func newRequest(to route, body any, files []File) (*request, error) {
	r := &request{route: to, contentType: "application/json"}
	var err error
	if len(files) == 0 {
		r.body, err = json.Marshal(body)
	} else {
		parts := make([]*discordgo.File, len(files))
		for i, f := range files {
			parts[i] = &discordgo.File{Name: f.Name, ContentType: f.ContentType, Reader: bytes.NewReader(f.Data)}
		}
		r.contentType, r.body, err = discordgo.MultipartBodyWithJSON(body, parts)
	}
	if err != nil {
		return nil, invalid(to.name, "the body can't be written: %v", err)
	}
	return r, nil
}
