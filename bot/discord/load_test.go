package discord_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session"
	"clew/session/redistest"
)

// The load that one process has to carry on a machine of two processors, which
// it shares with Redis and with the stand-in for the platform.
const (
	loadMembers = 2000
	loadRate    = 1000                   // requests a second
	loadGroups  = 20                     // servers, each with a knit-along of its own
	loadP99     = 100 * time.Millisecond // an answer, at most
)

// A trial is how long a load lasts and how it is judged.
type trial struct {
	lasts  time.Duration
	steady time.Duration // how long the bot may take to fill what it remembers
	every  time.Duration // how often its memory is looked at
	most   int           // requests under way at once; 0 is no bound
	grows  uint64        // bytes that it may need more in the second half of the steady time than in the first
	judged bool          // how long an answer takes is judged, and not only told
}

// ordinary is what the ordinary tests do. As requests under way are bounded, a
// machine that is busy with something else makes it slower, and nothing more. A
// request may leave seven hundred bytes, some of which is what is remembered of
// the newest.
var ordinary = trial{lasts: 10 * time.Second, steady: 4 * time.Second, every: time.Second, most: 16, grows: 2 << 20}

// soak is what CLEW_SOAK asks for. Requests come when they are due, whether or
// not others are answered.
func soak(lasts time.Duration) trial {
	return trial{lasts: lasts, steady: min(lasts/2, 3*time.Minute), every: 10 * time.Second, grows: 4 << 20, judged: true}
}

// A load is members who ask one thing after the other, and what came of it.
type load struct {
	srv      *discordtest.Server
	store    *session.Store
	bot      *botProcess
	knitters []*knitter
	free     chan *knitter // those who wait for no answer
	underway chan struct{} // holds one for each request under way; nil where they are not bounded
	fired    int

	mu       sync.Mutex      // guards what stands below
	took     []time.Duration // from when a request was due to its answer
	deferred int
	wrong    []string
}

// A knitter goes to and fro within a section. What stands below who she is
// belongs to whoever has her: the channel of those who are free, who fires her
// next request, or who takes the answer.
type knitter struct {
	tag       uint64
	who       *discordtest.Person
	channel   *discordtest.Channel
	knitalong string

	row        int    // where she is once what she asked is answered
	next, back string // custom ids of buttons under the newest answer; "" before the first
	old        string // the custom id of the button of another row; "" before the first
	asked      string
	due        time.Time
}

// The rows that members knit, in the sample's section of 21. Its first and last
// row lead to other words.
const (
	loadSection         = "Cuff"
	loadFirst, loadLast = 2, 20
)

// TestLoad has 2,000 members ask, a thousand times a second, by commands, buttons
// and words. The bot is a process of its own. Each request is answered with the
// right row, every place is right in the end, and memory is flat. With
// CLEW_SOAK it lasts as long as that says, and the 99th percentile is judged:
//
//	CLEW_SOAK=10m go test -count=1 -timeout 20m -v -run TestLoad ./bot/discord
//
// CLEW_PROFILE=FILE writes a profile of the bot's processor time.
func TestLoad(t *testing.T) {
	tried := ordinary
	if text := os.Getenv("CLEW_SOAK"); text != "" {
		lasts, err := time.ParseDuration(text)
		if err != nil || lasts <= 0 {
			t.Fatalf("CLEW_SOAK is %q, expected a time such as 10m", text)
		}
		tried = soak(lasts)
	}
	l := newLoad(t, tried.most)
	needed := l.watch(t, tried)
	l.settle(t)
	l.places(t)
	l.tell(t, needed, tried.lasts)
	tried.judgeMemory(t, needed)
	if p99 := percentile(l.took, 99); tried.judged && p99 > loadP99 {
		t.Errorf("99 of 100 answers took up to %v, expected %v", p99, loadP99)
	}
}

// newLoad starts Redis as deploy/redis.conf has it, the platform and the bot, and
// has everybody join. most bounds the requests under way at once; 0 is no bound.
func newLoad(t *testing.T, most int) *load {
	redis := redistest.Start(t, "--appendonly", "yes", "--appendfsync", "always")
	l := &load{free: make(chan *knitter, loadMembers)}
	l.srv = discordtest.New(t, discordtest.Options{Token: "tibberhythe-bot-token", Keep: -1, Wait: patience})
	client, err := session.Connect("redis://" + redis.Addr)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeIt(t, client) })
	l.store = session.Open(client)
	for g := range loadGroups {
		l.gather(t, l.srv.Guild(fmt.Sprintf("Tibberhythe %d", g+1)), loadMembers/loadGroups)
	}
	rand.Shuffle(len(l.knitters), func(i, j int) { l.knitters[i], l.knitters[j] = l.knitters[j], l.knitters[i] })
	for i, k := range l.knitters {
		k.tag = uint64(i)
		l.free <- k
	}
	within := time.Duration(0)
	if most > 0 {
		l.underway, within = make(chan struct{}, most), patience
	}
	l.bot = startBot(t, l.srv, redis, within)
	l.srv.OnHit(l.hit)
	l.srv.Connected(1)
	return l
}

// gather starts a knit-along in a server, with members who are at a row near
// its beginning.
func (l *load) gather(t *testing.T, guild *discordtest.Guild, n int) {
	channel := guild.Channel("wednesday")
	about := session.About{
		ID: "k-" + channel.ID, Title: "Wednesday mittens", Host: "discord:1", Server: "discord:" + guild.ID, Channel: channel.ID, Started: evening,
	}
	if err := l.store.Start(t.Context(), about, sample(t, "mender-mittens")); err != nil {
		t.Fatal(err)
	}
	for i := range n {
		k := &knitter{who: guild.Member(fmt.Sprintf("Knitter %d", i+1)), channel: channel, knitalong: about.ID, row: loadFirst}
		at := session.Place{Section: loadSection, Row: k.row, Revision: 1, Size: "small"}
		if _, err := l.store.Join(t.Context(), about.ID, session.Joining{Member: member(k.who), Place: at, At: evening}); err != nil {
			t.Fatal(err)
		}
		l.knitters = append(l.knitters, k)
	}
}

// run fires requests until the time is over.
func (l *load) run(lasts time.Duration) {
	began := time.Now()
	for due := began; time.Since(began) < lasts; due = due.Add(time.Second / loadRate) {
		time.Sleep(time.Until(due))
		k := <-l.free
		k.due = due
		if l.underway != nil {
			l.underway <- struct{}{}
			k.due = time.Now()
		}
		l.fired++
		l.srv.Fire(k.ask())
	}
}

// ask chooses what a knitter asks, and says where she should be then. Of a
// hundred requests three or so are words: sending to channels is held to the
// platform's fifty a second.
func (k *knitter) ask() discordtest.Shot {
	shot := discordtest.Shot{Person: k.who, Channel: k.channel, Tag: k.tag}
	dice := rand.IntN(100)
	switch {
	case dice < 3:
		shot.Channel, shot.Words = nil, "where am i"
	case dice < 8 && k.old != "":
		shot.CustomID = k.old
	case dice < 18:
		shot.Command = "again"
	case k.row < loadLast && (k.row == loadFirst || dice < 65):
		k.row++
		shot.Command, shot.CustomID = either(dice, "next", k.next)
	default:
		k.row--
		shot.Command, shot.CustomID = either(dice, "back", k.back)
	}
	k.asked = shot.Command + shot.CustomID + shot.Words
	return shot
}

// either is the button, where there is one, every second time, else the command.
func either(dice int, command, button string) (string, string) {
	if button != "" && dice%2 == 0 {
		return "", button
	}
	return command, ""
}

// hit takes an answer, and sets the knitter free to ask again.
func (l *load) hit(h discordtest.Hit) {
	const deferral = 5 // documentation, "Receiving and Responding": the kind of a first answer
	if h.Kind == deferral && !h.Filled && !h.Lost {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.deferred++
		return
	}
	k := l.knitters[h.Tag]
	took := time.Since(k.due)
	var fault string
	switch {
	case h.Lost:
		fault = "nothing"
	case !strings.Contains(h.Message.Content, fmt.Sprintf("\n-# %s, round %d of 21, ", loadSection, k.row)):
		fault = strconv.Quote(h.Message.Content)
	}
	if next, ok := h.Message.Button("Next row"); ok && next.CustomID != k.next {
		k.old, k.next = k.next, next.CustomID
	}
	if back, ok := h.Message.Button("Back"); ok {
		k.back = back.CustomID
	}
	l.mu.Lock()
	l.took = append(l.took, took)
	if fault != "" {
		l.wrong = append(l.wrong, fmt.Sprintf("%s, asked of row %d, was answered with %s after %v", k.asked, k.row, fault, took))
	}
	l.mu.Unlock()
	l.free <- k
	if l.underway != nil {
		<-l.underway
	}
}

// settle waits until everything is answered, and fails where an answer was
// wrong or did not come.
func (l *load) settle(t *testing.T) {
	l.srv.Until("everything to be answered", func() bool { return len(l.free) == loadMembers })
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.took) != l.fired {
		t.Errorf("%d requests were answered, of %d", len(l.took), l.fired)
	}
	for _, wrong := range l.wrong[:min(len(l.wrong), 10)] {
		t.Error(wrong)
	}
	if len(l.wrong) > 10 {
		t.Errorf("and %d more", len(l.wrong)-10)
	}
}

// places fails where somebody is not where she should be.
func (l *load) places(t *testing.T) {
	for _, k := range l.knitters {
		state, err := l.store.State(t.Context(), k.knitalong, member(k.who))
		if err != nil {
			t.Fatal(err)
		}
		if state.Section != loadSection || state.Row != k.row {
			t.Errorf("%s of %s is at row %d of %s, expected row %d", k.who.Name, k.knitalong, state.Row, state.Section, k.row)
		}
	}
}

// watch runs the load, and notes the bot's memory every so often.
func (l *load) watch(t *testing.T, tried trial) []usage {
	done := make(chan struct{})
	began := time.Now()
	go func() {
		defer close(done)
		l.run(tried.lasts)
	}()
	var all []usage
	look := func() {
		u := l.bot.usage(t, time.Since(began))
		l.mu.Lock()
		u.Answers = len(l.took)
		l.mu.Unlock()
		all = append(all, u)
	}
	tick := time.NewTicker(tried.every)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
			look()
		case <-done:
			look()
			return all
		}
	}
}

// judgeMemory fails where the bot needed more in the second half of the steady
// time than in the first. What it needed least in each half counts: the rest is
// for requests that were under way.
func (tried trial) judgeMemory(t *testing.T, all []usage) {
	middle := tried.steady + (all[len(all)-1].At-tried.steady)/2
	first, second := uint64(math.MaxUint64), uint64(math.MaxUint64)
	for _, u := range all {
		switch {
		case u.At < tried.steady:
		case u.At < middle:
			first = min(first, u.Heap)
		default:
			second = min(second, u.Heap)
		}
	}
	if first == math.MaxUint64 || second > first+tried.grows {
		t.Errorf("the bot needed %d kB up to %v, and then %d kB: expected no more than %d kB more", first>>10, middle, second>>10, tried.grows>>10)
	}
}

// percentile of durations; zero where there are none.
func percentile(took []time.Duration, p int) time.Duration {
	if len(took) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(took))
	return sorted[min(len(sorted)*p/100, len(sorted)-1)]
}

// tell logs the figures.
func (l *load) tell(t *testing.T, all []usage, lasts time.Duration) {
	t.Logf("%d requests in %v, %.0f a second; half of the answers within %v, 99 of 100 within %v, all within %v; %d deferred",
		l.fired, lasts, float64(l.fired)/lasts.Seconds(), percentile(l.took, 50), percentile(l.took, 99), percentile(l.took, 100), l.deferred)
	before := 0
	for i, u := range all {
		if step := max(1, len(all)/20); i%step != 0 && i != len(all)-1 {
			continue
		}
		t.Logf("after %5.0f s: heap %6d kB, resident %6d kB, %4d goroutines, processor time %v; 99 of 100 answers since the last line within %v",
			u.At.Seconds(), u.Heap>>10, u.Resident>>10, u.Goroutines, u.Processor.Round(time.Millisecond), percentile(l.took[before:u.Answers], 99))
		before = u.Answers
	}
}
