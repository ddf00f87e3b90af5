package session

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
)

// State gives where a member stands; the zero State, not joined, for one who
// never joined.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) State(ctx context.Context, id string, member Member) (State, error) {
	if err := firstError(checkID(id), member.check()); err != nil {
		return State{}, err
	}
	values, err := s.client.HMGet(ctx, placeKey(id, member), stateFields...).Result()
	if err != nil {
		return State{}, failure(err, false)
	}
	state, joinedOnce, err := stateOf(values)
	if err == nil && !joinedOnce {
		err = s.mustExist(ctx, id)
	}
	return state, err
}

// Visit gives what About and State give, in one round trip.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Visit(ctx context.Context, id string, member Member) (About, State, error) {
	if err := firstError(checkID(id), member.check()); err != nil {
		return About{}, State{}, err
	}
	both := s.client.Pipeline()
	about, place := both.HGetAll(ctx, aboutKey(id)), both.HMGet(ctx, placeKey(id, member), stateFields...)
	if _, err := both.Exec(ctx); err != nil {
		return About{}, State{}, failure(err, false)
	}
	a, err := decodeAbout(id, about.Val())
	if err != nil {
		return About{}, State{}, err
	}
	state, _, err := stateOf(place.Val())
	return a, state, err
}

// stateOf reads the fields of a place's hash; false when there is none.
func stateOf(values []any) (State, bool, error) {
	fields := make([]string, len(values))
	for i, value := range values {
		fields[i], _ = value.(string)
	}
	if fields[0] == "" { // no section's name is empty
		return State{Settings: map[string]string{}}, false, nil
	}
	state, err := decodeState(fields)
	return state, true, err
}

// mustExist gives ErrUnknownKnitalong where there is none of that id.
func (s *Store) mustExist(ctx context.Context, id string) error {
	n, err := s.client.Exists(ctx, aboutKey(id)).Result()
	if err != nil {
		return failure(err, false)
	}
	if n == 0 {
		return ErrUnknownKnitalong
	}
	return nil
}

// Answers gives the answers that were kept with a member's events, in their
// order; empty where none was kept, or not any more.
func (s *Store) Answers(ctx context.Context, id string, member Member, events ...string) ([]string, error) {
	err := firstError(checkID(id), member.check())
	fields := make([]string, len(events))
	for i, event := range events {
		err = firstError(err, checkEvent(event))
		fields[i] = "event:" + event
	}
	if err != nil || len(events) == 0 {
		return nil, err
	}
	values, err := s.client.HMGet(ctx, placeKey(id, member), fields...).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	answers := make([]string, len(events))
	for i, value := range values {
		answers[i], _ = value.(string)
	}
	return answers, nil
}

// Entry is one move in a member's log.
type Entry struct {
	At       time.Time
	How      string
	From, To Place

	FromDone, ToDone int64 // stitches done at From and To; both Unknown where an earlier version kept the move
}

// Unknown stands for a figure that was not kept.
const Unknown = -1

// Log gives a member's newest moves, the newest first: up to n of them, or all
// that are kept (LogLength) where n is 0 or less. A member without moves, or
// one who never joined, has an empty log.
func (s *Store) Log(ctx context.Context, id string, member Member, n int) ([]Entry, error) {
	if err := firstError(checkID(id), member.check()); err != nil {
		return nil, err
	}
	if n <= 0 || n > LogLength {
		n = LogLength
	}
	texts, err := s.client.LRange(ctx, logKey(id, member), 0, int64(n)-1).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	return decodeLog(texts)
}

// logsTogether is how many logs are read in one round trip: some three megabytes
// where all of them are full.
const logsTogether = 100

// Paces gives the paces of members, in their order: PaceOf each one's log. It takes
// a round trip for every hundred of them.
func (s *Store) Paces(ctx context.Context, id string, members []Member) ([]Pace, error) {
	err := checkID(id)
	for _, m := range members {
		err = firstError(err, m.check())
	}
	if err != nil {
		return nil, err
	}
	paces := make([]Pace, 0, len(members))
	for together := range slices.Chunk(members, logsTogether) {
		logs := make([]*redis.StringSliceCmd, len(together))
		all := s.client.Pipeline()
		for i, m := range together {
			logs[i] = all.LRange(ctx, logKey(id, m), 0, LogLength-1)
		}
		if _, err := all.Exec(ctx); err != nil {
			return nil, failure(err, false)
		}
		for _, log := range logs {
			entries, err := decodeLog(log.Val())
			if err != nil {
				return nil, err
			}
			paces = append(paces, PaceOf(entries))
		}
	}
	return paces, nil
}

func decodeLog(texts []string) ([]Entry, error) {
	entries := make([]Entry, len(texts))
	for i, text := range texts {
		var err error
		if entries[i], err = decodeEntry(text); err != nil {
			return nil, err
		}
	}
	return entries, nil
}

// decodeEntry reads what log of lua/prelude.lua wrote. An earlier version wrote no
// stitches done.
func decodeEntry(text string) (Entry, error) {
	const older = 2 + 2*placeFields
	fields := strings.Split(text, "\t")
	if len(fields) != older && len(fields) != older+2 {
		return Entry{}, fmt.Errorf("the stored log has %d values in a line, expected %d, or %d", len(fields), older+2, older)
	}
	at, timeErr := decodeMoment("the time of a move", fields[0])
	from, fromErr := decodePlace(fields[2 : 2+placeFields])
	to, toErr := decodePlace(fields[2+placeFields : older])
	e := Entry{At: at, How: fields[1], From: from, To: to, FromDone: Unknown, ToDone: Unknown}
	if len(fields) == older {
		return e, firstError(timeErr, fromErr, toErr)
	}
	var fromDoneErr, toDoneErr error
	e.FromDone, fromDoneErr = decodeNumber("the stitches done", fields[older])
	e.ToDone, toDoneErr = decodeNumber("the stitches done", fields[older+1])
	return e, firstError(timeErr, fromErr, toErr, fromDoneErr, toDoneErr)
}

// Standing is a member's figure on the board.
type Standing struct {
	Member Member
	Done   int64 // stitches done
}

// Board gives every member who has joined and not left, the one with the most
// stitches first, equal ones by name.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Board(ctx context.Context, id string) ([]Standing, error) {
	if err := checkID(id); err != nil {
		return nil, err
	}
	scores, err := s.client.ZRangeWithScores(ctx, boardKey(id), 0, -1).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	if len(scores) == 0 {
		return nil, s.mustExist(ctx, id)
	}
	board := make([]Standing, len(scores))
	for i, score := range scores {
		name, _ := score.Member.(string)
		board[i] = Standing{Member: Member(name), Done: int64(score.Score)}
	}
	slices.SortFunc(board, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(b.Done, a.Done), cmp.Compare(a.Member, b.Member))
	})
	return board, nil
}
