package session

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

//go:embed lua/stumble.lua
var stumbleSource string

var stumbleScript = placeScript(stumbleSource)

// Stumble counts that a member heard a row again, had it explained or went back
// to it. The row is named by its section and number, as in Place. The event,
// which may be empty, is counted once; it may be the event of a move, too.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Stumble(ctx context.Context, id string, member Member, section string, row int, event string) error {
	err := firstError(checkID(id), member.check(), checkEvent(event),
		checkText("the section's name", section, 1, 256), checkNumber("the row", int64(row), 0))
	if err != nil {
		return err
	}
	reply, err := s.run(ctx, stumbleScript, []string{placeKey(id, member), stumblesKey(id), aboutKey(id)},
		event, strconv.Itoa(row)+"\t"+section)
	if err != nil {
		return err
	}
	return refusals[reply[0]]
}

// Stumbled is how often the members stumbled over a row.
type Stumbled struct {
	Section string
	Row     int
	Times   int64 // 1 or more
}

// Stumbles gives the rows that were stumbled over, the worst first, equal ones by
// section and row.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Stumbles(ctx context.Context, id string) ([]Stumbled, error) {
	if err := checkID(id); err != nil {
		return nil, err
	}
	counts, err := s.client.HGetAll(ctx, stumblesKey(id)).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	if len(counts) == 0 {
		return nil, s.mustExist(ctx, id)
	}
	rows := make([]Stumbled, 0, len(counts))
	for field, count := range counts {
		row, section, _ := strings.Cut(field, "\t")
		number, rowErr := strconv.Atoi(row)
		times, countErr := strconv.ParseInt(count, 10, 64)
		if err := firstError(rowErr, countErr); err != nil {
			return nil, fmt.Errorf("the stored stumbles have a line that is not a row and a number: %w", err)
		}
		rows = append(rows, Stumbled{Section: section, Row: number, Times: times})
	}
	slices.SortFunc(rows, func(a, b Stumbled) int {
		return cmp.Or(cmp.Compare(b.Times, a.Times), cmp.Compare(a.Section, b.Section), cmp.Compare(a.Row, b.Row))
	})
	return rows, nil
}
