package discordtest

import (
	"strings"
	"time"
)

// What the bot is told of: MESSAGE_CREATE and INTERACTION_CREATE.

// words is a person's message in a channel, and its id. Without the message content
// intent its content and files arrive only in direct messages, or where the bot is
// mentioned: documentation, "Gateway", message content intent.
func (s *Server) words(ch *Channel, p *Person, text, replyTo string, files []*Attachment) (*happening, string) {
	mention := "<@" + s.app + ">"
	text = strings.ReplaceAll(text, "@"+s.opt.Name, mention)
	w := wireMessage{ID: s.ids.next(), ChannelID: ch.ID, GuildID: ch.guildID(), Content: text, Author: p.wire(),
		Timestamp: time.Now().UTC(), Mentions: []wireUser{}, MentionRoles: []string{}, Attachments: []wireFile{},
		Embeds: orEmpty(nil), Components: orEmpty(nil)}
	named := strings.Contains(text, mention)
	if replyTo != "" {
		w.Type, w.Reference = 19, &wireReference{MessageID: replyTo, ChannelID: ch.ID, GuildID: ch.guildID()}
		named = true
	}
	if named {
		w.Mentions = append(w.Mentions, s.bot())
	}
	for _, f := range files {
		w.Attachments = append(w.Attachments, f.wire())
	}
	h := &happening{kind: "MESSAGE_CREATE", intent: messageIntent(ch), guild: ch.guildID()}
	if ch.Guild != nil {
		s.mu.Lock()
		w.Member = ch.Guild.member(p, false)
		w.Member.Permissions = "" // they come with interactions only
		s.mu.Unlock()
	}
	h.whole = marshal(w)
	if ch.Guild != nil && !named {
		w.Content, w.Attachments = "", []wireFile{}
		h.stripped = marshal(w)
	}
	return h, w.ID
}

func (f *Attachment) wire() wireFile {
	return wireFile{ID: f.ID, Filename: f.Name, ContentType: f.ContentType, Size: f.Size, URL: f.URL,
		ProxyURL: strings.Replace(f.URL, cdnHost, "https://media.discordapp.net", 1)}
}

// interact is an interaction, with what all have in common.
func (s *Server) interact(ch *Channel, p *Person, kind int) (*interaction, *wireInteraction) {
	id := s.ids.next()
	it := &interaction{id: id, token: interactionToken(id), kind: kind, person: p, channel: ch}
	locale := p.Locale
	if locale == "" {
		locale = "en-GB"
	}
	w := &wireInteraction{ID: id, ApplicationID: s.app, Type: kind, ChannelID: ch.ID, Token: it.token, Version: 1,
		Locale: locale, Entitlements: []any{}, FileSizeLimit: largestFile}
	s.mu.Lock()
	defer s.mu.Unlock()
	w.AppPermissions = ch.bot.String()
	user := p.wire()
	if ch.Guild == nil {
		w.User, w.Context = &user, 1
		w.Channel = wireChannel{ID: ch.ID, Type: 1, Recipients: []wireUser{user}}
		w.Owners = map[string]string{"0": "0"}
		return it, w
	}
	g := ch.Guild
	w.GuildID, w.GuildLocale, w.Member = g.ID, "en-US", g.member(p, true)
	w.Guild = map[string]any{"id": g.ID, "locale": "en-US", "features": []any{}}
	w.Channel = wireChannel{ID: ch.ID, GuildID: g.ID, Name: ch.Name, Permissions: w.Member.Permissions}
	w.Owners = map[string]string{"0": g.ID}
	return it, w
}

func interactionCreate(it *interaction, w *wireInteraction) *happening {
	return &happening{kind: "INTERACTION_CREATE", guild: w.GuildID, whole: marshal(w), it: it}
}

// command is a slash command, or the autocomplete of one: focus is the option that is
// being typed, whose value comes as text whatever its type.
func (s *Server) command(ch *Channel, p *Person, kind int, name string, options []Opt, focus *Opt) (*happening, *interaction) {
	it, w := s.interact(ch, p, kind)
	path := strings.Fields(name)
	data := &wireCommand{Name: path[0], Type: 1, Resolved: &wireResolved{}}
	cmd, inner, known := s.lookUp(path)
	data.ID = s.app // where nothing of that name is registered, an id that is none of a command
	if known {
		data.ID = cmd.id
	}
	for _, o := range options {
		data.Options = append(data.Options, s.value(ch, data.Resolved, o, inner))
	}
	if focus != nil {
		it.focused = optionText
		for _, o := range inner {
			if o.name == focus.Name {
				it.focused = o.kind
			}
		}
		data.Options = append(data.Options, wireOption{Name: focus.Name, Type: it.focused, Value: focus.Value, Focused: true})
	}
	for i := len(path) - 1; i > 0; i-- {
		kind := optionSub
		if i < len(path)-1 {
			kind = optionGroup
		}
		data.Options = []wireOption{{Name: path[i], Type: kind, Options: data.Options}}
	}
	if data.Resolved.empty() {
		data.Resolved = nil
	}
	w.Data = data
	return interactionCreate(it, w), it
}

func (r *wireResolved) empty() bool {
	return r.Users == nil && r.Channels == nil && r.Attachments == nil
}

// value is an option as it is sent, with what it names resolved.
func (s *Server) value(ch *Channel, r *wireResolved, o Opt, known []option) wireOption {
	w := wireOption{Name: o.Name, Value: o.Value}
	switch v := o.Value.(type) {
	case Forged:
		w.Type, w.Value = v.Type, v.Value
		return w
	case string:
		w.Type = optionText
	case bool:
		w.Type = optionFlag
	case float64:
		w.Type = optionNumber
	case *Person:
		w.Type, w.Value = optionUser, v.ID
		r.Users = add(r.Users, v.ID, v.wire())
		if ch.Guild != nil {
			s.mu.Lock()
			r.Members = add(r.Members, v.ID, *ch.Guild.member(v, false))
			s.mu.Unlock()
		}
	case *Channel:
		w.Type, w.Value = optionChannel, v.ID
		r.Channels = add(r.Channels, v.ID, wireChannel{ID: v.ID, Name: v.Name, Permissions: Everybody.String()})
	case *Attachment:
		w.Type, w.Value = optionFile, v.ID
		r.Attachments = add(r.Attachments, v.ID, v.wire())
	default:
		w.Type = optionWhole
	}
	for _, k := range known {
		if k.name == o.Name && k.kind == optionNumber && w.Type == optionWhole {
			w.Type = optionNumber
		}
	}
	return w
}

func add[T any](m map[string]T, key string, v T) map[string]T {
	if m == nil {
		m = map[string]T{}
	}
	m[key] = v
	return m
}

// press is a press of a button, or a choice in a menu, under a message as it looks in m;
// r is the message itself, nil where the bot has none such.
func (s *Server) press(ch *Channel, p *Person, r *record, m Message, data wirePress) (*happening, *interaction) {
	it, w := s.interact(ch, p, kindComponent)
	it.source = r
	if m.ID == "" {
		m.ID = s.ids.next()
	}
	message := s.wire(&m)
	w.Message, w.Data = &message, data
	return interactionCreate(it, w), it
}

// submit is a form that was filled in.
func (s *Server) submit(p *Person, opened *interaction, f *Form, values map[string]string) (*happening, *interaction) {
	it, w := s.interact(opened.channel, p, kindForm)
	it.source, it.fromPress = opened.source, opened.kind == kindComponent
	rows := []any{}
	for _, input := range f.Inputs {
		rows = append(rows, map[string]any{"type": typeRow, "components": []any{
			map[string]any{"type": typeInput, "custom_id": input.CustomID, "value": values[input.CustomID]}}})
	}
	w.Data = map[string]any{"custom_id": f.CustomID, "components": rows}
	if opened.source != nil {
		s.mu.Lock()
		m := opened.source.Message
		s.mu.Unlock()
		message := s.wire(&m)
		w.Message = &message
	}
	return interactionCreate(it, w), it
}
