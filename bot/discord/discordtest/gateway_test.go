package discordtest_test

import (
	"errors"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"clew/bot/discord/discordtest"
)

const usual = "?v=9&encoding=json"

// What the gateway refuses, and the code with which it closes: Discord's developer
// documentation, "Opcodes and Status Codes", gateway close event codes; the reasons of
// 4013 for missing intents and of 4002 for missing properties are from memory.
func TestGatewayCloses(t *testing.T) {
	long := object{"status": strings.Repeat("x", 4096)}
	table := map[string]struct {
		query string
		send  func(raw, gate)
		code  int
		wrong bool // whether it is on the list
	}{
		"another version":             {"?v=3&encoding=json", func(raw, gate) {}, 4012, true},
		"unknown op":                  {usual, func(_ raw, g gate) { g.write(99, nil) }, 4001, true},
		"not JSON":                    {usual, func(_ raw, g gate) { _ = g.WriteMessage(websocket.TextMessage, []byte("{")) }, 4002, true},
		"binary":                      {usual, func(_ raw, g gate) { _ = g.WriteMessage(websocket.BinaryMessage, []byte(`{"op":1}`)) }, 4002, true},
		"no op":                       {usual, func(_ raw, g gate) { _ = g.WriteMessage(websocket.TextMessage, []byte("{}")) }, 4002, true},
		"too long":                    {usual, func(r raw, g gate) { g.ready(r, nil); g.write(3, long) }, 4002, true},
		"a heartbeat of text":         {usual, func(_ raw, g gate) { g.write(1, "seven") }, 4002, true},
		"presence before identifying": {usual, func(_ raw, g gate) { g.write(3, nil) }, 4003, true},
		"wrong token":                 {usual, func(r raw, g gate) { g.write(2, r.identify(object{"token": "another"})) }, 4004, false},
		"identify twice":              {usual, func(r raw, g gate) { g.ready(r, nil); g.write(2, r.identify(nil)) }, 4005, true},
		"no properties":               {usual, func(r raw, g gate) { g.write(2, r.identify(object{"properties": nil})) }, 4002, true},
		"shard out of range":          {usual, func(r raw, g gate) { g.write(2, r.identify(object{"shard": []int{2, 2}})) }, 4010, true},
		"shard below zero":            {usual, func(r raw, g gate) { g.write(2, r.identify(object{"shard": []int{-1, 2}})) }, 4010, true},
		"shard of three numbers":      {usual, func(r raw, g gate) { g.write(2, r.identify(object{"shard": []int{0, 1, 2}})) }, 4010, true},
		"no intents":                  {usual, func(r raw, g gate) { g.write(2, r.identify(object{"intents": nil})) }, 4013, true},
		"intents that are none":       {usual, func(r raw, g gate) { g.write(2, r.identify(object{"intents": 1 << 30})) }, 4013, true},
		"members not granted":         {usual, func(r raw, g gate) { g.write(2, r.identify(object{"intents": 1 << 1})) }, 4014, false},
		"content not granted":         {usual, func(r raw, g gate) { g.write(2, r.identify(object{"intents": 1 << 15})) }, 4014, false},
		"resume with a wrong token": {usual, func(_ raw, g gate) { g.write(6, object{"token": "another", "session_id": "x", "seq": 1}) },
			4004, false},
		"resume without a sequence": {usual, func(r raw, g gate) { g.write(6, object{"token": r.Token(), "session_id": "x"}) }, 4002, true},
		"resume ahead of what was sent": {usual, func(r raw, g gate) {
			other := r.dial(usual)
			g.write(6, object{"token": r.Token(), "session_id": other.ready(r, nil), "seq": 99})
		}, 4007, true},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			g := r.dial(c.query)
			c.send(r, g)
			if code := g.closes(); code != c.code {
				t.Errorf("closed with %d, not %d", code, c.code)
			}
			if wrong := len(r.Wrong()) > 0; wrong != c.wrong {
				t.Errorf("wrong: %q", r.Wrong())
			}
		})
	}
}

// 120 payloads a minute (shared/DISCORD.md, Limits).
func TestGatewayCountsPayloads(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	g := r.dial(usual)
	g.ready(r, nil)
	for range 119 { // with the identify: 120
		g.write(1, nil)
	}
	for range 119 {
		if f := g.read(); f.Op != 11 {
			t.Fatalf("op %d", f.Op)
		}
	}
	g.write(1, nil)
	if code := g.closes(); code != 4008 {
		t.Errorf("closed with %d", code)
	}
}

func TestGatewayGrantsIntents(t *testing.T) {
	r := newRaw(t, discordtest.Options{Privileged: 1 << 15})
	guild := r.Guild("Tibberhythe")
	ana := guild.Member("Ana Pell")
	ch := guild.Channel("wednesday")
	g, plain := r.dial(usual), r.dial(usual)
	g.ready(r, object{"intents": messages | 1<<15})
	plain.ready(r, nil)
	r.SaysIn(ch, ana, "next row", r.Attach("a.txt", []byte("x")))
	if d, _ := g.event("MESSAGE_CREATE"); d["content"] != "next row" || len(d["attachments"].([]any)) != 1 {
		t.Errorf("with the intent: %v", d)
	}
	if d, _ := plain.event("MESSAGE_CREATE"); d["content"] != "" || len(d["attachments"].([]any)) != 0 {
		t.Errorf("without the intent: %v", d)
	}
	if len(r.Wrong()) > 0 {
		t.Error(r.Wrong())
	}
}

func TestGatewayHeartbeats(t *testing.T) {
	r := newRaw(t, discordtest.Options{Heartbeat: 50 * time.Millisecond, HeartbeatGrace: time.Second})
	g := r.dial(usual)
	g.ready(r, nil)
	begin := time.Now()
	for range 18 { // longer than a connection without heartbeats lasts
		g.write(1, 1)
		if f := g.read(); f.Op != 11 {
			t.Fatalf("op %d in place of an acknowledgement", f.Op)
		}
		time.Sleep(80 * time.Millisecond)
	}
	if n := r.Sessions()[0].Heartbeats; n != 18 {
		t.Errorf("%d heartbeats", n)
	}
	r.WantHeartbeat(0)
	if f := g.read(); f.Op != 1 {
		t.Errorf("op %d in place of a wish for a heartbeat", f.Op)
	}
	last := time.Now()
	if code := g.closes(); code != 4009 {
		t.Errorf("closed with %d", code)
	}
	if took := time.Since(last); took < 500*time.Millisecond || time.Since(begin) < 1500*time.Millisecond {
		t.Errorf("closed %v after the last heartbeat", took)
	}
	if len(r.Wrong()) > 0 {
		t.Error(r.Wrong())
	}
}

func TestGatewayCompresses(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	g := r.dial(usual)
	g.write(2, r.identify(object{"compress": true}))
	for _, want := range []string{"READY", "MESSAGE_CREATE"} {
		_ = g.SetReadDeadline(time.Now().Add(10 * time.Second))
		kind, _, err := g.NextReader()
		if err != nil || kind != websocket.BinaryMessage {
			t.Fatalf("%s: kind %d, %v", want, kind, err)
		}
		if want == "READY" {
			r.Says(ana, "hello")
		}
	}
}

func TestGatewayResumes(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	g := r.dial(usual)
	id := g.ready(r, nil)
	r.Says(ana, "one")
	_, seq := g.event("MESSAGE_CREATE")
	_ = g.Close()
	r.Gone(0)
	r.Says(ana, "two")
	r.Says(ana, "three")
	again := r.dial(usual)
	again.write(6, object{"token": r.Token(), "session_id": id, "seq": seq})
	for i, want := range []string{"two", "three"} {
		d, got := again.event("MESSAGE_CREATE")
		if d["content"] != want || got != seq+int64(i)+1 {
			t.Errorf("event %d: %v", got, d)
		}
	}
	if f := again.read(); f.T != "RESUMED" || f.S != seq+3 {
		t.Errorf("%+v in place of RESUMED", f)
	}
	r.Resumed(0, 1)
	r.Says(ana, "four")
	if d, _ := again.event("MESSAGE_CREATE"); d["content"] != "four" {
		t.Errorf("%v", d)
	}
	if len(r.Wrong()) > 0 {
		t.Error(r.Wrong())
	}
}

// An interaction that comes again by a replay may be answered again.
func TestGatewayReplaysInteractions(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	_, i := a.uses()
	a.passes("answer", a.back(i, kind(4, quiet(nil))), 0)
	again := a.dial(usual)
	session := a.Sessions()[0]
	again.write(6, object{"token": a.Token(), "session_id": session.ID, "seq": 1}) // as if it had seen READY only
	if d, _ := again.event("INTERACTION_CREATE"); d["id"] != i["id"] {
		t.Errorf("%v", d)
	}
	a.refused("another answer", a.back(i, kind(4, quiet(nil))), 400, 40060, "", 0)
}

// A session can't be resumed once its client has closed it with 1000 or 1001, or it was
// declared invalid, or it is unknown: documentation, "Gateway", resuming.
func TestGatewayForgets(t *testing.T) {
	ends := map[string]func(raw, gate){
		"closed with 1000": func(_ raw, g gate) {
			_ = g.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(1000, ""))
		},
		"closed with 1001": func(_ raw, g gate) {
			_ = g.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(1001, ""))
		},
		"declared invalid": func(r raw, g gate) {
			r.Invalid(0, false)
			if f := g.read(); f.Op != 9 || string(f.D) != "false" {
				r.t.Errorf("%+v", f)
			}
		},
		"timed out": func(r raw, _ gate) { r.CloseWith(0, 4009) },
		"unknown":   func(raw, gate) {},
	}
	for name, end := range ends {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			g := r.dial(usual)
			id := g.ready(r, nil)
			if name == "unknown" {
				id = "another"
			} else {
				end(r, g)
				r.Gone(0)
			}
			again := r.dial(usual)
			again.write(6, object{"token": r.Token(), "session_id": id, "seq": 1})
			if f := again.read(); f.Op != 9 || string(f.D) != "false" {
				t.Errorf("%+v in place of an invalid session", f)
			}
			again.ready(r, nil) // on the same connection
		})
	}
}

// Other codes leave a session that can be resumed.
func TestGatewayKeeps(t *testing.T) {
	ends := map[string]func(raw, gate){
		"closed with 4000 by the client": func(_ raw, g gate) {
			_ = g.WriteMessage(websocket.CloseMessage, websocket.FormatCloseMessage(4000, ""))
		},
		"closed with 4000 by the server": func(r raw, _ gate) { r.CloseWith(0, 4000) },
		"closed with 4008 by the server": func(r raw, _ gate) { r.CloseWith(0, 4008) },
		"cut":                            func(r raw, _ gate) { r.Cut(0) },
		"asked to reconnect": func(r raw, g gate) {
			r.Reconnect(0)
			if f := g.read(); f.Op != 7 {
				r.t.Errorf("%+v", f)
			}
			_ = g.Close()
		},
		"invalid but resumable": func(r raw, g gate) {
			r.Invalid(0, true)
			if f := g.read(); f.Op != 9 || string(f.D) != "true" {
				r.t.Errorf("%+v", f)
			}
			_ = g.Close()
		},
		"still connected": func(raw, gate) {},
	}
	for name, end := range ends {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			g := r.dial(usual)
			id := g.ready(r, nil)
			end(r, g)
			again := r.dial(usual)
			again.write(6, object{"token": "Bot " + r.Token(), "session_id": id, "seq": 1})
			if f := again.read(); f.T != "RESUMED" {
				t.Errorf("%+v in place of RESUMED", f)
			}
			if name == "still connected" { // a session has one connection
				if f, err := g.next(); err == nil || late(err) {
					t.Errorf("the older connection is still open: %+v %v", f, err)
				}
			}
			if len(r.Wrong()) > 0 {
				t.Error(r.Wrong())
			}
		})
	}
}

func TestGatewayGoesSilent(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	g := r.dial(usual)
	id := g.ready(r, nil)
	r.Silent(true)
	g.write(1, 1)
	r.Until("the heartbeat", func() bool { return r.Sessions()[0].Heartbeats == 1 })
	r.Says(ana, "one")

	again := r.dial(usual) // new connections are served, and get what the dead one missed
	again.write(6, object{"token": r.Token(), "session_id": id, "seq": 1})
	if d, seq := again.event("MESSAGE_CREATE"); d["content"] != "one" || seq != 2 {
		t.Errorf("event %d: %v", seq, d)
	}
	if f, err := g.next(); err == nil || late(err) {
		t.Errorf("the silent connection said something, or is still open: %+v %v", f, err)
	}
}

// late says whether a read has waited in vain.
func late(err error) bool {
	var timed net.Error
	return errors.As(err, &timed) && timed.Timeout()
}

func TestGatewayKeepsToIntents(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	guild := r.Guild("Tibberhythe")
	ch, ana := guild.Channel("wednesday"), guild.Member("Ana Pell")
	private, public := r.dial(usual), r.dial(usual)
	private.ready(r, object{"intents": 1 << 12})
	public.ready(r, object{"intents": 1 << 9})
	r.Says(ana, "in private")
	r.SaysIn(ch, ana, "@clew in public")
	r.Forges(ch, ana, "next") // interactions need no intent
	if f := private.read(); f.T != "MESSAGE_CREATE" || !strings.Contains(string(f.D), "in private") {
		t.Errorf("%s %s", f.T, f.D)
	}
	if f := public.read(); f.T != "MESSAGE_CREATE" || !strings.Contains(string(f.D), "in public") {
		t.Errorf("%s %s", f.T, f.D)
	}
	for _, g := range []gate{private, public} {
		if f := g.read(); f.T != "INTERACTION_CREATE" {
			t.Errorf("%s %s", f.T, f.D)
		}
	}
}

// What is too long ago is not replayed, in part either.
func TestGatewayReplaysNoPart(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	g := r.dial(usual)
	id := g.ready(r, nil)
	r.Cut(0)
	r.Gone(0)
	for range 6000 {
		r.Dispatch(0, "TYPING_START", object{})
	}
	again := r.dial(usual)
	again.write(6, object{"token": r.Token(), "session_id": id, "seq": 1})
	if f := again.read(); f.Op != 9 || string(f.D) != "false" {
		t.Errorf("%+v in place of an invalid session", f)
	}
	again.write(6, object{"token": r.Token(), "session_id": id, "seq": 5000})
	if f := again.read(); f.S != 5001 {
		t.Errorf("event %d came first, not 5001", f.S)
	}
}

func TestGatewayWakes(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	g := r.dial(usual)
	g.ready(r, nil)
	r.Silent(true)
	r.Says(ana, "one")
	r.Silent(false)
	r.Says(ana, "two")
	for _, want := range []string{"one", "two"} {
		if d, _ := g.event("MESSAGE_CREATE"); d["content"] != want {
			t.Errorf("%v", d)
		}
	}
}

func TestGatewayHangs(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	r.HangOpen(true)
	d := websocket.Dialer{HandshakeTimeout: 100 * time.Millisecond}
	address := "ws" + strings.TrimPrefix(r.URL(), "http") + "/" + usual
	_, resp, err := d.Dial(address, nil)
	if resp != nil {
		_ = resp.Body.Close()
	}
	var late net.Error
	if !errors.As(err, &late) || !late.Timeout() {
		t.Errorf("the upgrade did not hang: %v", err)
	}
	r.HangOpen(false)
	r.NoHello(true)
	mute, resp, err := websocket.DefaultDialer.Dial(address, nil)
	if err != nil {
		t.Fatal(err)
	}
	_ = resp.Body.Close()
	defer mute.Close()
	r.Until("the connection", func() bool { return r.Connections() == 1 })
	_ = mute.SetReadDeadline(time.Now().Add(100 * time.Millisecond))
	if _, data, err := mute.ReadMessage(); err == nil {
		t.Errorf("it said %s", data)
	}
	r.NoHello(false)
	r.dial(usual).ready(r, nil)
}

func TestGatewayTurnsTheNextAway(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	r.ReconnectFirst(1)
	g := r.dial(usual)
	g.write(2, r.identify(nil))
	if f := g.read(); f.Op != 7 {
		t.Errorf("%+v in place of a wish to reconnect", f)
	}
	r.InvalidFirst(1, true)
	g.write(2, r.identify(nil))
	if f := g.read(); f.Op != 9 || string(f.D) != "true" {
		t.Errorf("%+v in place of an invalid session", f)
	}
	r.RefuseIdentify(1, 4014)
	g.write(2, r.identify(nil))
	if code := g.closes(); code != 4014 {
		t.Errorf("closed with %d", code)
	}
	r.dial(usual).ready(r, nil)
	if len(r.Wrong()) > 0 {
		t.Error(r.Wrong())
	}
}

func TestGatewayPacesIdentifies(t *testing.T) {
	r := newRaw(t, discordtest.Options{IdentifyEvery: time.Hour, MaxConcurrency: 2, Identifies: 4})
	a := r.do(http.MethodGet, "/gateway/bot", nil)
	limit, _ := a.body["session_start_limit"].(object)
	if limit["remaining"] != 4.0 || limit["max_concurrency"] != 2.0 || limit["total"] != 1000.0 || a.body["shards"] != 1.0 {
		t.Errorf("%s", a.text)
	}
	for shard := range 2 { // both of a round at once
		r.dial(usual).ready(r, object{"shard": []int{shard, 3}})
	}
	third := r.dial(usual)
	third.write(2, r.identify(object{"shard": []int{2, 3}}))
	if f := third.read(); f.Op != 9 {
		t.Errorf("%+v in place of an invalid session", f)
	}
	if a := r.do(http.MethodGet, "/gateway/bot", nil); !strings.Contains(a.text, `"remaining":1,`) {
		t.Errorf("%s", a.text)
	}
	third.write(2, r.identify(object{"shard": []int{2, 3}}))
	third.read()
	if n := len(r.Wrong()); n != 2 {
		t.Errorf("wrong: %q", r.Wrong())
	}
	third.write(2, r.identify(object{"shard": []int{2, 3}})) // none is left of the day
	if code := third.closes(); code != 4004 {
		t.Errorf("closed with %d", code)
	}
}

func TestGatewayNeedsToken(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	without := func(q *http.Request) { q.Header.Del("Authorization") }
	if a := r.do(http.MethodGet, "/gateway", nil, without); a.status != 200 || a.body["url"] != "ws"+strings.TrimPrefix(r.URL(), "http") {
		t.Errorf("%s", a.text)
	}
	another := func(q *http.Request) { q.Header.Set("Authorization", "Bot another") }
	r.refused("another token", r.do(http.MethodGet, "/gateway/bot", nil, another), 401, 0, "", 0)
	r.refused("no token", r.do(http.MethodGet, "/gateway/bot", nil, without), 401, 0, "", 1)
}

// READY and GUILD_CREATE: documentation, "Gateway Events", ready, guild create.
func TestGatewayTellsOfGuilds(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	guild := r.Guild("Tibberhythe")
	ch := guild.Channel("wednesday")
	g := r.dial(usual)
	g.write(2, r.identify(object{"intents": guilds}))
	d, _ := g.event("READY")
	list := d["guilds"].([]any)
	if len(list) != 1 || list[0].(object)["id"] != guild.ID || list[0].(object)["unavailable"] != true {
		t.Errorf("guilds: %v", list)
	}
	if d["v"] != 9.0 || d["application"].(object)["id"] != r.Application() || d["user"].(object)["bot"] != true ||
		d["resume_gateway_url"] == "" || len(d["shard"].([]any)) != 2 {
		t.Errorf("READY: %v", d)
	}
	d, _ = g.event("GUILD_CREATE")
	if d["id"] != guild.ID || d["channels"].([]any)[0].(object)["id"] != ch.ID {
		t.Errorf("GUILD_CREATE: %v", d)
	}
	later := r.Guild("Ormsay")
	if d, _ := g.event("GUILD_CREATE"); d["id"] != later.ID {
		t.Errorf("GUILD_CREATE: %v", d)
	}
}
