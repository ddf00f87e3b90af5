package discord

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/redis/go-redis/v9"
	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord/rest"
	"clew/patterns/samples"
	"clew/reader/listen"
	"clew/session"
	"clew/session/redistest"
)

// An occurrence is an event as the gateway brings it, and what is done with it
// before anybody asks the bot: the library makes a value of it, and this package
// makes a request of that.
type occurrence struct {
	name string
	raw  []byte
	made any // what the library makes of it
	read func(made any, came time.Time) (bot.Ask, bool)
}

// occurrences are read from files, in which they stand as discordtest sends them.
func occurrences(tb testing.TB) []occurrence {
	tb.Helper()
	all := []occurrence{
		{name: "command", made: &discordgo.InteractionCreate{}, read: readInteraction},
		{name: "press", made: &discordgo.InteractionCreate{}, read: readInteraction},
		{name: "words", made: &discordgo.MessageCreate{}, read: readMessage},
	}
	for i, o := range all {
		var err error
		if all[i].raw, err = os.ReadFile("testdata/events/" + o.name + ".json"); err != nil {
			tb.Fatal(err)
		}
		if err := json.Unmarshal(all[i].raw, o.made); err != nil {
			tb.Fatal(err)
		}
		if ask, ok := o.read(o.made, time.Now()); !ok || ask.Member == "" || ask.Event == "" {
			tb.Fatalf("%s: nothing is asked by it", o.name)
		}
	}
	return all
}

// readInteraction makes a request of a command or a press.
func readInteraction(made any, came time.Time) (bot.Ask, bool) {
	i := made.(*discordgo.InteractionCreate).Interaction
	r, ok := askedBy(i, came)
	if !ok {
		return bot.Ask{}, false
	}
	var ask bot.Ask
	var err error
	switch data := i.Data.(type) {
	case discordgo.ApplicationCommandInteractionData:
		ask, err = heard(data)
	case discordgo.MessageComponentInteractionData:
		var p press
		p, err = pressed(data)
		ask = bot.Ask{Knitalong: p.Knitalong, Mark: p.Mark, Pressed: &p.Choice}
	}
	return askOf(r, ask), err == nil
}

func readMessage(made any, came time.Time) (bot.Ask, bool) {
	r, words, ok := saidBy(made.(*discordgo.MessageCreate).Message, "661720242585600256", came)
	if !ok {
		return bot.Ask{}, false
	}
	return askOf(r, bot.Ask{Words: words}), true
}

func askOf(r *request, ask bot.Ask) bot.Ask {
	ask.Member, ask.Server, ask.Channel, ask.Event = r.member, r.server, r.heldIn(), r.event
	return ask
}

// BenchmarkReading is what the library takes to make a value of an event, and
// what this package takes from there to what is asked.
func BenchmarkReading(b *testing.B) {
	for _, o := range occurrences(b) {
		b.Run(o.name+"/Library", func(b *testing.B) {
			for b.Loop() {
				if err := json.Unmarshal(o.raw, o.fresh()); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(o.name+"/Ours", func(b *testing.B) {
			came := time.Now()
			for b.Loop() {
				if _, ok := o.read(o.made, came); !ok {
					b.Fatal("nothing is asked")
				}
			}
		})
	}
}

// fresh is an empty value for the library to fill.
func (o occurrence) fresh() any {
	if _, words := o.made.(*discordgo.MessageCreate); words {
		return &discordgo.MessageCreate{}
	}
	return &discordgo.InteractionCreate{}
}

// TestReadingCostsNoMoreThanDecoding says that this package takes no longer for
// its part of an event's decoding than the library for its own. It takes the
// best of several rounds, so that what else the machine does is left out.
func TestReadingCostsNoMoreThanDecoding(t *testing.T) {
	const rounds, times = 20, 200
	for _, o := range occurrences(t) {
		var library, ours []time.Duration
		for range rounds {
			began := time.Now()
			for range times {
				if err := json.Unmarshal(o.raw, o.fresh()); err != nil {
					t.Fatal(err)
				}
			}
			library = append(library, time.Since(began))
			began = time.Now()
			for range times {
				o.read(o.made, began)
			}
			ours = append(ours, time.Since(began))
		}
		if l, u := slices.Min(library)/times, slices.Min(ours)/times; u > l {
			t.Errorf("%s: the library decodes it in %v, and this package takes %v", o.name, l, u)
		}
	}
}

// A workbench is an adapter over a real Redis, whose answers go to a server on
// loopback that takes them all. The time at which an answer is there comes over
// arrived; the answer to the answer is not waited for.
type workbench struct {
	*adapter
	redis   redis.UniversalClient
	arrived chan time.Time
	post    func() error    // a bare call to that server, as long as an answer
	fresh   func() *adapter // another one, whose bot remembers nothing
}

func newWorkbench(b *testing.B) *workbench {
	w := &workbench{arrived: make(chan time.Time, 1)}
	platform := httptest.NewServer(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		_, _ = io.Copy(io.Discard, r.Body)
		at := time.Now()
		rw.WriteHeader(http.StatusNoContent)
		w.arrived <- at
	}))
	b.Cleanup(platform.Close)
	client, err := session.Connect("redis://" + redistest.Start(b).Addr)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = client.Close() })
	calls, err := rest.New(rest.Options{Token: "tibberhythe", API: platform.URL})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(calls.Close)
	newID := func() string { return "fault" }
	w.redis = client
	w.fresh = func() *adapter {
		return newAdapter(context.Background(), Options{
			Bot: bot.New(session.Open(client), time.Now, newID, zerolog.Nop()), NewID: newID, Log: zerolog.Nop(),
		}, calls)
	}
	w.adapter = w.fresh()
	b.Cleanup(w.close)
	w.post = func() error {
		resp, err := http.Post(platform.URL, "application/json", strings.NewReader(strings.Repeat("k", 900)))
		if err != nil {
			return err
		}
		_, _ = io.Copy(io.Discard, resp.Body)
		return resp.Body.Close()
	}
	return w
}

const (
	benchServer    = "529448671641603456"
	benchChannel   = "529448923299843516"
	benchKnitalong = "kbench"
	benchSection   = "Cuff"
	benchLast      = 20 // a row of it, near its end
	benchMembers   = 64
)

// knit starts a knit-along and lets members join it at its first row.
func (w *workbench) knit(b *testing.B) {
	store, ctx := session.Open(w.redis), b.Context()
	sample, ok := samples.Find("mender-mittens")
	if !ok {
		b.Fatal("there is no such sample")
	}
	about := session.About{ID: benchKnitalong, Title: "Wednesday mittens", Host: "discord:1", Server: serverOf(benchServer), Channel: benchChannel, Started: time.Now()}
	if err := store.Start(ctx, about, sample.Text); err != nil {
		b.Fatal(err)
	}
	for i := range benchMembers {
		first := session.Place{Section: benchSection, Row: 1, Revision: 1, Size: "small"}
		if _, err := store.Join(ctx, benchKnitalong, session.Joining{Member: memberOf(userOf(i)), Place: first, At: time.Now()}); err != nil {
			b.Fatal(err)
		}
	}
}

func userOf(i int) string { return strconv.Itoa(319626097459202304 + i<<22) }

// commandEvent makes the event by which a member uses a command without options.
func commandEvent(event, member int, command string) *discordgo.Interaction {
	return &discordgo.Interaction{
		ID: strconv.Itoa(1575127478517628928 + event), AppID: "661720242585600256", Token: fmt.Sprintf("token-%d", event),
		GuildID: benchServer, ChannelID: benchChannel,
		Type: discordgo.InteractionApplicationCommand, Data: discordgo.ApplicationCommandInteractionData{Name: command},
		Member: &discordgo.Member{User: &discordgo.User{ID: userOf(member)}},
	}
}

// nextEvent makes the event by which a member asks for the row after a row.
func nextEvent(event, member, row int, byButton bool) *discordgo.Interaction {
	in := commandEvent(event, member, "next")
	if byButton {
		in.Type = discordgo.InteractionMessageComponent
		in.Data = discordgo.MessageComponentInteractionData{
			CustomID: encodePress(benchKnitalong, bot.MarkOf(benchSection, row, 0), bot.Choice{Intent: listen.Next}), ComponentType: discordgo.ButtonComponent,
		}
	}
	return in
}

// knitters are the members of a bench, who ask in turn, and at the last row go
// back to the first.
type knitters struct {
	*workbench
	b      *testing.B
	events int
	rows   [benchMembers]int // where they are
}

// next has the member whose turn it is ask for her next row, and gives how long
// the answer took.
func (k *knitters) next(byButton bool) time.Duration {
	member := k.events % benchMembers
	if k.rows[member] == benchLast {
		k.rewind(member)
	}
	in := nextEvent(k.events, member, k.rows[member], byButton)
	k.events++
	k.rows[member]++
	began := time.Now()
	k.Interaction(0, in)
	return (<-k.arrived).Sub(began)
}

// asks has the member whose turn it is use a command that moves nothing.
func (k *knitters) asks(a *adapter, command string) time.Duration {
	in := commandEvent(k.events, k.events%benchMembers, command)
	k.events++
	began := time.Now()
	a.Interaction(0, in)
	return (<-k.arrived).Sub(began)
}

// draws has a picture drawn that nobody asked for before.
func (k *knitters) draws() time.Duration {
	a := k.fresh()
	defer a.close()
	k.asks(a, "where") // lays the pattern out
	return k.asks(a, "picture")
}

// rewind puts a member back to the first row.
func (k *knitters) rewind(member int) {
	at := func(row int) session.Place {
		return session.Place{Section: benchSection, Row: row, Revision: 1, Size: "small"}
	}
	_, err := session.Open(k.redis).Move(k.b.Context(), benchKnitalong, session.Move{
		Member: memberOf(userOf(member)), From: at(k.rows[member]), To: at(1), How: "at", At: time.Now(),
	})
	if err != nil {
		k.b.Fatal(err)
	}
	k.rows[member] = 1
}

// BenchmarkAnswer is the time from an event, as the library has decoded it, to
// the answer at the platform, a server on loopback: it has the whole way through
// this package and the bot, with the place moved in a real Redis on loopback, and
// the sending of the answer. Beside it stand a bare round trip to that Redis,
// one after another and after a millisecond in which the processors went to sleep,
// and a bare call of that server. A picture is measured as it was drawn before for
// somebody at the same row, and drawn anew. Words in private are not measured by
// themselves: sending to channels is held to the platform's fifty a second.
func BenchmarkAnswer(b *testing.B) {
	w := newWorkbench(b)
	w.knit(b)
	ping := func() time.Duration {
		began := time.Now()
		if err := w.redis.Ping(b.Context()).Err(); err != nil {
			b.Fatal(err)
		}
		return time.Since(began)
	}
	b.Run("BareRoundTrip", func(b *testing.B) { median(b, func(int) time.Duration { return ping() }) })
	b.Run("BareRoundTripAfterRest", func(b *testing.B) {
		median(b, func(int) time.Duration {
			time.Sleep(time.Millisecond)
			return ping()
		})
	})
	b.Run("BareCall", func(b *testing.B) {
		median(b, func(int) time.Duration {
			began := time.Now()
			if err := w.post(); err != nil {
				b.Fatal(err)
			}
			return (<-w.arrived).Sub(began)
		})
	})
	k := &knitters{workbench: w, b: b}
	for i := range k.rows {
		k.rows[i] = 1
	}
	b.Run("Command", func(b *testing.B) { median(b, func(int) time.Duration { return k.next(false) }) })
	b.Run("Button", func(b *testing.B) { median(b, func(int) time.Duration { return k.next(true) }) })
	b.Run("Picture", func(b *testing.B) { median(b, func(int) time.Duration { return k.asks(k.adapter, "picture") }) })
	b.Run("PictureDrawn", func(b *testing.B) { median(b, func(int) time.Duration { return k.draws() }) })
	k.moved()
}

// moved fails where somebody is not where she should be: then something else
// was measured.
func (k *knitters) moved() {
	for member, row := range k.rows {
		state, err := session.Open(k.redis).State(k.b.Context(), benchKnitalong, memberOf(userOf(member)))
		if err != nil {
			k.b.Fatal(err)
		}
		if state.Row != row {
			k.b.Errorf("member %d is at row %d, expected %d", member, state.Row, row)
		}
	}
}

// median reports the median and the 99th percentile of what is measured.
func median(b *testing.B, measure func(i int) time.Duration) {
	all := make([]time.Duration, b.N)
	b.ResetTimer()
	for i := range all {
		all[i] = measure(i)
	}
	b.StopTimer()
	slices.Sort(all)
	b.ReportMetric(float64(all[len(all)/2].Nanoseconds())/1000, "median-µs")
	b.ReportMetric(float64(all[len(all)*99/100].Nanoseconds())/1000, "p99-µs")
}
