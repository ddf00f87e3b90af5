package gateway

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"go.uber.org/goleak"

	"clew/bot/discord/rest"
)

// taken is a connection on which the session "lantern" is resumed after an
// event, and goes on.
func taken(after int) func(*peer) {
	return func(p *peer) {
		p.hello()
		p.resume("lantern", after)
		p.resumed(after + 1)
		p.message(after + 2)
		p.stay()
	}
}

// anew is a connection on which another session begins.
func anew(p *peer) {
	p.open("second")
	p.message(2)
	p.stay()
}

const (
	isTaken = "0 message %d 21"
	isAnew  = "0 message 2 21"
)

// TestSessionIsResumed cuts a session off after event 3, in each way there is.
func TestSessionIsResumed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		cut  func(*peer)
	}{
		{"the network", func(p *peer) { p.conn.NetConn().Close() }},
		{"code 4000", func(p *peer) { p.close(4000) }},
		{"code 1001", func(p *peer) { p.close(1001) }},
		{"op 7", func(p *peer) { p.op(opReconnect, nil); p.kept() }},
		{"op 9, may be resumed", func(p *peer) { p.op(opInvalid, true); p.kept() }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := newServer(t, func(p *peer) {
				p.open("lantern")
				p.message(2)
				p.message(3)
				p.beat()
				c.cut(p)
			}, taken(3))
			b := run(t, s, Options{})
			b.expect(isReady, "0 message 2 21", "0 message 3 21", fmt.Sprintf(isTaken, 5))
			b.stop()
			if n := len(s.identifies()); n != 1 {
				t.Errorf("identified %d times, expected once", n)
			}
		})
	}
}

// What was missed comes before the platform says that the session is resumed,
// and what had come already may come once more.
func TestMissedEventsCome(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.open("lantern")
		p.message(2)
		p.beat()
		p.conn.NetConn().Close()
	}, func(p *peer) {
		p.hello()
		p.resume("lantern", 2)
		p.message(2)
		p.message(3)
		p.press(4)
		p.resumed(5)
		p.message(6)
		p.beat()
		p.conn.NetConn().Close()
	}, taken(6))
	b := run(t, s, Options{})
	b.expect(isReady, "0 message 2 21", "0 message 2 21", "0 message 3 21", "0 press 4 next", "0 message 6 21", "0 message 8 21")
	b.stop()
}

// TestSessionBeginsAnew is of sessions that the platform no longer has: it
// says so when they are to be resumed, or sooner.
func TestSessionBeginsAnew(t *testing.T) {
	t.Parallel()
	refuse := func(refusal func(*peer)) func(*peer) {
		return func(p *peer) {
			p.hello()
			p.resume("lantern", 1)
			refusal(p)
		}
	}
	cut := func(p *peer) { p.open("lantern"); p.beat(); p.close(4000) }
	for _, c := range []struct {
		name    string
		scripts []func(*peer)
	}{
		{"op 9 to a resumption", []func(*peer){cut, refuse(func(p *peer) { p.op(opInvalid, false); p.kept() })}},
		{"op 9 to a session that is up", []func(*peer){
			func(p *peer) { p.open("lantern"); p.op(opInvalid, false); p.kept() },
			refuse(func(p *peer) { p.op(opInvalid, false); p.kept() }),
		}},
		{"code 4009", []func(*peer){
			func(p *peer) { p.open("lantern"); p.beat(); p.close(4009) },
			refuse(func(p *peer) { p.close(4009) }),
		}},
		{"code 4007", []func(*peer){cut, refuse(func(p *peer) { p.close(4007) })}},
		{"refused without a reason", []func(*peer){cut,
			refuse(func(p *peer) { p.close(4000) }),
			refuse(func(p *peer) { p.conn.NetConn().Close() }),
			refuse(func(p *peer) { p.close(1011) }),
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := newServer(t, append(c.scripts, anew)...)
			b := run(t, s, Options{})
			b.expect(isReady, isReady, isAnew)
			b.stop()
			if n := len(s.identifies()); n != 2 {
				t.Errorf("identified %d times, expected twice", n)
			}
		})
	}
}

// After an invalid session the platform wants a pause, and the identify comes
// on a connection of its own.
func TestInvalidSessionIsHeldBack(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.hello()
		p.identify()
		p.op(opInvalid, false)
		p.kept()
	}, anew)
	pauses := &pauses{}
	timing := Timing{Sleep: pauses.sleep, Random: func() float64 { return 0.5 }}.withDefaults()
	b := run(t, s, Options{Timing: timing})
	b.expect(isReady, isAnew)
	b.stop()
	// Half way between 1 s and 5 s.
	if !pauses.have(3 * time.Second) {
		t.Errorf("paused for %v, expected 3s among them", pauses.asked)
	}
}

// pauses notes how long pauses should be, and makes them short.
type pauses struct {
	mu    sync.Mutex
	asked []time.Duration
}

func (p *pauses) sleep(ctx context.Context, d time.Duration) error {
	p.mu.Lock()
	p.asked = append(p.asked, d)
	p.mu.Unlock()
	return sleep(ctx, min(d, 40*time.Millisecond))
}

func (p *pauses) have(d time.Duration) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Contains(p.asked, d)
}

// The library waits for ever where it is asked to reconnect before it is open.
func TestReconnectWhileOpening(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		scripts []func(*peer)
		told    []string
	}{
		{"instead of hello", []func(*peer){
			func(p *peer) { p.op(opReconnect, nil); p.kept() },
			anew,
		}, []string{isReady, isAnew}},
		{"instead of ready", []func(*peer){
			func(p *peer) { p.hello(); p.identify(); p.op(opReconnect, nil); p.kept() },
			anew,
		}, []string{isReady, isAnew}},
		{"instead of resumed, over and over", []func(*peer){
			func(p *peer) { p.open("lantern"); p.beat(); p.close(4000) },
			func(p *peer) { p.hello(); p.resume("lantern", 1); p.op(opReconnect, nil); p.kept() },
			func(p *peer) { p.hello(); p.resume("lantern", 1); p.op(opReconnect, nil); p.kept() },
			func(p *peer) { p.hello(); p.resume("lantern", 1); p.op(opReconnect, nil); p.kept() },
			func(p *peer) { p.hello(); p.resume("lantern", 1); p.op(opReconnect, nil); p.kept() },
			taken(1),
		}, []string{isReady, fmt.Sprintf(isTaken, 3)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := run(t, newServer(t, c.scripts...), Options{})
			b.expect(c.told...)
			b.stop()
			if strings.Contains(b.logged(), errAbandoned.Error()) {
				t.Error("a session of the library was abandoned")
			}
		})
	}
}

// The library waits for itself, too, where a heartbeat is acknowledged before
// it is open. What that leaves is one goroutine, and no more.
func TestLibraryThatHangsIsAbandoned(t *testing.T) {
	before := goleak.IgnoreCurrent()
	s := newServer(t, func(p *peer) {
		if p.number == 1 {
			p.hello()
			p.identify()
			p.op(opAck, nil)
			p.closed()
			return
		}
		whole(p)
	})
	timing := quick()
	// Where the machine is so slow that the second connection takes longer
	// than this, there is a third.
	timing.Open, timing.Close = 2*time.Second, 1500*time.Millisecond
	b := run(t, s, Options{Timing: timing})
	b.expect(isReady)
	b.stop()
	if !strings.Contains(b.logged(), errAbandoned.Error()) {
		t.Errorf("the log does not tell that a session was abandoned:\n%s", b.logged())
	}
	s.http.Close()
	goleak.VerifyNone(t, before, hung)
	if err := goleak.Find(before); err == nil {
		t.Error("the library no longer hangs: what works around that can go")
	}
}

// TestOpeningHangs has the first connection stop at each stage.
func TestOpeningHangs(t *testing.T) {
	t.Parallel()
	first := func(hang func(*peer)) func(*peer) {
		return func(p *peer) {
			if p.number > 1 {
				whole(p)
				return
			}
			hang(p)
			p.closed()
		}
	}
	for _, c := range []struct {
		name string
		tune func(*Timing)
		hang func(*peer)
	}{
		{"no hello", func(t *Timing) { t.Open = 2 * time.Second }, func(p *peer) {}},
		{"no ready", func(t *Timing) { t.Open = 2 * time.Second }, func(p *peer) { p.hello(); p.identify() }},
		{"other events, but no ready", func(t *Timing) { t.Ready = time.Second }, func(p *peer) {
			p.hello()
			p.identify()
			p.event(1, "GUILD_CREATE", map[string]any{"id": "5"})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			timing := quick()
			c.tune(&timing)
			b := run(t, newServer(t, first(c.hang)), Options{Timing: timing})
			b.expect(isReady)
			b.stop()
		})
	}
}

// A server that takes a connection and never answers, be it for the address
// or for the WebSocket.
func TestServerThatNeverAnswers(t *testing.T) {
	t.Parallel()
	for _, what := range []string{"address", "handshake"} {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			s := newServer(t, whole)
			hole, hanging := blackHole(t)
			client := s.client()
			through := client.Transport
			var once sync.Once
			client.Transport = turn(func(r *http.Request) (*http.Response, error) {
				var hang bool
				once.Do(func() { hang = true })
				switch {
				case !hang:
					return through.RoundTrip(r)
				case what == "address":
					<-r.Context().Done()
					close(hanging)
					return nil, r.Context().Err()
				default:
					return answer(`{"url":"ws://` + hole + `"}`), nil
				}
			})
			timing := quick()
			timing.Dial = 2 * time.Second
			b := run(t, s, Options{Timing: timing, Client: client})
			b.expect(isReady)
			<-hanging
			b.stop()
		})
	}
}

// blackHole takes one connection and says nothing; hung is closed when the
// other end has given up.
func blackHole(t *testing.T) (address string, hung chan struct{}) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	hung = make(chan struct{})
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		c, err := l.Accept()
		if err != nil {
			return
		}
		defer c.Close()
		for b := make([]byte, 4096); err == nil; {
			_, err = c.Read(b)
		}
		close(hung)
	}()
	t.Cleanup(func() {
		l.Close()
		<-ended
	})
	return l.Addr().String(), hung
}

// No acknowledgement comes: the session is kept and resumed.
func TestSilentGatewayIsLeft(t *testing.T) {
	t.Parallel()
	s := newServer(t, func(p *peer) {
		p.silent = true
		p.open("lantern")
		if code := p.closed(); code != closeKeeping {
			t.Errorf("closed with %d, expected %d", code, closeKeeping)
		}
	}, func(p *peer) {
		p.hello()
		p.resume("lantern", 1)
		p.resumed(2)
		p.message(3)
		p.closed()
	})
	timing := quick()
	timing.Heartbeat = time.Second
	b := run(t, s, Options{Timing: timing})
	b.expect(isReady, "0 message 3 21")
	b.stop()
	if !strings.Contains(b.logged(), errSilent.Error()) {
		t.Errorf("the log does not tell why:\n%s", b.logged())
	}
}

// The context may end at any stage, and Run returns soon.
func TestEndsAtAnyStage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		script func(at func(), p *peer)
	}{
		{"before hello", func(at func(), p *peer) { at(); p.closed() }},
		{"before ready", func(at func(), p *peer) { p.hello(); p.identify(); at(); p.closed() }},
		{"before ready, with other events", func(at func(), p *peer) {
			p.hello()
			p.identify()
			p.event(1, "GUILD_CREATE", map[string]any{"id": "5"})
			p.beat()
			at()
			p.stay()
		}},
		{"while closing", func(at func(), p *peer) { p.open("lantern"); at(); p.op(opReconnect, nil); p.closed() }},
		{"between connections", func(at func(), p *peer) { p.hello(); at(); p.conn.NetConn().Close() }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			at := make(chan struct{})
			var once sync.Once
			s := newServer(t, func(p *peer) { c.script(func() { once.Do(func() { close(at) }) }, p) })
			b := run(t, s, Options{})
			<-at
			b.cancel()
			if err := b.end(); err != nil {
				t.Errorf("Run: %v, expected none where the context ended", err)
			}
		})
	}
}

// So it may before anything is connected, and while a pause lasts.
func TestEndsWhileWaiting(t *testing.T) {
	t.Parallel()
	none := newServer(t, func(p *peer) { t.Error("connected"); p.conn.Close() })
	for _, c := range []struct {
		name  string
		start func(context.Context) (rest.Start, error)
	}{
		{"for the start limit", func(ctx context.Context) (rest.Start, error) {
			<-ctx.Done()
			return rest.Start{}, ctx.Err()
		}},
		{"for the next day", func(ctx context.Context) (rest.Start, error) {
			return rest.Start{Total: 1000, MaxConcurrency: 1, ResetAfter: time.Hour}, nil
		}},
		{"for the next try", func(ctx context.Context) (rest.Start, error) {
			return rest.Start{}, errors.New("no route to Tibberhythe")
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			waits := make(chan struct{})
			var once sync.Once
			timing := quick()
			timing.Least, timing.Most = time.Hour, time.Hour
			b := run(t, none, Options{Timing: timing, Start: func(ctx context.Context) (rest.Start, error) {
				once.Do(func() { close(waits) })
				return c.start(ctx)
			}})
			<-waits
			b.stop()
		})
	}
}
