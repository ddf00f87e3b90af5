package rest

import "sync"

const manyDMs = 10_000

// dms remembers the channels of direct messages, which never change.
type dms struct {
	mu       sync.Mutex
	channels map[string]string // of users
}

func newDMs() *dms { return &dms{channels: map[string]string{}} }

func (d *dms) get(user string) (channel string, known bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	channel, known = d.channels[user]
	return channel, known
}

// put makes room by forgetting any one: it is only asked for again.
func (d *dms) put(user, channel string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, known := d.channels[user]; !known && len(d.channels) >= manyDMs {
		for other := range d.channels {
			delete(d.channels, other)
			break
		}
	}
	d.channels[user] = channel
}
