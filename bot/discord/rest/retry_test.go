package rest

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"slices"
	"strings"
	"syscall"
	"testing"
	"testing/synctest"
	"time"
)

const ms = time.Millisecond

// The calls that the table makes.
func sends(ctx context.Context, c *Client) error {
	id, err := c.Send(ctx, "9", Message{Content: "Row six, wrong side."})
	if err == nil && id != "900" {
		return errors.New("the message's id is " + id)
	}
	return err
}

func answers(ctx context.Context, c *Client) error {
	return c.Answer(ctx, ask, Reply, &Message{Content: "Row six, wrong side."})
}

func opens(ctx context.Context, c *Client) error {
	_, err := c.OpenDM(ctx, "5")
	return err
}

func followsUp(ctx context.Context, c *Client) error {
	return c.FollowUp(ctx, ask, Message{Content: "Purl to the end."})
}

// The forms of the answers are those of Discord's developer documentation:
// Rate Limits ("Exceeding a Rate Limit") and Error Messages.
var (
	sent       = answer(200, `{"id":"900"}`)
	done       = answer(204, "")
	slowDown   = answer(429, `{"message":"You are being rate limited.","retry_after":1.6,"global":false}`, "Retry-After", "2", "X-RateLimit-Scope", "user")
	slowAll    = answer(429, `{"message":"You are being rate limited.","retry_after":1.6,"global":true}`, "Retry-After", "2", "X-RateLimit-Global", "true")
	slowLong   = answer(429, `{"message":"You are being rate limited.","retry_after":30,"global":false}`)
	slowBody   = answer(429, `{"message":"You are being rate limited.","retry_after":1.6,"global":true}`)
	slowHeader = answer(429, `<html>`, "Retry-After", "1.6")
	answered   = answer(400, `{"message":"Interaction has already been acknowledged.","code":40060}`)
	gone       = answer(404, `{"message":"Unknown Message","code":10008}`)
)

func TestFurtherAttempts(t *testing.T) {
	// The jitter is half: a 429 of 1.6 s is waited for 1.6 s + (0.2 s + 20 ms)/2,
	// and the pauses are 75, 150, 300, 600 ms.
	const after429 = 1710 * ms
	tests := []struct {
		name   string
		call   func(context.Context, *Client) error
		within time.Duration // the context's; 0 without end
		steps  []step
		came   []time.Duration // when the requests arrived
		took   time.Duration
		want   *Error // nil: it went well
	}{
		{"at once", sends, 0, []step{sent}, []time.Duration{0}, 0, nil},
		{"a route's limit", sends, 0, []step{slowDown, sent}, []time.Duration{0, after429}, after429, nil},
		{"a route's limit, an answer", answers, 0, []step{slowDown, done}, []time.Duration{0, after429}, after429, nil},
		{"the bot's limit", sends, 0, []step{slowAll, sent}, []time.Duration{0, after429}, after429, nil},
		{"a limit without a body", sends, 0, []step{slowHeader, sent}, []time.Duration{0, after429}, after429, nil},
		{"a limit that says no time", sends, 0, []step{answer(429, `{}`), sent}, []time.Duration{0, 1072500 * time.Microsecond}, 1072500 * time.Microsecond, nil},
		{"a limit with no time to speak of", sends, time.Minute, []step{answer(429, `{"retry_after":1e300}`, "Retry-After", "x")}, []time.Duration{0}, 0,
			&Error{Status: 429, RetryAfter: 24 * time.Hour}},
		{"a limit past the deadline", sends, 5 * time.Second, []step{slowLong}, []time.Duration{0}, 0,
			&Error{Status: 429, RetryAfter: 30 * time.Second}},
		{"a limit past the deadline, the whole bot's", sends, 1600 * ms, []step{slowAll}, []time.Duration{0}, 0,
			&Error{Status: 429, RetryAfter: 1600 * ms, Global: true}},
		{"a limit past the deadline, the whole bot's by the body alone", sends, 1600 * ms, []step{slowBody}, []time.Duration{0}, 0,
			&Error{Status: 429, RetryAfter: 1600 * ms, Global: true}},
		{"a limit past a first answer's time", answers, 0, []step{slowLong}, []time.Duration{0}, 0,
			&Error{Status: 429, RetryAfter: 30 * time.Second}},
		{"500, 502, 503, 504", sends, 0, []step{answer(500, ""), answer(502, "<html>"), answer(503, ""), answer(504, ""), sent},
			[]time.Duration{0, 75 * ms, 225 * ms, 525 * ms, 1125 * ms}, 1125 * ms, nil},
		{"503 without end", sends, 500 * ms, []step{answer(503, ""), answer(503, ""), answer(503, "")},
			[]time.Duration{0, 75 * ms, 225 * ms}, 225 * ms, &Error{Status: 503}},
		{"cut before the answer", sends, 0, []step{cut, sent}, []time.Duration{0, 75 * ms}, 75 * ms, nil},
		{"cut within an answer that matters", sends, 0, []step{cutWithin(200), sent}, []time.Duration{0, 75 * ms}, 75 * ms, nil},
		{"cut within an answer that does not", followsUp, 0, []step{cutWithin(200)}, []time.Duration{0}, 0, nil},
		{"a refusal that is cut", sends, 0, []step{cutWithin(403)}, []time.Duration{0}, 0, &Error{Status: 403}},
		{"half an answer that looks whole", sends, 0, []step{answer(200, `{"id":"9`), sent}, []time.Duration{0, 75 * ms}, 75 * ms, nil},
		{"an answer without an id", sends, 0, []step{answer(200, `{}`)}, []time.Duration{0}, 0, &Error{Status: 200}},
		{"an answer without end", sends, 0, []step{answer(200, strings.Repeat(" ", longestBody+1))}, []time.Duration{0}, 0, &Error{}},
		{"no id of a direct message's channel", opens, 0, []step{answer(200, `{}`)}, []time.Duration{0}, 0, &Error{Status: 200}},
		{"a refused direct message's channel", opens, 0, []step{gone}, []time.Duration{0}, 0, &Error{Status: 404, Code: 10008}},
		{"hangs", sends, 0, []step{hang, sent}, []time.Duration{0, 5075 * ms}, 5075 * ms, nil},
		{"a first answer hangs", answers, 0, []step{hang, done}, []time.Duration{0, 1075 * ms}, 1075 * ms, nil},
		{"a first answer hangs for ever", answers, 0, []step{hang, hang, hang}, []time.Duration{0, 1075 * ms, 2225 * ms}, 3 * time.Second, &Error{}},
		{"hangs past the deadline", sends, time.Second, []step{hang}, []time.Duration{0}, time.Second, &Error{}},
		{"answered before", answers, 0, []step{answered}, []time.Duration{0}, 0, &Error{Status: 400, Code: 40060}},
		{"answered by an attempt not heard of", answers, 0, []step{cut, answered}, []time.Duration{0, 75 * ms}, 75 * ms, nil},
		{"answered by an attempt with a 502", answers, 0, []step{answer(502, ""), answered}, []time.Duration{0, 75 * ms}, 75 * ms, nil},
		{"answered by another, after a limit", answers, 0, []step{slowDown, answered}, []time.Duration{0, after429}, after429, &Error{Status: 400, Code: 40060}},
		{"refused", sends, 0, []step{gone}, []time.Duration{0}, 0, &Error{Status: 404, Code: 10008}},
		{"a redirect", sends, 0, []step{answer(302, "", "Location", "http://discord.test/elsewhere")}, []time.Duration{0}, 0, &Error{Status: 302}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, tt.steps...)
				ctx := t.Context()
				if tt.within > 0 {
					var cancel context.CancelFunc
					ctx, cancel = context.WithTimeout(ctx, tt.within)
					defer cancel()
				}
				err := tt.call(ctx, s.client)
				if took := time.Since(s.start); took != tt.took {
					t.Errorf("it took %v, want %v", took, tt.took)
				}
				if came := s.times(); !slices.Equal(came, tt.came) {
					t.Errorf("requests came at %v, want %v", came, tt.came)
				}
				checkError(t, err, tt.want)
			})
		})
	}
}

func checkError(t *testing.T, err error, want *Error) {
	t.Helper()
	if want == nil {
		if err != nil {
			t.Errorf("error: %v", err)
		}
		return
	}
	var got *Error
	if !errors.As(err, &got) {
		t.Fatalf("error %v (%T), want an *Error", err, err)
	}
	if got.Status != want.Status || got.Code != want.Code || got.RetryAfter != want.RetryAfter || got.Global != want.Global {
		t.Errorf("error %+v, want %+v", got, want)
	}
	if (got.Status == 0) != (got.Cause != nil) {
		t.Errorf("status %d with cause %v", got.Status, got.Cause)
	}
}

// What is large has more time: 5 s, and 2 s for each MiB.
func TestLargeFilesHaveTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		late := func(w http.ResponseWriter, r *http.Request) { time.Sleep(8900 * ms); sent(w, r) }
		s := script(t, io.Discard, late)
		_, err := s.client.Send(t.Context(), "9", Message{Files: []File{{Name: "report.txt", Data: make([]byte, 2<<20)}}})
		if err != nil {
			t.Error(err)
		}
	})
}

// Without an end of its own, a call gives up after a minute.
func TestGivesUp(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(_ int, w http.ResponseWriter, _ *http.Request) { w.WriteHeader(503) })
		err := sends(t.Context(), s.client)
		if took := time.Since(s.start); took > time.Minute || took < 50*time.Second {
			t.Errorf("it took %v", took)
		}
		if n := len(s.arrivals()); n < 10 || n > 25 {
			t.Errorf("%d requests in a minute", n)
		}
		checkError(t, err, &Error{Status: 503})
	})
}

// The message that is sent again bears the same nonce, so that it is there once.
func TestNonceStays(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := script(t, io.Discard, cut, answer(500, ""), sent, sent)
		for range 2 {
			if err := sends(t.Context(), s.client); err != nil {
				t.Fatal(err)
			}
		}
		came := s.arrivals()
		if !strings.Contains(came[0].body, `"enforce_nonce":true`) || came[0].body != came[1].body || came[1].body != came[2].body {
			t.Errorf("bodies differ, or have no nonce:\n%s\n%s\n%s", came[0].body, came[1].body, came[2].body)
		}
		if came[2].body == came[3].body {
			t.Errorf("two messages have one nonce: %s", came[3].body)
		}
	})
}

// A context that is cancelled ends a call at once, wherever it is.
func TestCancelled(t *testing.T) {
	tests := []struct {
		name  string
		steps []step
	}{
		{"while it waits for a limit", []step{slowDown}},
		{"while it waits after a 503", []step{answer(500, ""), answer(500, ""), answer(500, ""), answer(500, "")}},
		{"while the platform hangs", []step{hang}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, tt.steps...)
				ctx, cancel := context.WithCancelCause(t.Context())
				time.AfterFunc(700*ms, func() { cancel(errors.New("Clew is stopping")) })
				err := sends(ctx, s.client)
				if took := time.Since(s.start); took != 700*ms {
					t.Errorf("it took %v, want 700ms", took)
				}
				if !errors.Is(err, context.Canceled) {
					t.Errorf("error %v, want context.Canceled", err)
				}
			})
		})
	}
	t.Run("before it begins", func(t *testing.T) {
		synctest.Test(t, func(t *testing.T) {
			s := script(t, io.Discard)
			ctx, cancel := context.WithCancel(t.Context())
			cancel()
			if err := sends(ctx, s.client); !errors.Is(err, context.Canceled) {
				t.Errorf("error %v, want context.Canceled", err)
			}
			if len(s.client.limits.buckets) != 0 {
				t.Errorf("limits are kept: %v", s.client.limits.buckets)
			}
		})
	})
}

// A connection that is refused did not reach the platform: an interaction that
// was answered was answered by somebody else.
func TestConnectionRefused(t *testing.T) {
	refused := &net.OpError{Op: "dial", Net: "tcp", Err: syscall.ECONNREFUSED}
	for name, tt := range map[string]struct {
		then step
		want *Error
	}{
		"then taken":    {done, nil},
		"then answered": {answered, &Error{Status: 400, Code: 40060}},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, tt.then)
				dial, tries := s.client.transport.DialContext, 0
				s.client.transport.DialContext = func(ctx context.Context, network, address string) (net.Conn, error) {
					if tries++; tries < 3 {
						return nil, refused
					}
					return dial(ctx, network, address)
				}
				err := answers(t.Context(), s.client)
				if came := s.times(); !slices.Equal(came, []time.Duration{225 * ms}) {
					t.Errorf("requests came at %v, want the third attempt alone", came)
				}
				checkError(t, err, tt.want)
			})
		})
	}
}

// The same over a real socket, where nobody listens.
func TestNobodyListens(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := l.Addr().String()
	_ = l.Close()
	c, err := New(Options{Token: botToken, API: "http://" + address})
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	ctx, cancel := context.WithTimeout(t.Context(), 50*ms)
	defer cancel()
	if err := answers(ctx, c); !errors.Is(err, syscall.ECONNREFUSED) && !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("error %v, want a refused connection", err)
	}
}

// Each attempt is told of in the log, by the route's template.
func TestAttemptsAreLogged(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var log bytes.Buffer
		s := script(t, &log, answer(503, ""), slowAll, done)
		if err := answers(t.Context(), s.client); err != nil {
			t.Fatal(err)
		}
		want := `{"level":"debug","route":"POST interactions/{interaction}/{token}/callback","status":503,"told":"service unavailable","attempt":1,"wait":75,"message":"calling again"}
{"level":"warn","route":"POST interactions/{interaction}/{token}/callback","wait":1600,"message":"the limit of the whole bot is used up"}
{"level":"debug","route":"POST interactions/{interaction}/{token}/callback","status":429,"told":"You are being rate limited.","attempt":2,"wait":1710,"message":"calling again"}
`
		if log.String() != want {
			t.Errorf("log:\n%s\nwant:\n%s", log.String(), want)
		}
	})
}
