package discord_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// The platform's calls fail in the ways they do. The answer comes all the same,
// once, and the place moves once.
func TestCallsFail(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	row := 1
	for _, one := range []struct {
		name  string
		fault func(discordtest.Route)
	}{
		{"status 500", func(r discordtest.Route) { h.Fail(r, 500, 2) }},
		{"status 502", func(r discordtest.Route) { h.Fail(r, 502, 1) }},
		{"status 429", func(r discordtest.Route) { h.RateLimit(r, 300*time.Millisecond) }},
		{"the limit of the whole bot", func(discordtest.Route) { h.RateLimitGlobal(300 * time.Millisecond) }},
		{"the answer is cut off", func(r discordtest.Route) { h.CutAnswers(r, 1) }},
	} {
		for _, way := range []struct {
			route discordtest.Route
			ask   func() *discordtest.Event
		}{
			{discordtest.Callback, func() *discordtest.Event { return h.Uses(g.channel, wren, "next") }},
			{discordtest.Callback, func() *discordtest.Event { return h.Press(wren, "Next row") }},
			{discordtest.Send, func() *discordtest.Event { return h.Says(wren, "next row") }},
			{discordtest.OpenDM, func() *discordtest.Event { return h.SaysIn(g.channel, wren, "@clew next row") }},
		} {
			one.fault(way.route)
			before := len(h.Sent(wren))
			row++
			answer := way.ask().Answer()
			if got := rowOf(answer.Small()); got != fmt.Sprintf("row %d of 198", row) {
				t.Errorf("%s, %s: she heard of %s, expected row %d", one.name, way.route, got, row)
			}
			h.isAt(g.id, wren, "Wedges", row)
			if n := len(h.Sent(wren)) - before; n != 1 {
				t.Errorf("%s, %s: she was sent %d messages, expected one", one.name, way.route, n)
			}
		}
	}
}

// An answer that can't be given in time is given up, and the member finds her
// place when she asks again.
func TestCallsFailForTooLong(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	h.Expect("the interaction has had no first answer yet") // it is not known, and so the answer is edited
	h.Fail(discordtest.Callback, 503, 1000)
	h.Uses(g.channel, wren, "next")
	h.Until("the answer to come in private", func() bool {
		sent := h.Sent(wren)
		return len(sent) > 0 && strings.Contains(sent[len(sent)-1].Said(), "Row two")
	})
	h.Fail(discordtest.Callback, 503, 0)
	h.hears(h.Uses(g.channel, wren, "where"), "You are at row two of Wedges")
	h.hears(h.Press(wren, "Next row"), "Row three")
}

// What takes longer than the platform waits is deferred, and the answer comes later.
func TestAnswersComeLater(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	release := h.hold()
	asked := []*discordtest.Event{h.Uses(g.channel, wren, "next"), h.Uses(h.DM(wren), wren, "next"), h.Press(wren, "Next row")}
	for _, e := range asked {
		if kind, after := e.Callback(); kind != 5 || after > firstWithin {
			t.Errorf("the first answer is of kind %d and came after %v, expected a deferral within %v", kind, after, firstWithin)
		}
	}
	h.Fail(discordtest.EditAnswer, 500, 2)
	h.CutAnswers(discordtest.EditAnswer, 1)
	release()
	h.hears(asked[0], "Row two")
	h.hears(asked[1], "Row three")
	h.hears(asked[2], "That button stood under an earlier row, so nothing has moved.", "Row three")
	if first := asked[0].Answer(); !first.Ephemeral || !slices.Contains(first.Buttons(), "Next row") {
		t.Errorf("what came in place of the deferral is %+v", first)
	}
	h.isAt(g.id, wren, "Wedges", 3)
}

// What the platform says to an answer or a deferral comes too late to be heard, and
// the answer is there all the same, once.
func TestCallsAreSlow(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	h.Slow(discordtest.Callback, 1500*time.Millisecond)
	e := h.Uses(g.channel, wren, "next")
	h.hears(e, "Row two")
	h.Until("the call to be made again", func() bool { return strings.Contains(h.log.String(), "calling again") })
	h.Slow(discordtest.Callback, 0)
	h.hears(h.Uses(g.channel, wren, "where"), "You are at row two")
	if n := len(e.Answered()); n != 1 {
		t.Errorf("she was answered %d times, expected once", n)
	}

	h.Slow(discordtest.Callback, 1500*time.Millisecond)
	release := h.hold()
	e = h.Uses(g.channel, wren, "next")
	if kind, _ := e.Callback(); kind != 5 {
		t.Errorf("the first answer is of kind %d, expected a deferral", kind)
	}
	h.Until("the deferral not to be heard of", func() bool { return strings.Contains(h.log.String(), "an interaction was not deferred") })
	h.Slow(discordtest.Callback, 0)
	release()
	h.hears(e, "Row three")
	h.isAt(g.id, wren, "Wedges", 3)
}

// Whom the bot may not write to in private is led to an answer in the channel
// that is for her alone.
func TestPrivateMessagesAreRefused(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren, odo := h.knitter(g, "Wren", 3), h.knitter(g, "Odo Marsh", 5)
	h.RefuseDM(wren)
	for _, one := range []struct{ words, answer string }{
		{"next row", "Row four, wrong side."},
		{"read row 12", "ow twelve"},
		{"where am I", "You are at row four of Wedges"},
		{"I count 41", "There should be forty-two stitches"},
		{"help", "Say next row to go on"},
		{"leave", "You have left Lee Side Cap"},
	} {
		hint := h.hears(h.SaysIn(g.channel, wren, "@clew "+one.words), "Your settings do not let me write to you in private. Press Hear it")
		if hint.Ephemeral || strings.Contains(hint.Content, one.answer) || !slices.Equal(hint.Buttons(), []string{"Hear it"}) {
			t.Errorf("in the channel stands %+v", hint)
		}
		press := h.PressOn(wren, hint, "Hear it")
		if answer := h.hears(press, one.answer); !answer.Ephemeral {
			t.Errorf("the answer to %q is there for all to see", one.words)
		}
		if one.words == "next row" {
			h.hears(h.PressOn(odo, hint, "Hear it"), "Row five") // her own
		}
	}
	if h.state(g.id, wren).Joined {
		t.Error("Wren has asked to leave, and is still a member")
	}
	h.isAt(g.id, odo, "Wedges", 5)
	h.hears(h.SaysIn(g.channel, wren, "@clew join"), "Your settings")
	hint := h.hears(h.SaysIn(g.channel, wren, "@clew next row"), "Your settings")
	h.stop()
	h.serve()
	h.hears(h.PressOn(wren, hint, "Hear it"), "Row five") // not kept any more: her row
	h.isAt(g.id, wren, "Wedges", 5)
	h.AllowDM(wren)
	if answer := h.hears(h.SaysIn(g.channel, wren, "@clew next row"), "Row six"); answer.Guild != "" {
		t.Error("the answer is not in private")
	}
}

// In a channel where the bot may not write, the card stands under the host's
// command, and she is told.
func TestChannelIsForbidden(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	ana := guild.Member("Ana Pell", discordtest.ManageEvents)
	for name, bar := range map[string]func(*discordtest.Channel){"may not write": h.Forbid, "may not see": h.Hide} {
		t.Run(name, func(t *testing.T) {
			channel, wren := guild.Channel(name), guild.Member("Wren")
			bar(channel)
			answers := h.Uses(channel, ana, "knitalong start", discordtest.With("sample", "lee-cap")).Answers(3)
			if heard := said(answers[:1]); !strings.Contains(heard, "Lee Side Cap has begun in this channel") {
				t.Errorf("the host heard %q", heard)
			}
			if card := answers[1]; card.Ephemeral || !slices.Equal(card.Buttons(), []string{"Join"}) {
				t.Errorf("the card is %+v", card)
			}
			if told := answers[2]; !told.Ephemeral || !strings.HasPrefix(told.Said(), "I may not write in this channel by myself") {
				t.Errorf("the host was told %q", told.Said())
			}
			asked := h.PressOn(wren, answers[1], "Join")
			h.hears(h.PressOn(wren, asked.Answer(), "child"), "You have joined Lee Side Cap in size child")
			h.hears(h.Uses(channel, wren, "next"), "Row one")
			h.isAt(h.heldIn(channel).ID, wren, "Wedges", 1)
			h.hears(h.Uses(channel, ana, "knitalong close"), "Do you want to close")
			h.hears(h.Press(ana, "Close it"), "Lee Side Cap is closed")
		})
	}
}

// longPattern is invented: with each of its crosses spelled out, the first row
// takes several messages.
func longPattern(strips int) string {
	const strip = "p2, 2/2 RC, k1 tbl, 2/2 LC, p1, 2/1 RPC, yo, k2tog, 2/1 LPC, sl 1 wyib, "
	return "Pattern: Quay Sampler\nWorked: in rows\nCast on: " + fmt.Sprint(strips*21+1) + "\n" +
		"Note: Tibberhythe and this pattern are invented.\n\nSection: Border\n" +
		"Row 1 (RS): " + strings.Repeat(strip, strips) + "k1.\nRow 2: work sts as they present.\n"
}

// A long row comes in several messages, in order, whole words in each, and what
// can be pressed stands under the last.
func TestLongRows(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	channel := guild.Channel("wednesday")
	id := h.started(channel, "Quay Sampler", longPattern(10))
	wren := guild.Member("Wren")
	h.joined(id, wren, "Border", "")
	h.Uses(channel, wren, "settings", discordtest.With("crosses", "full")).Answer()
	shadow, about := h.shadow(), h.heldIn(channel)
	shadow.follow(h, about)
	for _, words := range []string{"join", "full crosses"} {
		shadow.ask(h, about, wren, words)
	}
	w := &walker{house: h, shadow: shadow, about: about, channel: channel, person: wren}
	h.Uses(channel, wren, "next").Answers(3)
	row := shadow.ask(h, about, wren, "next row")
	h.Fail(discordtest.FollowUp, 500, 1)
	for _, ask := range []func() *discordtest.Event{
		func() *discordtest.Event { return h.Uses(channel, wren, "again") },
		func() *discordtest.Event { return h.Press(wren, "Again") },
		func() *discordtest.Event { return h.Says(wren, "again") },
		func() *discordtest.Event { return h.SaysIn(channel, wren, "@clew again") },
	} {
		e := ask()
		want := shadow.ask(h, about, wren, "again")
		w.sees(e, "again", want)
		messages := e.Answered()
		if len(messages) < 3 {
			t.Errorf("the row came in %d messages, expected three at least", len(messages))
		}
		for i, m := range messages {
			if n := len(m.Content); n > 2000 {
				t.Errorf("message %d has %d characters", i+1, n)
			}
			if last := i == len(messages)-1; len(m.Buttons()) > 0 != last {
				t.Errorf("message %d of %d has the buttons %q", i+1, len(messages), m.Buttons())
			}
			if i > 0 && !m.At.After(messages[i-1].At) {
				t.Errorf("message %d came before the one in front of it", i+1)
			}
		}
	}
	// Delivered again, it is there once.
	e := h.Uses(channel, wren, "again")
	h.Until("the whole row", func() bool {
		m := e.Answered()
		return len(m) > 0 && len(m[len(m)-1].Buttons()) > 0
	})
	whole := len(e.Answered())
	h.again(e)
	h.hears(h.Uses(channel, wren, "where"), "You are at row one")
	if n := len(e.Answered()); n != whole {
		t.Errorf("after the same event came again the row stands in %d messages, expected %d", n, whole)
	}
	// Cut where it is read in steps, each message ends with one.
	for _, m := range h.Says(wren, "again").Answers(3) {
		if !slices.ContainsFunc(row.Steps, func(step string) bool { return strings.HasSuffix(m.Said(), step) }) {
			t.Errorf("a message ends in the middle of a step: %q", m.Said()[max(0, len(m.Said())-80):])
		}
	}
}

// A row that is too long for a chat comes as a file, with its beginning in front.
func TestTooLongRows(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	channel := guild.Channel("wednesday")
	id := h.started(channel, "Quay Sampler", longPattern(40))
	wren := guild.Member("Wren")
	h.joined(id, wren, "Border", "")
	h.Uses(channel, wren, "settings", discordtest.With("crosses", "full")).Answer()
	for _, e := range []*discordtest.Event{h.Uses(channel, wren, "next"), h.Says(wren, "again")} {
		messages := e.Answers(5)
		last := messages[len(messages)-1]
		if len(messages) != 5 || len(last.Files) != 1 || !slices.Contains(last.Buttons(), "Next row") {
			t.Fatalf("found %d messages, the last %+v", len(messages), last)
		}
		whole := string(last.Files[0].Data)
		if !strings.Contains(whole, strings.TrimSpace(messages[0].Said())) || strings.Count(whole, "Two over two right cross") != 40 {
			t.Errorf("the file is %q", whole)
		}
	}
	h.isAt(id, wren, "Border", 1)
}
