package bot_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"clew/bot"
	"clew/session"
)

// A quayside is a platform's channels, kept in memory. It checks what it is given.
type quayside struct {
	t     *testing.T
	clock func() time.Time

	mu       sync.Mutex
	messages map[string]bot.Post // by the message's name
	keys     map[string]string   // message by key
	posts    int
	edits    []time.Time
	order    []string // "post board", "edit", "announce", "remove"
	fail     error    // what posting and editing fail with
	after    func()   // is done once a post stands there
}

func newQuayside(h *house, t *testing.T) *quayside {
	return &quayside{t: t, clock: func() time.Time { return h.clock }, messages: map[string]bot.Post{}, keys: map[string]string{}}
}

func (q *quayside) check(ctx context.Context, p bot.Post) {
	if deadline, ok := ctx.Deadline(); !ok || time.Until(deadline) > session.AnnounceLease || p.Picture != nil && time.Until(deadline) > session.BoardSpacing {
		q.t.Error("a call to a channel may take longer than its claim lasts")
	}
	if len(p.Texts) == 0 || p.Channel != "quay" || p.Knitalong == "" {
		q.t.Errorf("a post is without texts or goes elsewhere: %+v", p)
	}
}

func (q *quayside) Post(ctx context.Context, p bot.Post) (string, error) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.check(ctx, p)
	if p.Key == "" || len(p.Key) > 25 {
		q.t.Errorf("the key of a post is %q", p.Key)
	}
	if q.fail != nil {
		q.order = append(q.order, "failed")
		return "", q.fail
	}
	if message, ok := q.keys[p.Key]; ok {
		q.order = append(q.order, "again")
		return message, nil
	}
	q.posts++
	message := fmt.Sprintf("m%d", q.posts)
	q.messages[message], q.keys[p.Key] = p, message
	if p.Picture == nil {
		q.order = append(q.order, "announce")
	} else {
		q.order, q.edits = append(q.order, "post"), append(q.edits, q.clock())
	}
	if q.after != nil {
		q.after()
	}
	return message, nil
}

func (q *quayside) Edit(ctx context.Context, message string, p bot.Post) error {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.check(ctx, p)
	if q.fail != nil {
		q.order = append(q.order, "failed")
		return q.fail
	}
	if _, ok := q.messages[message]; !ok {
		q.order = append(q.order, "gone")
		return bot.ErrGone
	}
	q.messages[message] = p
	q.order, q.edits = append(q.order, "edit"), append(q.edits, q.clock())
	return nil
}

func (q *quayside) Remove(_ context.Context, channel, message string) error {
	q.mu.Lock()
	defer q.mu.Unlock()
	if channel != "quay" {
		q.t.Errorf("a message is removed from %q", channel)
	}
	delete(q.messages, message)
	q.order = append(q.order, "remove")
	return nil
}

// said gives what happened since it was last asked.
func (q *quayside) said() string {
	q.mu.Lock()
	defer q.mu.Unlock()
	said := strings.Join(q.order, " ")
	q.order = nil
	return said
}

// boards gives the texts of the boards that stand there.
func (q *quayside) boards() []string {
	q.mu.Lock()
	defer q.mu.Unlock()
	var boards []string
	for _, p := range q.messages {
		if p.Picture != nil {
			boards = append(boards, p.Texts[0])
		}
	}
	return boards
}
