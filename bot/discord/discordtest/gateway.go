package discordtest

import (
	"bytes"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/gorilla/websocket"
)

// Opcodes: documentation, "Gateway", opcodes; 3, 4 and 8 from memory.
const (
	opDispatch  = 0
	opHeartbeat = 1
	opIdentify  = 2
	opPresence  = 3
	opVoice     = 4
	opResume    = 6
	opReconnect = 7
	opMembers   = 8
	opInvalid   = 9
	opHello     = 10
	opAck       = 11
)

// Close codes: documentation, "Opcodes and Status Codes", gateway close event codes;
// from memory but for 4004 and 4014.
const (
	closeUnknownOp     = 4001
	closeDecode        = 4002
	closeNotIdentified = 4003
	closeAuth          = 4004
	closeIdentified    = 4005
	closeSeq           = 4007
	closeRate          = 4008
	closeTimedOut      = 4009
	closeShard         = 4010
	closeSharding      = 4011
	closeVersion       = 4012
	closeIntents       = 4013
	closeDisallowed    = 4014
)

// Intents: documentation, "Gateway", list of intents; from memory but for what they ask.
const (
	intentGuilds         = 1 << 0
	intentGuildMembers   = 1 << 1
	intentPresences      = 1 << 8
	intentGuildMessages  = 1 << 9
	intentDirectMessages = 1 << 12
	intentContent        = 1 << 15
	intentsPrivileged    = intentGuildMembers | intentPresences | intentContent
	intentsKnown         = 1<<17 - 1 | 1<<20 | 1<<21 | 1<<24 | 1<<25
)

const (
	sendsAMinute     = 120  // documentation, "Gateway", rate limiting
	largestSend      = 4096 // bytes; documentation, "Gateway", sending events; from memory
	guildsUnsharded  = 2500 // documentation, "Gateway", sharding
	partingTime      = time.Second
	gatewayWriteTime = 5 * time.Second
)

var upgrader = websocket.Upgrader{ReadBufferSize: 4096, WriteBufferSize: 4096, CheckOrigin: func(*http.Request) bool { return true }}

// payload is what a client sends.
type payload struct {
	Op int             `json:"op"`
	D  json.RawMessage `json:"d"`
}

// serveGateway upgrades and serves one connection.
func (s *Server) serveGateway(w http.ResponseWriter, r *http.Request) {
	if open := s.hanging(); open != nil {
		select {
		case <-open:
		case <-r.Context().Done():
			return
		case <-s.done:
			return
		}
	}
	q := r.URL.Query()
	if enc := q.Get("encoding"); enc != "json" || q.Get("compress") != "" {
		s.wrong("gateway: %q: only encoding=json without transport compression is served here", r.URL.RawQuery)
		http.Error(w, "only encoding=json without transport compression is served here", http.StatusBadRequest)
		return
	}
	ws, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		s.wrong("gateway: upgrade: %v", err)
		return
	}
	c := &conn{s: s, ws: ws}
	if !s.join(c) {
		c.cut()
		return
	}
	defer s.leave(c)
	defer c.cut()
	if v := q.Get("v"); v != "9" && v != "10" {
		s.wrong("gateway: version %q is not served: expected v=9 or v=10", v)
		c.closeWith(closeVersion, "Invalid API version(s).")
		return
	}
	c.version = map[string]int{"9": 9, "10": 10}[q.Get("v")]
	s.converse(c)
}

// converse says hello and serves what comes, until the connection ends.
func (s *Server) converse(c *conn) {
	if s.mute() {
		_, _, err := c.ws.ReadMessage() // nobody has been greeted, so nothing should come but an end
		for err == nil {
			_, _, err = c.ws.ReadMessage()
		}
		return
	}
	interval := s.opt.Heartbeat.Milliseconds()
	c.send(marshal(map[string]any{"op": opHello, "d": map[string]any{"heartbeat_interval": interval, "_trace": []string{}}}), false)
	c.alive()
	for {
		kind, data, err := c.ws.ReadMessage()
		if err != nil {
			s.parted(c, err)
			return
		}
		if c.closing.Load() {
			continue // what was on its way
		}
		s.take(c, kind, data)
	}
}

// parted keeps how a connection ended. A session whose client says that it is done
// (1000, 1001) is over: documentation, "Gateway", disconnections; 1001 from memory.
func (s *Server) parted(c *conn, err error) {
	var late net.Error
	if errors.As(err, &late) && late.Timeout() && !c.closing.Load() {
		s.say("gateway: no heartbeat in %v: closed with %d", s.opt.Heartbeat+s.opt.HeartbeatGrace, closeTimedOut)
		c.closeWith(closeTimedOut, "Session timed out.")
		return
	}
	code := websocket.CloseAbnormalClosure
	var closed *websocket.CloseError
	if errors.As(err, &closed) {
		code = closed.Code
	}
	s.say("gateway: connection ended: %d", code)
	if c.closing.Load() { // the frame answers the platform's own, which has said how it ends
		code = websocket.CloseAbnormalClosure
	}
	if sess := c.session.Load(); sess != nil {
		sess.parted(c, code)
	}
}

// take serves one payload of the client's.
func (s *Server) take(c *conn, kind int, data []byte) {
	var p payload
	var op struct {
		Op *int `json:"op"`
	}
	switch {
	case kind != websocket.TextMessage || json.Unmarshal(data, &op) != nil || json.Unmarshal(data, &p) != nil || op.Op == nil:
		s.wrong("gateway: a payload that is not JSON with an op: %.80q", data)
		c.closeWith(closeDecode, "Error while decoding payload.")
		return
	case len(data) > largestSend:
		s.wrong("gateway: a payload of %d bytes: at most %d", len(data), largestSend)
		c.closeWith(closeDecode, "Error while decoding payload.")
		return
	case !c.counts():
		s.wrong("gateway: more than %d payloads in a minute", sendsAMinute)
		c.closeWith(closeRate, "You are being rate limited.")
		return
	}
	switch p.Op {
	case opHeartbeat:
		s.heartbeat(c, p.D)
	case opIdentify:
		s.identify(c, p.D)
	case opResume:
		s.resume(c, p.D)
	case opPresence, opVoice, opMembers:
		if c.session.Load() == nil {
			s.wrong("gateway: op %d before identifying", p.Op)
			c.closeWith(closeNotIdentified, "Not authenticated.")
			return
		}
		if p.Op == opPresence {
			c.session.Load().count(func(st *Session) { st.UpdatesOfPresence++ })
		}
	default:
		s.wrong("gateway: op %d is none that a client sends", p.Op)
		c.closeWith(closeUnknownOp, "Unknown opcode.")
	}
}

func (s *Server) heartbeat(c *conn, d json.RawMessage) {
	var seq *int64
	if err := json.Unmarshal(orNull(d), &seq); err != nil {
		s.wrong("gateway: heartbeat: d is %.40s: expected the last sequence number, or null", d)
		c.closeWith(closeDecode, "Error while decoding payload.")
		return
	}
	if sess := c.session.Load(); sess != nil {
		if last := sess.beat(); seq != nil && *seq > last {
			s.wrong("gateway: heartbeat: sequence %d, though the last event had %d", *seq, last)
		}
	}
	c.alive()
	if !c.silent.Load() {
		c.send(marshal(map[string]any{"op": opAck}), false)
	}
	s.saw()
}

func orNull(d json.RawMessage) []byte {
	if len(bytes.TrimSpace(d)) == 0 {
		return []byte("null")
	}
	return d
}

// bare is a token without "Bot ", which the gateway takes with and without.
func bare(token string) string { return strings.TrimPrefix(token, "Bot ") }
