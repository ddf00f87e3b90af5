package discordtest_test

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// wait is a long one where something is to come, and a short one where nothing is.
func wait(comes bool) time.Duration {
	if comes {
		return 10 * time.Second
	}
	return 100 * time.Millisecond
}

// A wait that is in vain fails with what was seen.
func TestScriptFails(t *testing.T) {
	table := map[string]struct {
		do   func(r raw, ana *discordtest.Person)
		says string
	}{
		"an answer that does not come": {func(r raw, ana *discordtest.Person) { r.Says(ana, "next row").Answer() }, "had 0 answers of 1"},
		"a button that is not there":   {func(r raw, ana *discordtest.Person) { r.Press(ana, "Next row") }, `no message with a button "Next row"`},
		"an option that is not there":  {func(r raw, ana *discordtest.Person) { r.Choose(ana, "Small") }, `no message with an option "Small"`},
		"a shard that does not come":   {func(r raw, _ *discordtest.Person) { r.Connected(2) }, "2 shards to be connected"},
		"a fault of a shard not there": {func(r raw, _ *discordtest.Person) { r.Cut(1) }, "shard 1 was not connected"},
		"a stranger in a channel": {func(r raw, ana *discordtest.Person) {
			r.SaysIn(r.Guild("Ormsay").Channel("wednesday"), ana, "hello")
		}, "admit her to its guild first"},
		"too long a message":           {func(r raw, ana *discordtest.Person) { r.Says(ana, text(2001)) }, "2001 characters"},
		"a message that is not there":  {func(r raw, _ *discordtest.Person) { r.Remove("1") }, "no message 1"},
		"a press under no message":     {func(r raw, ana *discordtest.Person) { r.ForgesPress(ana, discordtest.Message{}, "x") }, "is in no channel"},
		"a condition that never holds": {func(r raw, _ *discordtest.Person) { r.Until("pigs to fly", func() bool { return false }) }, "pigs to fly"},
		"suggestions to a message":     {func(r raw, ana *discordtest.Person) { r.Says(ana, "next row").Suggestions() }, "no first answer"},
		"an event that no shard hears": {func(r raw, ana *discordtest.Person) {
			r.Invalid(0, false)
			r.Says(ana, "hello")
		}, "no gateway session"},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			leaks(t)
			failed := ""
			srv, err := discordtest.Start(discordtest.Options{Wait: wait(false), Fail: func(what string) { failed = what; panic(what) }})
			if err != nil {
				t.Fatal(err)
			}
			defer srv.Close()
			r := raw{srv, t, http.DefaultClient}
			ana := r.User("Ana Pell")
			r.dial(usual).ready(r, nil)
			func() {
				defer func() { _ = recover() }()
				c.do(r, ana)
			}()
			if !strings.Contains(failed, c.says) || !strings.Contains(failed, "shard 0 of 1 identified") {
				t.Errorf("failed with %q", failed)
			}
		})
	}
}

func TestProgramPanics(t *testing.T) {
	leaks(t)
	srv, err := discordtest.Start(discordtest.Options{Wait: wait(false)})
	if err != nil {
		t.Fatal(err)
	}
	defer srv.Close()
	defer func() {
		if v := recover(); !strings.Contains(fmt.Sprint(v), "no gateway session") {
			t.Errorf("%v", v)
		}
	}()
	srv.Says(srv.User("Ana Pell"), "hello")
	t.Error("it went on")
}

// double stands in for a test.
type double struct {
	testing.TB
	errors, fatal []string
	cleanups      []func()
}

func (d *double) Helper()                   {}
func (d *double) Errorf(f string, a ...any) { d.errors = append(d.errors, fmt.Sprintf(f, a...)) }
func (d *double) Fatal(a ...any)            { d.fatal = append(d.fatal, fmt.Sprint(a...)); panic(d) }
func (d *double) Cleanup(f func())          { d.cleanups = append(d.cleanups, f) }
func (d *double) end() {
	for _, f := range slices.Backward(d.cleanups) {
		f()
	}
}

func TestTestIsJudged(t *testing.T) {
	table := map[string]struct {
		wrong  bool
		expect string
		errors []string
	}{
		"nothing wrong":            {},
		"something wrong":          {wrong: true, errors: []string{"code 50006"}},
		"expected":                 {wrong: true, expect: "Cannot send an empty message"},
		"another expected":         {wrong: true, expect: "too long", errors: []string{"code 50006", `"too long", and nothing was`}},
		"expected, and never came": {expect: "empty", errors: []string{`"empty", and nothing was`}},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			leaks(t)
			d := &double{}
			srv := discordtest.New(d, discordtest.Options{})
			r := raw{srv, t, &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}}
			if c.expect != "" {
				srv.Expect(c.expect)
			}
			if c.wrong {
				r.do(http.MethodPost, "/channels/"+srv.DM(srv.User("Ana Pell")).ID+"/messages", quiet(object{"content": ""}))
			}
			d.end()
			if len(d.errors) != len(c.errors) {
				t.Fatalf("%q", d.errors)
			}
			for i, want := range c.errors {
				if !strings.Contains(d.errors[i], want) {
					t.Errorf("%q has no %q", d.errors[i], want)
				}
			}
		})
	}
	d := &double{}
	srv := discordtest.New(d, discordtest.Options{Wait: wait(false)})
	func() {
		defer func() { _ = recover() }()
		srv.Connected(1)
	}()
	d.end()
	if len(d.fatal) != 1 || !strings.Contains(d.fatal[0], "1 shards to be connected") {
		t.Errorf("%q", d.fatal)
	}
}

func TestPresses(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	wren := a.guild.Member("Wren")
	components := row(button(1), with(button(2), "label", "Back"), with(with(button(3), "label", "Again"), "disabled", true))
	components = append(components, row(menu("placeholder", "Your size"))...)
	_, i := a.uses()
	a.passes("card", a.back(i, kind(4, quiet(object{"components": components}))), 0)
	old := a.Sent(a.ana)[0]
	if fmt.Sprint(old.Buttons(), old.Options()) != "[Next row Back] [Size 1 Size 2]" {
		t.Errorf("%v %v", old.Buttons(), old.Options())
	}
	_, i = a.uses()
	a.passes("a newer card", a.back(i, kind(4, quiet(object{"components": row(with(button(0), "custom_id", "newest"))}))), 0)
	under := func(i object) any { return i["message"].(object)["id"] }
	custom := func(i object) any { return i["data"].(object)["custom_id"] }

	a.Press(a.ana, "Next row")
	if i = a.next(); custom(i) != "newest" || under(i) == old.ID {
		t.Errorf("%v", i)
	}
	a.PressOn(wren, old, "Next row") // it stands in the channel for everybody
	if i = a.next(); custom(i) != "next.1" || under(i) != old.ID || i["member"].(object)["user"].(object)["id"] != wren.ID {
		t.Errorf("%v", i)
	}
	a.Choose(a.ana, "Size 2")
	if i = a.next(); custom(i) != "size" || i["data"].(object)["component_type"] != 3.0 || fmt.Sprint(i["data"].(object)["values"]) != "[2]" {
		t.Errorf("%v", i)
	}
	a.ForgesPress(a.ana, old, "made up")
	if i = a.next(); custom(i) != "made up" || under(i) != old.ID {
		t.Errorf("%v", i)
	}
	a.ForgesChoice(a.ana, old, "size", "9", "9")
	if i = a.next(); fmt.Sprint(i["data"].(object)["values"]) != "[9 9]" {
		t.Errorf("%v", i)
	}
	_, i = a.uses()
	a.passes("a card for her alone", a.back(i, kind(4, quiet(object{"flags": 64, "components": row(with(button(0), "label", "Hers"))}))), 0)
	if n := len(a.Sent(wren)); n != 2 {
		t.Errorf("Wren sees %d messages", n)
	}
	a.Press(a.ana, "Hers")
	if i = a.next(); i["message"].(object)["flags"] != 64.0 {
		t.Errorf("%v", i)
	}
	a.Remove(old.ID)
	a.PressOn(a.ana, old, "Back") // she had it on her screen
	if i = a.next(); custom(i) != "next.2" || under(i) != old.ID {
		t.Errorf("%v", i)
	}
	if n := len(a.Sent(a.ana)); n != 2 {
		t.Errorf("%d messages are left", n)
	}
}

// An ephemeral message is nobody else's to press, to reply to, or to be told of.
func TestEphemeral(t *testing.T) {
	leaks(t)
	failed := ""
	d := &double{}
	srv := discordtest.New(d, discordtest.Options{})
	defer d.end()
	r := raw{srv, t, &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}}
	a := asked{raw: r, guild: r.Guild("Tibberhythe")}
	a.ch, a.ana = a.guild.Channel("wednesday"), a.guild.Member("Ana Pell")
	wren := a.guild.Member("Wren")
	a.gate = r.dial(usual)
	a.gate.ready(r, object{"intents": messages})
	_, i := a.uses()
	a.passes("card", a.back(i, kind(4, quiet(object{"flags": 64, "components": row(button(0))}))), 0)
	a.Dispatch(0, "TYPING_START", object{})
	if f := a.gate.read(); f.T != "TYPING_START" {
		t.Errorf("%s %s", f.T, f.D)
	}
	card := a.Sent(a.ana)[0]
	func() {
		defer func() { failed = strings.Join(d.fatal, "\n"); _ = recover() }()
		a.PressOn(wren, card, "Next row")
	}()
	if !strings.Contains(failed, "not hers") {
		t.Errorf("failed with %q", failed)
	}
	reply := quiet(object{"message_reference": object{"message_id": card.ID}})
	a.refused("a reply", a.do(http.MethodPost, "/channels/"+a.ch.ID+"/messages", reply), 400, 50035, "message_reference", 1)
}

func TestPermissions(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	for want, may := range map[string][]discordtest.Permission{
		discordtest.Everybody.String(): nil,
		(discordtest.Everybody | discordtest.ManageEvents | discordtest.CreateEvents).String(): {discordtest.ManageEvents, discordtest.CreateEvents},
		discordtest.All.String(): {discordtest.Administrator}, // an administrator has all: documentation, "Permissions"
	} {
		a.guild.Admit(a.ana, may...)
		if _, i := a.uses(); i["member"].(object)["permissions"] != want {
			t.Errorf("%v: %v, not %s", may, i["member"].(object)["permissions"], want)
		}
	}
}

// Guilds that are made one after another go to shards one after another.
func TestShards(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	first := r.Guild("Tibberhythe")
	for n := range 10 {
		g := r.Guild("Ormsay")
		for count := 1; count < 6; count++ {
			if want := (first.Shard(count) + n + 1) % count; g.Shard(count) != want {
				t.Errorf("guild %d is of shard %d of %d, not %d", n, g.Shard(count), count, want)
			}
		}
	}
}

func TestForgedOptions(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	a.Forges(a.ch, a.ana, "at", discordtest.With("row", discordtest.Forged{Type: 4, Value: "twelve"}), discordtest.With("row", discordtest.Forged{Type: 99, Value: nil}))
	list := a.next()["data"].(object)["options"].([]any)
	if one, two := list[0].(object), list[1].(object); one["type"] != 4.0 || one["value"] != "twelve" || two["type"] != 99.0 || two["value"] != nil {
		t.Errorf("%v", list)
	}
}

func TestMessagesTold(t *testing.T) {
	r := newRaw(t, discordtest.Options{Name: "clew"})
	guild := r.Guild("Tibberhythe")
	ch, ana := guild.Channel("wednesday"), guild.Member("Ana Pell")
	g := r.dial(usual)
	g.ready(r, nil)
	file := r.Attach("lanterns.clew", []byte("Row 1: k6"))
	r.SaysIn(ch, ana, "@clew next row", file)
	d, _ := g.event("MESSAGE_CREATE")
	if d["content"] != "<@"+r.Application()+"> next row" || len(d["mentions"].([]any)) != 1 || d["author"].(object)["global_name"] != "Ana Pell" ||
		d["attachments"].([]any)[0].(object)["url"] != file.URL || d["member"] == nil || d["guild_id"] != guild.ID {
		t.Errorf("mentioned: %v", d)
	}
	r.SaysIn(ch, ana, "next row", file)
	if d, _ = g.event("MESSAGE_CREATE"); d["content"] != "" || len(d["attachments"].([]any)) != 0 || len(d["mentions"].([]any)) != 0 {
		t.Errorf("not mentioned: %v", d)
	}
	r.Says(ana, "next row", file)
	if d, _ = g.event("MESSAGE_CREATE"); d["content"] != "next row" || len(d["attachments"].([]any)) != 1 || d["guild_id"] != nil || d["member"] != nil {
		t.Errorf("in private: %v", d)
	}
	r.passes("the bot's own", r.do(http.MethodPost, "/channels/"+ch.ID+"/messages", quiet(nil)), 0)
	if d, _ = g.event("MESSAGE_CREATE"); d["author"].(object)["bot"] != true || d["content"] != "Row six." {
		t.Errorf("the bot's own: %v", d)
	}
	r.Replies(ana, r.SentIn(ch)[0], "again")
	if d, _ = g.event("MESSAGE_CREATE"); d["content"] != "again" || d["message_reference"].(object)["message_id"] != r.SentIn(ch)[0].ID {
		t.Errorf("a reply: %v", d)
	}
	r.Hide(ch)
	r.SaysIn(ch, ana, "@clew hidden")
	r.Dispatch(0, "TYPING_START", object{"user_id": ana.ID})
	if f := g.read(); f.T != "TYPING_START" {
		t.Errorf("%s %s", f.T, f.D)
	}
}

func TestSaid(t *testing.T) {
	m := discordtest.Message{Content: "Row six, wrong side.\nKnit two\\_together\\.\n-# Lanterns, row 6 of 40\n-# k2tog"}
	if m.Said() != "Row six, wrong side.\nKnit two_together." || m.Small() != "-# Lanterns, row 6 of 40\n-# k2tog" {
		t.Errorf("%q %q", m.Said(), m.Small())
	}
	m = discordtest.Message{Content: "It has two faults.\n```\n1:5\n```"}
	if m.Said() != "It has two faults." || m.Small() != "```\n1:5\n```" {
		t.Errorf("%q %q", m.Said(), m.Small())
	}
}

// What is kept is bounded.
func TestKeeps(t *testing.T) {
	r := newRaw(t, discordtest.Options{Keep: -1, NoEcho: true})
	g := r.dial(usual)
	g.ready(r, nil)
	ana := r.User("Ana Pell")
	path := "/channels/" + r.DM(ana).ID + "/messages"
	for i := range 1000 {
		r.Says(ana, "next row")
		r.do(http.MethodPost, path, quiet(object{"nonce": fmt.Sprint(i)}))
	}
	if n, m := len(r.Sent(ana)), len(r.Requests(discordtest.Send)); n != 200 || m < 200 || m > 400 || r.Count(discordtest.Send) != 1000 {
		t.Errorf("%d messages, %d requests of %d", n, m, r.Count(discordtest.Send))
	}
}
