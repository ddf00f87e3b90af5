// Package session keeps a knit-along: its pattern's revisions, its members and
// where each of them is, what they stumble over, and how far the group has come.
// All of it lives in Redis; nothing here is cached, so any number of processes
// can serve one knit-along.
//
// The package knows no words and no patterns. A caller works out the row that a
// member goes to from the pattern, and Move goes there only if the member is
// still where the caller believed: one script, one round trip, all or nothing.
//
// Times come in as values and are kept to the millisecond. Every method that
// takes a context obeys its deadline. Besides the errors named with a method,
// every method may return an error that is ErrUnreachable (Redis is down, away
// or not ready), ErrRefused (Redis answered and would not do it) or ErrInvalid (a value
// that the caller passed is outside the range its type states; nothing was sent).
package session

import (
	"time"

	"github.com/redis/go-redis/v9"
)

// Store keeps knit-alongs in one Redis. It is safe for concurrent use.
type Store struct {
	client redis.UniversalClient
}

// Open gives the store behind a client, which stays the caller's to close. It
// sends nothing: a Redis that is down shows with the first call.
func Open(client redis.UniversalClient) *Store {
	return &Store{client: client}
}

// Place names a row in the pattern's own terms, so that a correction elsewhere
// in the pattern shifts nobody.
type Place struct {
	Section  string // the section's name, 1 to 256 bytes
	Row      int    // the row's number in the section, from 0
	Step     int    // the step within the row, from 0
	Revision int    // the pattern's revision, from 1
	Size     string // the size knitted, up to 256 bytes; empty where there is one size
	LeftOut  string // the rows left out, in the caller's own fixed spelling, up to 4,096 bytes
}

// State is where a member stands.
type State struct {
	Place
	Done     int64             // stitches done, 0 to 2^53: the board's figure
	Settings map[string]string // never nil; no value is empty
	Joined   bool              // false before joining and after leaving
	All      int64             // stitches of her whole pattern; 0 where it is not known
	Told     int               // the newest revision whose changes she was told of, or had when she joined
	Moved    time.Time         // her newest move; zero where it is not known
	Since    time.Time         // when the moves began that have gone on since without a break of RestBreak; zero where it is not known
	Rested   time.Time         // when she was last told to rest her hands; zero for never
}

// Move is a member's wish to be at another place.
type Move struct {
	Member Member
	Event  string    // the id of the event behind it, up to 128 bytes; the same id moves nothing twice; empty is never a repeat
	From   Place     // where the caller believes the member to be
	To     Place     // where the member wants to be
	How    string    // next, back, at, fit ...: 1 to 32 bytes, kept in the log
	Done   int64     // stitches done at To, 0 to 2^53
	Answer string    // kept with the event, up to 1,024 bytes, and given to whoever sends the event again
	At     time.Time // when, kept to the millisecond
	Name   string    // as the platform shows her, up to 128 bytes; "" keeps the one that was known
	All    int64     // stitches of her whole pattern at To, 0 to 2^53; 0 keeps what was known
	Told   bool      // the answer tells what has changed up to To.Revision
	Rests  bool      // the answer tells her to rest her hands
}

// Moved is what came of a move.
type Moved struct {
	State           // the member's state now
	Repeated bool   // the event had been answered before, and nothing moved
	Answer   string // with Repeated: the answer stored then
}

// Limits on what is kept of one member, and of a knit-along. Older moves and
// events drop out.
const (
	UndoDepth  = 50  // moves that can be taken back
	EventsKept = 16  // events, each of moves and of stumbles, whose repeats are known
	LogLength  = 200 // moves in the log

	PatternSize = 256 << 10 // bytes of a revision
	HelpersMost = 25        // helpers

	OpenMost = 50 // open knit-alongs of a server

	NameMost = 128 // bytes of a member's name
)

// RestBreak is how long a member must not move for it to count as a break.
const RestBreak = 10 * time.Minute
