package discordtest

import (
	"testing"
	"time"
)

// What a load takes up is given back.
func TestSweepForgets(t *testing.T) {
	s, err := Start(Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ana := s.User("Ana Pell")
	x := &session{s: s, stats: Session{Count: 1}}
	s.gate.sessions = append(s.gate.sessions, x)
	var lost int
	s.OnHit(func(h Hit) {
		if h.Lost {
			lost++
		}
	})
	for range 100 {
		s.Fire(Shot{Person: ana, Command: "next"})
		s.Fire(Shot{Person: ana, CustomID: "next"})
		s.Fire(Shot{Person: ana, Words: "next row"})
	}
	sizes := func() [4]int {
		s.mu.Lock()
		defer s.mu.Unlock()
		return [4]int{len(s.store.tokens), len(s.fire.words), len(s.fire.newest), len(s.fire.queue)}
	}
	if got := sizes(); got != [4]int{200, 100, 1, 300} {
		t.Errorf("under way: %v", got)
	}
	s.sweepAt(time.Now().Add(shotKept + time.Second))
	if got := sizes(); got != [4]int{} || lost != 300 {
		t.Errorf("afterwards: %v, %d lost", got, lost)
	}
	if len(s.store.records)+len(s.store.past)+len(s.seen.requests)+len(s.seen.lines) != 0 {
		t.Errorf("a load is kept: %d lines", len(s.seen.lines))
	}
	for range 3 * keptFrames {
		x.send("X", []byte("{}"), nil)
	}
	if len(x.frames) > keptFrames {
		t.Errorf("%d events are kept for a replay", len(x.frames))
	}
}
