package gateway

import (
	"context"
	"math/rand/v2"
	"time"
)

// Timing is how long things may take, and the clock that pauses go by. A field
// that is zero has the value given with it.
type Timing struct {
	Dial  time.Duration // to connect and shake hands: 10 s
	Open  time.Duration // from asking for the address to the platform's first event: 20 s
	Ready time.Duration // from there until the shard is taken on, where other events came first: 10 s
	Close time.Duration // for the library to close a connection; it takes 1 s itself: 3 s

	Heartbeat time.Duration // between heartbeats, until their acknowledgements have shown it: 41.25 s

	Identify time.Duration // between identifies of the same rate limit key: 5 s
	Hold     time.Duration // longest pause before identifying again after an invalid session, a fifth being the shortest: 5 s

	Least  time.Duration // pause before the first try again, doubled with each, up to half of it being left to chance: 500 ms
	Most   time.Duration // longest pause between tries: 60 s
	Steady time.Duration // how long a connection must last before Least counts again: 60 s

	Now    func() time.Time                                 // time.Now
	Sleep  func(ctx context.Context, d time.Duration) error // pauses, or gives ctx's error as soon as it ends
	Random func() float64                                   // from 0 up to, but not, 1
}

func (t Timing) withDefaults() Timing {
	for _, d := range []struct {
		field *time.Duration
		usual time.Duration
	}{
		{&t.Dial, 10 * time.Second},
		{&t.Open, 20 * time.Second},
		{&t.Ready, 10 * time.Second},
		{&t.Close, 3 * time.Second},
		// The interval that the platform gives; its documentation's example
		// and what its gateway sends, from memory.
		{&t.Heartbeat, 41250 * time.Millisecond},
		{&t.Identify, 5 * time.Second},
		{&t.Hold, 5 * time.Second},
		{&t.Least, 500 * time.Millisecond},
		{&t.Most, time.Minute},
		{&t.Steady, time.Minute},
	} {
		if *d.field == 0 {
			*d.field = d.usual
		}
	}
	if t.Now == nil {
		t.Now = time.Now
	}
	if t.Sleep == nil {
		t.Sleep = sleep
	}
	if t.Random == nil {
		t.Random = rand.Float64
	}
	return t
}

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
