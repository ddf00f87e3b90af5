package session

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
)

// Preferences are a person's own, whichever knit-along they are on. Each is up
// to 64 bytes; an empty one was never chosen.
type Preferences struct {
	On    string // the id of the knit-along that requests are about; empty also where several are joined and none was chosen
	Units string
	Voice string
}

// Person is what is kept of somebody across knit-alongs.
type Person struct {
	Preferences
	Knitalongs []string // the ids of those joined and not left, in order
	Told       []Told   // those that the person was told of and has not joined, the newest first
	Kept       []string // the ids of all in which anything of the person may be kept, in order
}

// Told is a knit-along that a person was told of without being in it: one to join,
// or one that was left.
type Told struct {
	ID string
	At time.Time // the same for those told of together; no two tellings have one time
}

// ToldMost is how many knit-alongs that a person was told of are remembered. Older
// ones drop out.
const ToldMost = 25

// toldField opens the name of the field for a knit-along told of; its value is the
// time, in milliseconds since 1970.
const toldField = "told:"

// joinedField opens the name of the field for a knit-along joined; its value is
// the time of joining, in milliseconds since 1970.
const joinedField = "joined:"

// keptField opens the name of the field for a knit-along in which something of the
// person is kept. The field keptAll is there where those are complete; an earlier
// version kept neither.
const (
	keptField = "kept:"
	keptAll   = "kept"
)

// Person gives what is kept of somebody; nothing is kept of one who never joined
// a knit-along nor was told of one.
func (s *Store) Person(ctx context.Context, member Member) (Person, error) {
	if err := member.check(); err != nil {
		return Person{}, err
	}
	fields, err := s.client.HGetAll(ctx, personKey(member)).Result()
	if err != nil {
		return Person{}, failure(err, false)
	}
	return decodePerson(fields)
}

func decodePerson(fields map[string]string) (Person, error) {
	person := Person{Preferences: Preferences{On: fields["on"], Units: fields["units"], Voice: fields["voice"]}}
	kept := map[string]bool{}
	for field, value := range fields {
		if id, ok := strings.CutPrefix(field, keptField); ok {
			kept[id] = true
		}
		if id, ok := strings.CutPrefix(field, joinedField); ok {
			person.Knitalongs = append(person.Knitalongs, id)
			kept[id] = true
		}
		if id, ok := strings.CutPrefix(field, toldField); ok {
			kept[id] = kept[id] || fields[keptAll] == ""
			ms, err := strconv.ParseInt(value, 10, 64)
			if err != nil {
				return Person{}, fmt.Errorf("what is stored of a person has %q for the time of a telling, expected milliseconds", value)
			}
			person.Told = append(person.Told, Told{ID: id, At: time.UnixMilli(ms).UTC()})
		}
	}
	maps.DeleteFunc(kept, func(_ string, is bool) bool { return !is })
	person.Kept = slices.Sorted(maps.Keys(kept))
	slices.Sort(person.Knitalongs)
	slices.SortFunc(person.Told, func(a, b Told) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.ID, b.ID)) })
	return person, nil
}

//go:embed lua/told.lua
var toldSource string

var toldScript = personScript(toldSource)

// justNow is how long one counts as told of just now, and is not noted again.
const justNow = 24 * time.Hour

// Tell notes that a person was told of knit-alongs, so that Person gives them. Those
// that the person is in are passed over. Join and Forget remove what is noted of
// the knit-along.
func (s *Store) Tell(ctx context.Context, member Member, at time.Time, ids ...string) error {
	err := member.check()
	args := []any{at.UnixMilli(), ToldMost, justNow.Milliseconds()}
	for _, id := range ids {
		err = firstError(err, checkID(id))
		args = append(args, id)
	}
	if err != nil {
		return err
	}
	_, err = s.run(ctx, toldScript, []string{personKey(member)}, args...)
	return err
}

//go:embed lua/prefer.lua
var preferSource string

var preferScript = redis.NewScript(preferSource)

// Prefer changes the preferences that are not empty and leaves the others.
//
// Errors: ErrNotJoined when p.On is a knit-along that the person has not joined;
// nothing is changed.
func (s *Store) Prefer(ctx context.Context, member Member, p Preferences) error {
	err := firstError(member.check(), checkText("the knit-along's id", p.On, 0, 64),
		checkText("the units", p.Units, 0, 64), checkText("the voice", p.Voice, 0, 64))
	if err != nil {
		return err
	}
	reply, err := s.run(ctx, preferScript, []string{personKey(member)}, p.On, p.Units, p.Voice)
	if err != nil {
		return err
	}
	return refusals[reply[0]]
}

//go:embed lua/enlist.lua
var enlistSource string

var enlistScript = personScript(enlistSource)

// enlist notes that the person has joined a knit-along, and is on it where it is
// the only one.
func (s *Store) enlist(ctx context.Context, id string, member Member, at time.Time) error {
	_, err := s.run(ctx, enlistScript, []string{personKey(member)}, id, at.UnixMilli())
	return err
}

//go:embed lua/part.lua
var partSource string

var partScript = personScript(partSource)

// part notes that the person is no longer in knit-alongs, in which the place is
// kept. It tells whether that changed anything.
func (s *Store) part(ctx context.Context, member Member, ids ...string) (changed bool, err error) {
	reply, err := s.run(ctx, partScript, []string{personKey(member)}, anyOf(ids)...)
	if err != nil {
		return false, err
	}
	return reply[0] == "parted", nil
}

// anyOf gives texts as a script's arguments.
func anyOf(texts []string) []any {
	args := make([]any, len(texts))
	for i, text := range texts {
		args[i] = text
	}
	return args
}

//go:embed lua/keep.lua
var keepSource string

var keepScript = personScript(keepSource)

// keep notes that something of a person is kept in a knit-along. It tells whether
// that changed anything.
func (s *Store) keep(ctx context.Context, id string, member Member) (changed bool, err error) {
	reply, err := s.run(ctx, keepScript, []string{personKey(member)}, id)
	if err != nil {
		return false, err
	}
	return reply[0] == "kept", nil
}
