package discord

import (
	"sync"

	"clew/bot"
	"clew/reader/listen"
)

// withheldMost is how many answers are kept back at most, and withheldBytes what
// their pictures may take. A member presses the button within minutes, or asks
// anew.
const (
	withheldMost  = 1000
	withheldBytes = 8 << 20
)

// withheld keeps answers that could not be given in private, for those who
// press the button that shows them. The zero value is ready.
type withheld struct {
	mu      sync.Mutex
	replies map[withheldKey]bot.Reply
	order   []withheldKey // oldest first
	bytes   int           // of the pictures
}

type withheldKey struct{ user, event string }

// keep keeps an answer; with too many, the oldest are dropped.
func (w *withheld) keep(key withheldKey, reply bot.Reply) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.replies == nil {
		w.replies = map[withheldKey]bot.Reply{}
	}
	old, again := w.replies[key]
	if !again {
		w.order = append(w.order, key)
	}
	w.bytes += pictureBytes(reply) - pictureBytes(old)
	w.replies[key] = reply
	for len(w.order) > withheldMost || w.bytes > withheldBytes {
		w.bytes -= pictureBytes(w.replies[w.order[0]])
		delete(w.replies, w.order[0])
		w.order = w.order[1:]
	}
}

func pictureBytes(reply bot.Reply) int {
	if reply.Picture == nil {
		return 0
	}
	return len(reply.Picture.PNG)
}

func (w *withheld) get(key withheldKey) (bot.Reply, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	reply, ok := w.replies[key]
	return reply, ok
}

// hearIt is the choice to hear the answer to an event that was kept back. Once
// that is not kept any more, and for anybody else, it reads the row again.
func hearIt(event string) bot.Choice {
	return bot.Choice{Label: "Hear it", Intent: listen.Again, Value: event}
}
