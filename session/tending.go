package session

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/redis/go-redis/v9"
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

// dueFields are what Due reads about a knit-along.
var dueFields = []string{"title", "closed", "changes", "shown", "edited", "due"}

//go:embed lua/drop.lua
var dropSource string

var dropScript = redis.NewScript(dropSource)

// Due gives the knit-alongs of a platform ("discord", "terminal"), by id, in whose
// channels something has to be done at a moment. It claims nothing. Those that are
// closed and whose board has been shown since are not looked at again. Where some
// cannot be read, the error is that of the first, and the others are given.
func (s *Store) Due(ctx context.Context, platform string, at time.Time) ([]Due, error) {
	if err := Member(platform + ":x").check(); err != nil {
		return nil, invalid("the platform %.140q, expected small letters and digits", platform)
	}
	ids, err := s.client.ZRange(ctx, tendedKey(platform), 0, -1).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	if len(ids) == 0 {
		return nil, nil
	}
	calls := make([]*redis.SliceCmd, len(ids))
	all := s.client.Pipeline()
	for i, id := range ids {
		calls[i] = all.HMGet(ctx, aboutKey(id), dueFields...)
	}
	_, _ = all.Exec(ctx) // each call has its own error
	var due []Due
	var first error
	for i, id := range ids {
		t, err := decodeTended(id, calls[i])
		if err == nil && t.over {
			_, err = s.run(ctx, dropScript, []string{tendedKey(platform)}, id, t.changes)
		} else if d := t.due(at); d.Announce || d.Board {
			due = append(due, d)
		}
		first = firstError(first, err)
	}
	slices.SortFunc(due, func(a, b Due) int { return cmp.Compare(a.ID, b.ID) })
	return due, first
}

// tended is what Due reads about a knit-along.
type tended struct {
	id             string
	over           bool // nothing is to be done there any more
	closed         bool
	changes, shown int64     // the newest change of its board, and the one shown last
	edited, opens  time.Time // zero for never
}

func decodeTended(id string, call *redis.SliceCmd) (tended, error) {
	values, err := call.Result()
	if err != nil {
		return tended{}, failure(err, false)
	}
	texts := make([]string, len(dueFields))
	for i, value := range values {
		texts[i], _ = value.(string)
	}
	changes, changesErr := strconv.ParseInt(cmp.Or(texts[2], "0"), 10, 64)
	shown, shownErr := strconv.ParseInt(cmp.Or(texts[3], "0"), 10, 64)
	edited, editedErr := decodeTime(texts[4])
	opens, opensErr := decodeTime(texts[5])
	if err := firstError(changesErr, shownErr, editedErr, opensErr); err != nil {
		return tended{}, fmt.Errorf("what is stored of the board of the knit-along %s cannot be read: %w", id, err)
	}
	if texts[0] == "" { // it was deleted, and nothing is known of its changes
		return tended{id: id, over: true, changes: most}, nil
	}
	closed := texts[1] != ""
	return tended{id: id, over: closed && changes == shown, closed: closed,
		changes: changes, shown: shown, edited: edited, opens: opens}, nil
}

// due tells what has to be done at a moment.
func (t tended) due(at time.Time) Due {
	return Due{ID: t.id,
		Announce: !t.closed && !t.opens.IsZero() && !t.opens.After(at),
		Board:    t.changes != t.shown && (t.edited.IsZero() || at.Sub(t.edited) >= BoardSpacing)}
}

//go:embed lua/claim.lua
var claimSource string

var claimScript = sessionsScript(claimSource)

// ClaimAnnouncement gives the first session that has opened and is neither
// announced nor claimed by another process within AnnounceLease, and claims it.
// Its Opens is when it opened, which for one without a time is when the one after
// it did. False when there is none, and for a knit-along that is closed.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) ClaimAnnouncement(ctx context.Context, id string, at time.Time) (Session, bool, error) {
	if err := checkID(id); err != nil {
		return Session{}, false, err
	}
	reply, err := s.run(ctx, claimScript, []string{aboutKey(id)}, at.UnixMilli(), AnnounceLease.Milliseconds())
	if err != nil || reply[0] != "claimed" {
		return Session{}, false, firstError(err, refusalOf(reply))
	}
	if len(reply) != 4 {
		return Session{}, false, fmt.Errorf("a script of the store gave %d values, expected 4", len(reply))
	}
	number, err := strconv.Atoi(reply[1])
	if err != nil {
		return Session{}, false, fmt.Errorf("a script of the store gave %q for a session's number", reply[1])
	}
	claimed, err := decodeSession(number, reply[2])
	if err == nil {
		claimed.Opens, err = decodeTime(reply[3])
	}
	return claimed, err == nil, err
}

//go:embed lua/announced.lua
var announcedSource string

var announcedScript = sessionsScript(announcedSource)

// Announced notes that a session was announced, which counts as a change of a board
// that stands. Once noted, it is never claimed again.
//
// Errors: ErrUnknownSession, ErrUnknownKnitalong.
func (s *Store) Announced(ctx context.Context, id string, number int, at time.Time) error {
	err := firstError(checkID(id), checkNumber("the session's number", int64(number), 1))
	if err != nil {
		return err
	}
	reply, err := s.run(ctx, announcedScript, []string{aboutKey(id)}, number, at.UnixMilli())
	return firstError(err, refusalOf(reply))
}

// Showing is a claim to show the board.
type Showing struct {
	Change  int64  // the change that is to be shown; later ones come later
	Message string // the message to edit; "" for none
	Shown   int64  // the change that was shown last; 0 for none
	Last    string // the message that has the board or, with no message to edit, had it last; "" for none yet
}

//go:embed lua/edit.lua
var editSource string

var editScript = redis.NewScript(editSource)

// ClaimBoard claims an edit of the board: false where nothing has changed since
// the change shown last, or the last claim is less than BoardSpacing ago. A claim
// that BoardShown does not follow leaves the board to be claimed again.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) ClaimBoard(ctx context.Context, id string, at time.Time) (Showing, bool, error) {
	if err := checkID(id); err != nil {
		return Showing{}, false, err
	}
	reply, err := s.run(ctx, editScript, []string{aboutKey(id)}, at.UnixMilli(), BoardSpacing.Milliseconds())
	if err != nil || reply[0] != "claimed" {
		return Showing{}, false, firstError(err, refusalOf(reply))
	}
	if len(reply) != 5 {
		return Showing{}, false, fmt.Errorf("a script of the store gave %d values, expected 5", len(reply))
	}
	change, changeErr := strconv.ParseInt(reply[1], 10, 64)
	shown, shownErr := strconv.ParseInt(reply[3], 10, 64)
	if err := firstError(changeErr, shownErr); err != nil {
		return Showing{}, false, fmt.Errorf("a script of the store gave %q and %q for changes of the board: %w", reply[1], reply[3], err)
	}
	return Showing{Change: change, Message: reply[2], Shown: shown, Last: reply[4]}, true, nil
}

//go:embed lua/shown.lua
var shownSource string

var shownScript = redis.NewScript(shownSource)

// BoardShown notes what of the board stands in the channel now: a change that was
// claimed, and the message that shows it; "" where no message does. It does
// nothing where a later change was shown by then.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) BoardShown(ctx context.Context, id string, change int64, message string) error {
	err := firstError(checkID(id), checkNumber("the change", change, 0), checkText("the message", message, 0, 64))
	if err != nil {
		return err
	}
	reply, err := s.run(ctx, shownScript, []string{aboutKey(id)}, change, message)
	return firstError(err, refusalOf(reply))
}

//go:embed lua/gone.lua
var goneSource string

var goneScript = redis.NewScript(goneSource)

// BoardGone notes that the message with the board is not there any more, so that
// it is posted again. It does nothing where the board is another message by now.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) BoardGone(ctx context.Context, id, message string) error {
	if err := firstError(checkID(id), checkText("the message", message, 1, 64)); err != nil {
		return err
	}
	reply, err := s.run(ctx, goneScript, []string{aboutKey(id)}, message)
	return firstError(err, refusalOf(reply))
}

//go:embed lua/touch.lua
var touchSource string

var touchScript = redis.NewScript(touchSource)

// Tend enters a knit-along among those that Due looks at, and counts as a change of
// its board, so that it is shown anew. Start and Reopen enter it, too; after Close
// it is left out once its board has been shown a last time. One that is closed, or
// in no server, is not entered.
//
// It takes more than one call to Redis. When one fails after the first, the error
// is ErrUncertain, too. Tending again is safe after any error.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Tend(ctx context.Context, id string) error {
	if err := checkID(id); err != nil {
		return err
	}
	reply, err := s.run(ctx, touchScript, []string{aboutKey(id)})
	if err := firstError(err, refusalOf(reply)); err != nil {
		return err
	}
	_, err = s.tend(ctx, id)
	return half(true, err)
}

//go:embed lua/tend.lua
var tendSource string

var tendScript = redis.NewScript(tendSource)

// tend enters a knit-along that is open and in a server among those that are
// tended, with the newest change of its board, and tells whether that changed
// anything. The change tells one that was opened again from one that was closed
// before, so that Due never drops the former for the latter.
func (s *Store) tend(ctx context.Context, id string) (changed bool, err error) {
	values, err := s.client.HMGet(ctx, aboutKey(id), "host", "server", "closed", "changes").Result()
	if err != nil {
		return false, failure(err, false)
	}
	texts := make([]string, len(values))
	for i, value := range values {
		texts[i], _ = value.(string)
	}
	host, server, closed, changes := Member(texts[0]), texts[1], texts[2], cmp.Or(texts[3], "0")
	if server == "" || closed != "" {
		return false, nil
	}
	return s.tendAt(ctx, host, id, changes)
}

// tendAt enters it with a change of its board.
func (s *Store) tendAt(ctx context.Context, host Member, id, change string) (changed bool, err error) {
	reply, err := s.run(ctx, tendScript, []string{tendedKey(host.platform())}, id, change)
	if err != nil {
		return false, err
	}
	return reply[0] == "tended", nil
}

// tendClosed enters a closed knit-along whose board stands and does not show the
// newest change, until that is shown: who has left, or wishes not to be named, is not
// to stay on it for good. It does nothing for an open one, which is tended anyway.
func (s *Store) tendClosed(ctx context.Context, id string) error {
	values, err := s.client.HMGet(ctx, aboutKey(id), "host", "closed", "boardmsg", "changes", "shown").Result()
	if err != nil {
		return failure(err, false)
	}
	host, _ := values[0].(string)
	changes, _ := values[3].(string)
	closed, stands := values[1] != nil, values[2] != nil
	if !closed || !stands || changes == values[4] {
		return nil
	}
	_, err = s.tendAt(ctx, Member(host), id, changes)
	return err
}

// refusalOf gives the error that a script's reply stands for; nil for no reply.
func refusalOf(reply []string) error {
	if len(reply) == 0 {
		return nil
	}
	return refusals[reply[0]]
}
