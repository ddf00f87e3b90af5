package discord

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"
	"pgregory.net/rapid"

	"clew/bot"
	"clew/reader/listen"
)

const quayID, quayMark = "kabcdefghijkl", "0a1b2c3d.zz.9"

func TestPressIDs(t *testing.T) {
	for _, c := range []struct {
		what, knitalong, mark string
		choice                bot.Choice
		want                  string
	}{
		{"next under a row", quayID, quayMark, bot.Choice{Label: "Next row", Intent: listen.Next}, "ab/next/kabcdefghijkl/0a1b2c3d.zz.9/"},
		{"a size", quayID, "", bot.Choice{Label: "Medium", Intent: listen.Join, Value: "0a1b2c3d"}, "ab/join/kabcdefghijkl//0a1b2c3d"},
		{"which knit-along", "", "", bot.Choice{Label: "Lee Side Cap", Intent: listen.Switch, Value: quayID}, "ab/switch///kabcdefghijkl"},
		{"which to join", "", "", bot.Choice{Label: "Lee Side Cap", Intent: listen.Join, Value: "id:" + quayID}, "ab/join///id:kabcdefghijkl"},
		{"a host's", quayID, "", bot.Choice{Label: "Close it", Intent: listen.Knitalong, Value: "close:" + quayID}, "ab/knitalong/kabcdefghijkl//close:kabcdefghijkl"},
		{"as long as can be", quayID, strings.Repeat("z", 24), bot.Choice{Intent: listen.Knitalong, Value: strings.Repeat("v", 48)},
			"ab/knitalong/kabcdefghijkl/" + strings.Repeat("z", 24) + "/" + strings.Repeat("v", 48)},
		{"longer", quayID, strings.Repeat("z", 24), bot.Choice{Intent: listen.Knitalong, Value: strings.Repeat("v", 49)}, ""},
		{"a value that can't stand in one", quayID, "", bot.Choice{Intent: listen.Explain, Value: "2/2 RC"}, ""},
		{"a mark that can't", quayID, "Brim 1", bot.Choice{Intent: listen.Next}, ""},
		{"an id that can't", "a/b", "", bot.Choice{Intent: listen.Next}, ""},
		{"nothing that is asked", quayID, "", bot.Choice{Intent: listen.Unsure}, ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			id := encodePress(c.knitalong, c.mark, c.choice)
			if id != c.want {
				t.Fatalf("found %q, expected %q", id, c.want)
			}
			if id == "" {
				return
			}
			found, err := decodePress(id)
			want := press{Knitalong: c.knitalong, Mark: c.mark, Choice: bot.Choice{Intent: c.choice.Intent, Value: c.choice.Value}}
			if err != nil || found != want {
				t.Errorf("read back as %+v, %v", found, err)
			}
		})
	}
}

// TestPressableIntents says that whatever can be asked can be a choice.
func TestPressableIntents(t *testing.T) {
	for _, r := range listen.Requests() {
		if !slices.Contains(pressable, r.Intent) {
			t.Errorf("%s can be asked for, and not be pressed", r.Intent)
		}
	}
}

func TestPressed(t *testing.T) {
	button, menu := discordgo.ButtonComponent, discordgo.SelectMenuComponent
	next, join := "ab/next/"+quayID+"/"+quayMark+"/", "am/join/"+quayID+"/"
	for _, c := range []struct {
		what   string
		kind   discordgo.ComponentType
		id     string
		values []string
		want   press
		wrong  bool
	}{
		{what: "a button", kind: button, id: next, want: press{Knitalong: quayID, Mark: quayMark, Choice: bot.Choice{Intent: listen.Next}}},
		{what: "a menu", kind: menu, id: join, values: []string{"0a1b2c3d"}, want: press{Knitalong: quayID, Choice: bot.Choice{Intent: listen.Join, Value: "0a1b2c3d"}, menu: true}},
		{what: "a menu with nothing chosen", kind: menu, id: join, wrong: true},
		{what: "a menu with two chosen", kind: menu, id: join, values: []string{"a", "b"}, wrong: true},
		{what: "a menu with a made-up value", kind: menu, id: join, values: []string{"a b"}, wrong: true},
		{what: "a menu with a long value", kind: menu, id: join, values: []string{strings.Repeat("a", 65)}, wrong: true},
		{what: "a menu that says it is a button", kind: button, id: join, wrong: true},
		{what: "a button that says it is a menu", kind: menu, id: next, values: []string{"a"}, wrong: true},
		{what: "a button with a value beside", kind: button, id: next, values: []string{"a"}, wrong: true},
		{what: "a menu of members", kind: discordgo.UserSelectMenuComponent, id: join, values: []string{"1"}, wrong: true},
		{what: "no id", kind: button, wrong: true},
		{what: "words", kind: button, id: "next row", wrong: true},
		{what: "another version", kind: button, id: "bb/next///", wrong: true},
		{what: "too few parts", kind: button, id: "ab/next//", wrong: true},
		{what: "too many parts", kind: button, id: "ab/next////", wrong: true},
		{what: "no intent", kind: button, id: "ab////", wrong: true},
		{what: "an intent that there is not", kind: button, id: "ab/delete///", wrong: true},
		{what: "an intent that asks nothing", kind: button, id: "ab/unsure///", wrong: true},
		{what: "an intent in capitals", kind: button, id: "ab/Next///", wrong: true},
		{what: "a long mark", kind: button, id: "ab/next//" + strings.Repeat("a", 25) + "/", wrong: true},
		{what: "control characters", kind: button, id: "ab/next/\x00//", wrong: true},
		{what: "other letters", kind: button, id: "ab/next/ñ//", wrong: true},
		{what: "a brace, as in a key of the store", kind: button, id: "ab/next/{k}//", wrong: true},
		{what: "longer than the platform allows", kind: button, id: "ab/next/" + strings.Repeat("a", 60) + "//" + strings.Repeat("1", 40), wrong: true},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, err := pressed(discordgo.MessageComponentInteractionData{CustomID: c.id, ComponentType: c.kind, Values: c.values})
			if wrong := errors.Is(err, notPressed); wrong != c.wrong || found != c.want {
				t.Errorf("found %+v, %v", found, err)
			}
		})
	}
}

// TestPressRoundTrip holds for all that the bot may put on a button.
func TestPressRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := press{
			Knitalong: rapid.StringMatching(`(k[a-z0-9]{12})?`).Draw(t, "knit-along"),
			Mark:      rapid.StringMatching(`([0-9a-f]{8}\.[0-9a-z]{1,7}\.[0-9a-z]{1,7})?`).Draw(t, "mark"),
			Choice: bot.Choice{
				Intent: rapid.SampledFrom(pressable).Draw(t, "intent"),
				Value:  rapid.StringMatching(`[A-Za-z0-9.:_-]{0,40}`).Draw(t, "value"),
			},
		}
		id := encodePress(p.Knitalong, p.Mark, p.Choice)
		if found, err := decodePress(id); err != nil || found != p {
			t.Fatalf("%q is read as %+v, %v", id, found, err)
		}
		p.menu = true
		id = encodeMenu(p.Knitalong, p.Mark, p.Choice.Intent)
		data := discordgo.MessageComponentInteractionData{CustomID: id, ComponentType: discordgo.SelectMenuComponent, Values: []string{p.Choice.Value}}
		if found, err := pressed(data); err != nil || found != p {
			t.Fatalf("%q with %q is read as %+v, %v", id, p.Choice.Value, found, err)
		}
	})
}

// FuzzPress says that what is read was written so, letter by letter, and that
// all else is refused.
func FuzzPress(f *testing.F) {
	for _, seed := range []string{"", "ab/next/kabcdefghijkl/0a1b2c3d.1.0/", "am/join/kabcdefghijkl/", "ab/next///", "ab/next", "ab/unsure///", "zz/next///"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, id string) {
		p, err := decodePress(id)
		switch {
		case err != nil && (!errors.Is(err, notPressed) || p != press{}):
			t.Fatalf("%q is refused with %v and %+v", id, err, p)
		case err == nil && encode(p) != id:
			t.Fatalf("%q is read as %+v, which is written %q", id, p, encode(p))
		case err == nil && (len(id) > 100 || strings.ContainsFunc(id, func(r rune) bool { return r <= ' ' || r > '~' })):
			t.Fatalf("%q is taken", id)
		}
	})
}
