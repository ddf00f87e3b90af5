package session

import (
	"context"
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strings"
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
	Joined    time.Time // when she joined, or last came back; zero where it is not known
	Seen      time.Time // the newest move, join or other request that was kept; zero where it is not known
	Stuck     time.Time // when she last asked for the host's help; zero for never
	StuckAt   RowID     // where she did
}

// Roster gives every member who has joined and not left, by Member. It is one
// round trip, but for members who joined before their entries were kept.
//
// Errors: ErrUnknownKnitalong.
func (s *Store) Roster(ctx context.Context, id string) ([]Entrant, error) {
	if err := checkID(id); err != nil {
		return nil, err
	}
	all := s.client.Pipeline()
	cards, in, there := all.HGetAll(ctx, rosterKey(id)), all.ZCard(ctx, boardKey(id)), all.Exists(ctx, aboutKey(id))
	if _, err := all.Exec(ctx); err != nil {
		return nil, failure(err, false)
	}
	if there.Val() == 0 {
		return nil, ErrUnknownKnitalong
	}
	texts := cards.Val()
	// Every script that makes or drops a card does so with the figure on the board.
	// So they are as many, unless some have joined with an earlier version.
	if int64(len(texts)) != in.Val() {
		var err error
		if texts, err = s.cards(ctx, id); err != nil {
			return nil, err
		}
	}
	members := slices.AppendSeq(make([]string, 0, len(texts)), maps.Keys(texts))
	slices.Sort(members)
	roster := make([]Entrant, len(members))
	for i, member := range members {
		roster[i].Member = Member(member)
		if err := roster[i].decode(texts[member]); err != nil {
			return nil, err
		}
	}
	return roster, nil
}

//go:embed lua/card.lua
var cardSource string

var cardScript = placeScript(cardSource)

// cardsAtOnce bounds how many members' cards one call makes, for Redis does nothing
// else meanwhile.
const cardsAtOnce = 500

// cards gives the cards of all who are on the board, and makes those that are
// missing.
func (s *Store) cards(ctx context.Context, id string) (map[string]string, error) {
	members, err := s.client.ZRange(ctx, boardKey(id), 0, -1).Result()
	if err != nil {
		return nil, failure(err, false)
	}
	cards := make(map[string]string, len(members))
	for some := range slices.Chunk(members, cardsAtOnce) {
		keys, args := []string{rosterKey(id), boardKey(id)}, make([]any, len(some))
		for i, member := range some {
			keys = append(keys, placeKey(id, Member(member)), logKey(id, Member(member)))
			args[i] = member
		}
		reply, err := s.run(ctx, cardScript, keys, args...)
		if err != nil {
			return nil, err
		}
		for i, card := range reply[1:] {
			if card != "" { // else she has left meanwhile
				cards[some[i]] = card
			}
		}
	}
	return cards, nil
}

// cardFields is how many values card of lua/prelude.lua writes.
const cardFields = 13

// decode reads what card of lua/prelude.lua wrote. It is done for every member
// whenever the board is drawn, so it makes nothing but the texts.
func (e *Entrant) decode(card string) error {
	var f [cardFields]string
	rest, more := card, true
	for i := range f {
		if !more {
			return fmt.Errorf("the stored roster has %d values in a line, expected %d", i, cardFields)
		}
		f[i], rest, more = strings.Cut(rest, "\t")
	}
	if more {
		return fmt.Errorf("the stored roster has more than %d values in a line", cardFields)
	}
	e.Name, e.Hidden, e.Section, e.Size, e.StuckAt.Section = f[0], f[1] != "", f[2], f[7], f[11]
	var row, revision, stuckRow int64
	for _, number := range []struct {
		to   *int64
		what string
		text string
	}{
		{&row, "the row", f[3]}, {&e.Done, "the stitches done", f[4]}, {&e.All, "the stitches in all", f[5]},
		{&revision, "the revision", f[6]}, {&stuckRow, "the row where she was stuck", f[12]},
	} {
		var err error
		if *number.to, err = decodeNumber(number.what, number.text); err != nil {
			return err
		}
	}
	e.Row, e.Revision, e.StuckAt.Row = int(row), int(revision), int(stuckRow)
	for _, moment := range []struct {
		to   *time.Time
		what string
		text string
	}{
		{&e.Joined, "the time of joining", f[8]}, {&e.Seen, "the time of the newest request", f[9]}, {&e.Stuck, "the time of being stuck", f[10]},
	} {
		var err error
		if *moment.to, err = decodeMoment(moment.what, moment.text); err != nil {
			return err
		}
	}
	return nil
}

//go:embed lua/stuck.lua
var stuckSource string

var stuckScript = placeScript(stuckSource)

// Stuck notes that a member asks for the host's help where the member is. An event
// that came before changes nothing, and gets the member's state now.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) Stuck(ctx context.Context, id string, member Member, event string, at time.Time) (State, error) {
	if err := firstError(checkID(id), member.check(), checkEvent(event)); err != nil {
		return State{}, err
	}
	reply, err := s.run(ctx, stuckScript, memberKeys(id, member)[:3], string(member), event, at.UnixMilli())
	if err != nil {
		return State{}, err
	}
	moved, err := stateReply(reply)
	return moved.State, err
}

//go:embed lua/informed.lua
var informedSource string

var informedScript = placeScript(informedSource)

// ToldRevision notes that a member was told what the revisions up to this one have
// changed. It does nothing where she was told of a later one.
//
// Errors: ErrNotJoined, ErrUnknownKnitalong.
func (s *Store) ToldRevision(ctx context.Context, id string, member Member, revision int) error {
	if err := firstError(checkID(id), member.check(), checkNumber("the revision", int64(revision), 1)); err != nil {
		return err
	}
	reply, err := s.run(ctx, informedScript, memberKeys(id, member)[:2], revision)
	if err != nil {
		return err
	}
	return refusals[reply[0]]
}
