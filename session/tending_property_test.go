package session_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"clew/session"
	"clew/session/local"
)

// TestTendingInAnyOrder lets several processes change, claim, show and lose the
// board, and open, claim and announce sessions, in any order, with clocks that go
// apart and steps that come late. Whatever the order: edits are apart, no
// announcement is claimed twice within a lease nor after it was noted, and once
// nothing more happens the last change is shown.
func TestTendingInAnyOrder(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		l, err := local.Open(outer.TempDir(), local.WithoutSync())
		if err != nil {
			t.Fatal(err)
		}
		defer l.Close()
		p := &processes{store: session.Open(l.Client()), now: evening,
			claimed: map[int]time.Time{}, announced: map[int]bool{}}
		p.must(t, p.store.Start(t.Context(), planned(parts(0, 0.002, never, 0.02)...), pattern))
		t.Repeat(map[string]func(*rapid.T){
			"time": func(t *rapid.T) {
				p.now = p.now.Add(time.Duration(rapid.IntRange(1, 20_000).Draw(t, "ms")) * time.Millisecond)
			},
			"change":   func(t *rapid.T) { p.change(t) },
			"claim":    func(t *rapid.T) { p.claimBoard(t, p.clock(t)) },
			"show":     func(t *rapid.T) { p.show(t) },
			"announce": func(t *rapid.T) { p.announce(t, p.clock(t)) },
			"note":     func(t *rapid.T) { p.note(t) },
			"open": func(t *rapid.T) {
				_, err := p.store.OpenSession(t.Context(), group, rapid.IntRange(1, 4).Draw(t, "session"), p.clock(t))
				p.must(t, err)
			},
		})
		p.settle(t)
	})
}

// processes is several of them, as one who watches all sees them.
type processes struct {
	store     *session.Store
	now       time.Time
	changes   int64
	showing   []session.Showing // claimed, and neither shown nor given up
	edits     []time.Time
	shown     int64
	message   string
	claimed   map[int]time.Time
	announced map[int]bool
}

func (p *processes) must(t *rapid.T, err error) {
	if err != nil {
		t.Fatal(err)
	}
}

// clock is what some process takes for the time: up to twenty seconds off, or
// read before it was held up.
func (p *processes) clock(t *rapid.T) time.Time {
	return p.now.Add(time.Duration(rapid.IntRange(-20_000, 20_000).Draw(t, "off by ms")) * time.Millisecond)
}

// change is any change of the board: the loss of its message is one, too.
func (p *processes) change(t *rapid.T) {
	if p.message != "" && rapid.Bool().Draw(t, "the message goes") {
		p.must(t, p.store.BoardGone(t.Context(), group, p.message))
		p.message = ""
	} else {
		p.must(t, p.store.Tend(t.Context(), group))
	}
	p.changes++
}

func (p *processes) claimBoard(t *rapid.T, at time.Time) {
	showing, ok, err := p.store.ClaimBoard(t.Context(), group, at)
	p.must(t, err)
	if !ok {
		return
	}
	p.edits = append(p.edits, at)
	keepDistance(t, p.edits)
	if showing.Message != p.message || showing.Change <= p.shown {
		t.Fatalf("found the claim %+v, expected one after %d of the message %q", showing, p.shown, p.message)
	}
	p.showing = append(p.showing, showing)
}

// show lets any one of the claims be shown, or given up by the death of its
// process.
func (p *processes) show(t *rapid.T) {
	if len(p.showing) == 0 {
		t.Skip("nothing is claimed")
	}
	i := rapid.IntRange(0, len(p.showing)-1).Draw(t, "claim")
	one := p.showing[i]
	p.showing = slices.Delete(p.showing, i, i+1)
	if rapid.IntRange(0, 3).Draw(t, "dies") == 0 {
		return
	}
	message := fmt.Sprint("m", rapid.IntRange(1, 2).Draw(t, "message"))
	p.must(t, p.store.BoardShown(t.Context(), group, one.Change, message))
	if one.Change >= p.shown {
		p.shown, p.message = one.Change, message
	}
}

func (p *processes) announce(t *rapid.T, at time.Time) {
	one, ok, err := p.store.ClaimAnnouncement(t.Context(), group, at)
	p.must(t, err)
	if !ok {
		return
	}
	before, was := p.claimed[one.Number]
	if p.announced[one.Number] || was && at.Sub(before) < session.AnnounceLease || one.Opens.IsZero() || one.Opens.After(at) {
		t.Fatalf("session %d, which opens at %s, was claimed at %s and again at %s; announced: %t",
			one.Number, one.Opens, before, at, p.announced[one.Number])
	}
	p.claimed[one.Number] = at
}

// note lets any claim be noted as announced, or be given up.
func (p *processes) note(t *rapid.T) {
	number := rapid.IntRange(1, 4).Draw(t, "session")
	if _, ok := p.claimed[number]; !ok || rapid.IntRange(0, 3).Draw(t, "dies") == 0 {
		return
	}
	p.must(t, p.store.Announced(t.Context(), group, number, p.now))
	p.announced[number] = true
}

// settle lets one process tend until nothing is due: that must come to an end with
// everything shown and announced.
func (p *processes) settle(t *rapid.T) {
	p.must(t, p.store.Tend(t.Context(), group)) // the last change
	for range 12 {
		p.now = p.now.Add(2 * session.AnnounceLease) // past the clock of any other
		due, err := p.store.Due(t.Context(), "discord", p.now)
		p.must(t, err)
		if len(due) == 0 {
			break
		}
		p.announce(t, p.now)
		for number := range p.claimed {
			p.must(t, p.store.Announced(t.Context(), group, number, p.now))
			p.announced[number] = true
		}
		p.claimBoard(t, p.now)
		for _, one := range p.showing {
			p.must(t, p.store.BoardShown(t.Context(), group, one.Change, "m1"))
			p.shown, p.message = max(p.shown, one.Change), "m1"
		}
		p.showing = nil
	}
	about, err := p.store.About(t.Context(), group)
	p.must(t, err)
	for _, one := range about.Sessions {
		if about.Stage(one.Number, p.now) != session.Planned && one.Announced.IsZero() {
			t.Fatalf("session %d has opened and was never announced", one.Number)
		}
	}
	if due, err := p.store.Due(t.Context(), "discord", p.now.Add(time.Minute)); err != nil || len(due) > 0 {
		t.Fatalf("found %v due at the end (%v), expected nothing", due, err)
	}
	if _, again, err := p.store.ClaimBoard(t.Context(), group, p.now.Add(time.Hour)); err != nil || again {
		t.Fatalf("the last change was never shown (%v)", err)
	}
}
