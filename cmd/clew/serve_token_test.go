package main

import (
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// A token that is renewed while the bot runs ends it as a wrong one does at the
// start: at once, and with a sentence.
func TestServeTokenRenewedMeanwhile(t *testing.T) {
	srv := discordtest.New(t, discordtest.Options{Token: "net-float-seven"})
	p := serve(t, srv)
	c := begin(srv, "Tibberhythe")
	c.start()
	ana := c.join("Ana Pell")
	if got := rowOf(srv.Uses(c.channel, ana, "next")); got != 1 {
		t.Errorf("the first row is %d", got)
	}
	const failed = 4004 // documentation, "Gateway close event codes": authentication failed
	srv.RefuseIdentify(1000, failed)
	began := time.Now()
	srv.CloseWith(0, failed)
	if code, took := p.wait(), time.Since(began); code != exitUsage || took > endLimit {
		t.Errorf("it ended with %d after %v, expected %d within %v", code, took, exitUsage, endLimit)
	}
	if !strings.Contains(p.says.String(), "clew: Discord refused the bot's token (code 4004). Make a new one") {
		t.Error("it printed no sentence on what to do")
	}
}
