package discordtest

import (
	"slices"
	"strings"
	"sync/atomic"
	"time"
)

// store keeps messages, interactions and events. Server.mu guards it.
type store struct {
	records map[string]*record
	order   []*record // oldest first
	tokens  map[string]*interaction
	events  map[string]*Event
	past    []*Event           // oldest first
	newest  map[string]*Event  // by channel's id
	nonces  map[string]*record // by nonce
}

func (s *store) init() {
	s.records, s.tokens, s.events = map[string]*record{}, map[string]*interaction{}, map[string]*Event{}
	s.newest, s.nonces = map[string]*Event{}, map[string]*record{}
}

// record is a message of the bot's. Server.mu guards it.
type record struct {
	Message
	channel *Channel
	owner   *interaction // through whose token it was made; nil: by the bot's own
	to      *Person      // who alone sees it; nil: everybody in the channel
}

// shown says whether it is there to be seen. s.mu is held.
func (r *record) shown() bool { return !r.Deleted && !r.Loading }

// seenBy says whether the person sees it. s.mu is held.
func (r *record) seenBy(p *Person) bool {
	return r.shown() && (r.to == p || r.to == nil && r.channel.sees(p))
}

// interaction is an interaction that was dispatched. Server.mu guards what changes.
type interaction struct {
	id, token string
	kind      int // 2 command, 3 component, 4 autocomplete, 5 form
	person    *Person
	channel   *Channel
	source    *record // the message that a component is on; nil for none
	fromPress bool    // a form that a component opened
	focused   int     // an autocomplete's option's type
	at        time.Time
	answered  int         // the kind of its first answer; 0: none yet
	again     atomic.Bool // a second first answer is no fault
	original  *record     // what @original is
	shot      *shot       // of a load; nil for none
	event     *Event      // nil for a shot
}

const (
	kindCommand      = 2
	kindComponent    = 3
	kindAutocomplete = 4
	kindForm         = 5
)

// Event is something that a person did, as the bot was told of it.
type Event struct {
	ID      string // the message's id, or the interaction's
	Kind    string // "MESSAGE_CREATE" or "INTERACTION_CREATE"
	Channel *Channel
	Person  *Person

	s           *Server
	h           happening
	it          *interaction // nil for a message
	answers     []*record
	kind        int
	after       time.Duration
	suggestions []Choice
	form        *Form
}

// addEvent enters an event. s.mu is held.
func (s *Server) addEvent(e *Event) {
	st := &s.store
	st.events[e.ID] = e
	st.newest[e.Channel.ID] = e
	st.past = append(st.past, e)
	if e.it != nil {
		st.tokens[e.it.token] = e.it
	}
	if len(st.past) <= s.opt.Keep {
		return
	}
	drop := len(st.past) - s.opt.Keep
	for _, old := range st.past[:drop] {
		delete(st.events, old.ID)
		if old.it != nil {
			delete(st.tokens, old.it.token)
		}
		if st.newest[old.Channel.ID] == old {
			delete(st.newest, old.Channel.ID)
		}
	}
	st.past = slices.Delete(st.past, 0, drop)
}

// addRecord enters a message. s.mu is held.
func (s *Server) addRecord(r *record) {
	st := &s.store
	st.records[r.ID] = r
	st.order = append(st.order, r)
	if len(st.order) <= s.opt.Keep {
		return
	}
	drop := len(st.order) - s.opt.Keep
	for _, old := range st.order[:drop] {
		delete(st.records, old.ID)
		if old.Nonce != "" && st.nonces[old.Nonce] == old {
			delete(st.nonces, old.Nonce)
		}
	}
	st.order = slices.Delete(st.order, 0, drop)
}

// answer keeps that a message is, or became, an answer to the event. s.mu is held.
func (e *Event) answer(r *record) {
	if e == nil {
		return
	}
	r.Event = e.ID
	if !slices.Contains(e.answers, r) {
		e.answers = append(e.answers, r)
	}
}

// asked is the event that a message in a channel answers: the one that it refers to,
// else the one whose id its nonce begins with, else, without a nonce, the newest in the
// channel; nil for none. s.mu is held.
func (s *Server) asked(ch *Channel, d *draft) *Event {
	if e := s.store.events[d.replyTo]; e != nil {
		return e
	}
	if e := s.store.events[leadingDigits(d.nonce)]; e != nil {
		return e
	}
	if d.nonce != "" {
		return nil
	}
	return s.store.newest[ch.ID]
}

func leadingDigits(text string) string {
	end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		return text
	}
	return text[:end]
}

// newRecord makes a message of a draft. It is not entered yet.
func (s *Server) newRecord(ch *Channel, d *draft) *record {
	r := &record{channel: ch, Message: Message{ID: s.ids.next(), Channel: ch.ID, Guild: ch.guildID(), At: time.Now()}}
	s.fill(r, d)
	r.Nonce, r.ReplyTo = d.nonce, d.replyTo
	return r
}

// fill puts what a draft has into a message; what it left out stays as it was. s.mu is
// held, or the message is not entered yet.
func (s *Server) fill(r *record, d *draft) {
	if d.content != nil {
		r.Content = *d.content
	}
	if d.components != nil {
		r.Rows, r.components = d.rows, d.components
	}
	if d.rawEmbeds != nil {
		r.Embeds, r.embeds = d.embeds, d.rawEmbeds
	}
	if d.keeps {
		r.Files = slices.DeleteFunc(slices.Clone(r.Files), func(f File) bool { return !slices.Contains(d.keep, f.id) })
	}
	for _, f := range d.files {
		f.id = s.ids.next()
		f.url = s.offer(r.Channel, f.id, f.Name, &offered{data: f.Data, kind: f.ContentType})
		r.Files = append(slices.Clip(r.Files), f)
	}
	r.Flags |= d.flags
}

// shows says whether the message shows anything: an edit may not leave one that doesn't.
func (m *Message) shows() bool {
	return strings.TrimSpace(m.Content) != "" || len(m.Embeds) > 0 || len(m.Files) > 0 || full(m.components)
}
