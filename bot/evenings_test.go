package bot_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/tools/txtar"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

var update = flag.Bool("update", false, "write the answers into the transcripts as they are now")

// TestEvenings holds conversations to their transcripts. Each file of
// testdata/evenings tells an evening: its comment says which, its files are
// patterns, and the last one, "evening", is what was said:
//
//	wren: next row
//	  The answer, indented.
//	[what happens in between]
func TestEvenings(t *testing.T) {
	files, err := filepath.Glob("testdata/evenings/*.txtar")
	if err != nil || len(files) < 8 {
		t.Fatalf("found %d evenings, expected at least eight (%v)", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) { testEvening(t, file) })
	}
}

func testEvening(t *testing.T, file string) {
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	e := &transcript{t: t, house: newHouse(t), patterns: map[string]string{}, seats: map[string]*seat{}}
	told := &archive.Files[len(archive.Files)-1]
	for _, f := range archive.Files[:len(archive.Files)-1] {
		e.patterns[f.Name] = string(f.Data)
	}
	for line := range strings.Lines(string(told.Data)) {
		e.line(strings.TrimRight(line, "\n"))
	}
	found := e.out.String()
	if *update {
		told.Data = []byte(found)
		if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(told.Data), found); diff != "" {
		t.Errorf("the evening went otherwise (-transcript +now); run with -update if that is right:\n%s", diff)
	}
}

// A transcript is an evening as it goes on.
type transcript struct {
	*house
	t        *testing.T
	patterns map[string]string
	id       string // of the knit-along
	again    func() // lets the last event come again
	events   int
	seats    map[string]*seat // where people are, in evenings that are held in servers
	out      strings.Builder
}

// line writes a line of the transcript and what is answered to it. Answers of
// the transcript are left out, to be written anew.
func (e *transcript) line(line string) {
	if strings.HasPrefix(line, "  ") {
		return
	}
	e.out.WriteString(line + "\n")
	if happens, ok := strings.CutPrefix(line, "["); ok {
		e.happens(strings.TrimSuffix(happens, "]"))
		return
	}
	if who, words, ok := strings.Cut(line, ": "); ok && !strings.HasPrefix(line, "#") {
		e.asks(who, words)
	}
}

func (e *transcript) asks(who, words string) {
	ask := bot.Ask{Member: session.Member("terminal:" + who), Nick: nick(who), Knitalong: e.id, Words: words, Event: e.event()}
	if s := e.seats[who]; s != nil {
		ask.Server, ask.Channel = s.server, s.channel
	}
	e.ask(ask)
}

// event names a new event.
func (e *transcript) event() string {
	e.events++
	return fmt.Sprintf("e%d", e.events)
}

func (e *transcript) ask(ask bot.Ask) {
	e.again = func() { e.ask(ask) }
	reply := e.Answer(e.t.Context(), ask)
	checkSaid(e.t, ask.Words, reply)
	e.tell(ask.Member, reply)
}

// tell writes a reply down.
func (e *transcript) tell(member session.Member, reply bot.Reply) {
	text := wordwrap.String(reply.Said, 100)
	if reply.Failed != nil {
		text += fmt.Sprintf("\n(%s, %s)", reply.Failed.Code, reply.Failed.ID)
	}
	if s := e.seats[strings.TrimPrefix(string(member), "terminal:")]; s != nil {
		s.reply = reply
		text += shown(reply)
	}
	e.out.WriteString("  " + strings.ReplaceAll(text, "\n", "\n  ") + "\n")
}

// What can happen between two requests.
var (
	says    = regexp.MustCompile(`^(\w+) says (.+), (\d+) times over$`)
	opens   = regexp.MustCompile(`^(\w+) opens ([\w-]+)$`)
	passes  = regexp.MustCompile(`^(\d+) (minutes|hours|days) pass$`)
	presses = regexp.MustCompile(`^(\w+) presses (\w+) under (.+), row (\d+)$`)
)

func (e *transcript) happens(what string) {
	if m := says.FindStringSubmatch(what); m != nil { // only the last answer is written
		n, _ := strconv.Atoi(m[3])
		before := e.out.String()
		for range n {
			e.out.Reset()
			e.asks(m[1], m[2])
		}
		last := e.out.String()
		e.out.Reset()
		e.out.WriteString(before + last)
		return
	}
	switch m := opens.FindStringSubmatch(what); {
	case m != nil:
		text, own := e.patterns[m[2]]
		if !own {
			text = pattern(e.t, m[2])
		}
		e.id = e.knit(e.t, session.Member("terminal:"+m[1]), text)
	case what == "killed and started again":
		e.stop(e.t)
		e.start(e.t)
	case what == "the store goes away":
		e.fault.set(true, false, 0)
	case what == "the store goes away after one request":
		e.fault.set(true, false, 1)
	case what == "the store hears and its answers are lost, from the second request on":
		e.fault.set(false, true, 1)
	case what == "the store is back":
		e.fault.set(false, false, 0)
	case what == "the same event comes again":
		e.again()
	case e.hosted(what):
	default:
		e.timeOrButton(what)
	}
}

func (e *transcript) timeOrButton(what string) {
	units := map[string]time.Duration{"minutes": time.Minute, "hours": time.Hour, "days": 24 * time.Hour}
	if m := passes.FindStringSubmatch(what); m != nil {
		n, _ := strconv.Atoi(m[1])
		e.clock = e.clock.Add(time.Duration(n) * units[m[2]])
	} else if m := presses.FindStringSubmatch(what); m != nil {
		row, _ := strconv.Atoi(m[4])
		e.ask(bot.Ask{Member: session.Member("terminal:" + m[1]), Knitalong: e.id, Event: e.event(),
			Heard: &listen.Heard{Intent: listen.Intent(m[2]), Sure: true}, Mark: bot.MarkOf(m[3], row, 0)})
	} else {
		e.t.Fatalf("the transcript has %q, which can't happen", what)
	}
}
