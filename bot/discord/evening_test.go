package discord_test

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/rs/zerolog"
	"go.uber.org/goleak"

	"clew/bot"
	"clew/bot/discord"
	"clew/bot/discord/discordtest"
	"clew/bot/discord/gateway"
	"clew/bot/discord/rest"
	"clew/patterns/samples"
	"clew/session"
	"clew/session/redistest"
)

// TestMain lets more evenings go on at the same time than there are processors:
// most of them wait more than they work.
func TestMain(m *testing.M) {
	flag.Parse()
	if err := flag.Set("test.parallel", "8"); err != nil {
		panic(err)
	}
	goleak.VerifyTestMain(m)
}

// evening is the time at which everything happens that is not told to happen later.
var evening = time.Date(2031, 10, 4, 19, 30, 0, 0, time.UTC)

// patience is how long anything may take that takes no time.
const patience = 30 * time.Second

// quick has pauses that are short where a test would only wait for them.
var quick = gateway.Timing{
	Dial: patience, Open: patience, Ready: patience, Close: patience,
	Identify: time.Millisecond, Hold: 20 * time.Millisecond, Least: 10 * time.Millisecond, Most: 50 * time.Millisecond,
}

// A house is the whole of it: the platform's stand-in, a redis-server, and the
// bot that serves between them, which can be stopped and started again.
type house struct {
	*discordtest.Server
	t     *testing.T
	setup setup
	redis *redistest.Server
	store *session.Store        // over a connection of the test's own
	dump  func() map[string]any // all that is in Redis
	log   *safeLog
	bot   *bot.Bot // the one that serves

	later  atomic.Int64                  // how much later than the evening it is, in nanoseconds
	breaks atomic.Bool                   // lets the bot's clock break, once
	held   atomic.Pointer[chan struct{}] // the bot's clock stands still until it is closed; nil where it does not
	faults atomic.Int64
	end    func() // stops the bot; nil where it does not run
}

// setup is what differs between houses.
type setup struct {
	storeWithin time.Duration // as in discord.Options
	redis       []string      // more arguments of redis-server
	tended      bool          // Serve looks after the channels; else the test does, by house.tend
	open        time.Duration // how long a connection to the gateway may take to open; zero is as long as anything
}

// patient is for tests that are not about how long the store takes.
var patient = setup{storeWithin: patience}

// opened starts everything, and ends it with the test. Nothing may be left then,
// nor may a secret have been logged.
func opened(t *testing.T) *house {
	t.Helper()
	before := goleak.IgnoreCurrent()
	t.Cleanup(func() {
		if !t.Failed() {
			goleak.VerifyNone(t, before)
		}
	})
	return openedBesides(t, patient)
}

// openedBesides is opened for tests that run at the same time as others, whose
// goroutines can't be told from theirs: what is left of them shows when all
// tests have ended.
func openedBesides(t *testing.T, with setup) *house {
	t.Helper()
	h := &house{t: t, setup: with, redis: redistest.Start(t, with.redis...), log: &safeLog{}}
	t.Cleanup(h.checkLog)
	h.Server = discordtest.New(t, discordtest.Options{Token: "tibberhythe-bot-token", Wait: patience})
	client, err := session.Connect("redis://" + h.redis.Addr)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeIt(t, client) })
	h.store = session.Open(client)
	h.dump = func() map[string]any { return redistest.Dump(t, client) }
	h.serve()
	t.Cleanup(h.stop)
	return h
}

func closeIt(t *testing.T, c io.Closer) {
	if err := c.Close(); err != nil {
		t.Error(err)
	}
}

// serve starts the bot, which remembers nothing but what is in Redis.
func (h *house) serve() {
	h.t.Helper()
	client, err := session.Connect("redis://" + h.redis.Addr)
	if err != nil {
		h.t.Fatal(err)
	}
	log := zerolog.New(h.log).Level(zerolog.DebugLevel)
	timing := quick
	timing.Open = cmp.Or(h.setup.open, quick.Open)
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	h.bot = bot.New(session.Open(client), h.now, h.newID, log)
	go func(served *bot.Bot) {
		ended <- discord.Serve(ctx, discord.Options{
			Bot: served, Token: h.Token(), API: h.URL(), NewID: h.newID, Log: log, Timing: timing,
			StoreWithin: h.setup.storeWithin, Untended: !h.setup.tended,
		})
	}(h.bot)
	h.end = func() {
		cancel()
		select {
		case err := <-ended:
			if err != nil {
				h.t.Errorf("Serve ended with %v", err)
			}
		case <-time.After(patience):
			h.t.Errorf("Serve did not end within %v", patience)
		}
		closeIt(h.t, client)
	}
}

// stop ends the bot and waits for it.
func (h *house) stop() {
	if h.end != nil {
		h.end()
		h.end = nil
	}
}

// now is the bot's clock.
func (h *house) now() time.Time {
	if h.breaks.CompareAndSwap(true, false) {
		panic(errors.New("the clock is broken"))
	}
	if held := h.held.Load(); held != nil {
		<-*held
	}
	return evening.Add(time.Duration(h.later.Load()))
}

// tend looks after the channels once, as a process does every few seconds.
func (h *house) tend() {
	h.t.Helper()
	log := zerolog.New(h.log).Level(zerolog.DebugLevel)
	client, err := rest.New(rest.Options{Token: h.Token(), API: h.URL(), Log: log})
	if err != nil {
		h.t.Fatal(err)
	}
	defer client.Close()
	h.bot.Tend(h.t.Context(), "discord", discord.ChannelsOver(client, log))
}

// hold lets no request that moves somebody go on, by the clock that it asks, until
// what it gives is called.
func (h *house) hold() (release func()) {
	held := make(chan struct{})
	h.held.Store(&held)
	release = sync.OnceFunc(func() {
		h.held.Store(nil)
		close(held)
	})
	h.t.Cleanup(release)
	return release
}

func (h *house) newID() string { return fmt.Sprintf("fault-%d", h.faults.Add(1)) }

// checkLog looks for secrets in what was logged.
func (h *house) checkLog() {
	text := h.log.String()
	for what, secret := range map[string]string{
		"the bot's token":           h.Token(),
		"an interaction's token":    interactionToken,
		"the address of a file":     "hm=",
		"a member's password":       "redis://",
		"the Authorization header":  "Authorization",
		"the gateway's session key": "session_id",
	} {
		if strings.Contains(text, secret) {
			h.t.Errorf("%s is in the log", what)
		}
	}
	if h.t.Failed() {
		h.t.Logf("the end of the log:\n%s", text[max(0, len(text)-5000):])
	}
}

// interactionToken is what the tokens of interactions begin with: "interaction:"
// in base 64 (from memory, and so the stand-in's).
const interactionToken = "aW50ZXJhY3Rpb246"

// member is somebody in the store's terms.
func member(p *discordtest.Person) session.Member { return session.Member("discord:" + p.ID) }

// started starts a knit-along in a channel, without anybody asking for it, and gives
// its id.
func (h *house) started(ch *discordtest.Channel, title, text string) string {
	h.t.Helper()
	about := session.About{
		ID: "k-" + ch.ID, Title: title, Host: "discord:1", Server: "discord:" + ch.Guild.ID, Channel: ch.ID, Started: evening,
	}
	if err := h.store.Start(h.t.Context(), about, text); err != nil {
		h.t.Fatal(err)
	}
	return about.ID
}

// joined makes somebody a member before the first row, without her asking for it.
func (h *house) joined(id string, p *discordtest.Person, section, size string) {
	h.t.Helper()
	at := session.Place{Section: section, Revision: 1, Size: size}
	if _, err := h.store.Join(h.t.Context(), id, session.Joining{Member: member(p), Place: at, At: evening}); err != nil {
		h.t.Fatal(err)
	}
}

// heldIn gives the open knit-along of a channel.
func (h *house) heldIn(ch *discordtest.Channel) session.About {
	h.t.Helper()
	_, all, err := h.store.Around(h.t.Context(), "discord:1", "discord:"+ch.Guild.ID)
	if err != nil {
		h.t.Fatal(err)
	}
	for _, held := range all {
		if held.Channel == ch.ID {
			about, err := h.store.About(h.t.Context(), held.ID)
			if err != nil {
				h.t.Fatal(err)
			}
			return about
		}
	}
	h.t.Fatalf("no knit-along is open in #%s: there are %+v", ch.Name, all)
	return session.About{}
}

func (h *house) state(id string, p *discordtest.Person) session.State {
	h.t.Helper()
	state, err := h.store.State(h.t.Context(), id, member(p))
	if err != nil {
		h.t.Fatal(err)
	}
	return state
}

// isAt fails where somebody is not at a row.
func (h *house) isAt(id string, p *discordtest.Person, section string, row int) {
	h.t.Helper()
	if at := h.state(id, p).Place; at.Section != section || at.Row != row {
		h.t.Errorf("%s is at row %d of %s, expected row %d of %s", p.Name, at.Row, at.Section, row, section)
	}
}

// sample gives the text of a pattern that ships with Clew.
func sample(t *testing.T, name string) string {
	t.Helper()
	s, ok := samples.Find(name)
	if !ok {
		t.Fatalf("there is no sample %q", name)
	}
	return s.Text
}

// said is what is heard of an answer, however many messages it takes.
func said(messages []discordtest.Message) string {
	var all []string
	for _, m := range messages {
		if text := m.Said(); text != "" {
			all = append(all, text)
		}
	}
	return strings.Join(all, " ")
}

// answered waits for the answer to an event, and gives what is heard of it.
func answered(e *discordtest.Event) string { return said(e.Answers(1)) }

// hears fails where the answer to an event does not hold these texts, one after the
// other.
func (h *house) hears(e *discordtest.Event, texts ...string) discordtest.Message {
	h.t.Helper()
	answer := e.Answer()
	rest := answer.Said()
	for _, text := range texts {
		_, after, ok := strings.Cut(rest, text)
		if !ok {
			h.t.Errorf("%s is answered %q, expected to hear %q in it", e.Person.Name, answer.Said(), text)
			return answer
		}
		rest = after
	}
	return answer
}

// safeLog keeps what was logged.
type safeLog struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *safeLog) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *safeLog) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// checkSaid holds for whatever Clew says: letters, spaces and a few stops, in whole
// sentences.
func checkSaid(t *testing.T, text string) {
	t.Helper()
	if text != "" && !spoken.MatchString(text) {
		t.Errorf("what can't be said is said: %q", text)
	}
	if found := slip.FindString(text); found != "" {
		t.Errorf("%q is said: %q", found, text)
	}
}

var (
	spoken = regexp.MustCompile(`^[\p{Lu}\p{Lo}][\p{L}\p{M} ,.;:'?!-]*[.?!]$`)
	// Stops in a row, a stop before no space, two spaces, a small letter after a full stop.
	slip = regexp.MustCompile(`[,.;:?!]{2}|[,.;:?!][^ ]|  |[.?!] \p{Ll}| [,.;:?!]`)
)
