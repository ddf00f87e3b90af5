package discord

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"

	"clew/bot"
	"clew/reader/listen"
)

// used reads the data of a command as the platform sends it.
func used(t *testing.T, data string) discordgo.ApplicationCommandInteractionData {
	t.Helper()
	var read discordgo.ApplicationCommandInteractionData
	if err := json.Unmarshal([]byte(data), &read); err != nil {
		t.Fatal(err)
	}
	return read
}

// with writes the data of a command with its options, each in JSON.
func with(name string, options ...string) string {
	return fmt.Sprintf(`{"id": "1", "name": %q, "type": 1, "options": [%s]}`, name, strings.Join(options, ", "))
}

func asked(h listen.Heard) bot.Ask {
	h.Sure = true
	return bot.Ask{Heard: &h}
}

func named(intent listen.Intent, name string) bot.Ask {
	ask := asked(listen.Heard{Intent: intent})
	ask.Name = name
	return ask
}

func TestHeard(t *testing.T) {
	for _, c := range []struct {
		what, data string
		want       bot.Ask
	}{
		{"next", `{"id": "1", "name": "next", "type": 1}`, asked(listen.Heard{Intent: listen.Next})},
		{"help, its options null", `{"name": "help", "type": 1, "options": null}`, asked(listen.Heard{Intent: listen.Help})},
		{"a row", with("row", `{"name": "number", "type": 4, "value": 12}`), asked(listen.Heard{Intent: listen.Row, Number: 12, HasNumber: true})},
		{"the largest row", with("at", `{"name": "number", "type": 4, "value": 5000}`), asked(listen.Heard{Intent: listen.At, Number: 5000, HasNumber: true})},
		{"a row of a section", with("at", `{"name": "section", "type": 3, "value": " Heel  Flap"}`, `{"name": "number", "type": 4, "value": 1}`),
			asked(listen.Heard{Intent: listen.At, Number: 1, HasNumber: true, Section: "heel flap"})},
		{"a count", with("count", `{"name": "stitches", "type": 4, "value": 95}`), asked(listen.Heard{Intent: listen.Count, Number: 95, HasNumber: true})},
		{"a count of none", with("count", `{"name": "stitches", "type": 4, "value": 0}`), asked(listen.Heard{Intent: listen.Count, HasNumber: true})},
		{"a count that asks", with("count"), asked(listen.Heard{Intent: listen.Count})},
		{"explain", with("explain"), asked(listen.Heard{Intent: listen.Explain})},
		{"explain a cross", with("explain", `{"name": "stitch", "type": 3, "value": "2/2 RC"}`), asked(listen.Heard{Intent: listen.Explain, Stitch: "2/2 RC"})},
		{"explain, and a request in the name", with("explain", `{"name": "stitch", "type": 3, "value": "yo, next row!"}`), asked(listen.Heard{Intent: listen.Explain, Stitch: "yo, next row!"})},
		{"settings", with("settings"), asked(listen.Heard{Intent: listen.Settings})},
		{"steps", with("settings", `{"name": "rows", "type": 3, "value": "steps"}`), asked(listen.Heard{Intent: listen.Steps})},
		{"whole rows", with("settings", `{"name": "rows", "type": 3, "value": "rows"}`), asked(listen.Heard{Intent: listen.Rows})},
		{"crosses", with("settings", `{"name": "crosses", "type": 3, "value": "short"}`), bot.Ask{Words: "short crosses"}},
		{"a size", with("settings", `{"name": "size", "type": 3, "value": "Medium"}`), named(listen.Fit, "Medium")},
		{"join", with("join"), asked(listen.Heard{Intent: listen.Join})},
		{"join in a size", with("join", `{"name": "size", "type": 3, "value": "42; long"}`), named(listen.Join, "42; long")},
		{"join in a size of stops", with("join", `{"name": "size", "type": 3, "value": "..."}`), named(listen.Join, "...")},
		{"a size that is another request", with("settings", `{"name": "size", "type": 3, "value": "step by step"}`), named(listen.Fit, "step by step")},
		{"switch", with("switch"), asked(listen.Heard{Intent: listen.Switch})},
		{"switch by a title", with("switch", `{"name": "knitalong", "type": 3, "value": "Lee Side Cap"}`), named(listen.Switch, "Lee Side Cap")},
		{"switch by a title that is another request", with("switch", `{"name": "knitalong", "type": 3, "value": "row 2"}`), named(listen.Switch, "row 2")},
		{"hide me", with("settings", text("board", "hidden")), asked(listen.Heard{Intent: listen.Settings, Setting: listen.HideMe})},
		{"show me", with("settings", text("board", "shown")), asked(listen.Heard{Intent: listen.Settings, Setting: listen.ShowMe})},
		{"rests", with("settings", text("rests", "on")), asked(listen.Heard{Intent: listen.Settings, Setting: listen.Rests})},
		{"no rests", with("settings", text("rests", "off")), asked(listen.Heard{Intent: listen.Settings, Setting: listen.NoRests})},
		{"a type left out", `{"name": "next"}`, asked(listen.Heard{Intent: listen.Next})},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, err := heard(used(t, c.data))
			if err != nil || !reflect.DeepEqual(found, c.want) {
				t.Errorf("found %+v (%+v), %v", found, found.Heard, err)
			}
		})
	}
}

// TestEveryRequestIsHeard says that a command without options asks for what its
// table says.
func TestEveryRequestIsHeard(t *testing.T) {
	for _, r := range listen.Requests() {
		if r.Host || r.Intent == listen.Row || r.Intent == listen.At {
			continue
		}
		found, err := heard(used(t, with(r.Name)))
		if err != nil || !reflect.DeepEqual(found, asked(listen.Heard{Intent: r.Intent})) {
			t.Errorf("%s: found %+v, %v", r.Name, found, err)
		}
	}
}

func TestForgedCommands(t *testing.T) {
	const number, stitches = `{"name": "number", "type": 4, "value": 12}`, `{"name": "stitches", "type": 4, "value": `
	for _, c := range []struct{ what, data, want string }{
		{"no name", `{}`, string(noSuchCommand)},
		{"a name that there is not", with("purl"), string(noSuchCommand)},
		{"a name in capitals", with("Next"), string(noSuchCommand)},
		{"the host's", with(hostCommand), string(noSuchCommand)},
		{"a command on a member", `{"name": "next", "type": 2, "target_id": "1"}`, string(noSuchCommand)},
		{"an option too many", with("next", number), "Something came with slash next that does not belong to it. Nothing has moved. Please give it once more."},
		{"an option that is null", with("next", "null"), "Something came with slash next that does not belong to it. Nothing has moved. Please give it once more."},
		{"no row", with("row"), "Slash row takes the number of a row, from one to five thousand, and it did not come. Nothing has moved. Please give it once more."},
		{"a section alone", with("at", `{"name": "section", "type": 3, "value": "Brim"}`), "Slash at takes the number of a row, from one to five thousand, and it did not come. Nothing has moved. Please give it once more."},
		{"the same twice", with("at", number, number), "Something came with slash at that does not belong to it. Nothing has moved. Please give it once more."},
		{"a row in words", with("at", `{"name": "number", "type": 4, "value": "12"}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row of another type", with("at", `{"name": "number", "type": 3, "value": "12"}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row that says it is a text", with("at", `{"name": "number", "type": 3, "value": 12}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"half a row", with("at", `{"name": "number", "type": 4, "value": 1.5}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"row zero", with("at", `{"name": "number", "type": 4, "value": 0}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row too far", with("at", `{"name": "number", "type": 4, "value": 5001}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row without end", with("at", `{"name": "number", "type": 4, "value": 1e300}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row that is nothing", with("at", `{"name": "number", "type": 4, "value": null}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row that is a list", with("at", `{"name": "number", "type": 4, "value": [12]}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"a row with options", with("at", `{"name": "number", "type": 4, "value": 12, "options": [{"name": "a"}]}`), "Slash at takes the number of a row, from one to five thousand, and something else came. Nothing has moved. Please give it once more."},
		{"fewer stitches than none", with("count", stitches+`-1}`), "Slash count takes a number of stitches from zero to nine thousand nine hundred and ninety-nine, and something else came. Nothing has moved. Please give it once more."},
		{"more stitches than can be", with("count", stitches+`10000}`), "Slash count takes a number of stitches from zero to nine thousand nine hundred and ninety-nine, and something else came. Nothing has moved. Please give it once more."},
		{"a stitch of no characters", with("explain", `{"name": "stitch", "type": 3, "value": " \u200b "}`), "Slash explain takes the name of a stitch in at most one hundred characters, and something else came. Nothing has moved. Please give it once more."},
		{"a stitch too long", with("explain", `{"name": "stitch", "type": 3, "value": "`+strings.Repeat("k", 101)+`"}`), "Slash explain takes the name of a stitch in at most one hundred characters, and something else came. Nothing has moved. Please give it once more."},
		{"a stitch that is a number", with("explain", `{"name": "stitch", "type": 3, "value": 2}`), "Slash explain takes the name of a stitch in at most one hundred characters, and something else came. Nothing has moved. Please give it once more."},
		{"a way that there is not", with("settings", `{"name": "rows", "type": 3, "value": "slowly"}`), "Slash settings takes step by step or whole rows, and something else came. Nothing has moved. Please give it once more."},
		{"crosses in a way that there is not", with("settings", `{"name": "crosses", "type": 3, "value": "Full"}`), "Slash settings takes full, short or usual, and something else came. Nothing has moved. Please give it once more."},
		{"two settings", with("settings", `{"name": "rows", "type": 3, "value": "rows"}`, `{"name": "size", "type": 3, "value": "medium"}`), string(oneSetting)},
		{"a setting beside another", with("settings", text("board", "hidden"), text("rests", "off")), string(oneSetting)},
		{"a board that there is not", with("settings", text("board", "gone")), "Slash settings takes hidden or shown, and something else came. Nothing has moved. Please give it once more."},
		{"rests now and then", with("settings", text("rests", "now")), "Slash settings takes on or off, and something else came. Nothing has moved. Please give it once more."},
		{"a day too long", with("catchup", text("until", strings.Repeat("k", 101))), "Slash catchup takes the name of a day in at most one hundred characters, and something else came. Nothing has moved. Please give it once more."},
		{"a day that there is not", with("catchup", text("until", "herring")), string(noSuchDay)},
		{"a request in place of a day", with("catchup", text("until", "next row")), string(noSuchDay)},
		{"a title too long", with("switch", `{"name": "knitalong", "type": 3, "value": "`+strings.Repeat("k", 101)+`"}`), "Slash switch takes the title of a knit-along in at most one hundred characters, and something else came. Nothing has moved. Please give it once more."},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, err := heard(used(t, c.data))
			checkRefused(t, err, c.want)
			if !reflect.DeepEqual(found, bot.Ask{}) {
				t.Errorf("something is asked all the same: %+v", found)
			}
		})
	}
}

func checkRefused(t *testing.T, err error, want string) {
	t.Helper()
	var refused refusal
	if !errors.As(err, &refused) || string(refused) != want {
		t.Errorf("refused with %v, expected %q", err, want)
	}
	if !spokenLine.MatchString(string(refused)) {
		t.Errorf("the refusal can't be read aloud: %q", refused)
	}
}

// the resolved part of a host's command: two files, one member.
const resolved = `"resolved": {"attachments": {"76": {"id": "76", "filename": "evenings.txt", "size": 90, "url": "https://cdn.discordapp.com/a/evenings.txt"}, "77": {"id": "77", "filename": "quay-cap.txt", "size": 900, "url": "https://cdn.discordapp.com/a/quay-cap.txt"}, "78": null},
	"users": {"555": {"id": "555", "username": "odo"}, "556": null}}`

// host writes the data of a command below the host's.
func host(deed string, options ...string) string {
	return fmt.Sprintf(`{"name": %q, "type": 1, %s, "options": [{"name": %q, "type": 1, "options": [%s]}]}`, hostCommand, resolved, deed, strings.Join(options, ", "))
}

const (
	file     = `{"name": "pattern", "type": 11, "value": "77"}`
	leeCap   = `{"name": "sample", "type": 3, "value": "lee-cap"}`
	odoMarsh = `{"name": "member", "type": 6, "value": "555"}`
)

// What belongs to the sessions.
const (
	plan       = `{"name": "plan", "type": 11, "value": "76"}`
	zoneOfPell = `{"name": "zone", "type": 3, "value": "Europe/London"}`
	hold       = `{"name": "hold", "type": 5, "value": true}`
)

func ptr[T any](v T) *T { return &v }

func TestOrdered(t *testing.T) {
	for _, c := range []struct {
		what, data string
		want       bot.Order
		attached   string
	}{
		{"start a file", host("start", file), bot.Order{Deed: bot.Start}, "quay-cap.txt"},
		{"start a sample, with a title", host("start", leeCap, `{"name": "name", "type": 3, "value": "Wednesday  caps"}`), bot.Order{Deed: bot.Start, Sample: "lee-cap", Title: "Wednesday caps"}, ""},
		{"check", host("check"), bot.Order{Deed: bot.Check}, ""},
		{"check a file", host("check", file), bot.Order{Deed: bot.Check}, "quay-cap.txt"},
		{"close", host("close"), bot.Order{Deed: bot.Close}, ""},
		{"reopen", host("reopen"), bot.Order{Deed: bot.Reopen}, ""},
		{"a helper", host("helper", odoMarsh), bot.Order{Deed: bot.Helper, Helper: "discord:555"}, ""},
		{"a helper who is dismissed", host("helper", odoMarsh, `{"name": "dismiss", "type": 5, "value": true}`), bot.Order{Deed: bot.Helper, Helper: "discord:555", Dismiss: true}, ""},
		{"a helper who is not", host("helper", odoMarsh, `{"name": "dismiss", "type": 5, "value": false}`), bot.Order{Deed: bot.Helper, Helper: "discord:555"}, ""},
		{"start with sessions", host("start", file, plan, zoneOfPell, hold), bot.Order{Deed: bot.Start, Zone: "Europe/London", Hold: ptr(true)}, "quay-cap.txt+evenings.txt"},
		{"start, and nothing is held back", host("start", leeCap, strings.Replace(hold, "true", "false", 1)), bot.Order{Deed: bot.Start, Sample: "lee-cap", Hold: ptr(false)}, ""},
		{"the sessions", host("sessions"), bot.Order{Deed: bot.Sessions}, ""},
		{"other sessions", host("sessions", plan), bot.Order{Deed: bot.Sessions}, "+evenings.txt"},
		{"another zone", host("sessions", zoneOfPell), bot.Order{Deed: bot.Sessions, Zone: "Europe/London"}, ""},
		{"the next session", host("open"), bot.Order{Deed: bot.Open}, ""},
		{"a session by its number", host("open", whole("session", 100)), bot.Order{Deed: bot.Open, Session: 100}, ""},
		{"a correction", host("correct", file), bot.Order{Deed: bot.Correct}, "quay-cap.txt"},
		{"back to an earlier text", host("correct", whole("revision", 1)), bot.Order{Deed: bot.Correct, Revision: 1}, ""},
		{"the text", host("text"), bot.Order{Deed: bot.Text}, ""},
		{"an earlier text", host("text", whole("revision", 9999)), bot.Order{Deed: bot.Text, Revision: 9999}, ""},
		{"the board", host("board"), bot.Order{Deed: bot.Board}, ""},
		{"stumbles", host("stumbles"), bot.Order{Deed: bot.Stumbles}, ""},
		{"who", host("who"), bot.Order{Deed: bot.Who}, ""},
		{"a table", host("export"), bot.Order{Deed: bot.Export}, ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, files, err := ordered(used(t, c.data))
			name := ""
			if files.pattern != nil {
				name = files.pattern.Filename
			}
			if files.plan != nil {
				name += "+" + files.plan.Filename
			}
			if err != nil || !reflect.DeepEqual(found, c.want) || name != c.attached {
				t.Errorf("found %+v with %q, %v", found, name, err)
			}
		})
	}
}

func TestForgedOrders(t *testing.T) {
	const again = " Nothing was changed. Please give it once more."
	for _, c := range []struct{ what, data, want string }{
		{"another command", with("next"), string(noSuchDeed)},
		{"no deed", with(hostCommand), string(noSuchDeed)},
		{"a deed that is null", with(hostCommand, "null"), string(noSuchDeed)},
		{"two deeds", with(hostCommand, `{"name": "close", "type": 1}`, `{"name": "check", "type": 1}`), string(noSuchDeed)},
		{"a deed that there is not", host("delete"), string(noSuchDeed)},
		{"a deed that has no command", host("dance"), string(noSuchDeed)},
		{"a deed that is an option", with(hostCommand, `{"name": "close", "type": 3, "value": "a"}`), string(noSuchDeed)},
		{"a command on a message", strings.Replace(host("close"), `"type": 1`, `"type": 3`, 1), string(noSuchDeed)},
		{"nothing to start", host("start"), string(noPattern)},
		{"a title alone", host("start", `{"name": "name", "type": 3, "value": "Caps"}`), string(noPattern)},
		{"two patterns", host("start", file, leeCap), string(twoPatterns)},
		{"a sample that there is not", host("start", `{"name": "sample", "type": 3, "value": "../lee-cap"}`), "Slash knitalong start takes one of the patterns that come with Clew, and something else came." + again},
		{"a title too long", host("start", leeCap, `{"name": "name", "type": 3, "value": "`+strings.Repeat("ab", 41)+`"}`), "Slash knitalong start takes a title in at most eighty characters, and something else came." + again},
		{"a file that did not come", host("check", `{"name": "pattern", "type": 11, "value": "79"}`), "Slash knitalong check takes a text file, and something else came." + again},
		{"a file that is null", host("check", `{"name": "pattern", "type": 11, "value": "78"}`), "Slash knitalong check takes a text file, and something else came." + again},
		{"a file that is a number", host("check", `{"name": "pattern", "type": 11, "value": 77}`), "Slash knitalong check takes a text file, and something else came." + again},
		{"a file and nothing that came", with(hostCommand, `{"name": "check", "type": 1, "options": [`+file+`]}`), "Slash knitalong check takes a text file, and something else came." + again},
		{"a file for closing", host("close", file), "Something came with slash knitalong close that does not belong to it." + again},
		{"no helper", host("helper"), "Slash knitalong helper takes a member of this server, and it did not come." + again},
		{"a helper whom nobody knows", host("helper", `{"name": "member", "type": 6, "value": "557"}`), "Slash knitalong helper takes a member of this server, and something else came." + again},
		{"a helper who is null", host("helper", `{"name": "member", "type": 6, "value": "556"}`), "Slash knitalong helper takes a member of this server, and something else came." + again},
		{"a helper with a name", strings.ReplaceAll(host("helper", odoMarsh), `"555"`, `"odo} x"`), "Slash knitalong helper takes a member of this server, and something else came." + again},
		{"a helper whose id is too long", strings.ReplaceAll(host("helper", odoMarsh), `"555"`, `"`+strings.Repeat("5", 21)+`"`), "Slash knitalong helper takes a member of this server, and something else came." + again},
		{"dismissed perhaps", host("helper", odoMarsh, `{"name": "dismiss", "type": 5, "value": "true"}`), "Slash knitalong helper takes true or false, and something else came." + again},
		{"nothing to correct by", host("correct"), string(noText)},
		{"two corrections", host("correct", file, whole("revision", 2)), string(twoTexts)},
		{"a sample for a correction", host("correct", leeCap), "Something came with slash knitalong correct that does not belong to it." + again},
		{"a text before the first", host("correct", whole("revision", 0)), "Slash knitalong correct takes the number of an earlier text, from one to nine thousand nine hundred and ninety-nine, and something else came." + again},
		{"a session before the first", host("open", whole("session", 0)), "Slash knitalong open takes the number of a session, from one to one hundred, and something else came." + again},
		{"a session too far", host("open", whole("session", 101)), "Slash knitalong open takes the number of a session, from one to one hundred, and something else came." + again},
		{"sessions in words", host("sessions", text("plan", "tonight")), "Slash knitalong sessions takes a text file, and something else came." + again},
		{"a zone too long", host("sessions", text("zone", strings.Repeat("a", 101))), "Slash knitalong sessions takes the name of a time zone in at most one hundred characters, and something else came." + again},
		{"held perhaps", host("sessions", `{"name": "hold", "type": 5, "value": 1}`), "Slash knitalong sessions takes true or false, and something else came." + again},
		{"a sample for the board", host("board", text("sample", "float-hat")), "Something came with slash knitalong board that does not belong to it." + again},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, files, err := ordered(used(t, c.data))
			checkRefused(t, err, c.want)
			if files != (attached{}) || !reflect.DeepEqual(found, bot.Order{}) {
				t.Errorf("something is ordered all the same: %+v, %+v", found, files)
			}
		})
	}
}

func TestTypedInto(t *testing.T) {
	for _, c := range []struct{ what, data, option, want string }{
		{"nothing yet", with("explain", `{"name": "stitch", "type": 3, "value": "", "focused": true}`), "stitch", ""},
		{"a beginning", with("explain", `{"name": "stitch", "type": 3, "value": " 2/", "focused": true}`), "stitch", "2/"},
		{"nowhere", with("explain", `{"name": "stitch", "type": 3, "value": "2/"}`), "", ""},
		{"no text", with("explain", `{"name": "stitch", "type": 3, "value": 2, "focused": true}`), "stitch", ""},
		{"null", with("explain", "null"), "", ""},
		{"too long", with("explain", `{"name": "stitch", "type": 3, "value": "`+strings.Repeat("k", 5000)+`", "focused": true}`), "stitch", strings.Repeat("k", 100)},
		{"below a command", host("sessions", plan, `{"name": "zone", "type": 3, "value": "amst", "focused": true}`), "zone", "amst"},
		{"below a command without options", host("sessions"), "", ""},
	} {
		if option, found := typedInto(used(t, c.data).Options); option != c.option || found != c.want {
			t.Errorf("%s: found %q in %q, expected %q in %q", c.what, found, option, c.want, c.option)
		}
	}
}

// FuzzCommand says that no data of a command brings anything down: it asks for
// something, orders something, or is refused in plain words.
func FuzzCommand(f *testing.F) {
	for _, seed := range []string{with("row", `{"name": "number", "type": 4, "value": 12}`), with("settings", "null"), host("start", file, leeCap), host("helper", odoMarsh), host("start", file, plan, zoneOfPell, hold), with("catchup", text("until", "friday. next row")), with("settings", text("board", "hidden")), `{"name": "join", "options": [{"name": "size", "type": 3, "value": ". next"}]}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var read discordgo.ApplicationCommandInteractionData
		if json.Unmarshal(data, &read) != nil {
			return
		}
		typedInto(read.Options)
		ask, err := heard(read)
		if err == nil && (ask.Heard == nil) == (ask.Words == "") || ask.Words != "" && !slices.Contains([]string{"full crosses", "short crosses", "usual crosses"}, ask.Words) {
			t.Errorf("%s asks %+v", data, ask)
		}
		if err != nil {
			checkRefused(t, err, err.Error())
		}
		order, _, err := ordered(read)
		if (err == nil) != (order.Deed != "") {
			t.Errorf("%s orders %+v, %v", data, order, err)
		}
		if err != nil {
			checkRefused(t, err, err.Error())
		}
	})
}
