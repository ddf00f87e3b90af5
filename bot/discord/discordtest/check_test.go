package discordtest_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"clew/bot/discord/discordtest"
)

// text is n letters; wide is n characters of two UTF-16 units and four bytes each.
func text(n int) string { return strings.Repeat("a", n) }
func wide(n int) string { return strings.Repeat("𝕒", n) }

func list[T any](n int, one func(i int) T) []T {
	all := []T{}
	for i := range n {
		all = append(all, one(i))
	}
	return all
}

func row(parts ...any) []any { return []any{object{"type": 1, "components": parts}} }

func button(i int) any {
	return object{"type": 2, "style": 1, "label": "Next row", "custom_id": fmt.Sprint("next.", i)}
}

func with(o any, key string, v any) object {
	changed := object{}
	for k, old := range o.(object) {
		changed[k] = old
	}
	changed[key] = v
	if v == nil {
		delete(changed, key)
	}
	return changed
}

func menu(change string, v any) any {
	o := object{"type": 3, "custom_id": "size", "options": []any{choice(1), choice(2)}}
	return with(o, change, v)
}

func choice(i int) any { return object{"label": fmt.Sprint("Size ", i), "value": fmt.Sprint(i)} }

func embed(key string, v any) object {
	return object{"embeds": []any{with(object{"title": "Lanterns"}, key, v)}}
}

// limit is a size: a body of at most `most` passes, one of more is refused at `field`.
type limit struct {
	name  string
	most  int
	field string
	body  func(n int) object
}

// Sizes of a message: Discord's developer documentation, "Message" (create message,
// embed limits) and "Component Reference", as in shared/DISCORD.md, Sizes and Requests
// and answers; a menu's placeholder, an option's texts and a link are from memory.
var limits = []limit{
	{"content", 2000, "content", func(n int) object { return object{"content": text(n)} }},
	{"content outside the basic plane", 2000, "content", func(n int) object { return object{"content": wide(n)} }},
	{"nonce", 25, "nonce", func(n int) object { return object{"nonce": text(n)} }},
	{"stickers", 3, "sticker_ids", func(n int) object {
		return object{"sticker_ids": list(n, func(int) string { return "749054660769218631" })}
	}},
	{"rows", 5, "components", func(n int) object {
		return object{"components": list(n, func(i int) any { return row(button(i))[0] })}
	}},
	{"buttons of a row", 5, "components.0.components", func(n int) object {
		return object{"components": row(list(n, button)...)}
	}},
	{"a button's label", 80, "components.0.components.0.label", func(n int) object {
		return object{"components": row(with(button(0), "label", text(n)))}
	}},
	{"a button's custom id", 100, "components.0.components.0.custom_id", func(n int) object {
		return object{"components": row(with(button(0), "custom_id", text(n)))}
	}},
	{"a link", 512, "components.0.components.0.url", func(n int) object {
		return object{"components": row(object{"type": 2, "style": 5, "label": "x", "url": "https://" + text(n-8)})}
	}},
	{"a menu's options", 25, "components.0.components.0.options", func(n int) object {
		return object{"components": row(menu("options", list(n, choice)))}
	}},
	{"a menu's custom id", 100, "components.0.components.0.custom_id", func(n int) object {
		return object{"components": row(menu("custom_id", text(n)))}
	}},
	{"a menu's placeholder", 150, "components.0.components.0.placeholder", func(n int) object {
		return object{"components": row(menu("placeholder", text(n)))}
	}},
	{"an option's label", 100, "components.0.components.0.options.0.label", func(n int) object {
		return object{"components": row(menu("options", []any{with(choice(0), "label", text(n))}))}
	}},
	{"an option's value", 100, "components.0.components.0.options.0.value", func(n int) object {
		return object{"components": row(menu("options", []any{with(choice(0), "value", text(n))}))}
	}},
	{"an option's description", 100, "components.0.components.0.options.0.description", func(n int) object {
		return object{"components": row(menu("options", []any{with(choice(0), "description", text(n))}))}
	}},
	{"how many may be chosen", 2, "components.0.components.0.options", func(n int) object {
		return object{"components": row(menu("max_values", n))}
	}},
	{"embeds", 10, "embeds", func(n int) object {
		return object{"embeds": list(n, func(int) any { return object{"title": "x"} })}
	}},
	{"an embed's title", 256, "embeds.0.title", func(n int) object { return embed("title", text(n)) }},
	{"an embed's title between spaces", 256, "embeds.0.title", func(n int) object { return embed("title", "  "+text(n)+" ") }},
	{"an embed's description", 4096, "embeds.0.description", func(n int) object { return embed("description", text(n)) }},
	{"an embed's footer", 2048, "embeds.0.footer.text", func(n int) object { return embed("footer", object{"text": text(n)}) }},
	{"an embed's author", 256, "embeds.0.author.name", func(n int) object { return embed("author", object{"name": text(n)}) }},
	{"an embed's colour", 0xFFFFFF, "embeds.0.color", func(n int) object { return embed("color", n) }},
	{"an embed's fields", 25, "embeds.0.fields", func(n int) object {
		return embed("fields", list(n, func(int) any { return object{"name": "a", "value": "b"} }))
	}},
	{"a field's name", 256, "embeds.0.fields.0.name", func(n int) object {
		return embed("fields", []any{object{"name": text(n), "value": "b"}})
	}},
	{"a field's value", 1024, "embeds.0.fields.0.value", func(n int) object {
		return embed("fields", []any{object{"name": "a", "value": text(n)}})
	}},
	{"embeds in all", 6000, "embeds", func(n int) object {
		return object{"embeds": []any{object{"description": text(4000)}, object{"description": text(n - 4000)}}}
	}},
	{"components V2", 40, "components", func(n int) object {
		return object{"content": nil, "flags": 1 << 15, "components": list(n, func(int) any { return object{"type": 10, "content": "x"} })}
	}},
	{"components V2, inside a box", 40, "components", func(n int) object {
		inner := list(n-1, func(int) any { return object{"type": 10, "content": "x"} })
		return object{"content": nil, "flags": 1 << 15, "components": []any{object{"type": 17, "components": inner}}}
	}},
	{"components V2, text in all", 4000, "components", func(n int) object {
		return object{"content": nil, "flags": 1 << 15, "components": []any{
			object{"type": 10, "content": text(n - 1000)}, object{"type": 10, "content": text(1000)}}}
	}},
}

func TestLargestAndOneMore(t *testing.T) {
	for _, l := range limits {
		t.Run(l.name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			path := "/channels/" + r.DM(r.User("Ana Pell")).ID + "/messages"
			r.passes(fmt.Sprint(l.most), r.do(http.MethodPost, path, quiet(l.body(l.most))), 0)
			r.refused(fmt.Sprint(l.most+1), r.do(http.MethodPost, path, quiet(l.body(l.most+1))), 400, 50035, l.field, 1)
		})
	}
}

// What is refused whatever its size.
func TestMessagesRefused(t *testing.T) {
	link := object{"type": 2, "style": 5, "label": "Pattern", "url": "https://example.org"}
	table := map[string]struct {
		body  object
		code  int
		field string
	}{
		"nothing at all":              {object{"content": nil}, 50006, ""},
		"white space":                 {object{"content": " \n"}, 50006, ""},
		"content that is a number":    {object{"content": 6}, 50035, "content"},
		"an ephemeral message":        {object{"flags": 64}, 50035, "flags"},
		"a flag that can't be set":    {object{"flags": 1}, 50035, "flags"},
		"flags of text":               {object{"flags": "none"}, 50035, "flags"},
		"an empty row":                {object{"components": row()}, 50035, "components.0.components"},
		"a button without a row":      {object{"components": []any{button(0)}}, 50035, "components.0.type"},
		"a row in a row":              {object{"components": row(row()[0])}, 50035, "components.0.components.0.type"},
		"an input in a message":       {object{"components": row(object{"type": 4})}, 50035, "components.0.components.0.type"},
		"two menus in a row":          {object{"components": row(menu("custom_id", "a"), menu("custom_id", "b"))}, 50035, "components.0.components"},
		"a menu beside a button":      {object{"components": row(button(0), menu("custom_id", "a"))}, 50035, "components.0.components"},
		"the same custom id":          {object{"components": row(button(1), button(1))}, 50035, "components.0.components.1.custom_id"},
		"the same id in another row":  {object{"components": append(row(button(1)), row(button(1))...)}, 50035, "components.1.components.0.custom_id"},
		"no custom id":                {object{"components": row(with(button(0), "custom_id", nil))}, 50035, "components.0.components.0.custom_id"},
		"an empty custom id":          {object{"components": row(with(button(0), "custom_id", ""))}, 50035, "components.0.components.0.custom_id"},
		"no label":                    {object{"components": row(with(button(0), "label", ""))}, 50035, "components.0.components.0.label"},
		"no style":                    {object{"components": row(with(button(0), "style", nil))}, 50035, "components.0.components.0.style"},
		"a style that is none":        {object{"components": row(with(button(0), "style", 7))}, 50035, "components.0.components.0.style"},
		"a link with a custom id":     {object{"components": row(with(link, "custom_id", "x"))}, 50035, "components.0.components.0.custom_id"},
		"a link without an address":   {object{"components": row(with(link, "url", nil))}, 50035, "components.0.components.0.url"},
		"a link to a file":            {object{"components": row(with(link, "url", "file:///etc/passwd"))}, 50035, "components.0.components.0.url"},
		"a button with an address":    {object{"components": row(with(button(0), "url", "https://example.org"))}, 50035, "components.0.components.0.url"},
		"a menu without options":      {object{"components": row(menu("options", nil))}, 50035, "components.0.components.0.options"},
		"the same value twice":        {object{"components": row(menu("options", []any{choice(1), choice(1)}))}, 50035, "components.0.components.0.options.1.value"},
		"an option without a label":   {object{"components": row(menu("options", []any{with(choice(1), "label", nil)}))}, 50035, "components.0.components.0.options.0.label"},
		"an empty value":              {object{"components": row(menu("options", []any{with(choice(1), "value", "")}))}, 50035, "components.0.components.0.options.0.value"},
		"more at least than at most":  {object{"components": row(menu("min_values", 2))}, 50035, "components.0.components.0.min_values"},
		"components that are text":    {object{"components": "x"}, 50035, "components"},
		"an empty embed":              {object{"embeds": []any{object{}}}, 50035, "embeds.0.description"},
		"a field without a value":     {embed("fields", []any{object{"name": "a"}}), 50035, "embeds.0.fields.0.value"},
		"an embed's address":          {embed("url", "javascript:alert(1)"), 50035, "embeds.0.url"},
		"an embed's time":             {embed("timestamp", "noon"), 50035, "embeds.0.timestamp"},
		"an embed's picture":          {embed("image", object{}), 50035, "embeds.0.image.url"},
		"a reply to nothing":          {object{"message_reference": object{"message_id": "900000000000000000"}}, 50035, "message_reference"},
		"a reply to no id":            {object{"message_reference": object{"message_id": "x"}}, 50035, "message_reference.message_id"},
		"V2 with content":             {object{"flags": 1 << 15, "components": []any{object{"type": 10, "content": "x"}}}, 50035, "content"},
		"V2 with embeds":              {object{"content": nil, "flags": 1 << 15, "embeds": []any{object{"title": "x"}}}, 50035, "embeds"},
		"V2's parts without the flag": {object{"components": []any{object{"type": 10, "content": "x"}}}, 50035, "components.0.type"},
		"a box in a box":              {object{"content": nil, "flags": 1 << 15, "components": []any{object{"type": 17, "components": []any{object{"type": 17}}}}}, 50035, "components.0.components.0.type"},
		"a voice message of text":     {object{"flags": 1 << 13}, 50035, "attachments"},
		"a file that was not sent":    {object{"attachments": []any{object{"id": 0}}}, 50035, "attachments.0.id"},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			ana := r.User("Ana Pell")
			a := r.do(http.MethodPost, "/channels/"+r.DM(ana).ID+"/messages", quiet(c.body))
			r.refused(name, a, 400, c.code, c.field, 1)
			if n := len(r.Sent(ana)); n != 0 {
				t.Errorf("%d messages", n)
			}
		})
	}
}

// What lets a text ping is on the list, though the platform takes it: left out or null,
// allowed_mentions parses everything, on edits too (shared/DISCORD.md, Mentions and text).
func TestMentionsAreWrong(t *testing.T) {
	table := map[string]struct {
		body   object
		wrongs int
	}{
		"an empty list":           {object{"content": "@everyone <@1496275200000>", "allowed_mentions": object{"parse": []string{}}}, 0},
		"with replied_user false": {object{"content": "x", "allowed_mentions": object{"parse": []string{}, "replied_user": false}}, 0},
		"left out":                {object{"content": "x"}, 1},
		"null":                    {object{"content": "x", "allowed_mentions": nil}, 1},
		"parse left out":          {object{"content": "x", "allowed_mentions": object{}}, 1},
		"parse null":              {object{"content": "x", "allowed_mentions": object{"parse": nil}}, 1},
		"parse of users":          {object{"content": "x", "allowed_mentions": object{"parse": []string{"users"}}}, 1},
		"a list of users":         {object{"content": "x", "allowed_mentions": object{"parse": []string{}, "users": []string{"80351110224678912"}}}, 1},
		"replied_user":            {object{"content": "x", "allowed_mentions": object{"parse": []string{}, "replied_user": true}}, 1},
		"left out, with a user":   {object{"content": "hello <@80351110224678912>"}, 2},
		"left out, with a role":   {object{"content": "hello <@&80351110224678912>"}, 2},
		"left out, everybody":     {object{"content": "@everyone"}, 2},
		"left out, escaped":       {object{"content": `hello \<@80351110224678912>`}, 1},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			path := "/channels/" + r.DM(r.User("Ana Pell")).ID + "/messages"
			a := r.do(http.MethodPost, path, c.body)
			r.passes("send", a, c.wrongs)
			r.passes("edit", r.do(http.MethodPatch, path+"/"+a.body["id"].(string), c.body), 2*c.wrongs)
		})
	}
}

// Refused beside that: documentation, "Message", allowed mentions object.
func TestMentionsRefused(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	path := "/channels/" + r.DM(r.User("Ana Pell")).ID + "/messages"
	send := func(allowed any) answer {
		return r.do(http.MethodPost, path, object{"content": "x", "allowed_mentions": allowed})
	}
	people := func(n int) []string { return list(n, func(i int) string { return fmt.Sprint(80351110224678912 + i) }) }
	r.refused("no object", send("none"), 400, 50035, "allowed_mentions", 1)
	r.refused("parse of what is none", send(object{"parse": []string{"friends"}}), 400, 50035, "allowed_mentions.parse.0", 3)
	r.refused("users twice", send(object{"parse": []string{"users"}, "users": people(1)}), 400, 50035, "allowed_mentions", 5)
	r.passes("100 users", send(object{"parse": []string{}, "users": people(100)}), 6)
	r.refused("101 users", send(object{"parse": []string{}, "users": people(101)}), 400, 50035, "allowed_mentions.users", 8)
}

func TestFiles(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	path := "/channels/" + r.DM(ana).ID + "/messages"
	some := func(n, size int) []part {
		return list(n, func(i int) part { return part{fmt.Sprintf("row%d.png", i), "image/png", make([]byte, size)} })
	}
	about := func(n int) object {
		return quiet(object{"attachments": []any{object{"id": 0, "filename": "row0.png", "description": text(n)}}})
	}
	// 10 attachments, 10 MiB each, alt text 1,024 (shared/DISCORD.md, Sizes).
	r.passes("10 files", r.parts(http.MethodPost, path, quiet(nil), some(10, 1)...), 0)
	r.refused("11 files", r.parts(http.MethodPost, path, quiet(nil), some(11, 1)...), 400, 30015, "", 1)
	r.passes("10 MiB", r.parts(http.MethodPost, path, quiet(nil), some(1, 10<<20)...), 1)
	r.refused("more than 10 MiB", r.parts(http.MethodPost, path, quiet(nil), some(1, 10<<20+1)...), 413, 40005, "", 2)
	r.passes("alt text of 1024", r.parts(http.MethodPost, path, about(1024), some(1, 1)...), 2)
	r.refused("alt text of 1025", r.parts(http.MethodPost, path, about(1025), some(1, 1)...), 400, 50035, "attachments.0.description", 3)

	sent := r.Sent(ana)
	if len(sent) != 3 || len(sent[0].Files) != 10 || sent[0].Files[9].Name != "row9.png" || sent[2].Files[0].Description != text(1024) {
		t.Errorf("%d messages", len(sent))
	}
	a := r.parts(http.MethodPost, path, object{"allowed_mentions": object{"parse": []string{}}}, part{"row.txt", "text/plain", []byte("k6")})
	r.passes("a file alone", a, 3)
	address := a.body["attachments"].([]any)[0].(object)["url"].(string)
	q, _ := http.NewRequest(http.MethodGet, r.URL()+strings.TrimPrefix(address, "https://cdn.discordapp.com"), nil)
	if got := r.send(q); got.status != 200 || got.text != "k6" {
		t.Errorf("the file: %d %q", got.status, got.text)
	}
	kept := quiet(object{"attachments": []any{}})
	r.passes("an edit that keeps no file", r.do(http.MethodPatch, path+"/"+a.body["id"].(string), kept), 3)
	if m := r.Sent(ana)[3]; len(m.Files) != 0 || m.Content != "Row six." || m.Edits != 1 {
		t.Errorf("after the edit: %+v", m)
	}
}

// A voice message: flag, one sound with length and outline, no text (shared/DISCORD.md, Voice).
func TestVoiceMessage(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	path := "/channels/" + r.DM(r.User("Ana Pell")).ID + "/messages"
	body := func(change string, v any) object {
		return object{"flags": 1 << 13, "allowed_mentions": object{"parse": []string{}},
			"attachments": []any{with(object{"id": 0, "filename": "row.ogg", "duration_secs": 2.5, "waveform": "AAAA"}, change, v)}}
	}
	sound := part{"row.ogg", "audio/ogg", []byte("OggS")}
	a := r.parts(http.MethodPost, path, body("", nil), sound)
	r.passes("voice", a, 0)
	r.refused("without its length", r.parts(http.MethodPost, path, body("duration_secs", nil), sound), 400, 50035, "attachments.0.duration_secs", 1)
	r.refused("without its outline", r.parts(http.MethodPost, path, body("waveform", nil), sound), 400, 50035, "attachments.0.waveform", 2)
	r.refused("another type", r.parts(http.MethodPost, path, body("", nil), part{"row.ogg", "audio/mpeg", nil}), 400, 50035, "attachments.0", 3)
	r.refused("with text", r.parts(http.MethodPost, path, with(body("", nil), "content", "x"), sound), 400, 50035, "content", 4)
	r.refused("an edit", r.do(http.MethodPatch, path+"/"+a.body["id"].(string), quiet(nil)), 400, 50173, "", 5)
}

func TestBodies(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	path := "/channels/" + r.DM(r.User("Ana Pell")).ID + "/messages"
	kind := func(k string) func(*http.Request) {
		return func(q *http.Request) { q.Header.Set("Content-Type", k) }
	}
	r.refused("half a body", r.do(http.MethodPost, path, `{"content":`), 400, 50109, "", 1)
	r.refused("a list", r.do(http.MethodPost, path, `[]`), 400, 50109, "", 2)
	r.refused("two bodies", r.do(http.MethodPost, path, `{"content":"a"}{}`), 400, 50109, "", 3)
	r.refused("another type", r.do(http.MethodPost, path, `content=a`, kind("text/plain")), 400, 50035, "", 4)
	r.refused("no parts", r.do(http.MethodPost, path, `x`, kind("multipart/form-data; boundary=x")), 400, 50035, "", 5)
	r.refused("too large", r.do(http.MethodPost, path, `{"content":"`+text(1<<20)+`"}`), 413, 40005, "", 6)
	r.refused("no such path", r.do(http.MethodPost, "/knitters", `{}`), 404, 0, "", 7)
	r.refused("no such method", r.do(http.MethodPut, path, `{}`), 404, 0, "", 8)
	agent := func(q *http.Request) { q.Header.Set("User-Agent", "Go-http-client/1.1") }
	r.passes("another agent", r.do(http.MethodGet, "/users/@me", nil, agent), 9)
	bare := func(q *http.Request) { q.Header.Set("Authorization", r.Token()) }
	r.refused("a token without Bot", r.do(http.MethodGet, "/users/@me", nil, bare), 401, 0, "", 10)
}

// Rights and people: documentation, "Opcodes and Status Codes", JSON error codes. None of
// it is a fault of form, but for a channel that is none and a person who is none.
func TestChannels(t *testing.T) {
	r := newRaw(t, discordtest.Options{NoEcho: true})
	guild := r.Guild("Tibberhythe")
	ch, ana := guild.Channel("wednesday"), guild.Member("Ana Pell")
	path := "/channels/" + ch.ID + "/messages"
	send := func() answer { return r.do(http.MethodPost, path, quiet(nil)) }
	first := send()
	r.passes("send", first, 0)
	id := first.body["id"].(string)
	r.Forbid(ch)
	r.refused("forbidden", send(), 403, 50013, "", 0)
	r.passes("an edit where new ones are forbidden", r.do(http.MethodPatch, path+"/"+id, quiet(object{"content": "Row seven."})), 0)
	r.Hide(ch)
	r.refused("hidden", send(), 403, 50001, "", 0)
	r.Grant(ch, discordtest.Usual&^discordtest.AttachFiles)
	r.refused("without files", r.parts(http.MethodPost, path, quiet(nil), part{"a.txt", "text/plain", nil}), 403, 50013, "", 0)
	r.refused("an edit with a file, without files", r.parts(http.MethodPatch, path+"/"+id, quiet(nil), part{"a.txt", "text/plain", nil}), 403, 50013, "", 0)
	r.passes("an edit without one", r.do(http.MethodPatch, path+"/"+id, quiet(object{"content": "Row seven."})), 0)
	r.Allow(ch)
	r.passes("get", r.do(http.MethodGet, path+"/"+id, nil), 0)
	if a := r.do(http.MethodGet, path+"?limit=1", nil); !strings.Contains(a.text, "Row seven.") || !strings.HasPrefix(a.text, "[") {
		t.Errorf("the newest: %s", a.text)
	}

	a := r.do(http.MethodPost, "/users/@me/channels", object{"recipient_id": ana.ID})
	r.passes("a DM", a, 0)
	dm := "/channels/" + a.body["id"].(string) + "/messages"
	r.RefuseDM(ana)
	r.passes("the DM of one who takes none", r.do(http.MethodPost, "/users/@me/channels", object{"recipient_id": ana.ID}), 0)
	r.refused("a message to her", r.do(http.MethodPost, dm, quiet(nil)), 403, 50007, "", 0)
	r.AllowDM(ana)
	r.passes("a message to her", r.do(http.MethodPost, dm, quiet(nil)), 0)

	r.Remove(id)
	r.refused("an edit of what is gone", r.do(http.MethodPatch, path+"/"+id, quiet(nil)), 404, 10008, "", 0)
	r.refused("a channel that is none", r.do(http.MethodPost, "/channels/1/messages", quiet(nil)), 404, 10003, "", 1)
	r.refused("a person who is none", r.do(http.MethodPost, "/users/@me/channels", object{"recipient_id": "80351110224678912"}), 400, 50033, "", 2)
	r.refused("no person", r.do(http.MethodPost, "/users/@me/channels", object{}), 400, 50035, "recipient_id", 3)
	r.refused("a limit of 101", r.do(http.MethodGet, path+"?limit=101", nil), 400, 50035, "limit", 4)
	second := send()
	r.refused("an edit that leaves nothing", r.do(http.MethodPatch, path+"/"+second.body["id"].(string), quiet(object{"content": ""})), 400, 50006, "", 5)
	r.passes("delete", r.do(http.MethodDelete, path+"/"+second.body["id"].(string), nil), 5)
	r.refused("an edit of what it deleted", r.do(http.MethodPatch, path+"/"+second.body["id"].(string), quiet(nil)), 404, 10008, "", 5)
	if n := len(r.SentIn(ch)); n != 0 {
		t.Errorf("%d messages are left in the channel", n)
	}
}

// A nonce that is enforced gives the earlier message back: documentation, "Message", create message.
func TestNonce(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	ana := r.User("Ana Pell")
	path := "/channels/" + r.DM(ana).ID + "/messages"
	send := func(enforce bool) string {
		a := r.do(http.MethodPost, path, quiet(object{"nonce": "row.6", "enforce_nonce": enforce}))
		r.passes("send", a, 0)
		return a.body["id"].(string)
	}
	first, second := send(true), send(true)
	if first != second || len(r.Sent(ana)) != 1 {
		t.Errorf("%s and %s: %d messages", first, second, len(r.Sent(ana)))
	}
	if third := send(false); third == first || len(r.Sent(ana)) != 2 {
		t.Errorf("%s without enforcing: %d messages", third, len(r.Sent(ana)))
	}
}

// named sends a message with a nonce that is always the same.
func (r raw) named(ch *discordtest.Channel) (id string) {
	r.t.Helper()
	a := r.do(http.MethodPost, "/channels/"+ch.ID+"/messages", quiet(object{"nonce": "board-3", "enforce_nonce": true}))
	r.passes("send", a, 0)
	return a.body["id"].(string)
}

// A nonce is the bot's, not a channel's ("by the same author"): documentation, "Message", create message.
func TestNonceIsTheBots(t *testing.T) {
	r := newRaw(t, discordtest.Options{NoEcho: true})
	guild := r.Guild("Tibberhythe")
	wednesday, thursday := guild.Channel("wednesday"), guild.Channel("thursday")
	if one, two := r.named(wednesday), r.named(thursday); one != two || len(r.SentIn(thursday)) != 0 {
		t.Errorf("in another channel: %s and %s", one, two)
	}
}

// TestNonceIsForgotten says that one is remembered for "the past few minutes" alone:
// documentation, "Message", create message.
func TestNonceIsForgotten(t *testing.T) {
	r := newRaw(t, discordtest.Options{NoEcho: true, NonceServes: time.Millisecond})
	ch := r.Guild("Tibberhythe").Channel("wednesday")
	first := r.named(ch)
	time.Sleep(5 * time.Millisecond)
	if second := r.named(ch); second == first || len(r.SentIn(ch)) != 2 {
		t.Errorf("after it was forgotten: %s and %s", first, second)
	}
}

// TestRemove says what the bot is told of: documentation, "Gateway Events", message
// delete, message delete bulk.
func TestRemove(t *testing.T) {
	r := newRaw(t, discordtest.Options{NoEcho: true})
	g := r.dial(usual)
	g.ready(r, nil)
	guild := r.Guild("Tibberhythe")
	ch, ana := guild.Channel("wednesday"), guild.Member("Ana Pell")
	post := func() string {
		a := r.do(http.MethodPost, "/channels/"+ch.ID+"/messages", quiet(object{"nonce": "post"}))
		r.passes("send", a, 0)
		return a.body["id"].(string)
	}
	one, two, hers := post(), post(), r.SaysIn(ch, ana, "The tide is out.")
	g.event("MESSAGE_CREATE")
	if len(hers.Answered()) != 0 {
		t.Errorf("what was posted by itself answers her: %+v", hers.Answered())
	}
	r.Remove(one)
	if d, _ := g.event("MESSAGE_DELETE"); d["id"] != one || d["channel_id"] != ch.ID || d["guild_id"] != guild.ID || d["author"] != nil {
		t.Errorf("%v", d)
	}
	r.Remove(two, hers.ID)
	d, _ := g.event("MESSAGE_DELETE_BULK")
	if ids := fmt.Sprint(d["ids"]); ids != fmt.Sprintf("[%s %s]", two, hers.ID) || d["channel_id"] != ch.ID || d["guild_id"] != guild.ID {
		t.Errorf("%v", d)
	}
	if n := len(r.SentIn(ch)); n != 0 {
		t.Errorf("%d messages are left", n)
	}
	alone := r.Says(ana, "next row")
	g.event("MESSAGE_CREATE")
	r.Remove(alone.ID)
	if d, _ := g.event("MESSAGE_DELETE"); d["id"] != alone.ID || d["guild_id"] != nil {
		t.Errorf("in private: %v", d)
	}
}

// TestNicknames says that a name in a guild is another thing than a person's own.
func TestNicknames(t *testing.T) {
	r := newRaw(t, discordtest.Options{NoEcho: true})
	g := r.dial(usual)
	g.ready(r, nil)
	guild := r.Guild("Tibberhythe")
	ch, ana := guild.Channel("wednesday"), guild.Member("Ana Pell")
	nick := func() any {
		d, _ := g.event("MESSAGE_CREATE")
		return d["member"].(object)["nick"]
	}
	r.SaysIn(ch, ana, "@clew next")
	if found := nick(); found != nil {
		t.Errorf("without one: %v", found)
	}
	guild.Call(ana, "Ana of the Quay")
	r.SaysIn(ch, ana, "@clew next")
	if found := nick(); found != "Ana of the Quay" {
		t.Errorf("found %v", found)
	}
	guild.Call(ana, "")
	r.SaysIn(ch, ana, "@clew next")
	if found := nick(); found != nil {
		t.Errorf("without one again: %v", found)
	}
}

func TestReplies(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	g := r.dial(usual)
	g.ready(r, nil)
	ana := r.User("Ana Pell")
	path := "/channels/" + r.DM(ana).ID + "/messages"
	one, two := r.Says(ana, "one"), r.Says(ana, "two")
	to := func(id string, lenient bool) object {
		ref := object{"message_id": id}
		if lenient {
			ref["fail_if_not_exists"] = false
		}
		return quiet(object{"message_reference": ref})
	}
	r.passes("a reply", r.do(http.MethodPost, path, to(one.ID, false)), 0)
	if m := one.Answer(); m.ReplyTo != one.ID || m.Event != one.ID {
		t.Errorf("%+v", m)
	}
	r.passes("no reference", r.do(http.MethodPost, path, quiet(nil)), 0)
	two.Answers(1)
	r.passes("by nonce", r.do(http.MethodPost, path, quiet(object{"nonce": one.ID + ".2"})), 0)
	if n := len(one.Answers(2)); n != 2 {
		t.Errorf("%d answers", n)
	}
	r.passes("to nothing, leniently", r.do(http.MethodPost, path, to("900000000000000000", true)), 0)
	if n := len(two.Answers(2)); n != 2 || time.Since(two.Answered()[0].At) > time.Minute {
		t.Errorf("%d answers", n)
	}
}
