package discordtest

import (
	"net/http"
	"slices"
	"strconv"
	"time"
)

// Refusals: documentation, "Opcodes and Status Codes", JSON error codes. Rights are a
// matter of the test's, so nothing is wrong with a client that meets them.
func noAccess() *refusal {
	return &refusal{status: http.StatusForbidden, code: 50001, message: "Missing Access", meant: true}
}

func noPermission() *refusal {
	return &refusal{status: http.StatusForbidden, code: 50013, message: "Missing Permissions", meant: true}
}

// channel is the channel of the path, if the bot may do there what the bits say. s.mu
// is held.
func (c *call) channel(needs Permission) (*Channel, *refusal) {
	ch := c.s.people.channels[c.names[0]]
	switch {
	case ch == nil:
		return nil, unknown(10003, "Channel")
	case ch.bot&ViewChannel == 0:
		return nil, noAccess()
	case ch.bot&needs != needs:
		return nil, noPermission()
	}
	return ch, nil
}

// send makes a message in a channel.
func (c *call) send() (int, any, *refusal) {
	s := c.s
	d, no := c.draft(c.json, forChannel)
	if no != nil {
		return 0, nil, no
	}
	needs := SendMessages
	switch {
	case d.flags&flagVoice != 0:
		needs |= SendVoiceMessages
	case len(d.files) > 0:
		needs |= AttachFiles
	}
	s.mu.Lock()
	ch, no := c.channel(needs)
	if no == nil && ch.With != nil && ch.With.shy {
		no = &refusal{status: http.StatusForbidden, code: 50007, message: "Cannot send messages to this user", meant: true}
	}
	if no == nil {
		no = s.refers(ch, d)
	}
	if no != nil {
		s.mu.Unlock()
		return 0, nil, no
	}
	if old := s.store.nonces[d.nonce]; d.unique && d.nonce != "" && old != nil && time.Since(old.At) < s.opt.NonceServes {
		m := old.Message
		s.mu.Unlock()
		return http.StatusOK, s.wire(&m), nil
	}
	r := s.newRecord(ch, d)
	shot := s.fire.answered(ch, d)
	if shot == nil {
		s.addRecord(r)
		s.asked(ch, d).answer(r)
	}
	if d.nonce != "" {
		s.remember(r)
	}
	m := r.Message
	s.note()
	s.mu.Unlock()
	if shot != nil {
		s.hitWords(shot, &m)
	}
	s.echo(&m, ch, false)
	return http.StatusOK, s.wire(&m), nil
}

// remember keeps a message by its nonce. s.mu is held.
func (s *Server) remember(r *record) {
	if len(s.store.nonces) >= s.opt.Keep {
		for nonce, old := range s.store.nonces {
			if time.Since(old.At) > s.opt.NonceServes || len(s.store.nonces) >= 2*s.opt.Keep {
				delete(s.store.nonces, nonce)
			}
		}
	}
	s.store.nonces[r.Nonce] = r
}

// refers checks that the message that is replied to is in the channel. s.mu is held.
func (s *Server) refers(ch *Channel, d *draft) *refusal {
	if d.replyTo == "" {
		return nil
	}
	if e := s.store.events[d.replyTo]; e != nil && e.it == nil && e.Channel == ch {
		return nil
	}
	if r := s.store.records[d.replyTo]; r != nil && r.channel == ch && !r.Deleted && !r.Ephemeral {
		return nil
	}
	if s.fire.words[d.replyTo] != nil {
		return nil
	}
	if d.lenient {
		d.replyTo = ""
		return nil
	}
	f := &form{}
	f.add("message_reference", "MESSAGE_REFERENCE_UNKNOWN_MESSAGE", "Unknown message")
	return f.refusal()
}

// message is the message of the path, as the bot's own token sees it: an ephemeral one
// is unknown to it. s.mu is held.
func (c *call) message(needs Permission) (*Channel, *record, *refusal) {
	ch, no := c.channel(needs)
	if no != nil {
		return nil, nil, no
	}
	r := c.s.store.records[c.names[1]]
	if r != nil && r.channel == ch && !r.Deleted && !r.Ephemeral {
		return ch, r, nil
	}
	no = unknownMessage()
	switch e := c.s.store.events[c.names[1]]; {
	case r != nil && r.Ephemeral:
		no.detail = "an ephemeral message is edited through its interaction's token only"
	case r != nil && r.Deleted:
		no.meant = true // it went without the client's being told
	case e != nil && e.it == nil && e.Channel == ch:
		no = &refusal{status: http.StatusForbidden, code: 50005, message: "Cannot edit a message authored by another user"}
	}
	return nil, nil, no
}

func (c *call) edit() (int, any, *refusal) {
	s := c.s
	d, no := c.draft(c.json, forChannelEdit)
	if no != nil {
		return 0, nil, no
	}
	needs := ViewChannel
	if len(d.files) > 0 {
		needs |= AttachFiles // documentation, "Permissions", from memory: it is for whatever is uploaded
	}
	s.mu.Lock()
	ch, r, no := c.message(needs)
	if no == nil {
		no = s.change(r, d)
	}
	if no != nil {
		s.mu.Unlock()
		return 0, nil, no
	}
	m := r.Message
	s.note()
	s.mu.Unlock()
	s.echo(&m, ch, true)
	return http.StatusOK, s.wire(&m), nil
}

func (c *call) delete() (int, any, *refusal) {
	s := c.s
	s.mu.Lock()
	ch, r, no := c.message(ViewChannel)
	if no != nil {
		s.mu.Unlock()
		return 0, nil, no
	}
	r.Deleted = true
	s.note()
	s.mu.Unlock()
	s.gone(ch, r.ID)
	return http.StatusNoContent, nil, nil
}

func (c *call) getMessage() (int, any, *refusal) {
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	_, r, no := c.message(ViewChannel | ReadMessageHistory)
	if no != nil {
		return 0, nil, no
	}
	return http.StatusOK, c.s.wire(&r.Message), nil
}

// getMessages gives the bot's messages in the channel, newest first: documentation,
// "Message", get channel messages: 1 to 100, 50 unless told. People's are not kept.
func (c *call) getMessages() (int, any, *refusal) {
	f := &form{}
	limit := 50
	if text := c.r.URL.Query().Get("limit"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > 100 {
			f.add("limit", "NUMBER_TYPE_RANGE", "int value should be between 1 and 100. (%s)", text)
			return 0, nil, f.refusal()
		}
		limit = n
	}
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	ch, no := c.channel(ViewChannel)
	if no != nil {
		return 0, nil, no
	}
	all := []wireMessage{}
	for _, r := range slices.Backward(c.s.store.order) {
		if r.channel == ch && !r.Deleted && !r.Ephemeral && len(all) < limit {
			all = append(all, c.s.wire(&r.Message))
		}
	}
	return http.StatusOK, all, nil
}
