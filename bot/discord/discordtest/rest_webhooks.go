package discordtest

import (
	"net/http"
	"time"
)

// through checks that the path's token is of an interaction that was answered and still
// serves: documentation, "Receiving and Responding", followup messages.
func (c *call) through() *refusal {
	it, s := c.it, c.s
	if it == nil || c.names[0] != s.app {
		return unknown(10015, "Webhook")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if time.Since(it.at) > s.opt.TokenServes {
		return &refusal{status: http.StatusUnauthorized, code: 50027, message: "Invalid Webhook Token",
			detail: "the interaction is older than " + s.opt.TokenServes.String()}
	}
	if it.answered == 0 {
		no := unknown(10015, "Webhook")
		no.detail = "the interaction has had no first answer yet"
		return no
	}
	return nil
}

// own finds a message that was made through the path's token; s.mu is held.
func (c *call) own() *record {
	it := c.it
	if c.names[2] == "@original" {
		if it.original != nil && it.original.Deleted {
			return nil
		}
		return it.original
	}
	if r := it.original; r != nil && r.ID == c.names[2] && !r.Deleted {
		return r
	}
	if r := c.s.store.records[c.names[2]]; r != nil && r.owner == it && !r.Deleted {
		return r
	}
	return nil
}

// followUp sends a further message. The first one after a deferral fills that in.
func (c *call) followUp() (int, any, *refusal) {
	if no := c.through(); no != nil {
		return 0, nil, no
	}
	d, no := c.draft(c.json, forFollowUp)
	if no != nil {
		return 0, nil, no
	}
	it, s := c.it, c.s
	ephemeral := d.flags&flagEphemeral != 0
	fresh := s.newRecord(it.channel, d)
	fresh.owner, fresh.owned = it, true
	if ephemeral {
		fresh.Ephemeral, fresh.to = true, it.person
	}
	s.mu.Lock()
	r, fills := fresh, false
	if o := it.original; o != nil && o.Loading && !o.Deleted {
		// From memory: the documentation says of a deferral that the follow-up edits it.
		if ephemeral != o.Ephemeral {
			s.seen.wrongly("%s: the first follow-up fills the deferral in, whose being ephemeral (%t) can't change", c.name(), o.Ephemeral)
		}
		d.flags &^= flagEphemeral
		s.fill(o, d)
		o.Loading = false
		o.Flags &^= flagLoading
		r, fills = o, true
	} else if it.shot == nil {
		s.addRecord(r)
	}
	it.event.answer(r)
	m := r.Message
	s.note()
	s.mu.Unlock()
	if fills {
		s.filled(it, &m)
	}
	s.echo(&m, it.channel, fills)
	return http.StatusOK, s.wire(&m), nil
}

func (c *call) getAnswer() (int, any, *refusal) {
	if no := c.through(); no != nil {
		return 0, nil, no
	}
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	r := c.own()
	if r == nil {
		return 0, nil, unknownMessage()
	}
	return http.StatusOK, c.s.wire(&r.Message), nil
}

// editAnswer edits an answer, or fills a deferral in.
func (c *call) editAnswer() (int, any, *refusal) {
	if no := c.through(); no != nil {
		return 0, nil, no
	}
	d, no := c.draft(c.json, forAnswerEdit)
	if no != nil {
		return 0, nil, no
	}
	it, s := c.it, c.s
	s.mu.Lock()
	r := c.own()
	if r == nil {
		s.mu.Unlock()
		return 0, nil, unknownMessage()
	}
	fills := r.Loading
	if no := s.change(r, d); no != nil {
		s.mu.Unlock()
		return 0, nil, no
	}
	it.event.answer(r)
	m := r.Message
	s.note()
	s.mu.Unlock()
	if fills {
		s.filled(it, &m)
	}
	s.echo(&m, it.channel, true)
	return http.StatusOK, s.wire(&m), nil
}

// change edits a message. s.mu is held.
func (s *Server) change(r *record, d *draft) *refusal {
	after := *r
	if r.Flags&flagV2 != 0 && (d.content != nil && *d.content != "" || len(d.embeds) > 0) {
		f := &form{}
		f.add("content", "MESSAGE_CANNOT_USE_LEGACY_FIELDS_WITH_COMPONENTS_V2", "IS_COMPONENTS_V2 can't be undone")
		return f.refusal()
	}
	if r.Flags&flagVoice != 0 {
		return &refusal{status: http.StatusBadRequest, code: 50173, message: "Cannot edit a voice message"}
	}
	s.fill(&after, d)
	if !after.shows() && !d.other {
		return emptyMessage()
	}
	if len(after.Files) > mostFiles {
		return &refusal{status: http.StatusBadRequest, code: 30015, message: "Maximum number of attachments in a message reached (10)"}
	}
	if r.Loading {
		after.Loading = false
		after.Flags &^= flagLoading
	} else {
		after.Edits++
		after.edited = time.Now()
	}
	*r = after
	return nil
}

func (c *call) deleteAnswer() (int, any, *refusal) {
	if no := c.through(); no != nil {
		return 0, nil, no
	}
	c.s.mu.Lock()
	defer c.s.mu.Unlock()
	r := c.own()
	if r == nil {
		return 0, nil, unknownMessage()
	}
	r.Deleted = true
	c.s.note()
	return http.StatusNoContent, nil, nil
}
