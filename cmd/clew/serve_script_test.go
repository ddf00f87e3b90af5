package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"clew/bot/discord/discordtest"
)

// platformCommands are the commands of scripts in which a group on the chat
// platform is served. The people are of the invented town of Tibberhythe; they
// are in one server, and in its channel wednesday. Wren may manage events there.
var platformCommands = map[string]func(*testscript.TestScript, bool, []string){
	"stands": stands, "deletes": deletes, "called": called, "writes": writes, "when": when, "ends": ends, "discord": discordOn, "ready": discordReady, "says": says, "uses": uses, "presses": presses, "registered": registered, "identified": identified,
}

// endLimit is how long a program may take that finds that it can't work.
const endLimit = 10 * time.Second

// ends runs a program that ends by itself, and wants its exit code.
func ends(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	name, err := exec.LookPath(args[1])
	ts.Check(err)
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	whole := start(ts, name, args[2:]...)
	cmd := exec.CommandContext(ctx, name, args[2:]...)
	cmd.Dir, cmd.Env = whole.Dir, whole.Env
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	began := time.Now()
	err = cmd.Run()
	took := time.Since(began)
	fmt.Fprint(ts.Stdout(), out.String())
	fmt.Fprint(ts.Stderr(), errs.String())
	var exited *exec.ExitError
	if err != nil && !errors.As(err, &exited) {
		ts.Fatalf("%v", err)
	}
	if got := cmd.ProcessState.ExitCode(); got != want {
		ts.Fatalf("it ended with %d after %v, expected %d", got, took, want)
	}
	if took > endLimit {
		ts.Fatalf("it took %v to end, expected %v at most", took, endLimit)
	}
}

// A group is the platform, as a script plays it.
type group struct {
	srv     *discordtest.Server
	channel *discordtest.Channel
	people  map[string]*discordtest.Person
}

// discordOn starts the platform for a bot with a token. It can be told to close
// each connection that identifies with a code.
func discordOn(ts *testscript.TestScript, neg bool, args []string) {
	if g := on(ts).group; g != nil {
		if wrong := g.judged(); len(wrong) > 0 {
			ts.Fatalf("the platform was sent what it does not take: %q", wrong)
		}
	}
	srv, err := discordtest.Start(discordtest.Options{Token: args[0], Wait: limit, Fail: func(what string) { ts.Fatalf("%s", what) }})
	ts.Check(err)
	on(ts).group = &group{srv: srv, people: map[string]*discordtest.Person{}}
	guild := srv.Guild("Tibberhythe")
	on(ts).group.channel = guild.Channel("wednesday")
	for _, name := range []string{"Wren", "Ana", "Odo", "Tamsin"} {
		person := guild.Member(name)
		if name == "Wren" {
			guild.Admit(person, discordtest.ManageEvents)
		}
		on(ts).group.people[name] = person
	}
	if len(args) > 1 {
		code, err := strconv.Atoi(args[1])
		ts.Check(err)
		srv.RefuseIdentify(1000, code)
	}
	ts.Setenv("DISCORD", srv.URL())
}

// judged ends the platform, and says what was wrong with what it was sent.
func (g *group) judged() []string {
	g.srv.Close()
	return g.srv.Wrong()
}

// cast gives the platform and who is named.
func cast(ts *testscript.TestScript, name string) (*group, *discordtest.Person) {
	g := on(ts).group
	if g.people[name] == nil {
		ts.Fatalf("%s is none of the people of these scripts", name)
	}
	return g, g.people[name]
}

// discordReady waits until the bot's session number N, counted from 1, is connected.
// The platform keeps those of a bot that was killed, for it to take up again.
func discordReady(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	srv := on(ts).group.srv
	srv.Until("session "+args[0]+" to be connected", func() bool {
		all := srv.Sessions()
		return len(all) >= n && all[n-1].Connected
	})
}

// says is a message to the bot in private, and gives the answer as stdout.
func says(ts *testscript.TestScript, neg bool, args []string) {
	g, who := cast(ts, args[0])
	answers(ts, g.srv.Says(who, strings.Join(args[1:], " ")))
}

// uses is a slash command in the channel: its name, in one word or two between
// quotes, and options as name=value. A value that begins with @ is a file that is
// attached, or one of the people.
func uses(ts *testscript.TestScript, neg bool, args []string) {
	g, who := cast(ts, args[0])
	var options []discordtest.Opt
	for _, arg := range args[2:] {
		name, value, _ := strings.Cut(arg, "=")
		options = append(options, discordtest.With(name, optionOf(ts, g, value)))
	}
	answers(ts, g.srv.Uses(g.channel, who, args[1], options...))
}

// optionOf reads the value of an option.
func optionOf(ts *testscript.TestScript, g *group, value string) any {
	named, is := strings.CutPrefix(value, "@")
	switch n, err := strconv.Atoi(value); {
	case is && g.people[named] != nil:
		return g.people[named]
	case is:
		return g.srv.Attach(named, []byte(ts.ReadFile(named)))
	case err == nil:
		return n
	case value == "true" || value == "false":
		return value == "true"
	}
	return value
}

// stands waits until a message stands in the channel that holds a text and, behind
// it, each of the others, and gives it as stdout.
func stands(ts *testscript.TestScript, neg bool, args []string) {
	g := on(ts).group
	for end := time.Now().Add(standsLimit); ; time.Sleep(20 * time.Millisecond) {
		all := g.srv.SentIn(g.channel)
		for _, m := range all {
			if holds(m.Said(), args) {
				tellMessage(ts, m)
				return
			}
		}
		if time.Now().After(end) {
			for _, m := range all {
				tellMessage(ts, m)
			}
			ts.Fatalf("in %v no message in the channel held %q", standsLimit, args)
		}
	}
}

// standsLimit is longer than the time between two edits of a board, and than a claim
// of an announcement lasts.
const standsLimit = time.Minute

// holds says that a text holds others, one after the other.
func holds(text string, others []string) bool {
	for _, other := range others {
		_, rest, ok := strings.Cut(text, other)
		if !ok {
			return false
		}
		text = rest
	}
	return true
}

// deletes deletes the message in the channel that holds a text.
func deletes(ts *testscript.TestScript, neg bool, args []string) {
	g := on(ts).group
	for _, m := range g.srv.SentIn(g.channel) {
		if holds(m.Said(), args) {
			g.srv.Remove(m.ID)
			return
		}
	}
	ts.Fatalf("no message in the channel holds %q", args)
}

// called gives somebody a nickname.
func called(ts *testscript.TestScript, neg bool, args []string) {
	g, who := cast(ts, args[0])
	g.channel.Guild.Call(who, args[1])
}

// writes writes a file of the lines that are given.
func writes(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(args[1:], "\n")+"\n"), 0o600))
}

// when sets a variable to a time so much later than now, in the zone of UTC, as a
// list of sessions has it.
func when(ts *testscript.TestScript, neg bool, args []string) {
	later, err := time.ParseDuration(args[1])
	ts.Check(err)
	ts.Setenv(args[0], time.Now().UTC().Add(later).Format("2006-01-02 15:04"))
}

// presses is a press of the newest button with a label that she can see.
func presses(ts *testscript.TestScript, neg bool, args []string) {
	g, who := cast(ts, args[0])
	answers(ts, g.srv.Press(who, strings.Join(args[1:], " ")))
}

// answers prints what an event is answered with: what is said, the buttons, and
// the files with what describes them.
func answers(ts *testscript.TestScript, e *discordtest.Event) {
	e.Answers(1)
	for _, m := range e.Answered() {
		tellMessage(ts, m)
	}
}

// tellMessage prints a message: what is said, the buttons, whether one alone sees it,
// and the files with what describes them and, of a text, what is in it.
func tellMessage(ts *testscript.TestScript, m discordtest.Message) {
	fmt.Fprintf(ts.Stdout(), "%s\n%s\n[%s]\n", m.Said(), m.Small(), strings.Join(m.Buttons(), "] ["))
	if m.Ephemeral {
		fmt.Fprintln(ts.Stdout(), "(for her alone)")
	}
	for _, f := range m.Files {
		fmt.Fprintf(ts.Stdout(), "%s, %s: %s\n", f.Name, f.ContentType, f.Description)
		if strings.HasPrefix(f.ContentType, "text/") {
			fmt.Fprintf(ts.Stdout(), "%s", f.Data)
		}
	}
}

// registered wants the bot to have asked N times which commands are registered,
// and to have written them M times. Writing comes after asking: where none is
// expected, this is to be asked once the bot has ended.
func registered(ts *testscript.TestScript, neg bool, args []string) {
	srv := on(ts).group.srv
	asked, err := strconv.Atoi(args[0])
	ts.Check(err)
	written, err := strconv.Atoi(args[1])
	ts.Check(err)
	srv.Until(fmt.Sprintf("the commands to be asked for %d times", asked), func() bool { return srv.Count(discordtest.GetCommands) >= asked })
	if a, w := srv.Count(discordtest.GetCommands), srv.Count(discordtest.PutCommands); a != asked || w != written {
		ts.Fatalf("the commands were asked for %d times and written %d times, expected %d and %d", a, w, asked, written)
	}
}

// identified waits until the bot has identified so many times.
func identified(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	srv := on(ts).group.srv
	srv.Until(args[0]+" identifies", func() bool { return srv.Identifies() >= n })
}
