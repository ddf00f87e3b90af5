package gateway

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/rs/zerolog"
	"go.uber.org/goleak"

	"clew/bot/discord/rest"
)

// Invented, and looked for in what every test logs.
const (
	secretToken = "tibberhythe-bot-token"
	secretPress = "tibberhythe-press-token"
)

// hung is the goroutine that TestLibraryThatHangsIsAbandoned leaves; it sees
// to it that there are no more of those.
var hung = goleak.IgnoreAnyFunction("clew/bot/discord/gateway.(*link).openSession")

// The library waits for a second whenever it closes: the tests do so together.
func TestMain(m *testing.M) {
	flag.Parse()
	if err := flag.Set("test.parallel", "16"); err != nil {
		panic(err)
	}
	goleak.VerifyTestMain(m, hung)
}

// quick has pauses that are short, and limits that are never reached where a
// test is not about them.
func quick() Timing {
	return Timing{
		Dial: patience, Open: patience, Ready: patience, Close: patience, Heartbeat: patience,
		Identify: time.Millisecond, Hold: 50 * time.Millisecond,
		Least: 40 * time.Millisecond, Most: 80 * time.Millisecond, Steady: time.Hour,
	}
}

// bot is a Run and what it told.
type bot struct {
	t      *testing.T
	told   chan string
	ended  chan error
	cancel context.CancelFunc
	onTold func(string) // called for each, and may panic

	mu  sync.Mutex
	log bytes.Buffer
}

func (b *bot) Write(line []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.log.Write(line)
}

func (b *bot) logged() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.log.String()
}

func (b *bot) tell(format string, a ...any) {
	line := fmt.Sprintf(format, a...)
	b.told <- line
	if b.onTold != nil {
		b.onTold(line)
	}
}

func (b *bot) Ready(shard int, application, me string) {
	b.tell("%d ready %s %s", shard, application, me)
}

func (b *bot) Interaction(shard int, i *discordgo.Interaction) {
	b.tell("%d press %s %s", shard, i.ID, i.MessageComponentData().CustomID)
}

func (b *bot) Message(shard int, m *discordgo.Message) {
	b.tell("%d message %s %s", shard, m.ID, m.Author.ID)
}

func (b *bot) Deleted(shard int, server, channel string, messages []string) {
	b.tell("%d deleted %s %s %s", shard, server, channel, strings.Join(messages, ","))
}

// run starts a Run; it is stopped with the test at the latest. Options that
// are left out are the server's.
func run(t *testing.T, s *server, o Options, tune ...func(*bot)) *bot {
	t.Helper()
	b := &bot{t: t, told: make(chan string, 10_000), ended: make(chan error, 1)}
	for _, f := range tune {
		f(b)
	}
	o.Token = secretToken
	if o.Client == nil {
		o.Client = s.client()
	}
	if o.Start == nil {
		o.Start = func(context.Context) (rest.Start, error) {
			return rest.Start{Shards: 1, Total: 1000, Remaining: 1000, MaxConcurrency: 16, ResetAfter: 24 * time.Hour}, nil
		}
	}
	if o.Timing.Open == 0 {
		o.Timing = quick()
	}
	o.Log = zerolog.New(b).Level(zerolog.TraceLevel)
	ctx, cancel := context.WithCancel(context.Background())
	b.cancel = cancel
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		b.ended <- Run(ctx, o, b)
	}()
	t.Cleanup(func() {
		cancel()
		<-ended
		for _, secret := range []string{secretToken, secretPress} {
			if strings.Contains(b.logged(), secret) {
				t.Errorf("%q is in the log:\n%s", secret, b.logged())
			}
		}
		if t.Failed() {
			t.Logf("the log:\n%s", b.logged())
		}
	})
	return b
}

// expect waits for what must be told next.
func (b *bot) expect(lines ...string) {
	b.t.Helper()
	for _, want := range lines {
		select {
		case got := <-b.told:
			if got != want {
				b.t.Fatalf("told %q, expected %q", got, want)
			}
		case <-time.After(patience):
			b.t.Fatalf("nothing was told, expected %q", want)
		}
	}
}

// end waits until Run returns by itself.
func (b *bot) end() error {
	b.t.Helper()
	select {
	case err := <-b.ended:
		return err
	case <-time.After(patience):
		b.t.Fatal("Run did not return")
		return nil
	}
}

// stop ends the context, and nothing more may have been told.
func (b *bot) stop() {
	b.t.Helper()
	b.cancel()
	if err := b.end(); err != nil {
		b.t.Fatalf("Run: %v, expected none where the context ended", err)
	}
	select {
	case line := <-b.told:
		b.t.Fatalf("told %q, expected nothing more", line)
	default:
	}
}

// fatal waits for Run to give up.
func (b *bot) fatal() *Fatal {
	b.t.Helper()
	var fatal *Fatal
	if err := b.end(); !errors.As(err, &fatal) {
		b.t.Fatalf("Run: %v, expected a *Fatal", err)
	}
	return fatal
}

const isReady = "0 ready 11 12"
