package discord_test

import (
	"slices"
	"strings"
	"testing"

	"clew/bot/discord/discordtest"
)

// A group is a server with one knit-along in it, of the cap in three sizes.
type group struct {
	guild   *discordtest.Guild
	channel *discordtest.Channel
	id      string
}

func (h *house) group(t *testing.T, name string) group {
	t.Helper()
	guild := h.Guild(name)
	channel := guild.Channel("wednesday")
	return group{guild, channel, h.started(channel, "Lee Side Cap", sample(t, "lee-cap"))}
}

// knitter is somebody who has joined and is at a row; 0 is before the first.
func (h *house) knitter(g group, name string, row int) *discordtest.Person {
	h.t.Helper()
	p := g.guild.Member(name)
	h.joined(g.id, p, "Wedges", "medium")
	for range row {
		h.Uses(g.channel, p, "next").Answer()
	}
	h.isAt(g.id, p, "Wedges", row)
	return p
}

// TestWays goes through the ways of asking and what comes of each, in one evening
// with a group for each.
func TestWays(t *testing.T) {
	h := opened(t)
	for _, one := range []struct {
		name string
		test func(*testing.T, *house, group)
	}{
		{"a host starts", hostStarts},
		{"joining asks for the size", joiningAsksForTheSize},
		{"a double press moves once", doublePress},
		{"an old button moves nothing", oldButton},
		{"two phones at once", twoPhones},
		{"step by step", stepByStep},
		{"explaining", explaining},
		{"settings", settings},
		{"counting", counting},
		{"leaving and coming back", leaving},
		{"two knit-alongs", twoKnitalongs},
		{"what is nothing to the bot", nothingToTheBot},
	} {
		t.Run(one.name, func(t *testing.T) { one.test(t, h, h.group(t, one.name)) })
	}
}

// The card stands in the channel for everybody, once; the host alone is told the
// rest.
func hostStarts(t *testing.T, h *house, g group) {
	ana, wren := g.guild.Member("Ana Pell", discordtest.ManageEvents), g.guild.Member("Wren")
	thursday := g.guild.Channel("thursday")
	e := h.Uses(thursday, ana, "knitalong start", discordtest.With("sample", "gull-kerchief"), discordtest.With("name", "Gulls & *Friends*"))
	if told := h.hears(e, "Gulls", "has begun in this channel"); !told.Ephemeral {
		t.Error("what the host is told is there for all to see")
	}
	e.Answers(2)
	cards := h.SentIn(thursday)
	if len(cards) != 1 || !slices.Equal(cards[0].Buttons(), []string{"Join"}) || cards[0].Ephemeral {
		t.Fatalf("in the channel stand %+v, expected one card with a button Join", cards)
	}
	about := h.heldIn(thursday)
	if about.Title != "Gulls & *Friends*" || about.Host != member(ana) || about.Server != "discord:"+g.guild.ID {
		t.Errorf("found %+v", about)
	}
	asked := h.hears(h.PressOn(wren, cards[0], "Join"), "Which size do you knit?")
	h.hears(h.PressOn(wren, asked, "shawl"), "You have joined Gulls", "in size shawl", "next row")
	if state := h.state(about.ID, wren); !state.Joined || state.Row != 0 || state.Size != "shawl" {
		t.Errorf("Wren is at %+v, expected her to be before the first row of the shawl", state)
	}
}

func joiningAsksForTheSize(t *testing.T, h *house, g group) {
	wren, odo, tamsin := g.guild.Member("Wren"), g.guild.Member("Odo Marsh"), g.guild.Member("Tamsin Quay")
	e := h.Uses(g.channel, wren, "join")
	asked := h.hears(e, "child, medium and large. Which size do you knit?")
	if !asked.Ephemeral || !slices.Equal(asked.Buttons(), []string{"child", "medium", "large"}) {
		t.Errorf("found %+v, expected a button for each size, for her alone", asked)
	}
	if h.state(g.id, wren).Joined {
		t.Error("Wren has joined before she chose a size")
	}
	h.hears(h.PressOn(wren, asked, "large"), "You have joined Lee Side Cap in size large", "Cast on forty-six stitches", "say next row")
	h.hears(h.Uses(g.channel, odo, "join", discordtest.With("size", "Medium")), "You have joined Lee Side Cap in size medium")
	h.hears(h.SaysIn(g.channel, tamsin, "@clew join"), "Which size do you knit?")
	h.hears(h.SaysIn(g.channel, tamsin, "@clew child, please"), "You have joined Lee Side Cap in size child")
	for p, size := range map[*discordtest.Person]string{wren: "large", odo: "medium", tamsin: "child"} {
		if state := h.state(g.id, p); !state.Joined || state.Size != size || state.Row != 0 {
			t.Errorf("%s is at %+v, expected size %s before the first row", p.Name, state, size)
		}
	}
	h.hears(h.PressOn(wren, asked, "child"), "You have joined already")
	if size := h.state(g.id, wren).Size; size != "large" {
		t.Errorf("joining once more has changed the size to %s", size)
	}
}

func doublePress(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 1)
	under := h.Uses(g.channel, wren, "again").Answer()
	first, second := h.PressOn(wren, under, "Next row"), h.PressOn(wren, under, "Next row")
	h.hears(first, "Row two")
	h.hears(second, "That button stood under an earlier row, so nothing has moved. You are here.", "Row two")
	h.isAt(g.id, wren, "Wedges", 2)
}

func oldButton(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 1)
	old := h.Uses(g.channel, wren, "again").Answer()
	h.hears(h.Says(wren, "put me at row 7"), "Row seven")
	for _, label := range []string{"Next row", "Back"} {
		h.hears(h.PressOn(wren, old, label), "That button stood under an earlier row, so nothing has moved. You are here.", "Row seven")
		h.isAt(g.id, wren, "Wedges", 7)
	}
	for _, label := range []string{"Again", "Explain"} {
		h.PressOn(wren, old, label).Answer()
		h.isAt(g.id, wren, "Wedges", 7)
	}
	h.hears(h.Press(wren, "Next row"), "Row eight")
	h.isAt(g.id, wren, "Wedges", 8)
}

// Each of the requests is done, and each hears a row of its own.
func twoPhones(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 0)
	const pairs = 7 // as many as a lane holds
	var asked []*discordtest.Event
	for range pairs {
		asked = append(asked, h.Says(wren, "next row"), h.Uses(g.channel, wren, "next"))
	}
	heard := map[string]bool{}
	for _, e := range asked {
		row := rowOf(e.Answer().Small())
		if heard[row] {
			t.Errorf("%s was read to her twice", row)
		}
		heard[row] = true
	}
	if len(heard) != 2*pairs {
		t.Errorf("she heard %d rows, expected %d: %v", len(heard), 2*pairs, heard)
	}
	h.isAt(g.id, wren, "Wedges", 2*pairs)
}

// rowOf takes "row 5 of 198" out of the small print.
func rowOf(small string) string {
	for part := range strings.SplitSeq(small, ", ") {
		if strings.HasPrefix(part, "row ") || strings.HasPrefix(part, "round ") {
			return part
		}
	}
	return small
}

// All steps of a row together are the row.
func stepByStep(t *testing.T, h *house, g group) {
	thursday := g.guild.Channel("thursday")
	id := h.started(thursday, "Float Hat", sample(t, "float-hat"))
	wren := g.guild.Member("Wren")
	h.joined(id, wren, "Brim", "small")
	h.hears(h.Uses(thursday, wren, "at", discordtest.With("number", 5), discordtest.With("section", "Floats")), "You have moved.")
	whole := answered(h.Press(wren, "Again"))
	first := h.Press(wren, "Step by step").Answer()
	if !slices.Contains(first.Buttons(), "Whole rows") {
		t.Errorf("the buttons are %q, expected one for whole rows", first.Buttons())
	}
	_, steps, ok := strings.Cut(first.Said(), "back for the one before. ")
	if !ok {
		t.Fatalf("heard %q", first.Said())
	}
	for n := 1; steps != whole && n < 30; n++ {
		step := h.Press(wren, "Next row").Answer()
		if at := h.state(id, wren).Place; at.Row != 5 || at.Step != n {
			t.Fatalf("after %d steps she is at %+v, and has heard\n%q of\n%q", n, at, steps, whole)
		}
		steps += " " + step.Said()
	}
	if steps != whole {
		t.Errorf("the steps are\n%q, expected\n%q", steps, whole)
	}
	h.hears(h.Press(wren, "Whole rows"), "From now on you hear whole rounds.", whole)
	h.isAt(id, wren, "Floats", 5)
}

// What completes itself are the stitches of her own pattern.
func explaining(t *testing.T, h *house, g group) {
	thursday := g.guild.Channel("thursday")
	id := h.started(thursday, "Float Hat", sample(t, "float-hat"))
	wren := g.guild.Member("Wren")
	h.joined(id, wren, "Brim", "small")
	offered := h.TypesIn(thursday, wren, "explain", "stitch", "2/1").Suggestions()
	if len(offered) < 2 {
		t.Fatalf("offered are %+v, expected the crosses of the hat", offered)
	}
	for _, one := range offered {
		if !strings.HasPrefix(one.Label, "2/1") {
			t.Errorf("%q is offered for 2/1", one.Label)
		}
		value, _ := one.Value.(string)
		h.hears(h.Uses(thursday, wren, "explain", discordtest.With("stitch", value)), "cable needle")
	}
	if all := h.Types(wren, "explain", "stitch", "").Suggestions(); len(all) == 0 || len(all) > 25 {
		t.Errorf("%d stitches are offered for nothing typed", len(all))
	}
	if none := h.Types(wren, "explain", "stitch", "herring `@everyone`").Suggestions(); len(none) != 0 {
		t.Errorf("%+v is offered for no stitch", none)
	}
	h.hears(h.Uses(thursday, wren, "explain", discordtest.With("stitch", "herring @everyone <@1>")), "I do not know a stitch called")
	stranger := g.guild.Member("Odo Marsh")
	if known := h.Types(stranger, "explain", "stitch", "k2").Suggestions(); len(known) == 0 {
		t.Error("nothing is offered to one who has not joined")
	}
	h.isAt(id, wren, "Brim", 0)
}

func settings(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 3)
	m := h.hears(h.Uses(g.channel, wren, "settings"), "You hear whole rows", "You knit size medium")
	for _, label := range []string{"Step by step", "Full crosses", "Short crosses", "Hide my name", "No rests", "child", "large"} {
		if !slices.Contains(m.Buttons(), label) && !slices.Contains(m.Options(), label) {
			t.Errorf("the settings have the buttons %q and the options %q, expected %q", m.Buttons(), m.Options(), label)
		}
	}
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("size", "large")), "You now knit size large")
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("crosses", "short")), "From now on you hear crosses by their names")
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("rows", "steps")), "From now on you hear each row step by step")
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("rows", "steps"), discordtest.With("crosses", "full")), "one setting at a time")
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("board", "hidden")), "your name does not stand on the board")
	h.hears(h.Uses(g.channel, wren, "settings", discordtest.With("rests", "off")), "rest")
	state := h.state(g.id, wren)
	if state.Size != "large" || state.Settings["crosses"] != "short" || state.Settings["reading"] != "steps" || state.Settings["board"] != "hidden" || state.Settings["rest"] != "off" || state.Row != 3 {
		t.Errorf("found %+v", state)
	}
}

func counting(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 2)
	h.hears(h.Uses(g.channel, wren, "count", discordtest.With("stitches", 42)), "Forty-two is right")
	h.hears(h.SaysIn(g.channel, wren, "@clew I count 41"), "There should be forty-two stitches")
	h.hears(h.Uses(g.channel, wren, "count"), "There should be forty-two stitches")
	h.isAt(g.id, wren, "Wedges", 2)
}

func leaving(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 4)
	left := h.hears(h.Uses(g.channel, wren, "leave"), "You have left Lee Side Cap. Your place is kept")
	if h.state(g.id, wren).Joined {
		t.Error("Wren has left and is still a member")
	}
	h.hears(h.Uses(g.channel, wren, "next"), "You have not joined Lee Side Cap. Nothing has moved.")
	h.hears(h.PressOn(wren, left, "Join"), "Welcome back to Lee Side Cap in size medium")
	h.isAt(g.id, wren, "Wedges", 4)
	h.hears(h.Says(wren, "forget me"), "This deletes your place")
	h.isAt(g.id, wren, "Wedges", 4)
	h.hears(h.Says(wren, "yes, forget me"), "All that was kept of you in Lee Side Cap is deleted")
	if state := h.state(g.id, wren); state.Joined || state.Section != "" {
		t.Errorf("after forgetting her there is %+v", state)
	}
	if key := string(member(wren)); strings.Contains(strings.Join(keysOf(h.dump()), " "), key) {
		t.Errorf("%s is still in the name of a key: %q", key, keysOf(h.dump()))
	}
	h.hears(h.Says(wren, "next row"), "not joined")
}

func keysOf(dump map[string]any) []string {
	var keys []string
	for key := range dump {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// One who has joined two is asked which once, and then goes on in it until she
// chooses the other. In a channel she is asked nothing.
func twoKnitalongs(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 2)
	thursday := g.guild.Channel("thursday")
	hat := h.started(thursday, "Float Hat", sample(t, "float-hat"))
	h.hears(h.Uses(thursday, wren, "join", discordtest.With("size", "small")), "You have joined Float Hat in size small")
	asked := h.hears(h.Says(wren, "next row"), "You have joined two knit-alongs", "Which one do you mean? Nothing has moved.")
	if !slices.Equal(asked.Buttons(), []string{"Float Hat", "Lee Side Cap"}) {
		t.Errorf("she is asked with the buttons %q", asked.Buttons())
	}
	h.isAt(g.id, wren, "Wedges", 2)
	h.isAt(hat, wren, "Brim", 0)
	h.hears(h.PressOn(wren, asked, "Float Hat"), "You are now on Float Hat")
	h.hears(h.Says(wren, "next row"), "Round one, Brim")
	h.hears(h.Says(wren, "next row"), "Round two, Brim")
	h.isAt(hat, wren, "Brim", 2)
	h.hears(h.Uses(g.channel, wren, "next"), "Row three")
	h.isAt(g.id, wren, "Wedges", 3)
	h.hears(h.Uses(h.DM(wren), wren, "switch", discordtest.With("knitalong", "lee side cap")), "You are now on Lee Side Cap", "row three")
	h.hears(h.Says(wren, "next row"), "Row four")
	h.hears(h.Says(wren, "switch to the float hat"), "You are now on Float Hat")
	h.hears(h.Says(wren, "next row"), "Round three, Brim")
	h.isAt(g.id, wren, "Wedges", 4)
	h.isAt(hat, wren, "Brim", 3)
}

// What others write in the channel is answered by nobody, nor is what a bot
// writes, or what the platform tells of in a channel.
func nothingToTheBot(t *testing.T, h *house, g group) {
	wren := h.knitter(g, "Wren", 1)
	before := h.Count(discordtest.AnyRoute)
	h.SaysIn(g.channel, wren, "next row")
	h.SaysIn(g.channel, wren, "I told <@"+wren.ID+"> next row")
	author := map[string]any{"id": wren.ID, "username": "wren"}
	h.Dispatch(0, "MESSAGE_CREATE", map[string]any{"id": "1", "channel_id": h.DM(wren).ID, "content": "next row", "type": 0}) // by nobody
	h.Dispatch(0, "MESSAGE_CREATE", map[string]any{"id": "2", "channel_id": h.DM(wren).ID, "content": "next row", "type": 7, "author": author})
	h.Dispatch(0, "MESSAGE_CREATE", map[string]any{"id": "3", "channel_id": h.DM(wren).ID, "content": "next row", "type": 0, "webhook_id": "9", "author": author})
	h.Dispatch(0, "MESSAGE_CREATE", map[string]any{"id": "4", "channel_id": h.DM(wren).ID, "content": "next row", "type": 0, "author": map[string]any{"id": "5", "username": "other", "bot": true}})
	h.Dispatch(0, "INTERACTION_CREATE", map[string]any{"id": "6", "type": 1, "token": "ping"})
	h.hears(h.Says(wren, "next row"), "Row two") // all before it has been served, if any was
	h.isAt(g.id, wren, "Wedges", 2)
	if calls := h.Count(discordtest.AnyRoute) - before; calls > 2 { // opening the conversation, and the answer
		t.Errorf("%d calls were made, expected those of one answer", calls)
	}
}
