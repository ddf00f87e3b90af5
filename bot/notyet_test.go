package bot

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/rs/zerolog"

	"clew/session"
)

// busy lets all that is made of a kind wait until the test ends, and gives a
// context that has ended.
func busy[K comparable, V any](t *testing.T, k *kept[K, V], keys ...K) context.Context {
	release, done := make(chan struct{}), make(chan struct{}, len(keys))
	for _, key := range keys {
		k.mu.Lock()
		k.begin(t.Context(), key, func(context.Context) (none V, err error) {
			<-release
			done <- struct{}{}
			return none, errors.New("never made")
		})
		k.mu.Unlock()
	}
	t.Cleanup(func() {
		close(release)
		for range keys {
			<-done
		}
	})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	return ctx
}

// Whoever has waited as long as she may for something to be reckoned or drawn
// hears that, and loses nothing. A row that she asked for is told without it.
func TestNotYet(t *testing.T) {
	b := New(nil, time.Now, func() string { return "f1" }, zerolog.Nop())
	p := planFrom(t, "A4 B8")
	w := &talk{Bot: b, plan: p, at: session.Place{Section: "A", Row: 1}}
	reckoning := busy(t, &b.reckoned, reckoning{what: "one"}, reckoning{what: "two"})
	if _, err := w.offers(reckoning); !errors.Is(err, errNotYet) {
		t.Errorf("found %v, expected %v", err, errNotYet)
	}
	if r, err := w.refuseFit(errNotYet); err != nil || r.Said != notReckoned || len(r.Choices) == 0 {
		t.Errorf("found %q (%v), expected %q", r.Said, err, notReckoned)
	}
	drawing := busy(t, &b.pictures, view{panel: "one"}, view{panel: "two"})
	if r, err := w.picture(drawing); err != nil || r.Picture != nil || r.Said != notDrawn {
		t.Errorf("found %q (%v), expected %q", r.Said, err, notDrawn)
	}
}
