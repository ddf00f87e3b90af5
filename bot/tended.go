package bot

import (
	"errors"
	"sync"
	"time"
)

// How long a knit-along whose channel failed is left alone: one that may not be
// written to for an hour; else for a time that doubles. The first two come within
// the two minutes in which a post under one key stands there once.
const (
	noChannelRest = time.Hour
	firstRest     = 30 * time.Second
	longestRest   = 10 * time.Minute
)

// tended is what a process knows of the channels that it tends. It is safe for
// concurrent use.
type tended struct {
	mu        sync.Mutex
	platforms map[string]Channels
	rests     map[string]resting // by knit-along; none for one whose channel is well
	busy      map[string]bool    // those that are being tended
	posted    map[string]bool    // announcements, by key, that are posted and could not be noted
	lost      bool               // the store could not be looked at
}

// A resting is how a knit-along is left alone whose channel failed.
type resting struct {
	until time.Time
	times int // that it failed, in a row
}

// channels gives those of a platform that this process tends, nil for none.
func (t *tended) channels(platform string) Channels {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.platforms[platform]
}

func (t *tended) serve(platform string, channels Channels) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.platforms == nil {
		t.platforms, t.rests, t.busy, t.posted = map[string]Channels{}, map[string]resting{}, map[string]bool{}, map[string]bool{}
	}
	t.platforms[platform] = channels
}

// begin begins to tend a knit-along, which has to be ended. It is false for one that
// is being tended, or is left alone.
func (t *tended) begin(id string, at time.Time) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.busy[id] || at.Before(t.rests[id].until) {
		return false
	}
	t.busy[id] = true
	return true
}

func (t *tended) end(id string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.busy, id)
}

// wake ends the rest of a knit-along, for one whose host has just done something.
func (t *tended) wake(id string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.rests, id)
}

// ended keeps how tending a knit-along ended, and says whether that is to be logged:
// the first time that it fails, and the first that it does not.
func (t *tended) ended(id string, at time.Time, err error) (tell bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	was, failed := t.rests[id]
	if err == nil {
		delete(t.rests, id)
		return failed
	}
	rest := noChannelRest
	if !errors.Is(err, ErrNoChannel) {
		rest = min(firstRest<<min(was.times, 10), longestRest)
	}
	t.rests[id] = resting{at.Add(rest), was.times + 1}
	return !failed
}

// looked keeps whether the store could be looked at, and says whether that is to be
// logged.
func (t *tended) looked(err error) (tell bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	tell = t.lost != (err != nil)
	t.lost = err != nil
	return tell
}

func (t *tended) isPosted(key string) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.posted[key]
}

func (t *tended) setPosted(key string, posted bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if posted {
		t.posted[key] = true
	} else {
		delete(t.posted, key)
	}
}
