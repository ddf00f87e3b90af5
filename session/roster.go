package session

import (
	"context"
	"time"
)

// Entrant is what the group's board and its host see of a member, without the
// member's place hash being read.
type Entrant struct {
	Member    Member
	Name      string // as the platform shows it; up to 128 bytes; "" for none known
	Hidden    bool   // the setting "board" is "hidden"
	RowID            // where; Row is 0 before the first row
	Revision  int
	Size      string
	Done, All int64     // stitches done, and those of her whole pattern; All is 0 where it is not known
	Joined    time.Time // zero where it is not known
	Seen      time.Time // the newest move, join or other request that was kept; zero where it is not known
	Stuck     time.Time // when she last asked for the host's help; zero for never
	StuckAt   RowID     // where she did
}

// Roster gives every member who has joined and not left, by Member. It is one
// round trip, but for members who joined before their entries were kept.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Roster(ctx context.Context, id string) ([]Entrant, error) { return nil, nil }

// Stuck notes that a member asks for the host's help where the member is. An event
// that came before changes nothing.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Stuck(ctx context.Context, id string, member Member, event string, at time.Time) (State, error) {
	return State{}, ErrRefused
}

// Told notes that a member was told what a revision has changed.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) ToldRevision(ctx context.Context, id string, member Member, revision int) error {
	return ErrRefused
}
