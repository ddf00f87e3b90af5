package discord_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/tools/txtar"

	"clew/bot/discord"
	"clew/bot/discord/discordtest"
)

// TestEveningAsTold holds each evening to its transcript, which tells what everybody
// does and what comes of it, as it is seen. Its comment says how it is read; files
// with names that end in .txt are patterns, and the others its scenes. With
// -update what is seen is written anew.
func TestEveningAsTold(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"evening", "fitting", "group"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			tellEvening(t, "testdata/"+name+".txtar")
		})
	}
}

func tellEvening(t *testing.T, file string) {
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	h := openedBesides(t, setup{storeWithin: patience, redis: []string{"--appendonly", "yes", "--appendfsync", "always"}})
	told := &telling{house: h, guild: h.Guild("Tibberhythe"), patterns: map[string][]byte{}, people: map[string]*discordtest.Person{}, channels: map[string]*discordtest.Channel{}, nicks: strings.NewReplacer()}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("the last scene went so far:\n%s", told.out.String())
		}
	})
	told.person("Ana Pell", discordtest.ManageEvents)
	told.channel("wednesday")
	for i := range archive.Files {
		f := &archive.Files[i]
		if strings.HasSuffix(f.Name, ".txt") {
			told.patterns[f.Name] = f.Data
			continue
		}
		told.out.Reset()
		for line := range strings.Lines(string(f.Data)) {
			if !strings.HasPrefix(line, "  ") {
				told.line(strings.TrimSpace(line))
			}
		}
		now := told.out.String()
		if diff := cmp.Diff(string(f.Data), now); diff != "" && !updating() {
			t.Errorf("%q went otherwise (-transcript +now); run with -update if that is right:\n%s", f.Name, diff)
		}
		f.Data = []byte(now)
	}
	if updating() {
		if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// updating says that the tests were called with -update, a flag of the tests inside
// the package.
func updating() bool { return flag.Lookup("update").Value.String() == "true" }

// A telling is an evening as it goes on.
type telling struct {
	*house
	guild    *discordtest.Guild
	patterns map[string][]byte
	people   map[string]*discordtest.Person
	channels map[string]*discordtest.Channel
	nicks    *strings.Replacer // takes a name that can't be said out of what is
	out      strings.Builder
}

func (s *telling) person(name string, may ...discordtest.Permission) *discordtest.Person {
	if s.people[name] == nil {
		s.people[name] = s.guild.Member(name, may...)
	}
	return s.people[name]
}

func (s *telling) channel(name string) *discordtest.Channel {
	if s.channels[name] == nil {
		s.channels[name] = s.guild.Channel(name)
	}
	return s.channels[name]
}

// What a line may say.
var (
	saysLine    = regexp.MustCompile(`^([\w ]+?) says(?: in #(\w+))?: (.+)$`)
	choosesLine = regexp.MustCompile(`^([\w ]+?) chooses: (.+)$`)
	usesLine    = regexp.MustCompile(`^([\w ]+?) uses(?: in #(\w+))?: /([a-z]+(?: (?:start|check|close|helper|sessions|open|correct|text|board|stumbles|who|export))?)(?: (.+))?$`)
	pressesLine = regexp.MustCompile(`^([\w ]+?) presses( twice| the first)?: (.+)$`)
	oftenLine   = regexp.MustCompile(`^\[([\w ]+?) presses ([\w ]+), (\d+) times over\]$`)
	pictureLine = regexp.MustCompile(`^([\w ]+?) sends a picture$`)
	timeLine    = regexp.MustCompile(`^\[it is (\d{4}-\d\d-\d\d \d\d:\d\d:\d\d)\]$`)
	nickLine    = regexp.MustCompile(`^\[([\w ]+?) goes by (.+) here\]$`)
	goneLine    = regexp.MustCompile(`^\[somebody deletes the message that begins: (.+)\]$`)
	noneLine    = regexp.MustCompile(`^\[nothing is kept of ([\w ]+)\]$`)
	shyLine     = regexp.MustCompile(`^\[([\w ]+?) takes no private messages\]$`)
)

// line writes a line and what comes of it.
func (s *telling) line(line string) {
	s.t.Helper()
	s.out.WriteString(line + "\n")
	if m := saysLine.FindStringSubmatch(line); m != nil {
		p := s.person(m[1])
		s.tell(1, s.SaysIn(s.where(m[2], p), p, m[3]))
	} else if m := usesLine.FindStringSubmatch(line); m != nil {
		s.uses(m[1], m[2], m[3], m[4])
	} else if m := pressesLine.FindStringSubmatch(line); m != nil {
		s.presses(s.person(m[1]), m[2], m[3])
	} else if m := choosesLine.FindStringSubmatch(line); m != nil {
		p := s.person(m[1])
		s.tell(1, s.Choose(p, m[2]))
	} else if m := oftenLine.FindStringSubmatch(line); m != nil {
		s.often(s.person(m[1]), m[2], m[3])
	} else if m := pictureLine.FindStringSubmatch(line); m != nil {
		s.tell(1, s.Says(s.person(m[1]), "", s.Attach("cap.png", picture(s.t))))
	} else if m := shyLine.FindStringSubmatch(line); m != nil {
		s.RefuseDM(s.person(m[1]))
	} else if m := timeLine.FindStringSubmatch(line); m != nil {
		s.becomes(m[1])
	} else if m := nickLine.FindStringSubmatch(line); m != nil {
		s.guild.Call(s.person(m[1]), m[2])
		s.nicks = strings.NewReplacer(m[2], m[1])
	} else if m := goneLine.FindStringSubmatch(line); m != nil {
		s.deletes(m[1])
	} else if m := noneLine.FindStringSubmatch(line); m != nil {
		s.keepsNothingOf(s.person(m[1]))
	} else {
		s.happens(line)
	}
}

// where is a channel, or somebody's private one where none is named.
func (s *telling) where(channel string, p *discordtest.Person) *discordtest.Channel {
	if channel == "" {
		return s.DM(p)
	}
	return s.channel(channel)
}

// wholeOptions are those that take a number; the others take texts, be they of
// digits or not.
var wholeOptions = []string{"number", "stitches", "leave", "session", "revision"}

func (s *telling) uses(name, channel, command, options string) {
	s.t.Helper()
	p := s.person(name)
	var given []discordtest.Opt
	for _, one := range strings.Split(options, "; ") {
		name, text, ok := strings.Cut(one, ": ")
		if !ok {
			continue
		}
		var value any = text
		switch n, err := strconv.Atoi(text); {
		case name == "hold":
			value = text == "true"
		case name == "pattern" || name == "plan":
			value = s.Attach(text, s.patterns[text])
		case name == "member":
			value = s.person(text)
		case err == nil && slices.Contains(wholeOptions, name):
			value = n
		}
		given = append(given, discordtest.With(name, value))
	}
	e, answers := s.Uses(s.where(channel, p), p, command, given...), 1
	if command == "knitalong start" && strings.Contains(e.Answer().Said(), "has begun") {
		answers = 2 // and what stands in the channel
	}
	s.tell(answers, e)
}

func (s *telling) presses(p *discordtest.Person, how, label string) {
	s.t.Helper()
	switch how {
	case " twice":
		sees := s.Sent(p)
		i := len(sees) - 1
		for ; !slices.Contains(sees[i].Buttons(), label); i-- {
		}
		first, second := s.PressOn(p, sees[i], label), s.PressOn(p, sees[i], label)
		s.tell(1, first)
		s.tell(1, second)
	case " the first":
		sees := s.Sent(p)
		i := slices.IndexFunc(sees, func(m discordtest.Message) bool { return slices.Contains(m.Buttons(), label) })
		s.tell(1, s.PressOn(p, sees[i], label))
	default:
		s.tell(1, s.Press(p, label))
	}
}

// often presses a button many times over; only the last answer is told.
func (s *telling) often(p *discordtest.Person, label, times string) {
	s.t.Helper()
	n, err := strconv.Atoi(times)
	if err != nil {
		s.t.Fatal(err)
	}
	for range n - 1 {
		s.Press(p, label).Answer()
	}
	s.tell(1, s.Press(p, label))
}

func (s *telling) happens(line string) {
	s.t.Helper()
	switch line {
	case "[the gateway's connection is cut]":
		s.Cut(0)
	case "[Redis goes away]":
		s.redis.Kill()
	case "[Redis is back]":
		s.redis.Run(s.t)
	case "[the bot is stopped and started again]":
		s.stop()
		s.serve()
	case "":
	default:
		s.t.Fatalf("the transcript says %q, and nobody knows what that is", line)
	}
}

// becomes sets the clock, has the channels looked after, and writes what is new or
// other in them than before.
func (s *telling) becomes(when string) {
	s.t.Helper()
	at, err := time.Parse(time.DateTime, when)
	if err != nil {
		s.t.Fatal(err)
	}
	s.later.Store(int64(at.Sub(evening)))
	before := map[string]discordtest.Message{}
	for _, m := range s.posts() {
		before[m.ID] = m
	}
	s.tend()
	for _, m := range s.posts() {
		how := ""
		if old, stood := before[m.ID]; stood {
			if m.Edits == old.Edits {
				continue
			}
			how = ", in place of what stood there"
		}
		for line := range strings.SplitSeq(m.Said(), "\n") {
			checkSaid(s.t, s.nicks.Replace(line))
		}
		fmt.Fprintf(&s.out, "  everybody sees in #%s%s:\n", s.nameOf(m.Channel), how)
		s.out.WriteString(indented(seen(m)))
	}
}

// posts are all that stands in the channels.
func (s *telling) posts() []discordtest.Message {
	var all []discordtest.Message
	for _, name := range slices.Sorted(maps.Keys(s.channels)) {
		all = append(all, s.SentIn(s.channels[name])...)
	}
	return all
}

func (s *telling) nameOf(channel string) string {
	for name, ch := range s.channels {
		if ch.ID == channel {
			return name
		}
	}
	return ""
}

// deletes deletes a message as a moderator would, and waits until the bot has seen
// to it.
func (s *telling) deletes(begins string) {
	s.t.Helper()
	for _, m := range s.posts() {
		if !strings.HasPrefix(m.Said(), begins) {
			continue
		}
		s.Remove(m.ID)
		s.Until("the bot to know that it is gone", func() bool { return s.heldIn(s.channels[s.nameOf(m.Channel)]).Board != m.ID })
		return
	}
	s.t.Fatalf("no message begins with %q", begins)
}

// keepsNothingOf fails where anything of somebody is in Redis, be it in a key or in
// what it holds.
func (s *telling) keepsNothingOf(p *discordtest.Person) {
	s.t.Helper()
	all := fmt.Sprint(s.dump())
	for _, trace := range []string{p.ID, p.Name, strings.Fields(p.Name)[0]} {
		if i := strings.Index(all, trace); i >= 0 {
			s.t.Errorf("%q of %s is kept: ...%s", trace, p.Name, all[max(0, i-100):min(len(all), i+100)])
		}
	}
}

// tell writes what is seen of the answer to an event.
func (s *telling) tell(answers int, e *discordtest.Event) {
	s.t.Helper()
	for _, m := range e.Answers(answers) {
		checkSaid(s.t, m.Said())
		switch ch := e.Channel; {
		case m.Guild == "":
			fmt.Fprintf(&s.out, "  %s reads in private:\n", e.Person.Name)
		case m.Ephemeral:
			fmt.Fprintf(&s.out, "  %s alone sees in #%s:\n", e.Person.Name, ch.Name)
		default:
			fmt.Fprintf(&s.out, "  everybody sees in #%s:\n", ch.Name)
		}
		s.out.WriteString(indented(seen(m)))
	}
}

// seen is a message as a person sees it.
func seen(m discordtest.Message) string {
	var lines []string
	fenced := false
	for line := range strings.SplitSeq(m.Content, "\n") {
		if line == "```" {
			fenced = !fenced
			continue
		}
		text, _ := discord.ReadMarkdown(line)
		switch {
		case fenced:
			lines = append(lines, "| "+line)
		case strings.HasPrefix(line, "-# "):
			lines = append(lines, wordwrap.String("("+text+")", 94))
		default:
			lines = append(lines, wordwrap.String(text, 94))
		}
	}
	for _, row := range m.Rows {
		var labels []string
		for _, c := range row {
			if len(c.Options) > 0 {
				labels = append(labels, "["+c.Placeholder+"]")
			}
			for _, o := range c.Options {
				labels = append(labels, "["+o.Label+"]")
			}
			if c.Label != "" {
				labels = append(labels, "["+c.Label+"]")
			}
		}
		lines = append(lines, strings.Join(labels, " "))
	}
	for _, f := range m.Files {
		lines = append(lines, wordwrap.String("<"+f.Name+": "+f.Description+">", 94))
		if strings.HasPrefix(f.ContentType, "text/") && f.Name != "problems.txt" {
			lines = append(lines, "| "+strings.ReplaceAll(strings.TrimSuffix(string(f.Data), "\n"), "\n", "\n| "))
		}
	}
	return strings.Join(lines, "\n")
}

func indented(text string) string {
	return "    " + strings.ReplaceAll(text, "\n", "\n    ") + "\n"
}
