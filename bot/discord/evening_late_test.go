package discord_test

import (
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// A command that comes so late that the platform takes no answer to it, as after
// a cut, moves nothing: nobody would hear of it.
func TestCommandsComeTooLate(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, setup{storeWithin: patience, open: 4 * time.Second})
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	h.hears(h.Uses(g.channel, wren, "where"), "You are at row one of Wedges")
	h.Expect("interactions") // the platform takes it no more
	// Opening takes longer than three seconds once, and then succeeds: a session is not offered for ever.
	h.NoHello(true)
	h.Cut(0)
	h.Gone(0)
	asked := time.Now()
	e := h.Uses(g.channel, wren, "next")
	for time.Since(asked) < 3500*time.Millisecond {
		time.Sleep(50 * time.Millisecond) // the platform's three seconds can't be hurried
	}
	h.NoHello(false)
	h.Until("the command to be given up", func() bool { return strings.Contains(h.log.String(), "came too late") })
	h.isAt(g.id, wren, "Wedges", 1)
	if n := len(e.Answered()); n != 0 {
		t.Errorf("it was answered %d times", n)
	}
	h.hears(h.Uses(g.channel, wren, "next"), "Row two")
}

// In private the bot's name is no part of what is asked.
func TestNamedInPrivate(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 1)
	h.hears(h.Says(wren, "<@"+h.Application()+"> next row"), "Row two")
	h.hears(h.Says(wren, "<@!"+h.Application()+">"), "next row")
}

// Who may not start a knit-along hears so, and nothing is fetched for her.
func TestRightsBeforeFiles(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	channel, odo := guild.Channel("wednesday"), guild.Member("Odo Marsh")
	file := h.Attach("hat.txt", []byte("Pattern: Hat"))
	h.hears(h.Uses(channel, odo, "knitalong start", discordtest.With("pattern", file)), "Only those who may manage events here")
	if n := h.Count(discordtest.AttachmentFile); n != 0 {
		t.Errorf("%d files were fetched", n)
	}
}
