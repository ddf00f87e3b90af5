package discord_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"runtime/pprof"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/bot/discord"
	"clew/bot/discord/discordtest"
	"clew/session"
	"clew/session/redistest"
)

// The surroundings of a copy of this test program that is the bot, and no test.
const (
	loadRole  = "CLEW_LOAD_BOT" // set for the bot
	loadStore = "CLEW_LOAD_STORE_WITHIN"
	loadRedis = "CLEW_REDIS_URL"
	loadToken = "CLEW_DISCORD_TOKEN"
	loadAPI   = "CLEW_DISCORD_API"
	loadTrace = "CLEW_PROFILE"
)

func init() {
	if os.Getenv(loadRole) == "" {
		return
	}
	if err := runBot(); err != nil {
		fmt.Fprintln(os.Stderr, "the bot under load:", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// runBot serves until its standard input ends. For each line that comes there it
// collects garbage and prints what it needs then.
func runBot() error {
	signal.Ignore(os.Interrupt) // that is the test's, and with the test the input ends
	client, err := session.Connect(os.Getenv(loadRedis))
	if err != nil {
		return err
	}
	defer client.Close()
	if name := os.Getenv(loadTrace); name != "" {
		file, err := os.Create(name)
		if err != nil {
			return err
		}
		defer file.Close()
		if err := pprof.StartCPUProfile(file); err != nil {
			return err
		}
		defer pprof.StopCPUProfile()
	}
	within, err := time.ParseDuration(os.Getenv(loadStore))
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		defer stop()
		for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
			_ = json.NewEncoder(os.Stdout).Encode(measure()) // where nobody reads any more, the input ends too
		}
	}()
	log := zerolog.New(os.Stderr).Level(zerolog.WarnLevel)
	newID := func() string { return "fault" }
	return discord.Serve(ctx, discord.Options{
		Bot: bot.New(session.Open(client), time.Now, newID, log), Token: os.Getenv(loadToken), API: os.Getenv(loadAPI),
		NewID: newID, Log: log, StoreWithin: within,
	})
}

// usage is what the bot's process needs, after a collection. When it was, and
// how much was answered, is filled in by the test.
type usage struct {
	At         time.Duration // since the load began
	Heap       uint64        // bytes
	Resident   uint64        // bytes
	Goroutines int
	Processor  time.Duration // since the process began
	Answers    int           // that came until then
}

func measure() usage {
	var u usage
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // a pool gives back what it has when it was not used between two
	runtime.ReadMemStats(&m)
	u.Heap, u.Goroutines = m.HeapAlloc, runtime.NumGoroutine()
	if pages, err := os.ReadFile("/proc/self/statm"); err == nil { // not on every system
		if fields := strings.Fields(string(pages)); len(fields) > 1 {
			n, _ := strconv.ParseUint(fields[1], 10, 64) // zero where it is no number
			u.Resident = n * uint64(os.Getpagesize())
		}
	}
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err == nil {
		u.Processor = time.Duration(r.Utime.Nano() + r.Stime.Nano())
	}
	return u
}

// botProcess is the bot, as a process of its own.
type botProcess struct {
	in  io.Writer
	out *bufio.Reader
}

// startBot starts the bot, and ends it with the test. within is how long the
// store may take for one request; 0 is the usual time.
func startBot(t *testing.T, srv *discordtest.Server, redis *redistest.Server, within time.Duration) *botProcess {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), loadRole+"=1", loadRedis+"=redis://"+redis.Addr, loadToken+"="+srv.Token(),
		loadAPI+"="+srv.URL(), loadStore+"="+within.String())
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = in.Close() // the process may have ended
		late := time.AfterFunc(patience, func() { _ = cmd.Process.Kill() })
		defer late.Stop()
		if err := cmd.Wait(); err != nil {
			t.Errorf("the bot ended with %v", err)
		}
	})
	return &botProcess{in, bufio.NewReader(out)}
}

// usage asks what the bot needs, at a time since the load began.
func (b *botProcess) usage(t *testing.T, at time.Duration) usage {
	t.Helper()
	if _, err := fmt.Fprintln(b.in, "how much?"); err != nil {
		t.Fatal(err)
	}
	line, err := b.out.ReadBytes('\n')
	if err != nil {
		t.Fatal(err)
	}
	var u usage
	if err := json.Unmarshal(line, &u); err != nil {
		t.Fatal(err)
	}
	u.At = at
	return u
}
