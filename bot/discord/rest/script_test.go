package rest

import (
	"context"
	"io"
	"net"
	"net/http"
	"sync"
	"testing"
	"time"

	"github.com/rs/zerolog"
	"go.uber.org/goleak"
)

// The secrets of these tests, which may stand in no error and no log.
const (
	botToken = "MTIz.bot-token.of-Tibberhythe"
	askToken = "aW50ZXJhY3Rpb246MTIz-of-Ana"
)

var ask = Interaction{ID: "7001", Token: askToken, App: "42"}

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// arrival is a request that the server got.
type arrival struct {
	at     time.Duration // since the server was started
	call   string        // method and path
	header http.Header
	body   string
}

// server answers in memory: within a synctest bubble its times are exact.
type server struct {
	client *Client
	start  time.Time

	mu   sync.Mutex
	came []arrival
}

func (s *server) arrivals() []arrival {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]arrival(nil), s.came...)
}

// times are when the requests arrived.
func (s *server) times() []time.Duration {
	var at []time.Duration
	for _, a := range s.arrivals() {
		at = append(at, a.at)
	}
	return at
}

// serve starts a server, and a client of it whose jitter is always half.
func serve(t *testing.T, log io.Writer, handler func(n int, w http.ResponseWriter, r *http.Request)) *server {
	t.Helper()
	s := &server{start: time.Now()}
	wire := &pipes{conns: make(chan net.Conn), done: make(chan struct{})}
	web := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		at := time.Since(s.start)
		body, _ := io.ReadAll(r.Body)
		s.mu.Lock()
		n := len(s.came)
		s.came = append(s.came, arrival{at: at, call: r.Method + " " + r.URL.Path, header: r.Header, body: string(body)})
		s.mu.Unlock()
		handler(n, w, r)
	})}
	var serving sync.WaitGroup
	serving.Go(func() { _ = web.Serve(wire) })
	c, err := New(Options{Token: botToken, API: "http://discord.test", Log: zerolog.New(log)})
	if err != nil {
		t.Fatal(err)
	}
	c.jitter = func() float64 { return 0.5 }
	c.transport.DialContext = wire.dial
	s.client = c
	t.Cleanup(func() {
		c.Close()
		_ = web.Close()
		serving.Wait()
		for _, b := range c.limits.buckets {
			if b.users != 0 {
				t.Errorf("%d calls are taken to be on their way still: %s", b.users, b.key)
			}
		}
	})
	return s
}

// pipes is a network of one address.
type pipes struct {
	conns chan net.Conn
	done  chan struct{}
	once  sync.Once
}

func (p *pipes) dial(ctx context.Context, _, _ string) (net.Conn, error) {
	here, there := net.Pipe()
	select {
	case p.conns <- there:
		return here, nil
	case <-p.done:
		return nil, net.ErrClosed
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (p *pipes) Accept() (net.Conn, error) {
	select {
	case c := <-p.conns:
		return c, nil
	case <-p.done:
		return nil, net.ErrClosed
	}
}

func (p *pipes) Close() error   { p.once.Do(func() { close(p.done) }); return nil }
func (p *pipes) Addr() net.Addr { return &net.IPAddr{} }

// step is how the server answers one request.
type step func(w http.ResponseWriter, r *http.Request)

// script answers each request by its own step; there must be none too many.
func script(t *testing.T, log io.Writer, steps ...step) *server {
	return serve(t, log, func(n int, w http.ResponseWriter, r *http.Request) {
		if n >= len(steps) {
			t.Errorf("request %d, %s, is one too many", n+1, r.URL.Path)
			w.WriteHeader(http.StatusTeapot)
			return
		}
		steps[n](w, r)
	})
}

func answer(status int, body string, headers ...string) step {
	return func(w http.ResponseWriter, _ *http.Request) {
		for i := 0; i < len(headers); i += 2 {
			w.Header().Set(headers[i], headers[i+1])
		}
		w.WriteHeader(status)
		_, _ = io.WriteString(w, body)
	}
}

// hang never answers.
func hang(_ http.ResponseWriter, r *http.Request) { <-r.Context().Done() }

// cut breaks off before an answer.
func cut(w http.ResponseWriter, _ *http.Request) { panic(http.ErrAbortHandler) }

// cutWithin breaks off within the body of an answer.
func cutWithin(status int) step {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Length", "40")
		w.WriteHeader(status)
		_, _ = io.WriteString(w, `{"id": "9`)
		w.(http.Flusher).Flush()
		panic(http.ErrAbortHandler)
	}
}
