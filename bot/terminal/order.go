package terminal

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"clew/bot"
	"clew/patterns"
	"clew/session"
)

// Platform begins the names of members and groups in the store.
const Platform = "terminal"

// hostCommand begins a line that is a host's order. What follows is the deed, and
// then options as key:value; a value with spaces stands in double quotes.
const hostCommand = "/knitalong"

// Options of orders.
const (
	optPattern  = "pattern"  // a file
	optSample   = "sample"   // the name of a sample
	optName     = "name"     // the knit-along's title
	optPlan     = "plan"     // a file with the sessions
	optZone     = "zone"     // a time zone
	optHold     = "hold"     // yes or no
	optSession  = "session"  // a number
	optRevision = "revision" // a number
	optMember   = "member"   // a knitter's name
	optDismiss  = "dismiss"  // yes or no
)

// taken are the options of each deed, in the order in which they are told. Besides
// them each takes optName: of Start, what the knit-along is to be called; of the
// others, which of several it is about.
var taken = []struct {
	deed    bot.Deed
	options []string
}{
	{bot.Start, []string{optPattern, optSample, optPlan, optZone, optHold}},
	{bot.Check, []string{optPattern, optSample}},
	{bot.Sessions, []string{optPlan, optZone, optHold}},
	{bot.Open, []string{optSession}},
	{bot.Correct, []string{optPattern, optRevision}},
	{bot.Text, []string{optRevision}},
	{bot.Board, nil},
	{bot.Stumbles, nil},
	{bot.Who, nil},
	{bot.Export, nil},
	{bot.Helper, []string{optMember, optDismiss}},
	{bot.Close, nil},
	{bot.Reopen, nil},
}

// A refusal is why something is no order: whole sentences for the host.
type refusal string

func (r refusal) Error() string { return string(r) }

func refuse(format string, args ...any) error { return refusal(fmt.Sprintf(format, args...)) }

// orders says that a line is a host's order.
func orders(line string) bool {
	command, _, _ := strings.Cut(strings.TrimSpace(line), " ")
	return strings.EqualFold(command, hostCommand)
}

// order reads a host's order. What it names is read from the disk. The error is a
// sentence for her.
func order(line string) (bot.Order, error) {
	words := fields(line)[1:]
	if len(words) == 0 {
		return bot.Order{}, refuse("Say what is to be done: %s. Nothing was changed.", deeds())
	}
	i := slices.IndexFunc(taken, func(d struct {
		deed    bot.Deed
		options []string
	}) bool {
		return string(d.deed) == strings.ToLower(words[0])
	})
	if i < 0 {
		return bot.Order{}, refuse("There is no %s %s: it is one of %s. Nothing was changed.", hostCommand, shown(words[0]), deeds())
	}
	o := bot.Order{Deed: taken[i].deed}
	options := append(slices.Clone(taken[i].options), optName)
	for _, word := range words[1:] {
		key, value, _ := strings.Cut(word, ":")
		key = strings.ToLower(key)
		if !slices.Contains(options, key) {
			return bot.Order{}, refuse("%s %s does not take %s: it takes %s:. Nothing was changed.", hostCommand, o.Deed, shown(word), strings.Join(options, ":, "))
		}
		if err := set(&o, key, value); err != nil {
			return bot.Order{}, refuse("%s. Nothing was changed.", err)
		}
	}
	return o, nil
}

func deeds() string {
	names := make([]string, len(taken))
	for i, t := range taken {
		names[i] = string(t.deed)
	}
	return strings.Join(names, ", ")
}

// set puts an option into an order.
func set(o *bot.Order, key, value string) error {
	if value == "" {
		return refuse("After %s: stands nothing", key)
	}
	var err error
	switch key {
	case optPattern:
		o.File = filepath.Base(value)
		o.Pattern, err = file(value)
	case optPlan:
		o.PlanFile = filepath.Base(value)
		o.Plan, err = file(value)
	case optSample:
		o.Sample = value
	case optName:
		o.Title = value
	case optZone:
		o.Zone = value
	case optHold:
		var hold bool
		hold, err = yesNo(key, value)
		o.Hold = &hold
	case optDismiss:
		o.Dismiss, err = yesNo(key, value)
	case optSession:
		o.Session, err = number(key, value)
	case optRevision:
		o.Revision, err = number(key, value)
	case optMember:
		o.Helper, err = MemberOf(value)
	}
	return err
}

func yesNo(key, value string) (bool, error) {
	switch strings.ToLower(value) {
	case "yes":
		return true, nil
	case "no":
		return false, nil
	}
	return false, refuse("%s: takes yes or no, not %s", key, shown(value))
}

func number(key, value string) (int, error) {
	n, err := strconv.Atoi(value)
	if err != nil || n < 1 {
		return 0, refuse("%s: takes a number from 1, not %s", key, shown(value))
	}
	return n, nil
}

// file reads a file that the host names, up to a byte more than a pattern may have:
// then it is refused as too long.
func file(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, refuse("The file %s can't be read (%s)", shown(name), causeOf(err))
	}
	text, err := io.ReadAll(io.LimitReader(f, patterns.MaxBytes+1))
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, refuse("The file %s can't be read (%s)", shown(name), causeOf(err))
	}
	return text, nil
}

// fields parts a line at its spaces, but for those between double quotes, which it
// takes away.
func fields(line string) []string {
	var all []string
	var word strings.Builder
	quoted, begun := false, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted, begun = !quoted, true
		case r == ' ' && !quoted:
			if begun {
				all = append(all, word.String())
			}
			word.Reset()
			begun = false
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if begun {
		all = append(all, word.String())
	}
	return all
}

// MemberOf makes a member out of a knitter's name: its letters, digits and . - _ in
// small letters, a hyphen for each space. The error is a sentence.
func MemberOf(name string) (session.Member, error) {
	plain := plainName(name)
	if plain == "" || len(plain) > nameMost {
		return "", refuse("%q is no name; use up to a hundred letters and digits", name)
	}
	return session.Member(Platform + ":" + plain), nil
}
