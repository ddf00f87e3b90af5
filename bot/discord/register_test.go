package discord

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/rs/zerolog"

	"clew/bot/discord/discordtest"
	"clew/bot/discord/rest"
)

// asRegistered gives the commands as the platform does when it is asked for
// them. The fields are those of Discord's developer documentation, "Application
// Command Object" and "Application Command Option Structure", from memory: each
// command has an id, its application's, and a version; localizations that were
// not set are null; permissions, dm_permission and nsfw are filled in, as are
// the fields of options that were left out, here and there.
func asRegistered(t *testing.T) []map[string]any {
	t.Helper()
	all := asSent(t)
	for i, c := range all {
		c["id"], c["application_id"], c["version"] = "9876543210987654321", "123456789012345678", "1122334455667788990"
		c["name_localizations"], c["description_localizations"] = nil, nil
		c["dm_permission"], c["nsfw"] = true, false
		c["contexts"] = reversed(c["contexts"])
		if c["options"] == nil && i%2 == 0 {
			c["options"] = []any{}
		}
		fill(c["options"], i)
	}
	slices.Reverse(all)
	return all
}

func fill(options any, odd int) {
	list, _ := options.([]any)
	for i, o := range list {
		o := o.(map[string]any)
		o["name_localizations"], o["description_localizations"] = nil, nil
		if (i+odd)%2 == 0 {
			if o["required"] == nil {
				o["required"] = false
			}
			if o["autocomplete"] == nil {
				o["autocomplete"] = nil
			}
			if o["choices"] == nil {
				o["choices"] = []any{}
			}
			o["channel_types"] = nil
		}
		choices, _ := o["choices"].([]any)
		for _, c := range choices {
			c.(map[string]any)["name_localizations"] = nil
		}
		fill(o["options"], i)
	}
}

func reversed(list any) any {
	turned := slices.Clone(list.([]any))
	slices.Reverse(turned)
	return turned
}

// asSent gives the commands as they are sent.
func asSent(t *testing.T) []map[string]any {
	t.Helper()
	sent, err := json.Marshal(commands())
	if err != nil {
		t.Fatal(err)
	}
	var all []map[string]any
	if err := json.Unmarshal(sent, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// kept is a registry with something in it.
type kept struct {
	commands     string
	refuses      error // to give them
	refusesWrite error
	asked, wrote int
}

func (k *kept) Commands(_ context.Context, app string) ([]byte, error) {
	k.asked++
	if app != "123456789012345678" {
		return nil, errors.New("there is no application " + app)
	}
	return []byte(k.commands), k.refuses
}

func (k *kept) PutCommands(_ context.Context, _ string, commands []byte) error {
	k.wrote++
	if k.refusesWrite != nil {
		return k.refusesWrite
	}
	k.commands = string(commands)
	return nil
}

func TestRegister(t *testing.T) {
	find := func(all []map[string]any, name string) map[string]any {
		i := slices.IndexFunc(all, func(c map[string]any) bool { return c["name"] == name })
		if i < 0 {
			t.Fatalf("there is no command %s", name)
		}
		return all[i]
	}
	first := func(list any) map[string]any { return list.([]any)[0].(map[string]any) }
	for _, c := range []struct {
		what   string
		change func(all []map[string]any) []map[string]any
		writes bool
	}{
		{"as the platform gives them", nil, false},
		{"a field that no one knows yet", func(all []map[string]any) []map[string]any { find(all, "next")["handler"] = nil; return all }, false},
		{"none", func([]map[string]any) []map[string]any { return nil }, true},
		{"one is missing", func(all []map[string]any) []map[string]any { return all[1:] }, true},
		{"one too many", func(all []map[string]any) []map[string]any {
			return append(all, map[string]any{"type": 1, "name": "purl", "description": "Purl.", "contexts": []any{0}, "integration_types": []any{0}})
		}, true},
		{"one of another type", func(all []map[string]any) []map[string]any { find(all, "next")["type"] = 2; return all }, true},
		{"another description", func(all []map[string]any) []map[string]any { find(all, "next")["description"] = "Go on."; return all }, true},
		{"a translation", func(all []map[string]any) []map[string]any {
			find(all, "next")["name_localizations"] = map[string]any{"de": "weiter"}
			return all
		}, true},
		{"in servers only", func(all []map[string]any) []map[string]any { find(all, "next")["contexts"] = []any{0}; return all }, true},
		{"no contexts, as before there were any", func(all []map[string]any) []map[string]any { find(all, "next")["contexts"] = nil; return all }, true},
		{"for users too", func(all []map[string]any) []map[string]any {
			find(all, "next")["integration_types"] = []any{0, 1}
			return all
		}, true},
		{"for managers only", func(all []map[string]any) []map[string]any {
			find(all, hostCommand)["default_member_permissions"] = "8589934592"
			return all
		}, true},
		{"for grown-ups only", func(all []map[string]any) []map[string]any { find(all, "next")["nsfw"] = true; return all }, true},
		{"an option of another name", func(all []map[string]any) []map[string]any {
			first(find(all, "row")["options"])["name"] = "round"
			return all
		}, true},
		{"options in another order", func(all []map[string]any) []map[string]any {
			find(all, "settings")["options"] = reversed(find(all, "settings")["options"])
			return all
		}, true},
		{"an option that is not required", func(all []map[string]any) []map[string]any {
			first(find(all, "row")["options"])["required"] = false
			return all
		}, true},
		{"another bound", func(all []map[string]any) []map[string]any {
			first(find(all, "row")["options"])["max_value"] = 10
			return all
		}, true},
		{"an option that does not complete itself", func(all []map[string]any) []map[string]any {
			first(find(all, "explain")["options"])["autocomplete"] = false
			return all
		}, true},
		{"another choice", func(all []map[string]any) []map[string]any {
			first(first(find(all, "settings")["options"])["choices"])["value"] = "slowly"
			return all
		}, true},
		{"a change below a command", func(all []map[string]any) []map[string]any {
			first(first(find(all, hostCommand)["options"])["options"])["type"] = 3
			return all
		}, true},
	} {
		t.Run(c.what, func(t *testing.T) {
			all := asRegistered(t)
			if c.change != nil {
				all = c.change(all)
			}
			list, err := json.Marshal(all)
			if err != nil {
				t.Fatal(err)
			}
			checkRegister(t, string(list), c.writes)
		})
	}
	for what, list := range map[string]string{"no list": `{"message": "hm", "code": 0}`, "no JSON": "<html>", "nothing": "", "an empty list": "[]", "fields of other types": `[{"name": 1}]`} {
		t.Run(what, func(t *testing.T) { checkRegister(t, list, true) })
	}
}

// checkRegister registers the commands where others are, and then once more,
// which writes nothing.
func checkRegister(t *testing.T, before string, writes bool) {
	t.Helper()
	k := &kept{commands: before}
	wrote, err := register(t.Context(), k, "123456789012345678")
	if err != nil || wrote != writes || k.asked != 1 || (k.wrote == 1) != writes {
		t.Fatalf("wrote %v (%d times, after asking %d times), expected %v: %v", wrote, k.wrote, k.asked, writes, err)
	}
	if wrote, err := register(t.Context(), k, "123456789012345678"); wrote || err != nil {
		t.Errorf("the second time wrote %v: %v", wrote, err)
	}
}

func TestRegisterFails(t *testing.T) {
	away := errors.New("the platform is away")
	for _, k := range []*kept{{refuses: away}, {commands: "[]", refusesWrite: away}} {
		wrote, err := register(t.Context(), k, "123456789012345678")
		if wrote || !errors.Is(err, away) || !strings.Contains(err.Error(), "commands") {
			t.Errorf("wrote %v: %v", wrote, err)
		}
		if k.refuses != nil && k.wrote != 0 {
			t.Error("it was written over what could not be read")
		}
	}
}

// TestRegisterOverTheWire registers with a server that checks what it gets, and
// gives it back as the platform does.
func TestRegisterOverTheWire(t *testing.T) {
	srv := discordtest.New(t, discordtest.Options{Token: "invented"})
	client, err := rest.New(rest.Options{Token: "invented", API: srv.URL(), Log: zerolog.Nop()})
	if err != nil {
		t.Fatal(err)
	}
	defer client.Close()
	for _, writes := range []bool{true, false} {
		if wrote, err := register(t.Context(), client, srv.Application()); err != nil || wrote != writes {
			t.Errorf("wrote %v, expected %v: %v", wrote, writes, err)
		}
	}
}
