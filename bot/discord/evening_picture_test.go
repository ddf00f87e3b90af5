package discord_test

import (
	"bytes"
	"fmt"
	"image/png"
	"strings"
	"testing"

	"clew/bot/discord/discordtest"
	"clew/patterns"
	"clew/patterns/samples"
)

// pictured fails where an answer has not one picture that the platform takes and a
// phone shows whole, with words for those who don't see it.
func (h *house) pictured(m discordtest.Message) discordtest.File {
	h.t.Helper()
	if len(m.Files) != 1 {
		h.t.Fatalf("%q stands with %d files, expected a picture", m.Said(), len(m.Files))
	}
	f := m.Files[0]
	shown, err := png.Decode(bytes.NewReader(f.Data))
	if err != nil {
		h.t.Fatalf("%s is no PNG: %v", f.Name, err)
	}
	const width, height, most = 1200, 4096, 10 << 20 // 10 MiB: documentation, "Uploading Files"; as noted in shared/DISCORD.md
	size, fabric := shown.Bounds().Size(), strings.HasSuffix(f.Name, "-fabric.png")
	if size.X > width || size.X < width && !fabric || size.Y > height || len(f.Data) > most { // fabric is as wide as its stitches
		h.t.Errorf("%s measures %v in %d bytes", f.Name, size, len(f.Data))
	}
	if f.ContentType != "image/png" || !strings.HasSuffix(f.Name, ".png") {
		h.t.Errorf("%q is sent as %q", f.Name, f.ContentType)
	}
	checkSaid(h.t, f.Description)
	if !strings.HasPrefix(f.Description, m.Said()) {
		h.t.Errorf("what is said is %q, and the picture is described by %q", m.Said(), f.Description)
	}
	return f
}

// floats starts a knit-along of the hat, with a member at a row of its floats.
func (h *house) floats(guild *discordtest.Guild, name string, row int) (ch *discordtest.Channel, id string, p *discordtest.Person) {
	h.t.Helper()
	ch, p = guild.Channel("floats"), guild.Member(name)
	id = h.started(ch, "Float Hat", sample(h.t, "float-hat"))
	h.joined(id, p, "Brim", "small")
	h.Uses(ch, p, "at", discordtest.With("number", row), discordtest.With("section", "Floats")).Answer()
	h.isAt(id, p, "Floats", row)
	return ch, id, p
}

// A picture is for the one who asked, however she asked, and moves nothing.
func TestPictures(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	ch, id, wren := h.floats(h.Guild("Tibberhythe"), "Wren", 12)
	h.unchangedPlace(id, wren, func() {
		chart := h.hears(h.Uses(ch, wren, "picture"), "Rounds one to twenty-four of Floats")
		if f := h.pictured(chart); !chart.Ephemeral || !strings.Contains(f.Description, "Your round, twelve, is marked.") {
			t.Errorf("found %+v, described by %q", chart, f.Description)
		}
		fabric := h.hears(h.PressOn(wren, chart, "Fabric"), "The fabric")
		if f := h.pictured(fabric); !fabric.Ephemeral || f.Name == chart.Files[0].Name {
			t.Errorf("found %+v", fabric)
		}
		if again := h.PressOn(wren, fabric, "Chart").Answer(); !bytes.Equal(h.pictured(again).Data, chart.Files[0].Data) {
			t.Error("the chart is another when it is asked for by the button")
		}
		private := h.hears(h.SaysIn(ch, wren, "@clew show me the chart"), "Rounds one to twenty-four of Floats")
		if h.pictured(private); private.Guild != "" {
			t.Errorf("what was asked by a mention is shown in %q", private.Channel)
		}
		h.pictured(h.hears(h.Says(wren, "what should it look like"), "The fabric"))
		if row := h.hears(h.Uses(ch, wren, "picture", discordtest.With("number", 99)), "There is no round ninety-nine"); len(row.Files) > 0 {
			t.Error("there is a picture of no round")
		}
		h.hears(h.Uses(ch, wren, "picture", discordtest.With("section", "crwn")), "Did you mean Crown?")
	})
	// The buttons below a picture are those of the row where she was.
	old := h.Uses(ch, wren, "picture").Answer()
	h.hears(h.PressOn(wren, old, "Next row"), "Round thirteen, Floats.")
	h.hears(h.PressOn(wren, old, "Next row"), "That button stood under an earlier row, so nothing has moved. You are here.", "Round thirteen, Floats.")
	if now := h.pictured(h.PressOn(wren, old, "Fabric").Answer()); !strings.Contains(now.Description, "Your round, thirteen, is marked.") {
		t.Errorf("the button below an old picture shows %q", now.Description)
	}
	h.isAt(id, wren, "Floats", 13)
}

// unchangedPlace fails where what is done changes somebody's place.
func (h *house) unchangedPlace(id string, p *discordtest.Person, do func()) {
	h.t.Helper()
	before := h.state(id, p).Place
	do()
	if after := h.state(id, p).Place; after != before {
		h.t.Errorf("%s was at %+v, and is at %+v", p.Name, before, after)
	}
}

// A picture that comes after a deferral, or through calls that fail, is there once.
func TestPicturesComeLater(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	ch, id, wren := h.floats(h.Guild("Tibberhythe"), "Wren", 3)
	release := h.hold()
	next, shown := h.Uses(ch, wren, "next"), h.Uses(ch, wren, "picture")
	for _, e := range []*discordtest.Event{next, shown} {
		if kind, after := e.Callback(); kind != 5 || after > firstWithin {
			t.Errorf("the first answer is of kind %d and came after %v, expected a deferral within %v", kind, after, firstWithin)
		}
	}
	h.Fail(discordtest.EditAnswer, 500, 1)
	h.CutAnswers(discordtest.EditAnswer, 1)
	release()
	h.hears(next, "Round four, Floats.")
	m := h.hears(shown, "Rounds one to twenty-four of Floats", "Your round, four, is marked.")
	if h.pictured(m); !m.Ephemeral || len(shown.Answered()) != 1 {
		t.Errorf("in place of the deferral came %d messages: %+v", len(shown.Answered()), m)
	}
	for _, one := range []struct {
		name string
		ask  func() *discordtest.Event
	}{
		{"a command fails", func() *discordtest.Event { h.Fail(discordtest.Callback, 502, 1); return h.Uses(ch, wren, "picture") }},
		{"a command's call is cut off", func() *discordtest.Event { h.CutAnswers(discordtest.Callback, 1); return h.Uses(ch, wren, "picture") }},
		{"a message fails", func() *discordtest.Event { h.Fail(discordtest.Send, 500, 1); return h.Says(wren, "show me the chart") }},
		{"a message's call is cut off", func() *discordtest.Event { h.CutAnswers(discordtest.Send, 1); return h.Says(wren, "show me the chart") }},
	} {
		before := len(h.Sent(wren))
		h.pictured(one.ask().Answer())
		if n := len(h.Sent(wren)) - before; n != 1 {
			t.Errorf("%s: she was sent %d messages, expected one", one.name, n)
		}
	}
	// The same event once more gets the same picture, in place of the first.
	e := h.Uses(ch, wren, "picture")
	first := h.pictured(e.Answer())
	h.Replay(e)
	h.Until("the answer to be given once more", func() bool { return e.Answer().Edits > 0 })
	if again := h.pictured(e.Answer()); !bytes.Equal(again.Data, first.Data) || len(e.Answered()) != 1 {
		t.Errorf("the event came again and is answered %d times", len(e.Answered()))
	}
	h.isAt(id, wren, "Floats", 4)
}

// Every section of every sample can be seen, in both looks.
func TestPicturesOfAllSamples(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	guild := h.Guild("Tibberhythe")
	wren := guild.Member("Wren")
	for _, s := range samples.All() {
		p, _ := patterns.Read([]byte(s.Text)) // samples have no problems
		size := ""
		if len(p.Sizes) > 0 {
			size = p.Sizes[len(p.Sizes)-1]
		}
		ch := guild.Channel(s.Name)
		h.joined(h.started(ch, p.Title, s.Text), wren, p.Sections[0].Name, size)
		for i, section := range p.Sections {
			look := []string{"chart", "fabric"}[i%2]
			m := h.Uses(ch, wren, "picture", discordtest.With("section", section.Name), discordtest.With("look", look)).Answer()
			h.pictured(h.PressOn(wren, m, map[string]string{"chart": "Fabric", "fabric": "Chart"}[look]).Answer())
			h.pictured(m)
		}
	}
}

// Rows are left out by a menu where there are several choices, once.
func TestLeavingOutByMenu(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	ch, id, wren := h.floats(h.Guild("Tibberhythe"), "Wren", 12)
	m := h.hears(h.Uses(ch, wren, "fit", discordtest.With("section", "slack water")), "you may leave out two, four or six")
	if menu := m.Rows[0][0]; menu.Placeholder != "Choose what to leave out" || len(menu.Options) != 3 {
		t.Errorf("the menu is %+v", menu)
	}
	full := h.state(id, wren).Place
	h.hears(h.ChooseOn(wren, m, "Leave out 4 of Slack water"), "From now on you leave out rounds three to six of Slack water.", "You are still at round twelve of Floats.")
	less := h.state(id, wren).Place
	if less.LeftOut == "" || less.Section != "Floats" || less.Row != 12 {
		t.Errorf("she was at %+v, and is at %+v", full, less)
	}
	h.hears(h.ChooseOn(wren, m, "Leave out 4 of Slack water"), "You leave those rounds out already. Nothing has moved.")
	h.hears(h.ChooseOn(wren, m, "Leave out 6 of Slack water"), "rounds one to six of Slack water")
	h.hears(h.Uses(ch, wren, "undo"), "Your last move is taken back.")
	if now := h.state(id, wren).Place; now != less {
		t.Errorf("after undo she is at %+v, expected %+v", now, less)
	}
	h.hears(h.ForgesChoice(wren, m, fmt.Sprintf("am/fit/%s/", id), "out.0-4.00000000"), "What that button offered can't be left out")
	h.hears(h.ForgesPress(wren, m, fmt.Sprintf("ab/fit/%s//out.9-9999_x-1.", id)), "What that button offered can't be left out")
	if now := h.state(id, wren).Place; now != less {
		t.Errorf("a forged choice has moved her to %+v", now)
	}
}
