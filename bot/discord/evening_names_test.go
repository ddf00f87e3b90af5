package discord_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"clew/bot/discord"
	"clew/bot/discord/discordtest"
)

// hostile are names that would be something else than text, if they could.
var hostile = []string{
	"@everyone", "@here", "<@319626097459202304>", "<@&5>", "<#529448923299843516>", "</next:12>", "<t:1700000000:R>", "<:yarn:12>", ":yarn:",
	"*Wren*", "**Wren", "__Wren__", "~~Wren~~", "||Wren||", "`Wren`", "```js\nWren", "# Wren", "> Wren", "- Wren", "1. Wren", "-# Wren",
	"[Wren](https://evil.example)", "https://evil.example/?a=*b*", "discord.gg/wren", "\u202enerW\u202c", "\u200b\u200b\u2060", "\U0001F9F6\U0001F9F6\u200d\U0001F469",
	"\u0645\u0631\u062d\u0628\u0627 \u0628\u0643", strings.Repeat("\uff37", 32), "W" + strings.Repeat("\u0336\u0489", 30) + "ren\\",
}

// hostilePattern has such names wherever a pattern has names (invented).
const hostilePattern = "Pattern: *Gull* @everyone `x` https://evil.example\nWorked: in rows\nSizes: **small** (_large_, @here)\nCast on: 10 (12, 14)\n" +
	"Note: Tibberhythe and this pattern are invented.\nNote: > quote [link](evil) @everyone <@1>\nNote: ```js\nNote: # head\nNote: </next:12> <t:0>\n" +
	"Section: # Wedges <@&5> [a](b) *s*\nRow 1: *k1, p1; rep from * to end.\nTip: - list ||spoiler|| <:yarn:12> @here\nRow 2: k2, *p2; rep from * to end.\n" +
	"Section: \u202enerW ~~gone~~ __u__\nRow 1: k to end.\n"

// Thirty members with hostile names, in knit-alongs with hostile titles, sections,
// sizes and notes, say hostile things. All of it is shown as text, and nobody is
// pinged: the stand-in sees to that with every call.
func TestHostileNames(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("@everyone")
	ana := guild.Member("@here", discordtest.ManageEvents)
	file := h.Attach("`@everyone` [x](https://evil.example).txt", []byte(hostilePattern))
	channel := guild.Channel("wednesday")
	h.hears(h.Uses(channel, ana, "knitalong start", discordtest.With("pattern", file)), "has begun in this channel")
	about := h.heldIn(channel)

	var asked []*discordtest.Event
	for i, name := range hostile {
		p := guild.Member(name)
		size := []string{"**small**", "_large_", "@here"}[i%3]
		h.hears(h.Uses(channel, p, "join", discordtest.With("size", size)), "You have joined")
		if got := h.state(about.ID, p).Size; got != size {
			t.Errorf("%q knits size %q, expected %q", name, got, size)
		}
		asks := []func() *discordtest.Event{
			func() *discordtest.Event { return h.Uses(channel, p, "next") },
			func() *discordtest.Event { return h.Says(p, name) },
			func() *discordtest.Event { return h.Uses(channel, p, "explain", discordtest.With("stitch", name)) },
			func() *discordtest.Event { return h.Uses(channel, p, "switch", discordtest.With("knitalong", name)) },
			func() *discordtest.Event { return h.Uses(channel, p, "settings", discordtest.With("size", name)) },
			func() *discordtest.Event {
				return h.Uses(channel, p, "row", discordtest.With("number", 1), discordtest.With("section", name))
			},
			func() *discordtest.Event { return h.Uses(channel, p, "fit", discordtest.With("around", name)) },
			func() *discordtest.Event { return h.Uses(channel, p, "fit", discordtest.With("gauge", name)) },
			func() *discordtest.Event {
				return h.Uses(channel, p, "yarn", discordtest.With("left", "38 g"), discordtest.With("yarn", name))
			},
			func() *discordtest.Event { return h.Uses(channel, p, "picture", discordtest.With("section", name)) },
		}
		if i < 3 { // what is the same for all of a size
			asks = append(asks,
				func() *discordtest.Event { return h.SaysIn(channel, p, "@clew switch to "+name) },
				func() *discordtest.Event { return h.SaysIn(channel, p, "@clew notes") },
				func() *discordtest.Event { return h.Uses(channel, p, "settings") },
				func() *discordtest.Event { return h.Uses(channel, p, "catchup") },
				func() *discordtest.Event { return h.Uses(channel, p, "picture") },
				func() *discordtest.Event { return h.Press(p, "Fabric") },
				func() *discordtest.Event { return h.Uses(channel, p, "fit") },
				func() *discordtest.Event { return h.Press(p, "Next row") },
				func() *discordtest.Event { return h.Uses(channel, p, "next") },
				func() *discordtest.Event { return h.Uses(channel, p, "where") },
			)
		}
		for _, ask := range asks {
			e := ask()
			e.Answer()
			asked = append(asked, e)
		}
		if row := h.state(about.ID, p).Row; row == 0 {
			t.Errorf("%q has not come beyond row %d", name, row)
		}
	}
	for i, name := range hostile { // titles of hosts' own, one to a channel
		ch := guild.Channel(fmt.Sprintf("channel-%d", i))
		e := h.Uses(ch, ana, "knitalong start", discordtest.With("pattern", file), discordtest.With("name", name))
		e.Answer()
		asked = append(asked, e, h.Uses(ch, ana, "knitalong close"))
	}
	stranger := guild.Member("Wren")
	asked = append(asked, h.SaysIn(guild.Channel("quay"), stranger, "@clew join"), h.Says(ana, "@everyone <@1>"))
	for _, e := range asked {
		e.Answer()
	}
	// A report of problems quotes the lines that are wrong.
	wrong := h.Attach("wrong.txt", []byte("Pattern: x\nWorked: in ```rows``` @everyone <@1>\n"))
	e := h.Uses(channel, ana, "knitalong check", discordtest.With("pattern", wrong))
	h.hears(e, "error")

	seen := h.Sent(stranger)
	for _, e := range append(asked, e) {
		seen = append(seen, e.Answered()...)
	}
	if len(seen) < 230 {
		t.Errorf("%d messages were looked at, expected two hundred and thirty at least", len(seen))
	}
	shown := ""
	for _, m := range seen {
		shown += checkShown(t, m) + "\n"
	}
	for _, text := range []string{"# Wedges <@&5> [a](b) *s*", "> quote [link](evil) @everyone <@1>", "Note: ```js", "nerW ~~gone~~ __u__"} {
		if !strings.Contains(shown, text) {
			t.Errorf("%q is not shown as text", text)
		}
	}
}

// checkShown holds for every message: nothing in it is markup but Clew's own
// small lines and fences, and what is said in it can be said. It gives the text.
func checkShown(t *testing.T, m discordtest.Message) string {
	t.Helper()
	text, markup := discord.ReadMarkdown(m.Content)
	for _, found := range slices.Compact(slices.Sorted(slices.Values(markup))) {
		if found != "small" && found != "fence" {
			t.Errorf("%s is made of a text in %q", found, m.Content)
		}
	}
	if strings.ContainsFunc(m.Content, func(r rune) bool { return unicode.In(r, unicode.Cf) }) {
		t.Errorf("there is what can't be seen in %q", m.Content)
	}
	checkSaid(t, m.Said())
	for _, row := range m.Rows {
		for _, c := range row {
			for _, label := range append([]string{c.Label, c.Placeholder}, m.Options()...) {
				if strings.ContainsFunc(label, func(r rune) bool { return unicode.In(r, unicode.Cf, unicode.Cc) }) {
					t.Errorf("there is what can't be seen on a button: %q", label)
				}
			}
		}
	}
	return text
}
