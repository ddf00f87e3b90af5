package session

import (
	"context"
	"time"
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
// to everybody.
const (
	Planned Stage = "planned"
	Opened  Stage = "open"
	Over    Stage = "closed"
)

// Stage tells how the session of a number stands at a moment.
func (a About) Stage(number int, at time.Time) Stage { return Planned }

// Opened gives the newest session that has opened by a moment; false when none
// has.
func (a About) Opened(at time.Time) (Session, bool) { return Session{}, false }

// NextToOpen gives the session that opens next after a moment; its Opens is zero
// where a host has to open it. It is false when all have opened.
func (a About) NextToOpen(at time.Time) (Session, bool) { return Session{}, false }

// Schedule replaces the sessions of a knit-along, up to SessionsMost with numbers
// from 1, the IANA name of the time zone that they are told in, and whether rows
// are held back until their session opens. A session that was announced and keeps
// its number counts as announced still. The caller has seen to it that the rows
// exist and that nothing overlaps.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Schedule(ctx context.Context, id string, sessions []Session, zone string, hold bool) error {
	return ErrRefused
}

// OpenSession makes a session open at a moment, if it was to open later or by hand.
// It is false where it was open by then; nothing is changed.
//
// Errors: ErrUnknownSession, ErrUnknownKnitalong.
func (s *Store) OpenSession(ctx context.Context, id string, number int, at time.Time) (bool, error) {
	return false, ErrRefused
}
