package discordtest

import (
	"bytes"
	"compress/zlib"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
)

// conn is one connection to the gateway.
type conn struct {
	s       *Server
	ws      *websocket.Conn
	version int
	session atomic.Pointer[session]
	silent  atomic.Bool // nothing is acknowledged or dispatched
	closing atomic.Bool // a close frame was sent

	wmu sync.Mutex // one writer at a time

	minute time.Time // when the minute began in which sends are counted; the reader's alone
	sent   int
}

var zlibs = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(nil, zlib.BestSpeed) // the level is a valid one
	return z
}}

// squeeze is the frame as one zlib stream: documentation, "Gateway", payload compression.
func squeeze(frame []byte) []byte {
	var b bytes.Buffer
	z := zlibs.Get().(*zlib.Writer)
	defer zlibs.Put(z)
	z.Reset(&b)
	_, _ = z.Write(frame) // a Buffer takes all
	_ = z.Close()
	return b.Bytes()
}

// send writes a frame; compressed as a binary one. A client that does not read for
// gatewayWriteTime is cut off.
func (c *conn) send(frame []byte, compress bool) {
	kind := websocket.TextMessage
	if compress {
		kind, frame = websocket.BinaryMessage, squeeze(frame)
	}
	c.wmu.Lock()
	defer c.wmu.Unlock()
	if c.closing.Load() {
		return
	}
	_ = c.ws.SetWriteDeadline(time.Now().Add(gatewayWriteTime)) // it cannot fail but on a closed socket, as the write does
	if c.ws.WriteMessage(kind, frame) != nil {
		c.cut() // the reader sees it, and ends
	}
}

// closeWith sends a close frame and leaves the reading of what is still on its way to
// the reader: a socket closed with unread bytes is reset, and the frame may be lost.
func (c *conn) closeWith(code int, text string) {
	if !c.partWith(code, text) {
		return
	}
	if sess := c.session.Load(); sess != nil && endsSession(code) {
		sess.end()
	}
	c.s.say("gateway: closed with %d", code)
}

// partWith sends the frame, and says whether it was the first.
func (c *conn) partWith(code int, text string) bool {
	c.wmu.Lock()
	defer c.wmu.Unlock()
	if c.closing.Swap(true) {
		return false
	}
	end := time.Now().Add(partingTime)
	if c.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, text), end) != nil {
		c.cut()
	}
	_ = c.ws.SetReadDeadline(end)
	return true
}

// endsSession says whether a session is over when the platform closes its connection
// with the code: documentation, "Opcodes and Status Codes", gateway close event codes;
// from memory but for 4004 and 4014.
func endsSession(code int) bool {
	switch code {
	case closeAuth, closeSeq, closeTimedOut, closeShard, closeSharding, closeVersion, closeIntents, closeDisallowed:
		return true
	}
	return false
}

// cut ends the connection without a word.
func (c *conn) cut() { _ = c.ws.UnderlyingConn().Close() }

// alive puts off the time at which the connection is closed for want of a heartbeat.
func (c *conn) alive() {
	if !c.closing.Load() {
		_ = c.ws.SetReadDeadline(time.Now().Add(c.s.opt.Heartbeat + c.s.opt.HeartbeatGrace))
	}
}

// counts counts a payload of the client's, and says whether it is within the limit.
func (c *conn) counts() bool {
	if now := time.Now(); now.Sub(c.minute) > time.Minute {
		c.minute, c.sent = now, 0
	}
	c.sent++
	return c.sent <= sendsAMinute
}

// hanging is closed when upgrades are answered again; nil where they are.
func (s *Server) hanging() <-chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.gate.hang == nil {
		return nil
	}
	return s.gate.hang
}

// mute says whether new connections get no hello.
func (s *Server) mute() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.gate.noHello
}

// join enters a connection, unless the server has ended.
func (s *Server) join(c *conn) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	select {
	case <-s.done:
		return false
	default:
	}
	s.gate.conns[c] = true
	s.note()
	return true
}

func (s *Server) leave(c *conn) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.gate.conns, c)
	s.note()
}

func (s *Server) connections() []*conn {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []*conn
	for c := range s.gate.conns {
		all = append(all, c)
	}
	return all
}
