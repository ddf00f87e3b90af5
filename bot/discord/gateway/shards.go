package gateway

import (
	"fmt"
	"strconv"
	"strings"
)

// Shards are the ones that a process runs, out of all that the bot has.
// Direct messages come to shard 0 alone.
type Shards struct {
	First, Last int // both included, from 0
	Total       int // of the bot, 1 at least
}

// ParseShards reads "0-1/4": the shards 0 and 1 of four. "2/4" is one of
// four, and "" the only one there is. The error says what was expected.
func ParseShards(s string) (Shards, error) {
	if s == "" {
		return Shards{Total: 1}, nil
	}
	wrong := fmt.Errorf(`shards %q: expected the first and the last of this process and how many the bot has in all, as in "0-1/4", counted from 0`, s)
	span, total, ok := strings.Cut(s, "/")
	if !ok {
		return Shards{}, wrong
	}
	first, last, ok := strings.Cut(span, "-")
	if !ok {
		last = first
	}
	var n [3]int
	for i, digits := range []string{first, last, total} {
		v, err := strconv.ParseUint(digits, 10, 16)
		if err != nil {
			return Shards{}, wrong
		}
		n[i] = int(v)
	}
	shards := Shards{First: n[0], Last: n[1], Total: n[2]}
	if err := shards.check(); err != nil {
		return Shards{}, fmt.Errorf("shards %q: %w", s, err)
	}
	return shards, nil
}

// check says which numbers can't be.
func (s Shards) check() error {
	switch {
	case s.Total < 1:
		return fmt.Errorf("the bot has %d shards in all, expected 1 at least", s.Total)
	case s.First < 0 || s.First > s.Last:
		return fmt.Errorf("the first is %d and the last %d, expected the lower one first", s.First, s.Last)
	case s.Last >= s.Total:
		return fmt.Errorf("the last is %d, but of %d the last there can be is %d, as they are counted from 0", s.Last, s.Total, s.Total-1)
	}
	return nil
}

func (s Shards) String() string { return fmt.Sprintf("%d-%d/%d", s.First, s.Last, s.Total) }
