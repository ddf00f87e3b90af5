package discordtest_test

import (
	"math"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

func TestRequestsFail(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	path := "/channels/" + r.DM(ana).ID + "/messages"
	send := func() answer { return r.do(http.MethodPost, path, quiet(nil)) }
	r.Fail(discordtest.Send, 502, 2)
	for range 2 {
		if a := send(); a.status != 502 || a.text != "Bad Gateway\n" {
			t.Errorf("%d %q", a.status, a.text)
		}
	}
	r.passes("after that", send(), 0)
	r.FailCode(discordtest.AnyRoute, 429, 30046, 1)
	r.refused("a code", send(), 429, 30046, "", 0)
	r.CutAnswers(discordtest.Send, 1)
	if a := send(); a.status != 0 {
		t.Errorf("%+v in place of a cut", a)
	}
	if n := len(r.Sent(ana)); n != 2 {
		t.Errorf("%d messages: what is cut off is done, what fails is not", n)
	}
	all := r.Requests(discordtest.Send)
	if len(all) != 5 || all[0].Status != 502 || all[3].Code != 30046 || all[4].Status != 0 || !strings.Contains(string(all[2].Body), "Row six.") {
		t.Errorf("%+v", all)
	}
}

func TestRequestsAreSlow(t *testing.T) {
	const d = 150 * time.Millisecond
	r := newRaw(t, discordtest.Options{AnswerWithin: d})
	ana := r.User("Ana Pell")
	r.dial(usual).ready(r, nil)
	a := asked{raw: r}
	timed := func(f func() answer) (answer, time.Duration) {
		begin := time.Now()
		got := f()
		return got, time.Since(begin)
	}
	ask := func() (*discordtest.Event, object) {
		g := r.dial(usual)
		g.ready(r, object{"intents": 1})
		e := r.Forges(r.DM(ana), ana, "next")
		i, _ := g.event("INTERACTION_CREATE")
		return e, i
	}
	r.Slow(discordtest.Callback, d)
	e, i := ask()
	e.Age(-time.Hour) // so that no slow machine makes it late
	got, took := timed(func() answer { return a.back(i, kind(4, quiet(nil))) })
	r.passes("slow", got, 0)
	if took < d {
		t.Errorf("answered in %v", took)
	}
	r.Slow(discordtest.Callback, 0)
	r.Late(discordtest.Callback, 2*d)
	_, i = ask()
	got, took = timed(func() answer { return a.back(i, kind(4, quiet(nil))) })
	r.refused("late", got, 404, 10062, "", 0)
	if took < 2*d {
		t.Errorf("answered in %v", took)
	}
}

// Header and body of a 429: documentation, "Rate Limits", exceeding a rate limit.
func TestRateLimits(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana, wren := r.User("Ana Pell"), r.User("Wren")
	send := func(p *discordtest.Person) answer {
		return r.do(http.MethodPost, "/channels/"+r.DM(p).ID+"/messages", quiet(nil))
	}
	r.RateLimit(discordtest.Send, time.Hour)
	a := send(ana)
	if after, _ := a.body["retry_after"].(float64); a.status != 429 || a.body["global"] != false || after <= 3500 || after > 3600 ||
		a.header.Get("Retry-After") != strconv.Itoa(int(math.Ceil(after))) || a.header.Get("X-RateLimit-Scope") != "user" || a.header.Get("X-RateLimit-Remaining") != "0" ||
		a.header.Get("X-RateLimit-Reset-After") == "" || a.header.Get("X-RateLimit-Bucket") == "" ||
		a.header.Get("Content-Type") != "application/json" {
		t.Errorf("%d %s %v", a.status, a.text, a.header)
	}
	r.passes("another route", r.do(http.MethodGet, "/users/@me", nil), 0)
	r.RateLimit(discordtest.Send, 50*time.Millisecond)
	r.Until("it to end", func() bool { return send(ana).status == 200 })

	r.RateLimitGlobal(time.Hour)
	a = r.do(http.MethodGet, "/users/@me", nil)
	if a.status != 429 || a.body["global"] != true || a.header.Get("X-RateLimit-Global") != "true" || a.header.Get("X-RateLimit-Scope") != "global" ||
		a.header.Get("X-RateLimit-Reset-After") != "" {
		t.Errorf("%d %s %v", a.status, a.text, a.header)
	}
	// Not bound to the global limit: an interaction's routes.
	r.refused("an interaction's route", r.do(http.MethodPost, "/webhooks/"+r.Application()+"/none", quiet(nil)), 404, 10015, "", 1)
	r.RateLimitGlobal(50 * time.Millisecond)
	r.Until("it to end", func() bool { return send(ana).status == 200 })

	r.Limit(discordtest.Send, 2, time.Hour)
	for i, want := range []string{"1", "0"} {
		if a := send(ana); a.status != 200 || a.header.Get("X-RateLimit-Remaining") != want || a.header.Get("X-RateLimit-Limit") != "2" {
			t.Errorf("request %d: %d %v", i, a.status, a.header)
		}
	}
	if a := send(ana); a.status != 429 || a.body["retry_after"].(float64) < 3500 {
		t.Errorf("%d %s", a.status, a.text)
	}
	r.passes("another channel has a bucket of its own", send(wren), 1)
	r.Limit(discordtest.Send, 0, 0)
	r.passes("it has ended", send(ana), 1)
}

func TestGlobalLimit(t *testing.T) {
	r := newRaw(t, discordtest.Options{PerSecond: 50})
	statuses, begin := map[int]int{}, time.Now()
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 25 {
				a := r.do(http.MethodGet, "/users/@me", nil)
				mu.Lock()
				statuses[a.status]++
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	seconds := int(time.Since(begin)/time.Second) + 2 // windows that were begun, at most
	if statuses[200] < 50 || statuses[200] > 50*seconds || statuses[200]+statuses[429] != 200 {
		t.Errorf("%v in at most %d windows", statuses, seconds)
	}
}

// 10,000 refused requests in 10 minutes bar the address (shared/DISCORD.md, Limits).
func TestRefusedRequestsAreCounted(t *testing.T) {
	r := newRaw(t, discordtest.Options{Keep: -1})
	r.RateLimitGlobal(time.Hour)
	for range 10_000 {
		r.do(http.MethodGet, "/users/@me", nil)
	}
	if len(r.Wrong()) != 0 {
		t.Error(r.Wrong())
	}
	r.do(http.MethodGet, "/users/@me", nil)
	if all := r.Wrong(); len(all) != 1 || !strings.Contains(all[0], "bars the address") {
		t.Error(all)
	}
}

func TestAttachments(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	const cdn = "https://cdn.discordapp.com"
	get := func(address string, set ...func(*http.Request)) answer {
		q, err := http.NewRequest(http.MethodGet, r.URL()+strings.TrimPrefix(address, cdn), nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range set {
			f(q)
		}
		return r.send(q)
	}
	file := r.Attach("shawl für Ana.clew", []byte("Row 1: k6"))
	if !strings.HasPrefix(file.URL, cdn+"/attachments/") || file.Size != 9 {
		t.Errorf("%+v", file)
	}
	if a := get(file.URL); a.status != 200 || a.text != "Row 1: k6" {
		t.Errorf("%d %q", a.status, a.text)
	}
	if a := get(file.URL[:strings.Index(file.URL, "?")]); a.status != 404 {
		t.Errorf("without its signature: %d", a.status)
	}
	moved := r.AttachServed("moved.clew", "text/plain", 100<<20, func(w http.ResponseWriter, q *http.Request) {
		w.WriteHeader(http.StatusTeapot)
	})
	if a := get(moved.URL); a.status != http.StatusTeapot || moved.Size != 100<<20 {
		t.Errorf("%d", a.status)
	}
	r.Fail(discordtest.AttachmentFile, 503, 1)
	if a := get(file.URL); a.status != 503 {
		t.Errorf("%d", a.status)
	}
	if all := r.Requests(discordtest.AttachmentFile); len(all) != 4 || all[2].Status != http.StatusTeapot || len(r.Wrong()) != 0 {
		t.Errorf("%+v %q", all, r.Wrong())
	}
	get(file.URL, func(q *http.Request) { q.Header.Set("Authorization", "Bot "+r.Token()) })
	if all := r.Wrong(); len(all) != 1 || !strings.Contains(all[0], "token was sent") {
		t.Errorf("%q", all)
	}
}

// A token, the bot's or an interaction's, is in nothing that is told.
func TestTokensAreNotTold(t *testing.T) {
	a := newAsked(t, discordtest.Options{Token: "the-bots-secret"})
	_, i := a.uses()
	a.refused("empty", a.back(i, kind(4, quiet(object{"content": ""}))), 400, 50006, "", 1)
	a.passes("answer", a.back(i, kind(4, quiet(nil))), 1)
	a.refused("edit", a.hook(http.MethodPatch, i, "/messages/@original", quiet(object{"content": ""})), 400, 50006, "", 2)
	told := a.Seen() + strings.Join(a.Wrong(), "\n")
	for _, one := range a.Requests(discordtest.AnyRoute) {
		told += one.Path
	}
	if strings.Contains(told, i["token"].(string)) || strings.Contains(told, a.Token()) || !strings.Contains(told, "{token}") {
		t.Errorf("%s", told)
	}
}
