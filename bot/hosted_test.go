package bot_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// A guild is a server in which knit-alongs are held.
type guild struct {
	name     string
	channels []string
	words    []string // that only the patterns held there have
	ids      []string
}

// twoGuilds holds three knit-alongs in two servers. Both have one of the same
// title, whose sections tell them apart.
func (h *house) twoGuilds(t *testing.T) []*guild {
	t.Helper()
	harbour := &guild{name: "harbour", channels: []string{"pier", "market"}, words: []string{"Band", "Bands", "Hawser"}}
	marsh := &guild{name: "marsh", channels: []string{"reeds"}, words: []string{"Sedge", "Heron"}}
	for _, k := range []struct {
		guild                *guild
		channel, title, text string
	}{
		{harbour, "pier", "Harbour Hat", short},
		{harbour, "market", "Hawser", strings.Replace(short, "Cast on: 24", "Sizes: narrow (wide)\nCast on: 24 (48)", 1)},
		{marsh, "reeds", "Harbour Hat", strings.NewReplacer("Two Bands", "Heron", "Other band", "Heron", "Section: Band", "Section: Sedge").Replace(short)},
	} {
		r := h.Direct(t.Context(), bot.Order{Deed: bot.Start, Member: odo, Manages: true, Server: k.guild.name, Channel: k.channel,
			Title: k.title, Pattern: []byte(k.text), Event: k.guild.name + k.channel})
		if r.Invite == nil {
			t.Fatalf("nothing is started: %q\n%s", r.Said, r.Report)
		}
		k.guild.ids = append(k.guild.ids, r.Knitalong)
	}
	return []*guild{harbour, marsh}
}

// wishes are what is asked in the properties below: words, and choices that
// may have been made up.
var wishes = []string{"next row", "next row", "back", "undo", "again", "where am I", "put me at row 2", "read row 3", "join", "join in size wide", "wide",
	"join hawser", "leave", "settings", "step by step", "whole rows", "full crosses", "size wide", "size narrow", "catch me up", "explain that", "I count 23",
	"switch knit-along", "switch to harbour hat", "switch to hawser", "harbour hat", "forget me", "yes, forget me", "help", "hello", "start a knit-along"}

var pressed = []listen.Intent{listen.Next, listen.Back, listen.Undo, listen.At, listen.Row, listen.Again, listen.Explain, listen.Join, listen.Fit, listen.Switch,
	listen.Settings, listen.Leave, listen.Forget, listen.Steps, listen.Knitalong, listen.Picture, "nonsense"}

// drawAsk draws a request from anywhere about anything.
func drawAsk(rt *rapid.T, guilds []*guild, event string) bot.Ask {
	ask := bot.Ask{Member: rapid.SampledFrom([]session.Member{wren, odo}).Draw(rt, "member"), Event: event}
	if g := rapid.SampledFrom(append(guilds, nil)).Draw(rt, "server"); g != nil {
		ask.Server, ask.Channel = g.name, rapid.SampledFrom(append(g.channels, "square")).Draw(rt, "channel")
	}
	ids := append(slices.Clone(guilds[0].ids), guilds[1].ids...)
	id := rapid.SampledFrom(append(ids, "", "", "", "k", "not an id", "solo-mat")).Draw(rt, "knitalong")
	if rapid.Bool().Draw(rt, "words") {
		ask.Words = rapid.SampledFrom(wishes).Draw(rt, "words")
		return ask
	}
	value := rapid.SampledFrom([]string{"", "2", "0", "-1", "99999", "2.0a1b2c3d", "2.", ".", "yes", "full", "close", "x", id, "id:" + id, "id:"}).Draw(rt, "value")
	ask.Knitalong = id
	ask.Pressed = &bot.Choice{Intent: rapid.SampledFrom(pressed).Draw(rt, "intent"), Value: value}
	ask.Mark = rapid.SampledFrom([]string{"", "", bot.MarkOf("Band", 1, 0), bot.MarkOf("Sedge", 1, 0), "forged", "..."}).Draw(rt, "mark")
	return ask
}

// Whatever is asked in a server, from whatever button, nothing of a knit-along
// of another server is told, nor changed but by who is to be forgotten.
func TestServersApart(t *testing.T) {
	h := newHouse(t)
	rapid.Check(t, func(rt *rapid.T) {
		h.renew(t)
		guilds, n := h.twoGuilds(t), 0
		for range rapid.IntRange(1, 25).Draw(rt, "requests") {
			n++
			ask := drawAsk(rt, guilds, fmt.Sprint("e", n))
			before := h.dump(t)
			reply := h.Answer(t.Context(), ask)
			if reply.Said == "" || len(reply.Choices) > 25 {
				rt.Fatalf("answered %q with %d choices", reply.Said, len(reply.Choices))
			}
			for _, other := range guilds {
				if ask.Server == "" || other.name == ask.Server {
					continue
				}
				told := fmt.Sprintf("%+v", reply)
				for _, word := range append(other.words, other.ids...) {
					if strings.Contains(told, word) {
						rt.Fatalf("%+v in %s is answered with %q of %s: %s", ask, ask.Server, word, other.name, told)
					}
				}
				if strings.HasPrefix(reply.Said, "All that was kept of you") { // she is forgotten everywhere
					continue
				}
				after := h.dump(t)
				for _, id := range other.ids {
					if diff := cmp.Diff(of(before, id), of(after, id)); diff != "" {
						rt.Fatalf("%+v in %s changed %s (-before +after):\n%s", ask, ask.Server, other.name, diff)
					}
				}
			}
		}
	})
}

// of takes out of a dump what is about one knit-along.
func of(dump map[string]any, id string) map[string]any {
	part := maps.Clone(dump)
	maps.DeleteFunc(part, func(key string, _ any) bool { return !strings.Contains(key, "{"+id+"}") })
	return part
}

// An event that comes again, be it after some others, changes nothing; and at
// once it gets the same answer. It must not fail in between.
func TestEventsAgain(t *testing.T) {
	h := newHouse(t)
	rapid.Check(t, func(rt *rapid.T) {
		h.renew(t)
		guilds, n := h.twoGuilds(t), 0
		var came []bot.Ask
		for range rapid.IntRange(1, 12).Draw(rt, "requests") {
			n++
			ask := drawAsk(rt, guilds, fmt.Sprint("e", n))
			first := h.Answer(t.Context(), ask)
			came = append(came, ask)
			before := h.dump(t)
			if again := h.Answer(t.Context(), ask); again.Said != first.Said && first.Failed == nil {
				rt.Fatalf("%+v came again and was answered %q, at first %q", ask, again.Said, first.Said)
			}
			earlier := rapid.SampledFrom(came[max(0, len(came)-5):]).Draw(rt, "again")
			h.Answer(t.Context(), earlier)
			if diff := cmp.Diff(before, h.dump(t)); diff != "" {
				rt.Fatalf("after %+v, %+v came again and changed (-before +after):\n%s", ask, earlier, diff)
			}
		}
	})
}
