package discordtest

import (
	"encoding/json"
	"net/http"
	"time"
)

// faults are what a test has set to go wrong with REST. Server.mu guards it.
type faults struct {
	fail map[Route]*failure
	slow map[Route]time.Duration
	late map[Route]time.Duration
	cut  map[Route]int
}

type failure struct {
	status, code, times int
}

func (f *faults) init() {
	f.fail, f.slow, f.late, f.cut = map[Route]*failure{}, map[Route]time.Duration{}, map[Route]time.Duration{}, map[Route]int{}
}

// fault is what goes wrong with one request.
type fault struct {
	failure    *failure
	slow, late time.Duration
	cut        bool
}

// take is what goes wrong with the next request of the route. s.mu is held.
func (f *faults) take(r Route) fault {
	var now fault
	for _, on := range []Route{r, AnyRoute} {
		if one := f.fail[on]; now.failure == nil && one != nil && one.times > 0 {
			one.times--
			now.failure = one
		}
		now.slow = max(now.slow, f.slow[on])
		now.late = max(now.late, f.late[on])
	}
	for _, on := range []Route{r, AnyRoute} {
		if now.failure == nil && !now.cut && f.cut[on] > 0 {
			f.cut[on]--
			now.cut = true
		}
	}
	return now
}

// Fail answers the next so many requests of the route with a status, without doing
// what they ask. The body is plain text, as a proxy's is.
func (s *Server) Fail(r Route, status, times int) {
	s.set(func() { s.faults.fail[r] = &failure{status: status, times: times} })
}

// FailCode answers the next so many requests of the route with a status and an error
// code of the platform's, without doing what they ask.
func (s *Server) FailCode(r Route, status, code, times int) {
	s.set(func() { s.faults.fail[r] = &failure{status: status, code: code, times: times} })
}

// Slow delays the answers of the route by d, what they ask being done at once; 0 ends it.
func (s *Server) Slow(r Route, d time.Duration) { s.set(func() { s.faults.slow[r] = d }) }

// Late delays the route's requests by d before anything is done; 0 ends it.
func (s *Server) Late(r Route, d time.Duration) { s.set(func() { s.faults.late[r] = d }) }

// CutAnswers does what the next n requests of the route ask, and then cuts the
// connection in place of an answer.
func (s *Server) CutAnswers(r Route, n int) { s.set(func() { s.faults.cut[r] = n }) }

func (s *Server) set(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f()
}

// connected waits for a connected session of the shard, and gives the newest.
func (s *Server) connected(shard int) (x *session, c *conn) {
	s.helper()
	found := s.until(func() bool {
		x, c = nil, nil
		for _, one := range s.live(shard) {
			one.mu.Lock()
			if one.conn != nil && !one.conn.closing.Load() {
				x, c = one, one.conn
			}
			one.mu.Unlock()
		}
		return x != nil
	})
	if !found {
		s.fail("shard %d was not connected in %v", shard, s.opt.Wait)
	}
	return x, c
}

// Cut waits until the shard is connected, and cuts the connection without a close
// frame. Its session can be resumed.
func (s *Server) Cut(shard int) {
	s.helper()
	_, c := s.connected(shard)
	c.cut()
}

// CloseWith closes the shard's connection with a code; 4004, 4007, 4009 and 4010 to
// 4014 end the session.
func (s *Server) CloseWith(shard, code int) {
	s.helper()
	_, c := s.connected(shard)
	c.closeWith(code, "")
}

// Reconnect asks the shard to reconnect (op 7).
func (s *Server) Reconnect(shard int) {
	s.helper()
	_, c := s.connected(shard)
	c.send([]byte(`{"op":7,"d":null}`), false)
}

// Invalid tells the shard that its session is invalid (op 9). Where it is not
// resumable the session is forgotten, and the connection may identify again.
func (s *Server) Invalid(shard int, resumable bool) {
	s.helper()
	x, c := s.connected(shard)
	if !resumable {
		x.lose()
		c.session.Store(nil)
	}
	c.send(invalidSession[resumable], false)
}

// WantHeartbeat asks the shard for a heartbeat now (op 1).
func (s *Server) WantHeartbeat(shard int) {
	s.helper()
	_, c := s.connected(shard)
	c.send(marshal(map[string]any{"op": opHeartbeat, "d": json.RawMessage("null")}), false)
}

// Silent makes the connections that are open now go dead, as where a network drops
// all that is sent: nothing is acknowledged or dispatched on them until it is called
// with false. New connections are served; what was missed is replayed to them on a
// resume.
func (s *Server) Silent(on bool) {
	for _, c := range s.connections() {
		if on {
			c.silent.Store(true)
			continue
		}
		if x := c.session.Load(); x != nil {
			x.wake(c)
		} else {
			c.silent.Store(false)
		}
	}
}

// HangOpen leaves new connections' upgrades unanswered until it is called with false.
func (s *Server) HangOpen(on bool) {
	s.set(func() {
		switch {
		case on && s.gate.hang == nil:
			s.gate.hang = make(chan struct{})
		case !on && s.gate.hang != nil:
			close(s.gate.hang)
			s.gate.hang = nil
		}
	})
}

// NoHello accepts connections and says nothing on them, until it is called with false;
// those that were accepted stay without a word.
func (s *Server) NoHello(on bool) { s.set(func() { s.gate.noHello = on }) }

// ReconnectFirst sends op 7 in place of READY or RESUMED to the next n connections.
func (s *Server) ReconnectFirst(n int) { s.set(func() { s.gate.reconnectFirst = n }) }

// InvalidFirst answers the next n identifies or resumes with op 9.
func (s *Server) InvalidFirst(n int, resumable bool) {
	s.set(func() { s.gate.invalidFirst, s.gate.resumableFirst = n, resumable })
}

// RefuseIdentify closes the next n connections that identify or resume with the code,
// before READY.
func (s *Server) RefuseIdentify(n, code int) { s.set(func() { s.gate.refuse, s.gate.code = n, code }) }

// failed is the answer of a failure that a test has set.
func (f *failure) failed() *refusal {
	if f.code == 0 {
		return &refusal{status: f.status, plain: http.StatusText(f.status), meant: true}
	}
	return &refusal{status: f.status, code: f.code, message: "Refused by the test.", meant: true}
}
