package discord_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"clew/bot"
	"clew/bot/discord/discordtest"
)

// Two servers have a knit-along of the same name. Who is in both is asked which,
// and in each server requests are about its own.
func TestTwoServers(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	harbour, rock := h.group(t, "Tibberhythe"), h.group(t, "Gull Rock")
	wren, odo := harbour.guild.Member("Wren"), rock.guild.Member("Odo Marsh")
	tamsin := harbour.guild.Member("Tamsin Quay")
	rock.guild.Admit(tamsin)
	for p, g := range map[*discordtest.Person]group{wren: harbour, odo: rock} {
		h.hears(h.Uses(g.channel, p, "join", discordtest.With("size", "child")), "You have joined Lee Side Cap in size child")
		h.hears(h.Says(p, "next row"), "Row one")
		h.isAt(g.id, p, "Wedges", 1)
	}
	h.hears(h.Uses(harbour.channel, tamsin, "join", discordtest.With("size", "medium")), "in size medium")
	h.hears(h.Uses(rock.channel, tamsin, "join", discordtest.With("size", "large")), "in size large")
	h.hears(h.Uses(harbour.channel, tamsin, "at", discordtest.With("number", 5)), "Row five")
	h.hears(h.SaysIn(rock.channel, tamsin, "@clew put me at row 11"), "Row eleven")
	h.isAt(harbour.id, tamsin, "Wedges", 5)
	h.isAt(rock.id, tamsin, "Wedges", 11)
	asked := h.hears(h.Says(tamsin, "next row"), "You have joined two knit-alongs", "Which one do you mean? Nothing has moved.")
	labels := asked.Buttons()
	if len(labels) != 2 || labels[0] == labels[1] {
		t.Fatalf("she is asked with the buttons %q, which can't be told apart", labels)
	}
	rows := map[string]string{}
	for _, label := range labels {
		rows[label] = rowOf(h.hears(h.PressOn(tamsin, asked, label), "You are now on Lee Side Cap").Small())
	}
	if got := slices.Sorted(maps.Values(rows)); !slices.Equal(got, []string{"row 11 of 216", "row 5 of 198"}) {
		t.Errorf("the two are at %q", got)
	}
	h.Says(tamsin, "next row").Answer()
	h.hears(h.Uses(harbour.channel, tamsin, "next"), "Row ")
	h.hears(h.Uses(rock.channel, tamsin, "next"), "Row ")
	here, there := h.state(harbour.id, tamsin).Row, h.state(rock.id, tamsin).Row
	if here+there != 5+11+3 || here < 6 || there < 12 {
		t.Errorf("she is at rows %d and %d after one step in each channel and one in private", here, there)
	}
	h.isAt(harbour.id, wren, "Wedges", 1)
	h.isAt(rock.id, odo, "Wedges", 1)
}

// hiddenPattern is invented, and of another server.
const hiddenPattern = `Pattern: Moonlit Tarn
Worked: in rows
Sizes: sprat (whale)
Cast on: 20 (24)
Abbreviation: XQ = k2tog, yo
Note: Tibberhythe and this pattern are invented.
Section: Secret reed
Rows 1-10: k to end.
`

// Nothing that somebody makes up in one server reaches the knit-along of
// another, or tells of it.
func TestForgedFromAnotherServer(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	rock := h.Guild("Gull Rock")
	secret := rock.Channel("wednesday")
	hidden := h.started(secret, "Moonlit Tarn", hiddenPattern)
	odo := rock.Member("Odo Marsh")
	h.joined(hidden, odo, "Secret reed", "whale")
	wren := h.knitter(g, "Wren", 3)
	g.guild.Admit(wren, discordtest.ManageEvents) // in her own server
	mark := bot.MarkOf("Secret reed", 0, 0)
	inChannel, inPrivate := h.Uses(g.channel, wren, "again").Answer(), h.Says(wren, "again").Answer()
	before := h.dump()

	var asked []*discordtest.Event
	for _, m := range []discordtest.Message{inChannel, inPrivate} {
		for _, intent := range []string{"next", "again", "back", "undo", "where", "steps", "rows", "explain", "count", "catchup", "settings", "fit", "join", "leave", "forget", "help", "switch"} {
			asked = append(asked, h.ForgesPress(wren, m, "ab/"+intent+"/"+hidden+"/"+mark+"/"))
		}
		for _, id := range []string{
			"ab/at/" + hidden + "/" + mark + "/7", "ab/row/" + hidden + "//7", "ab/switch///" + hidden, "ab/join///id:" + hidden,
			"ab/knitalong/" + hidden + "//close", "ab/knitalong///close:" + hidden, "ab/knitalong/" + hidden + "//reopen", "ab/knitalong/" + hidden + "//check",
			"ab/knitalong///helper:" + hidden + ":discord:" + wren.ID,
		} {
			asked = append(asked, h.ForgesPress(wren, m, id))
		}
		asked = append(asked, h.ForgesChoice(wren, m, "am/switch//", hidden), h.ForgesChoice(wren, m, "am/join/"+hidden+"/", "0a1b2c3d"))
		for _, e := range asked { // before the lane is full
			e.Answer()
		}
	}
	for _, words := range []string{"switch to moonlit tarn", "join moonlit tarn", "moonlit tarn"} {
		asked = append(asked, h.Says(wren, words), h.SaysIn(g.channel, wren, "@clew "+words))
	}
	asked = append(asked, h.Uses(g.channel, wren, "switch", discordtest.With("knitalong", "Moonlit Tarn")))
	for _, e := range asked {
		answer := e.Answer()
		for _, leak := range []string{"Moonlit", "reed", "sprat", "whale", hidden} {
			if text := fmt.Sprint(answer.Content, answer.Rows); strings.Contains(text, leak) {
				t.Errorf("an answer in %q tells of %q: %s", e.Channel.Name, leak, text)
			}
		}
	}
	for _, one := range h.Types(wren, "explain", "stitch", "XQ").Suggestions() {
		t.Errorf("%+v is offered, which is of another server", one)
	}
	if diff := cmp.Diff(before, h.dump()); diff != "" {
		t.Errorf("something has changed (-before +after):\n%s", diff)
	}
	h.hears(h.Uses(g.channel, wren, "explain", discordtest.With("stitch", "XQ")), "I do not know a stitch called")
	// What is hers goes whichever knit-along the press names, and nothing else does.
	if answer := h.ForgesPress(wren, inChannel, "ab/forget/"+hidden+"//yes").Answer(); strings.Contains(answer.Content, "Moonlit") || !strings.Contains(answer.Content, "Lee Side Cap") {
		t.Errorf("she hears %q", answer.Content)
	}
	h.hears(h.Uses(secret, odo, "next"), "Secret reed")
}
