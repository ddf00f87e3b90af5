package discordtest

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Opt is an option of a slash command.
type Opt struct {
	Name  string
	Value any // string, int, float64, bool, *Person, *Channel, *Attachment or Forged
}

// Forged is an option's value of any type, with any number for it.
type Forged struct {
	Type  int
	Value any
}

// With is an option: With("row", 12).
func With(name string, value any) Opt { return Opt{name, value} }

// awaitSession waits for a living session that the guild's events go to; one that is
// not connected now gets them when it is resumed.
func (s *Server) awaitSession(guild string) {
	s.helper()
	if len(s.targets(guild)) > 0 {
		return
	}
	if !s.until(func() bool { return len(s.targets(guild)) > 0 }) {
		s.fail("no gateway session came in %v for the events of guild %q", s.opt.Wait, guild)
	}
}

// happen enters an event and dispatches it.
func (s *Server) happen(ch *Channel, p *Person, h *happening, it *interaction, id, what string) *Event {
	s.helper()
	s.awaitSession(ch.guildID())
	e := &Event{ID: id, Kind: h.kind, Channel: ch, Person: p, s: s, h: *h, it: it}
	s.mu.Lock()
	if it != nil {
		it.at, it.event = time.Now(), e
	}
	s.addEvent(e)
	hidden := it == nil && ch.bot&ViewChannel == 0
	s.seen.line(fmt.Sprintf("%s (%s) %s [%s]", p.Name, p.ID, what, id))
	s.note()
	s.mu.Unlock()
	if !hidden {
		s.deliver(h)
	}
	return e
}

// Says delivers a direct message.
func (s *Server) Says(p *Person, text string, files ...*Attachment) *Event {
	s.helper()
	return s.SaysIn(s.DM(p), p, text, files...)
}

// SaysIn delivers a message in a channel. "@" and the bot's name mention it. Where the
// bot can't see the channel it is told of nothing.
func (s *Server) SaysIn(ch *Channel, p *Person, text string, files ...*Attachment) *Event {
	s.helper()
	s.at(ch, p)
	if n := utf8.RuneCountInString(text); n > longestContent {
		s.fail("a message of %d characters: the platform lets nobody say more than %d", n, longestContent)
	}
	h, id := s.words(ch, p, text, "", files)
	return s.happen(ch, p, h, nil, id, "says "+strconv.Quote(text))
}

// Replies delivers a reply to a message of the bot's, which pings it.
func (s *Server) Replies(p *Person, to Message, text string) *Event {
	s.helper()
	ch := s.channelOf(to)
	s.at(ch, p)
	h, id := s.words(ch, p, text, to.ID, nil)
	return s.happen(ch, p, h, nil, id, "replies "+strconv.Quote(text))
}

// channelOf is the channel of a message.
func (s *Server) channelOf(m Message) *Channel {
	s.helper()
	s.mu.Lock()
	ch := s.people.channels[m.Channel]
	s.mu.Unlock()
	if ch == nil {
		s.fail("message %s is in no channel of this server", m.ID)
	}
	return ch
}

// Uses waits until the slash command is registered and uses it: "next", or
// "knitalong start" for a subcommand. The test fails where the platform would not let
// her: an option that is missing, unknown or of the wrong type, a context, a
// permission.
func (s *Server) Uses(ch *Channel, p *Person, command string, options ...Opt) *Event {
	s.helper()
	s.at(ch, p)
	s.offered(ch, p, command, options, "")
	h, it := s.command(ch, p, kindCommand, command, options, nil)
	return s.happen(ch, p, h, it, it.id, "uses /"+command)
}

// Forges delivers a slash command without checking it against what is registered.
func (s *Server) Forges(ch *Channel, p *Person, command string, options ...Opt) *Event {
	s.helper()
	s.at(ch, p)
	h, it := s.command(ch, p, kindCommand, command, options, nil)
	return s.happen(ch, p, h, it, it.id, "forges /"+command)
}

// Types delivers an autocomplete in her direct messages: what she typed so far into
// the option of the command. Other options may be filled in already.
func (s *Server) Types(p *Person, command, option, text string, others ...Opt) *Event {
	s.helper()
	return s.TypesIn(s.DM(p), p, command, option, text, others...)
}

// TypesIn is Types in a channel.
func (s *Server) TypesIn(ch *Channel, p *Person, command, option, text string, others ...Opt) *Event {
	s.helper()
	s.at(ch, p)
	s.offered(ch, p, command, others, option)
	h, it := s.command(ch, p, kindAutocomplete, command, others, &Opt{option, text})
	return s.happen(ch, p, h, it, it.id, fmt.Sprintf("types %q into %s of /%s", text, option, command))
}

// Press waits for a message that she sees and that has a button with this label, and
// presses it under the newest.
func (s *Server) Press(p *Person, label string) *Event {
	s.helper()
	m := s.newest(p, fmt.Sprintf("a button %q", label), func(m Message) bool { return slices.Contains(m.Buttons(), label) })
	return s.PressOn(p, m, label)
}

// newest waits for a message that she sees and that is one of these, and gives the
// newest.
func (s *Server) newest(p *Person, what string, is func(Message) bool) Message {
	s.helper()
	var found Message
	ok := s.until(func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		for _, r := range slices.Backward(s.store.order) {
			if r.seenBy(p) && is(r.Message) {
				found = r.Message
				return true
			}
		}
		return false
	})
	if !ok {
		s.fail("%s saw no message with %s in %v", p.Name, what, s.opt.Wait)
	}
	return found
}

// PressOn presses the button under this message as it was when it was fetched, even
// if it has changed since or is gone.
func (s *Server) PressOn(p *Person, m Message, label string) *Event {
	s.helper()
	b, has := m.Button(label)
	if !has || b.Disabled || b.CustomID == "" {
		s.fail("message %s has no button %q that can be pressed: it has %q", m.ID, label, m.Buttons())
	}
	return s.presses(p, m, wirePress{CustomID: b.CustomID, ComponentType: typeButton}, "presses "+strconv.Quote(label))
}

// Choose waits for a message that she sees with a menu that has this option, and
// chooses it in the newest.
func (s *Server) Choose(p *Person, option string) *Event {
	s.helper()
	m := s.newest(p, fmt.Sprintf("an option %q", option), func(m Message) bool {
		_, _, has := m.menu(option)
		return has
	})
	return s.ChooseOn(p, m, option)
}

// ChooseOn chooses the option in the menu under this message.
func (s *Server) ChooseOn(p *Person, m Message, option string) *Event {
	s.helper()
	menu, value, has := m.menu(option)
	if !has {
		s.fail("message %s has no option %q: it has %q", m.ID, option, m.Options())
	}
	data := wirePress{CustomID: menu.CustomID, ComponentType: menu.Type, Values: []string{value}}
	return s.presses(p, m, data, "chooses "+strconv.Quote(option))
}

// ForgesPress delivers a press of a button with any custom id, under any message.
func (s *Server) ForgesPress(p *Person, m Message, customID string) *Event {
	s.helper()
	data := wirePress{CustomID: customID, ComponentType: typeButton}
	return s.presses(p, m, data, "forges a press of "+strconv.Quote(customID))
}

// ForgesChoice delivers a choice of any values in a menu with any custom id.
func (s *Server) ForgesChoice(p *Person, m Message, customID string, values ...string) *Event {
	s.helper()
	data := wirePress{CustomID: customID, ComponentType: typeMenu, Values: values}
	return s.presses(p, m, data, fmt.Sprintf("forges a choice of %q in %q", values, customID))
}

func (s *Server) presses(p *Person, m Message, data wirePress, what string) *Event {
	s.helper()
	ch := s.channelOf(m)
	s.at(ch, p)
	s.mu.Lock()
	r := s.store.records[m.ID]
	others := r != nil && r.to != nil && r.to != p
	s.mu.Unlock()
	if others {
		s.fail("%s can't see message %s: it is ephemeral, and not hers", p.Name, m.ID)
	}
	h, it := s.press(ch, p, r, m, data)
	return s.happen(ch, p, h, it, it.id, what)
}

// Submits sends the form that was opened in answer to the event: values by custom id.
func (s *Server) Submits(p *Person, opened *Event, values map[string]string) *Event {
	s.helper()
	f := opened.Form()
	h, it := s.submit(p, opened.it, &f, values)
	return s.happen(opened.Channel, p, h, it, it.id, "submits "+strconv.Quote(f.Title))
}

// Replay delivers the same event again, same ids and token, as may happen after a
// resume. A second first answer to it is refused, but is no fault.
func (s *Server) Replay(e *Event) {
	s.helper()
	s.awaitSession(e.Channel.guildID())
	if e.it != nil {
		e.it.again.Store(true)
	}
	s.deliver(&e.h)
}

// lookUp finds a command that is registered, and the options of the subcommand.
func (s *Server) lookUp(path []string) (command, []option, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, c := range s.commands.list {
		if c.kind != 1 || c.name != path[0] {
			continue
		}
		options, found := c.options, true
		for _, name := range path[1:] {
			i := slices.IndexFunc(options, func(o option) bool { return o.name == name && o.kind <= optionGroup })
			if found = i >= 0; !found {
				break
			}
			options = options[i].options
		}
		return c, options, found
	}
	return command{}, nil, false
}

// offered waits until the command is registered, and fails where the platform would not
// let her use it so. typing is the option that is being typed; "" for none.
func (s *Server) offered(ch *Channel, p *Person, name string, options []Opt, typing string) {
	s.helper()
	path := strings.Fields(name)
	var c command
	var known []option
	if !s.until(func() bool { var is bool; c, known, is = s.lookUp(path); return is }) {
		s.fail("no command /%s was registered in %v: there are %s", name, s.opt.Wait, s.Commands())
	}
	if why := s.refusesCommand(ch, p, c, known, options, typing); why != "" {
		s.fail("the platform does not let %s use /%s so: %s", p.Name, name, why)
	}
}

func (s *Server) refusesCommand(ch *Channel, p *Person, c command, known []option, options []Opt, typing string) string {
	where := 1
	if ch.Guild != nil {
		where = 0
	}
	if c.contexts != nil && !slices.Contains(c.contexts, where) {
		return fmt.Sprintf("its contexts are %v, and this is %d", c.contexts, where)
	}
	if needs, err := strconv.ParseUint(c.may, 10, 64); err == nil && ch.Guild != nil {
		s.mu.Lock()
		has := ch.Guild.members[p.ID]
		s.mu.Unlock()
		if has != All && (needs == 0 || has&Permission(needs) != Permission(needs)) {
			return fmt.Sprintf("it needs the permissions %d", needs)
		}
	}
	if len(known) > 0 && known[0].kind <= optionGroup {
		return "it has subcommands: name one of them"
	}
	for _, o := range options {
		i := slices.IndexFunc(known, func(k option) bool { return k.name == o.Name })
		if i < 0 {
			return fmt.Sprintf("it has no option %q", o.Name)
		}
		if why := known[i].refuses(o.Value); why != "" {
			return fmt.Sprintf("option %q: %s", o.Name, why)
		}
	}
	for _, k := range known {
		given := slices.ContainsFunc(options, func(o Opt) bool { return o.Name == k.name })
		if k.required && !given && typing == "" {
			return fmt.Sprintf("option %q is required", k.name)
		}
	}
	if typing != "" && !slices.ContainsFunc(known, func(k option) bool { return k.name == typing && k.autocomplete }) {
		return fmt.Sprintf("it has no option %q with autocomplete", typing)
	}
	return ""
}
