package discord_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// A request that breaks down ends alone: its member is told, and she and all others
// go on.
func TestRequestBreaksDown(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana := g.guild.Member("Ana Pell", discordtest.ManageEvents)
	wren, odo := h.knitter(g, "Wren", 3), h.knitter(g, "Odo Marsh", 5)
	for _, one := range []struct {
		name string
		ask  func() *discordtest.Event
	}{
		{"words", func() *discordtest.Event { return h.Says(wren, "next row") }},
		{"a mention", func() *discordtest.Event { return h.SaysIn(g.channel, wren, "@clew next row") }},
		{"a command", func() *discordtest.Event { return h.Uses(g.channel, wren, "next") }},
		{"a button", func() *discordtest.Event { return h.Press(wren, "Next row") }},
		{"an order", func() *discordtest.Event {
			return h.Uses(g.guild.Channel("thursday"), ana, "knitalong start", discordtest.With("sample", "lee-cap"))
		}},
	} {
		t.Run(one.name, func(t *testing.T) {
			h.breaks.Store(true)
			broken := one.ask()
			h.Until("the clock to break", func() bool { return !h.breaks.Load() }) // before others ask it
			behind, beside := h.Uses(g.channel, broken.Person, "where"), h.Uses(g.channel, odo, "where")
			answer := h.hears(broken, "Something went wrong here, and it is not known whether your request was saved.", "Ask where you are to hear your place.")
			checkSaid(t, answer.Said())
			if answer.Guild != "" && !answer.Ephemeral {
				t.Errorf("for all to see stands %q", answer.Content)
			}
			_, id, ok := strings.Cut(answer.Small(), "In the log this is ")
			if id = strings.ReplaceAll(id, `\`, ""); !ok || !strings.Contains(h.log.String(), `"id":"`+id+`"`) || !strings.Contains(h.log.String(), "the clock is broken") {
				t.Errorf("she is told %q, and nothing of that name is in the log", answer.Small())
			}
			if broken.Person == wren {
				h.hears(behind, "You are at row three of Wedges")
			}
			behind.Answer()
			h.hears(beside, "You are at row five of Wedges")
		})
	}
	h.isAt(g.id, wren, "Wedges", 3)
	h.hears(h.Press(wren, "Next row"), "Row four")
}

// Who asks faster than can be answered is told so, for each request that was not
// done; those that were taken are done in their order.
func TestTooManyRequests(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 0)
	release := h.hold()
	const taken, asked = 16, 40
	var events []*discordtest.Event
	for i := range asked {
		events = append(events, h.next(g, wren, i%4)) // no button: its row would be past
	}
	const tooMuch = "More is being asked just now than I can answer. This one moved nothing."
	for _, e := range events[taken:] {
		h.refused(e, tooMuch)
	}
	for _, e := range events[:taken] {
		if n := len(e.Answered()); n != 0 {
			t.Errorf("a request that was taken has been answered %q", said(e.Answered()))
		}
	}
	release()
	rows := map[string]bool{}
	for _, e := range events[:taken] {
		rows[rowOf(e.Answer().Small())] = true
	}
	if len(rows) != taken {
		t.Errorf("she heard %d rows, expected %d", len(rows), taken)
	}
	h.isAt(g.id, wren, "Wedges", taken)
	if n := len(h.SentIn(g.channel)); n != 0 {
		t.Errorf("%d messages stand in the channel for all to see", n)
	}
}

// What is being served when the bot is stopped is still answered.
func TestStoppedMeanwhile(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 3)
	release := h.hold()
	e := h.Uses(g.channel, wren, "next")
	if kind, _ := e.Callback(); kind != 5 {
		t.Errorf("it was answered by %d, expected a deferral: then it is being served", kind)
	}
	time.AfterFunc(100*time.Millisecond, release)
	h.stop()
	if answers := e.Answered(); len(answers) != 1 || !strings.HasPrefix(answers[0].Said(), "Row four") {
		t.Errorf("it was answered %q", said(answers))
	}
	h.serve()
	h.hears(h.Press(wren, "Next row"), "Row five")
	h.isAt(g.id, wren, "Wedges", 5)

	// It does not wait for ever, though.
	release = h.hold()
	e = h.Uses(g.channel, wren, "next")
	if kind, _ := e.Callback(); kind != 5 {
		t.Errorf("it was answered by %d, expected a deferral", kind)
	}
	began := time.Now()
	h.stop()
	if took := time.Since(began); took > 15*time.Second {
		t.Errorf("stopping took %v, expected five seconds and what the gateway takes", took)
	}
	release()
	e.Answer() // a process would have ended; here the request still has to
}

// With all that goes wrong in an evening in the log, and at its most detailed, no
// secret is.
func TestNoSecretIsLogged(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana := g.guild.Member("Ana Pell", discordtest.ManageEvents)
	wren := h.knitter(g, "Wren", 1)

	h.Fail(discordtest.Callback, 502, 1)
	h.Uses(g.channel, wren, "next").Answer()
	h.RateLimit(discordtest.Callback, 100*time.Millisecond)
	h.Press(wren, "Next row").Answer()
	h.CutAnswers(discordtest.EditAnswer, 1)
	file := h.Attach("cap.txt", []byte("Pattern: half"))
	h.Uses(g.channel, ana, "knitalong check", discordtest.With("pattern", file)).Answer()
	broken := h.AttachServed("cap.txt", "text/plain", 900, func(http.ResponseWriter, *http.Request) { panic(http.ErrAbortHandler) })
	h.Uses(g.channel, ana, "knitalong check", discordtest.With("pattern", broken)).Answer()
	h.RefuseDM(wren)
	h.SaysIn(g.channel, wren, "@clew where am I").Answer()
	h.Forbid(g.channel)
	h.SaysIn(g.channel, wren, "@clew where am I")
	h.Until("the answer to be given up", func() bool { return strings.Contains(h.log.String(), "an answer was not delivered") })
	h.Allow(g.channel)
	h.breaks.Store(true)
	h.Uses(g.channel, wren, "next").Answer()
	h.FailCode(discordtest.Callback, 401, 50027, 1) // the interaction's token is no good
	h.Uses(g.channel, wren, "next")
	h.Until("that answer to be given up, too", func() bool { return strings.Contains(h.log.String(), "50027") })
	h.Cut(0)
	h.Says(ana, "help").Answer()
	h.redis.Kill()
	h.Uses(g.channel, wren, "next").Answer()
	h.redis.Run(t)

	text := h.log.String()
	for _, logged := range []string{
		`"level":"debug"`, "calling again", "status 403", "a private answer was refused", "an attached file was not fetched", "a request broke down",
		"a request failed", "not connected to the gateway",
	} {
		if !strings.Contains(text, logged) {
			t.Errorf("the log does not hold %q, which this evening is there for", logged)
		}
	}
	for _, one := range h.Sessions() {
		if strings.Contains(text, one.ID) {
			t.Error("the id of a gateway session is in the log")
		}
	}
	for _, f := range []*discordtest.Attachment{file, broken} {
		if strings.Contains(text, f.URL) {
			t.Error("the address of a file is in the log")
		}
	}
	h.checkLog() // as at the end of every test
}
