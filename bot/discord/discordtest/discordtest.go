// Package discordtest is a stand-in for the chat platform on a loopback port: a
// gateway over WebSocket and REST over HTTP, to which a real client connects. It
// checks what it is sent against the platform's documented sizes and required
// fields, refuses what the platform would refuse, and keeps a list of what was
// wrong. A test, or a program, plays the members:
//
//	srv := discordtest.New(t, discordtest.Options{Token: "tibberhythe"})
//	ana := srv.Guild("Tibberhythe").Member("Ana Pell")
//	srv.Says(ana, "next row").Answers(1)
//	srv.Press(ana, "Next row").Answers(1)
//	for _, m := range srv.Sent(ana) { t.Log(m.Said()) }
//
// It shares no code with the programs that it checks. Numbers are Discord's, from
// its developer documentation (https://discord.com/developers/docs), whose page is
// named beside them; where one was not looked up, the comment says "from memory". So
// it is with all error codes but 10008, 50007 and 30046, and with the names of errors
// inside a form's.
//
// All methods may be called from several goroutines at once. Those that wait give
// up after Options.Wait, and then fail the test with a list of what was seen.
package discordtest

import (
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// Options are the settings of a server. Zero values are the platform's own, but
// for IdentifyEvery and PerSecond, which are not enforced unless they are set.
type Options struct {
	Token string // the bot's token without "Bot "; "" is "test-token"
	Name  string // the bot's name, by which SaysIn's "@name" mentions it; "" is "clew"

	Shards         int           // how many shards /gateway/bot recommends; 0 is 1
	Identifies     int           // identifies left of the day; 0 is 1000, below 0 is none
	MaxConcurrency int           // identifies per IdentifyEvery; 0 is 1
	IdentifyEvery  time.Duration // how long a place for identifying is taken; 0 is not enforced (the platform's is 5 s)
	Privileged     int           // the privileged intents that are granted; 0 is none
	Heartbeat      time.Duration // the interval that hello names, whole milliseconds; 0 is 41250 ms
	HeartbeatGrace time.Duration // how late a heartbeat may be; 0 is one interval, and 3 s at least

	AnswerWithin time.Duration // an interaction's first answer is refused after this; 0 is 3 s
	TokenServes  time.Duration // an interaction's token serves this long; 0 is 15 minutes
	NonceServes  time.Duration // a nonce is remembered this long; 0 is 5 minutes
	PerSecond    int           // REST requests a second before the global limit; 0 is not enforced (the platform's is 50)

	Wait   time.Duration // the longest that any wait lasts; 0 is 10 s
	Keep   int           // how many messages, events and requests are kept, each; 0 is 10,000, below 0 is 200
	NoEcho bool          // the bot's own messages are not dispatched to it (the platform does dispatch them)

	// Fail is called in place of the test's Fatal where there is no test. It
	// should not return. nil panics.
	Fail func(what string)
}

func (o *Options) fill() {
	if o.Token == "" {
		o.Token = "test-token"
	}
	if o.Name == "" {
		o.Name = "clew"
	}
	o.Shards = max(o.Shards, 1)
	switch {
	case o.Identifies == 0:
		o.Identifies = 1000 // documentation, "Gateway", session start limit
	case o.Identifies < 0:
		o.Identifies = 0
	}
	o.MaxConcurrency = max(o.MaxConcurrency, 1)
	if o.Heartbeat <= 0 {
		o.Heartbeat = 41250 * time.Millisecond // documentation, "Gateway", example of hello; from memory
	}
	if o.HeartbeatGrace <= 0 {
		o.HeartbeatGrace = max(o.Heartbeat, 3*time.Second)
	}
	if o.AnswerWithin <= 0 {
		o.AnswerWithin = 3 * time.Second // documentation, "Receiving and Responding": initial response
	}
	if o.TokenServes <= 0 {
		o.TokenServes = 15 * time.Minute // documentation, "Receiving and Responding": tokens
	}
	if o.NonceServes <= 0 {
		o.NonceServes = 5 * time.Minute // documentation, "Message", create message: "the past few minutes"
	}
	if o.Wait <= 0 {
		o.Wait = 10 * time.Second
	}
	switch {
	case o.Keep == 0:
		o.Keep = 10_000
	case o.Keep < 0:
		o.Keep = 200
	}
}

// Server is a stand-in for the platform.
type Server struct {
	opt  Options
	t    testing.TB // nil where there is no test
	http *http.Server
	addr string
	ids  ids
	cdn  cdn
	app  string // the application's id, and its bot user's

	done    chan struct{} // closed by Close
	once    sync.Once
	running sync.WaitGroup // handlers, and the goroutine that sweeps

	mu       sync.Mutex    // guards what stands below; never held while writing to a socket
	changed  chan struct{} // closed and renewed when something was seen
	watched  bool          // somebody waits for changed
	people   people
	store    store
	gate     gate
	faults   faults
	limits   limits
	commands registry
	seen     seen
	fire     fire
}

// New starts a server that ends with the test. The test fails if the server was
// sent anything wrong that was not expected (see Expect).
func New(t testing.TB, o Options) *Server {
	t.Helper()
	s, err := start(o, t)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		s.Close()
		s.judge()
	})
	return s
}

// Start starts a server without a test. Close ends it.
func Start(o Options) (*Server, error) { return start(o, nil) }

func start(o Options, t testing.TB) (*Server, error) {
	o.fill()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("discordtest: no port on 127.0.0.1: %w", err)
	}
	s := &Server{opt: o, t: t, addr: l.Addr().String(), done: make(chan struct{}), changed: make(chan struct{})}
	s.app = s.ids.old(bornApplications)
	s.people.init()
	s.store.init()
	s.gate.init(o)
	s.faults.init()
	s.limits.init()
	s.fire.init()
	s.http = &http.Server{Handler: http.HandlerFunc(s.serve), ReadHeaderTimeout: 10 * time.Second}
	s.running.Add(2)
	go func() {
		defer s.running.Done()
		_ = s.http.Serve(l) // it ends by Close, which is no error
	}()
	go func() {
		defer s.running.Done()
		s.sweep()
	}()
	return s, nil
}

// Close ends the server and all of its connections, and waits for its goroutines.
// It is safe to call more than once.
func (s *Server) Close() {
	s.once.Do(func() {
		s.mu.Lock() // no handler is counted from now on
		close(s.done)
		s.mu.Unlock()
		_ = s.http.Close() // what is left of a listener that could not be closed ends with the process
		for _, c := range s.connections() {
			c.cut()
		}
	})
	s.running.Wait()
}

// URL is the server's address, for --discord-api: "http://127.0.0.1:PORT".
func (s *Server) URL() string { return "http://" + s.addr }

// Token is the bot's token, without "Bot ".
func (s *Server) Token() string { return s.opt.Token }

// Application is the id of the application, and of the bot's user.
func (s *Server) Application() string { return s.app }

// serve takes every request: the gateway's upgrade, REST, and files.
func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	select {
	case <-s.done:
		s.mu.Unlock()
		panic(http.ErrAbortHandler)
	default:
	}
	s.running.Add(1)
	s.mu.Unlock()
	defer s.running.Done()
	switch {
	case strings.EqualFold(r.Header.Get("Upgrade"), "websocket"):
		s.serveGateway(w, r)
	case strings.HasPrefix(r.URL.Path, "/attachments/"):
		s.serveFile(w, r)
	default:
		s.serveAPI(w, r)
	}
}

// fail ends the test, or the program's wait.
func (s *Server) fail(format string, a ...any) {
	what := fmt.Sprintf(format, a...) + "\n" + s.Seen()
	switch {
	case s.t != nil:
		s.t.Helper()
		s.t.Fatal(what)
	case s.opt.Fail != nil:
		s.opt.Fail(what)
	default:
		panic("discordtest: " + what)
	}
}

func (s *Server) helper() {
	if s.t != nil {
		s.t.Helper()
	}
}

// note tells those who wait that something was seen. s.mu is held.
func (s *Server) note() {
	if s.watched {
		close(s.changed)
		s.changed, s.watched = make(chan struct{}), false
	}
}

// watch is closed when something is seen next.
func (s *Server) watch() <-chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watched = true
	return s.changed
}

// until waits until holds is true, and says whether it came to be. holds takes the
// lock itself.
func (s *Server) until(holds func() bool) bool {
	end := time.NewTimer(s.opt.Wait)
	defer end.Stop()
	// A test's own condition may change without the server seeing anything.
	again := time.NewTicker(10 * time.Millisecond)
	defer again.Stop()
	for {
		changed := s.watch()
		if holds() {
			return true
		}
		select {
		case <-changed:
		case <-again.C:
		case <-end.C:
			return holds()
		case <-s.done:
			return holds()
		}
	}
}

// Until waits until the condition holds; what names it in the failure. The condition
// is asked again whenever the server has seen something, and 100 times a second.
func (s *Server) Until(what string, holds func() bool) {
	s.helper()
	if !s.until(holds) {
		s.fail("waited %v in vain: %s", s.opt.Wait, what)
	}
}
