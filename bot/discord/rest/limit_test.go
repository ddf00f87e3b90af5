package rest

import (
	"context"
	"fmt"
	"io"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"
)

// meter answers messages under fixed windows, a limit for each path, as the
// platform does: X-RateLimit headers on each answer, 429 past the limit.
type meter struct {
	limit  int
	length time.Duration
	delay  func(n int) time.Duration // before a request is counted, and again before its answer

	mu      sync.Mutex
	windows map[string]*window
	refused int
}

type window struct {
	used int
	ends time.Time
}

func (m *meter) serve(n int, w http.ResponseWriter, r *http.Request) {
	time.Sleep(m.delay(n))
	left, after := m.count(r.URL.Path)
	seconds := strconv.FormatFloat(after.Seconds(), 'f', 3, 64)
	w.Header().Set("X-RateLimit-Limit", strconv.Itoa(m.limit))
	w.Header().Set("X-RateLimit-Remaining", strconv.Itoa(max(left, 0)))
	w.Header().Set("X-RateLimit-Reset-After", seconds)
	time.Sleep(m.delay(n + 1))
	if left < 0 {
		answer(429, `{"message":"You are being rate limited.","global":false,"retry_after":`+seconds+`}`)(w, r)
		return
	}
	sent(w, r)
}

func (m *meter) count(path string) (left int, after time.Duration) {
	m.mu.Lock()
	defer m.mu.Unlock()
	w, now := m.windows[path], time.Now()
	if w == nil || !now.Before(w.ends) {
		w = &window{ends: now.Add(m.length)}
		m.windows[path] = w
	}
	if w.used == m.limit {
		m.refused++
		return -1, w.ends.Sub(now)
	}
	w.used++
	return m.limit - w.used, w.ends.Sub(now)
}

func (m *meter) refusals() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.refused
}

func noDelay(int) time.Duration { return 0 }

// sendAll sends n messages at once, to the channel that each is for.
func sendAll(t *testing.T, s *server, n int, channel func(i int) string) {
	var calls sync.WaitGroup
	for i := range n {
		calls.Go(func() {
			if _, err := s.client.Send(t.Context(), channel(i), Message{Content: "Round six."}); err != nil {
				t.Errorf("message %d: %v", i, err)
			}
		})
	}
	calls.Wait()
}

// No more than 50 calls in any second, but for interactions, which are not
// under that limit (Discord's developer documentation, Rate Limits).
func TestLimitOfTheBot(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(_ int, w http.ResponseWriter, r *http.Request) { sent(w, r) })
		var all sync.WaitGroup
		all.Go(func() { sendAll(t, s, 170, strconv.Itoa) })
		all.Go(func() {
			for i := range 300 {
				in := Interaction{ID: strconv.Itoa(i), Token: "t" + strconv.Itoa(i), App: "42"}
				if err := s.client.EditAnswer(t.Context(), in, Message{Content: "Round six."}); err != nil {
					t.Error(err)
				}
			}
			if took := time.Since(s.start); took != 0 {
				t.Errorf("the interactions took %v", took)
			}
		})
		all.Wait()
		var bound []time.Duration
		for _, a := range s.arrivals() {
			if strings.HasPrefix(a.call, "POST /api/v9/channels/") {
				bound = append(bound, a.at)
			}
		}
		slices.Sort(bound)
		for i, at := range bound {
			if want := time.Duration(i/50) * time.Second; at != want {
				t.Fatalf("message %d came at %v, want %v", i, at, want)
			}
		}
		if len(bound) != 170 {
			t.Errorf("%d messages came, want 170", len(bound))
		}
	})
}

// A global 429 stops every call under the bot's limit, and none of an interaction.
func TestLimitOfTheBotRefused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(n int, w http.ResponseWriter, r *http.Request) {
			if n == 0 {
				slowAll(w, r)
				return
			}
			sent(w, r)
		})
		var calls sync.WaitGroup
		calls.Go(func() { _, _ = s.client.Send(t.Context(), "1", Message{Content: "Round six."}) })
		synctest.Wait() // the first is refused, and waits
		calls.Go(func() { _, _ = s.client.Send(t.Context(), "2", Message{Content: "Round six."}) })
		calls.Go(func() { _, _ = s.client.Gateway(t.Context()) })
		calls.Go(func() { _ = answers(t.Context(), s.client) })
		calls.Wait()
		when := map[string]time.Duration{}
		for _, a := range s.arrivals()[1:] {
			when[a.call] = a.at
		}
		want := map[string]time.Duration{
			"POST /api/v9/channels/1/messages":                         1710 * ms, // with its jitter
			"POST /api/v9/channels/2/messages":                         1600 * ms,
			"GET /api/v9/gateway/bot":                                  1600 * ms,
			"POST /api/v9/interactions/7001/" + askToken + "/callback": 0,
		}
		if fmt.Sprint(when) != fmt.Sprint(want) {
			t.Errorf("requests came at %v, want %v", when, want)
		}
	})
}

// Once the platform has told a limit, it is kept to and never run into.
func TestRouteLimit(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 5, length: 2 * time.Second, delay: noDelay, windows: map[string]*window{}}
		s := serve(t, io.Discard, m.serve)
		sendAll(t, s, 1, func(int) string { return "9" })
		sendAll(t, s, 12, func(int) string { return "9" })
		want := []time.Duration{0, 0, 0, 0, 0, 2 * time.Second, 2 * time.Second, 2 * time.Second, 2 * time.Second, 2 * time.Second,
			4 * time.Second, 4 * time.Second, 4 * time.Second}
		if came := s.times(); !slices.Equal(came, want) {
			t.Errorf("requests came at %v, want %v", came, want)
		}
		if m.refusals() != 0 {
			t.Errorf("%d were refused", m.refusals())
		}
	})
}

// A 429 of a route stops all calls of that route, and no other.
func TestRouteRefused(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(n int, w http.ResponseWriter, r *http.Request) {
			if n == 0 {
				slowDown(w, r)
				return
			}
			sent(w, r)
		})
		var calls sync.WaitGroup
		calls.Go(func() { sendAll(t, s, 1, func(int) string { return "9" }) })
		synctest.Wait() // the first is refused, and waits
		sendAll(t, s, 1, func(int) string { return "8" })
		sendAll(t, s, 1, func(int) string { return "9" })
		calls.Wait()
		want := []time.Duration{0, 0, 1600 * ms, 1710 * ms}
		if came := s.times(); !slices.Equal(came, want) {
			t.Errorf("requests came at %v, want %v", came, want)
		}
	})
}

// Calls that are on their way when the limit is first told count too.
func TestRouteLimitWithCallsOnTheirWay(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 2, length: 10 * time.Second, windows: map[string]*window{}, delay: func(n int) time.Duration {
			if n == 2 { // the second request, before it is counted
				return time.Second
			}
			return 0
		}}
		s := serve(t, io.Discard, func(n int, w http.ResponseWriter, r *http.Request) { m.serve(2*n, w, r) })
		var calls sync.WaitGroup
		calls.Go(func() { sendAll(t, s, 2, func(int) string { return "9" }) })
		time.Sleep(100 * ms)
		sendAll(t, s, 1, func(int) string { return "9" })
		calls.Wait()
		if came := s.times(); m.refusals() != 0 || !slices.Equal(came, []time.Duration{0, 0, 10 * time.Second}) {
			t.Errorf("requests came at %v, and %d were refused", came, m.refusals())
		}
	})
}

// An answer that comes when its window is over tells nothing of the next.
func TestRouteLimitToldLate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 2, length: 2 * time.Second, windows: map[string]*window{}, delay: func(n int) time.Duration {
			if n == 3 { // the second request, after it is counted
				return 3 * time.Second
			}
			return 0
		}}
		s := serve(t, io.Discard, func(n int, w http.ResponseWriter, r *http.Request) { m.serve(2*n, w, r) })
		sendAll(t, s, 1, func(int) string { return "9" })
		var late sync.WaitGroup
		late.Go(func() { sendAll(t, s, 1, func(int) string { return "9" }) })
		time.Sleep(2500 * ms)
		sendAll(t, s, 1, func(int) string { return "9" })
		late.Wait()
		sendAll(t, s, 1, func(int) string { return "9" })
		want := []time.Duration{0, 0, 2500 * ms, 3 * time.Second}
		if came := s.times(); !slices.Equal(came, want) {
			t.Errorf("requests came at %v, want %v", came, want)
		}
	})
}

// Which calls share a limit: those of a route in one channel, or of one
// interaction (Discord's developer documentation, Rate Limits: the top-level
// resources are channels, guilds, and webhooks with their token).
func TestWhatSharesALimit(t *testing.T) {
	other := Interaction{ID: "7002", Token: "another", App: "42"}
	routes := map[string][]route{
		"sends in a channel":          {sendRoute("9"), sendRoute("9")},
		"sends in another":            {sendRoute("8")},
		"edits in a channel":          {editRoute("9", "900"), editRoute("9", "901")},
		"edits in another":            {editRoute("8", "900")},
		"answers":                     {callbackRoute(ask)},
		"another's answers":           {callbackRoute(other)},
		"edits of an answer":          {answerRoute(ask)},
		"edits of another's":          {answerRoute(other)},
		"follow-ups":                  {followUpRoute(ask)},
		"another's follow-ups":        {followUpRoute(other)},
		"commands asked for":          {commandsRoute("GET", "42")},
		"commands written":            {commandsRoute("PUT", "42")},
		"channels of direct messages": {openDMRoute},
		"the gateway":                 {gatewayRoute},
	}
	shared := map[string]string{}
	for name, list := range routes {
		for _, r := range list {
			if r.bucket != list[0].bucket {
				t.Errorf("%s: %q and %q", name, r.bucket, list[0].bucket)
			}
		}
		if same, met := shared[list[0].bucket]; met {
			t.Errorf("%s share a limit with %s", name, same)
		}
		shared[list[0].bucket] = name
	}
}

// A call that won't be let through in time says so at once, is not made, and
// takes nobody's turn.
func TestRouteLimitPastTheDeadline(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 1, length: 10 * time.Second, delay: noDelay, windows: map[string]*window{}}
		s := serve(t, io.Discard, m.serve)
		sendAll(t, s, 1, func(int) string { return "9" })
		ctx, cancel := context.WithTimeout(t.Context(), 3*time.Second)
		defer cancel()
		err := sends(ctx, s.client)
		checkError(t, err, &Error{Status: 429, RetryAfter: 10 * time.Second})
		if took := time.Since(s.start); took != 0 {
			t.Errorf("it took %v", took)
		}
		sendAll(t, s, 1, func(int) string { return "9" })
		if came := s.times(); !slices.Equal(came, []time.Duration{0, 10 * time.Second}) {
			t.Errorf("requests came at %v", came)
		}
	})
}

// One slow call delays neither others to its channel nor any elsewhere.
func TestSlowCallDelaysNobody(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 5, length: time.Second, delay: noDelay, windows: map[string]*window{}}
		s := serve(t, io.Discard, func(n int, w http.ResponseWriter, r *http.Request) {
			if n == 1 {
				time.Sleep(3 * time.Second)
			}
			m.serve(n, w, r)
		})
		sendAll(t, s, 1, func(int) string { return "9" })
		var slow sync.WaitGroup
		slow.Go(func() { sendAll(t, s, 1, func(int) string { return "9" }) })
		synctest.Wait()
		sendAll(t, s, 3, func(int) string { return "9" })
		sendAll(t, s, 3, func(int) string { return "8" })
		if took := time.Since(s.start); took != 0 {
			t.Errorf("the others took %v", took)
		}
		slow.Wait()
		if took := time.Since(s.start); took != 3*time.Second {
			t.Errorf("the slow one took %v", took)
		}
	})
}

// Each interaction's edits are under a limit of their own.
func TestInteractionsShareNoLimit(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 1, length: 10 * time.Second, delay: noDelay, windows: map[string]*window{}}
		s := serve(t, io.Discard, m.serve)
		for i := range 20 {
			in := Interaction{ID: strconv.Itoa(i), Token: "t" + strconv.Itoa(i), App: "42"}
			if err := s.client.EditAnswer(t.Context(), in, Message{Content: "Round six."}); err != nil {
				t.Error(err)
			}
		}
		if took := time.Since(s.start); took != 0 {
			t.Errorf("twenty edits took %v", took)
		}
	})
}

// Whatever the limit, the window and the delays of the network: every message
// arrives, once, as soon as the limit has it; and the platform refuses none
// but those that were on their way before it first told the limit.
func TestAnyLimitIsKept(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		limit := rapid.IntRange(1, 8).Draw(rt, "limit")
		length := time.Duration(rapid.IntRange(200, 3000).Draw(rt, "window, ms")) * ms
		// A call gives up after a minute, so there are no more than go in half of one.
		calls := rapid.IntRange(1, min(40, limit*int(30*time.Second/length))).Draw(rt, "calls")
		delays := rapid.SliceOfN(rapid.IntRange(0, int(length/ms)/8), 7, 7).Draw(rt, "delays, ms")
		var refused int
		var took time.Duration
		synctest.Test(t, func(t *testing.T) {
			m := &meter{limit: limit, length: length, windows: map[string]*window{},
				delay: func(n int) time.Duration { return time.Duration(delays[n%len(delays)]) * ms }}
			s := serve(t, io.Discard, m.serve)
			sendAll(t, s, 1, func(int) string { return "9" })
			sendAll(t, s, calls, func(int) string { return "9" })
			refused, took = m.refusals(), time.Since(s.start)
		})
		if refused != 0 {
			rt.Errorf("%d were refused", refused)
		}
		// A window is begun by the first to arrive in it, and ended with the
		// delay of the answer that told of it: half a window's delay at most.
		if most := time.Duration(calls/limit+2) * length * 3 / 2; took > most {
			rt.Errorf("it took %v, want at most %v", took, most)
		}
	})
}

// Only what holds nobody up is forgotten.
func TestClear(t *testing.T) {
	now := time.Now()
	for _, tt := range []struct {
		name string
		b    bucket
		kept bool
	}{
		{"all over", bucket{limit: 5, used: 5, reset: now, paused: now}, false},
		{"a call on its way", bucket{users: 1}, true},
		{"a window not over", bucket{limit: 5, used: 5, reset: now.Add(1)}, true},
		{"a pause not over", bucket{paused: now.Add(1)}, true},
	} {
		l := newLimiter()
		l.buckets["one"] = &tt.b
		l.clear(now)
		if _, kept := l.buckets["one"]; kept != tt.kept {
			t.Errorf("%s: kept is %v", tt.name, kept)
		}
	}
}

// Limits that hold nobody up are forgotten.
func TestLimitsAreForgotten(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := &meter{limit: 5, length: time.Second, delay: noDelay, windows: map[string]*window{}}
		s := serve(t, io.Discard, m.serve)
		most := 0
		for i := range 6_000 {
			in := Interaction{ID: strconv.Itoa(i), Token: "t" + strconv.Itoa(i), App: "42"}
			if err := s.client.EditAnswer(t.Context(), in, Message{Content: "Round six."}); err != nil {
				t.Fatal(err)
			}
			most = max(most, len(s.client.limits.buckets))
			if i%1000 == 999 {
				time.Sleep(time.Second) // a thousand a second
			}
		}
		if want := 2*1000 + fewBuckets; most > want {
			t.Errorf("%d limits were remembered at a thousand interactions a second, want at most %d", most, want)
		}
	})
}

func TestSeconds(t *testing.T) {
	for _, tt := range []struct {
		s    float64
		want time.Duration
	}{{0, 0}, {-1, 0}, {math.NaN(), 0}, {0.283, 283 * ms}, {64.57, 64570 * ms}, {math.Inf(1), longest}, {1e12, longest}} {
		if got := seconds(tt.s); got != tt.want {
			t.Errorf("%v s are %v, want %v", tt.s, got, tt.want)
		}
	}
}
