package gateway

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// patience is how long a test waits for what must come. It is only ever
// reached where something is broken.
const patience = 30 * time.Second

// The opcodes: Discord's developer documentation, "Gateway opcodes".
const (
	opDispatch  = 0
	opHeartbeat = 1
	opIdentify  = 2
	opResume    = 6
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opAck       = 11
)

// cutOff is what peer.closed gives where no close frame came.
const cutOff = 1006

// server is a gateway that plays a script on each connection, in order, and
// the last one again on all that follow. A script ends by closing.
type server struct {
	t       *testing.T
	http    *httptest.Server
	scripts []func(*peer)
	playing sync.WaitGroup

	mu          sync.Mutex
	connections int
	identified  []identity
}

type identity struct {
	Token    string  `json:"token"`
	Compress bool    `json:"compress"`
	Shard    *[2]int `json:"shard"`
	Intents  int     `json:"intents"`
}

type resumption struct {
	Token   string `json:"token"`
	Session string `json:"session_id"`
	Seq     int    `json:"seq"`
}

// peer is the server's end of one connection.
type peer struct {
	*server
	number   int // from 1
	conn     *websocket.Conn
	silent   bool // acknowledges no heartbeat
	compress bool // sends binary frames
	beats    int  // heartbeats read
}

func newServer(t *testing.T, scripts ...func(*peer)) *server {
	t.Helper()
	s := &server{t: t, scripts: scripts}
	s.http = httptest.NewServer(s)
	t.Cleanup(func() {
		s.playing.Wait()
		s.http.Close()
	})
	return s
}

func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	switch {
	case websocket.IsWebSocketUpgrade(r):
		s.play(w, r)
	case r.URL.Path == "/api/v9/gateway":
		fmt.Fprintf(w, `{"url":"ws%s"}`, strings.TrimPrefix(s.http.URL, "http"))
	default:
		s.t.Errorf("asked for %s, which is not the gateway's to ask", r.URL)
		http.NotFound(w, r)
	}
}

func (s *server) play(w http.ResponseWriter, r *http.Request) {
	s.playing.Add(1)
	defer s.playing.Done()
	upgrader := websocket.Upgrader{}
	conn, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		s.t.Errorf("no WebSocket: %v", err)
		return
	}
	defer conn.Close()
	conn.SetReadDeadline(time.Now().Add(patience))
	conn.SetWriteDeadline(time.Now().Add(patience))
	s.mu.Lock()
	s.connections++
	p := &peer{server: s, number: s.connections, conn: conn}
	script := s.scripts[min(len(s.scripts), s.connections)-1]
	s.mu.Unlock()
	script(p)
}

// client sends to the server what is meant for the platform.
func (s *server) client() *http.Client {
	to, err := url.Parse(s.http.URL)
	if err != nil {
		s.t.Fatal(err)
	}
	base := &http.Transport{DisableKeepAlives: true}
	return &http.Client{Transport: turn(func(r *http.Request) (*http.Response, error) {
		r = r.Clone(r.Context())
		r.URL.Scheme, r.URL.Host = to.Scheme, to.Host
		return base.RoundTrip(r)
	})}
}

type turn func(*http.Request) (*http.Response, error)

func (f turn) RoundTrip(r *http.Request) (*http.Response, error) { return f(r) }

func (s *server) identifies() []identity {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]identity(nil), s.identified...)
}

func (p *peer) send(op int, seq any, kind any, d any) {
	packet, err := json.Marshal(map[string]any{"op": op, "s": seq, "t": kind, "d": d})
	if err != nil {
		p.t.Errorf("connection %d: %v", p.number, err)
	}
	frame := websocket.TextMessage
	if p.compress {
		var b bytes.Buffer
		z := zlib.NewWriter(&b)
		z.Write(packet)
		z.Close()
		packet, frame = b.Bytes(), websocket.BinaryMessage
	}
	// Where the other end has gone, the next read says so.
	_ = p.conn.WriteMessage(frame, packet)
}

func (p *peer) op(op int, d any) { p.send(op, nil, nil, d) }

// hello asks for heartbeats so seldom that only the first comes.
func (p *peer) hello() { p.op(opHello, map[string]any{"heartbeat_interval": 600_000}) }

func (p *peer) event(seq int, kind string, d any) { p.send(opDispatch, seq, kind, d) }

func (p *peer) message(seq int) {
	p.event(seq, "MESSAGE_CREATE", map[string]any{
		"id": fmt.Sprint(seq), "channel_id": "7", "content": "next row", "author": map[string]any{"id": "21", "username": "wren"},
	})
}

func (p *peer) press(seq int) {
	p.event(seq, "INTERACTION_CREATE", map[string]any{
		"id": fmt.Sprint(seq), "application_id": "11", "type": 3, "token": secretPress, "channel_id": "7", "version": 1,
		"user": map[string]any{"id": "21", "username": "wren"},
		"data": map[string]any{"custom_id": "next", "component_type": 2},
	})
}

// ready says that the session is new.
func (p *peer) ready(seq int, session string) {
	p.event(seq, "READY", map[string]any{
		"v": 9, "session_id": session, "user": map[string]any{"id": "12", "username": "clew"},
		"application": map[string]any{"id": "11"}, "guilds": []any{}, "resume_gateway_url": "wss://resume.invalid",
	})
}

func (p *peer) resumed(seq int) { p.event(seq, "RESUMED", map[string]any{}) }

// read gives the next packet that is no heartbeat; those are acknowledged. Not
// ok is that the connection has ended.
func (p *peer) read() (op int, d json.RawMessage, err error) {
	for {
		_, b, err := p.conn.ReadMessage()
		if err != nil {
			return 0, nil, err
		}
		var packet struct {
			Op int             `json:"op"`
			D  json.RawMessage `json:"d"`
		}
		if err := json.Unmarshal(b, &packet); err != nil {
			p.t.Errorf("connection %d: sent %q: %v", p.number, b, err)
		}
		if packet.Op != opHeartbeat {
			return packet.Op, packet.D, nil
		}
		p.beats++
		if !p.silent {
			p.op(opAck, nil)
		}
	}
}

func (p *peer) expect(op int, into any) bool {
	got, d, err := p.read()
	if err != nil {
		p.t.Errorf("connection %d: expected op %d: %v", p.number, op, err)
		return false
	}
	if got != op {
		p.t.Errorf("connection %d: got op %d, expected %d: %s", p.number, got, op, d)
		return false
	}
	if err := json.Unmarshal(d, into); err != nil {
		p.t.Errorf("connection %d: op %d: %v", p.number, op, err)
	}
	return true
}

// identify expects an identify.
func (p *peer) identify() identity {
	var d identity
	if p.expect(opIdentify, &d) {
		p.mu.Lock()
		p.identified = append(p.identified, d)
		p.mu.Unlock()
		if d.Token != "Bot "+secretToken {
			p.t.Errorf("connection %d: identifies with another token", p.number)
		}
	}
	return d
}

// resume expects that a session is resumed from after an event.
func (p *peer) resume(session string, seq int) {
	var d resumption
	if p.expect(opResume, &d) && (d != resumption{"Bot " + secretToken, session, seq}) {
		p.t.Errorf("connection %d: resumes %q after %d, expected %q after %d", p.number, d.Session, d.Seq, session, seq)
	}
}

// closed waits until the other end closes, and gives the code.
func (p *peer) closed() int {
	for {
		op, d, err := p.read()
		if closed, ok := err.(*websocket.CloseError); ok {
			return closed.Code
		}
		if err != nil {
			if late, ok := err.(interface{ Timeout() bool }); ok && late.Timeout() {
				p.t.Errorf("connection %d: was not closed", p.number)
			}
			return cutOff
		}
		p.t.Errorf("connection %d: sent op %d, expected nothing more: %s", p.number, op, d)
	}
}

// stay is how the last connection of a test ends.
func (p *peer) stay() {
	if code := p.closed(); code != closeNormal {
		p.t.Errorf("connection %d: closed with %d, expected %d", p.number, code, closeNormal)
	}
}

// kept expects to be closed so that the session can be resumed.
func (p *peer) kept() {
	switch code := p.closed(); code {
	case 1000, 1001:
		p.t.Errorf("connection %d: closed with %d, which ends the session", p.number, code)
	case cutOff:
		p.t.Errorf("connection %d: cut off, expected a close code", p.number)
	}
}

// close closes with a code and waits for the other end.
func (p *peer) close(code int) {
	_ = p.conn.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(code, ""))
	p.closed()
}

// open is the beginning that most scripts have.
func (p *peer) open(session string) {
	p.hello()
	p.identify()
	p.ready(1, session)
}

// whole is a connection on which nothing goes wrong.
func whole(p *peer) {
	p.open("lantern")
	p.stay()
}

// beat reads exactly one packet, which must be a heartbeat.
func (p *peer) beat() {
	_, b, err := p.conn.ReadMessage()
	if err != nil {
		p.t.Errorf("connection %d: expected a heartbeat: %v", p.number, err)
	}
	var packet struct{ Op int }
	if err := json.Unmarshal(b, &packet); err != nil || packet.Op != opHeartbeat {
		p.t.Errorf("connection %d: got %q, expected a heartbeat", p.number, b)
	}
	p.beats++
	p.op(opAck, nil)
}

func answer(body string) *http.Response {
	return &http.Response{StatusCode: http.StatusOK, Header: http.Header{}, Body: io.NopCloser(strings.NewReader(body))}
}
