package main

import (
	"bytes"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// A served is `clew serve` as a process of its own, as it is run anywhere.
type served struct {
	t     *testing.T
	cmd   *exec.Cmd
	says  noise
	ended bool
}

// A noise is what a process prints.
type noise struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (n *noise) Write(p []byte) (int, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.text.Write(p)
}

func (n *noise) String() string {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.text.String()
}

// serve starts `clew serve` for the platform. Its surroundings are the token,
// the platform's address, a home folder and what is given, and no more.
func serve(t *testing.T, srv *discordtest.Server, env ...string) *served {
	t.Helper()
	return serveWith(t, srv.Token(), append([]string{"CLEW_DISCORD_API=" + srv.URL()}, env...))
}

// serveWith is serve for any platform. The process is killed at the end of the
// test if it has not ended; whatever it printed by then has no trace of a panic
// or of a race, and no token.
func serveWith(t *testing.T, token string, env []string, args ...string) *served {
	t.Helper()
	clew, err := exec.LookPath("clew")
	if err != nil {
		t.Fatal(err)
	}
	p := &served{t: t, cmd: exec.Command(clew, append([]string{"serve"}, args...)...)}
	p.cmd.Env = append([]string{"HOME=" + t.TempDir(), "GOCOVERDIR=" + os.Getenv("GOCOVERDIR"), "CLEW_DISCORD_TOKEN=" + token}, env...)
	p.cmd.Stdout, p.cmd.Stderr = &p.says, &p.says
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		p.kill()
		said := p.says.String()
		if found := insides.FindString(said); found != "" {
			t.Errorf("clew serve printed %q", found)
		}
		if strings.Contains(said, token) {
			t.Error("clew serve printed its token")
		}
		if t.Failed() {
			t.Logf("clew serve printed:\n%s", said)
		}
	})
	return p
}

// insides are traces of what goes on inside a program.
var insides = regexp.MustCompile(`DATA RACE|panic:|goroutine \d+|runtime error`)

// kill ends the process as a crash would.
func (p *served) kill() {
	if p.ended {
		return
	}
	_ = p.cmd.Process.Kill() // it may have ended
	_ = p.cmd.Wait()         // it says that it was killed
	p.ended = true
}

// signal sends the process a signal.
func (p *served) signal(sig os.Signal) {
	p.t.Helper()
	if err := p.cmd.Process.Signal(sig); err != nil {
		p.t.Fatal(err)
	}
}

// wait waits until the process ends by itself, and gives its exit code.
func (p *served) wait() int {
	p.t.Helper()
	late := time.AfterFunc(limit, func() { _ = p.cmd.Process.Signal(syscall.SIGQUIT) }) // it tells what it was at
	defer late.Stop()
	_ = p.cmd.Wait() // the exit code says more
	p.ended = true
	return p.cmd.ProcessState.ExitCode()
}

// connected waits until the platform's session number n, counted from 1, is
// connected: it keeps those of a process that was killed, which may take them up.
func connected(srv *discordtest.Server, n int) {
	srv.Until("the bot to be connected", func() bool {
		all := srv.Sessions()
		return len(all) >= n && all[n-1].Connected
	})
}

// said is all that an event was answered with.
func said(e *discordtest.Event) string {
	var all []string
	for _, m := range e.Answers(1) {
		all = append(all, m.Said())
	}
	return strings.Join(all, "\n")
}

// A circle is a knit-along of the invented town's, with its people.
type circle struct {
	srv     *discordtest.Server
	guild   *discordtest.Guild
	channel *discordtest.Channel
	host    *discordtest.Person
}

// begin makes a server with a channel and a host, who starts a knit-along there.
func begin(srv *discordtest.Server, town string) *circle {
	c := &circle{srv: srv, guild: srv.Guild(town)}
	c.channel = c.guild.Channel("wednesday")
	c.host = c.guild.Member("Wren", discordtest.ManageEvents)
	return c
}

// start has the host start a knit-along, and gives the answer.
func (c *circle) start() string {
	return said(c.srv.Uses(c.channel, c.host, "knitalong start", discordtest.With("sample", "mender-mittens")))
}

// join has a new member join it.
func (c *circle) join(name string) *discordtest.Person {
	who := c.guild.Member(name)
	c.srv.Uses(c.channel, who, "join", discordtest.With("size", "small")).Answers(1)
	return who
}
