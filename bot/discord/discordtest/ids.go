package discordtest

import (
	"encoding/base64"
	"math/rand/v2"
	"strconv"
	"sync"
	"time"
)

// Snowflakes: Discord's developer documentation, "API Reference": milliseconds since
// the first second of 2015 in the upper 42 bits, then 22 bits of which 12 count; from
// memory.
const (
	epoch        = 1420070400000 // milliseconds
	timeShift    = 22
	countBits    = 12
	birthsSpaced = 1 // milliseconds between two of a kind, so that guilds made one after another go to shards one after another
)

// When the first of each kind was born, in milliseconds since 1970: years before the
// test, as with real people.
const (
	bornApplications = 1577836800000 // 2020
	bornPeople       = 1496275200000 // June 2017
	bornGuilds       = 1546300800000 // 2019
	bornChannels     = 1546300860000
	bornDMs          = 1609459200000 // 2021
)

// ids makes ids that grow.
type ids struct {
	mu     sync.Mutex
	last   int64 // the time of the newest id, milliseconds since epoch
	count  int64
	births map[int64]int64
}

// next is an id of now; each is greater than the one before.
func (i *ids) next() string {
	i.mu.Lock()
	defer i.mu.Unlock()
	now := time.Now().UnixMilli() - epoch
	switch {
	case now > i.last:
		i.last, i.count = now, 0
	case i.count < 1<<countBits-1:
		i.count++
	default: // more in a millisecond than can be counted: the next one's are taken
		i.last, i.count = i.last+1, 0
	}
	return strconv.FormatInt(i.last<<timeShift|i.count, 10)
}

// old is an id of a kind that was born long ago: the same ones in every server.
func (i *ids) old(born int64) string {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.births == nil {
		i.births = map[int64]int64{}
	}
	n := i.births[born]
	i.births[born]++
	return strconv.FormatInt((born-epoch+n*birthsSpaced)<<timeShift|born/1000&0xfff, 10)
}

// shardOf is the shard that a guild's events go to, of so many: documentation,
// "Gateway", sharding formula. "" (direct messages) is shard 0.
func shardOf(guild string, count int) int {
	id, err := strconv.ParseUint(guild, 10, 64)
	if err != nil {
		return 0
	}
	return int((id >> timeShift) % uint64(count))
}

// snowflake says whether the text has the form of an id.
func snowflake(text string) bool {
	id, err := strconv.ParseUint(text, 10, 64)
	return err == nil && id >= 1<<timeShift && strconv.FormatUint(id, 10) == text
}

// secret is a text that cannot be guessed by accident: n letters, digits, '-' and '_'.
func secret(n int) string {
	b := make([]byte, n)
	for i := range b {
		b[i] = byte(rand.Uint32())
	}
	return base64.RawURLEncoding.EncodeToString(b)[:n]
}

// interactionToken is a token of the form and length that the platform's have, from
// memory.
func interactionToken(id string) string {
	return base64.RawURLEncoding.EncodeToString([]byte("interaction:" + id + ":" + secret(90)))
}
