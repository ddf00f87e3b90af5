package bot_test

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/rs/zerolog"
	"go.uber.org/goleak"

	"clew/bot"
	"clew/patterns"
	"clew/patterns/samples"
	"clew/session"
	"clew/session/local"
)

func TestMain(m *testing.M) {
	if spec := os.Getenv(workerSpec); spec != "" {
		os.Exit(workForTest(spec))
	}
	goleak.VerifyTestMain(m)
}

const wren, odo = session.Member("terminal:wren"), session.Member("terminal:odo")

// A house is a bot over a local store, with a clock and ids of its own.
type house struct {
	*bot.Bot
	store *session.Store
	fault *fault
	log   *safeLog

	dir   string
	open  *local.Local
	clock time.Time
	ids   atomic.Int64
}

// evening is when every test begins.
var evening = time.Date(2031, 10, 4, 19, 30, 0, 0, time.UTC)

func newHouse(t *testing.T) *house {
	t.Helper()
	h := &house{dir: t.TempDir(), clock: evening, log: &safeLog{}}
	h.start(t)
	t.Cleanup(func() { h.stop(t) })
	return h
}

// start opens the store in the folder, and makes a bot that knows nothing but
// what is there.
func (h *house) start(t *testing.T) {
	t.Helper()
	var err error
	if h.open, err = local.Open(h.dir, local.WithoutSync()); err != nil {
		t.Fatal(err)
	}
	client := h.open.Client()
	h.fault = &fault{}
	client.AddHook(h.fault)
	h.store = session.Open(client)
	h.Bot = bot.New(h.store, func() time.Time { return h.clock }, h.newID, zerolog.New(h.log))
}

// renew empties the store, and makes a bot that knows nothing.
func (h *house) renew(t *testing.T) {
	t.Helper()
	h.stop(t)
	h.dir = t.TempDir()
	h.start(t)
}

func (h *house) stop(t *testing.T) {
	t.Helper()
	if err := h.open.Close(); err != nil {
		t.Error(err)
	}
}

func (h *house) newID() string {
	return fmt.Sprintf("f%d", h.ids.Add(1))
}

// knit opens a knit-along of a pattern for a member.
func (h *house) knit(t *testing.T, member session.Member, text string) string {
	t.Helper()
	pattern, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		t.Fatalf("the pattern has errors: %v", problems)
	}
	id, err := h.Solo(t.Context(), member, pattern, text)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// place is where a member is, by the store.
func (h *house) place(t *testing.T, id string, member session.Member) session.Place {
	t.Helper()
	state, err := h.store.State(t.Context(), id, member)
	if err != nil {
		t.Fatal(err)
	}
	return state.Place
}

// dump gives all that the store holds, by key: hashes as maps, lists in their
// order, sorted sets as members with scores.
func (h *house) dump(t *testing.T) map[string]any {
	t.Helper()
	client, all := h.open.Client(), map[string]any{}
	keys, err := client.Keys(t.Context(), "*").Result()
	for _, key := range keys {
		var kind string
		if kind, err = client.Type(t.Context(), key).Result(); err != nil {
			break
		}
		switch kind {
		case "hash":
			all[key], err = client.HGetAll(t.Context(), key).Result()
		case "list":
			all[key], err = client.LRange(t.Context(), key, 0, -1).Result()
		case "zset":
			all[key], err = client.ZRangeWithScores(t.Context(), key, 0, -1).Result()
		default:
			err = fmt.Errorf("%s is a %s, which dump can't read", key, kind)
		}
		if err != nil {
			break
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// pattern gives the text of a pattern of testdata/patterns, or of one that
// ships with Clew.
func pattern(t *testing.T, name string) string {
	t.Helper()
	if text, err := os.ReadFile("testdata/patterns/" + name + ".txt"); err == nil {
		return string(text)
	}
	s, ok := samples.Find(name)
	if !ok {
		t.Fatalf("there is no pattern %q", name)
	}
	return s.Text
}

// checkSaid holds for whatever is said: letters, spaces and a few stops, on one
// line, in whole sentences.
func checkSaid(t *testing.T, asked string, r bot.Reply) {
	t.Helper()
	if !spoken.MatchString(r.Said) {
		t.Errorf("%q is answered with what can't be said: %q", asked, r.Said)
	}
	if strings.Contains(r.Said, "  ") {
		t.Errorf("%q is answered with two spaces in a row: %q", asked, r.Said)
	}
	if found := slip.FindString(r.Said); found != "" {
		t.Errorf("%q is answered with %q: %q", asked, found, r.Said)
	}
}

var (
	spoken = regexp.MustCompile(`^\p{Lu}[\p{L}\p{M} ,.;:'?!-]*[.?!]$`)
	// Stops in a row, a stop before no space, a small letter after a full stop.
	slip = regexp.MustCompile(`[,.;:?!]{2}|[,.;:?!][^ ]|[.?!] \p{Ll}| [,.;:?!]`)
)

// A fault stands between the store and its client, and lets requests fail.
type fault struct {
	mu      sync.Mutex
	away    bool // nothing gets there
	deaf    bool // it gets there, and the reply is lost
	after   int  // so many requests come through first
	touched int  // requests seen since the fault was set
}

func (f *fault) set(away, deaf bool, after int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.away, f.deaf, f.after, f.touched = away, deaf, after, 0
}

func (f *fault) seen() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.touched
}

func (f *fault) next() (away, deaf bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.touched++
	if f.touched <= f.after {
		return false, false
	}
	return f.away, f.deaf
}

var errAway = &net.OpError{Op: "dial", Net: "tcp", Err: errors.New("connection refused by the test")}

func (f *fault) DialHook(next redis.DialHook) redis.DialHook { return next }

func (f *fault) ProcessHook(next redis.ProcessHook) redis.ProcessHook {
	return func(ctx context.Context, cmd redis.Cmder) error {
		away, deaf := f.next()
		if away {
			cmd.SetErr(errAway)
			return errAway
		}
		err := next(ctx, cmd)
		if deaf && !redis.HasErrorPrefix(err, "NOSCRIPT") {
			err = net.ErrClosed
			cmd.SetErr(err)
		}
		return err
	}
}

func (f *fault) ProcessPipelineHook(next redis.ProcessPipelineHook) redis.ProcessPipelineHook {
	return func(ctx context.Context, cmds []redis.Cmder) error {
		away, deaf := f.next()
		if away {
			return errAway
		}
		err := next(ctx, cmds)
		if deaf {
			err = net.ErrClosed
		}
		return err
	}
}

// safeLog keeps what was logged.
type safeLog struct {
	mu   sync.Mutex
	text strings.Builder
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
