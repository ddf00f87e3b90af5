package gateway

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"

	"clew/bot/discord/discordtest"
	"clew/bot/discord/rest"
)

// platform runs a bot at the stand-in for the platform, as the program does.
func platform(t *testing.T, o discordtest.Options, shards Shards, timing Timing) (*discordtest.Server, *bot) {
	t.Helper()
	o.Token = secretToken
	srv := discordtest.New(t, o)
	client, err := rest.New(rest.Options{Token: secretToken, API: srv.URL()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(client.Close)
	return srv, run(t, nil, Options{
		Client: client.HTTP(), Start: client.Gateway, Shards: shards, Timing: timing,
		Intents: discordgo.IntentsDirectMessages | discordgo.IntentsGuildMessages,
	})
}

// said waits until a member's words, which no other message has, are told.
func (b *bot) said(e *discordtest.Event) {
	b.t.Helper()
	for deadline := time.After(patience); ; {
		select {
		case line := <-b.told:
			if strings.Contains(line, " message "+e.ID+" ") {
				return
			}
		case <-deadline:
			b.t.Fatalf("message %s was not told", e.ID)
		}
	}
}

// deletions waits for what is told of deletions, among all else.
func (b *bot) deletions(n int) []string {
	b.t.Helper()
	var all []string
	for deadline := time.After(patience); len(all) < n; {
		select {
		case line := <-b.told:
			if strings.Contains(line, " deleted ") {
				all = append(all, line)
			}
		case <-deadline:
			b.t.Fatalf("told of the deletions %q, expected %d", all, n)
		}
	}
	return all
}

// TestDeletions says that what is deleted is told, be it one message or many, in a
// server or not.
func TestDeletions(t *testing.T) {
	t.Parallel()
	srv, b := platform(t, discordtest.Options{}, Shards{}, quick())
	guild := srv.Guild("Tibberhythe")
	ch, wren := guild.Channel("wednesday"), guild.Member("Wren")
	one := srv.SaysIn(ch, wren, "The tide is out.")
	two, three := srv.SaysIn(ch, wren, "The lamps are lit."), srv.SaysIn(ch, wren, "Good night.")
	alone := srv.Says(wren, "next row")
	srv.Remove(one.ID)
	srv.Remove(two.ID, three.ID)
	srv.Remove(alone.ID)
	want := []string{
		"0 deleted " + guild.ID + " " + ch.ID + " " + one.ID,
		"0 deleted " + guild.ID + " " + ch.ID + " " + two.ID + "," + three.ID,
		"0 deleted  " + srv.DM(wren).ID + " " + alone.ID,
	}
	if got := b.deletions(3); !slices.Equal(got, want) {
		t.Errorf("told %q, expected %q", got, want)
	}
	b.stop()
}

// An evening on which the gateway does all that its documentation warns of.
func TestEveningWithTroubles(t *testing.T) {
	t.Parallel()
	srv, b := platform(t, discordtest.Options{}, Shards{}, quick())
	wren := srv.Guild("Tibberhythe").Member("Wren")
	sessions := 1
	for _, trouble := range []struct {
		name  string
		cause func()
		anew  bool // the session is lost
	}{
		{"none", func() {}, false},
		{"cut", func() { srv.Cut(0) }, false},
		{"asked to reconnect", func() { srv.Reconnect(0) }, false},
		{"asked to reconnect, and again at once", func() { srv.ReconnectFirst(2); srv.Reconnect(0) }, false},
		{"invalid, may be resumed", func() { srv.Invalid(0, true) }, false},
		{"invalid", func() { srv.Invalid(0, false) }, true},
		{"closed with 4009", func() { srv.CloseWith(0, 4009) }, true},
		{"asked for a heartbeat", func() { srv.WantHeartbeat(0) }, false},
	} {
		trouble.cause()
		if trouble.anew {
			sessions++
			srv.Until("another session: "+trouble.name, func() bool { return len(srv.Sessions()) == sessions })
		}
		b.said(srv.Says(wren, "next row, after: "+trouble.name))
		if got := len(srv.Sessions()); got != sessions {
			t.Fatalf("%s: %d sessions by now, expected %d", trouble.name, got, sessions)
		}
	}
	b.stop()
	all := srv.Sessions()
	if last := all[len(all)-1]; last.CloseCode != closeNormal {
		t.Errorf("closed with %d, expected %d", last.CloseCode, closeNormal)
	}
}

// The gateway falls silent: words that are said meanwhile come, too.
func TestEveningWithSilence(t *testing.T) {
	t.Parallel()
	timing := quick()
	timing.Heartbeat = 2 * time.Second
	srv, b := platform(t, discordtest.Options{Heartbeat: time.Second}, Shards{}, timing)
	wren := srv.Guild("Tibberhythe").Member("Wren")
	b.said(srv.Says(wren, "next row"))
	srv.Silent(true)
	b.said(srv.Says(wren, "is anybody there"))
	if all := srv.Sessions(); len(all) != 1 || all[0].Resumes < 1 {
		t.Errorf("%+v, expected one session that was resumed", all)
	}
	b.stop()
}

func TestShardsAtThePlatform(t *testing.T) {
	t.Parallel()
	srv, b := platform(t, discordtest.Options{Shards: 3}, Shards{First: 0, Last: 2, Total: 3}, quick())
	srv.Connected(3)
	if n := srv.Identifies(); n != 3 {
		t.Errorf("identified %d times, expected once a shard", n)
	}
	b.cancel()
	if err := b.end(); err != nil {
		t.Error(err)
	}
}

func TestWrongTokenAtThePlatform(t *testing.T) {
	t.Parallel()
	srv := discordtest.New(t, discordtest.Options{Token: "another"})
	client, err := rest.New(rest.Options{Token: secretToken, API: srv.URL()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(client.Close)
	began := time.Now()
	b := run(t, nil, Options{Client: client.HTTP(), Start: client.Gateway, Timing: Timing{}.withDefaults()})
	if fatal := b.fatal(); fatal.Code != 401 {
		t.Errorf("code %d, expected 401", fatal.Code)
	}
	if took := time.Since(began); took > soon {
		t.Errorf("took %v, expected at most %v", took, soon)
	}
}
