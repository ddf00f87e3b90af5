package bot_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"clew/bot"
	"clew/session"
)

// keyKept is for how long a platform knows a post by its key: as bot.Post has it.
const keyKept = 2 * time.Minute

// A hall is the platform that the workers post to, and the clock that all go by. It
// knows all that ever stood in the channels.
type hall struct {
	mu       sync.Mutex
	clock    time.Time
	messages []*standing
	shows    map[string][]time.Time // by channel: when a board was posted or edited there
	tries    int                    // edits of what is gone
}

// A standing is a message, and what stands or stood there last.
type standing struct {
	id   string
	post bot.Post
	at   time.Time // when it was posted
	gone bool
}

// boardStarts is how a board begins.
const boardStarts = "This is how far everybody has come in "

func (s *standing) board() bool { return strings.HasPrefix(s.post.Texts[0], boardStarts) }

func (h *hall) now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.clock
}

func (h *hall) advance(by time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.clock = h.clock.Add(by)
}

// serve does what a worker does in a channel, and gives the reply.
func (h *hall) serve(n note) note {
	h.mu.Lock()
	defer h.mu.Unlock()
	reply := note{Kind: n.Kind, Seq: n.Seq, Now: h.clock}
	switch n.Kind {
	case postNote:
		reply.Message = h.post(*n.Post).id
	case editNote:
		m := h.find(n.Message)
		if m == nil || m.gone {
			h.tries++
			reply.Gone = true
			break
		}
		key := m.post.Key
		m.post = *n.Post
		m.post.Key = key
		h.note(m)
	case removeNote:
		if m := h.find(n.Message); m != nil {
			m.gone = true
		}
	}
	return reply
}

func (h *hall) post(p bot.Post) *standing {
	known := slices.IndexFunc(h.messages, func(m *standing) bool {
		return p.Key != "" && m.post.Key == p.Key && m.post.Channel == p.Channel && h.clock.Sub(m.at) < keyKept
	})
	if known >= 0 {
		return h.messages[known]
	}
	m := &standing{id: fmt.Sprint("m", len(h.messages)+1), post: p, at: h.clock}
	h.messages = append(h.messages, m)
	h.note(m)
	return m
}

// note notes when a board was shown.
func (h *hall) note(m *standing) {
	if m.board() {
		h.shows[m.post.Channel] = append(h.shows[m.post.Channel], h.clock)
	}
}

func (h *hall) find(message string) *standing {
	for _, m := range h.messages {
		if m.id == message {
			return m
		}
	}
	return nil
}

// standingIn gives the messages that stand in a channel: its boards, or the others.
func (h *hall) standingIn(channel string, boards bool) []standing {
	h.mu.Lock()
	defer h.mu.Unlock()
	var found []standing
	for _, m := range h.messages {
		if m.post.Channel == channel && !m.gone && m.board() == boards {
			found = append(found, *m)
		}
	}
	return found
}

// deleteBoard deletes a channel's board, as somebody does who may; "" where there is
// none.
func (h *hall) deleteBoard(channel string) (message string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, m := range h.messages {
		if m.post.Channel == channel && !m.gone && m.board() {
			m.gone = true
			message = m.id
		}
	}
	return message
}

// spaced tells of boards that were shown too soon after one another.
func (h *hall) spaced() (found []string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for channel, shows := range h.shows {
		for i := 1; i < len(shows); i++ {
			if apart := shows[i].Sub(shows[i-1]); apart < session.BoardSpacing {
				found = append(found, fmt.Sprintf("in %s a board was shown %s after it was last, at %s", channel, apart, shows[i]))
			}
		}
	}
	return found
}
