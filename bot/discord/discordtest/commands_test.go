package discordtest_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"clew/bot/discord/discordtest"
)

func command(key string, v any) object {
	return with(object{"name": "next", "description": "Hear the next row."}, key, v)
}

func option(i int) object {
	return object{"type": 3, "name": fmt.Sprint("o", i), "description": "x"}
}

func opt(key string, v any) object { return command("options", []any{with(option(0), key, v)}) }

// Sizes of commands: Discord's developer documentation, "Application Commands", as in
// shared/DISCORD.md, Requests and answers; an option's lengths (6,000) are from memory.
func TestCommandsLargestAndOneMore(t *testing.T) {
	one := func(c object) []any { return []any{c} }
	choices := func(n int) []any {
		return list(n, func(i int) any { return object{"name": fmt.Sprint(i), "value": fmt.Sprint(i)} })
	}
	// Each option has a name of 2 or 3 letters and a description; all in all n letters.
	all := func(n int) []any {
		left := n - len("next") - len("Hear the next row.")
		var options []any
		for i := 0; left > 0; i++ {
			o := object{"type": 3, "name": fmt.Sprintf("o%02d", i), "description": text(97)}
			left -= 100
			var more []any
			for k := 0; left > 0 && k < 25; k++ {
				size := min(left-2, 70)
				more = append(more, object{"name": fmt.Sprintf("%02d", k), "value": text(size)})
				left -= size + 2
			}
			options = append(options, with(o, "choices", more))
		}
		return one(command("options", options))
	}
	table := map[string]struct {
		most  int
		field string // of the first that is refused
		code  int
		body  func(n int) []any
	}{
		"a name":              {32, "0.name", 50035, func(n int) []any { return one(command("name", text(n))) }},
		"a description":       {100, "0.description", 50035, func(n int) []any { return one(command("description", text(n))) }},
		"options":             {25, "0.options", 50035, func(n int) []any { return one(command("options", list(n, option))) }},
		"an option's name":    {32, "0.options.0.name", 50035, func(n int) []any { return one(opt("name", text(n))) }},
		"an option's about":   {100, "0.options.0.description", 50035, func(n int) []any { return one(opt("description", text(n))) }},
		"choices":             {25, "0.options.0.choices", 50035, func(n int) []any { return one(opt("choices", choices(n))) }},
		"a choice's name":     {100, "0.options.0.choices.0.name", 50035, func(n int) []any { return one(opt("choices", []any{object{"name": text(n), "value": "x"}})) }},
		"a choice's value":    {100, "0.options.0.choices.0.value", 50035, func(n int) []any { return one(opt("choices", []any{object{"name": "x", "value": text(n)}})) }},
		"the greatest length": {6000, "0.options.0.max_length", 50035, func(n int) []any { return one(opt("max_length", n)) }},
		"the least length":    {6000, "0.options.0.min_length", 50035, func(n int) []any { return one(opt("min_length", n)) }},
		"a type":              {3, "0.type", 50035, func(n int) []any { return one(object{"name": "next", "type": max(n, 3)}) }},
		"a context":           {2, "0.contexts.0", 50035, func(n int) []any { return one(command("contexts", []int{n})) }},
		"an option's type":    {11, "0.options.0.type", 50035, func(n int) []any { return one(opt("type", n)) }},
		"letters in all":      {8000, "0", 50035, all},
		"commands":            {100, "", 30032, func(n int) []any { return list(n, func(i int) any { return command("name", fmt.Sprint("n", i)) }) }},
		"subcommands": {25, "0.options", 50035, func(n int) []any {
			return one(command("options", list(n, func(i int) any { return with(option(i), "type", 1) })))
		}},
		"a subcommand's options": {25, "0.options.0.options", 50035, func(n int) []any {
			return one(command("options", []any{with(with(option(0), "type", 1), "options", list(n, option))}))
		}},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			path := "/applications/" + r.Application() + "/commands"
			r.passes(fmt.Sprint(c.most), r.do(http.MethodPut, path, c.body(c.most)), 0)
			before := string(r.Commands())
			r.refused(fmt.Sprint(c.most+1), r.do(http.MethodPut, path, c.body(c.most+1)), 400, c.code, c.field, 1)
			if string(r.Commands()) != before {
				t.Error("what was refused has changed what is registered")
			}
		})
	}
}

func TestCommandsRefused(t *testing.T) {
	second := with(with(option(1), "required", true), "name", "second")
	table := map[string]struct {
		body  object
		field string
	}{
		"an upper-case name":              {command("name", "Next"), "0.name"},
		"an upper-case name of any kind":  {command("name", "ÉTAPE"), "0.name"},
		"a space in a name":               {command("name", "next row"), "0.name"},
		"an empty name":                   {command("name", ""), "0.name"},
		"no name":                         {command("name", nil), "0.name"},
		"an empty description":            {command("description", ""), "0.description"},
		"no description":                  {command("description", nil), "0.description"},
		"a described menu command":        {object{"name": "next", "type": 3, "description": "x"}, "0.description"},
		"permissions that are no text":    {command("default_member_permissions", 8), "0.default_member_permissions"},
		"permissions that are no number":  {command("default_member_permissions", "all"), "0.default_member_permissions"},
		"the same context twice":          {command("contexts", []int{0, 0}), "0.contexts.1"},
		"required behind optional":        {command("options", []any{option(0), second}), "0.options.1"},
		"the same option twice":           {command("options", []any{option(0), option(0)}), "0.options.1.name"},
		"an upper-case option":            {opt("name", "Row"), "0.options.0.name"},
		"an option without a type":        {opt("type", nil), "0.options.0.type"},
		"an option without a description": {opt("description", nil), "0.options.0.description"},
		"choices for a person":            {command("options", []any{with(with(option(0), "type", 6), "choices", []any{object{"name": "a", "value": "a"}})}), "0.options.0.autocomplete"},
		"autocomplete and choices":        {command("options", []any{with(with(option(0), "autocomplete", true), "choices", []any{object{"name": "a", "value": "a"}})}), "0.options.0.autocomplete"},
		"a choice of another type":        {opt("choices", []any{object{"name": "a", "value": 1}}), "0.options.0.choices.0.value"},
		"a choice without a value":        {opt("choices", []any{object{"name": "a"}}), "0.options.0.choices.0.value"},
		"the same choice twice":           {opt("choices", []any{object{"name": "a", "value": "a"}, object{"name": "a", "value": "b"}}), "0.options.0.choices.1.name"},
		"a least value for text":          {opt("min_value", 1), "0.options.0.min_value"},
		"a length for a number":           {command("options", []any{with(with(option(0), "type", 4), "max_length", 3)}), "0.options.0.max_length"},
		"options of an option":            {opt("options", []any{option(0)}), "0.options.0.options"},
		"a subcommand beside an option":   {command("options", []any{with(option(0), "type", 1), option(1)}), "0.options"},
		"a subcommand in a subcommand":    {command("options", []any{with(with(option(0), "type", 1), "options", []any{with(option(0), "type", 1)})}), "0.options.0.options.0.type"},
		"a group in a group":              {command("options", []any{with(with(option(0), "type", 2), "options", []any{with(option(0), "type", 2)})}), "0.options.0.options.0.type"},
		"an option in a group":            {command("options", []any{with(with(option(0), "type", 2), "options", []any{option(0)})}), "0.options.0.options.0.type"},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			r := newRaw(t, discordtest.Options{})
			path := "/applications/" + r.Application() + "/commands"
			r.refused(name, r.do(http.MethodPut, path, []any{c.body}), 400, 50035, c.field, 1)
			r.refused(name, r.do(http.MethodPost, path, c.body), 400, 50035, strings.TrimPrefix(strings.TrimPrefix(c.field, "0"), "."), 2)
			if err := r.Register([]byte(`[` + string(must(c.body)) + `]`)); err == nil {
				t.Error("Register takes it")
			}
		})
	}
	r := newRaw(t, discordtest.Options{})
	path := "/applications/" + r.Application() + "/commands"
	r.refused("a name twice", r.do(http.MethodPut, path, []any{command("", nil), command("", nil)}), 400, 50035, "1.name", 1)
	r.refused("no list", r.do(http.MethodPut, path, object{}), 400, 50109, "", 2)
	r.refused("another application", r.do(http.MethodPut, "/applications/1/commands", []any{}), 403, 20012, "", 3)
	for i := range 100 {
		r.passes("post", r.do(http.MethodPost, path, command("name", fmt.Sprint("n", i))), 3)
	}
	r.refused("the hundred and first", r.do(http.MethodPost, path, command("name", "more")), 400, 30032, "", 4)
	r.passes("one of the hundred again", r.do(http.MethodPost, path, command("name", "n7")), 4)
}

func must(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return b
}

// What the platform fills in: documentation, "Application Commands", command structure.
func TestCommandsFilledIn(t *testing.T) {
	r := newRaw(t, discordtest.Options{})
	path := "/applications/" + r.Application() + "/commands"
	// With the empty fields that a library sends.
	sent := []any{with(with(opt("required", false), "name_localizations", object{"de": "weiter"}), "default_member_permissions", "8589934592")}
	sent[0] = with(sent[0], "contexts", []int{0, 1})
	a := r.do(http.MethodPut, path, sent)
	r.passes("put", a, 0)
	var got []object
	if err := json.Unmarshal([]byte(a.text), &got); err != nil || len(got) != 1 {
		t.Fatal(err, a.text)
	}
	c := got[0]
	if c["type"] != 1.0 || c["application_id"] != r.Application() || c["id"] == nil || c["version"] == nil || c["nsfw"] != false ||
		c["default_member_permissions"] != "8589934592" || fmt.Sprint(c["contexts"]) != "[0 1]" || c["name_localizations"].(object)["de"] != "weiter" {
		t.Errorf("%v", c)
	}
	if o := c["options"].([]any)[0].(object); o["required"] != nil || o["type"] != 3.0 || o["choices"] != nil {
		t.Errorf("%v", o)
	}
	if list := r.do(http.MethodGet, path, nil); strings.Contains(list.text, "weiter") || !strings.Contains(list.text, `"name":"next"`) {
		t.Errorf("%s", list.text)
	}
	if list := r.do(http.MethodGet, path+"?with_localizations=true", nil); list.text != a.text {
		t.Errorf("%s\n%s", list.text, a.text)
	}
	r.passes("none", r.do(http.MethodPut, path, []any{}), 0)
	if string(r.Commands()) != "[]" {
		t.Errorf("%s", r.Commands())
	}
}

// What the platform's own fields let a person do with a command.
func TestUses(t *testing.T) {
	const commands = `[
		{"name":"next","description":"x","contexts":[0,1]},
		{"name":"at","description":"x","contexts":[0],"options":[
			{"type":4,"name":"row","description":"x","required":true,"min_value":1,"max_value":999},
			{"type":3,"name":"size","description":"x","choices":[{"name":"Small","value":"s"}]}]},
		{"name":"knitalong","description":"x","contexts":[0],"default_member_permissions":"8589934592","options":[
			{"type":1,"name":"start","description":"x","options":[{"type":11,"name":"pattern","description":"x","required":true}]}]}]`
	type use struct {
		command string
		private bool
		host    bool
		options []discordtest.Opt
		ok      bool
	}
	file := func(r raw) discordtest.Opt { return discordtest.With("pattern", r.Attach("a.clew", nil)) }
	rows := func(v any) []discordtest.Opt { return []discordtest.Opt{discordtest.With("row", v)} }
	table := map[string]use{
		"in a channel":        {command: "next", ok: true},
		"in private":          {command: "next", private: true, ok: true},
		"not in private":      {command: "at", private: true, options: rows(1)},
		"with its option":     {command: "at", options: rows(12), ok: true},
		"without its option":  {command: "at"},
		"of another type":     {command: "at", options: rows("twelve")},
		"below the least":     {command: "at", options: rows(0)},
		"above the greatest":  {command: "at", options: rows(1000)},
		"with a choice":       {command: "at", options: append(rows(1), discordtest.With("size", "s")), ok: true},
		"with no such choice": {command: "at", options: append(rows(1), discordtest.With("size", "m"))},
		"no such option":      {command: "at", options: append(rows(1), discordtest.With("colour", "m"))},
		"no subcommand named": {command: "knitalong", host: true},
		"by a host":           {command: "knitalong start", host: true, ok: true},
		"by another":          {command: "knitalong start"},
		"no such command":     {command: "previous"},
		"no such subcommand":  {command: "knitalong close", host: true},
	}
	for name, c := range table {
		t.Run(name, func(t *testing.T) {
			leaks(t)
			failed := ""
			srv, err := discordtest.Start(discordtest.Options{Wait: wait(c.ok), Fail: func(what string) { failed = what; panic(failed) }})
			if err != nil {
				t.Fatal(err)
			}
			defer srv.Close()
			r := raw{srv, t, http.DefaultClient}
			if err := r.Register([]byte(commands)); err != nil {
				t.Fatal(err)
			}
			guild := r.Guild("Tibberhythe")
			ana := guild.Member("Ana Pell")
			if c.host {
				guild.Admit(ana, discordtest.ManageEvents)
			}
			ch := guild.Channel("wednesday")
			if c.private {
				ch = r.DM(ana)
			}
			if strings.HasPrefix(c.command, "knitalong ") {
				c.options = []discordtest.Opt{file(r)}
			}
			r.dial(usual).ready(r, nil)
			func() {
				defer func() { _ = recover() }()
				r.Uses(ch, ana, c.command, c.options...)
			}()
			if ok := failed == ""; ok != c.ok {
				t.Errorf("let her: %t: %s", ok, failed)
			}
		})
	}
}
