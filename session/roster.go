package session

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
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
	roster := make([]Entrant, 0, len(texts))
	for member, text := range texts {
		e, err := decodeCard(text)
		if err != nil {
			return nil, err
		}
		e.Member = Member(member)
		roster = append(roster, e)
	}
	slices.SortFunc(roster, func(a, b Entrant) int { return cmp.Compare(a.Member, b.Member) })
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

// decodeCard reads what card of lua/prelude.lua wrote.
func decodeCard(text string) (Entrant, error) {
	f := strings.Split(text, "\t")
	if len(f) != cardFields {
		return Entrant{}, fmt.Errorf("the stored roster has %d values in a line, expected %d", len(f), cardFields)
	}
	var errs [8]error
	number := func(i int, what, text string) (n int64) {
		n, errs[i] = decodeNumber(what, text)
		return n
	}
	when := func(i int, what, text string) (t time.Time) {
		t, errs[i] = decodeMoment(what, text)
		return t
	}
	e := Entrant{
		Name: f[0], Hidden: f[1] != "",
		RowID:    RowID{Section: f[2], Row: int(number(0, "the row", f[3]))},
		Done:     number(1, "the stitches done", f[4]),
		All:      number(2, "the stitches in all", f[5]),
		Revision: int(number(3, "the revision", f[6])),
		Size:     f[7],
		Joined:   when(4, "the time of joining", f[8]),
		Seen:     when(5, "the time of the newest request", f[9]),
		Stuck:    when(6, "the time of asking for help", f[10]),
		StuckAt:  RowID{Section: f[11], Row: int(number(7, "the row of asking for help", f[12]))},
	}
	return e, firstError(errs[:]...)
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
