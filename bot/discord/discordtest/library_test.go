package discordtest_test

import (
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"
	"go.uber.org/goleak"

	"clew/bot/discord/discordtest"
)

// rewrite sends what is meant for the platform to the stand-in.
type rewrite struct {
	base *url.URL
	http.RoundTripper
}

func (r rewrite) RoundTrip(q *http.Request) (*http.Response, error) {
	q = q.Clone(q.Context())
	q.URL.Scheme, q.URL.Host = r.base.Scheme, r.base.Host
	return r.RoundTripper.RoundTrip(q)
}

// leaks fails the test if it leaves a goroutine behind, after all that it cleans up.
func leaks(t *testing.T) {
	t.Helper()
	t.Cleanup(func() { goleak.VerifyNone(t) })
}

// library is a session of the real library that talks to the stand-in.
func library(t *testing.T, srv *discordtest.Server, set func(*discordgo.Session)) *discordgo.Session {
	t.Helper()
	base, err := url.Parse(srv.URL())
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{}
	t.Cleanup(transport.CloseIdleConnections)
	s, err := discordgo.New("Bot " + srv.Token())
	if err != nil {
		t.Fatal(err)
	}
	s.Client = &http.Client{Transport: rewrite{base, transport}}
	s.Identify.Intents = discordgo.IntentsDirectMessages | discordgo.IntentsGuildMessages | discordgo.IntentsGuilds
	s.StateEnabled = false
	s.LogLevel = -1
	if set != nil {
		set(s)
	}
	return s
}

// open opens the session, and closes it when the test ends.
func open(t *testing.T, s *discordgo.Session) {
	t.Helper()
	if err := s.Open(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
}

// settled waits until the newest session has had n heartbeats. The library sends one as
// its last step of opening, and one that comes in the midst of a close makes it reconnect
// for ever.
func settled(srv *discordtest.Server, n int) {
	srv.Until("the library to settle", func() bool {
		all := srv.Sessions()
		return len(all) > 0 && all[len(all)-1].Heartbeats >= n
	})
}

// silent is what no text may ping with.
var silent = &discordgo.MessageAllowedMentions{Parse: []discordgo.AllowedMentionType{}}

// answerer answers everything that the library is told of: words by words, a press and
// a command by an ephemeral reply with a button.
func answerer(t *testing.T, s *discordgo.Session) {
	s.AddHandler(func(s *discordgo.Session, m *discordgo.MessageCreate) {
		if m.Author == nil || m.Author.Bot {
			return
		}
		_, err := s.ChannelMessageSendComplex(m.ChannelID, &discordgo.MessageSend{Content: "You said: " + m.Content, AllowedMentions: silent, Reference: m.Reference()})
		if err != nil {
			t.Errorf("send: %v", err)
		}
	})
	s.AddHandler(func(s *discordgo.Session, i *discordgo.InteractionCreate) {
		data := &discordgo.InteractionResponseData{Content: "Row six.", AllowedMentions: silent, Flags: discordgo.MessageFlagsEphemeral,
			Components: []discordgo.MessageComponent{discordgo.ActionsRow{Components: []discordgo.MessageComponent{
				discordgo.Button{Label: "Next row", CustomID: "next", Style: discordgo.PrimaryButton}}}}}
		err := s.InteractionRespond(i.Interaction, &discordgo.InteractionResponse{Type: discordgo.InteractionResponseChannelMessageWithSource, Data: data})
		if err != nil {
			t.Errorf("respond: %v", err)
		}
	})
}

func TestLibraryTalks(t *testing.T) {
	leaks(t)
	for _, compress := range []bool{false, true} {
		t.Run(map[bool]string{false: "plain", true: "compressed"}[compress], func(t *testing.T) {
			srv := discordtest.New(t, discordtest.Options{Token: "tibberhythe"})
			guild := srv.Guild("Tibberhythe")
			wednesday := guild.Channel("wednesday")
			ana := guild.Member("Ana Pell", discordtest.ManageEvents)
			wren := guild.Member("Wren")

			s := library(t, srv, func(s *discordgo.Session) { s.Compress = compress; s.Identify.Compress = compress })
			answerer(t, s)
			open(t, s)
			srv.Connected(1)
			if got := srv.Sessions()[0].Compress; got != compress {
				t.Fatalf("compress is %t", got)
			}

			if got := srv.Says(ana, "next row").Answer().Said(); got != "You said: next row" {
				t.Errorf("in private: %q", got)
			}
			if got := srv.SaysIn(wednesday, ana, "@clew next row").Answer().Content; !strings.HasSuffix(got, "> next row") {
				t.Errorf("mentioned: %q", got)
			}
			// Without the privileged intent the text of others does not arrive (shared/DISCORD.md, Requests and answers).
			if got := srv.SaysIn(wednesday, ana, "next row").Answer().Said(); got != "You said:" {
				t.Errorf("not mentioned: %q", got)
			}
			first := srv.Forges(wednesday, ana, "next").Answer()
			if !first.Ephemeral || first.Guild != guild.ID {
				t.Errorf("the command's answer: %+v", first)
			}
			srv.Press(ana, "Next row").Answer()
			if n := len(srv.Sent(ana)); n != 5 {
				t.Errorf("Ana sees %d messages, not 5", n)
			}
			if n := len(srv.Sent(wren)); n != 2 {
				t.Errorf("Wren sees %d messages, not the 2 in the channel", n)
			}
		})
	}
}

func TestLibraryResumes(t *testing.T) {
	leaks(t)
	srv := discordtest.New(t, discordtest.Options{})
	ana := srv.User("Ana Pell")
	s := library(t, srv, nil)
	answerer(t, s)
	open(t, s)
	srv.Says(ana, "one").Answer()
	settled(srv, 1)
	srv.Cut(0)
	srv.Gone(0)
	missed := srv.Says(ana, "two") // the library closes for a second, and comes back
	if got := missed.Answer().Said(); got != "You said: two" {
		t.Errorf("%q", got)
	}
	srv.Resumed(0, 1)
	if n := srv.Identifies(); n != 1 {
		t.Errorf("identified %d times", n)
	}
	settled(srv, 2)
}

func TestLibraryIsAskedToReconnect(t *testing.T) {
	leaks(t)
	srv := discordtest.New(t, discordtest.Options{})
	s := library(t, srv, nil)
	open(t, s)
	settled(srv, 1)
	srv.Reconnect(0)
	srv.Resumed(0, 1)
	settled(srv, 2)
}

func TestLibraryIdentifiesAgain(t *testing.T) {
	leaks(t)
	srv := discordtest.New(t, discordtest.Options{})
	ana := srv.User("Ana Pell")
	s := library(t, srv, nil)
	answerer(t, s)
	open(t, s)
	settled(srv, 1)
	srv.Invalid(0, false)
	srv.Until("a second session", func() bool { return srv.Identifies() == 2 })
	srv.Connected(1)
	srv.Says(ana, "again").Answer()
}

func TestLibraryShards(t *testing.T) {
	leaks(t)
	const count = 3
	srv := discordtest.New(t, discordtest.Options{Shards: count})
	var mu sync.Mutex
	got := map[string]int{} // shard by text
	for shard := range count {
		s := library(t, srv, func(s *discordgo.Session) { s.ShardID, s.ShardCount = shard, count })
		s.AddHandler(func(_ *discordgo.Session, m *discordgo.MessageCreate) {
			mu.Lock()
			defer mu.Unlock()
			got[m.ID] = shard
		})
		open(t, s)
	}
	srv.Connected(count)
	srv.Until("the library to settle", func() bool {
		for _, one := range srv.Sessions() {
			if one.Heartbeats == 0 {
				return false
			}
		}
		return true
	})
	want := map[string]int{}
	for range 2 * count {
		g := srv.Guild("a town")
		ana := g.Member("Ana Pell")
		want[srv.SaysIn(g.Channel("wednesday"), ana, "hello").ID] = g.Shard(count)
		want[srv.Says(ana, "hello").ID] = 0 // direct messages reach shard 0 only (shared/DISCORD.md, Limits)
	}
	seen := map[int]bool{}
	srv.Until("all messages", func() bool { mu.Lock(); defer mu.Unlock(); return len(got) == len(want) })
	mu.Lock()
	defer mu.Unlock()
	for id, shard := range want {
		if got[id] != shard {
			t.Errorf("message %s went to shard %d, not %d", id, got[id], shard)
		}
		seen[shard] = true
	}
	if len(seen) != count {
		t.Errorf("guilds made one after another went to %d shards of %d", len(seen), count)
	}
}

func TestLibraryWritesCommands(t *testing.T) {
	leaks(t)
	srv := discordtest.New(t, discordtest.Options{})
	s := library(t, srv, nil)
	app := srv.Application()
	atLeast := 1.0
	commands := []*discordgo.ApplicationCommand{
		{Name: "next", Description: "Hear the next row."},
		{Name: "at", Description: "Go to a row.", Options: []*discordgo.ApplicationCommandOption{
			{Name: "row", Description: "Its number.", Type: discordgo.ApplicationCommandOptionInteger, Required: true, MinValue: &atLeast}}},
	}
	made, err := s.ApplicationCommandBulkOverwrite(app, "", commands)
	if err != nil {
		t.Fatal(err)
	}
	commands[0].Description = "Hear the next row: the one before it is done."
	again, err := s.ApplicationCommandBulkOverwrite(app, "", commands)
	if err != nil {
		t.Fatal(err)
	}
	for i := range made {
		if made[i].ID != again[i].ID || made[i].ApplicationID != app {
			t.Errorf("command %d: %+v, then %+v", i, made[i], again[i])
		}
		if changed := made[i].Version != again[i].Version; changed != (i == 0) {
			t.Errorf("command %d: version %s, then %s", i, made[i].Version, again[i].Version)
		}
	}
	list, err := s.ApplicationCommands(app, "")
	if err != nil || len(list) != 2 || !list[1].Options[0].Required || *list[1].Options[0].MinValue != 1 {
		t.Errorf("%v %v", list, err)
	}
	if n := srv.CommandsWritten(); n != 2 {
		t.Errorf("written %d times", n)
	}
}

func TestLibraryIsLimited(t *testing.T) {
	leaks(t)
	srv := discordtest.New(t, discordtest.Options{})
	ana := srv.User("Ana Pell")
	s := library(t, srv, nil)
	srv.Limit(discordtest.Send, 1, 300*time.Millisecond)
	begin := time.Now()
	for range 3 {
		if _, err := s.ChannelMessageSendComplex(srv.DM(ana).ID, &discordgo.MessageSend{Content: "hello", AllowedMentions: silent}); err != nil {
			t.Fatal(err)
		}
	}
	// The library waits where the headers say that nothing remains.
	if took := time.Since(begin); took < 500*time.Millisecond {
		t.Errorf("three messages in %v, of one every 300 ms", took)
	}
	for _, r := range srv.Requests(discordtest.Send) {
		if r.Status != http.StatusOK {
			t.Errorf("%+v: the headers were not enough", r)
		}
	}
}
