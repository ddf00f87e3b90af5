package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"
)

// A bare platform is the least that the program can be driven with from
// outside: REST below /api/v9, where /api/v9/gateway says where the gateway is. It
// knows two calls, sends plain text over the gateway, and says 404 to all else.
type barePlatform struct {
	*httptest.Server
	said    chan json.RawMessage // what the gateway was sent, heartbeats left out
	answers chan json.RawMessage // bodies of the interaction's first answer
}

const bareToken = "net-float-seven"

func newBarePlatform(t *testing.T) *barePlatform {
	b := &barePlatform{said: make(chan json.RawMessage, 10), answers: make(chan json.RawMessage, 10)}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /api/v9/gateway", func(w http.ResponseWriter, r *http.Request) {
		fmt.Fprintf(w, `{"url":"ws://%s/over/here"}`, r.Host)
	})
	mux.HandleFunc("POST /api/v9/interactions/175928847299117063/a-token/callback", func(w http.ResponseWriter, r *http.Request) {
		var body json.RawMessage
		if err := json.NewDecoder(r.Body).Decode(&body); err != nil {
			t.Errorf("the answer: %v", err)
		}
		w.WriteHeader(http.StatusNoContent)
		b.answers <- body
	})
	mux.HandleFunc("/over/here/", func(w http.ResponseWriter, r *http.Request) {
		c, err := (&websocket.Upgrader{}).Upgrade(w, r, nil)
		if err != nil {
			t.Errorf("the gateway: %v", err)
			return
		}
		defer c.Close()
		b.serve(c)
	})
	b.Server = httptest.NewServer(mux)
	t.Cleanup(b.Close)
	return b
}

// serve speaks the gateway's protocol: Discord's developer documentation,
// "Gateway": hello, identify, ready, heartbeats, dispatches.
func (b *barePlatform) serve(c *websocket.Conn) {
	say := func(text string) { _ = c.WriteMessage(websocket.TextMessage, []byte(text)) } // it fails where the bot is gone
	say(`{"op":10,"d":{"heartbeat_interval":41250}}`)
	for {
		_, text, err := c.ReadMessage()
		if err != nil {
			return
		}
		var packet struct {
			Op int `json:"op"`
		}
		switch err := json.Unmarshal(text, &packet); {
		case err != nil:
			return
		case packet.Op == 1:
			say(`{"op":11}`)
			continue
		case packet.Op == 2:
			say(`{"op":0,"s":1,"t":"READY","d":{"v":9,"session_id":"one","guilds":[],"user":{"id":"41771983423143937","bot":true},"application":{"id":"41771983423143937"}}}`)
			say(`{"op":0,"s":2,"t":"INTERACTION_CREATE","d":{"id":"175928847299117063","application_id":"41771983423143937","type":2,"token":"a-token","version":1,
				"channel_id":"41771983423143938","guild_id":"41771983423143939","member":{"user":{"id":"80351110224678912","username":"odo"},"roles":[],"permissions":"0"},
				"data":{"id":"41771983423143940","name":"next","type":1}}}`)
		}
		b.said <- text
	}
}

// TestServeAnyServer drives the program from outside with nothing but a flag and
// the token.
func TestServeAnyServer(t *testing.T) {
	b := newBarePlatform(t)
	p := serveWith(t, bareToken, nil, "--discord-api", b.URL, "--data", t.TempDir())

	var identified struct {
		D struct {
			Token   string `json:"token"`
			Intents int    `json:"intents"`
		} `json:"d"`
	}
	b.next(t, b.said, "identify", &identified)
	if d := identified.D; d.Token != bareToken && d.Token != "Bot "+bareToken || d.Intents != 1<<9|1<<12 {
		t.Errorf("it identifies with the token %q and intents %d, expected %q and guild and direct messages, %d", d.Token, d.Intents, bareToken, 1<<9|1<<12)
	}
	var answer struct {
		Type int `json:"type"`
		Data struct {
			Content string `json:"content"`
			Flags   int    `json:"flags"`
		} `json:"data"`
	}
	b.next(t, b.answers, "an answer", &answer)
	if answer.Type != 4 || answer.Data.Flags != 1<<6 || !strings.HasPrefix(answer.Data.Content, "There is no open knit-along here.") {
		t.Errorf("it answers %+v, expected an ephemeral sentence that there is no knit-along", answer)
	}
	p.stops(syscall.SIGTERM)
}

// next waits for what the platform is sent next, and reads it.
func (b *barePlatform) next(t *testing.T, from chan json.RawMessage, what string, into any) {
	t.Helper()
	select {
	case text := <-from:
		if err := json.Unmarshal(text, into); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
	case <-time.After(limit):
		t.Fatalf("the platform was not sent %s within %v", what, limit)
	}
}
