package session

import (
	"cmp"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/redis/go-redis/v9"
)

// Held is a knit-along of a server.
type Held struct {
	ID, Title, Channel string // as in About
}

// Around gives what Person gives, and the open knit-alongs of the server where
// the person asks, by title, equal ones by id; an empty server has none. It is
// one round trip.
func (s *Store) Around(ctx context.Context, member Member, server string) (Person, []Held, error) {
	if err := firstError(member.check(), checkText("the server", server, 0, 64)); err != nil {
		return Person{}, nil, err
	}
	if server == "" {
		person, err := s.Person(ctx, member)
		return person, nil, err
	}
	both := s.client.Pipeline()
	person, index := both.HGetAll(ctx, personKey(member)), both.HGetAll(ctx, serverKey(server))
	if _, err := both.Exec(ctx); err != nil {
		return Person{}, nil, failure(err, false)
	}
	p, err := decodePerson(person.Val())
	if err != nil {
		return Person{}, nil, err
	}
	held, _, err := decodeIndex(index.Val())
	return p, held, err
}

// Closed gives the closed knit-alongs of a server, named in 1 to 64 bytes, in the
// order of Around.
func (s *Store) Closed(ctx context.Context, server string) ([]Held, error) {
	if err := checkText("the server", server, 1, 64); err != nil {
		return nil, err
	}
	index, err := s.client.HGetAll(ctx, serverKey(server)).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	_, closed, err := decodeIndex(index)
	return closed, err
}

// closedMark is the third of the values of a closed knit-along in its server's
// index. An open one has two, for its title may be this very word.
const closedMark = "closed"

// decodeIndex reads a server's index: id to channel, title, and the mark of one
// that is closed, parted by tabs.
func decodeIndex(index map[string]string) (open, closed []Held, err error) {
	for id, entry := range index {
		list, values := &open, strings.Split(entry, "\t")
		if len(values) == 3 && values[2] == closedMark {
			list, values = &closed, values[:2]
		}
		if len(values) != 2 {
			return nil, nil, fmt.Errorf("the stored index of a server has %q for the knit-along %s, expected a channel, a tab and a title", entry, id)
		}
		*list = append(*list, Held{ID: id, Title: values[1], Channel: values[0]})
	}
	for _, list := range [][]Held{open, closed} {
		slices.SortFunc(list, func(a, b Held) int {
			return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID))
		})
	}
	return open, closed, nil
}

//go:embed lua/close.lua
var closeSource string

var closeScript = redis.NewScript(closeSource)

// mark closes a knit-along, or opens it again, and makes its server's index say
// so.
func (s *Store) mark(ctx context.Context, id string, closed bool) error {
	if err := checkID(id); err != nil {
		return err
	}
	mark := ""
	if closed {
		mark = "1"
	}
	reply, err := s.run(ctx, closeScript, []string{aboutKey(id)}, mark)
	if err != nil {
		return err
	}
	if err := refusals[reply[0]]; err != nil {
		return err
	}
	about := About{ID: id, Server: reply[1], Channel: reply[2], Title: reply[3], Closed: closed}
	if closed {
		_, err = s.index(ctx, about)
	} else {
		_, err = s.enter(ctx, about)
	}
	if errors.Is(err, ErrCrowded) && reply[0] == "changed" {
		if _, again := s.run(ctx, closeScript, []string{aboutKey(id)}, "1"); again != nil {
			return half(true, again)
		}
		return err
	}
	return half(reply[0] == "changed", err)
}

// Close closes a knit-along: About says so, and Around no longer gives it, but
// Closed does; it counts as a change of the board. Places, members and pattern stay
// as they are, and the store refuses no call because of it. Closing it again does
// no harm.
//
// It takes more than one call to Redis. When one fails after an earlier one has
// changed something, the error is ErrUncertain, too. Closing again is safe after
// any error, and does what a failed call has left undone.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Close(ctx context.Context, id string) error { return s.mark(ctx, id, true) }

// Reopen opens a knit-along that was closed, and enters it among those that Due
// looks at. All that is said of Close is true of it, too.
//
// Errors: ErrCrowded when the server has OpenMost open ones; it stays closed.
// ErrUnknownKnitalong.
func (s *Store) Reopen(ctx context.Context, id string) error { return s.mark(ctx, id, false) }

//go:embed lua/enter.lua
var enterSource string

var enterScript = redis.NewScript(enterSource)

// index makes the server's index agree with what is kept about the knit-along.
// The server is outside of its hash tag, so no script can change both: what is
// kept about it is changed first, so that the index never has one that nobody
// knows. Whoever closes or opens it at the same moment changes both, too, and the
// two may change the index in the other order; so it is looked once more whether
// they agree. It tells whether anything changed; an error after a change is
// ErrUncertain, too.
func (s *Store) index(ctx context.Context, about About) (changed bool, err error) {
	for about.Server != "" {
		entry, most := about.Channel+"\t"+about.Title, strconv.Itoa(OpenMost)
		if about.Closed {
			entry, most = entry+"\t"+closedMark, ""
		}
		reply, err := s.run(ctx, enterScript, []string{serverKey(about.Server)}, about.ID, entry, most)
		if err == nil {
			err = refusals[reply[0]]
		}
		if err != nil {
			return changed, half(changed, err)
		}
		changed = changed || reply[0] == "changed"
		now, err := s.About(ctx, about.ID)
		if err != nil || now.Closed == about.Closed {
			return changed, half(changed, err)
		}
		about = now
	}
	return changed, nil
}

//go:embed lua/help.lua
var helpSource string

var helpScript = redis.NewScript(helpSource)

// Help names a member a helper of the knit-along, or, where helps is false,
// dismisses one. A helper need not have joined. Either may be asked for again.
//
// Naming one takes two calls to Redis. When the second fails, the error is
// ErrUncertain, too; asking again does the rest.
//
// Errors: ErrHelpers, ErrUnknownKnitalong.
func (s *Store) Help(ctx context.Context, id string, member Member, helps bool) error {
	if err := firstError(checkID(id), member.check()); err != nil {
		return err
	}
	verb := "dismisses"
	if helps {
		verb = "names"
	}
	reply, err := s.run(ctx, helpScript, []string{aboutKey(id)}, string(member), verb, HelpersMost)
	if err != nil {
		return err
	}
	if err := refusals[reply[0]]; err != nil || !helps {
		return err
	}
	_, err = s.keep(ctx, id, member)
	return half(true, err)
}
