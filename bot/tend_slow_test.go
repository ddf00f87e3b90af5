package bot_test

import (
	"context"
	"testing"
	"time"

	"clew/bot"
	"clew/session"
)

// A slow is channels of which one takes a post and does not return before it is let
// go.
type slow struct {
	began, let chan struct{}
	posted     chan string // the knit-alongs whose posts returned
}

func (s *slow) Post(_ context.Context, p bot.Post) (string, error) {
	if p.Knitalong == "quay" {
		s.began <- struct{}{}
		<-s.let
	}
	s.posted <- p.Knitalong
	return "m", nil
}

func (*slow) Edit(context.Context, string, bot.Post) error { return nil }
func (*slow) Remove(context.Context, string, string) error { return nil }

// A channel that is slow keeps none but itself waiting, and is not tended twice.
func TestSlowChannel(t *testing.T) {
	h := newHouse(t)
	id := gather(t, h)
	s := &slow{began: make(chan struct{}, 9), let: make(chan struct{}), posted: make(chan string, 9)}
	first := make(chan struct{})
	go func() {
		defer close(first)
		h.Tend(t.Context(), "terminal", s)
	}()
	<-s.began
	pier := session.About{ID: "pier", Title: "Pier Lights", Host: ottil, Server: "town", Channel: "pier", Started: h.clock, Sessions: []session.Session{
		{Number: 1, Title: "All of it", First: session.RowID{Section: "Brim", Row: 1}, Last: session.RowID{Section: "Crown", Row: 6}, Opens: h.clock},
	}}
	if err := h.store.Start(t.Context(), pier, pattern(t, "quay-cap")); err != nil {
		t.Fatal(err)
	}
	h.Tend(t.Context(), "terminal", s) // it returns though the other does not
	if n := len(s.began); n > 0 || len(s.posted) != 1 || <-s.posted != "pier" {
		t.Errorf("the slow channel was begun %d times more, expected the other to be served alone", n)
	}
	close(s.let)
	<-first
	if found := <-s.posted; found != id {
		t.Errorf("found %s, expected %s", found, id)
	}
}

// A host who opens a session is not kept waiting by a channel that has failed.
func TestOpeningWakes(t *testing.T) {
	h := newHouse(t)
	q := newQuayside(h, t)
	gather(t, h)
	q.fail = bot.ErrNoChannel
	h.Tend(t.Context(), "terminal", q)
	q.said()
	q.fail = nil
	h.clock = h.clock.Add(time.Minute)
	h.Tend(t.Context(), "terminal", q)
	expect(t, "while it rests", q.said(), "")
	h.directs(t, bot.Open, "o")
	h.Tend(t.Context(), "terminal", q)
	expect(t, "once a host has opened a session", q.said(), "announce announce")
}
