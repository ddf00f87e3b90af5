package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// stateFields are the fields of a place hash that make up a State, in the order
// in which lua/prelude.lua gives them.
var stateFields = []string{"section", "row", "step", "revision", "size", "leftout", "done", "settings", "joined"}

// placeFields is how many of them name the row.
const placeFields = 6

// append adds the six fields of a place to a script's arguments.
func (p Place) append(args []any) []any {
	return append(args, p.Section, p.Row, p.Step, p.Revision, p.Size, p.LeftOut)
}

func decodePlace(fields []string) (Place, error) {
	p := Place{Section: fields[0], Size: fields[4], LeftOut: fields[5]}
	for i, number := range []*int{&p.Row, &p.Step, &p.Revision} {
		n, err := strconv.Atoi(fields[1+i])
		if err != nil {
			return Place{}, fmt.Errorf("the stored place has %q for its %s, expected a number", fields[1+i], stateFields[1+i])
		}
		*number = n
	}
	return p, nil
}

func decodeState(fields []string) (State, error) {
	place, err := decodePlace(fields[:placeFields])
	if err != nil {
		return State{}, err
	}
	done, err := strconv.ParseInt(fields[6], 10, 64)
	if err != nil {
		return State{}, fmt.Errorf("the stored place has %q stitches done, expected a number", fields[6])
	}
	return State{Place: place, Done: done, Settings: decodeSettings(fields[7]), Joined: fields[8] == "1"}, nil
}

// encodeSettings spells settings as lua/set.lua does: one name=value a line, in
// order, without the empty ones.
func encodeSettings(settings map[string]string) string {
	var lines []string
	for name, value := range settings {
		if value != "" {
			lines = append(lines, name+"="+value+"\n")
		}
	}
	slices.Sort(lines)
	return strings.Join(lines, "")
}

func decodeSettings(text string) map[string]string {
	settings := map[string]string{}
	for line := range strings.Lines(text) {
		name, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
		settings[name] = value
	}
	return settings
}
