package discordtest

import (
	"slices"
	"time"
)

// shotKept is how long a shot's token serves, after which it is forgotten: far shorter
// than the platform's, so that memory stays flat under load.
const shotKept = 10 * time.Second

// Shot is one event of a load: a command, a press, or words.
type Shot struct {
	Person  *Person
	Channel *Channel // nil: her direct messages

	Command  string // a slash command, with Options; not checked
	Options  []Opt
	CustomID string // a press, in place of Command
	Words    string // a message, in place of both

	Tag uint64 // comes back in the Hit
}

// Hit is the answer to a shot.
type Hit struct {
	Tag     uint64
	ID      string        // the event's
	Kind    int           // 4 to 9; 0 for a message in the channel
	After   time.Duration // since the dispatch began
	Message Message       // zero for deferrals and suggestions
	Filled  bool          // a deferral is filled in; Kind is 5
	Lost    bool          // no answer came in time: AnswerWithin, or Wait for words
}

// shot is a shot that is under way. Server.mu guards what changes.
type shot struct {
	tag      uint64
	id       string
	at       time.Time
	channel  *Channel
	it       *interaction // nil for words
	answered bool
}

// fire is the state of a load. Server.mu guards it.
type fire struct {
	hook   func(Hit)
	words  map[string]*shot // by the message's id
	newest map[string]*shot // words, by the channel's id
	queue  []*shot          // oldest first
}

func (f *fire) init() { f.words, f.newest = map[string]*shot{}, map[string]*shot{} }

// OnHit sets what is called for the first answer to each shot, and when a deferral is
// filled in. It is called from many goroutines and should be quick. Set it before Fire.
func (s *Server) OnHit(f func(Hit)) { s.set(func() { s.fire.hook = f }) }

// Fire delivers an event with as little work as can be and keeps no message of it. It
// waits, as Says does, for a session that the event can go to. What it takes up is
// given back some seconds after it is answered or lost.
func (s *Server) Fire(f Shot) {
	s.helper()
	ch := f.Channel
	if ch == nil {
		ch = s.DM(f.Person)
	}
	sh := &shot{tag: f.Tag, channel: ch}
	var h *happening
	switch {
	case f.Command != "":
		h, sh.it = s.command(ch, f.Person, kindCommand, f.Command, f.Options, nil)
	case f.CustomID != "":
		h, sh.it = s.press(ch, f.Person, nil, Message{Channel: ch.ID, Guild: ch.guildID(), owned: true, At: time.Now(), Content: "…"}, wirePress{CustomID: f.CustomID, ComponentType: typeButton})
	default:
		h, sh.id = s.words(ch, f.Person, f.Words, "", nil)
	}
	s.awaitSession(ch.guildID())
	sh.at = time.Now()
	s.mu.Lock()
	if sh.it != nil {
		sh.id, sh.it.shot, sh.it.at = sh.it.id, sh, sh.at
		s.store.tokens[sh.it.token] = sh.it
	} else {
		s.fire.words[sh.id], s.fire.newest[ch.ID] = sh, sh
	}
	s.fire.queue = append(s.fire.queue, sh)
	s.mu.Unlock()
	s.deliver(h)
}

// answered is the shot that a message in a channel answers; nil for none. s.mu is held.
func (f *fire) answered(ch *Channel, d *draft) *shot {
	if len(f.words) == 0 {
		return nil
	}
	if sh := f.words[d.replyTo]; sh != nil {
		return sh
	}
	if sh := f.words[leadingDigits(d.nonce)]; sh != nil {
		return sh
	}
	if d.nonce != "" {
		return nil
	}
	return f.newest[ch.ID]
}

// hit tells of the first answer to an interaction of a load.
func (s *Server) hit(it *interaction, kind int, after time.Duration, m *Message) {
	s.mu.Lock()
	sh, hook := it.shot, s.fire.hook
	if sh != nil {
		sh.answered = true
	}
	s.mu.Unlock()
	if sh == nil || hook == nil {
		return
	}
	h := Hit{Tag: sh.tag, ID: sh.id, Kind: kind, After: after}
	if m != nil && !m.Loading {
		h.Message = *m
	}
	hook(h)
}

// filled tells that a deferral was filled in.
func (s *Server) filled(it *interaction, m *Message) {
	s.mu.Lock()
	sh, hook := it.shot, s.fire.hook
	s.mu.Unlock()
	if sh != nil && hook != nil {
		hook(Hit{Tag: sh.tag, ID: sh.id, Kind: answerDefer, After: time.Since(sh.at), Message: *m, Filled: true})
	}
}

// hitWords tells of the first message in answer to words of a load.
func (s *Server) hitWords(sh *shot, m *Message) {
	s.mu.Lock()
	first, hook := !sh.answered, s.fire.hook
	sh.answered = true
	s.mu.Unlock()
	if first && hook != nil {
		hook(Hit{Tag: sh.tag, ID: sh.id, After: time.Since(sh.at), Message: *m})
	}
}

// sweep tells of shots that were lost, and forgets old ones, until the server ends.
func (s *Server) sweep() {
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case now := <-tick.C:
			s.sweepAt(now)
		case <-s.done:
			return
		}
	}
}

func (s *Server) sweepAt(now time.Time) {
	var lost []*shot
	s.mu.Lock()
	f := &s.fire
	for _, sh := range f.queue {
		limit := s.opt.AnswerWithin
		if sh.it == nil {
			limit = s.opt.Wait
		}
		if !sh.answered && now.Sub(sh.at) > limit {
			sh.answered = true
			lost = append(lost, sh)
		}
	}
	old := 0
	for old < len(f.queue) && f.queue[old].answered && now.Sub(f.queue[old].at) > shotKept {
		sh := f.queue[old]
		if sh.it != nil {
			delete(s.store.tokens, sh.it.token)
		} else {
			delete(f.words, sh.id)
			if f.newest[sh.channel.ID] == sh {
				delete(f.newest, sh.channel.ID)
			}
		}
		old++
	}
	f.queue = slices.Delete(f.queue, 0, old)
	hook := f.hook
	if len(lost) > 0 {
		s.note()
	}
	s.mu.Unlock()
	for _, sh := range lost {
		if hook != nil {
			hook(Hit{Tag: sh.tag, ID: sh.id, After: now.Sub(sh.at), Lost: true})
		}
	}
}
