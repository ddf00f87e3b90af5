package discordtest_test

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"clew/bot/discord/discordtest"
)

// raw is a server without a test, so that what is wrong can be looked at, and a client
// that writes what it is told to.
type raw struct {
	*discordtest.Server
	t      *testing.T
	client *http.Client
}

type object = map[string]any

func newRaw(t *testing.T, o discordtest.Options) raw {
	t.Helper()
	leaks(t)
	o.Fail = func(what string) { t.Helper(); t.Fatal(what) }
	srv, err := discordtest.Start(o)
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{MaxIdleConnsPerHost: 8}
	t.Cleanup(func() {
		srv.Close()
		transport.CloseIdleConnections()
	})
	return raw{srv, t, &http.Client{Transport: transport}}
}

// answer is what came back.
type answer struct {
	status int
	code   int
	text   string
	body   object
	header http.Header
}

// do makes a request below /api/v9; body is JSON as text, or a value.
func (r raw) do(method, path string, body any, set ...func(*http.Request)) answer {
	r.t.Helper()
	var data []byte
	switch b := body.(type) {
	case nil:
	case string:
		data = []byte(b)
	default:
		var err error
		if data, err = json.Marshal(b); err != nil {
			r.t.Fatal(err)
		}
	}
	q, err := http.NewRequest(method, r.URL()+"/api/v9"+path, bytes.NewReader(data))
	if err != nil {
		r.t.Fatal(err)
	}
	q.Header.Set("Authorization", "Bot "+r.Token())
	q.Header.Set("User-Agent", "DiscordBot (https://example.org, 1)")
	if body != nil {
		q.Header.Set("Content-Type", "application/json")
	}
	for _, f := range set {
		f(q)
	}
	return r.send(q)
}

func (r raw) send(q *http.Request) answer {
	r.t.Helper()
	resp, err := r.client.Do(q)
	if err != nil {
		return answer{text: err.Error()}
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		r.t.Fatal(err)
	}
	a := answer{status: resp.StatusCode, text: string(text), header: resp.Header}
	_ = json.Unmarshal(text, &a.body) // what is no object leaves it nil
	if code, is := a.body["code"].(float64); is {
		a.code = int(code)
	}
	return a
}

// parts makes a request with files.
func (r raw) parts(method, path string, body any, files ...part) answer {
	r.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	data, err := json.Marshal(body)
	if err != nil {
		r.t.Fatal(err)
	}
	r.part(w, part{`form-data; name="payload_json"`, "application/json", data})
	for i, f := range files {
		f.disposition = fmt.Sprintf(`form-data; name="files[%d]"; filename="%s"`, i, f.disposition)
		r.part(w, f)
	}
	if err := w.Close(); err != nil {
		r.t.Fatal(err)
	}
	return r.do(method, path, b.String(), func(q *http.Request) { q.Header.Set("Content-Type", w.FormDataContentType()) })
}

type part struct {
	disposition, kind string
	data              []byte
}

func (r raw) part(w *multipart.Writer, p part) {
	r.t.Helper()
	h := textproto.MIMEHeader{}
	h.Set("Content-Disposition", p.disposition)
	h.Set("Content-Type", p.kind)
	one, err := w.CreatePart(h)
	if err == nil {
		_, err = one.Write(p.data)
	}
	if err != nil {
		r.t.Fatal(err)
	}
}

// quiet is a body of a message that pings nobody, with more fields.
func quiet(more object) object {
	o := object{"content": "Row six.", "allowed_mentions": object{"parse": []string{}}}
	for k, v := range more {
		o[k] = v
	}
	return o
}

// passes and refused check one answer, and whether it is on the list of what was wrong.
func (r raw) passes(what string, a answer, wrongs int) {
	r.t.Helper()
	if a.status/100 != 2 {
		r.t.Errorf("%s: refused with %d: %s", what, a.status, a.text)
	}
	if all := r.Wrong(); len(all) != wrongs {
		r.t.Errorf("%s: wrong: %q", what, all)
	}
}

func (r raw) refused(what string, a answer, status, code int, field string, wrongs int) {
	r.t.Helper()
	if a.status != status || a.code != code {
		r.t.Errorf("%s: %d, code %d: expected %d, code %d: %s", what, a.status, a.code, status, code, a.text)
	}
	if field != "" {
		level := a.body["errors"]
		for key := range strings.SplitSeq(field, ".") {
			one, _ := level.(object)
			level = one[key]
		}
		if one, _ := level.(object); one["_errors"] == nil {
			r.t.Errorf("%s: no error at %s: %s", what, field, a.text)
		}
	}
	if all := r.Wrong(); len(all) != wrongs {
		r.t.Errorf("%s: %d are wrong, not %d: %q", what, len(all), wrongs, all)
	}
}

// gate is a raw client of the gateway.
type gate struct {
	*websocket.Conn
	t *testing.T
}

type frame struct {
	Op int             `json:"op"`
	T  string          `json:"t"`
	S  int64           `json:"s"`
	D  json.RawMessage `json:"d"`
}

// dial connects and reads hello.
func (r raw) dial(query string) gate {
	r.t.Helper()
	ws, resp, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(r.URL(), "http")+"/"+query, nil)
	if err != nil {
		r.t.Fatal(err)
	}
	_ = resp.Body.Close()
	r.t.Cleanup(func() { _ = ws.Close() })
	g := gate{ws, r.t}
	if query == "?v=9&encoding=json" {
		if f := g.read(); f.Op != 10 {
			r.t.Fatalf("op %d came first, not hello", f.Op)
		}
	}
	return g
}

func (g gate) write(op int, d any) {
	g.t.Helper()
	if err := g.WriteJSON(object{"op": op, "d": d}); err != nil {
		g.t.Fatal(err)
	}
}

// read reads a frame; one that is not there within ten seconds fails the test.
func (g gate) read() frame {
	g.t.Helper()
	f, err := g.next()
	if err != nil {
		g.t.Fatal(err)
	}
	return f
}

func (g gate) next() (frame, error) {
	_ = g.SetReadDeadline(time.Now().Add(10 * time.Second))
	kind, data, err := g.ReadMessage()
	if err != nil {
		return frame{}, err
	}
	if kind == websocket.BinaryMessage {
		z, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			return frame{}, err
		}
		if data, err = io.ReadAll(z); err != nil { // a stream that is not whole is an error here
			return frame{}, err
		}
	}
	var f frame
	return f, json.Unmarshal(data, &f)
}

// closes reads until the connection is closed, and gives the code.
func (g gate) closes() int {
	g.t.Helper()
	for {
		_, err := g.next()
		if err == nil {
			continue
		}
		closed, is := err.(*websocket.CloseError)
		if !is {
			g.t.Fatalf("no close frame: %v", err)
		}
		return closed.Code
	}
}

const (
	guilds   = 1 << 0
	messages = 1<<9 | 1<<12
)

// identify is the data of an identify, with fields changed; a nil one is left out.
func (r raw) identify(change object) object {
	o := object{"token": r.Token(), "intents": messages, "properties": object{"os": "linux", "browser": "test", "device": "test"}}
	for k, v := range change {
		o[k] = v
		if v == nil {
			delete(o, k)
		}
	}
	return o
}

// ready identifies and reads READY, and gives the session's id.
func (g gate) ready(r raw, change object) string {
	g.t.Helper()
	g.write(2, r.identify(change))
	f := g.read()
	if f.T != "READY" {
		g.t.Fatalf("op %d %s in place of READY", f.Op, f.T)
	}
	var d struct {
		SessionID string `json:"session_id"`
	}
	if err := json.Unmarshal(f.D, &d); err != nil || d.SessionID == "" {
		g.t.Fatalf("READY: %v: %s", err, f.D)
	}
	return d.SessionID
}

// event reads frames up to one of this kind, and decodes it.
func (g gate) event(kind string) (object, int64) {
	g.t.Helper()
	for {
		f := g.read()
		if f.T != kind {
			continue
		}
		var d object
		if err := json.Unmarshal(f.D, &d); err != nil {
			g.t.Fatal(err)
		}
		return d, f.S
	}
}

// dialBench is a raw client of the gateway for a benchmark, identified.
func dialBench(t testing.TB, srv *discordtest.Server) gate {
	t.Helper()
	ws, resp, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(srv.URL(), "http")+"/"+usual, nil)
	if err != nil {
		t.Fatal(err)
	}
	_ = resp.Body.Close()
	identify := object{"op": 2, "d": object{"token": srv.Token(), "intents": 1, "properties": object{"os": "linux", "browser": "test", "device": "test"}}}
	if err := ws.WriteJSON(identify); err != nil {
		t.Fatal(err)
	}
	srv.Connected(1)
	return gate{Conn: ws}
}

func newReader(b []byte) io.Reader { return bytes.NewReader(b) }
