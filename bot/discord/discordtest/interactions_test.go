package discordtest_test

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// asked is a server with a raw client, and a command that Ana has used in a channel.
type asked struct {
	raw
	gate  gate
	guild *discordtest.Guild
	ch    *discordtest.Channel
	ana   *discordtest.Person
}

func newAsked(t *testing.T, o discordtest.Options) asked {
	r := newRaw(t, o)
	a := asked{raw: r, guild: r.Guild("Tibberhythe")}
	a.ch, a.ana = a.guild.Channel("wednesday"), a.guild.Member("Ana Pell")
	a.gate = r.dial(usual)
	a.gate.ready(r, object{"intents": 1})
	return a
}

// next reads the interaction that was dispatched next.
func (a asked) next() object {
	a.t.Helper()
	d, _ := a.gate.event("INTERACTION_CREATE")
	return d
}

// uses has Ana use a command, and gives it as the bot is told of it.
func (a asked) uses() (*discordtest.Event, object) {
	a.t.Helper()
	e := a.Forges(a.ch, a.ana, "next")
	return e, a.next()
}

func (a asked) back(i object, body any, query ...string) answer {
	a.t.Helper()
	return a.do(http.MethodPost, fmt.Sprintf("/interactions/%s/%s/callback%s", i["id"], i["token"], strings.Join(query, "")), body, tokenless)
}

func (a asked) hook(method string, i object, rest string, body any) answer {
	a.t.Helper()
	return a.do(method, fmt.Sprintf("/webhooks/%s/%s%s", a.Application(), i["token"], rest), body, tokenless)
}

// tokenless leaves the bot's token out, which an interaction's routes do not need.
func tokenless(q *http.Request) { q.Header.Del("Authorization") }

func kind(k int, data any) object {
	if data == nil {
		return object{"type": k}
	}
	return object{"type": k, "data": data}
}

// The interaction's object: documentation, "Receiving and Responding", interaction structure.
func TestInteractionInGuild(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	odo := a.guild.Member("Odo Marsh")
	a.guild.Admit(a.ana, discordtest.ManageEvents)
	file := a.Attach("lanterns.clew", []byte("Row 1: k6"))
	a.Forges(a.ch, a.ana, "knitalong start", discordtest.With("title", "Lanterns"), discordtest.With("rows", 12), discordtest.With("quietly", true),
		discordtest.With("length", 1.5), discordtest.With("helper", odo), discordtest.With("where", a.ch), discordtest.With("pattern", file))
	i := a.next()
	member := i["member"].(object)
	permissions, err := strconv.ParseUint(member["permissions"].(string), 10, 64)
	if err != nil || permissions != uint64(discordtest.Everybody|discordtest.ManageEvents) {
		t.Errorf("permissions %v: %v", member["permissions"], err)
	}
	if i["app_permissions"] != discordtest.Usual.String() || i["context"] != 0.0 || i["user"] != nil || i["guild_id"] != a.guild.ID ||
		i["channel_id"] != a.ch.ID || i["type"] != 2.0 || i["version"] != 1.0 || i["locale"] != "en-GB" || i["guild_locale"] != "en-US" ||
		member["user"].(object)["id"] != a.ana.ID || i["application_id"] != a.Application() {
		t.Errorf("%v", i)
	}
	data := i["data"].(object)
	sub := data["options"].([]any)[0].(object)
	if data["name"] != "knitalong" || sub["name"] != "start" || sub["type"] != 1.0 {
		t.Errorf("%v", data)
	}
	want := []string{`string 3`, `float64 4`, `bool 5`, `float64 10`, `string 6`, `string 7`, `string 11`}
	for k, one := range sub["options"].([]any) {
		o := one.(object)
		if got := fmt.Sprintf("%T %v", o["value"], o["type"]); got != want[k] {
			t.Errorf("option %v: %s, not %s", o["name"], got, want[k])
		}
	}
	resolved := data["resolved"].(object)
	sent := resolved["attachments"].(object)[file.ID].(object)
	if resolved["users"].(object)[odo.ID].(object)["global_name"] != "Odo Marsh" || resolved["members"].(object)[odo.ID] == nil ||
		resolved["channels"].(object)[a.ch.ID] == nil || sent["url"] != file.URL || sent["size"] != 9.0 {
		t.Errorf("resolved: %v", resolved)
	}
	if !strings.HasPrefix(file.URL, "https://cdn.discordapp.com/attachments/") {
		t.Errorf("the file's address: %s", file.URL)
	}
}

func TestInteractionInPrivate(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	a.Forges(a.DM(a.ana), a.ana, "next")
	i := a.next()
	if i["member"] != nil || i["guild_id"] != nil || i["user"].(object)["id"] != a.ana.ID || i["context"] != 1.0 || i["channel"].(object)["type"] != 1.0 {
		t.Errorf("%v", i)
	}
	j := func() object { a.Forges(a.DM(a.ana), a.ana, "next"); return a.next() }()
	if i["token"] == j["token"] || i["id"].(string) >= j["id"].(string) {
		t.Errorf("%v, then %v", i["id"], j["id"])
	}
	id, err := strconv.ParseInt(j["id"].(string), 10, 64)
	if made := time.UnixMilli(id>>22 + 1420070400000); err != nil || time.Since(made).Abs() > time.Minute {
		t.Errorf("the id's time is %v", made) // snowflakes: documentation, "API Reference"
	}
	token, err := base64.RawURLEncoding.DecodeString(j["token"].(string))
	if err != nil || !strings.HasPrefix(string(token), "interaction:"+j["id"].(string)) {
		t.Errorf("token %q: %v", token, err)
	}
}

// Which first answers each kind of interaction takes: documentation, "Receiving and
// Responding", interaction callback type.
func TestCallbackKinds(t *testing.T) {
	good := map[int]object{
		4: kind(4, quiet(nil)), 5: kind(5, nil), 6: kind(6, nil), 7: kind(7, quiet(nil)), 8: kind(8, object{"choices": []any{}}),
		9: kind(9, form(nil)),
	}
	takes := map[string][]int{"command": {4, 5, 9}, "press": {4, 5, 6, 7, 9}, "autocomplete": {8}, "form of a command": {4, 5}, "form of a press": {4, 5, 6, 7}}
	for name, kinds := range takes {
		for k, body := range good {
			t.Run(fmt.Sprint(name, " ", k), func(t *testing.T) {
				a := newAsked(t, discordtest.Options{NoEcho: true})
				e, i := a.provoke(name)
				got := a.back(i, body)
				for _, one := range kinds {
					if one == k {
						a.passes(name, got, 0)
						if kind, after := e.Callback(); kind != k || after <= 0 || after > time.Minute {
							t.Errorf("kind %d after %v", kind, after)
						}
						return
					}
				}
				a.refused(name, got, 400, 50035, "type", 1)
			})
		}
	}
}

func form(change object) object {
	input := object{"type": 4, "custom_id": "count", "label": "How many stitches", "style": 1}
	o := object{"custom_id": "count", "title": "Count", "components": []any{object{"type": 1, "components": []any{input}}}}
	for k, v := range change {
		o[k] = v
	}
	return o
}

// provoke brings about an interaction of this kind.
func (a asked) provoke(name string) (*discordtest.Event, object) {
	a.t.Helper()
	command, i := a.uses()
	switch name {
	case "command":
		return command, i
	case "form of a command":
		a.passes("form", a.back(i, kind(9, form(nil))), 0)
		return a.Submits(a.ana, command, map[string]string{"count": "95"}), a.next()
	case "autocomplete":
		if err := a.Register([]byte(`[{"name":"explain","description":"x","options":[{"type":3,"name":"stitch","description":"x","autocomplete":true}]}]`)); err != nil {
			a.t.Fatal(err)
		}
		return a.TypesIn(a.ch, a.ana, "explain", "stitch", "2/"), a.next()
	}
	a.passes("card", a.back(i, kind(4, quiet(object{"components": row(button(0))}))), 0)
	press := a.Press(a.ana, "Next row")
	i = a.next()
	if name == "form of a press" {
		a.passes("form", a.back(i, kind(9, form(nil))), 0)
		return a.Submits(a.ana, press, map[string]string{"count": "95"}), a.next()
	}
	return press, i
}

// Once only, in time, by its own token: documentation, "Receiving and Responding", and
// "Opcodes and Status Codes", JSON error codes.
func TestCallbackOnce(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	_, i := a.uses()
	a.refused("another id", a.back(object{"id": "900000000000000000", "token": i["token"]}, kind(4, quiet(nil))), 404, 10062, "", 1)
	a.refused("another token", a.back(object{"id": i["id"], "token": "another"}, kind(4, quiet(nil))), 404, 10062, "", 2)
	a.passes("first", a.back(i, kind(4, quiet(nil))), 2)
	a.refused("second", a.back(i, kind(4, quiet(nil))), 400, 40060, "", 3)

	early, i := a.uses()
	early.Age(2900 * time.Millisecond)
	a.passes("within 3 s", a.back(i, kind(4, quiet(nil))), 3)
	late, i := a.uses()
	late.Age(3 * time.Second)
	a.refused("after 3 s", a.back(i, kind(4, quiet(nil))), 404, 10062, "", 4)

	again, i := a.uses()
	a.passes("first", a.back(i, kind(4, quiet(nil))), 4)
	a.Replay(again)
	if j := a.next(); j["id"] != i["id"] || j["token"] != i["token"] {
		t.Errorf("%v was delivered again as %v", i["id"], j["id"])
	}
	a.refused("an answer to what came again", a.back(i, kind(4, quiet(nil))), 400, 40060, "", 4)

	_, i = a.uses()
	a.CutAnswers(discordtest.Callback, 1)
	if cut := a.back(i, kind(4, quiet(nil))); cut.status != 0 {
		t.Errorf("%+v", cut)
	}
	a.refused("an answer after one that was cut off", a.back(i, kind(4, quiet(nil))), 400, 40060, "", 4)
	if n := len(a.Sent(a.ana)); n != 4 {
		t.Errorf("%d messages", n)
	}
}

func TestCallbackWithResponse(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	_, i := a.uses()
	got := a.back(i, kind(4, quiet(nil)), "?with_response=true")
	m := got.body["resource"].(object)["message"].(object)
	if got.status != 200 || m["content"] != "Row six." || m["author"].(object)["id"] != a.Application() || m["type"] != 20.0 {
		t.Errorf("%d %s", got.status, got.text)
	}
	if got := a.back(func() object { _, i := a.uses(); return i }(), kind(4, quiet(nil))); got.status != 204 || got.text != "" {
		t.Errorf("%d %q", got.status, got.text)
	}
}

func TestDeferral(t *testing.T) {
	for _, ephemeral := range []bool{false, true} {
		t.Run(fmt.Sprint("ephemeral ", ephemeral), func(t *testing.T) {
			a := newAsked(t, discordtest.Options{})
			flags := map[bool]int{false: 0, true: 64}[ephemeral]
			e, i := a.uses()
			a.refused("with another flag", a.back(i, kind(5, object{"flags": 4})), 400, 50035, "data.flags", 1)
			// What the library sends: all fields, empty.
			a.passes("defer", a.back(i, kind(5, object{"flags": flags, "content": "", "components": nil, "embeds": nil, "tts": false})), 1)
			if n := len(a.Sent(a.ana)) + len(e.Answered()); n != 0 {
				t.Errorf("%d messages before it is filled in", n)
			}
			a.passes("fill in", a.hook(http.MethodPatch, i, "/messages/@original", quiet(object{"components": row(button(0))})), 1)
			m := e.Answer()
			if m.Ephemeral != ephemeral || m.Loading || m.Edits != 0 || m.Said() != "Row six." || m.Buttons()[0] != "Next row" {
				t.Errorf("%+v", m)
			}
			wren := a.guild.Member("Wren")
			if sees := len(a.Sent(wren)) == 1; sees == ephemeral {
				t.Errorf("Wren sees %d messages", len(a.Sent(wren)))
			}
			edit := a.do(http.MethodPatch, "/channels/"+a.ch.ID+"/messages/"+m.ID, quiet(nil))
			if ephemeral {
				a.refused("an edit by the bot's token", edit, 404, 10008, "", 2)
			} else {
				a.passes("an edit by the bot's token", edit, 1)
			}
		})
	}
	a := newAsked(t, discordtest.Options{})
	_, i := a.uses()
	a.passes("with content", a.back(i, kind(5, object{"content": "Row six."})), 1)
	_, i = a.uses()
	a.passes("ephemeral", a.back(i, kind(5, object{"flags": 64})), 1)
	a.passes("a follow-up that fills it in as a public one", a.hook(http.MethodPost, i, "", quiet(nil)), 2)
	if m := a.Sent(a.ana)[0]; !m.Ephemeral {
		t.Errorf("%+v", m)
	}
}

func TestFollowUps(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	e, i := a.uses()
	a.refused("before the first answer", a.hook(http.MethodPost, i, "", quiet(nil)), 404, 10015, "", 1)
	a.passes("answer", a.back(i, kind(4, quiet(object{"flags": 64}))), 1)
	second := a.hook(http.MethodPost, i, "", quiet(object{"content": "Row seven.", "flags": 64}))
	a.passes("follow-up", second, 1)
	id := second.body["id"].(string)
	if all := e.Answers(2); all[0].Content != "Row six." || all[1].Content != "Row seven." || !all[1].Ephemeral {
		t.Errorf("%+v", all)
	}
	a.passes("edit", a.hook(http.MethodPatch, i, "/messages/"+id, quiet(object{"content": "Row eight."})), 1)
	a.passes("get", a.hook(http.MethodGet, i, "/messages/"+id, nil), 1)
	a.refused("edit to be ephemeral", a.hook(http.MethodPatch, i, "/messages/"+id, quiet(object{"flags": 64})), 400, 50035, "flags", 2)
	a.refused("edit to nothing", a.hook(http.MethodPatch, i, "/messages/"+id, quiet(object{"content": nil})), 400, 50006, "", 3)
	a.refused("another's message", a.hook(http.MethodPatch, i, "/messages/900000000000000000", quiet(nil)), 404, 10008, "", 4)
	a.passes("delete", a.hook(http.MethodDelete, i, "/messages/@original", nil), 4)
	a.refused("edit what is deleted", a.hook(http.MethodPatch, i, "/messages/@original", quiet(nil)), 404, 10008, "", 5)
	a.refused("no such token", a.hook(http.MethodPost, object{"token": "another"}, "", quiet(nil)), 404, 10015, "", 6)
	a.refused("another application", a.do(http.MethodPost, fmt.Sprintf("/webhooks/1/%s", i["token"]), quiet(nil)), 404, 10015, "", 7)
	e.Age(14 * time.Minute) // 15 minutes (shared/DISCORD.md, Requests and answers)
	a.passes("after 14 minutes", a.hook(http.MethodPost, i, "", quiet(nil)), 7)
	e.Age(time.Minute)
	a.refused("after 15 minutes", a.hook(http.MethodPost, i, "", quiet(nil)), 401, 50027, "", 8)
	_, other := a.uses()
	a.passes("another interaction", a.back(other, kind(4, quiet(nil))), 8)
	a.refused("through another's token", a.hook(http.MethodGet, other, "/messages/"+id, nil), 404, 10008, "", 9)
}

func TestUpdate(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	_, i := a.uses()
	a.passes("card", a.back(i, kind(4, quiet(object{"flags": 64, "components": row(button(0))}))), 0)
	press := a.Press(a.ana, "Next row")
	i = a.next()
	data, under := i["data"].(object), i["message"].(object)
	if i["type"] != 3.0 || data["custom_id"] != "next.0" || data["component_type"] != 2.0 || under["flags"] != 64.0 ||
		len(under["components"].([]any)) != 1 || under["author"].(object)["id"] != a.Application() {
		t.Errorf("%v", i)
	}
	a.refused("to be ephemeral", a.back(i, kind(7, quiet(object{"flags": 64}))), 400, 50035, "data.flags", 1)
	a.refused("to nothing", a.back(i, kind(7, quiet(object{"content": "", "components": []any{}}))), 400, 50006, "", 2)
	a.passes("update", a.back(i, kind(7, quiet(object{"content": "Row seven."}))), 2)
	if m := press.Answer(); m.Content != "Row seven." || m.Edits != 1 || !m.Ephemeral || len(m.Buttons()) != 1 {
		t.Errorf("%+v", m)
	}
	press = a.Press(a.ana, "Next row")
	i = a.next()
	a.passes("deferred update", a.back(i, kind(6, nil)), 2)
	a.passes("then the edit", a.hook(http.MethodPatch, i, "/messages/@original", quiet(object{"content": "Row eight."})), 2)
	if m := press.Answer(); m.Content != "Row eight." || m.Edits != 2 || len(a.Sent(a.ana)) != 1 {
		t.Errorf("%+v", m)
	}
}

// Sizes: documentation, "Receiving and Responding" (autocomplete, modal) and "Component
// Reference" (text input).
func TestCallbackSizes(t *testing.T) {
	choices := func(n int) object {
		return kind(8, object{"choices": list(n, func(i int) any { return object{"name": fmt.Sprint("c", i), "value": "c"} })})
	}
	one := func(name, value any) object {
		return kind(8, object{"choices": []any{object{"name": name, "value": value}}})
	}
	input := func(key string, v any) object {
		o := with(object{"type": 4, "custom_id": "count", "label": "x", "style": 1}, key, v)
		return kind(9, form(object{"components": []any{object{"type": 1, "components": []any{o}}}}))
	}
	inputs := func(n int) object {
		return kind(9, form(object{"components": list(n, func(i int) any {
			return object{"type": 1, "components": []any{object{"type": 4, "custom_id": fmt.Sprint(i), "label": "x", "style": 1}}}
		})}))
	}
	table := map[string]struct {
		to    string
		most  int
		field string
		body  func(n int) object
	}{
		"suggestions":           {"autocomplete", 25, "data.choices", choices},
		"a suggestion's name":   {"autocomplete", 100, "data.choices.0.name", func(n int) object { return one(text(n), "x") }},
		"a suggestion's value":  {"autocomplete", 100, "data.choices.0.value", func(n int) object { return one("x", text(n)) }},
		"a reply's content":     {"command", 2000, "data.content", func(n int) object { return kind(4, quiet(object{"content": text(n)})) }},
		"a form's title":        {"command", 45, "data.title", func(n int) object { return kind(9, form(object{"title": text(n)})) }},
		"a form's custom id":    {"command", 100, "data.custom_id", func(n int) object { return kind(9, form(object{"custom_id": text(n)})) }},
		"a form's inputs":       {"command", 5, "data.components", inputs},
		"an input's label":      {"command", 45, "data.components.0.components.0.label", func(n int) object { return input("label", text(n)) }},
		"an input's custom id":  {"command", 100, "data.components.0.components.0.custom_id", func(n int) object { return input("custom_id", text(n)) }},
		"an input's hint":       {"command", 100, "data.components.0.components.0.placeholder", func(n int) object { return input("placeholder", text(n)) }},
		"an input's value":      {"command", 4000, "data.components.0.components.0.value", func(n int) object { return input("value", text(n)) }},
		"an input's max length": {"command", 4000, "data.components.0.components.0.max_length", func(n int) object { return input("max_length", n) }},
		"an input's min length": {"command", 4000, "data.components.0.components.0.min_length", func(n int) object { return input("min_length", n) }},
		"an input's style":      {"command", 2, "data.components.0.components.0.style", func(n int) object { return input("style", n) }},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			a := newAsked(t, discordtest.Options{NoEcho: true})
			_, i := a.provoke(c.to)
			a.refused(fmt.Sprint(c.most+1), a.back(i, c.body(c.most+1)), 400, 50035, c.field, 1)
			a.passes(fmt.Sprint(c.most), a.back(i, c.body(c.most)), 1) // what was refused is no answer
		})
	}
	bad := map[string]struct {
		to, field string
		body      object
	}{
		"a suggestion without a name":  {"autocomplete", "data.choices.0.name", one("", "x")},
		"a suggestion without a value": {"autocomplete", "data.choices.0.value", one("x", nil)},
		"a number for a text":          {"autocomplete", "data.choices.0.value", one("x", 1)},
		"no suggestions":               {"autocomplete", "data.choices", kind(8, object{})},
		"a reply without data":         {"command", "data", kind(4, nil)},
		"a form without inputs":        {"command", "data.components", kind(9, form(object{"components": []any{}}))},
		"an input that is a button":    {"command", "data.components.0.components.0.type", input("type", 2)},
	}
	for name, c := range bad {
		t.Run(name, func(t *testing.T) {
			a := newAsked(t, discordtest.Options{NoEcho: true})
			_, i := a.provoke(c.to)
			a.refused(name, a.back(i, c.body), 400, 50035, c.field, 1)
		})
	}
}

func TestSuggestionsAndForms(t *testing.T) {
	a := newAsked(t, discordtest.Options{})
	if err := a.Register([]byte(`[{"name":"count","description":"x","options":[{"type":4,"name":"stitches","description":"x","autocomplete":true}]}]`)); err != nil {
		t.Fatal(err)
	}
	e := a.Types(a.ana, "count", "stitches", "9")
	i := a.next()
	o := i["data"].(object)["options"].([]any)[0].(object)
	if i["type"] != 4.0 || o["focused"] != true || o["value"] != "9" || o["type"] != 4.0 {
		t.Errorf("%v", i)
	}
	a.passes("suggest", a.back(i, kind(8, object{"choices": []any{object{"name": "ninety-five", "value": 95}}})), 0)
	if got := e.Suggestions(); len(got) != 1 || got[0].Label != "ninety-five" || got[0].Value != 95.0 {
		t.Errorf("%+v", got)
	}
	command, i := a.uses()
	a.passes("form", a.back(i, kind(9, form(nil))), 0)
	a.Submits(a.ana, command, map[string]string{"count": "95"})
	i = a.next()
	text, _ := json.Marshal(i["data"])
	if i["type"] != 5.0 || string(text) != `{"components":[{"components":[{"custom_id":"count","type":4,"value":"95"}],"type":1}],"custom_id":"count"}` {
		t.Errorf("%v: %s", i["type"], text)
	}
}
