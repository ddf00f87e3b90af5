package gateway

import "time"

// acks tells from the times of heartbeats' acknowledgements when the next is
// overdue. The interval between heartbeats is told to the library alone, so it
// is learnt from the acknowledgements: from three distances in a row that
// agree, for the platform may ask for a heartbeat at any time, which is
// acknowledged too. Until then it is the platform's usual one.
type acks struct {
	interval time.Duration    // believed
	least    time.Duration    // no shorter one is believed
	last     time.Time        // of the newest acknowledgement
	steps    [3]time.Duration // the newest distances
	seen     int
}

// newAcks begins to count when a connection has come up.
func newAcks(usual time.Duration, up time.Time) acks {
	return acks{interval: usual, least: usual / 40, last: up}
}

// saw is told the time of the newest acknowledgement, over and over.
func (a *acks) saw(ack time.Time) {
	if !ack.After(a.last) {
		return
	}
	copy(a.steps[:], a.steps[1:])
	a.steps[2] = ack.Sub(a.last)
	a.last = ack
	a.seen++
	if a.seen < len(a.steps) {
		return
	}
	short := min(a.steps[0], a.steps[1], a.steps[2])
	long := max(a.steps[0], a.steps[1], a.steps[2])
	if long-short <= long/5 {
		a.interval = max(long, a.least)
	}
}

// overdue tells whether half an interval has gone by since the next should
// have come.
func (a *acks) overdue(now time.Time) bool {
	return now.Sub(a.last) > a.interval+a.interval/2
}
