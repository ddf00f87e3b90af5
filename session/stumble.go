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

// StumbleKind is what a member did over a row that gave pause.
type StumbleKind string

// Kinds of stumbles.
const (
	Again      StumbleKind = "again"   // heard the row again
	Explained  StumbleKind = "explain" // had it, or a stitch of it, explained
	WentBack   StumbleKind = "back"    // went back from it
	Miscounted StumbleKind = "count"   // had another count than the pattern after it
)

// StumbleAt is a stumble of a member over a row.
type StumbleAt struct {
	Section string // as in Place
	Row     int    // as in Place
	Kind    StumbleKind
	Event   string // counted once; empty is never a repeat; it may be the event of a move, too
}

func (at StumbleAt) check() error {
	switch at.Kind {
	case Again, Explained, WentBack, Miscounted:
	default:
		return invalid("the kind of stumble %.40q, expected again, explain, back or count", string(at.Kind))
	}
	return firstError(checkEvent(at.Event),
		checkText("the section's name", at.Section, 1, 256), checkNumber("the row", int64(at.Row), 0))
}

// Stumble counts that a row gave a member pause.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Stumble(ctx context.Context, id string, member Member, at StumbleAt) error {
	if err := firstError(checkID(id), member.check(), at.check()); err != nil {
		return err
	}
	reply, err := s.run(ctx, stumbleScript, append(memberKeys(id, member)[:2], stumblesKey(id)),
		at.Event, strconv.Itoa(at.Row)+"\t"+at.Section+"\t"+string(at.Kind))
	if err != nil {
		return err
	}
	return refusals[reply[0]]
}

// Stumbled is how often the members stumbled over a row, by kind. What an earlier
// version counted without a kind is in Again.
type Stumbled struct {
	Section string
	Row     int

	Again, Explained, WentBack, Miscounted int64
}

// Times is how often in all: 1 or more.
func (s Stumbled) Times() int64 { return s.Again + s.Explained + s.WentBack + s.Miscounted }

// count gives the figure of a kind; nil where there is no such kind.
func (s *Stumbled) count(kind StumbleKind) *int64 {
	switch kind {
	case Again, "":
		return &s.Again
	case Explained:
		return &s.Explained
	case WentBack:
		return &s.WentBack
	case Miscounted:
		return &s.Miscounted
	}
	return nil
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
	rows := map[RowID]*Stumbled{}
	for field, count := range counts {
		if err := addStumbles(rows, field, count); err != nil {
			return nil, err
		}
	}
	worst := make([]Stumbled, 0, len(rows))
	for _, row := range rows {
		worst = append(worst, *row)
	}
	slices.SortFunc(worst, func(a, b Stumbled) int {
		return cmp.Or(cmp.Compare(b.Times(), a.Times()), cmp.Compare(a.Section, b.Section), cmp.Compare(a.Row, b.Row))
	})
	return worst, nil
}

// addStumbles adds a field of the stumbles' hash to its row: the row's number, its
// section and the kind, parted by tabs. A field of an earlier version has no kind.
func addStumbles(rows map[RowID]*Stumbled, field, count string) error {
	number, rest, _ := strings.Cut(field, "\t")
	section, kind, _ := strings.Cut(rest, "\t")
	n, rowErr := strconv.Atoi(number)
	times, countErr := strconv.ParseInt(count, 10, 64)
	if err := firstError(rowErr, countErr); err != nil {
		return fmt.Errorf("the stored stumbles have a line that is not a row and a number: %w", err)
	}
	id := RowID{Section: section, Row: n}
	if rows[id] == nil {
		rows[id] = &Stumbled{Section: section, Row: n}
	}
	figure := rows[id].count(StumbleKind(kind))
	if figure == nil {
		return fmt.Errorf("the stored stumbles have the kind %q, expected again, explain, back or count", kind)
	}
	*figure += times
	return nil
}
