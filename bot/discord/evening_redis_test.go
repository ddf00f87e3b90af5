package discord_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session/redistest"
)

// What members hear while their places can't be reached.
const (
	unreachable = "Your place can't be reached just now. Nothing has moved and nothing is lost. Please ask again in a moment."
	uncertain   = "Contact broke off while your request was being saved, so it is not known whether it was. What was saved before is not lost. Say where am I to hear your place."
	unread      = "Your request is saved, but the answer can't be given just now. Say where am I in a moment to hear your place."
)

// firstWithin is how long the platform waits for the first answer to an
// interaction: Discord's developer documentation, "Receiving and Responding".
const firstWithin = 3 * time.Second

// promptly waits for the answer to an event, and fails where an interaction got
// its first one, be it a deferral, too late. It gives what is heard.
func (h *house) promptly(e *discordtest.Event) string {
	h.t.Helper()
	if e.Kind == "INTERACTION_CREATE" {
		if kind, after := e.Callback(); after > firstWithin || kind != 4 && kind != 5 {
			h.t.Errorf("the first answer came after %v and is of kind %d, expected an answer or a deferral within %v", after, kind, firstWithin)
		}
	}
	return answered(e)
}

// hurry starts the bot again with the time that the store has outside of tests.
func (h *house) hurry() {
	h.t.Helper()
	h.stop()
	h.setup.storeWithin = 0
	h.serve()
}

// next asks for the next row in one of the ways that there are.
func (h *house) next(g group, p *discordtest.Person, way int) *discordtest.Event {
	h.t.Helper()
	switch way % 5 {
	case 0:
		return h.Says(p, "next row")
	case 1:
		return h.SaysIn(g.channel, p, "@clew next row")
	case 2:
		return h.Uses(g.channel, p, "next")
	case 3:
		return h.Uses(h.DM(p), p, "next")
	}
	return h.Press(p, "Next row")
}

// Redis is down for ten seconds. Whoever asks meanwhile is told that nothing has
// moved, and goes on afterwards where she was.
func TestRedisIsDown(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, setup{storeWithin: patience, redis: []string{"--appendonly", "yes", "--appendfsync", "always"}})
	g := h.group(t, "Tibberhythe")
	ana := g.guild.Member("Ana Pell", discordtest.ManageEvents)
	var knitters []*discordtest.Person
	for i, name := range []string{"Wren", "Odo Marsh", "Tamsin Quay"} {
		knitters = append(knitters, h.knitter(g, name, i+1))
	}
	h.hurry()
	h.redis.Kill()
	asked := 0
	for down := time.Now(); time.Since(down) < 10*time.Second; asked++ {
		p := knitters[asked%len(knitters)]
		if heard := h.promptly(h.next(g, p, asked)); heard != unreachable {
			t.Fatalf("with Redis down %s heard %q, expected %q", p.Name, heard, unreachable)
		}
		time.Sleep(100 * time.Millisecond)
	}
	if heard := h.promptly(h.Uses(g.channel, ana, "knitalong close")); !strings.HasPrefix(heard, "The knit-alongs can't be reached just now. Nothing was changed") {
		t.Errorf("with Redis down a host heard %q", heard)
	}
	if known := h.Types(knitters[0], "explain", "stitch", "k2").Suggestions(); len(known) == 0 {
		t.Error("with Redis down nothing is offered to be explained")
	}
	h.redis.Run(t)
	for i, p := range knitters {
		h.isAt(g.id, p, "Wedges", i+1)
		// The client's pools find out within a second that Redis is back.
		redistest.Eventually(t, "the bot reaches Redis again", func(context.Context) error {
			if heard := answered(h.next(g, p, i)); heard != unreachable {
				return nil
			}
			return errors.New(unreachable)
		})
		h.isAt(g.id, p, "Wedges", i+2)
	}
	t.Logf("asked %d times while Redis was down", asked)
}

// A Redis that takes requests and does not answer. Whoever asks hears so; what stands
// behind it in a member's lane is deferred.
func TestRedisFreezes(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren, odo := h.knitter(g, "Wren", 3), h.knitter(g, "Odo Marsh", 5)
	h.hurry()
	h.redis.Freeze(t)
	asked := []*discordtest.Event{
		h.Uses(g.channel, wren, "next"), h.Press(wren, "Next row"), h.Uses(h.DM(wren), wren, "undo"),
		h.Uses(g.channel, odo, "next"), h.SaysIn(g.channel, odo, "@clew next row"),
	}
	for _, e := range asked {
		if heard := h.promptly(e); heard != unreachable {
			t.Errorf("with Redis frozen %s heard %q, expected %q", e.Person.Name, heard, unreachable)
		}
	}
	if kind, _ := asked[1].Callback(); kind != 5 {
		t.Errorf("the second was answered at once (%d), expected it to be deferred", kind)
	}
	h.redis.Thaw(t)
	redistest.Eventually(t, "the bot reaches Redis again", func(context.Context) error {
		if heard := answered(h.Uses(g.channel, wren, "where")); !strings.HasPrefix(heard, "You are at row") {
			return fmt.Errorf("heard %q", heard)
		}
		return nil
	})
	h.isAt(g.id, wren, "Wedges", 3)
	h.isAt(g.id, odo, "Wedges", 5)
	h.hears(h.Press(wren, "Next row"), "Row four")
	h.hears(h.Says(odo, "next row"), "Row six")
}

// Redis freezes in the middle of what is being asked. What each member hears is
// true, and where it is that nobody knows, the same event settles it.
func TestRedisFreezesInTheMiddle(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	var knitters []*discordtest.Person
	for i := range 12 {
		knitters = append(knitters, h.knitter(g, fmt.Sprintf("Knitter %c", 'A'+i), 1))
	}
	h.hurry()
	random := rand.New(rand.NewPCG(5, 8))
	heard := map[string]int{}
	rows := slices.Repeat([]int{1}, len(knitters))
	for range 3 {
		var asked []*discordtest.Event
		for i, p := range knitters {
			asked = append(asked, h.next(g, p, i+random.IntN(5)))
		}
		asked[random.IntN(len(asked))].Answer()
		h.redis.Freeze(t)
		for _, e := range asked {
			h.promptly(e)
		}
		h.redis.Thaw(t)
		redistest.Eventually(t, "Redis answers again", func(ctx context.Context) error {
			_, err := h.store.About(ctx, g.id)
			return err
		})
		for i, e := range asked {
			p, said := knitters[i], answered(e)
			row := h.state(g.id, p).Row
			switch said {
			case unreachable:
				heard["unreachable"]++
				if row != rows[i] {
					t.Errorf("%s heard that nothing has moved, and has gone from row %d to %d", p.Name, rows[i], row)
				}
			case uncertain:
				heard["uncertain"]++
				h.again(e)
				if row = h.state(g.id, p).Row; row != rows[i] && row != rows[i]+1 {
					t.Errorf("%s asked once for the next row, and has gone from row %d to %d", p.Name, rows[i], row)
				}
				h.again(e)
				if now := h.state(g.id, p).Row; now != row {
					t.Errorf("the same event has moved %s from row %d to %d", p.Name, row, now)
				}
			case unread:
				heard["unread"]++
				if row != rows[i]+1 {
					t.Errorf("%s heard that her request is saved, and has gone from row %d to %d", p.Name, rows[i], row)
				}
			default:
				heard["a row"]++
				// An answer that was told again is the newest, and may stand under an earlier row.
				want := rows[i] + 1
				if strings.HasPrefix(said, "That button stood under an earlier row") {
					want = rows[i]
				}
				if row != want {
					t.Errorf("%s heard %q, and has gone from row %d to %d", p.Name, said, rows[i], row)
				}
			}
			rows[i] = row
		}
	}
	t.Logf("heard: %v", heard)
}
