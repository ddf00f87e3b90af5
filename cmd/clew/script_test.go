package main

import (
	"bufio"
	"fmt"
	"image/png"
	"io"
	"maps"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"go.uber.org/goleak"
)

// A checkedMain runs the tests and then looks for goroutines left behind.
type checkedMain struct{ *testing.M }

func (m checkedMain) Run() int {
	code := m.M.Run()
	if err := goleak.Find(); code == 0 && err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return code
}

func TestMain(m *testing.M) {
	testscript.Main(checkedMain{m}, map[string]func(){"clew": main})
}

// TestScripts runs the program as people do. Besides testscript's own commands
// the scripts have these:
//
//	hold ARGS      starts clew and leaves it running, waiting for lines; what it
//	               says on stderr is added to the file held
//	tell WORDS     tells it a line, and gives its answer as stdout
//	crash          ends it as a crash would
//	stopped [TERM] interrupts it, or tells it to end, and waits for it to end by itself
//	redis on|off   starts a real redis-server at $REDIS, or ends it as a crash would
//	bytes FILE ... writes a file of lines that can't stand in a script
//	cut FILE N     cuts the last N bytes off a file
//	fill FILE N    makes a file of N line ends
//	picture FILE W wants a PNG that is W wide
//
// and these, in which a group on the chat platform is served:
//
//	ends N PROGRAM ARGS    runs a program that ends by itself within ten seconds, with exit code N
//	discord TOKEN [CODE]   starts the platform at $DISCORD, in place of one that there was, for
//	                       the bot with that token; each connection is closed with the code
//	ready N                waits until the bot is connected, for the Nth time with a new session
//	identified N           waits until it has identified itself N times
//	says WHO WORDS         is a message to the bot in private, and gives the answer as stdout
//	uses WHO COMMAND NAME=VALUE ...   is a slash command in the channel, likewise
//	presses WHO LABEL      is a press of the newest button of that label, likewise
//	stands TEXT ...        waits until a message in the channel holds these texts, and gives it as stdout
//	deletes TEXT ...       deletes the message in the channel that holds them
//	called WHO NAME        gives somebody a nickname
//	writes FILE LINE ...   writes a file of these lines, in which variables have been filled in
//	when NAME SPAN         sets a variable to the time so much later than now
//	registered N M         wants the commands to have been asked for N times, and written M times
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script", RequireExplicitExec: true, RequireUniqueNames: true, UpdateScripts: os.Getenv("CLEW_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			samples, err := filepath.Abs("../../patterns/samples")
			if err != nil {
				return err
			}
			port, err := freePort()
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("CLEW_DATA", filepath.Join(env.WorkDir, "data"))
			env.Setenv("SAMPLES", samples)
			env.Setenv("PORT", port)
			env.Setenv("REDIS", "redis://127.0.0.1:"+port)
			stage := &stage{}
			env.Values[stageKey{}] = stage
			env.Defer(func() {
				stage.end()
				if g := stage.group; g != nil {
					for _, wrong := range g.judged() {
						env.T().Log("the platform was sent what it does not take: " + wrong)
						defer env.T().FailNow()
					}
				}
			})
			return err
		},
		Condition: func(name string) (bool, error) {
			if name != "redis" {
				return false, fmt.Errorf("there is no condition %q", name)
			}
			_, err := exec.LookPath("redis-server")
			if err != nil && os.Getenv("CLEW_CHECK") == "1" {
				return false, fmt.Errorf("redis-server is not installed, and CLEW_CHECK=1 forbids skipping")
			}
			return err == nil, nil
		},
		Cmds: with(platformCommands, map[string]func(*testscript.TestScript, bool, []string){
			"hold": hold, "tell": tell, "crash": crash, "stopped": stopped, "redis": redisServer, "bytes": writeBytes, "cut": cut, "fill": fill, "picture": picture,
		}),
	})
}

// with gives the commands of two maps as one.
func with[M ~map[string]V, V any](a, b M) M {
	both := maps.Clone(a)
	maps.Copy(both, b)
	return both
}

type stageKey struct{}

// A stage holds the processes that a script leaves running.
type stage struct {
	clew, redis *exec.Cmd
	in          io.WriteCloser
	out         *bufio.Reader
	group       *group
}

// end ends the processes.
func (s *stage) end() {
	for _, cmd := range []*exec.Cmd{s.clew, s.redis} {
		if cmd != nil {
			_ = cmd.Process.Kill() // it may have ended by itself
			_ = cmd.Wait()
		}
	}
	s.clew, s.redis = nil, nil
}

func on(ts *testscript.TestScript) *stage { return ts.Value(stageKey{}).(*stage) }

// limit is how long any process may take for what it is asked.
const limit = 20 * time.Second

// start starts a program in the script's folder and surroundings.
func start(ts *testscript.TestScript, name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env = ts.MkAbs("."), nil
	for _, name := range []string{"HOME", "PATH", "CLEW_DATA", "TMPDIR", "GOCOVERDIR", "CLEW_DISCORD_TOKEN", "CLEW_DISCORD_API", "CLEW_REDIS_URL", "CLEW_SHARDS", "CLEW_LOG"} {
		if value := ts.Getenv(name); value != "" {
			cmd.Env = append(cmd.Env, name+"="+value)
		}
	}
	return cmd
}

func hold(ts *testscript.TestScript, neg bool, args []string) {
	s := on(ts)
	clew, err := exec.LookPath("clew")
	ts.Check(err)
	s.clew = start(ts, clew, args...)
	s.in, err = s.clew.StdinPipe()
	ts.Check(err)
	out, err := s.clew.StdoutPipe()
	ts.Check(err)
	s.out = bufio.NewReader(out)
	file, err := os.OpenFile(ts.MkAbs("held"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	ts.Check(err)
	defer file.Close() // the process has its own
	s.clew.Stderr = file
	ts.Check(s.clew.Start())
}

func tell(ts *testscript.TestScript, neg bool, args []string) {
	s := on(ts)
	late := time.AfterFunc(limit, func() { _ = s.clew.Process.Kill() })
	defer late.Stop()
	for _, word := range args {
		_, err := fmt.Fprint(s.in, word, " ")
		ts.Check(err)
	}
	_, err := fmt.Fprintln(s.in)
	ts.Check(err)
	answer, err := s.out.ReadString('\n')
	ts.Check(err)
	fmt.Fprint(ts.Stdout(), answer)
}

func crash(ts *testscript.TestScript, neg bool, args []string) {
	s := on(ts)
	ts.Check(s.clew.Process.Kill())
	_ = s.clew.Wait() // it says that it was killed
	s.clew, s.in = nil, nil
}

func stopped(ts *testscript.TestScript, neg bool, args []string) {
	s := on(ts)
	late := time.AfterFunc(limit, func() { _ = s.clew.Process.Kill() })
	defer late.Stop()
	var sent os.Signal = os.Interrupt
	if len(args) == 1 && args[0] == "TERM" {
		sent = syscall.SIGTERM
	}
	ts.Check(s.clew.Process.Signal(sent))
	err := s.clew.Wait()
	fmt.Fprintln(ts.Stdout(), "exit code", s.clew.ProcessState.ExitCode(), err)
	s.clew, s.in = nil, nil
}

func redisServer(ts *testscript.TestScript, neg bool, args []string) {
	s := on(ts)
	if len(args) == 1 && args[0] == "off" {
		ts.Check(s.redis.Process.Kill())
		_ = s.redis.Wait() // it says that it was killed
		s.redis = nil
		return
	}
	port := ts.Getenv("PORT")
	s.redis = start(ts, "redis-server", "--port", port, "--bind", "127.0.0.1", "--save", "", "--appendonly", "yes", "--appendfsync", "always")
	out, err := s.redis.StdoutPipe()
	ts.Check(err)
	ts.Check(s.redis.Start())
	late := time.AfterFunc(limit, func() { _ = s.redis.Process.Kill() })
	defer late.Stop()
	said := ""
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if said += lines.Text() + "\n"; strings.Contains(lines.Text(), "Ready to accept connections") {
			return // what it says from here on fits the pipe
		}
	}
	ts.Fatalf("redis-server is not ready to accept connections; it said:\n%s", said)
}

func freePort() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	return port, err
}

// writeBytes writes what no script can hold: a line of NUL, of invalid UTF-8,
// and a huge one; then a request without an end of line.
func writeBytes(ts *testscript.TestScript, neg bool, args []string) {
	text := "next\x00 row\n\xff\xfe\x80 next\n" + strings.Repeat("next row ", 1<<18) + "\r\nwhere am I"
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o600))
}

func cut(ts *testscript.TestScript, neg bool, args []string) {
	file := ts.MkAbs(args[0])
	info, err := os.Stat(file)
	ts.Check(err)
	var n int64
	_, err = fmt.Sscan(args[1], &n)
	ts.Check(err)
	ts.Check(os.Truncate(file, info.Size()-n))
}

func fill(ts *testscript.TestScript, neg bool, args []string) {
	var n int
	_, err := fmt.Sscan(args[1], &n)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat("\n", n)), 0o600))
}

// picture wants a PNG file of a width.
func picture(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: picture FILE W")
	}
	shown, err := png.DecodeConfig(strings.NewReader(ts.ReadFile(args[0])))
	ts.Check(err)
	if got := strconv.Itoa(shown.Width); got != args[1] {
		ts.Fatalf("%s is %s wide, want %s", args[0], got, args[1])
	}
}
