package discordtest

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
)

// registry is what is registered of global commands. Server.mu guards it.
type registry struct {
	list  []command
	wrote int // how often it was written
}

// mine checks that the path names the bot's own application.
func (c *call) mine() *refusal {
	if c.names[0] != c.s.app {
		return &refusal{status: http.StatusForbidden, code: 20012, message: "You are not authorized to perform this action on this application"}
	}
	return nil
}

func (c *call) getCommands() (int, any, *refusal) {
	if no := c.mine(); no != nil {
		return 0, nil, no
	}
	return http.StatusOK, c.s.registered(c.r.URL.Query().Get("with_localizations") == "true"), nil
}

// putCommands replaces all commands: documentation, "Application Commands", bulk
// overwrite.
func (c *call) putCommands() (int, any, *refusal) {
	if no := c.mine(); no != nil {
		return 0, nil, no
	}
	if no := c.s.register(c.json); no != nil {
		return 0, nil, no
	}
	return http.StatusOK, c.s.registered(true), nil
}

// postCommand makes a command, or overwrites the one of its name.
func (c *call) postCommand() (int, any, *refusal) {
	if no := c.mine(); no != nil {
		return 0, nil, no
	}
	o, ok := parse(c.json)
	if !ok {
		return 0, nil, badJSON()
	}
	f := &form{}
	fresh := f.readCommand(o, "")
	if no := f.refusal(); no != nil {
		return 0, nil, no
	}
	s := c.s
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.note()
	s.commands.wrote++
	for i, old := range s.commands.list {
		if old.name == fresh.name && old.kind == fresh.kind {
			s.commands.list[i] = s.renew(fresh, &old)
			return http.StatusOK, s.wireRegistered(s.commands.list[i], true), nil
		}
	}
	if len(s.commands.list) >= mostCommands {
		return 0, nil, tooManyCommands()
	}
	fresh = s.renew(fresh, nil)
	s.commands.list = append(slices.Clip(s.commands.list), fresh)
	return http.StatusCreated, s.wireRegistered(fresh, true), nil
}

func tooManyCommands() *refusal {
	return &refusal{status: http.StatusBadRequest, code: 30032, message: "Maximum number of application commands reached (100)."}
}

// register replaces all commands by those of a list.
func (s *Server) register(body []byte) *refusal {
	v, ok := parseAny(body)
	list, is := v.([]any)
	if !ok || !is {
		return badJSON()
	}
	if len(list) > mostCommands {
		return tooManyCommands()
	}
	f := &form{}
	var fresh []command
	for i, one := range list {
		o, is := one.(object)
		at := fmt.Sprint(i)
		if !is {
			f.add(at, "DICT_TYPE_CONVERT", "Only dictionaries may be used in a DictType")
			continue
		}
		c := f.readCommand(o, at)
		if slices.ContainsFunc(fresh, func(old command) bool { return old.name == c.name && old.kind == c.kind }) {
			f.add(at+".name", "APPLICATION_COMMANDS_DUPLICATE_NAME", "Application command names must be unique. (%q)", c.name)
		}
		fresh = append(fresh, c)
	}
	if no := f.refusal(); no != nil {
		return no
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.note()
	s.commands.wrote++
	for i, c := range fresh {
		var old *command
		for k, o := range s.commands.list {
			if o.name == c.name && o.kind == c.kind {
				old = &s.commands.list[k]
			}
		}
		fresh[i] = s.renew(c, old)
	}
	s.commands.list = fresh
	return nil
}

// renew gives a command the id of the one that it replaces, and its version where
// nothing has changed. s.mu is held.
func (s *Server) renew(c command, old *command) command {
	c.id, c.version = s.ids.next(), s.ids.next()
	if old != nil {
		c.id = old.id
		if string(marshal(c.body)) == string(marshal(old.body)) {
			c.version = old.version
		}
	}
	return c
}

// registered are the commands as the platform gives them.
func (s *Server) registered(localizations bool) []object {
	s.mu.Lock()
	defer s.mu.Unlock()
	all := []object{}
	for _, c := range s.commands.list {
		all = append(all, s.wireRegistered(c, localizations))
	}
	return all
}

// wireRegistered is a command with what the platform fills in: documentation, "Application
// Commands", command object. What of it is left out where it is false is from memory.
func (s *Server) wireRegistered(c command, localizations bool) object {
	o := object{
		"default_member_permissions": nil, "nsfw": false, "contexts": nil, "integration_types": []int{0}, "dm_permission": true, "description": "",
	}
	maps.Copy(o, wireOptions(c.body, localizations))
	o["id"], o["application_id"], o["version"], o["type"] = c.id, s.app, c.version, c.kind
	delete(o, "default_permission")
	return o
}

// wireOptions is a command's, an option's or a choice's object as it is given back.
func wireOptions(o object, localizations bool) object {
	out := object{}
	for k, v := range o {
		out[k] = v
		list, is := v.([]any)
		if !is || k != "options" && k != "choices" {
			continue
		}
		inner := make([]any, len(list))
		for i, one := range list {
			inner[i] = one
			if o, is := one.(object); is {
				inner[i] = wireOptions(o, localizations)
			}
		}
		out[k] = inner
	}
	for _, k := range []string{"required", "autocomplete"} {
		if out[k] == false {
			delete(out, k)
		}
	}
	for _, k := range []string{"name", "description"} {
		switch key := k + "_localizations"; {
		case !localizations:
			delete(out, key)
		case o[k] != nil && o[key] == nil:
			out[key] = nil
		}
	}
	return out
}

// Register registers commands as a PUT of them would.
func (s *Server) Register(commands []byte) error {
	if no := s.register(commands); no != nil {
		return fmt.Errorf("discordtest: register: %s: %s", no.message, marshal(no.errors))
	}
	return nil
}

// Commands is the JSON of the global commands that are registered, as the platform
// gives it; "[]" for none.
func (s *Server) Commands() []byte { return marshal(s.registered(true)) }

// CommandsWritten is how often commands were registered, with or without a change.
func (s *Server) CommandsWritten() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.commands.wrote
}
