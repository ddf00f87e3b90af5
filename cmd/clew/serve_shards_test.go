package main

import (
	"strings"
	"syscall"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session/redistest"
)

// Two processes with a shard each, on one Redis: each serves the servers of its
// shard, and direct messages come to the one that has shard 0, whichever server
// somebody knits in. Neither is in the other's way.
func TestServeShards(t *testing.T) {
	redis := "CLEW_REDIS_URL=redis://" + redistest.Start(t).Addr
	srv := discordtest.New(t, discordtest.Options{Token: "net-float-seven", Shards: 2})
	// One after the other, so that it is known which session is whose.
	first := serve(t, srv, redis, "CLEW_SHARDS=0-0/2")
	connected(srv, 1)
	second := serve(t, srv, redis, "CLEW_SHARDS=1-1/2")
	connected(srv, 2)
	for i, s := range srv.Sessions() {
		if s.Shard != i || s.Count != 2 {
			t.Errorf("session %d is of shard %d of %d, expected %d of 2", i, s.Shard, s.Count, i)
		}
	}

	circles := []*circle{begin(srv, "Tibberhythe"), begin(srv, "Tibberhythe Quay")}
	for shard, c := range circles {
		if got := c.guild.Shard(2); got != shard {
			t.Fatalf("the server %q is of shard %d, expected %d", c.guild.Name, got, shard)
		}
		if got := c.start(); !strings.Contains(got, "has begun in this channel") {
			t.Errorf("shard %d: a start is answered with %q", shard, got)
		}
		ana := c.join("Ana Pell")
		if got := rowOf(srv.Uses(c.channel, ana, "next")); got != 1 {
			t.Errorf("shard %d: the first row is %d", shard, got)
		}
		if got := rowOf(srv.Says(ana, "next row")); got != 2 {
			t.Errorf("shard %d: in private, the second row is %d", shard, got)
		}
		if got := rowOf(srv.Press(ana, "Next row")); got != 3 {
			t.Errorf("shard %d: by the button in private, the third row is %d", shard, got)
		}
		if got := rowOf(srv.Uses(c.channel, ana, "again")); got != 3 {
			t.Errorf("shard %d: in the channel again, the row is %d, expected 3", shard, got)
		}
	}

	// The servers of shard 1 are served without the other process too.
	first.stops(syscall.SIGTERM)
	odo := circles[1].join("Odo Marsh")
	if got := rowOf(srv.Uses(circles[1].channel, odo, "next")); got != 1 {
		t.Errorf("without shard 0, the first row in a server of shard 1 is %d", got)
	}
	second.stops(syscall.SIGTERM)
	if asked, written := srv.Count(discordtest.GetCommands), srv.Count(discordtest.PutCommands); asked != 1 || written != 1 {
		t.Errorf("the commands were looked up %d times and written %d times, expected once each, by shard 0", asked, written)
	}
}

// Two shards in one process identify at the platform's pace.
func TestServeShardsInOneProcess(t *testing.T) {
	srv := discordtest.New(t, discordtest.Options{Shards: 2, MaxConcurrency: 2, IdentifyEvery: 5 * time.Second})
	p := serve(t, srv, "CLEW_SHARDS=0-1/2")
	srv.Connected(2)
	for _, town := range []string{"Tibberhythe", "Tibberhythe Quay"} {
		c := begin(srv, town)
		c.start()
		ana := c.join("Ana Pell")
		if got := rowOf(srv.Uses(c.channel, ana, "next")); got != 1 {
			t.Errorf("%s: the first row is %d", town, got)
		}
	}
	p.stops(syscall.SIGTERM)
}
