package discordtest_test

import (
	"encoding/json"
	"net/http"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// hits gathers what comes of a load.
type hits struct {
	mu  sync.Mutex
	all []discordtest.Hit
}

func (h *hits) add(one discordtest.Hit) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.all = append(h.all, one)
}

func (h *hits) list() []discordtest.Hit {
	h.mu.Lock()
	defer h.mu.Unlock()
	return append([]discordtest.Hit(nil), h.all...)
}

func TestFire(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	words := a.dial(usual)
	words.ready(a.raw, nil)
	got := &hits{}
	a.OnHit(got.add)
	last := func(n int) discordtest.Hit {
		t.Helper()
		a.Until("a hit", func() bool { return len(got.list()) == n })
		return got.list()[n-1]
	}

	a.Fire(discordtest.Shot{Person: a.ana, Command: "next", Tag: 1})
	i := a.next()
	a.passes("reply", a.back(i, kind(4, quiet(object{"components": row(button(0))}))), 0)
	if h := last(1); h.Tag != 1 || h.ID != i["id"] || h.Kind != 4 || h.After <= 0 || h.Message.Buttons()[0] != "Next row" || h.Lost || h.Filled {
		t.Errorf("%+v", h)
	}
	a.Fire(discordtest.Shot{Person: a.ana, Channel: a.ch, CustomID: "next.0", Tag: 2})
	i = a.next()
	if i["data"].(object)["custom_id"] != "next.0" || i["message"] == nil || i["guild_id"] != a.guild.ID {
		t.Errorf("%v", i)
	}
	a.passes("defer", a.back(i, kind(5, object{"flags": 64})), 0)
	if h := last(2); h.Tag != 2 || h.Kind != 5 || h.Filled {
		t.Errorf("%+v", h)
	}
	a.passes("fill in", a.hook(http.MethodPatch, i, "/messages/@original", quiet(nil)), 0)
	if h := last(3); h.Tag != 2 || !h.Filled || h.Message.Content != "Row six." || !h.Message.Ephemeral {
		t.Errorf("%+v", h)
	}
	a.Fire(discordtest.Shot{Person: a.ana, Words: "next row", Tag: 3})
	d, _ := words.event("MESSAGE_CREATE")
	for d["content"] != "next row" { // its own answers come before
		d, _ = words.event("MESSAGE_CREATE")
	}
	path := "/channels/" + d["channel_id"].(string) + "/messages"
	for range 2 { // only the first counts
		a.passes("say", a.do(http.MethodPost, path, quiet(object{"message_reference": object{"message_id": d["id"]}})), 0)
	}
	if h := last(4); h.Tag != 3 || h.ID != d["id"] || h.Kind != 0 || h.Message.Content != "Row six." {
		t.Errorf("%+v", h)
	}
	if n := len(a.Sent(a.ana)); n != 0 {
		t.Errorf("%d messages are kept of a load", n)
	}
}

func TestFireIsLost(t *testing.T) {
	const within = 100 * time.Millisecond
	a := newAsked(t, discordtest.Options{AnswerWithin: within})
	got := &hits{}
	a.OnHit(got.add)
	a.Fire(discordtest.Shot{Person: a.ana, Command: "next", Tag: 4})
	i := a.next()
	a.Until("the loss", func() bool { return len(got.list()) == 1 })
	if h := got.list()[0]; h.Tag != 4 || h.ID != i["id"] || !h.Lost || h.After < within {
		t.Errorf("%+v", h)
	}
	a.refused("an answer after that", a.back(i, kind(4, quiet(nil))), 404, 10062, "", 1)
}

// echoing answers every interaction of a gateway connection from several goroutines,
// with as little work as a client can do.
func echoing(t testing.TB, srv *discordtest.Server, g gate, workers int) {
	type asked struct{ ID, Token string }
	queue := make(chan asked, 1024)
	var wg sync.WaitGroup
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: workers}}
	body := must(kind(4, quiet(object{"components": row(button(0))})))
	for range workers {
		wg.Go(func() {
			for i := range queue {
				q, err := http.NewRequest(http.MethodPost, srv.URL()+"/api/v9/interactions/"+i.ID+"/"+i.Token+"/callback", newReader(body))
				if err != nil {
					t.Error(err)
					return
				}
				q.Header.Set("Content-Type", "application/json")
				q.Header.Set("User-Agent", "DiscordBot (https://example.org, 1)")
				resp, err := client.Do(q)
				if err != nil {
					t.Error(err)
					return
				}
				_ = resp.Body.Close()
			}
		})
	}
	var reader sync.WaitGroup
	reader.Go(func() {
		for {
			_, data, err := g.ReadMessage()
			if err != nil {
				return
			}
			var f struct{ D asked }
			if json.Unmarshal(data, &f) == nil && f.D.Token != "" {
				queue <- f.D
			}
		}
	})
	t.Cleanup(func() {
		_ = g.Close()
		reader.Wait()
		close(queue)
		wg.Wait()
		client.CloseIdleConnections()
	})
}

// BenchmarkInteractions is an interaction from its dispatch to its answer, with the
// client's share of it.
func BenchmarkInteractions(b *testing.B) {
	srv, err := discordtest.Start(discordtest.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer srv.Close()
	g := dialBench(b, srv)
	echoing(b, srv, g, 4)
	var done atomic.Int64
	var total atomic.Int64
	free := make(chan struct{}, 16)
	srv.OnHit(func(h discordtest.Hit) {
		done.Add(1)
		total.Add(int64(h.After))
		<-free
	})
	ana := srv.User("Ana Pell")
	b.ReportAllocs()
	for b.Loop() {
		free <- struct{}{}
		srv.Fire(discordtest.Shot{Person: ana, Command: "next"})
	}
	for range cap(free) { // until all are answered
		free <- struct{}{}
	}
	b.ReportMetric(float64(total.Load())/float64(max(done.Load(), 1)), "ns/answer")
}
