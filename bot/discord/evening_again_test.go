package discord_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot/discord/discordtest"
)

// again delivers an event once more, as the platform may after a resume, and
// waits until it is answered once more. It gives what the answers are then.
func (h *house) again(e *discordtest.Event) []discordtest.Message {
	h.t.Helper()
	edits, sent := editsOf(e), h.Count(discordtest.Send)
	h.Replay(e)
	h.Until("the event that came again to be answered again", func() bool {
		if e.Kind == "INTERACTION_CREATE" {
			return editsOf(e) > edits
		}
		return h.Count(discordtest.Send) > sent
	})
	return e.Answered()
}

func editsOf(e *discordtest.Event) int {
	n := 0
	for _, m := range e.Answered() {
		n += m.Edits
	}
	return n
}

// shows is what an answer shows, however often it was sent.
func shows(messages []discordtest.Message) []string {
	var all []string
	for _, m := range messages {
		all = append(all, m.Content)
		all = append(all, m.Buttons()...)
		all = append(all, m.Options()...)
	}
	return all
}

// TestEventsComeAgain delivers every kind of event a second time: it is answered
// as the first time, nothing in Redis has changed, and nobody reads a thing
// twice.
func TestEventsComeAgain(t *testing.T) {
	h := opened(t)
	for _, one := range []struct {
		name string
		ask  func(group, *discordtest.Person) *discordtest.Event
	}{
		{"next by words", func(g group, p *discordtest.Person) *discordtest.Event { return h.Says(p, "next row") }},
		{"next by a mention", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.SaysIn(g.channel, p, "@clew next row")
		}},
		{"next by a command", func(g group, p *discordtest.Person) *discordtest.Event { return h.Uses(g.channel, p, "next") }},
		{"next by a button", func(g group, p *discordtest.Person) *discordtest.Event { return h.Press(p, "Next row") }},
		{"back", func(g group, p *discordtest.Person) *discordtest.Event { return h.Press(p, "Back") }},
		{"at", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.Uses(g.channel, p, "at", discordtest.With("number", 9))
		}},
		{"undo", func(g group, p *discordtest.Person) *discordtest.Event { return h.Uses(g.channel, p, "undo") }},
		{"again", func(g group, p *discordtest.Person) *discordtest.Event { return h.Press(p, "Again") }},
		{"explain", func(g group, p *discordtest.Person) *discordtest.Event { return h.Press(p, "Explain") }},
		{"step by step", func(g group, p *discordtest.Person) *discordtest.Event { return h.Press(p, "Step by step") }},
		{"crosses", func(g group, p *discordtest.Person) *discordtest.Event { return h.Says(p, "short crosses") }},
		{"a size", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.Uses(g.channel, p, "settings", discordtest.With("size", "large"))
		}},
		{"switching", func(g group, p *discordtest.Person) *discordtest.Event { return h.Says(p, "switch to lee side cap") }},
		{"joining", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.Uses(g.channel, g.guild.Member("Odo Marsh"), "join", discordtest.With("size", "child"))
		}},
		{"leaving", func(g group, p *discordtest.Person) *discordtest.Event { return h.Uses(g.channel, p, "leave") }},
		{"forgetting", func(g group, p *discordtest.Person) *discordtest.Event { return h.Says(p, "yes, forget me") }},
		{"starting", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.Uses(g.guild.Channel("thursday"), p, "knitalong start", discordtest.With("sample", "gull-kerchief"))
		}},
		{"closing", func(g group, p *discordtest.Person) *discordtest.Event {
			h.Uses(g.channel, p, "knitalong close").Answer()
			return h.Press(p, "Close it")
		}},
		{"naming a helper", func(g group, p *discordtest.Person) *discordtest.Event {
			return h.Uses(g.channel, p, "knitalong helper", discordtest.With("member", g.guild.Member("Tamsin Quay")))
		}},
	} {
		t.Run(one.name, func(t *testing.T) {
			g := h.group(t, one.name)
			wren := h.knitter(g, "Wren", 5)
			g.guild.Admit(wren, discordtest.ManageEvents)
			e := one.ask(g, wren)
			first := e.Answers(1)
			if one.name == "starting" {
				first = e.Answers(2)
			}
			before, seen := h.dump(), shows(h.Sent(wren))
			for range 2 {
				if now := h.again(e); !slices.Equal(shows(now), shows(first)) {
					t.Errorf("it came again and was answered\n%q, at first\n%q", shows(now), shows(first))
				}
			}
			if diff := cmp.Diff(before, h.dump()); diff != "" {
				t.Errorf("it came again and has changed what is kept (-before +after):\n%s", diff)
			}
			if now := shows(h.Sent(wren)); !slices.Equal(now, seen) {
				t.Errorf("it came again, and she sees\n%q, before\n%q", now, seen)
			}
		})
	}
}

// An event that comes again after others is about what it was about then, even
// for a process that has been started since.
func TestEventsComeAgainLater(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 2)
	third := h.Says(wren, "next row")
	h.hears(third, "Row three")
	back := h.Uses(g.channel, wren, "back")
	h.hears(back, "Row two")
	undone := h.Uses(g.channel, wren, "undo")
	h.hears(undone, "Your last move is taken back. Row three")
	left := h.Uses(g.channel, wren, "leave")
	h.hears(left, "You have left")
	h.hears(h.Uses(g.channel, wren, "join"), "Welcome back")
	h.hears(h.Says(wren, "next row"), "Row four")
	before := h.dump()
	comeAgain := func() {
		t.Helper()
		for _, e := range []*discordtest.Event{third, back, undone, left} {
			h.again(e)
		}
		if diff := cmp.Diff(before, h.dump()); diff != "" {
			t.Errorf("what came again has changed what is kept (-before +after):\n%s", diff)
		}
		h.hears(third, "Row three")
		h.hears(back, "Row two")
		h.hears(undone, "Row three")
		h.isAt(g.id, wren, "Wedges", 4)
	}
	comeAgain()
	h.stop()
	h.serve()
	comeAgain()
	h.hears(h.Says(wren, "next row"), "Row five")
}

// One who was forgotten and has joined again is not forgotten once more.
func TestForgettingComesAgainLater(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 2)
	forgotten := h.Uses(g.channel, wren, "forget")
	h.hears(forgotten, "This deletes your place")
	yes := h.Press(wren, "Yes, forget me")
	h.hears(yes, "All that was kept of you in Lee Side Cap is deleted")
	h.hears(h.Uses(g.channel, wren, "join", discordtest.With("size", "large")), "You have joined")
	h.hears(h.Uses(g.channel, wren, "next"), "Row one")
	before := h.dump()
	h.again(yes)
	if diff := cmp.Diff(before, h.dump()); diff != "" {
		t.Errorf("what came again has changed what is kept (-before +after):\n%s", diff)
	}
}

// TestGatewayBreaksOff has the connection go away in all ways in the middle of
// an evening. What is asked while there is none is answered once there is another;
// where the session is lost the platform tells of nothing before there is.
func TestGatewayBreaksOff(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren, odo := h.knitter(g, "Wren", 1), h.knitter(g, "Odo Marsh", 1)
	row := 1
	for _, one := range []struct {
		name   string
		breaks func()
		loses  bool
	}{
		{"the connection is cut", func() { h.Cut(0) }, false},
		{"the platform asks to reconnect", func() { h.Reconnect(0) }, false},
		{"the session is invalid, and can be resumed", func() { h.Invalid(0, true) }, false},
		{"the platform closes for an error of its own", func() { h.CloseWith(0, 4000) }, false},
		{"the session is lost", func() { h.Invalid(0, false) }, true},
		{"the session has timed out", func() { h.CloseWith(0, 4009) }, true},
	} {
		t.Run(one.name, func(t *testing.T) {
			last := h.Says(wren, "next row")
			last.Answer()
			row++
			begun, resumed := h.Identifies(), h.resumes()
			one.breaks()
			if one.loses {
				h.Until("another session", func() bool { return h.Identifies() > begun })
			}
			asked := []*discordtest.Event{h.Says(wren, "next row"), h.Uses(g.channel, wren, "next"), h.Press(odo, "Next row")}
			row += 2
			for _, e := range asked {
				e.Answer()
			}
			for _, e := range append(asked, last) {
				h.again(e)
			}
			h.isAt(g.id, wren, "Wedges", row)
			if one.loses {
				return
			}
			h.Until("the session to be resumed", func() bool { return h.resumes() > resumed })
			if n := h.Identifies() - begun; n != 0 {
				t.Errorf("%d sessions were begun, expected the one to be resumed", n)
			}
		})
	}
	h.isAt(g.id, odo, "Wedges", 7)
}

// resumes is how often sessions have been resumed.
func (h *house) resumes() int {
	n := 0
	for _, one := range h.Sessions() {
		n += one.Resumes
	}
	return n
}
