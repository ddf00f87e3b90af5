package main

import (
	"encoding/base64"
	"net/http"
	"net/url"
	"strings"
	"syscall"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session/redistest"
)

// With everything logged, and everything going wrong, neither the bot's token
// nor an interaction's nor a password is in what is printed: not as it is, and
// not as an address spells it.
func TestServeKeepsSecrets(t *testing.T) {
	const token, password = "net%20float%sseven.Wr-en", "hush%21 hush"
	redis := redistest.Start(t, "--requirepass", password)
	srv := discordtest.New(t, discordtest.Options{Token: token})
	srv.Fail(discordtest.GatewayBot, http.StatusInternalServerError, 1)
	p := serve(t, srv, "CLEW_LOG=debug",
		"CLEW_DISCORD_TOKEN="+token+"\n", // as it is read from a file that ends with one
		"CLEW_REDIS_URL=redis://:"+url.PathEscape(password)+"@"+redis.Addr)
	c := begin(srv, "Tibberhythe")
	c.start()
	ana := c.join("Ana Pell")

	ask := func() { srv.Uses(c.channel, ana, "next").Answers(1) }
	srv.Fail(discordtest.Callback, http.StatusBadGateway, 1)
	ask()
	srv.CutAnswers(discordtest.Callback, 1)
	ask()
	srv.RateLimit(discordtest.Callback, 50*time.Millisecond)
	ask()
	srv.FailCode(discordtest.Callback, http.StatusForbidden, 50013, 1)
	srv.Uses(c.channel, ana, "next")
	srv.FailCode(discordtest.Send, http.StatusForbidden, 50013, 1)
	srv.Says(ana, "next row")
	srv.RateLimitGlobal(50 * time.Millisecond)
	srv.Says(ana, "next row").Answers(1)
	srv.Late(discordtest.Callback, 4*time.Second)             // too late for a first answer
	srv.Expect("the interaction has had no first answer yet") // where nothing is heard, an edit is tried
	lost := srv.Uses(c.channel, ana, "next")
	srv.Until("the answer to be given up", func() bool { return strings.Contains(p.says.String(), lost.ID) })
	srv.Late(discordtest.Callback, 0)

	srv.Fail(discordtest.Gateway, http.StatusInternalServerError, 1)
	srv.Cut(0)
	srv.Resumed(0, 1)
	redis.Kill()
	ask()
	p.stops(syscall.SIGTERM)

	all := p.says.String()
	for _, trace := range []string{"calling again", "50013", "not connected to the gateway", lost.ID} {
		if !strings.Contains(all, trace) {
			t.Errorf("what was printed has no trace of %q: is everything logged?", trace)
		}
	}
	for _, secret := range []string{
		token, password, "hush", "float%", "float%25", "seven.Wr",
		url.PathEscape(token), url.QueryEscape(token), url.QueryEscape(password), url.PathEscape(password),
		base64.RawURLEncoding.EncodeToString([]byte("interaction:")), // how their tokens begin
	} {
		if strings.Contains(all, secret) {
			t.Errorf("%q is in what was printed", secret)
		}
	}
}
