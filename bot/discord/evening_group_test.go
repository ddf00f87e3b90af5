package discord_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
	"clew/session"
)

// entrant is what the group sees of somebody.
func (h *house) entrant(id string, p *discordtest.Person) session.Entrant {
	h.t.Helper()
	all, err := h.store.Roster(h.t.Context(), id)
	if err != nil {
		h.t.Fatal(err)
	}
	i := slices.IndexFunc(all, func(e session.Entrant) bool { return e.Member == member(p) })
	if i < 0 {
		h.t.Fatalf("%s has not joined: there are %+v", p.Name, all)
	}
	return all[i]
}

// TestNamesAsShown says that a member is called in the group as the platform shows
// her: by her nickname in the server, else by the name that is her own.
func TestNamesAsShown(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	ch := guild.Channel("wednesday")
	id := h.started(ch, "Quay Cap", sample(t, "lee-cap"))
	for name, c := range map[string]struct {
		nick string
		join func(p *discordtest.Person) *discordtest.Event
		want string
	}{
		"by a command": {"Wren of the Quay", func(p *discordtest.Person) *discordtest.Event {
			return h.Uses(ch, p, "join", discordtest.With("size", "medium"))
		}, "Wren of the Quay"},
		"by words": {"*Odo* \U0001F9F6", func(p *discordtest.Person) *discordtest.Event { return h.SaysIn(ch, p, "@clew join in medium") }, "*Odo* \U0001F9F6"},
		"without a nickname": {"", func(p *discordtest.Person) *discordtest.Event {
			return h.Uses(ch, p, "join", discordtest.With("size", "medium"))
		}, "Tamsin Quay"},
		"without a nickname, and by words": {"", func(p *discordtest.Person) *discordtest.Event { return h.SaysIn(ch, p, "@clew join in medium") }, "Tamsin Quay"},
	} {
		t.Run(name, func(t *testing.T) {
			p := guild.Member("Tamsin Quay")
			guild.Call(p, c.nick)
			c.join(p).Answer()
			if found := h.entrant(id, p).Name; found != c.want {
				t.Errorf("she is called %q, expected %q", found, c.want)
			}
		})
	}
}

// TestZonesAreSuggested says that a host who types part of a name is offered zones,
// and a knitter her stitches.
func TestZonesAreSuggested(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	ch, wren := guild.Channel("wednesday"), guild.Member("Wren", discordtest.ManageEvents)
	for _, command := range []string{"knitalong start", "knitalong sessions"} {
		found := h.TypesIn(ch, wren, command, "zone", "amster").Suggestions()
		if len(found) != 1 || found[0].Label != "Europe/Amsterdam" || found[0].Value != "Europe/Amsterdam" {
			t.Errorf("/%s: %+v", command, found)
		}
	}
	if found := h.TypesIn(ch, wren, "knitalong start", "zone", "herring").Suggestions(); len(found) != 0 {
		t.Errorf("%+v", found)
	}
}

// TestServeTends says that a process that serves also looks after the channels: a
// board is posted, deleted by somebody, and posted again.
func TestServeTends(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, setup{storeWithin: patience, tended: true})
	guild := h.Guild("Tibberhythe")
	ch, wren := guild.Channel("wednesday"), guild.Member("Wren")
	id := h.started(ch, "Lee Side Cap", sample(t, "lee-cap"))
	h.Uses(ch, wren, "join", discordtest.With("size", "medium")).Answer()
	first := h.board(ch)
	if !strings.Contains(first.Content, "Wren") || len(first.Files) != 1 || first.Files[0].Description == "" {
		t.Errorf("%+v", first)
	}
	h.later.Store(int64(time.Minute)) // a board is edited every fifteen seconds at most
	h.Remove(first.ID)
	if second := h.board(ch); second.ID == first.ID || second.Content != first.Content {
		t.Errorf("%+v, after %+v", second, first)
	}
	h.isBoard(id, h.board(ch).ID)
}

// board waits for the one message of a channel in which nobody but the bot has
// anything to say.
func (h *house) board(ch *discordtest.Channel) (board discordtest.Message) {
	h.t.Helper()
	h.Until("a board in #"+ch.Name, func() bool {
		all := h.SentIn(ch)
		if len(all) == 1 {
			board = all[0]
		}
		return len(all) == 1
	})
	return board
}

func (h *house) isBoard(id, message string) {
	h.t.Helper()
	h.Until("the board to be noted", func() bool {
		about, err := h.store.About(h.t.Context(), id)
		if err != nil {
			h.t.Fatal(err)
		}
		return about.Board == message
	})
}
