package discordtest

import (
	"fmt"
	"hash/fnv"
	"math"
	"net/http"
	"strconv"
	"time"
)

const (
	// Documentation, "Rate Limits", invalid request limit.
	mostInvalid   = 10_000
	invalidWindow = 10 * time.Minute
)

// limits are the rate limits. Server.mu guards it.
type limits struct {
	rules   map[Route]rule
	buckets map[string]*bucket
	until   map[Route]time.Time // the routes that answer with 429
	global  time.Time           // until when everything with the bot's token does

	second  time.Time // when the second began in which requests are counted
	used    int
	window  time.Time // when the ten minutes began in which refused requests are counted
	invalid int
}

type rule struct {
	n      int
	window time.Duration
}

type bucket struct {
	used  int
	reset time.Time
}

func (l *limits) init() {
	l.rules, l.buckets, l.until = map[Route]rule{}, map[string]*bucket{}, map[Route]time.Time{}
}

// RateLimit answers the route's requests with 429 until retryAfter has passed.
func (s *Server) RateLimit(r Route, retryAfter time.Duration) {
	s.set(func() { s.limits.until[r] = time.Now().Add(retryAfter) })
}

// RateLimitGlobal answers all requests that the global limit binds (those with the
// bot's token, not those of an interaction's) with 429 until retryAfter has passed.
func (s *Server) RateLimitGlobal(retryAfter time.Duration) {
	s.set(func() { s.limits.global = time.Now().Add(retryAfter) })
}

// Limit gives the route a bucket of n requests every window, one bucket a channel,
// webhook or interaction; n 0 ends it.
func (s *Server) Limit(r Route, n int, window time.Duration) {
	s.set(func() {
		delete(s.limits.rules, r)
		if n > 0 {
			s.limits.rules[r] = rule{n, window}
		}
		clear(s.limits.buckets)
	})
}

// limited counts the request, and refuses it past a limit: documentation, "Rate Limits".
func (c *call) limited() *refusal {
	s := c.s
	s.mu.Lock()
	defer s.mu.Unlock()
	l, now := &s.limits, time.Now()
	if c.route.bot {
		if wait := l.globally(now, s.opt.PerSecond); wait > 0 {
			return tooMany(wait, true)
		}
	}
	for _, r := range []Route{c.route.route, AnyRoute} {
		if wait := l.until[r].Sub(now); wait > 0 {
			return tooMany(wait, false)
		}
	}
	rl, is := l.rules[c.route.route]
	if !is {
		return nil
	}
	b := l.bucket(c.bucketKey(), rl, now)
	if b.used++; b.used > rl.n {
		return tooMany(b.reset.Sub(now), false)
	}
	return nil
}

// globally is how long the global limit refuses the request.
func (l *limits) globally(now time.Time, perSecond int) time.Duration {
	if wait := l.global.Sub(now); wait > 0 {
		return wait
	}
	if perSecond <= 0 {
		return 0
	}
	if now.Sub(l.second) >= time.Second {
		l.second, l.used = now, 0
	}
	if l.used++; l.used > perSecond {
		return l.second.Add(time.Second).Sub(now)
	}
	return 0
}

func (l *limits) bucket(key string, rl rule, now time.Time) *bucket {
	b := l.buckets[key]
	if b == nil || !now.Before(b.reset) {
		if len(l.buckets) > 10_000 {
			clear(l.buckets) // memory stays bounded; what it costs is a window begun anew
		}
		b = &bucket{reset: now.Add(rl.window)}
		l.buckets[key] = b
	}
	return b
}

// bucketKey is the route and its top-level resource: channel, or webhook with token.
func (c *call) bucketKey() string {
	key := string(c.route.route)
	if len(c.names) > 0 {
		key += " " + c.names[0]
	}
	if c.it != nil {
		key += " " + c.it.id
	}
	return key
}

// tooMany is the answer 429: documentation, "Rate Limits", exceeding a rate limit; from
// memory.
func tooMany(wait time.Duration, global bool) *refusal {
	seconds := math.Ceil(wait.Seconds()*1000) / 1000
	h := http.Header{}
	h.Set("Retry-After", strconv.Itoa(int(math.Ceil(seconds))))
	h.Set("X-RateLimit-Scope", "user")
	if global {
		h.Set("X-RateLimit-Global", "true")
		h.Set("X-RateLimit-Scope", "global")
	}
	text := fmt.Sprintf(`{"message": "You are being rate limited.", "retry_after": %.3f, "global": %t}`, seconds, global)
	return &refusal{status: http.StatusTooManyRequests, object: []byte(text), meant: true, header: h}
}

// headers writes the bucket's headers: documentation, "Rate Limits", header format; from
// memory.
func (c *call) headers(h http.Header) {
	if c.route == nil || h.Get("X-RateLimit-Global") != "" {
		return
	}
	s := c.s
	s.mu.Lock()
	defer s.mu.Unlock()
	now, reset, limit, remaining := time.Now(), time.Time{}, 0, 0
	if rl, is := s.limits.rules[c.route.route]; is {
		b := s.limits.bucket(c.bucketKey(), rl, now)
		reset, limit, remaining = b.reset, rl.n, max(rl.n-b.used, 0)
	}
	for _, r := range []Route{c.route.route, AnyRoute} {
		if until := s.limits.until[r]; until.After(now) && h.Get("Retry-After") != "" {
			reset, limit, remaining = until, max(limit, 1), 0
		}
	}
	if limit == 0 {
		return
	}
	name := fnv.New64a()
	_, _ = name.Write([]byte(c.route.route)) // a hash takes all
	after := max(reset.Sub(now), 0)
	h.Set("X-RateLimit-Limit", strconv.Itoa(limit))
	h.Set("X-RateLimit-Remaining", strconv.Itoa(remaining))
	h.Set("X-RateLimit-Reset", fmt.Sprintf("%.3f", float64(reset.UnixMilli())/1000))
	h.Set("X-RateLimit-Reset-After", fmt.Sprintf("%.3f", after.Seconds()))
	h.Set("X-RateLimit-Bucket", strconv.FormatUint(name.Sum64(), 16))
}

// refused counts a request that was refused with 401, 403 or 429. s.mu is held.
func (l *limits) refused(s *Server, status int) {
	switch status {
	case http.StatusUnauthorized, http.StatusForbidden, http.StatusTooManyRequests:
	default:
		return
	}
	if now := time.Now(); now.Sub(l.window) > invalidWindow {
		l.window, l.invalid = now, 0
	}
	if l.invalid++; l.invalid == mostInvalid+1 {
		s.seen.wrongly("more than %d requests were refused with 401, 403 or 429 in %v: the platform bars the address", mostInvalid, invalidWindow)
	}
}
