package rest

import (
	"context"
	"math"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// The limit of the whole bot (Discord's developer documentation, Rate Limits:
// "All bots can make up to 50 requests per second to our API").
const (
	globalCalls  = 50
	globalWindow = time.Second
)

// fewBuckets is how many limits are remembered before it is worth looking for
// those that say nothing any more.
const fewBuckets = 1024

// limiter lets calls through as the platform's limits allow. discordgo's own
// can't be made to: it holds a bucket locked while a call lasts, so that one
// slow answer delays all others to the channel; it sleeps on when the context
// has ended; it stops nothing else when the limit of the whole bot is hit; and
// it forgets no bucket, of which every interaction makes several.
//
// A limit that is not known yet holds nobody up: the platform's first answer tells it.
type limiter struct {
	mu      sync.Mutex
	buckets map[string]*bucket
	many    int                    // how many buckets start the next clearing
	sent    [globalCalls]time.Time // when the last calls under the bot's limit were let through: a ring
	oldest  int                    // in sent
	paused  time.Time              // until then nothing under the bot's limit is let through
}

// bucket is one limit of the platform's, for the routes that share it.
type bucket struct {
	key    string
	users  int           // calls that wait or are on their way
	limit  int           // calls in a window; 0 is not known
	used   int           // of them
	reset  time.Time     // when the next window begins
	length time.Duration // of a window, as far as is known
	window int           // which this is, counted from 0
	told   bool          // an answer of this window has come
	paused time.Time     // until then nothing is let through
}

// pass is a call's leave to go.
type pass struct {
	bucket *bucket
	window int
}

func newLimiter() *limiter {
	return &limiter{buckets: map[string]*bucket{}, many: fewBuckets}
}

// enter waits until a call may go. The pass is given back by leave. Where the
// context won't last until then the error says so at once, with status 429.
func (l *limiter) enter(ctx context.Context, r *request) (pass, *Error) {
	b := l.join(r.bucket)
	for {
		if err := ctx.Err(); err != nil {
			l.quit(b)
			return pass{}, broken(r, err)
		}
		p, wait, global := l.take(b, r.free)
		if wait <= 0 {
			return p, nil
		}
		if !lasts(ctx, wait) {
			l.quit(b)
			return pass{}, &Error{Status: http.StatusTooManyRequests, Route: r.name, Global: global, RetryAfter: wait,
				Message: "held back, since the limit is used up"}
		}
		_ = sleep(ctx, wait) // the loop looks at the context
	}
}

func (l *limiter) join(key string) *bucket {
	l.mu.Lock()
	defer l.mu.Unlock()
	b := l.buckets[key]
	if b == nil {
		if len(l.buckets) >= l.many {
			l.clear(time.Now())
		}
		b = &bucket{key: key}
		l.buckets[key] = b
	}
	b.users++
	return b
}

// clear forgets the buckets that hold nobody up. As it is put off until there
// are twice as many as were worth keeping, each call bears a fixed share of it.
func (l *limiter) clear(now time.Time) {
	for key, b := range l.buckets {
		if b.users == 0 && !now.Before(b.reset) && !now.Before(b.paused) {
			delete(l.buckets, key)
		}
	}
	l.many = max(fewBuckets, 2*len(l.buckets))
}

// take counts a call, or says how long to wait before asking again, and
// whether for the limit of the whole bot.
func (l *limiter) take(b *bucket, free bool) (p pass, wait time.Duration, global bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	if b.limit > 0 && !now.Before(b.reset) {
		b.used, b.told = 0, false
		b.window++
		b.reset = now.Add(b.length)
	}
	wait = b.paused.Sub(now)
	if b.limit > 0 && b.used >= b.limit {
		wait = max(wait, b.reset.Sub(now))
	}
	if !free {
		whole := max(l.paused.Sub(now), l.sent[l.oldest].Add(globalWindow).Sub(now))
		global = whole > wait
		wait = max(wait, whole)
	}
	if wait > 0 {
		return pass{}, wait, global
	}
	b.used++
	if !free {
		l.sent[l.oldest] = now
		l.oldest = (l.oldest + 1) % globalCalls
	}
	return pass{bucket: b, window: b.window}, 0, false
}

// quit is for a call that was not let through.
func (l *limiter) quit(b *bucket) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.release(b)
}

func (l *limiter) release(b *bucket) {
	b.users--
	if b.users == 0 && b.limit == 0 && !time.Now().Before(b.paused) {
		delete(l.buckets, b.key)
	}
}

// leave ends a call and takes in what the answer told of the limits: header
// is nil where none came, refused is nil where it was no refusal.
func (l *limiter) leave(p pass, header http.Header, refused *Error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	b, now := p.bucket, time.Now()
	if header != nil {
		b.learn(p.window, header, now)
	}
	if refused != nil && refused.Status == http.StatusTooManyRequests {
		until := now.Add(refused.RetryAfter)
		if refused.Global {
			l.paused = later(l.paused, until)
		}
		b.paused = later(b.paused, until)
	}
	l.release(b)
}

// learn takes in the headers of an answer. Answers overtake each other, so
// within a window a count of calls left only ever lowers what is left. The
// window's first answer tells when it ends: late by the answer's time on the
// way, and so never too soon.
func (b *bucket) learn(window int, header http.Header, now time.Time) {
	limit, err := strconv.Atoi(header.Get("X-RateLimit-Limit"))
	left, err2 := strconv.Atoi(header.Get("X-RateLimit-Remaining"))
	if err != nil || err2 != nil || limit < 1 || window != b.window {
		return
	}
	if b.limit == 0 {
		b.used = b.users // all are on their way: a limit not known holds nobody
	}
	b.limit = limit
	b.used = max(b.used, limit-left)
	if !b.told {
		after := headerSeconds(header, "X-RateLimit-Reset-After")
		b.told, b.length, b.reset = true, after, now.Add(after)
	}
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// longest is the most that is believed of a time that the platform names.
const longest = 24 * time.Hour

func seconds(s float64) time.Duration {
	if !(s > 0) { // nor is it NaN
		return 0
	}
	return time.Duration(math.Round(min(s, longest.Seconds()) * float64(time.Second))) // cut off, it would be too soon
}

func headerSeconds(h http.Header, name string) time.Duration {
	s, err := strconv.ParseFloat(h.Get(name), 64)
	if err != nil {
		return 0
	}
	return seconds(s)
}

// lasts says whether the context goes on for longer than d.
func lasts(ctx context.Context, d time.Duration) bool {
	deadline, bounded := ctx.Deadline()
	return !bounded || time.Until(deadline) > d
}

// sleep waits for d, or less where the context ends.
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
