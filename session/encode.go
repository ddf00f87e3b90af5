package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// stateFields are the fields of a place hash that make up a State, in the order
// in which lua/prelude.lua gives them.
var stateFields = []string{
	"section", "row", "step", "revision", "size", "leftout", "done", "settings", "joined",
	"all", "told", "moved", "since", "rested",
}

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

// decodeState reads the stateFields. Those that an earlier version did not keep are
// empty.
func decodeState(fields []string) (State, error) {
	place, err := decodePlace(fields[:placeFields])
	if err != nil {
		return State{}, err
	}
	s := State{Place: place, Settings: decodeSettings(fields[7]), Joined: fields[8] == "1"}
	if s.Done, err = decodeNumber(stateFields[6], fields[6]); err != nil {
		return State{}, err
	}
	told, toldErr := decodeNumber(stateFields[10], fields[10])
	s.Told = int(told)
	if fields[10] == "" { // nothing was noted: she knows the revision that she knits
		s.Told = place.Revision
	}
	var allErr, movedErr, sinceErr, restedErr error
	s.All, allErr = decodeNumber(stateFields[9], fields[9])
	s.Moved, movedErr = decodeMoment(stateFields[11], fields[11])
	s.Since, sinceErr = decodeMoment(stateFields[12], fields[12])
	s.Rested, restedErr = decodeMoment(stateFields[13], fields[13])
	return s, firstError(toldErr, allErr, movedErr, sinceErr, restedErr)
}

// decodeNumber reads a number that is stored; empty is 0.
func decodeNumber(what, text string) (int64, error) {
	if text == "" {
		return 0, nil
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, fmt.Errorf("what is stored of a member has %q for %s, expected a number", text, what)
	}
	return n, nil
}

// decodeMoment reads a time that is stored in ms since 1970; empty is the zero time.
func decodeMoment(what, text string) (time.Time, error) {
	t, err := decodeTime(text)
	if err != nil {
		return time.Time{}, fmt.Errorf("what is stored of a member has %q for %s, expected milliseconds", text, what)
	}
	return t, nil
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
