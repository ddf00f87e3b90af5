package session

import (
	"context"
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
)

// RowID names a row in the pattern's own terms.
type RowID struct {
	Section string // the section's name, 1 to 256 bytes
	Row     int    // the row's number in the section, from 1
}

// A Session is a part of the pattern that the group knits together from a time on.
type Session struct {
	Number      int       // from 1, in order without a gap
	Title       string    // 1 to 256 bytes
	First, Last RowID     // the rows that it has
	Opens       time.Time // kept to the millisecond; zero: when a host opens it
	Announced   time.Time // zero: not yet; Schedule and Start ignore it
}

// SessionsMost is how many sessions a knit-along may have.
const SessionsMost = 100

// Standing of a session at a moment.
type Stage string

// A session is planned until it opens, open until the next one opens, and closed
// after that or when the knit-along is closed. The rows of a closed one stay open
// to everybody. None opens later than one that comes after it, so that a session
// without a time is open once a later one has opened.
const (
	Planned Stage = "planned"
	Opened  Stage = "open"
	Over    Stage = "closed"
)

// Stage tells how the session of a number stands at a moment. Planned, too, is
// one that there is none of.
func (a About) Stage(number int, at time.Time) Stage {
	newest, ok := a.Opened(at)
	switch {
	case !ok, number < 1, number > newest.Number:
		return Planned
	case number < newest.Number, a.Closed:
		return Over
	}
	return Opened
}

// Opened gives the newest session that has opened by a moment; false when none
// has.
func (a About) Opened(at time.Time) (Session, bool) {
	for n := len(a.Sessions); n >= 1; n-- {
		if opens := a.Sessions[n-1].Opens; !opens.IsZero() && !opens.After(at) {
			return a.Sessions[n-1], true
		}
	}
	return Session{}, false
}

// NextToOpen gives the session that opens next after a moment; its Opens is zero
// where a host has to open it. It is false when all have opened.
func (a About) NextToOpen(at time.Time) (Session, bool) {
	newest, _ := a.Opened(at)
	if newest.Number == len(a.Sessions) {
		return Session{}, false
	}
	next := a.Sessions[newest.Number]
	for _, later := range a.Sessions[newest.Number:] {
		if !later.Opens.IsZero() && (next.Opens.IsZero() || later.Opens.Before(next.Opens)) {
			next.Opens = later.Opens
		}
	}
	return next, true
}

//go:embed lua/sessions.lua
var sessionsSource string

// sessionsScript makes a script that works on the sessions of a knit-along.
func sessionsScript(source string) *redis.Script {
	return redis.NewScript(sessionsSource + source)
}

//go:embed lua/schedule.lua
var scheduleSource string

var scheduleScript = sessionsScript(scheduleSource)

// Schedule replaces the sessions of a knit-along, up to SessionsMost with numbers
// from 1, the IANA name of the time zone that they are told in, and whether rows
// are held back until their session opens. A session that was announced and keeps
// its number counts as announced still. The caller has seen to it that the rows
// exist and that nothing overlaps.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Schedule(ctx context.Context, id string, sessions []Session, zone string, hold bool) error {
	if err := firstError(checkID(id), checkZone(zone), checkSessions(sessions)); err != nil {
		return err
	}
	args := appendSessions([]any{zone, holdMark(hold)}, sessions)
	reply, err := s.run(ctx, scheduleScript, []string{aboutKey(id)}, args...)
	if err != nil {
		return err
	}
	return refusals[reply[0]]
}

//go:embed lua/open.lua
var openSource string

var openScript = sessionsScript(openSource)

// OpenSession makes a session open at a moment, if it was to open later or by
// hand; so are those ahead of it that were not open by then. It is false where it
// was open by then; nothing is changed.
//
// Errors: ErrUnknownSession, ErrUnknownKnitalong.
func (s *Store) OpenSession(ctx context.Context, id string, number int, at time.Time) (bool, error) {
	err := firstError(checkID(id), checkNumber("the session's number", int64(number), 1), checkOpens(at))
	if err != nil {
		return false, err
	}
	reply, err := s.run(ctx, openScript, []string{aboutKey(id)}, number, at.UnixMilli())
	if err != nil {
		return false, err
	}
	return reply[0] == "opened", refusals[reply[0]]
}

// holdMark is how it is kept whether rows are held back.
func holdMark(hold bool) string {
	if hold {
		return "1"
	}
	return ""
}

// appendSessions adds sessions to a script's arguments, as lua/sessions.lua has
// them.
func appendSessions(args []any, sessions []Session) []any {
	for _, one := range sessions {
		var opens int64
		if !one.Opens.IsZero() {
			opens = one.Opens.UnixMilli()
		}
		args = append(args, fmt.Sprintf("%d\t%d\t%s\t%d\t%s\t%s",
			opens, one.First.Row, one.First.Section, one.Last.Row, one.Last.Section, one.Title))
	}
	return args
}

// sessionValues is how many values a stored session has.
const sessionValues = 6

// decodeSession reads what appendSessions wrote.
func decodeSession(number int, text string) (Session, error) {
	values := strings.Split(text, "\t")
	if len(values) != sessionValues {
		return Session{}, fmt.Errorf("the stored session %d has %d values, expected %d", number, len(values), sessionValues)
	}
	opens, opensErr := decodeTime(values[0])
	first, firstErr := strconv.Atoi(values[1])
	last, lastErr := strconv.Atoi(values[3])
	if err := firstError(opensErr, firstErr, lastErr); err != nil {
		return Session{}, fmt.Errorf("the stored session %d cannot be read: %w", number, err)
	}
	return Session{Number: number, Title: values[5], Opens: opens,
		First: RowID{Section: values[2], Row: first}, Last: RowID{Section: values[4], Row: last}}, nil
}

// decodeTime reads milliseconds since 1970; "0" and "" are no time.
func decodeTime(text string) (time.Time, error) {
	if text == "" || text == "0" {
		return time.Time{}, nil
	}
	ms, err := strconv.ParseInt(text, 10, 64)
	return time.UnixMilli(ms).UTC(), err
}

// decodeSessions reads the sessions among the fields of what is kept about a
// knit-along.
func decodeSessions(fields map[string]string) ([]Session, error) {
	var sessions []Session
	for number := 1; ; number++ {
		text, ok := fields["session:"+strconv.Itoa(number)]
		if !ok {
			return sessions, nil
		}
		one, err := decodeSession(number, text)
		if err != nil {
			return nil, err
		}
		if one.Announced, err = decodeTime(fields["announced:"+strconv.Itoa(number)]); err != nil {
			return nil, fmt.Errorf("the stored session %d cannot be read: %w", number, err)
		}
		sessions = append(sessions, one)
	}
}

func checkZone(zone string) error { return checkText("the time zone", zone, 0, 64) }

func checkSessions(sessions []Session) error {
	if len(sessions) > SessionsMost {
		return invalid("there are %d sessions, expected at most %d", len(sessions), SessionsMost)
	}
	for i, one := range sessions {
		if one.Number != i+1 {
			return invalid("the session after %d has the number %d, expected %d", i, one.Number, i+1)
		}
		err := firstError(checkText("the session's title", one.Title, 1, 256), one.First.check(), one.Last.check())
		if err == nil && !one.Opens.IsZero() {
			err = checkOpens(one.Opens)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// checkOpens takes a time after the start of 1970, since 0 stands for none.
func checkOpens(at time.Time) error {
	return checkNumber("the time of opening, in milliseconds since 1970,", at.UnixMilli(), 1)
}

func (r RowID) check() error {
	return firstError(checkText("the section's name", r.Section, 1, 256), checkNumber("the row", int64(r.Row), 1))
}
