package main

import (
	"net"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session/redistest"
)

// stopWithin is how long the process may take to end: what it serves has two
// seconds in the store, and closing a connection takes the library one.
const stopWithin = 8 * time.Second

// stops tells the process to end, and wants it to do so as if all were well.
// What happens after it was told is given.
func (p *served) stops(sig os.Signal, meanwhile ...func()) {
	p.t.Helper()
	began := time.Now()
	p.signal(sig)
	for _, f := range meanwhile {
		f()
	}
	if code, took := p.wait(), time.Since(began); code != 0 || took > stopWithin {
		p.t.Errorf("it ended with %d after %v, expected 0 within %v", code, took, stopWithin)
	}
}

// Told to end, it ends with its session closed, and with the request that it
// was serving answered and kept.
func TestServeStops(t *testing.T) {
	for name, sig := range map[string]os.Signal{"SIGTERM": syscall.SIGTERM, "SIGINT": os.Interrupt} {
		t.Run(name, func(t *testing.T) {
			redis := redistest.Start(t)
			srv := discordtest.New(t, discordtest.Options{Token: "net-float-seven"})
			p := serve(t, srv, "CLEW_REDIS_URL=redis://"+redis.Addr)
			c := begin(srv, "Tibberhythe")
			c.start()
			ana, odo := c.join("Ana Pell"), c.join("Odo Marsh")

			redis.Freeze(t)
			asked := srv.Uses(c.channel, ana, "next")
			// Events come in order, and this one is answered without the store: so
			// the other one has come.
			srv.ForgesPress(odo, srv.SentIn(c.channel)[0], "net float").Answers(1)
			p.stops(sig, func() { redis.Thaw(t) })
			if got := said(asked); !strings.Contains(got, "Round one, Cuff") {
				t.Errorf("what was asked before the end was answered with %q", got)
			}
			if s := srv.Sessions()[0]; s.CloseCode != 1000 {
				t.Errorf("the session was closed with %d, expected 1000, which ends it", s.CloseCode)
			}

			serve(t, srv, "CLEW_REDIS_URL=redis://"+redis.Addr)
			connected(srv, 2)
			if got := said(srv.Uses(c.channel, ana, "where")); !strings.HasPrefix(got, "You are at round one of Cuff") {
				t.Errorf("after the end she is told %q", got)
			}
		})
	}
}

// A Redis that stays away, or a platform that can't be reached, holds the end
// up no longer than one request may take.
func TestServeStopsWhateverIsAway(t *testing.T) {
	t.Run("Redis", func(t *testing.T) {
		redis := redistest.Start(t)
		srv := discordtest.New(t, discordtest.Options{})
		p := serve(t, srv, "CLEW_REDIS_URL=redis://"+redis.Addr)
		c := begin(srv, "Tibberhythe")
		c.start()
		ana, odo := c.join("Ana Pell"), c.join("Odo Marsh")
		redis.Freeze(t)
		asked := srv.Uses(c.channel, ana, "next")
		srv.ForgesPress(odo, srv.SentIn(c.channel)[0], "net float").Answers(1)
		p.stops(syscall.SIGTERM)
		if got := said(asked); !strings.Contains(got, "Please ask") {
			t.Errorf("what could not be saved was answered with %q", got)
		}
	})
	t.Run("the gateway", func(t *testing.T) {
		srv := discordtest.New(t, discordtest.Options{})
		srv.HangOpen(true)
		defer srv.HangOpen(false)
		p := serve(t, srv)
		srv.Until("the bot to look for the gateway", func() bool { return srv.Count(discordtest.Gateway) > 0 })
		p.stops(syscall.SIGTERM)
	})
	t.Run("the platform", func(t *testing.T) {
		nobody, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		defer nobody.Close()
		srv := discordtest.New(t, discordtest.Options{})
		p := serve(t, srv, "CLEW_DISCORD_API=http://"+nobody.Addr().String())
		called, err := nobody.Accept() // and answers nothing
		if err != nil {
			t.Fatal(err)
		}
		defer called.Close()
		p.stops(syscall.SIGTERM)
	})
}
