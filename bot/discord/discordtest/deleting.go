package discordtest

// Remove deletes messages of one channel as a moderator would, the bot's or
// people's: one alone, or several at once, as the platform lets up to 100 go
// (documentation, "Message", bulk delete messages).
func (s *Server) Remove(messageIDs ...string) {
	s.helper()
	var ch *Channel
	s.mu.Lock()
	for _, id := range messageIDs {
		in := s.store.channelOf(id)
		if in == nil || ch != nil && in != ch {
			s.mu.Unlock()
			s.fail("there is no message %s, or not in the channel of those before it", id)
			return
		}
		ch = in
	}
	for _, id := range messageIDs {
		if r := s.store.records[id]; r != nil {
			r.Deleted = true
		}
	}
	s.note()
	s.mu.Unlock()
	s.gone(ch, messageIDs...)
}

// channelOf is the channel of a message, of the bot's or of somebody's; nil where
// there is none such. Server.mu is held.
func (st *store) channelOf(id string) *Channel {
	if r := st.records[id]; r != nil && !r.Deleted {
		return r.channel
	}
	if e := st.events[id]; e != nil && e.it == nil {
		return e.Channel
	}
	return nil
}

// gone dispatches that messages were deleted: documentation, "Gateway Events",
// message delete and message delete bulk. Neither says whose they were.
func (s *Server) gone(ch *Channel, ids ...string) {
	kind, d := "MESSAGE_DELETE", map[string]any{"channel_id": ch.ID}
	if len(ids) == 1 {
		d["id"] = ids[0]
	} else {
		kind, d["ids"] = "MESSAGE_DELETE_BULK", ids
	}
	if ch.Guild != nil {
		d["guild_id"] = ch.Guild.ID
	}
	s.deliver(&happening{kind: kind, intent: messageIntent(ch), guild: ch.guildID(), whole: marshal(d)})
}
