package session

import (
	"context"
	"time"
)

// BoardSpacing is the least time between two edits of a knit-along's board, over
// all processes.
const BoardSpacing = 15 * time.Second

// AnnounceLease is how long a process may take to post an announcement that it has
// claimed before another may.
const AnnounceLease = 30 * time.Second

// Due is what has to be done in a knit-along's channel.
type Due struct {
	ID       string
	Announce bool // a session has opened and is not announced
	Board    bool // the board has changed since it was shown, and may be edited again
}

// Due gives the open knit-alongs of a platform ("discord", "terminal") in whose
// channels something has to be done at a moment. It claims and writes nothing.
func (s *Store) Due(ctx context.Context, platform string, at time.Time) ([]Due, error) {
	return nil, nil
}

// ClaimAnnouncement gives the first session that has opened and is neither
// announced nor claimed by another process within AnnounceLease, and claims it.
// False when there is none.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) ClaimAnnouncement(ctx context.Context, id string, at time.Time) (Session, bool, error) {
	return Session{}, false, ErrRefused
}

// Announced notes that a session was announced. Once noted, it is never claimed
// again.
//
// Errors: ErrUnknownSession, ErrUnknownKnitalong.
func (s *Store) Announced(ctx context.Context, id string, number int, at time.Time) error {
	return ErrRefused
}

// Showing is a claim to show the board.
type Showing struct {
	Change  int64  // the change that is to be shown; later ones come later
	Message string // the message to edit; "" for none yet
}

// ClaimBoard claims an edit of the board: false where nothing has changed since
// the change shown last, or the last claim is less than BoardSpacing ago.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) ClaimBoard(ctx context.Context, id string, at time.Time) (Showing, bool, error) {
	return Showing{}, false, ErrRefused
}

// BoardShown notes what of the board stands in the channel now: a change that was
// claimed, and the message that shows it.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) BoardShown(ctx context.Context, id string, change int64, message string) error {
	return ErrRefused
}

// BoardGone notes that the message with the board is not there any more, so that
// it is posted again. It does nothing where the board is another message by now.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) BoardGone(ctx context.Context, id, message string) error { return ErrRefused }

// Tend enters a knit-along among those that Due looks at, and counts as a change of
// its board, so that it is shown anew. Start and Reopen enter it, too; Close takes
// it out once its board has been shown a last time.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Tend(ctx context.Context, id string) error { return ErrRefused }
