package session

import (
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strconv"

	"github.com/redis/go-redis/v9"
)

// Forgotten is what is kept of a person, or was.
type Forgotten struct {
	Knitalongs []ForgottenIn // those in which anything is kept, by ID
	Person     bool          // something is kept across knit-alongs: units, a voice, or which there are
}

// ForgottenIn is what is kept of a person in one knit-along.
type ForgottenIn struct {
	ID, Title string // Title is "" where there is no such knit-along any more
	Place     bool   // a place, with its settings
	Moves     int    // moves in the log
	Helps     bool   // the name among the helpers
	Hosts     bool   // the name of the host
}

func (f ForgottenIn) any() bool { return f.Place || f.Moves > 0 || f.Helps || f.Hosts }

// Nobody stands for the host of a platform's knit-along who was forgotten.
func Nobody(platform string) Member { return Member(platform + ":(nobody)") }

// Kept gives what ForgetAll would delete.
func (s *Store) Kept(ctx context.Context, member Member, others ...string) (Forgotten, error) {
	kept, ids, err := s.whereKept(ctx, member, others)
	if err != nil || len(ids) == 0 {
		return kept, err
	}
	all := s.client.Pipeline()
	places, logs, abouts := make([]*redis.IntCmd, len(ids)), make([]*redis.IntCmd, len(ids)), make([]*redis.SliceCmd, len(ids))
	for i, id := range ids {
		places[i], logs[i] = all.Exists(ctx, placeKey(id, member)), all.LLen(ctx, logKey(id, member))
		abouts[i] = all.HMGet(ctx, aboutKey(id), "title", "host", helperField+string(member))
	}
	if _, err := all.Exec(ctx); err != nil {
		return Forgotten{}, failure(err, false)
	}
	for i, id := range ids {
		about := abouts[i].Val()
		in := ForgottenIn{ID: id, Place: places[i].Val() > 0, Moves: int(logs[i].Val()), Helps: about[2] != nil, Hosts: about[1] == string(member)}
		in.Title, _ = about[0].(string)
		if in.any() {
			kept.Knitalongs = append(kept.Knitalongs, in)
		}
	}
	return kept, nil
}

// whereKept says whether anything is kept of a person across knit-alongs, and gives
// the ids of those in which something may be, in order.
func (s *Store) whereKept(ctx context.Context, member Member, others []string) (Forgotten, []string, error) {
	err := member.check()
	for _, id := range others {
		err = firstError(err, checkID(id))
	}
	if err != nil {
		return Forgotten{}, nil, err
	}
	fields, err := s.client.HGetAll(ctx, personKey(member)).Result()
	if err != nil {
		return Forgotten{}, nil, failure(err, false)
	}
	person, err := decodePerson(fields)
	ids := slices.Concat(person.Kept, others)
	slices.Sort(ids)
	return Forgotten{Person: len(fields) > 0}, slices.Compact(ids), err
}

//go:embed lua/forget.lua
var forgetSource string

var forgetScript = redis.NewScript(forgetSource)

//go:embed lua/strike.lua
var strikeSource string

var strikeScript = personScript(strikeSource)

// ForgetAll deletes everything that is kept of a person, in every knit-along and
// across them, and gives what that was: places, settings, logs, figures and names on
// the board, the names of helper and host, and preferences. For a host there is
// Nobody then; the board of a closed knit-along is shown once more. Stumbles carry no
// name and stay. Forgetting whom nobody knows is no error.
//
// An earlier version did not note whom a knit-along has for its host and helpers, nor
// who has left it. Others names knit-alongs that are looked into in any case, such as
// those of the server where the person asks.
//
// It takes three calls to Redis, one more for each knit-along, and two more for each
// closed one whose board is shown once more. When one fails after an earlier one has
// changed something, the error is ErrUncertain, too, and what was deleted by then is
// given. Forgetting again is safe after any error, and deletes the rest.
func (s *Store) ForgetAll(ctx context.Context, member Member, others ...string) (Forgotten, error) {
	kept, ids, err := s.whereKept(ctx, member, others)
	if err != nil {
		return Forgotten{}, err
	}
	in, err := s.forgetIn(ctx, member, ids)
	return Forgotten{Knitalongs: in, Person: err == nil && kept.Person}, err
}

// forgetIn deletes what knit-alongs keep of a person, and gives those that kept
// anything. The person leaves them first, so that a person is never in one without
// a place in it; the index goes last, for what a failed call has left is found by it.
func (s *Store) forgetIn(ctx context.Context, member Member, ids []string) ([]ForgottenIn, error) {
	changed, err := s.part(ctx, member, ids...)
	if err != nil {
		return nil, err
	}
	var gone []ForgottenIn
	for _, id := range ids {
		reply, err := s.run(ctx, forgetScript, memberKeys(id, member), string(member), string(Nobody(member.platform())))
		if err != nil {
			return gone, half(changed, err)
		}
		moves, err := strconv.Atoi(reply[5])
		if err != nil {
			return gone, fmt.Errorf("a script of the store gave %q for a number of moves", reply[5])
		}
		in := ForgottenIn{ID: id, Title: reply[1], Place: reply[2] == "1", Helps: reply[3] == "1", Hosts: reply[4] == "1", Moves: moves}
		if in.any() {
			gone, changed = append(gone, in), true
		}
		if reply[6] == "1" {
			if err := s.tendClosed(ctx, id); err != nil {
				return gone, half(changed, err)
			}
		}
	}
	_, err = s.run(ctx, strikeScript, []string{personKey(member)}, anyOf(ids)...)
	return gone, half(changed, err)
}
