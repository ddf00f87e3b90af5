package gateway

import (
	"context"
	"errors"
	"strings"
	"time"
)

// shard keeps one shard connected.
type shard struct {
	id      int
	options Options
	pace    *pace
	handler Handler
}

func newShard(id int, o Options, p *pace, h Handler) *shard {
	return &shard{id: id, options: o, pace: p, handler: h}
}

// run connects, again and again, until ctx ends (nil) or it would be of no use.
func (s *shard) run(ctx context.Context) *Fatal {
	timing := s.options.Timing
	var l *link
	defer func() {
		if l != nil {
			l.end()
		}
	}()
	for tries := 0; ; tries++ {
		if l == nil {
			var err error
			if l, err = newLink(s.id, s.options, s.handler); err != nil {
				return &Fatal{Sentence: "The library takes no such token: " + err.Error() + "."}
			}
		}
		lasted, err := s.connect(ctx, l)
		if ctx.Err() != nil {
			return nil
		}
		if fatal := s.options.fatal(err); fatal != nil {
			return fatal
		}
		if lasted >= timing.Steady {
			tries = 0
		}
		pause := s.pause(tries, err)
		s.tell(err, lasted, pause, l.usable())
		if !l.usable() {
			l.end()
			l = nil
		}
		if timing.Sleep(ctx, pause) != nil {
			return nil
		}
	}
}

// connect opens one connection and returns when it is closed: how long it was
// up, and why it ended.
func (s *shard) connect(ctx context.Context, l *link) (lasted time.Duration, err error) {
	var t *ticket
	if l.begins() {
		if t, err = s.pace.take(ctx, s.id); err != nil {
			return 0, err
		}
		defer t.giveBack()
	}
	err = l.open(ctx, t)
	if t != nil {
		t.giveBack()
	}
	if err == nil {
		lasted, err = s.watch(ctx, l)
	}
	if ctx.Err() != nil {
		l.close(closeNormal)
	} else {
		l.close(closeKeeping)
	}
	return lasted, err
}

// watch waits until the connection should be closed, or is.
func (s *shard) watch(ctx context.Context, l *link) (lasted time.Duration, why error) {
	timing := s.options.Timing
	wire, up, invalid := l.connection()
	limit := time.NewTimer(timing.Ready)
	defer limit.Stop()
	select {
	case <-up:
	case <-invalid:
		return 0, errInvalid
	case <-wire.closed:
		return 0, errLost
	case <-limit.C:
		return 0, errUnready
	case <-ctx.Done():
		return 0, ctx.Err()
	}
	s.options.Log.Info().Int("shard", s.id).Msg("connected to the gateway")

	since := timing.Now()
	defer func() { lasted = timing.Now().Sub(since) }()
	// By the clock from which the library takes the times.
	beats := newAcks(timing.Heartbeat, time.Now())
	look := time.NewTicker(max(time.Millisecond, min(500*time.Millisecond, timing.Heartbeat/20)))
	defer look.Stop()
	for {
		select {
		case <-look.C:
			if at, ok := l.acked(); ok {
				beats.saw(at)
			}
			if beats.overdue(time.Now()) {
				return 0, errSilent
			}
		case <-invalid:
			return 0, errInvalid
		case <-wire.closed:
			return 0, errLost
		case <-ctx.Done():
			return 0, ctx.Err()
		}
	}
}

// pause is how long to wait before the next try: half of it and more by
// chance, so that the shards and bots that were cut off together do not all
// come back at once. Even the shortest is long enough for a heartbeat of the
// library's that was under way to find its connection gone, and not to close
// the next one.
func (s *shard) pause(tries int, err error) time.Duration {
	timing := s.options.Timing
	d := timing.Most
	if tries < 30 {
		d = min(d, timing.Least<<tries)
	}
	d = d/2 + share(d/2, timing.Random())
	if errors.Is(err, errInvalid) {
		// Discord's developer documentation, "Resuming", of invalid
		// sessions: wait one to five seconds, at random, then identify.
		d = max(d, timing.Hold/5+share(timing.Hold*4/5, timing.Random()))
	}
	return d
}

func share(d time.Duration, part float64) time.Duration { return time.Duration(float64(d) * part) }

func (s *shard) tell(err error, lasted, pause time.Duration, resumes bool) {
	line := s.options.Log.Info()
	if lasted == 0 {
		line = s.options.Log.Warn()
	}
	line.Int("shard", s.id).Str("error", brief(err)).Dur("up", lasted).Dur("pause", pause).Bool("resume", resumes).
		Msg("not connected to the gateway: trying again after a pause")
}

// brief is an error's text without the rest of a page that came with it.
func brief(err error) string {
	const limit = 300
	text := err.Error()
	if len(text) > limit {
		text = strings.ToValidUTF8(text[:limit], "") + " ..."
	}
	return text
}
