package discordtest

import (
	"encoding/json"
	"fmt"
	"time"
)

// The objects of the platform that it sends: Discord's developer documentation, "Message",
// "User", "Guild" (member), "Channel", and "Receiving and Responding" (interaction); from
// memory.

type wireUser struct {
	ID            string  `json:"id"`
	Username      string  `json:"username"`
	GlobalName    *string `json:"global_name"`
	Discriminator string  `json:"discriminator"`
	Avatar        *string `json:"avatar"`
	Bot           bool    `json:"bot,omitempty"`
	PublicFlags   int     `json:"public_flags"`
}

type wireMember struct {
	User        *wireUser `json:"user,omitempty"`
	Nick        *string   `json:"nick"`
	Avatar      *string   `json:"avatar"`
	Roles       []string  `json:"roles"`
	JoinedAt    time.Time `json:"joined_at"`
	Deaf        *bool     `json:"deaf,omitempty"`
	Mute        *bool     `json:"mute,omitempty"`
	Flags       int       `json:"flags"`
	Pending     bool      `json:"pending"`
	Permissions string    `json:"permissions,omitempty"`
}

type wireChannel struct {
	ID          string     `json:"id"`
	Type        int        `json:"type"` // 0 text in a guild, 1 direct messages
	GuildID     string     `json:"guild_id,omitempty"`
	Name        string     `json:"name,omitempty"`
	Permissions string     `json:"permissions,omitempty"`
	Recipients  []wireUser `json:"recipients,omitempty"`
	Flags       int        `json:"flags"`
}

type wireFile struct {
	ID          string `json:"id"`
	Filename    string `json:"filename"`
	Description string `json:"description,omitempty"`
	ContentType string `json:"content_type,omitempty"`
	Size        int64  `json:"size"`
	URL         string `json:"url"`
	ProxyURL    string `json:"proxy_url"`
	Ephemeral   bool   `json:"ephemeral,omitempty"`
}

type wireReference struct {
	Type      int    `json:"type"`
	MessageID string `json:"message_id"`
	ChannelID string `json:"channel_id"`
	GuildID   string `json:"guild_id,omitempty"`
}

type wireMessage struct {
	ID              string          `json:"id"`
	ChannelID       string          `json:"channel_id"`
	GuildID         string          `json:"guild_id,omitempty"`
	Type            int             `json:"type"` // 0 usual, 19 reply, 20 answer to a command
	Content         string          `json:"content"`
	Author          wireUser        `json:"author"`
	Member          *wireMember     `json:"member,omitempty"`
	Timestamp       time.Time       `json:"timestamp"`
	EditedTimestamp *time.Time      `json:"edited_timestamp"`
	TTS             bool            `json:"tts"`
	MentionEveryone bool            `json:"mention_everyone"`
	Mentions        []wireUser      `json:"mentions"`
	MentionRoles    []string        `json:"mention_roles"`
	Attachments     []wireFile      `json:"attachments"`
	Embeds          json.RawMessage `json:"embeds"`
	Components      json.RawMessage `json:"components"`
	Pinned          bool            `json:"pinned"`
	Flags           int             `json:"flags"`
	Nonce           string          `json:"nonce,omitempty"`
	ApplicationID   string          `json:"application_id,omitempty"`
	WebhookID       string          `json:"webhook_id,omitempty"`
	Reference       *wireReference  `json:"message_reference,omitempty"`
}

type wireInteraction struct {
	ID             string            `json:"id"`
	ApplicationID  string            `json:"application_id"`
	Type           int               `json:"type"`
	Data           any               `json:"data"`
	GuildID        string            `json:"guild_id,omitempty"`
	Guild          map[string]any    `json:"guild,omitempty"`
	ChannelID      string            `json:"channel_id"`
	Channel        wireChannel       `json:"channel"`
	Member         *wireMember       `json:"member,omitempty"`
	User           *wireUser         `json:"user,omitempty"`
	Message        *wireMessage      `json:"message,omitempty"`
	Token          string            `json:"token"`
	Version        int               `json:"version"`
	AppPermissions string            `json:"app_permissions"`
	Locale         string            `json:"locale"`
	GuildLocale    string            `json:"guild_locale,omitempty"`
	Entitlements   []any             `json:"entitlements"`
	Owners         map[string]string `json:"authorizing_integration_owners"`
	Context        int               `json:"context"` // 0 in a guild, 1 in direct messages with the bot
	FileSizeLimit  int64             `json:"attachment_size_limit"`
}

type wireOption struct {
	Name    string       `json:"name"`
	Type    int          `json:"type"`
	Value   any          `json:"value,omitempty"`
	Options []wireOption `json:"options,omitempty"`
	Focused bool         `json:"focused,omitempty"`
}

type wireResolved struct {
	Users       map[string]wireUser    `json:"users,omitempty"`
	Members     map[string]wireMember  `json:"members,omitempty"`
	Channels    map[string]wireChannel `json:"channels,omitempty"`
	Attachments map[string]wireFile    `json:"attachments,omitempty"`
}

type wireCommand struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Type     int           `json:"type"`
	Options  []wireOption  `json:"options,omitempty"`
	Resolved *wireResolved `json:"resolved,omitempty"`
}

type wirePress struct {
	CustomID      string   `json:"custom_id"`
	ComponentType int      `json:"component_type"`
	Values        []string `json:"values,omitempty"`
}

func marshal(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil { // a value of our own types, or a test's that cannot be JSON
		panic(fmt.Sprintf("discordtest: %v", err))
	}
	return b
}

func (p *Person) wire() wireUser {
	name := p.Name
	return wireUser{ID: p.ID, Username: p.handle, GlobalName: &name, Discriminator: "0"}
}

func (s *Server) bot() wireUser {
	return wireUser{ID: s.app, Username: s.opt.Name, Discriminator: "0815", Bot: true}
}

// member is the person in the guild; in an interaction with her permissions, and in
// full with herself. s.mu is held.
func (g *Guild) member(p *Person, full bool) *wireMember {
	m := &wireMember{Roles: []string{}, JoinedAt: time.UnixMilli(bornDMs).UTC(), Permissions: g.members[p.ID].String()}
	if nick := g.nicks[p.ID]; nick != "" {
		m.Nick = &nick
	}
	if full {
		no := false
		user := p.wire()
		m.User, m.Deaf, m.Mute = &user, &no, &no
	}
	return m
}

// wire is the message as the platform sends it.
func (s *Server) wire(m *Message) wireMessage {
	w := wireMessage{ID: m.ID, ChannelID: m.Channel, GuildID: m.Guild, Content: m.Content, Author: s.bot(),
		Timestamp: m.At.UTC(), Mentions: []wireUser{}, MentionRoles: []string{}, Attachments: []wireFile{},
		Embeds: orEmpty(m.embeds), Components: orEmpty(m.components), Flags: m.Flags, Nonce: m.Nonce}
	if m.owned {
		w.Type, w.ApplicationID, w.WebhookID = 20, s.app, s.app
	}
	if m.ReplyTo != "" {
		w.Type, w.Reference = 19, &wireReference{MessageID: m.ReplyTo, ChannelID: m.Channel, GuildID: m.Guild}
	}
	if m.Edits > 0 {
		at := m.edited.UTC()
		w.EditedTimestamp = &at
	}
	for _, f := range m.Files {
		w.Attachments = append(w.Attachments, wireFile{ID: f.id, Filename: f.Name, Description: f.Description, ContentType: f.ContentType,
			Size: int64(len(f.Data)), URL: f.url, ProxyURL: f.url, Ephemeral: m.Ephemeral})
	}
	return w
}

func orEmpty(list json.RawMessage) json.RawMessage {
	if len(list) == 0 || string(list) == "null" {
		return json.RawMessage("[]")
	}
	return list
}
