package session

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
)

// About describes a knit-along.
type About struct {
	ID       string // 1 to 64 letters, digits, hyphens, full stops and underscores
	Title    string // 1 to 256 bytes
	Host     Member
	Server   string    // where its channel is, in the platform's own terms; up to 64 bytes, empty for none
	Channel  string    // where it is held, in the platform's own terms; up to 256 bytes
	Started  time.Time // kept to the millisecond
	Revision int       // the pattern's current revision, from 1; Start ignores it
	Closed   bool      // by Close, and not reopened; Start ignores it
	Helpers  []Member  // those named with Help, in order; Start ignores them

	Sessions []Session // in order; none is one without a plan
	Zone     string    // the IANA name of the time zone that times are told in, up to 64 bytes; "" is UTC
	Hold     bool      // rows are held back until their session opens
	Board    string    // the message with the board, up to 64 bytes; "" for none; Start ignores it
}

// helperField opens the name of the field for a helper.
const helperField = "helper:"

//go:embed lua/start.lua
var startSource string

var startScript = sessionsScript(startSource)

// Start begins a knit-along whose first revision is this pattern, a text of 1 to
// PatternSize bytes, with its sessions as for Schedule, and enters it in its
// server's index, among those that Due looks at, and among those in which something
// of the host is kept.
//
// It takes more than one call to Redis. When one after the first fails, the error
// is ErrUncertain, too.
//
// Errors: ErrCrowded when the server has OpenMost open ones; nothing was started.
// ErrStarted when there is one of that id; it is left as it was. Starting
// again is safe after any error: where id, host and server are the same, it also
// enters what a failed call has left out.
func (s *Store) Start(ctx context.Context, about About, pattern string) error {
	err := firstError(checkID(about.ID), checkText("the title", about.Title, 1, 256), about.Host.check(),
		checkText("the server", about.Server, 0, 64), checkText("the channel", about.Channel, 0, 256), checkPattern(pattern),
		checkZone(about.Zone), checkSessions(about.Sessions))
	if err != nil {
		return err
	}
	args := []any{about.Title, string(about.Host), about.Server, about.Channel, about.Started.UnixMilli(), pattern,
		about.Zone, holdMark(about.Hold)}
	reply, err := s.run(ctx, startScript, []string{aboutKey(about.ID), revisionsKey(about.ID)}, appendSessions(args, about.Sessions)...)
	if err != nil {
		return err
	}
	refusal := refusals[reply[0]]
	if refusal == nil {
		about.Closed = false
		_, err := s.enter(ctx, about)
		if errors.Is(err, ErrCrowded) { // nobody has met it, so it goes as it came
			if gone := s.client.Del(ctx, aboutKey(about.ID), revisionsKey(about.ID)).Err(); gone != nil {
				return half(true, failure(gone, true))
			}
			return err
		}
		if err == nil {
			_, err = s.keep(ctx, about.ID, about.Host)
		}
		return half(true, err)
	}
	was, err := s.About(ctx, about.ID)
	if err == nil && was.Host == about.Host && was.Server == about.Server {
		err = s.startRest(ctx, was)
	}
	return firstError(err, refusal)
}

// startRest does what an earlier Start has left undone.
func (s *Store) startRest(ctx context.Context, about About) error {
	changed, err := s.enter(ctx, about)
	if err != nil {
		return err
	}
	_, err = s.keep(ctx, about.ID, about.Host)
	return half(changed, err)
}

// enter makes the server's index agree with what is kept about the knit-along, and
// enters it among those that are tended. It tells whether that changed anything;
// an error after a change is ErrUncertain, too.
func (s *Store) enter(ctx context.Context, about About) (changed bool, err error) {
	changed, err = s.index(ctx, about)
	if err != nil {
		return changed, err
	}
	entered, err := s.tend(ctx, about.ID)
	return changed || entered, half(changed, err)
}

//go:embed lua/revise.lua
var reviseSource string

var reviseScript = sessionsScript(reviseSource)

// AddRevision makes a text of 1 to PatternSize bytes the pattern's current
// revision and gives its number, and replaces the sessions as Schedule does, but
// that a session which keeps its number opens when it did; nil keeps them. A text
// that is the current revision already is not added again, and the sessions stay.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) AddRevision(ctx context.Context, id, pattern string, sessions []Session) (int, error) {
	if err := firstError(checkID(id), checkPattern(pattern), checkSessions(sessions)); err != nil {
		return 0, err
	}
	what := "keep"
	if sessions != nil {
		what = "replace"
	}
	reply, err := s.run(ctx, reviseScript, []string{aboutKey(id), revisionsKey(id)}, appendSessions([]any{pattern, what}, sessions)...)
	if err != nil {
		return 0, err
	}
	if err := refusals[reply[0]]; err != nil {
		return 0, err
	}
	return strconv.Atoi(reply[1])
}

// About describes the knit-along of that id.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) About(ctx context.Context, id string) (About, error) {
	if err := checkID(id); err != nil {
		return About{}, err
	}
	fields, err := s.client.HGetAll(ctx, aboutKey(id)).Result()
	if err != nil {
		return About{}, failure(err, false)
	}
	return decodeAbout(id, fields)
}

// Abouts describes several knit-alongs in one round trip, in the order of the
// ids. Those that there are none of are left out.
func (s *Store) Abouts(ctx context.Context, ids []string) ([]About, error) {
	calls := make([]*redis.MapStringStringCmd, len(ids))
	all := s.client.Pipeline()
	for i, id := range ids {
		if err := checkID(id); err != nil {
			return nil, err
		}
		calls[i] = all.HGetAll(ctx, aboutKey(id))
	}
	if len(ids) == 0 {
		return nil, nil
	}
	if _, err := all.Exec(ctx); err != nil {
		return nil, failure(err, false)
	}
	var abouts []About
	for i, id := range ids {
		about, err := decodeAbout(id, calls[i].Val())
		if errors.Is(err, ErrUnknownKnitalong) {
			continue
		}
		if err != nil {
			return nil, err
		}
		abouts = append(abouts, about)
	}
	return abouts, nil
}

func decodeAbout(id string, fields map[string]string) (About, error) {
	if len(fields) == 0 {
		return About{}, ErrUnknownKnitalong
	}
	ms, timeErr := strconv.ParseInt(fields["started"], 10, 64)
	revision, revisionErr := strconv.Atoi(fields["revision"])
	if err := firstError(timeErr, revisionErr); err != nil {
		return About{}, fmt.Errorf("what is stored about the knit-along %s cannot be read: %w", id, err)
	}
	sessions, err := decodeSessions(fields)
	if err != nil {
		return About{}, fmt.Errorf("what is stored about the knit-along %s: %w", id, err)
	}
	var helpers []Member
	for field := range fields {
		if name, ok := strings.CutPrefix(field, helperField); ok {
			helpers = append(helpers, Member(name))
		}
	}
	slices.Sort(helpers)
	return About{
		ID: id, Title: fields["title"], Host: Member(fields["host"]), Server: fields["server"], Channel: fields["channel"],
		Started: time.UnixMilli(ms).UTC(), Revision: revision, Closed: fields["closed"] != "", Helpers: helpers,
		Sessions: sessions, Zone: fields["zone"], Hold: fields["hold"] != "", Board: fields["boardmsg"],
	}, nil
}

// Pattern gives the text of a revision, counted from 1; 0 is the current one.
//
// Errors: ErrUnknownRevision, ErrUnknownKnitalong.
func (s *Store) Pattern(ctx context.Context, id string, revision int) (string, error) {
	if err := firstError(checkID(id), checkNumber("the revision", int64(revision), 0)); err != nil {
		return "", err
	}
	text, err := s.client.LIndex(ctx, revisionsKey(id), int64(revision)-1).Result()
	if errors.Is(err, redis.Nil) {
		return "", firstError(s.mustExist(ctx, id), ErrUnknownRevision)
	}
	if err != nil {
		return "", failure(err, false)
	}
	return text, nil
}
