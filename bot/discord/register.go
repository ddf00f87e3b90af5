package discord

import (
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// A registry is where the platform keeps the bot's commands.
type registry interface {
	Commands(ctx context.Context, app string) ([]byte, error)
	PutCommands(ctx context.Context, app string, commands []byte) error
}

// register sees to it that the platform has the bot's commands, and those
// alone. It writes only where they differ, and says whether it did: the
// platform counts writing, and shows people the commands anew after it.
func register(ctx context.Context, r registry, app string) (wrote bool, err error) {
	registered, err := r.Commands(ctx, app)
	if err != nil {
		return false, fmt.Errorf("look up which commands are registered: %w", err)
	}
	ours, err := json.Marshal(commands())
	if err != nil {
		return false, fmt.Errorf("write the commands down: %w", err)
	}
	if sameCommands(registered, ours) {
		return false, nil
	}
	if err := r.PutCommands(ctx, app, ours); err != nil {
		return false, fmt.Errorf("register the commands: %w", err)
	}
	return true, nil
}

// sameCommands compares two lists of commands in JSON, as they were sent or as
// the platform gives them: in any order, with ids and versions, defaults filled
// in, and what is empty left out, null or there. A list that can't be read is
// another one.
func sameCommands(a, b []byte) bool {
	x, errX := canonical(a)
	y, errY := canonical(b)
	return errX == nil && errY == nil && reflect.DeepEqual(x, y)
}

// canonical reads a list of commands into the form in which equal ones are
// equal. Fields that make no difference to people are not in it.
func canonical(list []byte) ([]command, error) {
	var all []command
	if err := json.Unmarshal(list, &all); err != nil {
		return nil, err
	}
	for i := range all {
		c := &all[i]
		if c.Type == 0 {
			c.Type = chatInput
		}
		slices.Sort(c.Contexts)
		slices.Sort(c.Installations)
		c.Contexts, c.Installations = unempty(c.Contexts), unempty(c.Installations)
		c.NameLocalizations, c.DescriptionLocalizations = unemptyMap(c.NameLocalizations), unemptyMap(c.DescriptionLocalizations)
		c.Options = canonicalOptions(c.Options)
	}
	slices.SortStableFunc(all, func(a, b command) int {
		if byName := strings.Compare(a.Name, b.Name); byName != 0 {
			return byName
		}
		return a.Type - b.Type
	})
	return all, nil
}

func canonicalOptions(options []option) []option {
	for i := range options {
		o := &options[i]
		o.ChannelTypes = unempty(o.ChannelTypes)
		o.NameLocalizations, o.DescriptionLocalizations = unemptyMap(o.NameLocalizations), unemptyMap(o.DescriptionLocalizations)
		o.Options = canonicalOptions(o.Options)
		for j := range o.Choices {
			o.Choices[j].NameLocalizations = unemptyMap(o.Choices[j].NameLocalizations)
		}
		o.Choices = unempty(o.Choices)
	}
	return unempty(options)
}

// unempty and unemptyMap give nil for what holds nothing.
func unempty[T any](list []T) []T {
	if len(list) == 0 {
		return nil
	}
	return list
}

func unemptyMap(m map[string]string) map[string]string {
	if len(m) == 0 {
		return nil
	}
	return m
}
